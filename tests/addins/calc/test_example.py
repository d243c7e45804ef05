"""The sheet of examples: each function once, and Calc answers what stands beside it."""

from __future__ import annotations

import re
from datetime import time
from pathlib import Path

import openpyxl
import pytest

from tests.addins.calc.office import Office
from workbook_tools.addins.calc.example import HEADINGS, SHEET, example_sheet
from workbook_tools.cells import FUNCTIONS


@pytest.fixture(name="sheet", scope="module")
def _sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("example") / "functions.xlsx"
    example_sheet(path)
    return path


def test_each_function_stands_there_once(sheet: Path) -> None:
    cells = openpyxl.load_workbook(sheet)[SHEET]
    names = [cells.cell(row, 1).value for row in range(1, cells.max_row + 1)]
    functions = [name for name in names if isinstance(name, str) and re.fullmatch(r"(LSA|FFA)_[A-Z_]+", name)]
    assert sorted(functions) == sorted(FUNCTIONS)


def test_no_answer_is_stored_in_the_file(sheet: Path) -> None:
    # what a reader sees was worked out by the program that shows it
    stored = openpyxl.load_workbook(sheet, data_only=True)[SHEET]
    formulas = openpyxl.load_workbook(sheet)[SHEET]
    ours = [
        (row, 4)
        for row in range(1, formulas.max_row + 1)
        if str(formulas.cell(row, 4).value).startswith(("=LSA", "=FFA"))
    ]
    assert ours
    assert {stored.cell(*place).value for place in ours} <= {0, time(0)}  # 0 in a cell of dates is midnight


@pytest.mark.office
def test_calc_answers_as_expected(office: Office, sheet: Path) -> None:
    with office.document(sheet) as document:
        rows = office.ask("read", document, SHEET, "A1:H60")
    same = HEADINGS.index("Same")
    listed = [row for row in rows if row[same] in ("yes", "NO")]
    tables = sum(function.result == "table" for function in FUNCTIONS.values())
    assert len(listed) == len(FUNCTIONS) - tables
    assert all(row[same] == "yes" and row[3] == row[4] for row in listed), listed


@pytest.mark.office
def test_calc_fills_the_tables_as_expected(office: Office, sheet: Path) -> None:
    with office.document(sheet) as document:
        rows = office.ask("read", document, SHEET, "A1:H60")
    starts = [number for number, row in enumerate(rows) if str(row[0]).startswith("Answer, lines")]
    assert len(starts) == sum(function.result == "table" for function in FUNCTIONS.values())
    for start in starts:
        block = rows[start + 1 : start + 6]
        assert all(row[0] != "" for row in block)
        assert [row[:4] for row in block] == [row[4:] for row in block]
