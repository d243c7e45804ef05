"""Whatever stands in the cells, and whatever day is asked: an audit ends, and never with an error."""

from __future__ import annotations

import random
from datetime import date
from typing import Any

import pytest

from tests.workbooks import ON, Workbook, clean

DAYS = (date(1, 1, 1), date(1990, 1, 1), date(1998, 6, 30), date(2010, 2, 28), date(9999, 12, 31))
JUNK: tuple[Any, ...] = (
    *(1e300, -1e300, -5, 0, 0.5, float("nan"), float("inf"), 2**63, 20000, 80000, 1, 2, 12),
    *(date(1, 1, 1), date(1900, 1, 1), date(9999, 12, 31), date(2026, 11, 25), True, False),
    *("", "   ", "x" * 5000, "\x00\x01", "=1+1", "#REF!", "N/A", "nil", "31/02/2027", "00/2027", "9999-12-31"),
    *("0001-01-01", "1-99999999", "all except", "all except all", "1-", "12M", "99999999Y", "0M", "500 mL", "5e9 mL"),
    *("Lifeboat 1", "Lifebaot 1", "Lifeboat 1, Lifeboat 2 and 7", "Raft P/S", "*", "(?", "[a-z]", "%s{}{0}", "½"),
    *("person in charge", "yes", "no", "us", "passenger ship", "oil tanker", "domestic", "same calendar month"),
    *("liferaft", "rescue boat", "free-fall lifeboat", "B", "remote", "extra", "port", "not held", "defect", "ß" * 50),
)


@pytest.mark.parametrize("rule_set", ["solas", "us"])
@pytest.mark.parametrize("on", DAYS)
def test_the_clean_book_can_be_asked_of_any_day(on: date, rule_set: str) -> None:
    assert clean().audit(on, rule_set=rule_set).states


def _spoilt(pick: random.Random) -> Workbook:
    """The clean book with some cells, of the form as well, replaced by junk."""
    book = clean()
    for _ in range(pick.choice((1, 3, 10, 40))):
        key = pick.choice(["ship", *(key for key, lines in book.rows.items() if lines)])
        line = book.ship if key == "ship" else pick.choice(book.rows[key])
        line[pick.choice(list(line) if key == "ship" else book.order(key))] = pick.choice(JUNK)
    return book


@pytest.mark.parametrize("seed", range(150))
def test_junk_in_any_cell_stops_no_audit(seed: int) -> None:
    pick = random.Random(seed)
    book = _spoilt(pick)
    book.audit(pick.choice((ON, *DAYS)), rule_set=pick.choice((None, "solas", "us")))
