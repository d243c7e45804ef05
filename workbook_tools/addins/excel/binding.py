"""Each declared cell function as an xlwings function: only xlwings' own decorators and conversions, of its BSD part.

What a cell hands over arrives as xlwings reads it: floats, texts, dates, None for blank or missing, errors as their
text. What goes back is a float, a text or a list of rows; xlwings cannot give a real #N/A, so errors go back as text,
and the VBA module makes them real (vba.py).
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from inspect import Parameter, Signature
from typing import Any

from workbook_tools.cells import FUNCTIONS, CellError, evaluate
from workbook_tools.cells.registry import VALUE_ERROR, Argument, Function

VBA_NAMES = {"option": "option_text"}  # argument names that are words of the language in VBA

# Every error of Excel is a number of this span. xlwings turns the old ones to text; the newer ones (#SPILL!, #CALC!)
# arrive as numbers.
_ERROR_NUMBERS = range(-2146826300, -2146826200)

Udf = Callable[..., Any]


def bind(xlwings: Any) -> dict[str, Udf]:
    """The functions for Excel, by name, decorated by the xlwings module that is handed over.

    They take part in the function wizard (call_in_wizard): the line that keeps others out of it also stops them when
    a book is opened, and shows 0. They are not volatile: the day is an argument.
    """
    return {function.name: _bound(xlwings, function) for function in FUNCTIONS.values()}


def _bound(xlwings: Any, function: Function) -> Udf:
    udf = _plain(function)
    for argument in function.arguments:
        udf = xlwings.arg(vba_name(argument), doc=argument.help, ndim=2, err_to_str=True)(udf)
    decorated: Udf = xlwings.func(category=function.category, call_in_wizard=True, volatile=False)(udf)
    return decorated


def _plain(function: Function) -> Udf:
    """The call as xlwings makes it: every argument a list of rows, or None where it is missing."""

    def udf(*given: Any) -> Any:
        try:
            return shown(evaluate(function.name, [taken(value) for value in given]))
        except CellError as error:
            return error.kind

    udf.__name__ = udf.__qualname__ = function.name
    udf.__doc__ = function.help
    udf.__annotations__ = {}
    udf.__dict__["__signature__"] = Signature(
        [
            Parameter(
                vba_name(argument),
                Parameter.POSITIONAL_OR_KEYWORD,
                default=None if argument.optional else Parameter.empty,
            )
            for argument in function.arguments
        ]
    )
    return udf


def vba_name(argument: Argument) -> str:
    """The name of an argument in VBA."""
    return VBA_NAMES.get(argument.name, argument.name)


def taken(value: Any) -> Any:
    """An argument as the neutral layer takes it: one cell as a scalar, more as a tuple of row tuples."""
    if not isinstance(value, list | tuple):
        return _cell(value)
    rows = tuple(tuple(_cell(cell) for cell in row) for row in value)
    return rows[0][0] if len(rows) == 1 and len(rows[0]) == 1 else rows


def _cell(value: Any) -> Any:
    if isinstance(value, Decimal):  # a cell formatted as currency
        return float(value)
    if isinstance(value, int) and not isinstance(value, bool):
        return VALUE_ERROR if value in _ERROR_NUMBERS else float(value)
    return value


def shown(value: Any) -> Any:
    """A result as xlwings takes it: rows as lists, errors as plain text."""
    if isinstance(value, tuple):
        return [[shown(cell) for cell in row] for row in value]
    return str(value) if isinstance(value, str) else value
