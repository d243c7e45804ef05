"""A workbook in a spreadsheet engine: cells are typed in, and the calculated sheets are read out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import ironcalc

from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.status import OTHER_DAY
from workbook_tools.book.inputs import FIRST_ROW
from workbook_tools.columns import sheet
from workbook_tools.reading import Book, RawBook, read_raw

Line = Mapping[str, Any]
Rows = Mapping[str, Sequence[Line]]


def grids(rows: Rows) -> dict[str, list[list[Any]]]:
    """The cells of a book that has these lines, as a reader hands them over."""
    found: dict[str, list[list[Any]]] = {}
    for key, lines in rows.items():
        contract = sheet(key)
        if contract.layout == "form":
            found[contract.name] = [[column.title, lines[0].get(column.key, "")] for column in contract.columns]
        else:
            heading = [column.title for column in contract.columns]
            found[contract.name] = [
                heading,
                *([line.get(column.key, "") for column in contract.columns] for line in lines),
            ]
    return found


def book_of(rows: Rows) -> Book:
    """The lines as davitbook reads them from a file."""
    return read_raw(RawBook("desk.xlsx", grids({"craft": [], "inventory": [], **rows})))


class Desk:
    """One workbook in the engine. The same desk takes one set of lines after another."""

    def __init__(self, file: Path, corrupt: bool = True) -> None:
        self.model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
        self.sheets = {entry["name"]: index for index, entry in enumerate(self.model.get_worksheets_properties())}
        self._filled: list[tuple[int, int, int]] = []

    def put(self, name: str, row: int, column: int, value: Any) -> None:
        """Type a value into a cell; rows and columns counted from 0."""
        index = self.sheets[name]
        if value is None or value == "":
            return
        if isinstance(value, date):
            self.model.update_cell_with_number(index, row + 1, column + 1, float(serial(value)))
        elif isinstance(value, int | float):
            self.model.update_cell_with_number(index, row + 1, column + 1, float(value))
        else:
            self.model.update_cell_with_text(index, row + 1, column + 1, value)
        self._filled.append((index, row + 1, column + 1))

    def fill(self, rows: Rows, on: date) -> None:
        """Clear what was typed before, type these lines, ask for a day, and recalculate."""
        for place in self._filled:
            self.model.clear_cell_contents(*place)
        self._filled.clear()
        for key, lines in rows.items():
            contract = sheet(key)
            for number, line in enumerate(lines):
                for index, column in enumerate(contract.columns):
                    if contract.layout == "form":
                        self.put(contract.name, FIRST_ROW + index, 1, line.get(column.key))
                    else:
                        self.put(contract.name, FIRST_ROW + number, index, line.get(column.key))
        self.put(*OTHER_DAY, on)
        self.model.evaluate()

    def value(self, name: str, row: int, column: int) -> Any:
        """What a cell shows; rows and columns counted from 0."""
        return self.model.get_cell_value(self.sheets[name], row + 1, column + 1)
