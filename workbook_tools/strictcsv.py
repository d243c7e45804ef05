"""Reads the project's own data tables, strictly: a slip in a table stops the program with its file and line.

Standard library only: rules and catalogue are loaded by cell functions, which must start at once.
"""

import csv
import re
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path


class TableError(ValueError):
    """A fault in one of the project's own tables, with file and line."""

    def __init__(self, path: Path, line: int, message: str) -> None:
        super().__init__(f"{path.name}:{line}: {message}")
        self.path = path
        self.line = line


class Line:
    """One line of a table: its cells by heading, and readers that name file and line when they fail."""

    def __init__(self, path: Path, number: int, cells: dict[str, str]) -> None:
        self.path = path
        self.number = number
        self.cells = cells

    def error(self, message: str) -> TableError:
        """The error to raise for this line."""
        return TableError(self.path, self.number, message)

    def text(self, column: str) -> str:
        """The cell, which must not be empty."""
        value = self.cells[column]
        if not value:
            raise self.error(f"{column} is empty")
        return value

    def choice(self, column: str, choices: Sequence[str]) -> str:
        """The cell, which must be one of the choices."""
        value = self.text(column)
        if value not in choices:
            raise self.error(f"{column} is {value!r}; it must be one of {', '.join(choices)}")
        return value

    def number_or_none(self, column: str) -> float | None:
        """The cell as a finite number, or None when it is empty."""
        value = self.cells[column]
        if not value:
            return None
        if not re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", value):
            raise self.error(f"{column} is {value!r}, not a number written in digits")
        return float(value)

    def date_or_none(self, column: str) -> date | None:
        """The cell as a date (YYYY-MM-DD), or None when it is empty."""
        value = self.cells[column]
        if not value:
            return None
        try:
            if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
                return date.fromisoformat(value)
        except ValueError:
            pass
        raise self.error(f"{column} is {value!r}, not a date as YYYY-MM-DD")

    def period(self, column: str) -> tuple[date | None, date | None]:
        """The days from COLUMN_from until COLUMN_until, each of which may be open."""
        first, last = self.date_or_none(f"{column}_from"), self.date_or_none(f"{column}_until")
        if first and last and last < first:
            raise self.error(f"{column}_until lies before {column}_from")
        return first, last

    def words(self, column: str) -> tuple[str, ...]:
        """The cell split at '|', empty parts refused."""
        value = self.cells[column]
        if not value:
            return ()
        parts = tuple(part.strip() for part in value.split("|"))
        if not all(parts):
            raise self.error(f"{column} has an empty part between two '|'")
        return parts


def read(path: Path, columns: Sequence[str]) -> Iterator[Line]:
    """Yield the lines of a table whose headings must be exactly the given columns.

    Raises TableError for an unknown, missing or repeated heading, a line with too many or too few cells, and for
    cells with stray spaces around them.
    """
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file, strict=True)
        header = next(reader, None)
        if header is None:
            raise TableError(path, 1, "the table is empty")
        unknown = [name for name in header if name not in columns]
        missing = [name for name in columns if name not in header]
        if unknown or missing or len(set(header)) != len(header):
            raise TableError(path, 1, f"headings: unknown {unknown}, missing {missing}")
        lines = 0
        for cells in reader:
            if not cells:
                continue
            lines += 1
            if len(cells) != len(header):
                raise TableError(path, reader.line_num, f"{len(cells)} cells where {len(header)} are expected")
            if any(cell != cell.strip() for cell in cells):
                raise TableError(path, reader.line_num, "a cell begins or ends with a space")
            yield Line(path, reader.line_num, dict(zip(header, cells, strict=True)))
        if not lines:
            raise TableError(path, 1, "the table has headings and no line")
