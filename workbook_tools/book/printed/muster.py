"""Muster list: who goes to which craft with which duty, the signals, substitutes, duties to passengers.

SOLAS III/8 and III/37. The ship's own list on her own board, so it has the names. Those without a craft come last.
"""

from __future__ import annotations

from workbook_tools.book.calculated.grid import input_reach
from workbook_tools.book.calculated.lists import escaped, folded
from workbook_tools.book.calculated.words import iso, said, text_of
from workbook_tools.book.calculated.writer import text
from workbook_tools.book.printed.chosen import craft_cell
from workbook_tools.book.printed.flow import HEADING, WORST, Section, write_flow
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import LINE_HEIGHT, Paper, PaperFormats, part_choice
from workbook_tools.book.printed.sources import cell_of, rows_of
from workbook_tools.book.printed.tables import policy
from workbook_tools.columns import Column, sheet
from workbook_tools.columns.calculated import MUSTER
from workbook_tools.rules import Rule, load_rule_set, rule_set_names

_WIDTHS = (2.5, 6, 16, 26, 16, 20, 8, 8)
_PART_ROW, _SAYS_ROW, _SIGNAL_ROW, _HEADING_ROW, _FLOW_ROW = 2, 3, 4, 10, 11
_FIRST_PAGE, _SECOND_PAGE = 37, 23  # lines of the list; its headings stand above them on both sheets
SHOWN = _FIRST_PAGE + _SECOND_PAGE
_HEADINGS = ("No.", "Rank", "Name", "Duty in craft", "Muster duty", "Replaced by", "Stands in for")
_PLACE, _DUTY = 1_000_000, 10_000  # parts craft, duty and line in one figure to sort by
CAUTION = (
    "Launching appliances and release gear are for those trained on them, by the maker's manual. A fixed CO2 system is "
    "released only by those authorised, with everyone out and counted."
)


def write_muster(helpers: HelperSheet, formats: PaperFormats) -> None:
    """Write the page."""
    paper = Paper(helpers.calc, formats, MUSTER, _WIDTHS)
    paper.head("Muster list (SOLAS III/8 and III/37)")
    part = paper.choose(_PART_ROW, 7, "Part", part_choice())
    _write_crew(helpers)
    _write_lines(helpers, part)
    paper.formula_across(_PART_ROW, 1, 5, '[muster_list_parts.words]&""', formats.warning)
    paper.formula_across(_SAYS_ROW, 1, 7, _says(), formats.warning)
    _signals(paper)
    paper.headings(_HEADING_ROW, _HEADINGS, lines=2)
    paper.flow("muster_list", _FLOW_ROW, _FIRST_PAGE, 7)
    second = _FLOW_ROW + _FIRST_PAGE
    paper.headings(second, _HEADINGS, lines=2)
    paper.flow("muster_list", second + 1, _SECOND_PAGE, 7, after=_FIRST_PAGE)
    last = _duties(helpers, paper, second + 1 + _SECOND_PAGE + 1)
    last = _passengers(paper, last)
    _signature(paper, last + 1)
    paper.finish(last + 4, [second], [CAUTION])


# ---- who is where --------------------------------------------------------------------------------------------------


def _spellings(column: Column) -> list[tuple[str, int]]:
    """Every word for a choice with the number of the choice, from 1."""
    others = dict(column.choice_names)
    return sorted(
        {
            spelling: number
            for number, choice in enumerate(column.choices, start=1)
            for spelling in (choice, *others.get(choice, ()))
        }.items()
    )


def _number_of(column: str, table: str) -> str:
    found = f"MATCH({escaped(text_of(f'{{crew.{column}}}'))},[{table}.text],0)"
    return f'IF({{crew.{column}}}="",0,IFERROR(INDEX([{table}.number],{found}),0))'


def _parted(expression: str) -> str:
    """A cell that names several persons, each between commas and without spaces."""
    parts = f'SUBSTITUTE({expression}&""," and ",",")'
    for separator in (";", "/", "&", "+"):
        parts = f'SUBSTITUTE({parts},"{separator}",",")'
    return f'","&SUBSTITUTE({parts}," ","")&","'


def _write_crew(helpers: HelperSheet) -> None:
    """Each line of the Crew sheet: whether it is a person, already on board, of which craft and duty."""
    crew = sheet("crew")
    helpers.table("dutywords", ("text", "number"), _spellings(crew.column("duty")))
    helpers.table("musterwords", ("text", "number"), _spellings(crew.column("muster_duty")))
    later = "AND(ISNUMBER({crew.joined}),{crew.joined}>[date asked])"
    helpers.block(
        "crew",
        {
            "used": 'IF({crew.number}&{crew.rank}&{crew.name}&{crew.craft}="",0,1)',
            "named": 'IF({crew.name}="",0,1)',
            "aboard": f"IF([used]=0,0,IF({later},0,1))",
            "place": 'IF({crew.craft}="",0,IFERROR(MATCH(' + escaped(folded("{crew.craft}")) + ",[craft.name],0),0))",
            "duty": _number_of("duty", "dutywords"),
            "muster": _number_of("muster_duty", "musterwords"),
            "number": text_of("{crew.number}"),
            "rank": 'SUBSTITUTE({crew.rank}&""," ","")',
            "stands": f'IF({{crew.substitute_for}}="","",{_parted("{crew.substitute_for}")})',
        },
        rows_of(helpers, "crew"),
    )


def _write_lines(helpers: HelperSheet, part: str) -> None:
    """A line for each craft, for those without one, and for each person, in the order of the list."""
    craft, crew = helpers.calc.room["craft"], rows_of(helpers, "crew")
    lines = [_craft_line("[#]")] * craft
    lines.append(_craftless_line(craft + 1))
    lines += [_person_line(f"([#]-{craft + 1})", craft + 1)] * crew
    columns = ("key", "mark", *(f"c{column}" for column in range(1, 8)))
    helpers.lines("muster_lines", columns, lines)
    section = Section(
        "all",
        "muster_lines.key",
        _HEADINGS,
        tuple(f"INDEX([muster_lines.c{column}],[place])" for column in range(1, 8)),
        "",
        craft + 1 + crew,
        "",
        mark="INDEX([muster_lines.mark],[place])",
        headed=False,
        counted=False,
    )
    write_flow(helpers, "muster_list", [section], SHOWN, part)


def _craft_line(number: str) -> tuple[str, ...]:
    assigned = f"COUNTIFS([crew.place],{number},[crew.aboard],1)"
    permitted = f"INDEX([craft.persons],{number})"
    many = f"IF(ISNUMBER({permitted}),{assigned}>{permitted},FALSE)"
    used = f"INDEX([craft.used],{number})=0"

    def shown(formula: str) -> str:
        return f'IF({used},"",{formula})'

    return (
        shown(f"{number}*{_PLACE}"),
        shown(f"IF({many},{text(WORST)},{text(HEADING)})"),
        '""',
        shown(said(craft_cell("name", number))),
        shown(f'{assigned}&" assigned of "&IF(ISNUMBER({permitted}),{permitted},"?")&" permitted"'),
        shown(said(craft_cell("kind", number))),
        shown(f'IF({many},"MORE THAN PERMITTED",{craft_cell("side", number)}&"")'),
        *('""', '""'),
    )


def _craftless_line(place: int) -> tuple[str, ...]:
    number = "COUNTIFS([crew.place],0,[crew.used],1)"
    return (
        f'IF({number}=0,"",{place * _PLACE})',
        text(WORST),
        '""',
        text("No craft"),
        f'{number}&" without a known craft"',
        *('""', '""', '""', '""'),
    )


def _person_line(number: str, craftless: int) -> tuple[str, ...]:
    def own(column: str) -> str:
        return f"INDEX([crew.{column}],{number})"

    def told(column: str) -> str:
        return cell_of("crew", column, number)

    used = f"{own('used')}=0"
    joined = told("joined")
    later = f'IF({own("aboard")}=0,", joins "&{iso(joined)},"")'
    duty = f"IF({own('duty')}=0,{len(sheet('crew').column('duty').choices) + 1},{own('duty')})"
    craft = f'IF(AND({own("place")}=0,{told("craft")}<>"")," (craft: "&{told("craft")}&")","")'
    by_number = f'MATCH("*,"&{escaped(own("number"))}&",*",[crew.stands],0)'
    by_rank = f'MATCH("*,"&{escaped(own("rank"))}&",*",[crew.stands],0)'
    single = f"COUNTIF([crew.rank],{escaped(own('rank'))})=1"
    of_rank = f'IF({own("rank")}="","",IF({single},IFERROR({_named(by_rank)},""),""))'
    replaced = f'IF({own("number")}="",{of_rank},IFERROR({_named(by_number)},{of_rank}))'
    cells = (
        own("number"),
        f'{told("rank")}&""',
        f"{told('name')}&{later}&{craft}",
        f'{told("duty")}&""',
        f'{told("muster_duty")}&""',
        replaced,
        f'{told("substitute_for")}&""',
    )
    return (
        f'IF({used},"",IF({own("place")}=0,{craftless},{own("place")})*{_PLACE}+{duty}*{_DUTY}+{number})',
        '""',
        *(f'IF({used},"",{formula})' for formula in cells),
    )


def _named(match: str) -> str:
    """Number of the person on a line of the Crew sheet, or the rank where there is no number."""
    return f'IF(INDEX([crew.number],{match})="",{cell_of("crew", "rank", match)}&"",INDEX([crew.number],{match}))'


def _says() -> str:
    """How many are listed, and what is not: lines without a craft, lines below the room, persons not on the sheet."""
    listed, recorded = "COUNTIF([crew.aboard],1)", "{ship.persons_on_board}"
    names = f"(COUNTA({input_reach('crew', 'name')})-1-SUM([crew.named]))"
    return (
        f'{listed}&" persons on board are listed"'
        f'&IF(ISNUMBER({recorded}),"; the Ship sheet says "&{recorded}&IF({recorded}<>{listed}," {WORST}",""),"")'
        f'&IF({names}>0,". {WORST} "&{names}&" names stand below the room of this list: move them up","")&"."'
    )


# ---- what stands beside the names ----------------------------------------------------------------------------------


def _signals(paper: Paper) -> None:
    """The alarm, what to do on it, who orders to abandon ship, who keeps the appliances in order."""
    paper.formula_across(
        _SIGNAL_ROW,
        1,
        7,
        f'"General emergency alarm: "&{policy("alarm.short-blasts")}&" or more short blasts, then "'
        f'&{policy("alarm.long-blasts")}&" long, on whistle or siren and on the bells (SOLAS III/6.4.2; LSA Code '
        '7.2.1)."',
        paper.formats.warning,
    )
    paper.across(
        _SIGNAL_ROW + 1,
        1,
        7,
        "On hearing it: warm clothing, lifejacket, suit where one is yours; go to your station; report; wait for "
        "orders (III/37.1).",
        paper.formats.plain,
    )
    for offset, words in enumerate(
        (
            "Fire alarm and first actions",
            "Order to abandon ship: by whom, how given (III/37.2)",
            "Officers who keep life-saving and fire appliances in order (III/37.4)",
        ),
        start=2,
    ):
        row = _SIGNAL_ROW + offset
        paper.page.set_row(row, LINE_HEIGHT)
        paper.page.merge_range(row, 1, row, 4, words, paper.formats.line)
        paper.page.merge_range(row, 5, row, 7, None, paper.formats.blank)


def muster_rules() -> list[Rule]:
    """The duties that the muster list must cover (SOLAS III/37.3)."""
    return [
        rule
        for name in rule_set_names()
        for rule in load_rule_set(name).rules
        if rule.key.startswith("crew.muster-") and rule.in_force_until is None
    ]


def _duties(helpers: HelperSheet, paper: Paper, row: int) -> int:
    """How many have each duty of III/37.3; the row after the block."""
    choices = sheet("crew").column("muster_duty").choices
    rules = [rule for rule in muster_rules() if rule.item in choices]
    paper.page.merge_range(row, 1, row, 3, "Duties of the muster list (SOLAS III/37.3)", paper.formats.heading)
    paper.page.merge_range(row, 4, row, 5, "Paragraph", paper.formats.heading)
    paper.page.merge_range(row, 6, row, 7, "Persons", paper.formats.heading)
    remarks = input_reach("crew", "remarks")
    for number, rule in enumerate(rules, start=1):
        own = row + number
        paper.page.set_row(own, LINE_HEIGHT)
        held = (
            f"COUNTIFS([crew.muster],{choices.index(rule.item) + 1},[crew.aboard],1)"
            f'+COUNTIF({remarks},"*also*{rule.item}*")'
        )
        only_passenger = "passenger" in dict(rule.condition.clauses).get("ship_family", ())
        needless = '[ship.ship_family]="cargo"' if only_passenger else "FALSE"
        paper.formula(own, 0, f'IF({held}>0,"",IF({needless},"","{WORST}"))', paper.formats.mark)
        paper.page.merge_range(own, 1, own, 3, rule.item, paper.formats.line)
        paper.page.merge_range(own, 4, own, 5, rule.reference, paper.formats.line)
        paper.formula_across(own, 6, 7, f'IF({held}>0,{held},IF({needless},"not asked","nobody"))', paper.formats.line)
    return row + len(rules) + 1


def _passengers(paper: Paper, row: int) -> int:
    carried = 'OR(N({ship.passengers})>0,N({ship.passengers_certified})>0,[ship.ship_family]="passenger")'
    paper.formula_across(
        row,
        1,
        7,
        f'IF({carried},"Duties to passengers (III/37.6): warn them; see that they are clothed and have put on '
        "lifejackets rightly; muster them; keep order in passages and stairways; see that blankets are taken to the "
        'craft.","No passengers on the Ship sheet: no duties to passengers are listed.")',
        paper.formats.wrapped,
    )
    paper.page.set_row(row, 2 * LINE_HEIGHT)
    paper.across(
        row + 1,
        1,
        7,
        "Ready before the ship sails, made anew when a change of crew alters it (III/37.7). Posted on the bridge, in "
        "the engine room and in the crew's spaces (III/8).",
        paper.formats.wrapped,
    )
    return row + 2


def _signature(paper: Paper, row: int) -> None:
    paper.page.set_row(row, 24)
    paper.page.merge_range(row, 1, row, 2, "Master:", paper.formats.choice_label)
    paper.page.merge_range(row, 3, row, 4, None, paper.formats.signature)
    paper.write(row, 5, "Date:", paper.formats.choice_label)
    paper.page.merge_range(row, 6, row, 7, None, paper.formats.signature)
