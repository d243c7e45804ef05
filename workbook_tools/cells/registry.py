"""What a cell function is, host-neutral. Standard library only; every binding, wizard text, page and test reads this.

The interface the bindings stand on:

    FUNCTIONS            every function by its name, in the order of the documentation
    evaluate(name, args) the value of one call, as a spreadsheet hands its arguments over
    CellError            raised instead of a value; its kind is the error the cell must show

Arguments of evaluate: a scalar (float, str, bool, date, or None for blank or missing) or a range as a tuple of row
tuples. A range given to an argument that takes one value spreads: the result is then a table of the range's shape. The
result is a float, a str, or a table (a tuple of row tuples of those); never True, never None: a blank result is "".
Dates come in as serial numbers (1900 system), date objects or text, and go out as serial numbers.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

Scalar = float | str | bool | date | None
Range = tuple[tuple[Scalar, ...], ...]
Value = float | str
Table = tuple[tuple[Value, ...], ...]

VALUE_ERROR = "#VALUE!"  # a bad argument
NOT_AVAILABLE = "#N/A"  # an item, craft or rule that is not known
NUMBER_ERROR = "#NUM!"  # a result outside the calendar or the numbers


ERROR_TEXTS = {
    VALUE_ERROR: VALUE_ERROR,
    NOT_AVAILABLE: NOT_AVAILABLE,
    NUMBER_ERROR: NUMBER_ERROR,
    "#REF!": VALUE_ERROR,
    "#DIV/0!": VALUE_ERROR,
    "#NAME?": VALUE_ERROR,
    "#NULL!": VALUE_ERROR,
}  # an error that an argument shows, and the error of the result


class ErrorCell(str):
    """A cell of a result table that shows an error: its text is the kind, '#N/A' and the like; why says why.

    A single call raises CellError; in a table that came of a range the other cells stand, and this one holds the
    error. A binding that can give a real error inside an array asks isinstance(value, ErrorCell); to others it is text.
    """

    why: str

    def __new__(cls, kind: str, why: str = "") -> ErrorCell:
        cell = super().__new__(cls, kind)
        cell.why = why
        return cell


class CellError(Exception):
    """What a cell must show instead of a value: kind is '#VALUE!', '#N/A' or '#NUM!', the text says why."""

    def __init__(self, kind: str, why: str) -> None:
        super().__init__(why)
        self.kind = kind
        self.why = why


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument: its name, its help (255 characters at most), and what it holds.

    kind: text, number, whole, date, or numbers / texts (a range taken as a whole, which does not spread).
    zero_is_blank: 0 is no value of this argument, so it reads as blank, for a host that hands a blank cell over as 0.
    Where it is False, a number argument that is blank reads as 0 on such a host: the named exception.
    """

    name: str
    help: str
    kind: str
    optional: bool = False
    zero_is_blank: bool = False


@dataclass(frozen=True, slots=True)
class Function:
    """One cell function. call takes one scalar for each argument, None where it is missing, and returns a value."""

    name: str
    help: str
    arguments: tuple[Argument, ...]
    result: str  # number, text, date or table
    call: Callable[..., Value | Table]
    examples: tuple[tuple[str, Value], ...]  # formula as typed, and its value
    source: str
    category: str = "Life-saving appliances"


FUNCTIONS: dict[str, Function] = {}
