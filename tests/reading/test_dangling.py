"""A folder's link to a book that is gone is tried like any other book, so that it is named."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from tests.workbooks import clean
from workbook_tools.checks import Options
from workbook_tools.fleet.run import check_paths, find_books


def test_a_link_that_leads_nowhere_is_reported_as_not_opened(tmp_path: Path) -> None:
    clean().save(tmp_path / "a.xlsx")
    (tmp_path / "b.xlsx").symlink_to(tmp_path / "gone.xlsx")
    (tmp_path / "c.xlsx").symlink_to(tmp_path / "c.xlsx")  # to itself
    (tmp_path / "d.xlsx").symlink_to(tmp_path / "a.xlsx")  # a book that is there already
    (tmp_path / "e.txt").symlink_to(tmp_path / "gone.txt")
    results = list(check_paths(find_books([str(tmp_path)]), Options(date(2026, 11, 25))))
    assert [(Path(result.book).name, result.readable) for result in results] == [
        ("a.xlsx", True),
        ("b.xlsx", False),
        ("c.xlsx", False),
    ]
    assert "cannot be opened" in results[1].reason
