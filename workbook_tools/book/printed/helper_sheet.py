"""The hidden sheet of helper columns behind the printed pages: blocks side by side, each known to formulas by name.

Every block begins in the same row as the input sheets' first line, so that a block of an input sheet reads its own row
there. In a formula `[#]` is the number of the line within the block, from 1; the other marks are those of
`calculated.grid`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import groupby

from workbook_tools.book.calculated.grid import input_column, place_names, resolve
from workbook_tools.book.calculated.writer import CalculatedBook, Value, block, cell
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW, TITLE_ROW
from workbook_tools.columns import SHEETS
from workbook_tools.columns.calculated import PAGES

_OWN_ROW, _ROW_ABOVE = "\0", "\1"  # what place_names leaves for the formula's own row and the row above
NUMBER_OF_LINE = f"(ROW()-{FIRST_ROW})"
# What our names begin with in the book, so that they meet no name of another sheet.
_OURS = "page."
_NAME = re.compile(r"\[([\w.]+)\]")


def own_names(calc: CalculatedBook, formula: str) -> str:
    """A formula in which the names of the helper sheet are told apart from those of other sheets."""

    def replace(match: re.Match[str]) -> str:
        return f"[{_OURS}{match[1]}]" if _OURS + match[1] in calc.names else match[0]

    return _NAME.sub(replace, formula)


class HelperSheet:
    """Writes blocks of formulas and of fixed words beside one another."""

    def __init__(self, calc: CalculatedBook) -> None:
        self.calc = calc
        self.page = calc.sheet(PAGES)
        self.page.write(TITLE_ROW, 0, "What the printed pages look up: nothing to fill in here", calc.formats.title)
        self._column = 0
        for contract in SHEETS:
            if contract.layout == "table":
                for column in contract.columns:
                    calc.names.setdefault(f"in.{contract.key}.{column.key}", input_column(contract.key, column.key))

    def block(self, name: str, columns: Mapping[str, str], rows: int) -> None:
        """Write columns of one formula each, known as name.key."""
        places = self._places(name, list(columns), rows)
        last = FIRST_ROW + rows - 1
        for key, formula in columns.items():
            first = self._named(FIRST_ROW, formula, places, rows)
            self.calc.column(self.page, FIRST_ROW, last, places[key], first)

    def table(self, name: str, columns: Sequence[str], lines: Sequence[Sequence[Value]]) -> None:
        """Write fixed words and figures, known as name.key."""
        places = self._places(name, columns, max(1, len(lines)))
        for number, line in enumerate(lines):
            for key, value in zip(columns, line, strict=True):
                self.page.write(FIRST_ROW + number, places[key], value)

    def lines(self, name: str, columns: Sequence[str], lines: Sequence[Sequence[str]]) -> None:
        """Write a block of lines of several kinds, known as name.key; lines of one kind have one formula."""
        places = self._places(name, columns, len(lines))
        for index, key in enumerate(columns):
            row = FIRST_ROW
            for formula, same in groupby(line[index] for line in lines):
                last = row + len(list(same)) - 1
                self.calc.column(self.page, row, last, places[key], self._named(row, formula, places, len(lines)))
                row = last + 1

    def facts(self, name: str, formulas: Mapping[str, str]) -> None:
        """Write single cells, each known as name.key and able to name those before it."""
        self.page.write(HEADING_ROW, self._column, name)
        self.page.set_column(self._column, self._column + 1, 14)
        for number, (key, formula) in enumerate(formulas.items()):
            row = FIRST_ROW + number
            self.page.write(row, self._column, key)
            self.calc.formula(self.page, row, self._column + 1, resolve(self.calc, own_names(self.calc, formula)))
            self.name(f"{name}.{key}", cell(PAGES, row, self._column + 1))
        self._column += 2

    def pick(self, name: str, key: str, most: int) -> None:
        """The lines of a column of numbers that hold one, in rising order: their places, known as name.place.

        key: the name of the column. Where it has fewer, the place is ''.
        """
        self.block(
            name,
            {
                "value": f'IF([#]>COUNT([{key}]),"",SMALL([{key}],[#]))',
                "place": f'IF([value]="","",MATCH([value],[{key}],0))',
            },
            most,
        )

    def name(self, key: str, place: str) -> None:
        """Make a place known to the formulas of the pages by a name."""
        self.calc.names[_OURS + key] = place

    def rows(self, key: str) -> int:
        """How many rows the column of this name has."""
        place = self.calc.names.get(_OURS + key) or self.calc.names[key]
        first, last = (int(corner.rpartition("$")[2]) for corner in place.rpartition("!")[2].split(":"))
        return last - first + 1

    def place(self, key: str) -> str:
        """Where the column or cell of this name stands. Raises KeyError."""
        return self.calc.names[_OURS + key]

    def _named(self, row: int, formula: str, places: Mapping[str, int], rows: int) -> str:
        """A formula of a block as it stands in a row, its marks replaced by places."""
        last = FIRST_ROW + rows - 1
        named = place_names(
            own_names(self.calc, formula.replace("[#]", NUMBER_OF_LINE)),
            self.calc,
            dict(places),
            lambda place: block(PAGES, place, FIRST_ROW, last),
        )
        return named.replace(_OWN_ROW, str(row + 1)).replace(_ROW_ABOVE, str(row))

    def _places(self, name: str, columns: Sequence[str], rows: int) -> dict[str, int]:
        places = {key: self._column + index for index, key in enumerate(columns)}
        for key, column in places.items():
            self.page.write(HEADING_ROW, column, f"{name} {key}", self.calc.formats.optional)
            self.name(f"{name}.{key}", block(PAGES, column, FIRST_ROW, FIRST_ROW + rows - 1))
        self._column += len(columns)
        return places
