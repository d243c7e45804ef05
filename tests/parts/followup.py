"""A follow-up that came to its end: it names a finding of last spring and is closed."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.workbooks import Workbook


def fill(book: Workbook) -> None:
    """Add the closed line."""
    book.add(
        "follow_up",
        finding="EQ01-aaaaaa",
        order="R-2026-014",
        port="Port Ellery",
        expected=date(2026, 4, 20),
        closed=date(2026, 4, 18),
    )
