"""Writes the marks of the input sheets into a book, as conditional formats.

Other sheets are referred to by defined names, which every program accepts in a conditional format.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.formats import ATTENTION, GOOD, INK, NOTICE, QUIET
from workbook_tools.book.inputs import last_row
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.book.marks import Mark, marks, number_format
from workbook_tools.columns import Sheet, sheet
from workbook_tools.reading.address import column_letters

# Colours tell less than the words: orange to act on, blue to look at, grey for what is out of the count.
_STYLES: dict[str, dict[str, Any]] = {
    "■": {"bg_color": ATTENTION, "font_color": INK, "bold": True},
    "▲": {"bg_color": NOTICE, "font_color": INK},
    "?": {"bg_color": GOOD, "font_color": INK, "italic": True},
    "×": {"bg_color": QUIET, "font_color": "#595959", "font_strikeout": True},
    "√": {"bg_color": QUIET, "font_color": "#595959"},
    "_": {},
    # an empty cell has no room for a word: a frame and stripes, and the word in the line's first cell
    "□": {"bg_color": NOTICE, "fg_color": "#C55A11", "pattern": 14, "border": 1, "border_color": "#C55A11"},
}
_RULED = {"bottom": 1, "bottom_color": "#8EA9C8"}
_MARK = re.compile(r"\[([^\]@]+)(@?)\]|\{(\w+)(:?)\}")


@dataclass
class Looks:
    """Writes the marks into a book whose calculated sheets are written already."""

    calc: CalculatedBook

    def test(self, mark: Mark, row: int) -> str:
        """A mark's test as the formula of one line, rows counted from 0."""
        contract = sheet(mark.sheet)
        places = {column.key: column_letters(index) for index, column in enumerate(contract.columns)}
        form = contract.layout == "form"

        def replace(match: re.Match[str]) -> str:
            place, here, key, whole = match.groups()
            if place:
                return f"INDEX({self.calc.short(place)},ROW()-{FIRST_ROW})" if here else self.calc.short(place)
            if key == "line":
                return self._line(contract, row)
            if whole:
                return self._column(contract, places[key])
            if form:
                return f"$B${FIRST_ROW + list(places).index(key) + 1}"
            return f"${places[key]}{row + 1}"

        return _MARK.sub(replace, mark.test)

    def _line(self, contract: Sheet, row: int) -> str:
        if contract.layout == "form":
            return f"$B${FIRST_ROW + 1}:$B${FIRST_ROW + len(contract.columns)}"
        return f"$A{row + 1}:${column_letters(len(contract.columns) - 1)}{row + 1}"

    def _column(self, contract: Sheet, letters: str) -> str:
        return f"${letters}${FIRST_ROW + 1}:${letters}${last_row(self.calc.room, contract.key) + 1}"

    def write(self) -> None:
        """Write every mark."""
        made: dict[tuple[str, str], Any] = {}
        for mark in marks():
            kind = (mark.symbol, number_format(mark))
            if kind not in made:
                style = {**_RULED, **_STYLES[mark.symbol]}
                made[kind] = self.calc.book.add_format({**style, "num_format": kind[1]} if kind[1] else style)
            contract = sheet(mark.sheet)
            index = [column.key for column in contract.columns].index(mark.column)
            rule = {"type": "formula", "criteria": "=" + self.test(mark, FIRST_ROW), "format": made[kind]}
            page = self.calc.sheet(contract.name)
            if contract.layout == "form":
                page.conditional_format(FIRST_ROW + index, 1, FIRST_ROW + index, 1, rule)
            else:
                page.conditional_format(FIRST_ROW, index, last_row(self.calc.room, contract.key), index, rule)


def write_looks(calc: CalculatedBook) -> None:
    """Write the marks of the input sheets; the calculated sheets they look into must be known by name."""
    Looks(calc).write()
