"""The foreign workbook as it stands: its cells, which of them are filled, and what is merged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from workbook_tools.reading import RawBook, load
from workbook_tools.reading.address import address
from workbook_tools.reading.lines import is_blank
from workbook_tools.reading.load import Grid

# A cell of the source: sheet, row and column, both counted from 0.
Place = tuple[str, int, int]


@dataclass(frozen=True)
class Page:
    """One sheet of the source."""

    name: str
    grid: Grid
    errors: dict[tuple[int, int], str]
    merged: tuple[tuple[int, int, int, int], ...]  # top, left, bottom, right

    def value(self, row: int, column: int) -> Any:
        """What stands in a cell; '' outside the sheet."""
        return self.grid[row][column] if row < len(self.grid) and column < len(self.grid[row]) else ""

    def filled(self, row: int, column: int) -> bool:
        """Whether a cell holds anything: a value, or an error that it shows."""
        return not is_blank(self.value(row, column)) or (row, column) in self.errors

    def text(self, row: int, column: int) -> str:
        """The text of a cell, '' where it holds none."""
        value = self.value(row, column)
        return " ".join(value.split()) if isinstance(value, str) else ""

    def columns_filled(self, row: int, first: int = 0, last: int | None = None) -> list[int]:
        """The filled columns of a row, from first to last."""
        width = len(self.grid[row]) if row < len(self.grid) else 0
        most = width if last is None else min(width, last + 1)
        return [column for column in range(first, most) if self.filled(row, column)]

    def merged_at(self, row: int, column: int) -> tuple[int, int, int, int] | None:
        """The merged range that a cell belongs to."""
        for area in self.merged:
            if area[0] <= row <= area[2] and area[1] <= column <= area[3]:
                return area
        return None


@dataclass(frozen=True)
class Source:
    """A foreign workbook."""

    path: str
    pages: dict[str, Page]
    hidden: frozenset[str]

    @property
    def file_name(self) -> str:
        """The file's name without its folder."""
        return Path(self.path).name

    def filled(self) -> Iterator[Place]:
        """Every cell that holds anything, each once, sheet by sheet and row by row."""
        for page in self.pages.values():
            for row in range(len(page.grid)):
                for column in page.columns_filled(row):
                    yield page.name, row, column


def open_source(path: Path) -> Source:
    """Read a foreign workbook; it is never written to. Raises UnreadableBook."""
    return source_of(load(path, skip=()))


def source_of(raw: RawBook) -> Source:
    """A workbook that has been read, as a source."""
    pages = {
        name: Page(
            name,
            _reaching(grid, raw.errors.get(name, {})),
            dict(raw.errors.get(name, {})),
            tuple((top, left, bottom, right) for (top, left), (bottom, right) in raw.merged.get(name, ())),
        )
        for name, grid in raw.sheets.items()
    }
    return Source(raw.path, pages, frozenset(raw.hidden))


def _reaching(grid: Grid, errors: dict[tuple[int, int], str]) -> Grid:
    """The grid, made so large that every cell that shows an error lies in it."""
    rows = max((row + 1 for row, _ in errors), default=0)
    width = max((column + 1 for _, column in errors), default=0)
    return [[*line, *[""] * (width - len(line))] for line in grid] + [[""] * width] * max(0, rows - len(grid))


def where(place: Place) -> str:
    """A cell as people write it: Sheet1!B7."""
    return f"{place[0]}!{address(place[1], place[2])}"
