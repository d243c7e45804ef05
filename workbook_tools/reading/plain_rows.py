"""Types the rows of a table column by column: most cells are plain, and plain ones come again in every line and book.

A cell is plain when it holds nothing, or is read with nothing to be said of it and tells, whatever stands beside it,
that its line is one. What such a cell means is remembered. All others are typed one by one, as `tables` does it, in
the same order and with the same result.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from itertools import repeat
from typing import Any, Final

from workbook_tools.catalogue import normalise
from workbook_tools.columns import Column, Sheet
from workbook_tools.reading.book import Row
from workbook_tools.reading.cells import is_nil, is_wearer_size, shown_text, type_cell
from workbook_tools.reading.headings import heading
from workbook_tools.reading.lines import NIL_BEGINNINGS, TOTAL_BEGINNINGS, is_blank, looks_like_total
from workbook_tools.reading.load import Grid


class _Mark:
    """What stands in the place of a value that is not plain."""


_UNKNOWN: Final = _Mark()  # not met yet
_SPOKEN_OF: Final = _Mark()  # a cell to be typed by itself: a finding, a unit or an assumption comes of it
_DOUBTFUL: Final = _Mark()  # a cell that may mean that its line is none: a total

# Values of these types are equal only when they mean the same; but 0.0 and -0.0 are equal, and so are 1.0 and True.
_REMEMBERED_TYPES = frozenset({str, float, date, datetime})
_REMEMBERED_LENGTH = 60
_MOST_REMEMBERED = 3_000

_FIRST_WORD = re.compile(r"\s*([0-9A-Za-z]+)")


@dataclass(slots=True)
class Meant:
    """What the cells of a column mean: values, None for a blank cell, and the places of what is not plain."""

    values: list[Any]
    spoken_of: list[int] = field(default_factory=list)
    doubtful: list[int] = field(default_factory=list)
    weak: list[int] = field(default_factory=list)


@dataclass(slots=True)
class _Meaning:
    """What the plain cells of one column mean."""

    sheet: Sheet
    column: Column
    month_first_day: bool
    remembered: dict[Any, Any] = field(default_factory=lambda: {"": None})
    weak: dict[str, Any] = field(default_factory=dict)  # of texts that alone make no line: words for nothing, headings
    beginnings: frozenset[str] = frozenset()  # first words of texts that may be no entry of a line
    harmless: set[str] = field(default_factory=set)  # first words that are none of these

    def __post_init__(self) -> None:
        headings = [name for name, column in self.sheet.headings.items() if column is self.column]
        self.beginnings = frozenset(name.split()[0] for name in headings if name) | NIL_BEGINNINGS

    def of(self, cells: Sequence[Any]) -> Meant:
        """What the cells of a table's column mean, from the first to the last."""
        if _REMEMBERED_TYPES.issuperset(map(type, cells)):
            values = list(map(self.remembered.get, cells, repeat(_UNKNOWN)))
        else:
            known = self.remembered.get
            values = [known(cell, _UNKNOWN) if type(cell) in _REMEMBERED_TYPES else _UNKNOWN for cell in cells]
        meant = Meant(values)
        text, other, weak = self._text, self._other, self.weak
        for place in [place for place, value in enumerate(values) if value is _UNKNOWN]:
            cell = cells[place]
            is_text = isinstance(cell, str)
            value = values[place] = text(cell) if is_text else other(cell)
            if value is _SPOKEN_OF:
                meant.spoken_of.append(place)
            elif value is _DOUBTFUL:
                meant.doubtful.append(place)
            if is_text and cell in weak:
                meant.weak.append(place)
        return meant

    def _other(self, cell: Any) -> Any:
        """What a cell means that holds no text. 0.0 and -0.0 are equal, and no number is equal to no number."""
        if cell is None:
            return None
        value = self._value(cell)
        if type(cell) is not float or (cell != 0 and cell == cell):
            self._remember(cell, value)
        return value

    def _text(self, text: str) -> Any:
        """What a text means. Most are told to be an entry by their first word; only of the others all is looked at.

        One met further up in the same column gives the very same object, whatever was read before: what a result is
        packed into for the way between processes goes by that.
        """
        short = len(text) <= _REMEMBERED_LENGTH
        if short and (met := self.remembered.get(text, _UNKNOWN)) is not _UNKNOWN:
            return met
        if not (text.partition(" ")[0] in self.harmless and text.isascii()) and self._may_be_none(text):
            if is_blank(text):
                return None
            if text in self.weak:
                return self.weak[text]
            if looks_like_total(text):
                return _DOUBTFUL
            if is_nil(text) or heading(text, self.sheet) is self.column:
                return self._remember_weak(text)
        value = shown_text(text) if self.column.kind == "text" else self._value(text)
        if short:
            self._remember(text, value)
        return value

    def _may_be_none(self, text: str) -> bool:
        """Whether a text may be no entry of a line; its first word is remembered where that shows that it is one."""
        first = _FIRST_WORD.match(text) if text.isascii() else None
        return first is None or (first[1] not in self.harmless and self._may_begin_none(first[1]))

    def _may_begin_none(self, first_word: str) -> bool:
        word = normalise(first_word)
        if word in self.beginnings or word.startswith(TOTAL_BEGINNINGS):
            return True
        if len(self.harmless) < _MOST_REMEMBERED and len(first_word) <= _REMEMBERED_LENGTH:
            self.harmless.add(first_word)
        return False

    def _remember(self, cell: Any, value: Any) -> None:
        if value is _SPOKEN_OF or type(cell) not in _REMEMBERED_TYPES:
            return
        if len(self.remembered) >= _MOST_REMEMBERED:
            self.remembered.clear()
            self.remembered[""] = None
        self.remembered[cell] = value

    def _remember_weak(self, text: str) -> Any:
        if len(self.weak) >= _MOST_REMEMBERED:
            self.weak.clear()
        value = self.weak[text] = self._value(text)
        return value

    def _value(self, cell: Any) -> Any:
        """The value of a cell of which nothing is to be said; _SPOKEN_OF for any other."""
        typed = type_cell(cell, self.column, self.month_first_day)
        value = typed.value
        if value is None or typed.problem or typed.unit or typed.month_only:
            return _SPOKEN_OF
        if self.column.kind == "content":
            number, unit = value
            return _SPOKEN_OF if unit is not None or is_wearer_size(cell) else number
        return value


# By the identity of the column, which is kept by what is remembered of it.
_meanings: dict[tuple[int, int, bool], _Meaning] = {}


def _meaning(sheet: Sheet, column: Column, month_first_day: bool) -> _Meaning:
    key = (id(sheet), id(column), month_first_day)
    return _meanings.get(key) or _meanings.setdefault(key, _Meaning(sheet, column, month_first_day))


@dataclass(slots=True)
class Columns:
    """The columns of a table in the order in which the cells of a line are typed, each with its index."""

    sheet: Sheet
    known: list[tuple[int, Column]]
    month_first_day: bool


class PlainRows:
    """The lines below the headings with what their plain cells mean. To be used where no notes stand under them."""

    def __init__(self, columns: Columns, grid: Grid, header_row: int, odd_rows: set[int]) -> None:
        """odd_rows: lines to be typed cell by cell, whatever stands in them."""
        width = max(map(len, grid[header_row:]))
        blank = [""] * width
        self._numbers = [
            number
            for number in range(header_row + 1, len(grid))
            if (grid[number] != blank and grid[number]) or number in odd_rows
        ]
        self._lines = [_padded(grid[number], width) for number in self._numbers]
        self.doubtful = {place for place, number in enumerate(self._numbers) if number in odd_rows}
        self.spoken_of: set[int] = set()
        self._known: list[tuple[int, Column]] = []  # of the columns in which anything stands
        self._values: list[list[Any]] = []
        weak: Counter[int] = Counter()
        by_index = list(zip(*self._lines, strict=True))
        for index, column in columns.known:
            if by_index and by_index[index].count("") < len(self._lines):
                meant = _meaning(columns.sheet, column, columns.month_first_day).of(by_index[index])
                self._known.append((index, column))
                self._values.append(meant.values)
                self.spoken_of.update(meant.spoken_of)
                self.doubtful.update(meant.doubtful)
                weak.update(meant.weak)
        self.doubtful.update(place for place, count in weak.items() if count == self._filled(place))
        self._look_for_totals({index for index, _ in columns.known})

    def _filled(self, place: int) -> int:
        return sum(values[place] is not None for values in self._values)

    def _look_for_totals(self, indexes: set[int]) -> None:
        """A line is a total by its first filled cell, and that may stand in a column of the ship's own."""
        for index in set(range(max(indexes, default=0))) - indexes:
            for place, line in enumerate(self._lines):
                if isinstance(line[index], str) and line[index] and looks_like_total(line[index]):
                    self.doubtful.add(place)

    def end_full(self) -> bool:
        """Whether the last line is seen to be one with several filled cells, so that no notes stand under the table."""
        for place in range(len(self._numbers) - 1, -1, -1):
            filled = self._filled(place)
            if place in self.doubtful or filled == 1:
                return False
            if filled:
                return True
        return True

    def rows(self, type_line: Callable[[int], Row | None], type_one: Callable[[Row, Column, Any], None]) -> list[Row]:
        """The typed rows. type_line types a doubtful line, by its number; type_one a cell that is spoken of."""
        rows: list[Row] = []
        keys = [column.key for _, column in self._known]
        special = self.doubtful | self.spoken_of
        for place, values in enumerate(zip(*self._values, strict=True)):
            if place not in special:
                if read := {key: value for key, value in zip(keys, values, strict=True) if value is not None}:
                    rows.append(Row(self._numbers[place], read))
            elif place in self.doubtful:
                if row := type_line(self._numbers[place]):
                    rows.append(row)
            else:
                rows.append(self._typed(place, values, type_one))
        return rows

    def _typed(self, place: int, values: Sequence[Any], type_one: Callable[[Row, Column, Any], None]) -> Row:
        row = Row(self._numbers[place], {})
        for (index, column), value in zip(self._known, values, strict=True):
            if value is _SPOKEN_OF:
                type_one(row, column, self._lines[place][index])
            elif value is not None:
                row.values[column.key] = value
        return row


def _padded(line: list[Any], width: int) -> list[Any]:
    return line if len(line) == width else line + [""] * (width - len(line))
