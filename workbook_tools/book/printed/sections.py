"""The sections that the pages for the relief and for the inspector share, and the lines on persons and places."""

from __future__ import annotations

from workbook_tools.book.calculated.words import cut, day_text, first_that_holds, iso, plural, said
from workbook_tools.book.calculated.writer import text
from workbook_tools.book.printed.chosen import craft_cell
from workbook_tools.book.printed.flow import SOON, WORST, Section
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import LINE_HEIGHT, Paper
from workbook_tools.book.printed.sources import cell_of

SOON_DAYS = 30  # a certificate that ends so soon is marked: our choice, as on the pages of davitbook
WIDTHS = (2.5, 38, 30, 20, 13)
SHOWN_FIRST, SHOWN_SECOND = 44, 36
_MOST = 60


def row_words(sheet: str, place: str) -> str:
    """Where a line stands: 'Defects!A7'. A shared formula holds no mark that could stand for a reference."""
    from workbook_tools.book.layout import FIRST_ROW

    return f'"{sheet}"&CHAR(33)&"A"&({place}+{FIRST_ROW})'


def attention(name: str = "attention") -> Section:
    """What the Required sheet calls short, expired or lapsing, the worst first."""
    line = "[place]"

    def told(column: str) -> str:
        return f"INDEX([required.{column}],{line})"

    says = told("says")
    until = f'IF(ISNUMBER({told("lapses")}),", enough until "&{iso(told("lapses"))},"")'
    amounts = (
        f'IF(ISNUMBER({told("asked")}),"asked "&ROUND({told("asked")},2)&IF(ISNUMBER({told("carried")}),'
        f'", carried "&ROUND({told("carried")},2),"")&" "&{told("unit")},"")'
    )
    return Section(
        name,
        "attention.key",
        ("Short, expired or lapsing", "Asked and carried", "Says", "Cell"),
        (
            f'{told("craft")}&": "&{told("item")}',
            amounts,
            f"{says}&{until}",
            row_words("Required", line),
        ),
        "Nothing is short, expired or lapsing on the Required sheet",
        _MOST,
        "on the Required sheet",
        mark=f"LEFT({says},1)",
    )


def defects() -> Section:
    """What stands open on the Defects sheet."""
    return Section(
        "defects",
        "defects.key",
        ("Open defects", "What is wrong", "Since", "Cell"),
        (
            cell_of("defects", "subject", "[place]") + '&": "&' + cell_of("defects", "fitting", "[place]"),
            cut(cell_of("defects", "wrong", "[place]")),
            day_text(cell_of("defects", "since", "[place]")),
            row_words("Defects", "[place]"),
        ),
        "No defect is open on the Defects sheet",
        _MOST,
        "on the Defects sheet",
        mark=text(WORST),
    )


def followed() -> Section:
    """What is being done, from the Follow-up sheet; past its day it counts as open again."""
    expected = cell_of("follow_up", "expected", "[place]")
    past = f"IF(ISNUMBER({expected}),{expected}<[date asked],FALSE)"
    order, port = (cell_of("follow_up", column, "[place]") for column in ("order", "port"))
    interim = cell_of("follow_up", "interim", "[place]")
    return Section(
        "followed",
        "followed.key",
        ("Being followed up", "Meanwhile", "Expected", "Cell"),
        (
            cell_of("follow_up", "finding", "[place]")
            + f'&IF({order}="","",", order "&{order})&IF({port}="","",", "&{port})',
            cut(interim),
            f'{day_text(expected)}&IF({past}," PAST","")',
            row_words("Follow-up", "[place]"),
        ),
        "Nothing stands on the Follow-up sheet",
        _MOST,
        "on the Follow-up sheet",
        mark=f'IF({past},{text(WORST)},"")',
    )


def left_words(until: str) -> str:
    """'2027-03-31, 126 days', 'EXPIRED 2026-01-31', or that no last day is recorded."""
    left = f"(INT({until})-[date asked])"
    return (
        f'IF(NOT(ISNUMBER({until})),IF({until}="","no last day recorded",TRIM({until}&"")),'
        f'IF({left}<0,"EXPIRED "&{iso(until)},{iso(until)}&", "&{plural(left, "day", "days")}))'
    )


def left_mark(until: str) -> str:
    """The mark of a last day that is past or near."""
    left = f"(INT({until})-[date asked])"
    return f'IF(NOT(ISNUMBER({until})),"",IF({left}<0,{text(WORST)},IF({left}<={SOON_DAYS},{text(SOON)},"")))'


def certificates() -> Section:
    """The ship's certificates with their days."""
    until = cell_of("certificates", "until", "[place]")
    number, kept = (cell_of("certificates", column, "[place]") for column in ("number", "place"))
    issued = cell_of("certificates", "issued", "[place]")
    return Section(
        "certificates",
        "certificates.key",
        ("Certificates to lay on the table", "Number, issued", "Valid until", "Kept at"),
        (
            cut(cell_of("certificates", "certificate", "[place]")),
            f'{said(number, "no number")}&", "&{day_text(issued, "no day of issue")}',
            left_words(until),
            said(kept),
        ),
        "The Certificates sheet names none",
        _MOST,
        "on the Certificates sheet",
        mark=left_mark(until),
    )


def rafts() -> Section:
    """The service certificates of the liferafts."""
    until = "INDEX([craft.service_due],[place])"
    granted = craft_cell("service_granted_until", "[place]")
    holds = f"IF(ISNUMBER({granted}),IF(N({until})<{granted},{granted},{until}),{until})"
    return Section(
        "rafts",
        "rafts.key",
        ("Liferaft service certificates", "Number, serviced", "Holds until", "Contents until"),
        (
            craft_cell("name", "[place]") + '&""',
            f'{said(craft_cell("certificate", "[place]"), "no number")}&", "'
            f"&{day_text(craft_cell('serviced', '[place]'), 'no day of service')}",
            left_words(holds),
            day_text(craft_cell("earliest_content", "[place]")),
        ),
        "No liferaft is recorded",
        _MOST,
        "on the Craft sheet",
        mark=left_mark(holds),
    )


def exemptions() -> Section:
    """What the Administration has waived; without a reference it does not count."""
    until, reference = (cell_of("exemptions", column, "[place]") for column in ("until", "reference"))
    authority, subject = (cell_of("exemptions", column, "[place]") for column in ("authority", "subject"))
    return Section(
        "exemptions",
        "exemptions.key",
        ("Exemptions and waivers", "Issued by, reference", "Valid until", "For"),
        (
            cell_of("exemptions", "rule", "[place]") + '&""',
            f'TRIM({authority}&" "&{said(reference, "NO REFERENCE")})',
            left_words(until),
            said(subject, "every craft"),
        ),
        "None on record",
        _MOST,
        "on the Exemptions sheet",
        mark=f'IF({reference}="",{text(WORST)},{left_mark(until)})',
    )


def last_held(helpers: HelperSheet, name: str, drills_only: bool) -> Section:
    """The last day of each task that the Routine sheet has; drills_only: what an inspector asks for as drill."""
    wanted = 'IF(INDEX([tasks.drill],[#])=1,[#],"")' if drills_only else "[#]"
    rows = helpers.rows("tasks.name")
    helpers.block(f"{name}_tasks", {"key": f'IF(INDEX([lasts.day],[#])="","",{wanted})'}, rows)
    line = "MATCH(INDEX([lasts.value],[place]),[routine.key],0)"
    subject = cell_of("routine", "subject", line)
    day = "INDEX([lasts.day],[place])"
    ago = f"([date asked]-{day})"
    return Section(
        "tasks",
        f"{name}_tasks.key",
        (
            "Last drills and training" if drills_only else "Last drills, tests and inspections",
            "Of",
            "Last held",
            "Cell",
        ),
        (
            "INDEX([tasks.name],[place])",
            f'IF({subject}="","the ship",{subject}&"")',
            f'{iso(day)}&IF({ago}=0,", today",", "&{plural(ago, "day ago", "days ago")})',
            row_words("Routine", line),
        ),
        "The Routine sheet names none",
        rows,
        "on the Routine sheet",
    )


def write_persons(paper: Paper, row: int) -> int:
    """Persons and places, two lines; the row after them."""
    counts = (
        ("persons_certified", "certified for"),
        ("persons_on_board", "on board"),
        ("passengers", "passengers"),
    )
    told = "&".join(f'IF(ISNUMBER({{ship.{key}}}),{{ship.{key}}}&" {words}. ","")' for key, words in counts)
    nothing = first_that_holds([(f"ISNUMBER({{ship.{key}}})", '""') for key, _ in counts], '"not recorded"')
    paper.formula_across(row, 1, paper.last_column, f'"Persons: "&{told}&{nothing}', paper.formats.line)
    places = []
    for family in ("lifeboat", "liferaft"):
        craft = f'[craft.family],"{family}",[craft.purpose],"<>extra"'
        unknown = f'COUNTIFS({craft},[craft.persons],"")'
        number = f"COUNTIFS({craft})"
        places.append(
            f'IF({number}=0,"",SUMIFS([craft.persons],{craft})&IF({unknown}>0," and "&{unknown}&" without a figure","")'
            f'&" in "&{plural(number, family, f"{family}s")}&". ")'
        )
    recorded = 'IF(COUNTIF([craft.used],1)=0,"no craft recorded","")'
    paper.formula_across(row + 1, 1, paper.last_column, f'"Places: "&{"&".join(places)}&{recorded}', paper.formats.line)
    for own in (row, row + 1):
        paper.page.set_row(own, LINE_HEIGHT)
    return row + 2
