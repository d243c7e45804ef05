"""The book that is made: what is not in it stands on a sheet of its own, as text and never as a formula."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from datetime import date
from typing import Any

import openpyxl
import pytest

from tests.adopt.room import SMALL
from workbook_tools.adopt import Carried, Source, build_book, carry, propose
from workbook_tools.adopt.source import source_of
from workbook_tools.adopt.writing import HEADING_ROW, HOW_SHEET, LEFT_SHEET
from workbook_tools.core.caution import CAUTION
from workbook_tools.reading import RawBook
from workbook_tools.reading.address import address

# Texts that a spreadsheet program would run, or make a link of.
DANGEROUS = ("=1+1", "+CMD|' /C calc'!A0", "@SUM(A1)", "-2+3", "http://x.example")
GRID: list[list[Any]] = [
    ["Item", "Qty", "Place", "Expiry", "Maker", "Remarks"],
    ["Fresh water", "500 ml x 72, exp 06/2029", "Bridge", "", "", ""],
    ["Hand flares", "4 exp 03/27, 2 exp 08/28", "Bridge", "", "", ""],
    ["Smoke signals", 2.0, "Bridge", "03/04/2028", "", ""],
    *(["Buckets", 1.0, "Bridge", "", text, text] for text in DANGEROUS),
]


@dataclass
class Made:
    """A book that was made, what was carried into it, and the lines of its sheets."""

    source: Source
    carried: Carried
    data: bytes
    cells: dict[str, list[list[Any]]]  # sheet -> rows of cells


@pytest.fixture(scope="module")
def made() -> Made:
    source = source_of(RawBook("theirs.xlsx", {"Sheet1": GRID}))
    carried = carry(source, propose(source))
    data = build_book(carried, source.file_name, date(2026, 11, 25), SMALL)
    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True)
    cells = {name: [list(row) for row in book[name].iter_rows()] for name in (LEFT_SHEET, HOW_SHEET, "Inventory")}
    return Made(source, carried, data, cells)


def _lines(rows: list[list[Any]]) -> list[tuple[Any, ...]]:
    return [tuple(cell.value for cell in row[:4]) for row in rows[HEADING_ROW + 1 :] if row and row[0].value]


def test_every_cell_left_is_listed_with_its_reason(made: Made) -> None:
    wanted = [(fate.place[0], address(*fate.place[1:]), fate.text, fate.why) for fate in made.carried.left]
    assert [line[1] for line in wanted] == ["E1", "D4", "E5", "E6", "E7", "E8", "E9"]
    assert _lines(made.cells[LEFT_SHEET]) == wanted


def test_the_counts_at_its_head_are_those_of_the_source(made: Made) -> None:
    every, left = len(list(made.source.filled())), len(made.carried.left)
    assert f"{every} filled cells: {every - left} carried over, {left} not" in made.cells[LEFT_SHEET][1][0].value


def test_what_was_read_out_of_a_text_is_shown(made: Made) -> None:
    told = {line[1]: line[3] for line in _lines(made.cells[HOW_SHEET])}
    assert told["B2"].endswith("read as quantity 72, content 500, content unit mL, expires 2029-06-30")
    assert "2 lots in one cell" in told["B3"]


def test_a_date_that_is_not_carried_stands_in_the_remarks_of_its_line(made: Made) -> None:
    said = " ".join(str(cell.value) for row in made.cells["Inventory"] for cell in row)
    assert "Expires not carried over, as written: 03/04/2028" in said


def test_the_caution_stands_on_it(made: Made) -> None:
    assert CAUTION in [row[0].value for row in made.cells[LEFT_SHEET] if row]


@pytest.mark.parametrize("name", [LEFT_SHEET, "Inventory"])
def test_text_never_becomes_a_formula_or_a_link(made: Made, name: str) -> None:
    cells = {cell.value: cell for row in made.cells[name] for cell in row}
    assert [cells[text].data_type for text in DANGEROUS] == ["s"] * len(DANGEROUS)
    with zipfile.ZipFile(io.BytesIO(made.data)) as archive:
        links = [part for part in archive.namelist() if part.endswith(".rels") and b"x.example" in archive.read(part)]
    assert links == []
