"""The calls of the clean ship: one that has passed, and two ahead."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.workbooks import Workbook


def fill(book: Workbook) -> None:
    """Add the calls."""
    everything = dict.fromkeys(
        ("stores", "pyrotechnics", "liferaft_station", "extinguisher_service", "boat_provider", "radio_service"), "x"
    )
    book.add("ports", port="Port Ellery", arrival=date(2026, 11, 18), departure=date(2026, 11, 20), stores="x")
    book.add(
        "ports",
        port="Kellimar",
        arrival=date(2027, 1, 11),
        departure=date(2027, 1, 15),
        lead_days=14,
        raft_days=1,
        **everything,
    )
    book.add(
        "ports",
        port="Port Ellery",
        arrival=date(2027, 3, 8),
        departure=date(2027, 3, 9),
        stores="x",
        pyrotechnics="no",
        lead_days=7,
    )
