"""The sheet of cell functions in the example fleet: each function once, and the value that it must give."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from example_books.build import HERE
from example_books.functions import HEADINGS, SHEET
from tests.addins.calc.office import running
from workbook_tools.addins.calc import build
from workbook_tools.cells import FUNCTIONS

BOOK = HERE / "saltorra.xlsx"


def _lines(data_only: bool) -> list[tuple[Any, ...]]:
    return list(openpyxl.load_workbook(BOOK, data_only=data_only)[SHEET].iter_rows(values_only=True))


def test_each_function_stands_once_as_excel_stores_it() -> None:
    headings, *lines = _lines(data_only=False)
    assert headings == HEADINGS
    assert len(lines) == len(FUNCTIONS)
    for function, (asked, text, formula, _) in zip(FUNCTIONS.values(), lines, strict=True):
        assert asked == function.help
        assert formula == text
        assert f"{function.name}(" in formula


def test_the_file_holds_the_expected_values() -> None:
    for function, (text, value, expected) in zip(
        FUNCTIONS.values(), (line[1:] for line in _lines(data_only=True)[1:]), strict=True
    ):
        assert value == expected, text
        serial = (value.date() - date(1899, 12, 30)).days if isinstance(value, datetime) else value
        assert (text, serial) == function.examples[0]


@pytest.mark.office
def test_calc_with_the_extension_gives_the_expected_values(tmp_path: Path) -> None:
    with running(tmp_path / "profile") as office:
        office.ask("install", str(build(tmp_path)))
    with running(tmp_path / "profile") as office, office.document(BOOK) as document:
        office.ask("recalculate", document, 1)
        rows = office.ask("read", document, SHEET, f"C2:D{len(FUNCTIONS) + 1}")
    assert [value for value, _ in rows] == [expected for _, expected in rows]
