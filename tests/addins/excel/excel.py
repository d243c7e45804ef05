"""Calls as Excel makes them: through xlwings' server object, with cells and literals in their COM form."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from workbook_tools.addins.excel.standins import MISSING, ExcelRange, ExcelWorkbook
from workbook_tools.addins.excel.vba import MODULE

ERROR_NUMBERS = {
    "#DIV/0!": -2146826281,
    "#N/A": -2146826246,
    "#NAME?": -2146826259,
    "#NULL!": -2146826288,
    "#NUM!": -2146826252,
    "#REF!": -2146826265,
    "#VALUE!": -2146826273,
}


@dataclass
class Excel:
    """A workbook whose cells call the functions."""

    server: Any
    workbook: ExcelWorkbook

    def call(self, function: str, *arguments: Any) -> Any:
        """What VBA gets back: a value, a list (one row) or a list of rows."""
        return self.server.CallUDF(MODULE, function, arguments, self.workbook, ExcelRange(None, "$F$9"))


def in_cell(value: Any) -> Any:
    """A value as Excel's Range.Value gives it."""
    if isinstance(value, tuple):
        return tuple(tuple(in_cell(cell) for cell in row) for row in value)
    return ERROR_NUMBERS.get(value, value) if isinstance(value, str) else value


def grid(value: Any) -> Any:
    """A flat row of a case as the table that a range is."""
    return (value,) if isinstance(value, tuple) and value and not isinstance(value[0], tuple) else value


def as_range(value: Any) -> ExcelRange:
    """An argument as a reference to cells."""
    return ExcelRange(in_cell(grid(value)))


def as_literal(value: Any) -> Any:
    """An argument as it is typed in the formula; what is left out is missing."""
    if isinstance(value, tuple):
        return in_cell(grid(value))  # an array constant
    return MISSING if value is None else in_cell(value)


def as_vba_gets_it(expected: Any) -> Any:
    """An expected value in the shape that xlwings' server gives back."""
    if not isinstance(expected, tuple):
        return expected
    if len(expected) == 1:
        return expected[0][0] if len(expected[0]) == 1 else list(expected[0])
    return [list(row) for row in expected]


def same(got: Any, expected: Any) -> bool:
    """Whether two results agree, shape and type and all."""
    if isinstance(expected, list):
        return isinstance(got, list) and len(got) == len(expected) and all(map(same, got, expected))
    if isinstance(expected, float):
        return type(got) is float and abs(got - expected) <= 1e-9 * max(1.0, abs(expected))
    return type(got) is str and got == expected
