"""What is asked of every book, and what comes back of one."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbook_tools.findings import GRADES, BookResult
from workbook_tools.fleet.packing import pack, unpack, unpack_result

if TYPE_CHECKING:
    from workbook_tools.checks import Options
    from workbook_tools.checks.context import Audit

# Works something more out of an audit, in the worker, for a sink that asks for it: plain values that can be packed.
Extract = Callable[["Audit", BookResult], Any]


@dataclass(frozen=True, slots=True)
class Job:
    """What is asked of every book of a run.

    form: how a result is worded where it was worked out: a name of reports.parts.PARTS, or '' for not at all.
    whole: whether the result itself comes back. extracts: what is asked besides, each as 'module:function' of the form
    of Extract. stamped: whether the outcome tells the book's content by a checksum.
    """

    options: Options
    form: str = ""
    whole: bool = True
    extracts: tuple[str, ...] = ()
    stamped: bool = False


@dataclass(slots=True)
class Outcome:
    """What came of one book: counts, and what the job asked for."""

    book: str
    readable: bool
    grades: tuple[int, ...]  # findings of each grade, in the order of GRADES
    part: str = ""  # the result in the form the job asked for
    ranked: tuple[tuple[int, ...], str] = ((), "")  # its line in a list of books, behind what sorts it there
    packed: bytes = b""
    extracted: bytes = b""
    stamp: str = ""
    _result: BookResult | None = field(default=None, compare=False, repr=False)

    @property
    def action(self) -> bool:
        """Whether action is required."""
        return self.grades[GRADES.index("action")] > 0

    def result(self) -> BookResult:
        """The result itself. Raises ValueError where the job did not ask for it."""
        if self._result is None:
            self._result = unpack_result(self.packed)
        return self._result

    def extract(self, name: str) -> Any:
        """What an extract of the job worked out; None for a book that could not be read."""
        return unpack(self.extracted).get(name) if self.extracted else None

    def to_plain(self) -> tuple[Any, ...]:
        """The outcome as plain values, for the way between processes and the journal."""
        return (
            self.book, self.readable, self.grades, self.part, self.ranked, self.packed, self.extracted, self.stamp
        )  # fmt: skip


def outcome_of(result: BookResult, job: Job, extracted: dict[str, Any] | None = None, stamp: str = "") -> Outcome:
    """Word and pack a result as a job asks."""
    from workbook_tools.reports import parts

    part, ranked = parts.worded(result, job.form)
    grades = tuple(result.grade_counts().values())
    packed = pack(result) if job.whole else b""
    return Outcome(
        result.book, result.readable, grades, part, ranked, packed, pack(extracted) if extracted else b"", stamp
    )


def unreadable(path: str, reason: str, job: Job) -> Outcome:
    """The outcome of a book that cannot be read, with why."""
    return outcome_of(BookResult(path, readable=False, reason=reason), job, stamp=stamp_of(path) if job.stamped else "")


def stamp_of(path: str) -> str:
    """A checksum of a book's content; '' where it cannot be read, or is larger than any book that is."""
    from workbook_tools.reading.limits import MOST_FILE_BYTES

    try:
        if not Path(path).is_file():
            return ""  # a pipe, say: opening it might never end
        if Path(path).stat().st_size > MOST_FILE_BYTES:
            return ""
        with open(path, "rb") as file:
            return hashlib.file_digest(file, "blake2b").hexdigest()[:32]
    except OSError:
        return ""
