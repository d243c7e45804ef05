"""The quick look at a sheet says the same as the close one, and leaves nothing to chance where it is not sure."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.workbooks import clean
from workbook_tools.reading import UnreadableBook
from workbook_tools.reading.sheet_scan import NO_RESULT, Scan, _is_plain, _scan_cells, scan_sheet


def _sheet(cells: str) -> bytes:
    return f"<worksheet><cols><col/></cols><sheetData>{cells}</sheetData></worksheet>".encode()


def test_the_sheets_of_a_book_need_no_close_look(tmp_path: Path) -> None:
    path = clean().save(tmp_path / "book.xlsx")
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            if name.startswith("xl/worksheets/sheet"):
                assert _is_plain(archive.read(name))
                assert _scan_cells(archive.read(name), "x") == Scan()


@pytest.mark.parametrize(
    "cells",
    [
        '<row r="1"><c r="A1" t="e"><v>#N/A</v></c></row>',
        '<row r="1"><c r="A1"><f>1+1</f></c></row>',
        '<row r="1"><c r="A1"><f>1+1</f><v></v></c></row>',
        '<row r="1"><c r="A1"><f>1+1</f><v/></c></row>',
        '<row r="1"><c r="A1"><f t="shared" si="0"/></c></row>',
        '<row r="1"><c r="A1"><f>LSA.WATER_L(2)</f><v>3</v></c></row>',
        "<row r='1'><c r='A1'><v>1</v></c></row>",
        "<row><c><v>1</v></c></row>",
        '<x:row r="1"><x:c r="A1"><x:v>1</x:v></x:c></x:row>',
        '<row r="1"><c  r="A1"><v>1</v></c></row>',
        '<row r="1"><c s="1" r="A1"><v>1</v></c></row>',
        '<row r="1"><c\nr="A1"><v>1</v></c></row>',
        '<row r="9999999"><c r="A9999999"><v>1</v></c></row>',
        '<row r="200001"><c r="A200001"><v>1</v></c></row>',
        '<row r="1000"><c r="XFD1000"><v>1</v></c></row>',
    ],
)
def test_what_is_not_plain_is_looked_at_closely(cells: str) -> None:
    assert not _is_plain(_sheet(cells))


@pytest.mark.parametrize(
    ("cells", "errors"),
    [
        ('<c r="B2" t="e"><f>1/0</f><v>#DIV/0!</v></c>', {(1, 1): "#DIV/0!"}),
        ('<c r="B2"><f>1+1</f></c>', {(1, 1): NO_RESULT}),
        ('<c r="B2"><f t="shared" si="0"/><v></v></c>', {(1, 1): NO_RESULT}),
        ('<c r="B2" t="str"><f>A1</f><v></v></c>', {}),
        ('<c r="B2"><f>1+1</f><v>2</v></c>', {}),
    ],
)
def test_errors_are_found_where_they_stand(cells: str, errors: dict[tuple[int, int], str]) -> None:
    assert scan_sheet(_sheet(f'<row r="2">{cells}</row>'), "x").errors == errors


@given(st.integers(1, 1_048_576), st.sampled_from(["A", "Z", "AA", "XFD"]), st.booleans(), st.booleans())
def test_a_cell_is_refused_or_not_whichever_way_it_is_written(
    row: int, column: str, styled: bool, addressed: bool
) -> None:
    style = ' s="1"' if styled else ""
    address = f' r="{column}{row}"' if addressed else ""
    other = f'<row r="{row}"><c{address}{style}><v>1</v></c></row>'

    def refused(data: bytes) -> bool:
        try:
            scan_sheet(data, "x")
        except UnreadableBook:
            return True
        return False

    width = {"A": 1, "Z": 26, "AA": 27, "XFD": 16_384}[column] if addressed else 1
    assert refused(_sheet(other)) == (row > 200_000 or row * width > 5_000_000)
    assert refused(_sheet(f"<!-- -->{other}")) == refused(_sheet(other))


@pytest.mark.parametrize(
    "around",
    [
        '<x:sheetData xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main">{}</x:sheetData><sheetData>'
        '<row r="1"><c r="A1"><v>1</v></c></row></sheetData>',
        '<sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData><sheetData>{}',
    ],
)
def test_a_cell_far_out_in_a_second_block_of_cells_is_refused(around: str) -> None:
    far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'
    with pytest.raises(UnreadableBook, match="reaches to row"):
        scan_sheet(f"<worksheet>{around.format(far)}</worksheet>".encode(), "x")


@pytest.mark.parametrize("cell", ['<c r="XFD1048576" s="1"/>', '<c r="XFD1048576" s="1"></c>'])
def test_a_style_far_out_is_no_cell_far_out(cell: str) -> None:
    assert scan_sheet(_sheet(f'<row r="1048576">{cell}</row>'), "x") == Scan()
