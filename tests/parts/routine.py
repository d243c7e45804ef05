"""Weekly and monthly routine, drills and training, held on the days they are due over the whole span of the tests."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from tests.workbooks import ON, Workbook

FIRST, LAST = date(2026, 10, 14), date(2027, 6, 30)  # Wednesdays, like ON
JOINED = date(2026, 6, 1)
DEPARTED = date(2026, 11, 20)

WEEKLY = ("weekly inspection", "engine run", "boats moved from stowage", "general alarm test", "fire weekly inspection")
WEEKLY_WITH_CREW = ("abandon ship drill", "fire drill")
# Held every four weeks: more often than any of these is asked, so that none is due on any day.
FOUR_WEEKLY = (
    "boats turned out",
    "monthly inspection",
    "fire monthly inspection",
    "fire quarterly inspection",
    "fire annual inspection",
    "instruction in appliances",
    "lifeboat launched",
    "steering drill",
)


def days(start: date, step: int) -> Iterator[date]:
    """Every so many days from a day to the end of the span."""
    day = start
    while day <= LAST:
        yield day
        day += timedelta(days=step)


def fill(book: Workbook) -> None:
    """Add the lines, latest kind last; nothing is due on ON."""
    book.ship.setdefault("departed", DEPARTED)
    book.ship.setdefault("voyage_under_24h", "no")
    for day in days(FIRST, 7):
        for task in WEEKLY:
            book.add("routine", day=day, task=task, result="satisfactory")
        for task in WEEKLY_WITH_CREW:
            book.add("routine", day=day, task=task, present="all", result="satisfactory")
    for day in days(ON - timedelta(days=42), 28):
        for task in FOUR_WEEKLY:
            book.add("routine", day=day, task=task)
        book.add("routine", day=day, task="enclosed space drill", present="all")
    book.add("routine", day=JOINED + timedelta(days=2), task="joining training", present="all")
    book.add("routine", day=book.ship["departed"], task="steering gear test")
