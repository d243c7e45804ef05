"""What must be ordered or booked by when: gathered on a hidden sheet, shown by the Order dates sheet.

A line is a shortage of the Required sheet or a date of the Due sheet for which somebody ashore is needed. How many
pieces to order, and at which calls, is worked out by `davitbook order`: that is no matter of formulas.
"""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.calls import first_call, last_in_time
from workbook_tools.book.calculated.dates import date_rows
from workbook_tools.book.calculated.grid import Figured, input_column, resolve, write_grid
from workbook_tools.book.calculated.lines import line_rows
from workbook_tools.book.calculated.writer import MOST_ROWS, CalculatedBook, Value, block, cell
from workbook_tools.book.formats import set_up_page
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW, TITLE_ROW
from workbook_tools.columns.calculated import (
    NO_CALL_LOT,
    NO_CALL_SERVICE,
    ORDER_LINES,
    ORDERS,
    REQUIRED,
    SEND_AT_ONCE,
    SEND_LATER,
    SEND_SOON,
    SHORT_NOW,
)
from workbook_tools.core.caution import CAUTION

_GRADES = (SHORT_NOW, NO_CALL_SERVICE, NO_CALL_LOT, SEND_AT_ONCE, SEND_SOON, SEND_LATER)
_SHORT, _SERVICE, _LOT, _AT_ONCE, _SOON, _LATER = range(1, len(_GRADES) + 1)
_BEYOND = 9  # after the last call planned: not shown
_LAST_CALL, _COUNT_BEYOND = (0, 1), (0, 3)  # cells of the hidden sheet

_NEEDED = 'OR([day]="",[supplier]=0)'
_LATE = f"IF(INDEX([dates.source],[nth])=1,{_LOT},{_SERVICE})"
_IN_TIME = f"IF([send]<=[ship.asked],{_AT_ONCE},IF([send]-[ship.asked]<=[lists.lead_other],{_SOON},{_LATER}))"
_AHEAD = f"IF(AND([day]>=[ship.asked],[day]>[orders.last]),{_BEYOND},IF([in_time]=0,{_LATE},{_IN_TIME}))"

_KEYS = ("required", "nth", "day", "supplier", "in_time", "call", "send", "grade", "key")
_SAME = (
    ("in_time", f"IF({_NEEDED},0,{last_in_time('[day]+1', '[supplier]')})"),
    ("call", f"IF({_NEEDED},0,IF([in_time]>0,[in_time],{first_call('[supplier]')}))"),
    ("send", 'IF([call]=0,"",MAX([ship.asked],INDEX([calls.send],[call])))'),
)
_KEY = (
    f'IF(OR([grade]=0,[grade]={_BEYOND}),"",'
    f"IF([grade]={_SHORT},0,IF([grade]<={_LOT},[day],100000+[send]))*{MOST_ROWS}+ROW())"
)
# What is short now counts as lacking from the day asked on.
_OF_REQUIRED = (
    ("day", 'IF(N(INDEX([required.missing],[nth]))>0,[ship.asked]-1,"")'),
    ("supplier", 'IF([day]="",0,INDEX([lists.rulesupplier_number],INDEX([required.rule],[nth])))'),
    *_SAME,
    ("grade", f"IF({_NEEDED},0,{_SHORT})"),
    ("key", _KEY),
)
_OF_DATES = (
    ("day", "INDEX([dates.day],[nth])"),
    ("supplier", 'IF([day]="",0,INDEX([dates.supplier],[nth]))'),
    *_SAME,
    ("grade", f"IF({_NEEDED},0,{_AHEAD})"),
    ("key", _KEY),
)


def order_rows(room: Any) -> int:
    """Lines that can need an order."""
    return line_rows(room["craft"]) + date_rows(room)


def order_words() -> list[tuple[Value, ...]]:
    """What a line says, by its grade."""
    return [(words,) for words in _GRADES]


def announce_orders(calc: CalculatedBook) -> None:
    """Make the hidden columns known by name."""
    last = FIRST_ROW + order_rows(calc.room) - 1
    for index, key in enumerate(_KEYS):
        calc.names[f"orders.{key}"] = block(ORDER_LINES, index, FIRST_ROW, last)
    calc.names["orders.last"] = cell(ORDER_LINES, *_LAST_CALL)
    calc.names["orders.beyond"] = cell(ORDER_LINES, *_COUNT_BEYOND)


def write_order_lines(calc: CalculatedBook, page: Any) -> None:
    """Write the hidden sheet: the lines of Required, and below them those of the dates."""
    announce_orders(calc)
    page.write(0, 0, "last call")
    calc.formula(page, *_LAST_CALL, resolve(calc, "MAX([calls.until])"))
    page.write(0, 2, "later")
    calc.formula(page, *_COUNT_BEYOND, resolve(calc, f"COUNTIF([orders.grade],{_BEYOND})"))
    for index, key in enumerate(_KEYS):
        page.write(FIRST_ROW - 1, index, key, calc.formats.optional)
    first = FIRST_ROW
    for number, (rows, columns) in enumerate(
        ((line_rows(calc.room["craft"]), _OF_REQUIRED), (date_rows(calc.room), _OF_DATES))
    ):
        for row in range(rows):
            page.write(first + row, 0, 1 - number)
            page.write(first + row, 1, row + 1)
        for key, formula in columns:
            calc.column(page, first, first + rows - 1, _KEYS.index(key), resolve(calc, _in_row(formula, first)))
        first += rows
    page.protect("")


def _in_row(formula: str, row: int) -> str:
    """[key] by the cell of that column in the same row."""
    for index, key in enumerate(_KEYS):
        formula = formula.replace(f"[{key}]", f"${chr(ord('A') + index)}{row + 1}")
    return formula


_NTH = "INDEX([orders.nth],[line])"
_UNIT = f'IF(INDEX([required.unit],{_NTH})="each","",INDEX([required.unit],{_NTH})&" ")'
_LINE = 'IF([line]=0,"",'


def _either(of_required: str, of_dates: str) -> str:
    return f"{_LINE}IF(INDEX([orders.required],[line])=1,{of_required},{of_dates}))"


_CALL = "INDEX([orders.call],[line])"
_AT_CALL = f'{_LINE}IF({_CALL}=0,"",'

COLUMNS = (
    Figured("send", "Send by", f"{_LINE}INDEX([orders.send],[line]))", 12, "date"),
    Figured("left", "Days left", 'IF(N([send])=0,"",[send]-[ship.asked])', 9, "number"),
    Figured("says", "Says", f"{_LINE}INDEX([lists.orderwords_says],INDEX([orders.grade],[line])))", 22),
    Figured(
        "thing",
        "What",
        _either(
            f'INDEX([required.missing],{_NTH})&" "&{_UNIT}&INDEX([required.item],{_NTH})',
            f"INDEX([dates.thing],{_NTH})",
        ),
        40,
        "wrapped",
    ),
    Figured(
        "where",
        "Where",
        _either(f'INDEX([required.craft],{_NTH})&""', f"INDEX([dates.where],{_NTH})"),
        24,
        "wrapped",
    ),
    Figured("good", "Good until", _either('""', f"INDEX([dates.day],{_NTH})"), 12, "date"),
    Figured(
        "supplier",
        "From whom",
        f"{_LINE}INDEX([lists.supplier_words],INDEX([orders.supplier],[line])))",
        28,
        "wrapped",
    ),
    Figured("port", "Call", f'{_AT_CALL}INDEX([ports.port],{_CALL}+{FIRST_ROW})&""))', 20, "wrapped"),
    Figured("arrival", "Arrival", f"{_AT_CALL}INDEX([calls.arrival],{_CALL})))", 12, "date"),
    Figured(
        "place",
        "Cell",
        # CHAR(33) is the mark between sheet and cell: a shared formula holds none that could stand for a reference
        _either(
            f'"{REQUIRED}"&CHAR(33)&"A"&({_NTH}+{FIRST_ROW})',
            f"INDEX([lists.datesource_sheet],INDEX([dates.source],{_NTH}))&CHAR(33)&"
            f"INDEX([lists.datesource_column],INDEX([dates.source],{_NTH}))&INDEX([dates.row],{_NTH})",
        ),
        18,
    ),
    Figured(
        "line",
        "line",
        f"IF(ROW()-{FIRST_ROW}>COUNT([orders.key]),0,MOD(SMALL([orders.key],ROW()-{FIRST_ROW}),{MOST_ROWS})-{FIRST_ROW})",
        6,
    ),
)


def write_orders(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    calc.names["ports.port"] = input_column("ports", "port")
    rows = order_rows(calc.room)
    words = (
        "The last planned call at which each thing can still be had in time, and when its order or booking must be "
        "sent; where no call is in time, the first that has the supplier. Calls come from the Ports sheet. How many "
        "pieces to order for which call, and whether a rule would be unmet without them, is worked out by davitbook "
        f"order. {CAUTION}"
    )
    calc.head(page, ORDERS, words, len(COLUMNS) - 1, 150, rows)
    told = (
        'IF([orders.last]=0,"▲ No call ahead is planned on the Ports sheet.",'
        'IF([orders.beyond]=0,"",[orders.beyond]&" more dates lie after the last call planned. "))'
        '&IF(SUM([calls.unread])=0,"","▲ "&SUM([calls.unread])&" lines of Ports cannot be read by formulas.")'
    )
    calc.formula(page, TITLE_ROW, 4, resolve(calc, told), calc.formats.bold)
    page.set_row(HEADING_ROW, 20)
    write_grid(calc, page, "order", COLUMNS, FIRST_ROW, rows, heading_row=HEADING_ROW)
    calc.colour(page, 2, rows)
    page.set_column(len(COLUMNS) - 1, len(COLUMNS) - 1, 6, calc.formats.plain, {"hidden": True})
    page.autofilter(HEADING_ROW, 0, FIRST_ROW + rows - 1, len(COLUMNS) - 2)
    page.freeze_panes(FIRST_ROW, 0)
    page.repeat_rows(HEADING_ROW)
    set_up_page(page, calc.ship, landscape=True)
    calc.protect(page)
