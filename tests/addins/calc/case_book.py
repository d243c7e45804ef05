"""The table of cases as a workbook that Excel could have written: one formula a case, all with the stored result 0.

Sheets: Cases (single answers, one a row), Tables (answers that fill more than a cell, one below the other) and Data
(the ranges that formulas point at). A blank argument is a reference to a cell that nobody filled.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import xlsxwriter
from xlsxwriter.utility import xl_range_abs

from tests.cells.case_table import Case
from workbook_tools.cells import FUNCTIONS
from workbook_tools.cells.registry import ERROR_TEXTS

BLANK = "Data!$A$1"  # never filled: ranges begin one row further down
SINGLE, TABLES, DATA = "Cases", "Tables", "Data"

ERROR_IN_RANGE = "Calc does not call a function with a range that holds an error, and shows Err:504"
OWN_ERROR = "Calc passes an argument's own error on without calling the function"
BLANK_IS_ZERO = "Calc hands over a blank cell as 0, and 0 is a value of this argument"


@dataclass(frozen=True, slots=True)
class Placed:
    """A case, and where its answer stands: sheet, first row and column (from 0), rows and columns."""

    case: Case
    sheet: str
    row: int
    rows: int = 1
    columns: int = 1


def write_book(path: Path, cases: Sequence[Case]) -> list[Placed]:
    """Write the workbook; where each case stands."""
    with xlsxwriter.Workbook(str(path)) as workbook:
        return list(_Book(workbook).place(cases))


class _Book:
    def __init__(self, workbook: Any) -> None:
        self._sheets = {name: workbook.add_worksheet(name) for name in (SINGLE, TABLES, DATA)}
        self._next = {SINGLE: 0, TABLES: 0, DATA: 1}
        self._ranges: dict[Any, str] = {}

    def place(self, cases: Sequence[Case]) -> Iterator[Placed]:
        for case in cases:
            formula = f"={case.function}({','.join(map(self._argument, case.arguments))})"
            yield self._table(case, formula) if isinstance(case.expected, tuple) else self._single(case, formula)

    def _single(self, case: Case, formula: str) -> Placed:
        row = self._take(SINGLE, 1)
        self._sheets[SINGLE].write_formula(row, 0, formula, None, 0)
        return Placed(case, SINGLE, row)

    def _table(self, case: Case, formula: str) -> Placed:
        rows, columns = len(case.expected), len(case.expected[0])
        row = self._take(TABLES, rows)
        self._sheets[TABLES].write_array_formula(row, 0, row + rows - 1, columns - 1, f"{{{formula}}}", None, 0)
        return Placed(case, TABLES, row, rows, columns)

    def _take(self, sheet: str, rows: int) -> int:
        row = self._next[sheet]
        self._next[sheet] += rows
        return row

    def _argument(self, value: Any) -> str:
        if value is None:
            return BLANK
        if isinstance(value, tuple):
            return self._range(value)
        if isinstance(value, str):
            doubled = value.replace('"', '""')
            return value if value in ERROR_TEXTS else f'"{doubled}"'
        return repr(value)

    def _range(self, given: tuple[Any, ...]) -> str:
        rows = given if isinstance(given[0], tuple) else (given,)  # a flat list is one row
        if rows not in self._ranges:
            first = self._take(DATA, len(rows))
            for number, values in enumerate(rows, start=first):
                for column, value in enumerate(values):
                    self._fill(number, column, value)
            place = xl_range_abs(first, 0, first + len(rows) - 1, len(rows[0]) - 1)
            self._ranges[rows] = f"{DATA}!{place}"
        return self._ranges[rows]

    def _fill(self, row: int, column: int, value: Any) -> None:
        sheet = self._sheets[DATA]
        if isinstance(value, str) and value in ERROR_TEXTS:
            sheet.write_formula(row, column, f"={value}", None, value)
        elif isinstance(value, str):
            sheet.write_string(row, column, value)
        elif value is not None:
            sheet.write_number(row, column, value)


def _cells(value: Any) -> Iterator[Any]:
    for part in value:
        if isinstance(part, tuple):
            yield from _cells(part)
        else:
            yield part


def named_exception(case: Case) -> str | None:
    """Why Calc answers a case otherwise than the neutral layer, or None where it must answer the same.

    docs/calc.md tells each of these to the user.
    """
    function = FUNCTIONS[case.function]
    pairs = list(zip(function.arguments, case.arguments, strict=False))
    if any(isinstance(value, tuple) and ERROR_TEXTS.keys() & set(_cells(value)) for _, value in pairs):
        return ERROR_IN_RANGE
    errors = [value for _, value in pairs if isinstance(value, str) and value in ERROR_TEXTS]
    if errors and errors[0] != case.error:
        return OWN_ERROR
    if any(value is None and argument.kind != "text" and not argument.zero_is_blank for argument, value in pairs):
        return BLANK_IS_ZERO
    return None


def expected_rows(case: Case) -> list[list[Any]]:
    """What the cells must hold, as the office tells it: errors of a table of texts stay texts."""
    if case.error:
        return [[{"error": case.error}]]
    if not isinstance(case.expected, tuple):
        return [[case.expected]]
    texts = FUNCTIONS[case.function].result == "text"
    return [[_expected_cell(cell, texts) for cell in row] for row in case.expected]


def _expected_cell(cell: Any, texts: bool) -> Any:
    return {"error": cell} if isinstance(cell, str) and cell in ERROR_TEXTS and not texts else cell
