"""Two returns of one invented ship, a month apart, as rows that a test changes."""

from __future__ import annotations

from datetime import date

from tests.workbooks import ON, Workbook, clean
from workbook_tools.compare.changes import Change, changes
from workbook_tools.compare.registry import SUSPICIONS
from workbook_tools.compare.step import Step
from workbook_tools.findings import Finding
from workbook_tools.reading import Book, RawBook, read_raw

BEFORE = date(2026, 10, 28)


def two() -> tuple[Workbook, Workbook]:
    """The clean ship in October and in November. Nothing but the record date and one weekly inspection is new."""
    old, new = clean(), clean()
    old.ship["record_date"], new.ship["record_date"] = BEFORE, ON
    new.add("routine", day=ON, task="boats turned out", result="satisfactory", by="second officer")
    return old, new


def read(book: Workbook) -> Book:
    """The book as it is read, without a file."""
    return read_raw(RawBook("test.xlsx", book.grids(), errors=book.errors))


def step(old: Workbook, new: Workbook) -> Step:
    """The two returns, read."""
    return Step(read(old), read(new))


def suspicions(made: Step) -> list[Finding]:
    """What looks wrong from one to the next."""
    return [finding for look in SUSPICIONS for finding in look(made)]


def changed(old: Workbook, new: Workbook) -> list[Change]:
    """What changed from one to the next."""
    return list(changes(step(old, new)))
