"""A small living workbook as davitbook writes it, and what the audit says of it; example_books/living.py edits it."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

from tests.workbooks import ON, boat_lots, clean
from workbook_tools.book import build
from workbook_tools.checks import Options, audit_book
from workbook_tools.findings import BookResult, Finding
from workbook_tools.reading import read_book

FEW = {
    "servicing": 3,
    "routine": 3,
    "fire": 3,
    "defects": 3,
    "follow_up": 3,
    "ports": 3,
    "certificates": 3,
    "record_of_equipment": 3,
    "exemptions": 3,
}
ROOM = {"craft": 2, "inventory": 45, "crew": 5, **FEW}
OWN_CODES = ("WB25", "WB26", "WB27", "WB28")


@cache
def small(on: date = ON, printed: bool = False) -> bytes:
    """One lifeboat with what must lie in it, as `davitbook new` would write it, with values of a day.

    printed: with the pages to print, which take their time.
    """
    book = clean()
    boat = book.find("craft", name="Lifeboat 1")
    return build(
        "",
        on=on,
        room=ROOM,
        rows={"ship": [book.ship], "craft": [boat], "inventory": boat_lots("Lifeboat 1")},
        printed=printed,
    )


def audited(book: bytes, folder: Path, on: date = ON, ending: str = ".xlsx") -> BookResult:
    """The audit of a book's bytes."""
    path = folder / f"returned{ending}"
    path.write_bytes(book)
    return audit_book(read_book(path), Options(on))


def own_findings(book: bytes, folder: Path, on: date = ON) -> list[Finding]:
    """What the audit says of the sheets that the book calculates."""
    return [finding for finding in audited(book, folder, on).findings if finding.code in OWN_CODES]
