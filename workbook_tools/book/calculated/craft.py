"""Hidden: each line of the Craft sheet in the words of the rules, and how many lines of Required it needs."""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.coverage import CRAFT_COLUMNS as COVERAGE_COLUMNS
from workbook_tools.book.calculated.grid import Figured, input_reach, number_read, write_grid
from workbook_tools.book.calculated.lists import ALL_FACTS, CRAFT_FACTS, FIGURES, escaped, folded
from workbook_tools.book.calculated.ship import choice
from workbook_tools.book.calculated.writer import CalculatedBook, across
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.rules.loader import load_rule_set, rule_set_names

_SHIP_WIDE = tuple(fact for fact in ALL_FACTS if fact not in ("kind", *CRAFT_FACTS))


def _fact(fact: str) -> str:
    read = choice(fact, f"{{craft.{fact}}}")
    if fact == "purpose":  # an empty purpose means required
        return f'IF({{craft.purpose}}="","required",{read})'
    if fact == "construction":  # a free-fall boat is never open
        return f'IF(AND({{craft.construction}}="",[kind]="free-fall lifeboat"),"totally enclosed",{read})'
    return read


def _doubts() -> str:
    words = [f'N([{fact}]="?")' for fact in ("kind", *CRAFT_FACTS)]
    numbers = [f'N(AND({{craft.{column}}}<>"",[{column}]=""))' for column in FIGURES]
    dates = [
        f'N(AND({{craft.{column}}}<>"",NOT(ISNUMBER({{craft.{column}}}))))'
        for column in ("serviced", "earliest_content")
    ]
    return "+".join([*words, *numbers, *dates, "[ship.unread]"])


def service_row(name: str) -> tuple[int, int]:
    """Months between services of a raft, and the longest that may be granted (0: none); (0, 0) where no rule asks."""
    rule = next((rule for rule in load_rule_set(name).rules if rule.evidence == "service"), None)
    return (int(rule.fixed), int(rule.extended_to or 0)) if rule is not None else (0, 0)


def service_rows() -> list[tuple[str, int, int]]:
    """Set, months and longest months of the raft service."""
    return [(name, *service_row(name)) for name in rule_set_names()]


_STRICT = "EDATE({craft.serviced},INDEX([lists.raftservice_months],[ship.set_number]))"
_SERVICE_DUE = (
    'IF(OR(NOT(ISNUMBER({craft.serviced})),INDEX([lists.raftservice_months],[ship.set_number])=0),"",'
    'IF(AND([ship.deadline_counting]="same calendar month",INDEX([lists.raftservice_longest],[ship.set_number])>0),'
    f"EOMONTH({_STRICT},0),{_STRICT}))"
)

_CERTIFICATE = (
    'IF(OR({craft.certificate}="",NOT(ISNUMBER({craft.serviced}))),0,'
    "IF({craft.serviced}>[ship.asked],0,"
    'IF([service_due]="",1,IF([service_due]<[ship.asked],0,1))))'
)

COLUMNS = (
    Figured("number", "no", "ROW()-" + str(FIRST_ROW), 6),
    Figured("name", "name", folded("{craft.name}"), 18),  # to be compared; what is shown is the name as it was typed
    Figured("shown", "shown", 'TRIM({craft.name}&"")', 18),
    Figured("used", "used", 'IF(AND([name]="",{craft.kind}=""),0,1)'),
    Figured("clear", "clear", f'IF([used]=0,0,IF([name]="",0,IF(COUNTIF([name:],{escaped("[name]")})>1,0,1)))'),
    # the facts, kind first, stand side by side: conditions look them up by number
    Figured("kind", "kind", choice("kind", "{craft.kind}"), 16),
    *(Figured(fact, fact, _fact(fact)) for fact in CRAFT_FACTS),
    *(Figured(fact, fact, f"[ship.{fact}]") for fact in _SHIP_WIDE),
    Figured("side", "side", choice("side", "{craft.side}")),
    *(Figured(column, column, number_read("craft", column)) for column in FIGURES),
    Figured("kind_no", "kind no", "IFERROR(MATCH([kind],[lists.kind_name],0),0)"),
    Figured("family", "family", 'IF([kind_no]=0,"",INDEX([lists.kind_first],[kind_no]))', 12),
    Figured(
        "second",
        "second",
        'IF([kind_no]=0,"",IF(AND([family]="liferaft",OR([pack]="A",[pack]="B")),"liferaft-"&[pack],'
        'INDEX([lists.kind_second],[kind_no])&""))',
        12,
    ),
    Figured("range1", "range", 'IFERROR(MATCH([ship.rule_set]&"|"&[family],[lists.range_name],0),0)'),
    Figured(
        "range2",
        "range",
        'IF([second]="",0,IFERROR(MATCH([ship.rule_set]&"|"&[second],[lists.range_name],0),0))',
    ),
    Figured("first1", "first", "IF([range1]=0,0,INDEX([lists.range_first],[range1]))"),
    Figured("count1", "count", "IF(OR([range1]=0,[ship.outside]=1),0,INDEX([lists.range_count],[range1]))"),
    Figured("first2", "first", "IF([range2]=0,0,INDEX([lists.range_first],[range2]))"),
    Figured("count2", "count", "IF(OR([range2]=0,[ship.outside]=1),0,INDEX([lists.range_count],[range2]))"),
    Figured("start", "start", f"IF(ROW()={FIRST_ROW + 1},0,N([start^])+N([count1^])+N([count2^]))"),
    Figured("lots", "lots", 'COUNTIFS([lots.craft],[number],[lots.item],">0")'),
    # cells of this line or of the Ship sheet that formulas cannot read, and lots that may be hers
    Figured("doubts", "doubts", _doubts()),
    Figured("unread", "unread", "COUNTIFS([lots.craft],[number],[lots.unread],1)+COUNTIFS([lots.unread],2)"),
    Figured("service_due", "service due", _SERVICE_DUE, 12),
    Figured("certificate", "certificate", _CERTIFICATE),
    Figured("earliest", "earliest", 'IF(ISNUMBER({craft.earliest_content}),{craft.earliest_content},"")', 12),
    # what only davitbook check weighs: a service that the Servicing sheet records of this craft
    Figured(
        "elsewhere",
        "elsewhere",
        f'IF(OR([name]="",[certificate]=1),0,N(COUNTIF([servicing.appliance],{escaped("{craft.name}")})>0))',
    ),
)


ALL_COLUMNS = (*COLUMNS, *COVERAGE_COLUMNS)


def write_craft(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet. Lots must be known by name already."""
    rows = calc.room["craft"]
    calc.names["servicing.appliance"] = input_reach("servicing", "appliance")
    write_grid(calc, page, "craft", ALL_COLUMNS, FIRST_ROW, rows, heading_row=FIRST_ROW - 1)
    keys = [column.key for column in COLUMNS]
    calc.names["craft.facts"] = across(page.get_name(), keys.index("kind"), len(ALL_FACTS), rows)
    calc.names["craft.figures"] = across(page.get_name(), keys.index(FIGURES[0]), len(FIGURES), rows)
    page.protect("")
