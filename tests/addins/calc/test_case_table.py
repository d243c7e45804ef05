"""The one table of cases through a real Calc: thousands of formulas in one .xlsx, answered as in Python.

Only exceptions that are named in case_book.named_exception, and told in docs/calc.md, may differ.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from xlsxwriter.utility import xl_range

from tests.addins.calc.case_book import (
    ERROR_IN_RANGE,
    OWN_ERROR,
    SINGLE,
    TABLES,
    Placed,
    expected_rows,
    named_exception,
    write_book,
)
from tests.addins.calc.office import Office, convert
from tests.cells.case_table import agrees, cases
from workbook_tools.cells import FUNCTIONS, CellError, evaluate
from workbook_tools.cells.registry import ERROR_TEXTS

pytestmark = pytest.mark.office

Rows = list[list[Any]]


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[Placed]]:
    """The workbook of all cases, and where each stands."""
    path = tmp_path_factory.mktemp("cases") / "cases.xlsx"
    return path, write_book(path, cases())


def _differences(placed: list[Placed], answer: Callable[[Placed], Rows]) -> list[str]:
    found = []
    for each in placed:
        if named_exception(each.case):
            continue
        got, expected = answer(each), expected_rows(each.case)
        if not _same(got, expected):
            found.append(f"{each.case.name}: {got} instead of {expected} ({each.case.source})")
    return found


def _same(got: Rows, expected: Rows) -> bool:
    return all(
        a == b if isinstance(a, dict) or isinstance(b, dict) else agrees(a, b)
        for given, asked in zip(got, expected, strict=True)
        for a, b in zip(given, asked, strict=True)
    )


def test_the_table_holds_every_function() -> None:
    assert {case.function for case in cases()} == set(FUNCTIONS)


def test_few_cases_are_exceptions() -> None:
    reasons = Counter(reason for case in cases() if (reason := named_exception(case)))
    assert sum(reasons.values()) < len(cases()) / 50, reasons


def test_calc_answers_every_case_when_the_file_is_loaded(office: Office, book: tuple[Path, list[Placed]]) -> None:
    path, placed = book
    with office.document(path) as document:
        answers = {
            sheet: office.ask("read", document, sheet, xl_range(0, 0, _height(placed, sheet) - 1, 3))
            for sheet in (SINGLE, TABLES)
        }

    def answer(each: Placed) -> Rows:
        rows = answers[each.sheet][each.row : each.row + each.rows]
        return [row[: each.columns] for row in rows]

    differences = _differences(placed, answer)
    assert not differences, "\n".join(differences[:20])


def test_calc_answers_every_case_in_a_conversion(
    installed: Path, book: tuple[Path, list[Placed]], tmp_path: Path
) -> None:
    path, placed = book
    converted = openpyxl.load_workbook(convert(installed, path, "xlsx", tmp_path), data_only=True)

    def answer(each: Placed) -> Rows:
        cells = converted[each.sheet].iter_rows(each.row + 1, each.row + each.rows, 1, each.columns)
        return [[_told(cell) for cell in row] for row in cells]

    differences = _differences(placed, answer)
    assert not differences, "\n".join(differences[:20])


def test_each_exception_is_as_it_is_told(office: Office, book: tuple[Path, list[Placed]]) -> None:
    path, placed = book
    with office.document(path) as document:
        for each in placed:
            reason = named_exception(each.case)
            if reason is None:
                continue
            place = xl_range(each.row, 0, each.row + each.rows - 1, each.columns - 1)
            rows = office.ask("read", document, each.sheet, place)
            assert _same(rows, _told_of_exception(each, reason)), each.case.name


def _told_of_exception(each: Placed, reason: str) -> Rows:
    if reason == ERROR_IN_RANGE:
        return [[{"error": "Err:504"}] * each.columns] * each.rows
    if reason == OWN_ERROR:
        errors = [value for value in each.case.arguments if isinstance(value, str) and value in ERROR_TEXTS]
        return [[{"error": errors[0]}]]
    arguments = [0.0 if value is None else value for value in each.case.arguments]
    try:
        expected = evaluate(each.case.function, arguments)
    except CellError as error:
        return [[{"error": error.kind}]]
    rows = [list(row) for row in expected] if isinstance(expected, tuple) else [[expected]]
    return [row[: each.columns] for row in rows[: each.rows]]


def _height(placed: list[Placed], sheet: str) -> int:
    return max(each.row + each.rows for each in placed if each.sheet == sheet)


def _told(cell: Any) -> Any:
    """A cell of the converted workbook as the office tells it."""
    if cell.data_type == "e":
        return {"error": cell.value}
    if cell.value is None:
        return ""  # an empty text
    return float(cell.value) if isinstance(cell.value, int | float) else cell.value
