"""Files that are no workbooks, or hostile ones: one clear line each, and never a crash."""

from __future__ import annotations

import re
import shutil
import zipfile
from pathlib import Path

import pytest
import xlsxwriter

from tests.workbooks import clean
from workbook_tools.reading import UnreadableBook, load, read_book


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return clean().save(tmp_path / "book.xlsx")


def _rewritten(book: Path, part: str, pattern: str, replacement: str) -> Path:
    changed = book.with_name("changed.xlsx")
    with zipfile.ZipFile(book) as source, zipfile.ZipFile(changed, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            data = source.read(name).decode()
            if name == part:
                data, count = re.subn(pattern, replacement, data, count=1)
                assert count == 1
            target.writestr(name, data)
    return changed


def _without(book: Path, part: str) -> Path:
    changed = book.with_name("changed.xlsx")
    with zipfile.ZipFile(book) as source, zipfile.ZipFile(changed, "w") as target:
        for name in source.namelist():
            if name != part:
                target.writestr(name, source.read(name))
    return changed


def _says(path: Path, text: str) -> None:
    with pytest.raises(UnreadableBook) as error:
        read_book(path)
    assert text in str(error.value)
    assert "\n" not in str(error.value)


def test_a_text_file_with_the_wrong_ending_is_no_workbook(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_text("Stowed at,Item,Quantity\n")
    _says(path, "not a workbook")


def test_an_empty_file_is_empty(tmp_path: Path) -> None:
    (tmp_path / "book.xlsx").touch()
    _says(tmp_path / "book.xlsx", "the file is empty")


def test_a_file_that_is_not_there_says_so(tmp_path: Path) -> None:
    _says(tmp_path / "book.xlsx", "cannot be opened")


def test_a_zip_of_something_else_is_no_workbook(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "book.xlsx", "w") as archive:
        archive.writestr("letter.txt", "Dear master")
    _says(tmp_path / "book.xlsx", "no workbook inside")


@pytest.mark.parametrize("share", [0.2, 0.5, 0.9, 0.99])
def test_a_file_cut_short_is_damaged(book: Path, share: float) -> None:
    data = book.read_bytes()
    book.write_bytes(data[: int(len(data) * share)])
    _says(book, "damaged")


def test_a_sheet_part_that_is_missing_is_damage(book: Path) -> None:
    _says(_without(book, "xl/worksheets/sheet2.xml"), "sheet 'Craft' is missing")


def test_an_encrypted_book_is_named_as_such(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504) + "EncryptedPackage".encode("utf-16-le") + bytes(600)
    )
    _says(path, "protected by a password")


def test_an_old_binary_file_that_is_none_is_damaged(tmp_path: Path) -> None:
    path = tmp_path / "book.xls"
    path.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(4000))
    _says(path, "damaged")


def test_a_cell_at_the_far_end_of_the_sheet_is_refused_before_it_is_read(book: Path) -> None:
    far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    _says(_rewritten(book, "xl/worksheets/sheet2.xml", "</sheetData>", far), "reaches to row 1,048,576")


def test_an_entity_in_the_workbook_is_refused(book: Path) -> None:
    bomb = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">]><workbook '
    _says(_rewritten(book, "xl/workbook.xml", "<workbook ", bomb), "defines entities")


def test_a_book_without_the_sheets_it_needs_names_those_it_has(book: Path) -> None:
    changed = _rewritten(book, "xl/workbook.xml", 'name="Inventory"', 'name="Shopping"')
    _says(changed, "no sheet named 'Inventory' (sheets found: 'Ship', 'Craft', 'Crew', 'Shopping', ")


def test_a_sheet_without_a_heading_it_needs_names_it(tmp_path: Path) -> None:
    workbook = clean()
    workbook.headings[("inventory", "item")] = "Wares"
    _says(workbook.save(tmp_path / "book.xlsx"), "no column headed 'Item'")


def test_a_sheet_without_any_heading_says_what_it_needs(tmp_path: Path) -> None:
    workbook = clean()
    workbook.title_rows = 80
    _says(workbook.save(tmp_path / "book.xlsx"), "has no heading line")


def test_an_error_value_is_found_where_it_stands(book: Path) -> None:
    changed = _rewritten(
        book,
        "xl/worksheets/sheet4.xml",
        r'<c r="D5"( s="\d+")?><v>[\d.]+</v></c>',
        '<c r="D5" t="e"><v>#DIV/0!</v></c>',
    )
    assert load(changed).errors == {"Inventory": {(4, 3): "#DIV/0!"}}
    found = [(finding.code, finding.cell) for finding in read_book(changed).findings]
    assert found == [("WB01", "D5")]


def test_reading_never_changes_the_file(book: Path) -> None:
    before = book.read_bytes(), book.stat().st_mtime_ns
    read_book(book)
    assert (book.read_bytes(), book.stat().st_mtime_ns) == before


def test_a_book_with_macros_is_read_like_any_other(book: Path) -> None:
    macro = book.with_suffix(".xlsm")
    shutil.copy(book, macro)
    assert len(read_book(macro).rows("inventory")) == len(read_book(book).rows("inventory"))


@pytest.mark.parametrize("empty", ["", "<v></v>", "<v/>"])
def test_a_formula_without_a_result_is_no_empty_cell(tmp_path: Path, empty: str) -> None:
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet("Craft").write_row(0, 0, ["Craft", "Type"])
        page = book.add_worksheet("Inventory")
        page.write_row(0, 0, ["Stowed at", "Item", "Quantity", "Remarks"])
        page.write_row(1, 0, ["Bridge", "lifejacket"])
        page.write_formula("C2", "=2+1", None, 3)
        page.write_formula("D2", '=A2&""', None, "Bridge")
    path = _rewritten(path, "xl/worksheets/sheet2.xml", "<v>Bridge</v>", "<v></v>")  # as Excel saves an empty text
    assert read_book(path).findings == []
    changed = _rewritten(
        path.rename(tmp_path / "text.xlsx"), "xl/worksheets/sheet2.xml", r"(<f>2\+1</f>)<v>3</v>", rf"\1{empty}"
    )
    (finding,) = read_book(changed).findings
    assert (finding.code, finding.cell) == ("WB01", "C2")
    assert "formula without a result" in finding.message
    assert "open and save" in finding.remedy


def test_a_merged_place_is_carried_down_and_a_blank_one_is_not(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet("Craft").write_row(0, 0, ["Craft", "Type"])
        page = book.add_worksheet("Inventory")
        page.write_row(2, 1, ["Stowed at", "Item", "Quantity"])
        for row in range(3, 7):
            page.write_row(row, 2, ["lifejacket", 1])
        page.merge_range("B4:B5", "Bridge")
        page.write("B6", "Poop")
    assert [row.get("place") for row in read_book(path).rows("inventory")] == ["Bridge", "Bridge", "Poop", None]


def test_a_function_saved_with_a_dot_is_found_where_it_stands(tmp_path: Path) -> None:
    import xlsxwriter

    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        for name, grid in clean().grids().items():
            page = book.add_worksheet(name)
            for row, cells in enumerate(grid[:3]):
                page.write_row(row, 0, [str(cell) for cell in cells])
            page.write_formula(9, 30, '=LSA.WATER_L(25,"lifeboat")', None, 75)
            page.write_formula(9, 31, '=LSA_WATER_L(25,"lifeboat")', None, 75)
            page.write_string(9, 32, "LSA.WATER_L(25)")
            break
    with zipfile.ZipFile(path):
        assert load(path).dotted == {"Ship": [(9, 30)]}


def test_sheets_to_skip_are_not_read_and_are_named(book: Path) -> None:
    raw = load(book, skip=["Crew", "Nowhere"])
    assert "Crew" not in raw.sheets
    assert raw.skipped == ("Crew",)
    assert load(book).skipped == ()


def test_a_skipped_sheet_is_not_looked_into(book: Path) -> None:
    far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    changed = _rewritten(book, "xl/worksheets/sheet3.xml", "</sheetData>", far)
    assert "Crew" not in load(changed, skip=["Crew"]).sheets
    _says(changed, "reaches to row 1,048,576")


def test_what_the_living_workbook_calculates_is_skipped(tmp_path: Path) -> None:
    from workbook_tools.book import build
    from workbook_tools.columns import CALCULATED_SHEETS

    path = tmp_path / "book.xlsx"
    path.write_bytes(build("Orrin Vale"))
    raw = load(path)
    assert set(raw.skipped) <= set(CALCULATED_SHEETS)
    assert raw.skipped
    assert set(raw.sheets).isdisjoint(CALCULATED_SHEETS)


def test_a_sheet_called_status_in_another_book_is_read(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as workbook:
        workbook.add_worksheet("Status").write_row(0, 0, ["Stowed at", "Item", "Quantity"])
    assert list(load(path).sheets) == ["Status"]


@pytest.mark.parametrize("ending", [".xls", ".ods", ".xlsb", ".dat"])
def test_a_book_is_read_by_what_is_inside_whatever_its_ending(book: Path, ending: str) -> None:
    renamed = book.rename(book.with_suffix(ending))
    assert len(read_book(renamed).rows("craft")) == 4


def test_a_line_of_error_values_alone_is_read(book: Path) -> None:
    cell = '<row r="900"><c r="B900" t="e"><v>#N/A</v></c></row></sheetData>'
    found = read_book(_rewritten(book, "xl/worksheets/sheet4.xml", "</sheetData>", cell)).findings
    assert [(finding.code, finding.cell) for finding in found if finding.code == "WB01"] == [("WB01", "B900")]


def test_many_columns_of_the_ships_own_are_counted_and_not_named_one_by_one(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as workbook:
        workbook.add_worksheet("Craft").write_row(0, 0, ["Craft", "Type"])
        own = [f"Own column {number}" for number in range(150)]
        workbook.add_worksheet("Inventory").write_row(0, 0, ["Stowed at", "Item", "Quantity", *own])
    found = [finding for finding in read_book(path).findings if finding.code == "WB13"]
    assert len(found) == 101
    assert found[-1].message.startswith("50 more columns")
