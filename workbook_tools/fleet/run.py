"""Finds the workbooks under the paths given and audits them in batches."""

from __future__ import annotations

import glob
import os
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from workbook_tools.checks import Options, audit_books
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.context import Audit
from workbook_tools.findings import BookResult
from workbook_tools.reading import Book, UnreadableBook, read_book
from workbook_tools.reading.load import EXTENSIONS

# Books validated in one frame: enough to spread pandera's cost, few enough to keep memory flat.
BATCH = 100


class NoBooks(Exception):
    """The paths given hold no workbook; the text says which."""


def find_books(paths: Sequence[str]) -> list[Path]:
    """The workbooks under files, folders and patterns, in a stable order and each once.

    A file is taken whatever its name; a folder gives the files below it that a spreadsheet program writes, lock and
    temporary files left out. Raises NoBooks for a path that is not there or holds no workbook.
    """
    found: dict[str, Path] = {}  # by the file itself, whichever way it is named
    for text in paths:
        path = Path(text)
        if path.is_dir():
            inside = sorted(_below(path))
            if not inside:
                raise NoBooks(f"no workbook ({', '.join(EXTENSIONS)}) in folder {text}")
        elif path.exists():
            inside = [path]
        else:
            inside = sorted(Path(match) for match in glob.glob(text, recursive=True) if Path(match).is_file())
            if not inside:
                raise NoBooks(f"there is no file or folder {text}")
        for book in inside:
            found.setdefault(os.path.realpath(book), book)
    return list(found.values())


def _below(folder: Path) -> Iterator[Path]:
    for path in folder.rglob("*"):
        dangling = path.is_symlink() and not path.exists()  # a book that is missed: it is named as not opened
        if (
            path.suffix.lower() in EXTENSIONS
            and (path.is_file() or dangling)
            and not path.name.startswith(("~$", ".~lock", "."))
        ):
            yield path


def check_paths(paths: Iterable[Path], options: Options) -> Iterator[BookResult]:
    """Audit workbooks, yielding one result a book in the order given. A book that cannot be read is a result too."""
    batch: list[tuple[Path, Book | UnreadableBook]] = []
    for path in paths:
        batch.append((path, _read(path, options)))
        if len(batch) >= BATCH:
            yield from _audit(batch, options)
            batch = []
    yield from _audit(batch, options)


def _read(path: Path, options: Options) -> Book | UnreadableBook:
    try:
        return read_book(path, options.month_first_day)
    except UnreadableBook as error:
        return error
    except Exception as error:
        return _fault("reading", error)


def _fault(work: str, error: Exception) -> UnreadableBook:
    """A fault of the program's own: it is named with its book, and the other books go on."""
    what = f"{type(error).__name__}: {error}".splitlines()[0]
    return UnreadableBook(
        f"{work} failed on this book ({what}): a fault of the program; please report it with the book"
    )


def check_one(path: Path, options: Options) -> tuple[Audit, BookResult]:
    """Audit one workbook and keep what the audit worked out. Raises UnreadableBook."""
    try:
        return audit_in_full(read_book(path, options.month_first_day), options)
    except UnreadableBook:
        raise
    except Exception as error:
        raise _fault("the audit", error) from error


def _audit(batch: Sequence[tuple[Path, Book | UnreadableBook]], options: Options) -> Iterator[BookResult]:
    audited = iter(_audit_together([book for _, book in batch if isinstance(book, Book)], options))
    for path, book in batch:
        if isinstance(book, Book):
            yield next(audited)
        else:
            yield BookResult(str(path), readable=False, reason=str(book))


def _audit_together(books: Sequence[Book], options: Options) -> list[BookResult]:
    """Audit books in one frame. If one of them brings the audit down, each is read anew and audited alone."""
    try:
        return audit_books(books, options)
    except Exception:
        return [_audit_alone(Path(book.path), options) for book in books]


def _audit_alone(path: Path, options: Options) -> BookResult:
    try:
        return audit_books([read_book(path, options.month_first_day)], options)[0]
    except Exception as error:
        return BookResult(str(path), readable=False, reason=str(_fault("the audit", error)))
