"""Audits many books: here for a few, in workers for many, and gives the outcomes in the order of the books."""

from __future__ import annotations

import os
import zipfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.context import Audit
from workbook_tools.findings import BookResult
from workbook_tools.fleet.books import NoBooks, find_books, read_list
from workbook_tools.fleet.job import Job, Outcome
from workbook_tools.fleet.journal import Journal
from workbook_tools.fleet.supervisor import BATCH, SECONDS, Supervisor
from workbook_tools.fleet.work import check_batch, fault
from workbook_tools.reading import UnreadableBook, read_book

__all__ = ["NoBooks", "check_fleet", "check_one", "check_paths", "cores", "find_books", "read_list"]

# Does a job over books wherever it likes: yields (number of the book, its outcome), one for each.
Work = Callable[[Sequence[str], Job], Iterator[tuple[int, Outcome]]]

# So few books are done before workers have started, if none of them is out of the ordinary.
FEW = 10
_ORDINARY_BYTES = 2_000_000
_ORDINARY_UNPACKED_BYTES = 30_000_000
_ORDINARY_RATIO = 50  # of unpacked to packed bytes; a living workbook has 15
_ORDINARY_PARTS = 100


def cores() -> int:
    """The cores that this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def check_paths(paths: Iterable[Path], options: Options) -> Iterator[BookResult]:
    """Audit workbooks in this process, yielding one result a book in the order given.

    A book that cannot be read is a result too. For use from Python: the command does its work by check_fleet.
    """
    for outcome in _check_here([str(path) for path in paths], Job(options)):
        yield outcome.result()


def check_one(path: Path, options: Options) -> tuple[Audit, BookResult]:
    """Audit one workbook and keep what the audit worked out. Raises UnreadableBook."""
    try:
        return audit_in_full(read_book(path, options.month_first_day), options)
    except UnreadableBook:
        raise
    except Exception as error:
        raise fault("auditing", error) from error


def check_fleet(
    paths: Sequence[str],
    job: Job,
    jobs: int | None = None,
    journal: Journal | None = None,
    seconds: float = SECONDS,
    work: Work | None = None,
) -> Iterator[Outcome]:
    """Audit workbooks, yielding one outcome a book in the order given.

    jobs: workers at a time; None: as many as cores. journal: takes each outcome as it comes, and gives back those of
    an earlier run. seconds: the most that one book may take in a worker. work: does the work in another way than in
    workers of this machine. Raises WorkersFailed, and what work raises.
    """
    known = {path for path in paths if journal.holds(path)} if journal is not None else set()
    missing = [path for path in paths if path not in known]
    made = work(missing, job) if work is not None else _anywhere(missing, job, jobs or cores(), seconds)
    fresh = _in_order(made, journal)
    for path in paths:
        yield journal.recall(path) if journal is not None and path in known else next(fresh)


def _anywhere(paths: list[str], job: Job, jobs: int, seconds: float) -> Iterator[tuple[int, Outcome]]:
    if len(paths) <= FEW and all(map(is_ordinary, paths)):
        return enumerate(_check_here(paths, job))
    return Supervisor(job, jobs, seconds).outcomes(paths)


def _check_here(paths: list[str], job: Job) -> Iterator[Outcome]:
    for start in range(0, len(paths), BATCH):
        yield from check_batch(paths[start : start + BATCH], job)


def _in_order(outcomes: Iterator[tuple[int, Outcome]], journal: Journal | None) -> Iterator[Outcome]:
    """The outcomes by the numbers of their books: what comes early is held back. The journal takes each at once."""
    held: dict[int, Outcome] = {}
    due = 0
    for number, outcome in outcomes:
        if journal is not None:
            journal.add(outcome)
        held[number] = outcome
        while due in held:
            yield held.pop(due)
            due += 1


def is_ordinary(path: str) -> bool:
    """Whether a book is as small as a ship's book is, packed and unpacked: then reading it cannot harm this process.

    What is no zip is refused or read in a process of its own.
    """
    try:
        size = os.path.getsize(path)
        if not os.path.isfile(path):
            return True  # a pipe, say: it is refused unopened
        if size > _ORDINARY_BYTES:
            return False
        with zipfile.ZipFile(path) as archive:
            parts = archive.infolist()
            unpacked = sum(part.file_size for part in parts)
            most = min(_ORDINARY_UNPACKED_BYTES, 1_000_000 + _ORDINARY_RATIO * size)
            return len(parts) <= _ORDINARY_PARTS and unpacked <= most
    except (OSError, zipfile.BadZipFile, ValueError, NotImplementedError):
        return True
