"""A small book with probes: beside each line of an input sheet, far to the right, what its marks and validations say.

The probes are the very formulas of the conditional formats and validations, so that a spreadsheet engine shows what
they do. Each is written with a wrong value: nothing is right without recalculation.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import ironcalc
import python_calamine

from workbook_tools.book import build
from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.status import DATE_ASKED, OTHER_DAY
from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.formats import Formats
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.book.looks import Looks
from workbook_tools.book.marks import Mark, marks
from workbook_tools.book.validations import validation
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.reading.address import column_letters

ON = date(2026, 11, 25)
ROOM = {entry.key: 24 for entry in SHEETS}
WRONG = 424_242
FIRST_PROBE = 60  # column of the first probe on a sheet

Line = dict[str, Any]
Rows = Mapping[str, Sequence[Line]]


@dataclass(frozen=True)
class Probe:
    """A formula beside a line: of a mark, or of the validation of a column."""

    sheet: str
    line: int
    column: str
    mark: Mark | None
    place: int  # column of the probe

    @property
    def row(self) -> int:
        """The row, counted from 0."""
        return FIRST_ROW + self.line


def probed(rows: Rows, lines: int, name: str = "Orrin Vale") -> tuple[bytes, list[Probe]]:
    """A book with these rows, and the probes beside the first lines of its tables; on the Ship form beside line 0."""
    probes: list[Probe] = []

    def write_probes(book: Any, formats: Formats, ship: str) -> None:
        probes.clear()
        ask_on(book, formats, ship)
        looks = Looks(CalculatedBook(book, formats, ship, ROOM))  # every name is defined in the book by now
        for probe, formula in [*_of_marks(looks, lines), *_of_validations(lines)]:
            page = book.get_worksheet_by_name(sheet(probe.sheet).name)
            page.write_formula(probe.row, probe.place, f"={formula}", None, WRONG)
            probes.append(probe)

    return build(name, on=ON, rows=rows, room=ROOM, more_sheets=write_probes), probes


def ask_on(book: Any, _formats: Formats, _ship: str, on: date = ON) -> None:
    """Type the day asked; a hook for `build`."""
    title, *place = OTHER_DAY
    book.get_worksheet_by_name(title).write_number(*place, serial(on))


def filled(rows: Rows, name: str = "Orrin Vale") -> bytes:
    """A book with these rows, in which the day asked is typed."""
    return build(name, on=ON, rows=rows, room=ROOM, more_sheets=ask_on)


def _of_marks(looks: Looks, lines: int) -> Iterator[tuple[Probe, str]]:
    for number, mark in enumerate(marks()):
        for line in range(lines if sheet(mark.sheet).layout == "table" else 1):
            place = FIRST_PROBE + number
            yield Probe(mark.sheet, line, mark.column, mark, place), looks.test(mark, FIRST_ROW + line)


def _of_validations(lines: int) -> Iterator[tuple[Probe, str]]:
    place = FIRST_PROBE + len(marks())
    for contract in SHEETS:
        for index, column in enumerate(contract.columns):
            form = contract.layout == "form"
            letters = "B" if form else column_letters(index)
            area = f"${letters}${FIRST_ROW + 1}:${letters}${FIRST_ROW + ROOM[contract.key]}"
            for line in range(1 if form else lines):
                row = FIRST_ROW + (index if form else line) + 1
                rule = validation(contract, column, defaultdict(str), f"{letters}{row}", area)
                if rule["validate"] == "custom":
                    yield Probe(contract.key, line, column.key, None, place), rule["value"].lstrip("=")
            place += 1


class Opened:
    """A book in ironcalc. Rows and columns are counted from 0."""

    def __init__(self, book: bytes, folder: Path, on: date = ON) -> None:
        file = folder / "opened.xlsx"
        file.write_bytes(book)
        self.model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
        self._number = {entry["name"]: index for index, entry in enumerate(self.model.get_worksheets_properties())}
        self.type(*DATE_ASKED, on)
        self.model.evaluate()

    def type(self, title: str, row: int, column: int, value: Any) -> None:
        """Type into a cell; `work_out` afterwards."""
        place = (self._number[title], row + 1, column + 1)
        if isinstance(value, str):
            self.model.set_user_input(*place, f"'{value}")
        else:
            self.model.update_cell_with_number(*place, serial(value) if isinstance(value, date) else value)

    def work_out(self) -> None:
        """Work out every formula again."""
        self.model.evaluate()

    def cell(self, title: str, row: int, column: int) -> Any:
        """What a cell shows; '' for nothing."""
        value = self.model.get_cell_value(self._number[title], row + 1, column + 1)
        return "" if value is None else value

    def shows(self, probe: Probe) -> Any:
        """What a probe shows."""
        return self.cell(sheet(probe.sheet).name, probe.row, probe.place)


def by_ironcalc(book: bytes, folder: Path, probes: Sequence[Probe], on: date = ON) -> dict[Probe, Any]:
    """What each probe shows on a day, worked out by ironcalc."""
    opened = Opened(book, folder, on)
    return {probe: opened.shows(probe) for probe in probes}


def in_file(path: Path, probes: Sequence[Probe]) -> dict[Probe, Any]:
    """What each probe of a saved book holds."""
    with python_calamine.CalamineWorkbook.from_path(str(path)) as book:
        grids = {}
        for key in {p.sheet for p in probes}:
            grids[key] = book.get_sheet_by_name(sheet(key).name).to_python(skip_empty_area=False)
    return {p: grids[p.sheet][p.row][p.place] for p in probes}
