"""A workbook in a spreadsheet engine: cells are typed in, and the calculated sheets are read out."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import ironcalc

from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.status import OTHER_DAY
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.reading import Book, RawBook, read_raw
from workbook_tools.reading.address import column_letters

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

    def __init__(self, file: Path) -> None:
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
            self.model.update_cell_with_text(index, row + 1, column + 1, str(value))
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


_RESULT = re.compile(rb"(<f[ >/](?:[^<]*</f>|[^<>]*/>))<v>[^<]*</v>")
WRONG = 77_777


def corrupted(book: bytes) -> bytes:
    """The same book with a wrong value stored for every formula: only a recalculation can show the right ones."""
    memory = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as source, zipfile.ZipFile(memory, "w", zipfile.ZIP_DEFLATED) as target:
        for part in source.infolist():
            data = source.read(part)
            if part.filename.startswith("xl/worksheets/sheet"):
                data = _RESULT.sub(rb"\g<1><v>%d</v>" % WRONG, data)
            target.writestr(part, data)
    return memory.getvalue()


_AT_A_TIME = 40  # rows


class CalcDesk:
    """The same in LibreOffice Calc itself, on a running office."""

    def __init__(self, office: Any, file: Path, room: Mapping[str, int]) -> None:
        self.office, self.room = office, room
        self.number = office.ask("open", str(file), False)
        self.loaded = self._column("Required", 0, 1)[0]
        office.ask("recalculate", self.number, 1)
        self._read: dict[tuple[str, int], list[list[Any]]] = {}

    def _column(self, name: str, column: int, rows: int) -> list[Any]:
        letters = column_letters(column)
        place = f"{letters}{FIRST_ROW + 1}:{letters}{FIRST_ROW + rows}"
        return [row[0] for row in self.office.ask("read", self.number, name, place)]

    def fill(self, rows: Rows, on: date) -> None:
        """Type these lines over those before, and ask for a day; Calc recalculates what depends on them."""
        for key in ("ship", *(entry.key for entry in SHEETS if entry.key in self.room)):
            contract, lines = sheet(key), list(rows.get(key, ()))
            if contract.layout == "form":
                block = [[_cell((lines or [{}])[0].get(column.key))] for column in contract.columns]
                self.office.ask("put", self.number, contract.name, f"B{FIRST_ROW + 1}", block)
                continue
            lines += [{}] * (self.room[key] - len(lines))
            block = [[_cell(line.get(column.key)) for column in contract.columns] for line in lines]
            self.office.ask("put", self.number, contract.name, f"A{FIRST_ROW + 1}", block)
        name, row, column = OTHER_DAY
        self.office.ask("put", self.number, name, f"{column_letters(column)}{row + 1}", [[_cell(on)]])
        self._read.clear()

    def forget(self) -> None:
        """Read every sheet anew."""
        self._read.clear()

    def value(self, name: str, row: int, column: int) -> Any:
        """What a cell shows; rows and columns counted from 0. Read by some rows, and kept until the next filling."""
        part = row // _AT_A_TIME
        if (name, part) not in self._read:
            place = f"A{part * _AT_A_TIME + 1}:P{(part + 1) * _AT_A_TIME}"
            self._read[name, part] = self.office.ask("read", self.number, name, place)
        return self._read[name, part][row % _AT_A_TIME][column]


def _cell(value: Any) -> Any:
    if value is None:
        return ""
    if isinstance(value, date):
        return float(serial(value))
    return value if isinstance(value, int | float) else str(value)
