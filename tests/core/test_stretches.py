"""Stretches of days on which something is lacking, against counting day by day."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.core.stretches import Stretch, lacking, runs, split

FIRST = date(2027, 1, 1)
DAYS = st.integers(0, 60).map(lambda number: FIRST + timedelta(days=number))
LEVELS = st.dictionaries(DAYS, st.integers(0, 3), max_size=8)


def _level(levels: dict[date, int], day: date) -> float:
    """What is lacking on a day: the level of the latest change up to it."""
    past = [change for change in levels if change <= day]
    return float(levels[max(past)]) if past else 0.0


def _by_day(stretches: list[Stretch]) -> dict[date, float]:
    return {
        stretch.first + timedelta(days=number): stretch.amount
        for stretch in stretches
        for number in range(stretch.days)
    }


@given(LEVELS, st.integers(0, 50))
def test_the_stretches_say_of_each_day_what_is_lacking(levels: dict[date, int], length: int) -> None:
    last = FIRST + timedelta(days=length)
    found = lacking(FIRST, last, levels, lambda day: _level(levels, day))
    days = [FIRST + timedelta(days=number) for number in range(length + 1)]
    assert _by_day(found) == {day: _level(levels, day) for day in days if _level(levels, day) > 0}


@given(LEVELS)
def test_neighbours_of_one_lack_are_one_stretch(levels: dict[date, int]) -> None:
    found = lacking(FIRST, FIRST + timedelta(days=60), levels, lambda day: _level(levels, day))
    for one, other in pairwise(found):
        assert one.last < other.first
        assert one.amount != other.amount or one.last + timedelta(days=1) < other.first


@given(DAYS, st.integers(0, 30), st.lists(DAYS, max_size=6))
def test_splitting_loses_no_day(first: date, length: int, at: list[date]) -> None:
    whole = Stretch(first, first + timedelta(days=length), 2.0)
    parts = split(whole, at)
    assert _by_day(parts) == _by_day([whole])
    assert {part.first for part in parts} == {first, *(day for day in at if first < day <= whole.last)}


@given(st.lists(st.tuples(DAYS, st.integers(0, 9)), min_size=1, max_size=6))
def test_runs_join_what_touches_and_lose_no_day(spans: list[tuple[date, int]]) -> None:
    stretches = [Stretch(first, first + timedelta(days=length), 1.0) for first, length in spans]
    found = runs(stretches)
    assert set(_by_day(found)) == set(_by_day(stretches))
    assert all(one.last + timedelta(days=1) < other.first for one, other in pairwise(found))
