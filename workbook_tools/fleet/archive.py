"""An archive of runs for trends: each run is appended as a folder of Parquet files that any table tool reads.

    DIR/run-2026-11-25-3f2a90c41b7d/books.parquet     one row a book
                                    findings.parquet  one row a finding
                                    lots.parquet      one row a line of the Inventory sheet

A run is written beside its place under a name that begins with a dot, and renamed when it is whole: a reader that takes
`run-*` sees whole runs only. The name is made of what the run found, so that the same run archived again is known
again, and is not counted twice. Rows go to the file as they come: memory does not grow with the fleet.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any

from workbook_tools import __version__
from workbook_tools.fleet.archive_rows import (
    EXTRACT,
    OF_THE_BOOK,
    OF_THE_RUN,
    TABLES,
    Cells,
    Field,
    Rows,
    of_unreadable,
)

if TYPE_CHECKING:
    from workbook_tools.checks import Options
    from workbook_tools.fleet.job import Outcome

# The number of this layout. Columns may be added to a layout; none is taken away or given another meaning.
LAYOUT = 1
RUN, HALF = "run-", ".half-"
# Rows of a table that are gathered before they are written: a row group, and the most that is held.
ROWS_AT_ONCE = 20_000
# A half-written run is left by a process that was killed; after so many seconds nobody writes to it any more.
STALE_SECONDS = 2 * 24 * 3600
_BOOK = len(OF_THE_BOOK) - 1  # the book's path among the cells of a row


class ArchiveError(OSError):
    """The archive cannot be written; the text says why and what to do."""

    def __init__(self, folder: Path, why: str) -> None:
        super().__init__(errno.EIO, why, str(folder))

    def __str__(self) -> str:
        return f"cannot write to the archive {self.filename}: {self.strerror}"


class Archive:
    """One run on its way into an archive. Used as a context manager: whole at its end, or not there at all.

    folder: the archive, made where it is not there. options: as the run was asked.
    After a run that ended well `run` is its name, and `added` says whether it is new in the archive.
    Raises ArchiveError: pyarrow is missing, the folder holds something else or cannot be written.
    """

    def __init__(self, folder: Path, options: Options) -> None:
        self.folder = folder
        self.run = ""
        self.added = False
        self._day = options.on
        self._asked = json.dumps(
            {
                "day": options.on.isoformat(),
                "warn_days": options.warn_days,
                "rules": options.rule_set,
                "month_expiry": "first" if options.month_first_day else "last",
                "company": options.company.name if options.company else None,
            }
        )
        self._digest = hashlib.sha256(self._asked.encode())
        self._half: Path | None = None
        self._gathered: dict[str, _Gathered] = {}

    def __enter__(self) -> Archive:
        self.open()
        return self

    def look(self) -> None:
        """Raise ArchiveError for what would stand in the way later: a run may take an hour."""
        try:
            import pyarrow  # noqa: F401  # it is an extra
        except ImportError as error:
            raise ArchiveError(self.folder, f'{error}: install it with pip install "davitbook[archive]"') from error
        with _told(self.folder):
            self.folder.mkdir(parents=True, exist_ok=True)
            _refuse_other_folder(self.folder)
            _clear_stale(self.folder)

    def open(self) -> None:
        """Begin a run."""
        self.look()
        with _told(self.folder):
            self._half = Path(tempfile.mkdtemp(prefix=HALF, dir=self.folder))
            self._gathered = {table: _Gathered(self._half, table) for table in TABLES}

    def add(self, rows: Rows) -> None:
        """Take one book's rows. Raises ArchiveError where they cannot be written."""
        for table, lines in rows.items():
            # the way to the book is no part of what was found: the same run from another folder is the same run
            said = [[*cells[:_BOOK], *cells[_BOOK + 1 :]] for cells in lines]
            names = sorted({Path(cells[_BOOK]).name for cells in lines})
            self._digest.update(repr((table, names, said)).encode("utf-8", "backslashreplace"))
            with _told(self.folder):
                self._gathered[table].add(lines)

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if kind is None:
            self.finish()
        else:
            self.abandon()

    def finish(self) -> None:
        """Put the run into the archive, if it is not there already."""
        try:
            with _told(self.folder):
                self._finish()
        finally:
            self.abandon()

    def abandon(self) -> None:
        """Leave nothing behind of a run that is not in the archive."""
        for gathered in self._gathered.values():
            with suppress(Exception):  # what did not become whole is thrown away
                gathered.close()
        if self._half is not None:
            shutil.rmtree(self._half, ignore_errors=True)

    def _finish(self) -> None:
        assert self._half is not None
        self.run = f"{self._day.isoformat()}-{self._digest.hexdigest()[:12]}"
        target = self.folder / f"{RUN}{self.run}"
        if target.exists():
            return
        of_the_run = [self.run, self._day, datetime.now(UTC)]
        for gathered in self._gathered.values():
            gathered.close()
            gathered.write_whole(of_the_run, self._asked)
        os.chmod(self._half, 0o777 & ~_umask())
        try:
            self._half.rename(target)
        except OSError:
            if not target.exists():  # else another process has archived the same run just now
                raise
            return
        self.added = True


class ArchiveSink:
    """Takes the outcomes of a run into an archive.

    say: told at the end under which name the run is there. Raises OSError where the archive cannot be written.
    """

    form = ""
    whole = True  # of a book that could not be read nothing else says why
    extract = EXTRACT
    target: Path | None = None

    def __init__(self, folder: Path, options: Options, say: Callable[[str], None]) -> None:
        self._archive, self._say, self._begun = Archive(folder, options), say, False
        self._archive.look()

    def _begin(self) -> None:
        if not self._begun:
            self._begun = True
            self._archive.open()

    def take(self, outcome: Outcome) -> None:
        """Take the next outcome."""
        self._begin()
        rows = outcome.extract(EXTRACT)
        self._archive.add(rows if rows is not None else of_unreadable(outcome.book, outcome.result().reason))

    def finish(self) -> None:
        """Put the run into the archive."""
        self._begin()
        self._archive.finish()
        there = "archived as" if self._archive.added else "this run is there already, as"
        self._say(f"{self._archive.folder}: {there} {RUN}{self._archive.run}")

    def abandon(self) -> None:
        """Leave nothing behind."""
        self._archive.abandon()


class _Gathered:
    """The rows of one table: written down a group at a time without the run's name, which is known at the end."""

    def __init__(self, folder: Path, table: str) -> None:
        import pyarrow.parquet

        self._table = table
        self._part = folder / f"{table}.part"
        self._whole = folder / f"{table}.parquet"
        self._schema = _schema((*OF_THE_BOOK, *TABLES[table]))
        self._file = pyarrow.parquet.ParquetWriter(self._part, self._schema)
        self._rows: list[Cells] = []

    def add(self, rows: list[Cells]) -> None:
        self._rows += rows
        if len(self._rows) >= ROWS_AT_ONCE:
            self._write()

    def _write(self) -> None:
        import pyarrow

        columns = list(zip(*self._rows, strict=True))
        arrays = [_array(column, field.type) for column, field in zip(columns, self._schema, strict=True)]
        self._file.write_table(pyarrow.Table.from_arrays(arrays, schema=self._schema))
        self._rows = []

    def close(self) -> None:
        """Write what is left. Safe to call twice."""
        if self._file.is_open:
            if self._rows:
                self._write()
            self._file.close()

    def write_whole(self, of_the_run: list[Any], asked: str) -> None:
        """Write the table anew with the columns of the run before its own, group by group; then to the disk."""
        import pyarrow
        import pyarrow.parquet

        said = {"layout": str(LAYOUT), "table": self._table, "program": f"davitbook {__version__}", "asked": asked}
        schema = _schema((*OF_THE_RUN, *OF_THE_BOOK, *TABLES[self._table])).with_metadata(
            {f"davitbook.{name}": text for name, text in said.items()}
        )
        part = pyarrow.parquet.ParquetFile(self._part)
        with self._whole.open("wb") as file:
            with pyarrow.parquet.ParquetWriter(file, schema) as whole:
                for group in range(part.num_row_groups):
                    rows = part.read_row_group(group)
                    same = [
                        pyarrow.repeat(pyarrow.scalar(value, field.type), rows.num_rows)
                        for value, field in zip(of_the_run, schema, strict=False)
                    ]
                    whole.write_table(pyarrow.Table.from_arrays([*same, *rows.columns], schema=schema))
            file.flush()
            os.fsync(file.fileno())
        part.close()
        self._part.unlink()


def _schema(fields: tuple[Field, ...]) -> Any:
    import pyarrow

    types = {
        "text": pyarrow.string(),
        "whole": pyarrow.int64(),
        "number": pyarrow.float64(),
        "yes/no": pyarrow.bool_(),
        "day": pyarrow.date32(),
        "time": pyarrow.timestamp("us", tz="UTC"),
    }
    return pyarrow.schema([pyarrow.field(entry.name, types[entry.kind]) for entry in fields])


def _array(column: tuple[Any, ...], kind: Any) -> Any:
    """A column as pyarrow holds it. A cell may hold half of a character pair, which UTF-8 cannot: a ? stands there."""
    import pyarrow

    try:
        return pyarrow.array(column, type=kind)
    except UnicodeEncodeError:
        plain = [value.encode("utf-8", "replace").decode() if isinstance(value, str) else value for value in column]
        return pyarrow.array(plain, type=kind)


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    try:
        yield
    except ArchiveError:
        raise
    except OSError as error:
        raise ArchiveError(folder, error.strerror or str(error)) from error


def _refuse_other_folder(folder: Path) -> None:
    """An archive holds runs and nothing else: a folder of returns named by mistake is left alone."""
    for entry in folder.iterdir():
        if not entry.name.startswith((RUN, ".")):
            raise ArchiveError(folder, f"it holds {entry.name!r}, which is no run; name an empty or a new folder")


def _clear_stale(folder: Path) -> None:
    for entry in folder.glob(f"{HALF}*"):
        with suppress(OSError):
            if time.time() - entry.stat().st_mtime > STALE_SECONDS:
                shutil.rmtree(entry, ignore_errors=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
