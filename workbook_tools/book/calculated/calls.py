"""Hidden: the planned calls as the Order dates sheet looks them up, in the order in which things come on board."""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.grid import Figured, number_read, write_grid
from workbook_tools.book.calculated.ship import choice
from workbook_tools.book.calculated.writer import CalculatedBook, across
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.columns.ports import OFFERS

NO_CALL = "9E15"  # sorts behind every call
_AFTER_DAY = 100_000_000  # the day on board, the arrival and the line make one number, in this order

_DATES = 'AND({ports.port}<>"",ISNUMBER({ports.arrival}),OR({ports.departure}="",ISNUMBER({ports.departure})))'
_LEAVES = 'IF([arrival]=0,0,IF({ports.departure}="",[arrival],INT({ports.departure})))'
_UNREAD = (
    'N(OR(AND({ports.port}="",{ports.arrival}<>""),AND({ports.port}<>"",NOT(ISNUMBER({ports.arrival}))),'
    'AND({ports.departure}<>"",NOT(ISNUMBER({ports.departure}))),'
    'AND({ports.lead_days}<>"",NOT(ISNUMBER({ports.lead_days}))),'
    + ",".join(f'[{offer}]="?"' for offer in OFFERS)
    + "))"
)

COLUMNS = (
    *(Figured(offer, offer, choice(offer, f"{{ports.{offer}}}")) for offer in OFFERS),
    Figured("unread", "unread", _UNREAD),
    Figured("arrival", "arrival", f"IF({_DATES},INT({{ports.arrival}}),0)", 12, "date"),
    Figured("leaves", "leaves", _LEAVES, 12, "date"),
    Figured("planned", "planned", "N(AND([arrival]>0,[leaves]>=[arrival],[leaves]>=[ship.asked]))"),
    Figured("until", "until", "IF([planned]=1,[leaves],0)", 12, "date"),
    Figured("lead", "lead", f'IF({number_read("ports", "lead_days")}="",[lists.call_lead],{{ports.lead_days}})'),
    Figured("ready", "ready", "MAX([arrival],[ship.asked]+[lead])", 12, "date"),
    Figured("send", "send", "[arrival]-[lead]", 12, "date"),
    Figured("open", "open", "N(AND([planned]=1,[ready]<=[leaves]))"),
    *(
        Figured(
            f"key_{offer}",
            "key",
            f'IF(AND([open]=1,[{offer}]="yes"),[ready]*{_AFTER_DAY}+[arrival]*1000+ROW(),"")',
        )
        for offer in OFFERS
    ),
    *(
        Figured(f"sorted_{offer}", "sorted", f"IFERROR(SMALL([key_{offer}:],ROW()-{FIRST_ROW}),{NO_CALL})")
        for offer in OFFERS
    ),
    *(
        Figured(f"at_{offer}", "at", f"IF([sorted_{offer}]={NO_CALL},0,MATCH([sorted_{offer}],[key_{offer}:],0))")
        for offer in OFFERS
    ),
)


def last_in_time(first: str, supplier: str) -> str:
    """The formula of the last call at which a supplier has it on board by a day, as its line of Ports; 0: none."""
    found = f"MATCH(({first})*{_AFTER_DAY}+{_AFTER_DAY - 1},INDEX([calls.sorted],0,{supplier}),1)"
    return f"IFERROR(INDEX([calls.at],{found},{supplier}),0)"


def first_call(supplier: str) -> str:
    """The formula of the first call that has a supplier; 0: none."""
    return f"INDEX([calls.at],1,{supplier})"


def write_calls(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    rows, title = calc.room["ports"], page.get_name()
    write_grid(calc, page, "calls", COLUMNS, FIRST_ROW, rows, heading_row=FIRST_ROW - 1)
    keys = [column.key for column in COLUMNS]
    for name in ("sorted", "at"):
        calc.names[f"calls.{name}"] = across(title, keys.index(f"{name}_{OFFERS[0]}"), len(OFFERS), rows)
    page.protect("")
