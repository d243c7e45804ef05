"""Laws that hold over all arguments, and agreement with the rest of the house."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cells.calls import answer, outcome
from workbook_tools import catalogue
from workbook_tools.cells import EDITION, FUNCTIONS
from workbook_tools.cells.arguments import serial_of
from workbook_tools.core.day_text import read_day
from workbook_tools.core.quantity import required
from workbook_tools.reading.cells import type_date
from workbook_tools.rules import load_rule_set

WORDS = ("hand flare", "lifeboat", "liferaft", "rescue boat", "A", "B", "12M", "port", "yes", "cargo", "#N/A", "", " ")
SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(),
    st.integers(-10, 50_000),
    st.sampled_from(WORDS),
    st.text(max_size=8),
    st.dates(),
    st.datetimes(),
)
RANGES = st.lists(st.lists(SCALARS, min_size=1, max_size=3).map(tuple), min_size=1, max_size=3).map(tuple)
PERSONS = st.integers(1, 400)
DAYS = st.dates(date(1950, 1, 1), date(2150, 1, 1))


def plain(value: Any) -> bool:
    """Whether a result holds floats and texts only."""
    if isinstance(value, tuple):
        return all(isinstance(row, tuple) and all(plain(cell) for cell in row) for row in value)
    return isinstance(value, float | str) and (not isinstance(value, float) or value == value)


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
@settings(max_examples=150, deadline=None)
@given(arguments=st.lists(st.one_of(SCALARS, RANGES), max_size=6))
def test_whatever_comes_the_result_is_a_float_a_text_a_table_or_a_cell_error(name: str, arguments: list[Any]) -> None:
    value, error = outcome(name, *arguments)
    assert plain(value) if not error else error in ("#VALUE!", "#N/A", "#NUM!")


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_a_range_gives_what_its_cells_give_one_by_one(name: str, data: st.DataObject) -> None:
    function = FUNCTIONS[name]
    if function.result == "table" or function.arguments[0].kind in ("numbers", "texts"):
        return
    values = data.draw(st.lists(SCALARS, min_size=2, max_size=4))
    rest = data.draw(st.lists(SCALARS, min_size=len(function.arguments) - 1, max_size=len(function.arguments) - 1))
    table = answer(name, tuple((value,) for value in values), *rest)
    for value, (cell,) in zip(values, table, strict=True):
        single, error = outcome(name, value, *rest)
        assert cell == (error or single)


@given(first=PERSONS, more=st.integers(0, 100), craft=st.sampled_from(("lifeboat", "liferaft", "rescue boat")))
def test_more_persons_never_ask_less(first: int, more: int, craft: str) -> None:
    for item in ("thermal protective aid", "fresh water", "buoyant bailer", "seasickness bag"):
        fewer = answer("LSA_REQUIRED", item, craft, first)
        assert answer("LSA_REQUIRED", item, craft, first + more) >= fewer


@given(persons=PERSONS, carried=st.floats(0, 2000))
def test_what_is_short_and_what_is_carried_make_up_what_is_required(persons: int, carried: float) -> None:
    asked = answer("LSA_REQUIRED", "fresh water", "lifeboat", persons)
    missing = answer("LSA_SHORT", "fresh water", "lifeboat", persons, carried)
    assert missing >= 0
    assert missing + carried >= asked - 1e-6
    assert missing == 0 or missing + carried == pytest.approx(asked)


@given(expiry=DAYS, on=DAYS, warn=st.integers(0, 400))
def test_status_follows_days_left(expiry: date, on: date, warn: int) -> None:
    left = answer("LSA_DAYS_LEFT", expiry, on)
    assert left == -answer("LSA_DAYS_LEFT", on, expiry)
    assert answer("LSA_STATUS", expiry, on, warn) == ("expired" if left < 0 else "due" if left <= warn else "in date")


@given(done=DAYS, months=st.integers(1, 240))
def test_months_count_as_dateutil_counts_them(done: date, months: int) -> None:
    assert answer("LSA_NEXT_DUE", done, f"{months}M") == serial_of(done + relativedelta(months=months))


@given(litres=st.integers(0, 500), persons=st.integers(1, 60), days=st.integers(1, 40), dry=st.integers(0, 3))
def test_a_ration_plan_loses_no_water(litres: int, persons: int, days: int, dry: int) -> None:
    plan = answer("LSA_RATION_PLAN", litres, persons, days, None, dry)
    assert [row[0] for row in plan] == [float(day) for day in range(1, days + 1)]
    assert sum(row[2] for row in plan) + plan[-1][3] == pytest.approx(litres)
    lasts = answer("LSA_RATION_DAYS", litres, persons, None, dry)
    assert all(row[3] > 0 or row[0] >= lasts or litres == 0 for row in plan)


@given(persons=st.integers(1, 100), capacities=st.lists(st.integers(1, 100), min_size=1, max_size=6))
def test_the_worst_is_never_better_than_all_craft(persons: int, capacities: list[int]) -> None:
    column = tuple((float(capacity),) for capacity in capacities)
    sides = tuple((("port", "starboard", "aft")[number % 3],) for number in range(len(capacities)))
    every = answer("LSA_COVER_PCT", persons, column)
    assert answer("LSA_COVER_WORST_PCT", persons, column, sides) <= every
    assert answer("LSA_COVER_WORST_PCT", persons, column, sides, "yes") == pytest.approx(
        100 * (sum(capacities) - max(capacities)) / persons, abs=1e-6
    )


FIRST_WORDS = {"lifeboat": "lifeboat", "liferaft-a": "liferaft", "liferaft-b": "liferaft", "rescue-boat": "rescue boat"}


@pytest.mark.parametrize("rules", ["solas", "us"])
@pytest.mark.parametrize("subject", sorted(FIRST_WORDS))
def test_each_row_asks_the_same_in_a_cell_as_in_the_audit(rules: str, subject: str) -> None:
    pack = subject[-1].upper() if subject.startswith("liferaft-") else ""
    checked = 0
    for rule in load_rule_set(rules).of_subject(subject):
        dimension = catalogue.units()[rule.unit].dimension if rule.evidence in ("inventory", "certificate") else ""
        if not dimension or dimension != catalogue.items()[rule.item].dimension or not rule.in_force(EDITION):
            continue
        facts = {fact: values[0] for fact, values in rule.condition.clauses}
        craft = facts.pop("kind", FIRST_WORDS[subject])
        option = f"rules={rules}; " + "; ".join(f"{fact}={value}" for fact, value in facts.items())
        for persons in (6, 13, 36):
            got = answer("LSA_REQUIRED", rule.item, craft, persons, pack, option)
            asked = required(rule, persons)
            assert asked is not None
            assert got >= asked if craft == "lifeboat and rescue boat" else got == asked, rule.key
            checked += 1
    assert checked > 40


DAY_TEXTS = st.one_of(
    DAYS.flatmap(
        lambda day: st.sampled_from(
            [
                day.isoformat(),
                f"{day:%d/%m/%Y}",
                f"{day:%m-%d-%Y}",
                f"{day.day} {day:%b %Y}",
                f"{day:%B} {day.day}, {day.year}",
                f"{day:%d.%b.%y}",
                f"{day:%m/%Y}",
                f"{day:%Y-%m}",
                f"{day:%b %Y}",
                f"{day:%Y/%m/%d} 00:00:00",
            ]
        )
    ),
    st.from_regex(r"[0-9]{1,4}[-/. ][0-9A-Za-z]{1,4}[-/. ]?[0-9]{0,4}", fullmatch=True),
)


@given(text=DAY_TEXTS, month=st.booleans())
def test_a_day_as_text_is_read_as_the_workbook_reads_it(text: str, month: bool) -> None:
    assert read_day(text, month_will_do=month) == type_date(text, "expiry" if month else "date").value


@given(day=DAYS)
def test_serial_numbers_are_those_of_the_programs(day: date) -> None:
    assert date(1899, 12, 30) + timedelta(days=serial_of(day)) == day
