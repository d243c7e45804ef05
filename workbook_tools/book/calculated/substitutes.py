"""Hidden: what may stand in the place of a rule's item, for each craft: how much of it counts."""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.grid import Figured, write_grid
from workbook_tools.book.calculated.lots import KEY
from workbook_tools.book.calculated.rule_rows import most_standings
from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.layout import FIRST_ROW


def held(fact: str, values: str) -> str:
    """1 where a fact has one of the values, 0 where it has another, 2 where it is not recorded; 1 without a fact."""
    value = f"INDEX([craft.facts],[craft],{fact})"
    return (
        f'IF(OR({fact}=0,{fact}=""),1,IF(OR({value}="",{value}="?"),2,'
        f'IF(ISNUMBER(SEARCH("|"&{value}&"|",{values})),1,0)))'
    )


def _of(column: str) -> str:
    return f"INDEX([lists.standing_{column}],[entry])"


_TODAY = "[ship.asked]"
_LEAD_ENDED = "([ship.asked]+INDEX([rules.lead],[rule])+1)"


def _lots(column: str, day: str) -> str:
    return f'SUMIFS([lots.{column}],[lots.key],[key],[lots.date],">="&{day})'


_WHOLE = "MAX(N(INDEX([rules.minimum],[rule])),N(INDEX([rules.fixed],[rule])))"
_LIMIT = f"{_of('per_person')}*N(INDEX([craft.persons],[craft]))"


def _credit(pieces: str, amount: str, day: str) -> str:
    """What stands in for the rule's item on a day, in the rule's unit: whole, piece for piece, or what it makes."""
    return (
        f"IF([may]=0,0,IF(AND([form]=1,[fact]=1),{_WHOLE},IF([lots]=0,0,"
        f"IF([form]=1,IF({_lots(pieces, day)}>0,{_WHOLE},0),"
        f"IF([form]=2,MIN({_lots(pieces, day)},{_of('at_most')}),"
        f"MIN({_lots(amount, day)}/{_of('factor')},{_LIMIT}))))))"
    )


COLUMNS = (
    Figured("number", "no", f"ROW()-{FIRST_ROW}"),
    Figured("craft", "craft", f"INT(([number]-1)/{most_standings()})+1"),
    Figured("place", "place", f"MOD([number]-1,{most_standings()})+1"),
    Figured(
        "entry",
        "entry",
        "IF(OR(INDEX([craft.used],[craft])=0,[place]>INDEX([lists.set_count],[ship.set_number])),0,"
        "INDEX([lists.set_first],[ship.set_number])+[place]-1)",
    ),
    Figured("rule", "rule", f"IF([entry]=0,0,{_of('rule')})"),
    Figured("form", "form", f"IF([entry]=0,0,{_of('form')})"),
    # whether it may stand in at all: 1 yes, 2 a fact is not recorded, 0 no
    Figured("if1", "if", f"IF([entry]=0,0,{held(_of('if1'), _of('ifvalues1'))})"),
    Figured("if2", "if", f"IF([entry]=0,0,{held(_of('if2'), _of('ifvalues2'))})"),
    Figured(
        "may",
        "may",
        f"IF([entry]=0,0,IF(OR([ship.asked]<{_of('from')},AND({_of('until')}>0,[ship.asked]>{_of('until')}),"
        "[if1]=0,[if2]=0),0,MAX([if1],[if2])))",
    ),
    # whether a fact of the craft alone is enough (a SART that is stowed in her)
    Figured(
        "fact",
        "fact",
        f"IF(OR([may]=0,[entry]=0),0,IF({_of('fact1')}=0,0,"
        f"N(AND({held(_of('fact1'), _of('values1'))}=1,{held(_of('fact2'), _of('values2'))}=1))))",
    ),
    Figured("key", "key", f"IF([may]=0,0,IF({_of('item')}=0,0,[craft]*{KEY}+{_of('item')}))"),
    Figured(
        "lots",
        "lots",
        'IF([key]=0,0,COUNTIFS([lots.key],[key],[lots.class],">0",[lots.date],">="&[ship.asked]))',
    ),
    Figured(
        "lapsing",
        "lapsing",
        'IF([lots]=0,0,COUNTIFS([lots.key],[key],[lots.class],">0",[lots.date],">="&[ship.asked],'
        '[lots.date],"<="&([ship.asked]+INDEX([rules.lead],[rule]))))',
    ),
    Figured("surely", "surely", _credit("pieces_surely", "surely", _TODAY)),
    Figured("at_best", "at best", _credit("pieces_at_best", "at_best", _TODAY)),
    Figured("at_end", "at the end of the lead time", _credit("pieces_at_best", "at_best", _LEAD_ENDED)),
    Figured("sure", "sure", "IF([may]=1,[surely],0)"),
)


def write_substitutes(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet: so many rows for each craft as the larger set has substitutes."""
    rows = calc.room["craft"] * most_standings()
    write_grid(calc, page, "subs", COLUMNS, FIRST_ROW, rows, heading_row=FIRST_ROW - 1)
    page.protect("")
