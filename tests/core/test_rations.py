"""How long water lasts: the days, the issue that reaches a day, and what is gained on the way."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.core.rations import LONGEST_PLAN, Issue, days_lasting, issue_reaching, plan

litres = st.floats(0, 500).map(lambda value: round(value, 3))
persons = st.integers(1, 60)
each = st.floats(0.05, 3).map(lambda value: round(value, 3))


@given(litres, persons, each, st.integers(0, 3), st.integers(0, 60), st.integers(1, 40))
def test_no_litre_is_lost_or_made(water: float, people: int, issue: float, dry: int, injured: int, days: int) -> None:
    found = list(plan(water, Issue(people, issue, dry, injured), days, lambda day: 0.25 * (day % 3)))
    gained, issued = sum(day.gained for day in found), sum(day.issued for day in found)
    assert math.isclose(water + gained, issued + found[-1].left, abs_tol=1e-6)
    assert all(day.left >= 0 for day in found)


@given(litres, persons, each, st.integers(0, 3))
def test_the_plan_and_the_length_agree(water: float, people: int, issue: float, dry: int) -> None:
    lasts = days_lasting(water, Issue(people, issue, dry))
    assert lasts is not None
    days = list(plan(water, Issue(people, issue, dry), min(LONGEST_PLAN, int(lasts) + 1)))
    assert all(day.full for day in days if day.day <= lasts - 1e-6)
    if int(lasts) + 1 <= LONGEST_PLAN and lasts >= dry and abs(lasts - round(lasts)) > 1e-6:
        assert not days[-1].full


@given(litres, persons, each, st.integers(0, 2), st.integers(0, 20))
def test_more_injured_never_lengthen_it(water: float, people: int, issue: float, dry: int, injured: int) -> None:
    without = days_lasting(water, Issue(people, issue, dry), lambda day: 0.0)
    within = days_lasting(water, Issue(people, issue, dry, injured), lambda day: 0.0)
    assert within is None or (without is None or within <= without + 1e-6)


@given(litres, persons, st.integers(0, 2), st.integers(0, 10), st.integers(1, 60), st.floats(0, 5))
def test_the_issue_that_reaches_a_day_does_and_a_larger_one_does_not(
    water: float, people: int, dry: int, injured: int, last: int, rain: float
) -> None:
    found = issue_reaching(water, Issue(people, 1.0, dry, injured), last, lambda day: rain)
    if found is None:
        assert Issue(people, 1.0, dry, injured).persons_on(last) == 0
        return
    if found < 0.001:
        return  # nothing to speak of
    less, more = found * (1 - 1e-6), found * (1 + 1e-3)
    assert all(day.full for day in plan(water, Issue(people, less, dry, injured), last, lambda day: rain))
    assert not all(day.full for day in plan(water, Issue(people, more, dry, injured), last, lambda day: rain))


def test_the_injured_drink_on_the_dry_day() -> None:
    first, second = plan(10, Issue(4, 0.5, 1, injured=2), 2)
    assert (first.issued, second.issued, second.left) == (1.0, 2.0, 7.0)


def test_there_are_no_more_injured_than_persons() -> None:
    assert Issue(3, 0.5, 1, injured=9).asked_on(1) == 1.5


@pytest.mark.parametrize(("gain", "lasts"), [(2.0, None), (0.0, 5.0), (1.0, 9.5)])
def test_what_is_gained_lengthens_it(gain: float, lasts: float | None) -> None:
    """8 L for 4 persons at half a litre: four days of issue; with half of it gained each day, eight and a half."""
    found = days_lasting(8, Issue(4, 0.5, 1), lambda day: gain if day > 1 else 0.0)
    assert found == lasts
