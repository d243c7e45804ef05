"""Writes formulas, each with the value it has on the day the book was made, onto protected sheets.

A book is written twice: once without values, for an engine to calculate, and once with what it found.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from workbook_tools.book.formats import Formats, row_height
from workbook_tools.book.layout import FIRST_ROW, HELP_ROW, TITLE_ROW
from workbook_tools.reading.address import column_letters

Place = tuple[str, int, int]  # sheet, row and column counted from 0
Value = str | float | bool

# What may be done on a protected sheet: look, filter, sort what may be sorted, and set widths.
_ALLOWED = {
    "select_locked_cells": True,
    "select_unlocked_cells": True,
    "format_columns": True,
    "format_rows": True,
    "autofilter": True,
    "objects": False,
}


def quoted(sheet: str) -> str:
    """A sheet's name as formulas write it."""
    return f"'{sheet}'" if not sheet.isalnum() else sheet


def block(sheet: str, column: int, first: int, last: int) -> str:
    """A range of one column, absolute; rows and columns counted from 0."""
    letters = column_letters(column)
    return f"{quoted(sheet)}!${letters}${first + 1}:${letters}${last + 1}"


def across(sheet: str, first: int, columns: int, rows: int) -> str:
    """A range of several columns over all lines of a table."""
    begin = block(sheet, first, FIRST_ROW, FIRST_ROW + rows - 1).split(":")[0]
    end = block(sheet, first + columns - 1, FIRST_ROW, FIRST_ROW + rows - 1).split(":")[1]
    return f"{begin}:{end}"


def cell(sheet: str, row: int, column: int) -> str:
    """One cell, absolute."""
    return f"{quoted(sheet)}!${column_letters(column)}${row + 1}"


def text(value: str) -> str:
    """A text as formulas write it."""
    doubled = value.replace('"', '""')
    return f'"{doubled}"'


# Rows below this one have no formulas: where lines are sorted, a day and the row of its line make one number.
MOST_ROWS = 10_000
# Lines of a calculated table that are printed at least, and beyond those that are filled.
_LEAST_PRINTED, _SPARE_PRINTED = 100, 60


@dataclass
class CalculatedBook:
    """The workbook being written, and what its formulas refer to.

    values: what each formula shows on the day the book is made; empty in the first of the two passes.
    names: where things stand that other sheets look up: "date asked" -> Status!$C$4.
    """

    book: Any
    formats: Formats
    ship: str
    room: Mapping[str, int]
    values: Mapping[Place, Value] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    formulas: list[Place] = field(default_factory=list)
    _defined: set[str] = field(default_factory=set)
    _shared: dict[str, int] = field(default_factory=dict)

    def sheet(self, name: str) -> Any:
        """The sheet of this name, which stands in the book already."""
        return self.book.get_worksheet_by_name(name)

    def short(self, name: str) -> str:
        """The defined name of a place, defined on its first use: formulas that hold it stay short and can be read."""
        defined = name.replace(".", "_").replace(" ", "_")
        if defined not in self._defined:
            if not any(entry[0] == defined for entry in self.book.defined_names):
                self.book.define_name(defined, f"={self.names[name]}")
            self._defined.add(defined)
        return defined

    def formula(self, page: Any, row: int, column: int, formula: str, cell_format: Any = None) -> None:
        """Write a formula with its value."""
        place = (page.get_name(), row, column)
        self.formulas.append(place)
        page.write_formula(row, column, "=" + formula, cell_format, self.values.get(place, ""))

    def column(self, page: Any, first: int, last: int, column: int, formula: str, cell_format: Any = None) -> None:
        """Write one formula down a column, as the first row has it; it is stored once and shared by the rows below."""
        title = page.get_name()
        if "!" in formula:
            raise ValueError(f"{title}: a shared formula refers to other sheets by names only: {formula}")
        if last >= MOST_ROWS:
            raise ValueError(f"{title}: the room asked for needs {last + 1} rows; formulas have {MOST_ROWS} at most")
        number = self._shared[title] = self._shared.get(title, -1) + 1
        places = [(title, row, column) for row in range(first, last + 1)]
        self.formulas.extend(places)
        values = [self.values.get(place, "") for place in places]
        page.write_shared_formula(first, column, formula, cell_format, number, values)

    def head(
        self,
        page: Any,
        title: str,
        words: str,
        columns: int,
        characters: int,
        rows: int,
        grows: bool = True,
        help_columns: int = 0,
    ) -> None:
        """Title and help above a table of so many columns and rows, and what of it is printed.

        Lines whose formulas show nothing would print as empty pages: the print range of a table that grows ends some
        lines after those that are filled when the book is made, and the title says so when more are filled later.
        characters: of the help text on one line. help_columns: that it stands over; 0: over all.
        """
        printed = rows
        page.write(TITLE_ROW, 0, title, self.formats.title)
        if grows:
            printed = min(rows, max(_LEAST_PRINTED, self._filled(title, rows) + _SPARE_PRINTED))
            below = block(title, 0, FIRST_ROW + printed, FIRST_ROW + max(rows - 1, printed))
            beyond = f'SUMPRODUCT(({below}<>"")*1)'
            told = (
                f'IF({beyond}=0,"","■ The print range ends after {printed} lines: "&{beyond}&" more stand below it.")'
            )
            # nothing stands below it on the day the book is made
            page.write_formula(TITLE_ROW, 2, "=" + told, self.formats.bold, "")
        page.merge_range(HELP_ROW, 0, HELP_ROW, (help_columns or columns) - 1, words, self.formats.help_wrapped)
        page.set_row(HELP_ROW, row_height(words, characters))
        page.print_area(0, 0, FIRST_ROW + printed - 1, columns - 1)

    def _filled(self, name: str, rows: int) -> int:
        """How many lines of a calculated table show something on the day the book is made."""
        return sum(self.values.get((name, row, 0), "") != "" for row in range(FIRST_ROW, FIRST_ROW + rows))

    def colour(self, page: Any, column: int, rows: int, first: int = FIRST_ROW) -> None:
        """Colour what a column says, by the sign that it begins with: orange to act on, blue to look at."""
        for sign, cell_format in (("■", self.formats.attention), ("▲", self.formats.notice)):
            rule = {"type": "text", "criteria": "begins with", "value": sign, "format": cell_format}
            page.conditional_format(first, column, first + rows - 1, column, rule)

    def protect(self, page: Any) -> None:
        """Protect a sheet against typing over it, without a password."""
        page.protect("", _ALLOWED)
