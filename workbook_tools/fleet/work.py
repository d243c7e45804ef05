"""What is done with a batch of books, in this process or a worker: read each, validate them together, audit each.

Nothing here knows of processes: `check_batch` is the unit of work wherever it runs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

from workbook_tools.checks.audit import audit_in_full, audit_read
from workbook_tools.checks.context import Audit, Options
from workbook_tools.findings import BookResult
from workbook_tools.fleet.job import Extract, Job, Outcome, outcome_of, stamp_of, unreadable
from workbook_tools.reading import Book, UnreadableBook, load, read_raw
from workbook_tools.schema import validate

# Called with the number of a book of the batch before work on it, and with TOGETHER before work on all of them.
Tell = Callable[[int], None]
TOGETHER = -1


def check_batch(paths: Sequence[str], job: Job, tell: Tell = lambda _: None, apart: bool = True) -> Iterator[Outcome]:
    """Audit books, yielding one outcome a book in the order given. A book that cannot be read is an outcome too.

    apart: read books whose inside cannot be looked at beforehand in processes of their own.
    """
    books: list[Book | UnreadableBook] = []
    stamps: list[str] = []
    for number, path in enumerate(paths):
        tell(number)
        stamps.append(stamp_of(path) if job.stamped else "")
        books.append(_read(path, job.options, apart))
    tell(TOGETHER)
    together = _validate_together([book for book in books if isinstance(book, Book)])
    for number, (path, book) in enumerate(zip(paths, books, strict=True)):
        tell(number)
        if isinstance(book, UnreadableBook):
            yield unreadable(path, str(book), job)
        else:
            yield _outcome(path, book if together else None, job, apart, stamps[number])
        books[number] = UnreadableBook("done with")  # its rows are let go


def _read(path: str, options: Options, apart: bool) -> Book | UnreadableBook:
    try:
        return read_raw(load(Path(path), apart=apart), options.month_first_day)
    except UnreadableBook as error:
        return error
    except Exception as error:
        return fault("reading", error)


def fault(work: str, error: Exception) -> UnreadableBook:
    """A fault of the program's own: it is named with its book, and the other books go on."""
    what = f"{type(error).__name__}: {error}".splitlines()[0][:200]
    if isinstance(error, MemoryError):
        return UnreadableBook(f"{work} this book takes more memory than it may: save it anew, without what is not used")
    return UnreadableBook(
        f"{work} failed on this book ({what}): a fault of the program; please report it with the book"
    )


def _validate_together(books: Sequence[Book]) -> bool:
    """Validate books in one frame. False if one of them brings that down: then each is read anew and taken alone."""
    try:
        validate(books)
    except Exception:
        return False
    return True


def _outcome(path: str, book: Book | None, job: Job, apart: bool, stamp: str) -> Outcome:
    """Audit a validated book; None: read and validate it first."""
    try:
        if book is None:
            read = read_raw(load(Path(path), apart=apart), job.options.month_first_day)
            audit, result = audit_in_full(read, job.options)
        else:
            audit, result = audit_read(book, job.options)
        return outcome_of(result, job, _extracted(audit, result, job), stamp)
    except UnreadableBook as error:
        return unreadable(path, str(error), job)
    except Exception as error:
        return unreadable(path, str(fault("the audit", error)), job)


def _extracted(audit: Audit, result: BookResult, job: Job) -> dict[str, Any]:
    return {name: _extract(name)(audit, result) for name in job.extracts}


def _extract(name: str) -> Extract:
    module, _, function = name.partition(":")
    extract: Extract = getattr(import_module(module), function)
    return extract
