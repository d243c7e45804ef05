"""What looks at the ship's fittings and is in no other part; Defects holds one line that is closed."""

from __future__ import annotations

from datetime import date, timedelta

from tests.parts.routine import days
from tests.workbooks import ON, Workbook

TRIED = ("quick-closing valves tried", "remote stops tried", "emergency generator run", "emergency lights tried")


def fill(book: Workbook) -> None:
    """Add the lines; all fittings of craft and ship are in order on every day."""
    for day in days(ON - timedelta(days=42), 28):
        for task in TRIED:
            book.add("routine", day=day, task=task)
    closed = {"since": date(2026, 8, 3), "closed": date(2026, 8, 4)}
    book.add("defects", subject="Lifeboat 1", fitting="wipers and windows", wrong="wiper blade torn", **closed)
