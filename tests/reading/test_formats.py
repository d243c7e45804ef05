"""The older and the open formats, as LibreOffice writes them, are read like .xlsx: same cells, same findings."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from example_books.build import save_with_libreoffice
from tests.workbooks import ON, clean
from workbook_tools.checks import Options, audit_book
from workbook_tools.reading import UnreadableBook, read_book

pytestmark = pytest.mark.office


@pytest.fixture(scope="module")
def original(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    book.lot("hand flare")["expires"] = date(2026, 8, 31)
    book.find("craft", name="Raft P")["mass_kg"] = 400
    return book.save(tmp_path_factory.mktemp("formats") / "book.xlsx")


def _found(path: Path) -> set[tuple[str, str, str, str]]:
    findings = audit_book(read_book(path), Options(ON)).findings
    return {(finding.code, finding.sheet, finding.cell, finding.id) for finding in findings}


@pytest.mark.parametrize("ending", ["xls", "ods", "xlsm"])
def test_a_format_is_read_like_xlsx(original: Path, tmp_path: Path, ending: str) -> None:
    (saved,) = save_with_libreoffice([original], ending, tmp_path)
    assert len(_found(original)) == 3
    assert _found(saved) == _found(original)


def test_a_cell_at_the_far_end_of_an_ods_sheet_is_refused(tmp_path: Path) -> None:
    book = clean()
    book.title_rows = 0
    path = book.save(tmp_path / "book.xlsx")
    import openpyxl

    changed = openpyxl.load_workbook(path)
    changed["Crew"]["XFD1048576"] = 1
    changed.save(path)
    (saved,) = save_with_libreoffice([path], "ods", tmp_path / "saved")
    with pytest.raises(UnreadableBook, match=r"sheet 'Crew' reaches to row 1,048,576"):
        read_book(saved)
