"""A book counted from 1904 shows the same days where its cells are formatted as dates."""

from datetime import date
from pathlib import Path

import xlsxwriter

from workbook_tools.reading import read_book


def _book(path: Path, date_1904: bool) -> Path:
    with xlsxwriter.Workbook(path, {"default_date_format": "yyyy-mm-dd", "date_1904": date_1904}) as book:
        craft = book.add_worksheet("Craft")
        craft.write_row(0, 0, ["Craft", "Type"])
        page = book.add_worksheet("Inventory")
        page.write_row(0, 0, ["Stowed at", "Item", "Qty", "Expiry"])
        page.write_row(1, 0, ["Lifeboat 1", "hand flare", 6])
        page.write_datetime(1, 3, date(2027, 3, 31))
    return path


def test_a_formatted_date_is_the_same_day_in_both_systems(tmp_path: Path) -> None:
    for system in (False, True):
        row = read_book(_book(tmp_path / f"{system}.xlsx", system)).rows("inventory")[0]
        assert row.get("expires") == date(2027, 3, 31)
