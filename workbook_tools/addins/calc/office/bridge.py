"""Between Calc's way of handing values over and that of the cell functions. Standard library only, no UNO.

Calc's way, as measured on 7.4: every number is a float, a date is a number of days since the document's null date,
TRUE is 1.0, an argument left out is None, a blank cell is 0.0 and a blank inside a range is ''. An error goes back as
a NaN that carries its code, in a cell of its own as well as in a table of numbers.

Texts need care. Calc compares texts by their place in a pool of the document; a text that reaches it in a table of
mixed type never enters the pool, shows well, and equals nothing: =IF(A1="due",...) would be silently wrong. A single
text and a table of nothing but texts are safe. So a table goes back as one of texts, or as one of numbers and blanks.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from workbook_tools.cells import evaluate
from workbook_tools.cells.arguments import LAST_YEAR
from workbook_tools.cells.registry import (
    NOT_AVAILABLE,
    NUMBER_ERROR,
    VALUE_ERROR,
    CellError,
    ErrorCell,
    Function,
    Table,
    Value,
)

# The serial numbers of the cell functions, those of the 1900 system, are days since this date.
SERIAL_ORIGIN = date(1899, 12, 30)

# Calc's numbers for the errors that a cell shows: NoValue, NotAvailable, IllegalFPOperation.
ERROR_CODES = {VALUE_ERROR: 519, NOT_AVAILABLE: 0x7FFF, NUMBER_ERROR: 503}
_QUIET_NAN = 0x7FF8_0000_0000_0000
# From so many rows on a range is a whole column: Calc hands over all 1,048,576 rows however few are in use.
_WHOLE_COLUMN_ROWS = 65_536

NUMBERS = "[][]any"
TEXTS = "[][]string"


@dataclass(frozen=True, slots=True)
class Answer:
    """A table as Calc takes it: its type, and rows of one kind (floats and '' for blank, or texts)."""

    type: str
    rows: tuple[tuple[float | str, ...], ...]


def error_number(kind: str) -> float:
    """The NaN that Calc shows as this error."""
    number: float = struct.unpack("<d", struct.pack("<Q", _QUIET_NAN | ERROR_CODES[kind]))[0]
    return number


_ERRORS = {kind: error_number(kind) for kind in ERROR_CODES}


def takes_dates(function: Function) -> bool:
    """Whether serial dates go in or come out, so that the document's date system matters."""
    return function.result == "date" or any(argument.kind == "date" for argument in function.arguments)


def call(function: Function, given: Sequence[Any], days: int = 0) -> float | str | Answer:
    """One call from a cell: a float (an error being a NaN), a text, or a table.

    days: added to a date of this document it makes a 1900 serial number; 1462 where the document counts from 1904.
    """
    try:
        value = evaluate(function.name, _neutral(function, given, days))
    except CellError as error:
        return _ERRORS[error.kind]
    except Exception:
        # No traceback may reach a cell, and no number that was not worked out.
        return _ERRORS[VALUE_ERROR]
    back = days if function.result == "date" else 0
    if isinstance(value, tuple):
        return _answer(function, value, back)
    return value if isinstance(value, str) else float(value) - back


def _neutral(function: Function, given: Sequence[Any], days: int) -> list[Any]:
    """The arguments as the cell functions take them: what is left out at the end dropped, whole columns cut."""
    values = list(given)
    while values and values[-1] is None:
        values.pop()
    if any(isinstance(value, tuple) and len(value) >= _WHOLE_COLUMN_ROWS for value in values):
        values = _cut(values)
    if days:
        pairs = zip(function.arguments, values, strict=False)
        values = [_shifted(value, days) if argument.kind == "date" else value for argument, value in pairs]
    return values


def _cut(values: list[Any]) -> list[Any]:
    """Ranges cut below the last row that is filled in any whole column, so that rows stay paired."""
    whole = [value for value in values if isinstance(value, tuple) and len(value) >= _WHOLE_COLUMN_ROWS]
    used = max(1, *(_used_rows(value) for value in whole))
    return [value[:used] if isinstance(value, tuple) else value for value in values]


def _used_rows(rows: tuple[tuple[Any, ...], ...]) -> int:
    count = len(rows)
    blank = ("",) * len(rows[0])
    while count and rows[count - 1] == blank:
        count -= 1
    return count


def _shifted(value: Any, days: int) -> Any:
    if isinstance(value, tuple):
        return tuple(tuple(_shifted(cell, days) for cell in row) for row in value)
    # A blank cell arrives as 0 and must stay one; a year typed where a day is asked must still be seen to be a year.
    return value + days if isinstance(value, float) and value > LAST_YEAR else value


def _answer(function: Function, rows: Table, days: int) -> Answer:
    """The table of texts, or of numbers, that a result is.

    A text is not mixed with numbers, so the cell of a table of texts that has no answer holds the error's name.
    """
    if function.result == "text" or not any(isinstance(cell, float) for row in rows for cell in row):
        return Answer(TEXTS, tuple(tuple([str(cell) for cell in row]) for row in rows))
    return Answer(NUMBERS, tuple(tuple([_number(cell, days) for cell in row]) for row in rows))


def _number(cell: Value, days: int) -> float | str:
    """A cell of a table of numbers: a float, an error as its NaN, '' where it is blank (alone of texts it is safe)."""
    if isinstance(cell, ErrorCell):
        return _ERRORS[str(cell)]
    if isinstance(cell, str):
        return cell
    return float(cell) - days
