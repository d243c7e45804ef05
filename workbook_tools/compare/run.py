"""Compares the returns of each ship, a few ships at a time: only their books are held."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_read
from workbook_tools.compare.apart import Ended, each
from workbook_tools.compare.changes import Change, changes, new_log_lines
from workbook_tools.compare.open_findings import Audited, audited, days_known, finding_stays_open
from workbook_tools.compare.registry import SUSPICIONS
from workbook_tools.compare.returns import Fleet, Found, Series
from workbook_tools.compare.step import Step
from workbook_tools.compare.whole import is_identical
from workbook_tools.findings import Finding, identified
from workbook_tools.fleet.work import fault
from workbook_tools.reading import Book, UnreadableBook, read_book
from workbook_tools.schema import validate

OPEN_WITHOUT_DAY = "older returns without a record date, or of the same one: how long findings have been open"


@dataclass(slots=True)
class StepResult:
    """What changed from one return to the next, and what looks wrong. log_lines: new lines of each log, by sheet."""

    old: Found
    new: Found
    changes: list[Change] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    log_lines: dict[str, int] = field(default_factory=dict)
    left_out: Counter[str] = field(default_factory=Counter)
    sent_again: bool = False  # the same return, record date and all


@dataclass(slots=True)
class ShipComparison:
    """The returns of one ship compared. findings: those over all of its returns; each step has its own."""

    series: Series
    steps: list[StepResult] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    unreadable: list[Found] = field(default_factory=list)

    def all_findings(self) -> list[Finding]:
        """Every finding: of each step, the newest step's first, then what stays open; worst first within each."""
        return [*(finding for step in reversed(self.steps) for finding in step.findings), *self.findings]


# Ships whose books are validated in one frame: pandera costs more than the audit where a book is validated alone.
_TOGETHER = 10

Books = dict[Path, Book | UnreadableBook]


def compare_ship(series: Series, options: Options, open_for: int) -> ShipComparison:
    """Compare each return of one ship with the one before it; as compare_ships. For use from Python."""
    return compare_ships([series], options, open_for)[0]


def compare_ships(ships: Sequence[Series], options: Options, open_for: int) -> list[ShipComparison]:
    """Compare each return of each ship with the one before it.

    options: how a return is audited; its day is the return's own record date, and options.on where it gives none.
    open_for: a finding that is open in so many returns in a row is told.
    """
    books = _read(ships, options)
    return [_compared(series, books, options, open_for) for series in ships]


def compare_fleet(fleet: Fleet, options: Options, open_for: int, jobs: int) -> Iterator[ShipComparison]:
    """Yield the comparison of each ship, in the fleet's order. jobs: processes at a time, for more than a few books."""
    work = partial(compare_ships, options=options, open_for=open_for)
    pieces = [fleet.ships[first : first + _TOGETHER] for first in range(0, len(fleet.ships), _TOGETHER)]
    for piece, made in zip(pieces, each(work, pieces, jobs, fleet.small), strict=True):
        if isinstance(made, Ended):
            yield from _one_by_one(piece, work)
        else:
            yield from made


def _one_by_one(
    ships: Sequence[Series], work: Callable[[Sequence[Series]], list[ShipComparison]]
) -> Iterator[ShipComparison]:
    """The ships among which is one whose books ended the process."""
    for series, made in zip(ships, each(work, [[series] for series in ships], jobs=1), strict=True):
        if isinstance(made, Ended):
            lost = [replace(found, problem=str(made)) for found in series.returns if found is not None]
            yield ShipComparison(series, unreadable=lost)
        else:
            yield from made


def _read(ships: Sequence[Series], options: Options) -> Books:
    """The books of some ships, validated together; where one of them brings that down, each alone."""
    paths = [found.path for series in ships for found in series.returns if found is not None]
    books = {path: _typed(path, options) for path in paths}
    try:
        validate([book for book in books.values() if isinstance(book, Book)])
    except Exception:
        return {path: _validated_alone(path, options) for path in paths}
    return books


def _typed(path: Path, options: Options) -> Book | UnreadableBook:
    try:
        return read_book(path, options.month_first_day)
    except UnreadableBook as error:
        return error
    except Exception as error:
        return fault("reading", error)


def _validated_alone(path: Path, options: Options) -> Book | UnreadableBook:
    book = _typed(path, options)
    try:
        if isinstance(book, Book):
            validate([book])
    except Exception as error:
        return fault("the audit", error)
    return book


def _compared(series: Series, books: Books, options: Options, open_for: int) -> ShipComparison:
    comparison = ShipComparison(series)
    audits: list[Audited] = []
    previous: tuple[Found, Book] | None = None
    for found in series.returns:
        if found is None:
            continue
        try:
            book, kept = _audited(found, books[found.path], options)
        except UnreadableBook as error:
            comparison.unreadable.append(replace(found, problem=str(error)))
            continue
        audits.append(kept)
        if previous is not None:
            comparison.steps.append(_step(*previous, found, book))
        previous = (found, book)
    comparison.findings = _named(finding_stays_open(audits, open_for))
    passed_over = len(audits) - len(days_known(audits))
    if passed_over:
        comparison.left_out[OPEN_WITHOUT_DAY] += passed_over
    return comparison


def _audited(found: Found, book: Book | UnreadableBook, options: Options) -> tuple[Book, Audited]:
    if isinstance(book, UnreadableBook):
        raise book
    try:
        audit, result = audit_read(book, replace(options, on=found.recorded or options.on))
    except Exception as error:
        raise fault("the audit", error) from error
    return audit.book, audited(result, found.recorded)


def _step(old_found: Found, old: Book, new_found: Found, new: Book) -> StepResult:
    step = Step(old, new)
    step.count_left_out()
    found_changes = list(changes(step))
    findings = [finding for look in SUSPICIONS for finding in look(step)]
    same_day = old.ship_value("record_date") == new.ship_value("record_date")
    return StepResult(
        old_found,
        new_found,
        found_changes,
        _named(findings),
        {name: number for name, number in new_log_lines(step).items() if number},
        step.left_out,
        same_day and is_identical(step),
    )


def _named(findings: Iterator[Finding] | list[Finding]) -> list[Finding]:
    return sorted(identified(findings), key=Finding.sort_key)
