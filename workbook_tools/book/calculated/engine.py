"""Works out what the formulas of a book show on a day, so that each is stored with its value.

A viewer that never recalculates then shows what was true on that day.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from datetime import date
from pathlib import Path

from workbook_tools.book.calculated.writer import Place, Value

_FIRST_DAY = date(1899, 12, 30)  # day 0 of a spreadsheet, as far as days from March 1900 on are concerned


class CannotCalculate(Exception):
    """A formula of ours shows an error value: a fault of the program, with the cell."""


def serial(day: date) -> int:
    """A day as spreadsheets store it: whole days from 30 December 1899."""
    return (day - _FIRST_DAY).days


def results(book: bytes, formulas: Iterable[Place], asked: Place, on: date) -> dict[Place, Value]:
    """What each formula shows when the cell `asked` holds a day. Raises CannotCalculate for an error value."""
    import ironcalc

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "book.xlsx"
        file.write_bytes(book)
        model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
    numbers = {entry["name"]: index for index, entry in enumerate(model.get_worksheets_properties())}
    model.update_cell_with_number(numbers[asked[0]], asked[1] + 1, asked[2] + 1, serial(on))
    model.evaluate()
    found: dict[Place, Value] = {asked: serial(on)}
    for place in formulas:
        sheet, row, column = place
        if place == asked:
            continue
        value = model.get_cell_value(numbers[sheet], row + 1, column + 1)
        if isinstance(value, str) and value.startswith("#"):
            raise CannotCalculate(f"{sheet}, row {row + 1}, column {column + 1}: {value}")
        found[place] = "" if value is None else value
    return found
