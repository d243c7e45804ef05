"""Books that several tests read; a test that types into one has its own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from tests.book.printed.bench import SMALL, Played, Rows, clean_rows, written
from tests.workbooks import ON

Opened = Callable[..., Played]


@pytest.fixture(scope="session")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Opened:
    """Opens a book of rows in the engine: opened(rows, room, on)."""

    def make(rows: Rows, room: dict[str, int] | None = None, on: date = ON) -> Played:
        return Played(written(rows, room or SMALL)[0], tmp_path_factory.mktemp("book"), on)

    return make


@pytest.fixture(scope="session")
def busy_rows() -> Rows:
    """The clean ship with a few things to tell: defects, certificates, what ran out, a craft with a wildcard's name."""
    rows = clean_rows()
    rows["craft"].append({"name": "Boat*", "kind": "rescue boat", "persons": 6, "side": "aft", "construction": "rigid"})
    rows["defects"] = [
        {"subject": "Lifeboat 1", "fitting": "limit switches", "wrong": "sticks", "since": date(2026, 11, 1)},
        {"subject": "Lifeboat 1", "fitting": "hull and canopy", "wrong": "crack", "closed": date(2026, 11, 20)},
        {"subject": "Boat*", "fitting": "fuel for 24 hours", "wrong": "=1+1 leaks", "since": date(2026, 11, 2)},
        {"subject": "Lifeboat 2", "fitting": "painter release", "wrong": "later", "since": date(2026, 12, 2)},
    ]
    rows["certificates"] = [
        {"certificate": "Safety Equipment", "number": "SE 1", "issued": date(2024, 1, 5), "until": date(2027, 1, 4)},
        {"certificate": "Radio", "number": "R 7", "until": date(2026, 11, 24)},
        {"certificate": "Tonnage", "number": "T 2", "place": "Master's safe"},
        {"certificate": "Load Line", "until": date(2026, 12, 1)},
    ]
    rows["follow_up"] = [
        {
            "finding": "EQ01-aaaaaa",
            "order": "R-12",
            "port": "Skarhavn",
            "expected": date(2026, 12, 9),
            "interim": "two borrowed",
        },
        {"finding": "EX02-bbbbbb", "expected": date(2026, 11, 1)},
        {"finding": "CV02-cccccc", "closed": date(2026, 11, 2)},
    ]
    rows["exemptions"] = [
        {"rule": "lifeboat.food-ration", "authority": "Flag", "reference": "L 44", "until": date(2027, 5, 1)},
        {"rule": "lifeboat.fishing-tackle", "authority": "Flag"},
    ]
    rows["crew"][0] |= {"name": "Ada Vor", "substitute_for": "7"}
    rows["crew"][6] |= {"name": "Bo Lind", "substitute_for": "1, 2"}
    rows["crew"] += [
        {"number": "13", "rank": "cook", "name": "Cy Elm", "craft": "Boat*", "duty": "person in charge"},
        {"number": "14", "rank": "wiper", "name": "Di Oak", "craft": "Raft Q"},
        {"number": "15", "rank": "cadet", "name": "Ed Ash"},
        {"number": "16", "rank": "oiler", "name": "Fi Yew", "craft": "Lifeboat 1", "joined": date(2026, 12, 1)},
    ]
    return rows


@pytest.fixture(scope="session")
def busy(opened: Opened, busy_rows: Rows) -> Played:
    """That ship's book."""
    return opened(busy_rows)
