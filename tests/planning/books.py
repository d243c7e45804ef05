"""Audits of books in memory, and of the example fleet."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from tests.workbooks import ON, Workbook
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.context import Audit
from workbook_tools.findings import BookResult
from workbook_tools.fleet.run import check_one
from workbook_tools.reading import RawBook, read_raw

EXAMPLES = Path(__file__).parents[2] / "example_books"
SHIPS = ("marrowick-fell", "odrunsel", "saltorra", "veshmoor", "quillane", "thornuve")


def audited(book: Workbook, on: date = ON, warn_days: int | None = None) -> Audit:
    """The audit of a book that is in memory only."""
    return audit_in_full(read_raw(RawBook("test.xlsx", book.grids())), Options(on, warn_days))[0]


def example(name: str, on: date = ON, warn_days: int | None = None) -> tuple[Audit, BookResult]:
    """The audit of one ship of the example fleet."""
    return check_one(EXAMPLES / f"{name}.xlsx", Options(on, warn_days))
