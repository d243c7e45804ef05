"""A sheet that uses each cell function once, with the expected value beside it, as Excel would save it.

Formulas carry the stored result 0, so that every value seen is one that the program has worked out itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import xlsxwriter

from workbook_tools.cells import FUNCTIONS, evaluate
from workbook_tools.cells.registry import Function, Range, Table, Value

SHEET = "Functions"
HEADINGS = ("Function", "What it answers", "Typed in the cell", "Answer", "Expected", "Same")
_WIDTHS = (23, 52, 52, 24, 24, 16, 18, 8)
FIRST_ROW = 4  # the first line of the list, counted from 0

# Craft of an invented ship, for the functions that take ranges: persons permitted, side, easily moved across.
_CRAFT = ((36.0, "port", "no"), (36.0, "starboard", "no"), (25.0, "port", "yes"), (25.0, "starboard", "yes"))
_PERSONS = 25.0
_TABLE_ROWS = 5  # lines shown of an answer that is a table
_EXPECTED_COLUMN = 4  # where those expected stand beside them
_LINE_HEIGHT = 13.5  # points


@dataclass(frozen=True, slots=True)
class Shown:
    """One call on the sheet: the formula as typed, and what it must answer."""

    function: Function
    formula: str
    expected: Value | Table


def example_sheet(path: Path) -> None:
    """Write the workbook. The answers of the functions that take a range or give a table stand below the list."""
    with xlsxwriter.Workbook(str(path)) as workbook:
        _Sheet(workbook).write()


class _Sheet:
    def __init__(self, workbook: Any) -> None:
        self.sheet = workbook.add_worksheet(SHEET)
        base = {"font_name": "Liberation Sans", "font_size": 10, "valign": "top", "align": "left"}
        line = base | {"bottom": 4, "bottom_color": "#7F7F7F"}
        self.plain = workbook.add_format(base)
        self.listed = workbook.add_format(line | {"text_wrap": True})
        self.code = workbook.add_format(line | {"font_name": "Liberation Mono", "font_size": 9, "text_wrap": True})
        self.day = workbook.add_format(line | {"num_format": "yyyy-mm-dd"})
        self.heading = workbook.add_format(base | {"bold": True, "bottom": 1, "bg_color": "#DCE6F1"})
        self.title = workbook.add_format(base | {"bold": True, "font_size": 14})

    def write(self) -> None:
        self._page()
        self.sheet.write(0, 0, "Each cell function once, with the value expected", self.title)
        self.sheet.write(
            1,
            0,
            "An aid to the officer's own check: the convention's official text, the flag Administration, class, the "
            "maker's manual and the master decide.",
            self.plain,
        )
        self._headings(FIRST_ROW - 1, HEADINGS)
        singles, tables = _calls()
        # The ranges come below the list, and their place must be known before the formulas are written.
        craft_row = FIRST_ROW + len(singles) + 2
        for row, shown in enumerate(singles, start=FIRST_ROW):
            self._single(row, shown, craft_row + 1)
        self._craft(craft_row)
        row = craft_row + len(_CRAFT) + 2
        for shown in tables:
            row = self._table(row, shown)

    def _page(self) -> None:
        for column, width in enumerate(_WIDTHS):
            self.sheet.set_column(column, column, width, self.plain)
        self.sheet.set_landscape()
        self.sheet.set_paper(9)  # A4
        self.sheet.fit_to_pages(1, 1)
        self.sheet.set_margins(0.4, 0.4, 0.4, 0.4)
        self.sheet.hide_gridlines(2)  # neither on the screen nor in print

    def _headings(self, row: int, texts: tuple[str, ...]) -> None:
        for column, text in enumerate(texts):
            self.sheet.write(row, column, text, self.heading)

    def _single(self, row: int, shown: Shown, craft_row: int) -> None:
        formula = _placed(shown.formula, craft_row)
        result = self.day if shown.function.result == "date" else self.listed
        self._told(row, shown.function, formula)
        self.sheet.write_formula(row, 3, formula, result, 0)
        self.sheet.write(row, 4, shown.expected, result)
        self.sheet.write_formula(row, 5, f'=IF(D{row + 1}=E{row + 1},"yes","NO")', self.listed, "NO")

    def _told(self, row: int, function: Function, formula: str) -> None:
        """What a function is called, what it answers and how it is typed; the row as high as the texts need."""
        self.sheet.write(row, 0, function.name, self.code)
        self.sheet.write(row, 1, function.help, self.listed)
        self.sheet.write_string(row, 2, formula, self.code)
        self.sheet.set_row(row, _LINE_HEIGHT * max(_lines(function.help, 1), _lines(formula, 2)))

    def _craft(self, row: int) -> None:
        self._headings(row, ("Craft", "Easily moved", "Side", "Persons"))
        for number, (persons, side, moved) in enumerate(_CRAFT, start=1):
            self.sheet.write_row(row + number, 0, (f"Craft {number}", moved, side, persons), self.listed)

    def _table(self, row: int, shown: Shown) -> int:
        """A block with the first lines of an answer that is a table, those expected beside it; the row below it."""
        assert isinstance(shown.expected, tuple)
        lines = shown.expected[:_TABLE_ROWS]
        self._told(row, shown.function, f"{{{shown.formula}}}")
        self._headings(row + 1, (f"Answer, lines 1 to {len(lines)}", "", "", "", "Expected", "", "", ""))
        first, last = row + 2, row + 1 + len(lines)
        self.sheet.write_array_formula(first, 0, last, len(lines[0]) - 1, f"{{{shown.formula}}}", self.listed, 0)
        for number, line in enumerate(lines):
            self.sheet.write_row(first + number, _EXPECTED_COLUMN, line, self.listed)
        return last + 2


def _calls() -> tuple[list[Shown], list[Shown]]:
    """One call of each function: those with a single answer, and those that answer with a table."""
    calls = list(_examples())
    return (
        [shown for shown in calls if not isinstance(shown.expected, tuple)],
        [shown for shown in calls if isinstance(shown.expected, tuple)],
    )


def _examples() -> Iterator[Shown]:
    for name, function in FUNCTIONS.items():
        if name in _OWN:
            formula, arguments = _OWN[name]
            yield Shown(function, formula, evaluate(name, arguments))
        else:
            formula, expected = function.examples[0]
            yield Shown(function, formula, expected)


def _column(index: int) -> Range:
    return tuple((craft[index],) for craft in _CRAFT)


# Calls of functions that need a range or answer with a table; {first} and {last} are rows of the list of craft.
_OWN: dict[str, tuple[str, tuple[Any, ...]]] = {
    "LSA_COVER_PCT": (f"=LSA_COVER_PCT({_PERSONS:g},D{{first}}:D{{last}})", (_PERSONS, _column(0))),
    "LSA_COVER_WORST_PCT": (
        f"=LSA_COVER_WORST_PCT({_PERSONS:g},D{{first}}:D{{last}},C{{first}}:C{{last}},B{{first}}:B{{last}})",
        (_PERSONS, _column(0), _column(1), _column(2)),
    ),
    "LSA_ITEMS": ('=LSA_ITEMS("rescue boat")', ("rescue boat",)),
    "LSA_RATION_PLAN": ("=LSA_RATION_PLAN(37.5,25,5)", (37.5, 25.0, 5.0)),
}


def _placed(formula: str, craft_row: int) -> str:
    """The formula with the rows of the list of craft, whose first row is counted from 0."""
    return formula.replace("{first}", str(craft_row + 1)).replace("{last}", str(craft_row + len(_CRAFT)))


def _lines(text: str, column: int) -> int:
    """How many lines a wrapped text takes: a column's width counts digits, and letters are a little narrower."""
    return math.ceil(len(text) / (1.2 * _WIDTHS[column]))
