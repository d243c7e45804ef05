"""Monthly checks: for one craft what must be in it, its fittings, open defects and weekly and monthly tasks, to tick.

SOLAS III/20.6 and 20.7 ask the looks, III/36.1 the checklist.
"""

from __future__ import annotations

from workbook_tools.book.calculated.lists import OF_CRAFT
from workbook_tools.book.calculated.words import cut, day_text, iso
from workbook_tools.book.printed.chosen import write_chosen
from workbook_tools.book.printed.flow import SOON, WORST, Section, write_flow
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import LINE_HEIGHT, Paper, PaperFormats, craft_choice, part_choice
from workbook_tools.book.printed.sources import cell_of, rows_of, write_last_days
from workbook_tools.columns.calculated import MONTHLY

_WIDTHS = (2.5, 34, 8, 10, 19, 7, 16, 7)
_CHOICE_ROW, _SAYS_ROW, _FACTS_ROW, _FLOW_ROW = 2, 3, 4, 8
_FIRST_PAGE, _SECOND_PAGE = 42, 34  # lines of the list; its headings stand above them on both sheets
_HEADINGS = ("What to look at", "Asked", "Unit", "Says", "In order", "Remarks", "Initials")
_SHOWN = _FIRST_PAGE + _SECOND_PAGE
CAUTION = (
    "Pyrotechnics are looked at, never tried. Release gear, hooks, falls, winches and launching appliances: only by "
    "those trained and certified for it, by the maker's manual; nobody in a boat that hangs on its falls without the "
    "hanging-off gear. A sealed raft is never opened on board."
)


def write_monthly(helpers: HelperSheet, formats: PaperFormats) -> None:
    """Write the page."""
    paper = Paper(helpers.calc, formats, MONTHLY, _WIDTHS)
    paper.head("Monthly checks of a craft (SOLAS III/20.7 and III/36.1)")
    choice = paper.choose_across(_CHOICE_ROW, 2, 4, "Craft", craft_choice())
    part = paper.choose(_CHOICE_ROW, 7, "Part", part_choice())
    write_chosen(helpers, "monthly", choice)
    _write_lines(helpers, part)
    says = '[monthly.says]&" "&[beyond.words]&[monthly_flow_parts.words]'
    paper.formula_across(_SAYS_ROW, 1, 7, says, formats.warning)
    _particulars(paper)
    blanks, looks = (formats.blank,) * 3, {2: formats.amount, 3: formats.unit}
    paper.headings(_FLOW_ROW - 1, _HEADINGS)
    paper.flow("monthly_flow", _FLOW_ROW, _FIRST_PAGE, 4, blanks=blanks, looks=looks)
    second = _FLOW_ROW + _FIRST_PAGE
    paper.headings(second, _HEADINGS)
    paper.flow("monthly_flow", second + 1, _SECOND_PAGE, 4, after=_FIRST_PAGE, blanks=blanks, looks=looks)
    last = second + 1 + _SECOND_PAGE
    _signatures(paper, last + 1)
    paper.finish(last + 5, [second], [CAUTION])


def _particulars(paper: Paper) -> None:
    """What the Craft sheet says of the craft, three facts to a row."""
    told = (
        (("Type", "kind"), ("Construction", "construction"), ("Side", "side")),
        (("Persons permitted", "persons"), ("Raft pack", "pack"), ("Stowage height (m)", "stowage_height_m")),
        (("Serial number", "serial"), ("Last serviced", "serviced"), ("Certificate", "certificate")),
    )
    spans = ((0, 1), (2, 4), (5, 7))
    for offset, row in enumerate(told):
        for (first, last), (label, key) in zip(spans, row, strict=True):
            paper.formula_across(_FACTS_ROW + offset, first, last, f'"{label}: "&[monthly.{key}]', paper.formats.line)
        paper.page.set_row(_FACTS_ROW + offset, LINE_HEIGHT)


def _of_kind(kinds: str, also: str = "TRUE") -> str:
    """The number of a line of a table where its kinds of craft have the craft's, and a second condition holds."""
    own = f'SEARCH("|"&[monthly.read_kind]&"|",INDEX({kinds},[#]))'
    return f'IF([monthly.read_kind]="","",IF(AND({also},ISNUMBER({own})),[#],""))'


def _write_lines(helpers: HelperSheet, part: str) -> None:
    """The lines of the page, in the order in which they are gone through."""
    own = "[monthly.folded]"
    helpers.block(
        "monthly_items",
        {
            "key": 'IF([monthly.place]=0,"",IF(INDEX([required.craft_no],[#])<>[monthly.place],"",'
            f'IF(INDEX([rules.ev],INDEX([required.rule],[#]))={OF_CRAFT},"",[#])))'
        },
        helpers.rows("required.craft_no"),
    )
    helpers.block(
        "monthly_fittings",
        {"key": _of_kind("[fittings.kinds]")},
        helpers.rows("fittings.name"),
    )
    helpers.block(
        "monthly_defects",
        {
            "key": 'IF(OR([monthly.place]=0,INDEX([defects.key],[#])=""),"",'
            f'IF(INDEX([defects.subject],[#])={own},[#],""))'
        },
        rows_of(helpers, "defects"),
    )
    helpers.block(
        "monthly_routine",
        {
            "key": 'IF(INDEX([routine.key],[#])="","",'
            f'IF(OR(INDEX([routine.subject],[#])="",INDEX([routine.subject],[#])={own}),INDEX([routine.key],[#]),""))'
        },
        rows_of(helpers, "routine"),
    )
    write_last_days(helpers, "monthly_lasts", "monthly_routine.key")
    family = 'OR(INDEX([looks.family],[#])="",[ship.ship_family]="",INDEX([looks.family],[#])=[ship.ship_family])'
    helpers.block(
        "monthly_looks",
        {"key": _of_kind("[looks.kinds]", family)},
        helpers.rows("looks.task"),
    )
    write_flow(helpers, "monthly_flow", _sections(helpers), _SHOWN, part)


def _sections(helpers: HelperSheet) -> list[Section]:
    fittings, looks = "INDEX([fittings.{}],[place])", "INDEX([looks.{}],[place])"
    says = "INDEX([required.says],[place])"
    last = f"INDEX([monthly_lasts.day],{looks.format('number')})"
    return [
        Section(
            "defects",
            "monthly_defects.key",
            ("Open defects of this craft", "Since", "", "What is wrong"),
            (
                cell_of("defects", "fitting", "[place]") + '&""',
                day_text(cell_of("defects", "since", "[place]")),
                '""',
                cut(cell_of("defects", "wrong", "[place]")),
            ),
            "None on the Defects sheet",
            12,
            "on the Defects sheet",
            mark=f'"{WORST}"',
        ),
        Section(
            "items",
            "monthly_items.key",
            ("What must be in or on it", "Asked", "Unit", "The record says"),
            (
                "INDEX([required.item],[place])",
                'IF(ISNUMBER(INDEX([required.asked],[place])),ROUND(INDEX([required.asked],[place]),2),"?")',
                'INDEX([required.unit],[place])&""',
                says,
            ),
            "The Required sheet has no line for it: see its type, pack and the Status sheet",
            80,
            "on the Required sheet",
            mark=f'IF(OR(LEFT({says},1)="{WORST}",LEFT({says},1)="{SOON}"),LEFT({says},1),"")',
        ),
        Section(
            "fittings",
            "monthly_fittings.key",
            ("Its parts and launching gear", "", "", "Paragraph"),
            (fittings.format("name"), '""', '""', fittings.format("paragraph")),
            "The type of the craft is not known, so its parts are not listed",
            helpers.rows("fittings.name"),
            "",
        ),
        Section(
            "looks",
            "monthly_looks.key",
            ("Weekly and monthly tasks", "Every", "", "Last on the Routine sheet"),
            (
                looks.format("task") + f'&" ("&{looks.format("paragraph")}&")"',
                looks.format("every"),
                '""',
                f'IF({last}="","none recorded",{iso(last)})',
            ),
            "The type of the craft is not known, so its tasks are not listed",
            helpers.rows("looks.task"),
            "",
        ),
    ]


def _signatures(paper: Paper, row: int) -> None:
    """Who looked, when, and who has seen it."""
    formats = paper.formats
    for offset, (who, when) in enumerate((("Looked over by (rank):", "Date:"), ("Seen by the master:", "Date:"))):
        paper.page.set_row(row + offset * 2, 22)
        paper.write(row + offset * 2, 1, who, formats.choice_label)
        for column in (2, 3, 4):
            paper.page.write_blank(row + offset * 2, column, None, formats.signature)
        paper.write(row + offset * 2, 5, when, formats.choice_label)
        for column in (6, 7):
            paper.page.write_blank(row + offset * 2, column, None, formats.signature)
