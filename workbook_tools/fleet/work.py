"""What is done with a batch of books, in this process or a worker: read each, validate them together, audit each.

Nothing here knows of processes: `check_batch` is the unit of work wherever it runs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any, TypeVar

from workbook_tools.checks.audit import audit_in_full, audit_together
from workbook_tools.checks.context import Audit, Options
from workbook_tools.findings import BookResult
from workbook_tools.fleet.job import Extract, Job, Outcome, outcome_of, stamp_of, unreadable
from workbook_tools.reading import Book, RawBook, UnreadableBook, load, read_raw
from workbook_tools.reading.limits import ReaderGaveUp
from workbook_tools.schema import validate

T = TypeVar("T")

# Called with the number of a book of the batch before work on it, and with TOGETHER before work on all of them.
Tell = Callable[[int], None]
TOGETHER = -1


# So many books are read, and audited, step by step together: what a step needs stays near the processor, which saves
# an eighth of the time. Of books larger than a ship's book is, fewer: they are in memory together.
_MOST_TOGETHER = 25
_MOST_CELLS_TOGETHER = 300_000
_MOST_ROWS_TOGETHER = 20_000


def check_batch(paths: Sequence[str], job: Job, tell: Tell = lambda _: None, apart: bool = True) -> Iterator[Outcome]:
    """Audit books, yielding one outcome a book in the order given. A book that cannot be read is an outcome too.

    apart: read books whose inside cannot be looked at beforehand in processes of their own.
    """
    stamps: dict[int, str] = {}

    def read(first: int, most: int) -> list[Book | UnreadableBook]:
        """Open books from one on, so many at most, and type them. Raises MemoryError where one by one may do it."""
        opened: list[RawBook | UnreadableBook] = []
        cells = 0
        for number in range(first, min(first + most, len(paths))):
            tell(number)
            stamps[number] = stamp_of(paths[number]) if job.stamped else ""
            opened.append(_opened(paths[number], apart))
            cells += _cells_of(opened[-1])
            if cells > _MOST_CELLS_TOGETHER:
                break
        tell(TOGETHER if len(opened) > 1 else first)
        typed = [_typed(raw, job.options) for raw in opened]
        if len(typed) > 1 and any(isinstance(book, ReaderGaveUp) for book in typed):
            raise MemoryError  # or so it may be: alone each shows what it is
        return typed

    books: list[Book | UnreadableBook] = []
    alone_until = 0
    while len(books) < len(paths):
        alone = len(books) < alone_until
        try:
            books += read(len(books), 1 if alone else _MOST_TOGETHER)
        except MemoryError as error:
            if alone:
                books.append(fault("reading", error))
            else:
                alone_until = len(books) + _MOST_TOGETHER
    tell(TOGETHER)
    together = _validate_together([book for book in books if isinstance(book, Book)])
    for some in _portions([_rows_of(book) for book in books], _MOST_ROWS_TOGETHER):
        tell(TOGETHER)
        audited = _audited([books[number] for number in some], job.options) if together else [None] * len(some)
        for number, done in zip(some, audited, strict=True):
            if done is None:
                tell(number)
                yield _alone(paths[number], job, apart, stamps[number])
            else:
                yield _outcome(paths[number], done, job, stamps[number])
            books[number] = UnreadableBook("done with")  # its rows are let go


def _portions(sizes: Sequence[int], most: int) -> Iterator[list[int]]:
    """The numbers of things of these sizes in portions that together have the most at most, or are one thing."""
    portion: list[int] = []
    total = 0
    for number, size in enumerate(sizes):
        if portion and (total + size > most or len(portion) == _MOST_TOGETHER):
            yield portion
            portion, total = [], 0
        portion.append(number)
        total += size
    if portion:
        yield portion


def _cells_of(raw: RawBook | UnreadableBook) -> int:
    if isinstance(raw, UnreadableBook):
        return 0
    return sum(len(grid) * len(grid[0]) for grid in raw.sheets.values() if grid)


def _rows_of(book: Book | UnreadableBook) -> int:
    return sum(len(table.rows) for table in book.tables.values()) if isinstance(book, Book) else 0


def _opened(path: str, apart: bool) -> RawBook | UnreadableBook:
    return _or_why_not(lambda: load(Path(path), apart=apart))


def _typed(raw: RawBook | UnreadableBook, options: Options) -> Book | UnreadableBook:
    return raw if isinstance(raw, UnreadableBook) else _or_why_not(lambda: read_raw(raw, options.month_first_day))


def _or_why_not(read: Callable[[], T]) -> T | UnreadableBook:
    """What reading gives, or why it gives nothing. Raises MemoryError."""
    try:
        return read()
    except UnreadableBook as error:
        return error
    except MemoryError:
        raise
    except Exception as error:
        return fault("reading", error)


def fault(work: str, error: Exception) -> ReaderGaveUp:
    """A fault of the program's own: it is named with its book, and the other books go on."""
    what = f"{type(error).__name__}: {error}".splitlines()[0][:200]
    if isinstance(error, MemoryError):
        return ReaderGaveUp(f"{work} this book takes more memory than it may: save it anew, without what is not used")
    return ReaderGaveUp(f"{work} failed on this book ({what}): a fault of the program; please report it with the book")


def _validate_together(books: Sequence[Book]) -> bool:
    """Validate books in one frame. False if one of them brings that down: then each is read anew and taken alone."""
    try:
        validate(books)
    except Exception:
        return False
    return True


# What came of one book: its audit, or why there is none: UnreadableBook, or an error of the program's own.
_Done = Exception | tuple[Audit, BookResult]


def _audited(books: Sequence[Book | UnreadableBook], options: Options) -> Sequence[_Done | None]:
    """What comes of books; None for each where they take more memory together than there is."""
    audits = iter(audit_together([book for book in books if isinstance(book, Book)], options))
    done: list[_Done] = [book if isinstance(book, UnreadableBook) else next(audits) for book in books]
    if len(done) > 1 and any(isinstance(entry, MemoryError) for entry in done):
        return [None] * len(done)
    return done


def _alone(path: str, job: Job, apart: bool, stamp: str) -> Outcome:
    """Read, validate and audit one book by itself, for which there was no doing it with others."""
    try:
        done: _Done = audit_in_full(read_raw(load(Path(path), apart=apart), job.options.month_first_day), job.options)
    except Exception as error:
        done = error
    return _outcome(path, done, job, stamp)


def _outcome(path: str, done: _Done, job: Job, stamp: str) -> Outcome:
    try:
        if isinstance(done, Exception):
            raise done
        audit, result = done
        return outcome_of(result, job, _extracted(audit, result, job), stamp)
    except UnreadableBook as error:
        return unreadable(path, str(error), job)
    except Exception as error:
        return unreadable(path, str(fault("auditing", error)), job)


def _extracted(audit: Audit, result: BookResult, job: Job) -> dict[str, Any]:
    return {name: _extract(name)(audit, result) for name in job.extracts}


def _extract(name: str) -> Extract:
    module, _, function = name.partition(":")
    extract: Extract = getattr(import_module(module), function)
    return extract
