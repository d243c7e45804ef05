"""A workbook with the printed pages, opened in a spreadsheet engine: type in its cells, read what its formulas show.

The book is written with a wrong value beside every formula, so that nothing can be right without recalculation.
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import ironcalc
import xlsxwriter

from tests.workbooks import ON, Line, clean
from workbook_tools.book.calculated import sheets
from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.status import DATE_ASKED
from workbook_tools.book.calculated.writer import CalculatedBook, Place
from workbook_tools.book.formats import Formats
from workbook_tools.book.inputs import InputSheets
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.book.printed import PRINTED, write_pages
from workbook_tools.book.sheet_class import PlainSheet
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.columns.calculated import CALCULATED_SHEETS, PAGES

Rows = dict[str, list[Line]]
WRONG = 424_242.0
_LAST_ENTRY = date(2026, 12, 31)  # the clean book keeps its routine for a year ahead
SMALL = {
    "craft": 6,
    "crew": 30,
    "inventory": 60,
    "servicing": 60,
    "routine": 60,
    "defects": 20,
    "follow_up": 20,
    "certificates": 15,
    "exemptions": 10,
}


def clean_rows() -> Rows:
    """The rows of a ship that is in order in every respect."""
    book = clean()
    rows = {"ship": [dict(book.ship)], **{key: [dict(line) for line in lines] for key, lines in book.rows.items()}}
    rows["routine"] = [line for line in rows["routine"] if line["day"] <= _LAST_ENTRY]
    return rows


def written(rows: Rows, room: Mapping[str, int] = SMALL) -> tuple[bytes, list[Place]]:
    """The book as bytes, and where the formulas of the printed pages stand."""
    memory = io.BytesIO()
    with xlsxwriter.Workbook(memory, {"in_memory": True, "strings_to_formulas": False}) as book:
        book.worksheet_class = PlainSheet
        formats = Formats(book)
        inputs = InputSheets(book, formats, "Orrin Vale", None, dict(room))
        calc = CalculatedBook(book, formats, "Orrin Vale", inputs.room, _Wrong())
        named = [entry.name for entry in SHEETS]
        for name in (*named, "Lists", *CALCULATED_SHEETS):
            if book.get_worksheet_by_name(name) is None:
                book.add_worksheet(name)
        inputs.lists_sheet(book.get_worksheet_by_name("Lists"))
        for entry in SHEETS:
            page = book.get_worksheet_by_name(entry.name)
            if entry.layout == "form":
                inputs.form(page, entry, next(iter(rows.get(entry.key, ())), {}))
            else:
                inputs.table(page, entry, rows.get(entry.key, ()))
        sheets.write_calculated(calc)
        if not any(place[0] == PAGES for place in calc.formulas):
            write_pages(calc)
    return memory.getvalue(), [place for place in calc.formulas if place[0] in (*PRINTED, PAGES)]


class _Wrong(dict[Place, Any]):
    """A wrong value for every formula."""

    def get(self, _key: Place, _default: Any = None) -> Any:
        return WRONG


class Played:
    """The book in ironcalc. Rows and columns are counted from 0, as where they are written."""

    def __init__(self, book: bytes, folder: Path, on: date = ON) -> None:
        file = folder / "book.xlsx"
        file.write_bytes(book)
        self.model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
        self._number = {entry["name"]: index for index, entry in enumerate(self.model.get_worksheets_properties())}
        self.type(DATE_ASKED[0], *DATE_ASKED[1:], serial(on))
        self.model.evaluate()

    def type(self, page: str, row: int, column: int, value: Any) -> None:
        """Type into a cell; None empties it. `calculate` afterwards."""
        number = self._number[page]
        if value is None:
            self.model.clear_cell_contents(number, row + 1, column + 1)
        elif isinstance(value, str):
            self.model.set_user_input(number, row + 1, column + 1, "'" + value if value[:1] in "=+-@" else value)
        else:
            self.model.update_cell_with_number(number, row + 1, column + 1, value)

    def fill(self, key: str, line: int, values: Line) -> None:
        """Type a line of an input sheet, counted from 0."""
        contract = sheet(key)
        for column, value in values.items():
            index = [entry.key for entry in contract.columns].index(column)
            self.type(contract.name, FIRST_ROW + line, index, serial(value) if isinstance(value, date) else value)

    def insert_rows(self, page: str, row: int, count: int) -> None:
        """Insert empty rows before a row."""
        self.model.insert_rows(self._number[page], row + 1, count)

    def calculate(self) -> None:
        """Work out every formula again."""
        self.model.evaluate()

    def cell(self, page: str, row: int, column: int) -> Any:
        """What a cell shows."""
        value = self.model.get_cell_value(self._number[page], row + 1, column + 1)
        return "" if value is None else value

    def block(self, page: str, rows: range, columns: range) -> list[list[Any]]:
        """What the cells of a block show."""
        return [[self.cell(page, row, column) for column in columns] for row in rows]


def lines_between(block: Sequence[Sequence[Any]], heading: str) -> list[list[Any]]:
    """The lines under a heading of a page's list, whose first column is the mark."""
    found: list[list[Any]] = []
    under = False
    for line in block:
        if line[0] == "»":
            under = line[1] == heading
        elif under and any(cell != "" for cell in line[1:]):
            found.append(list(line))
    return found
