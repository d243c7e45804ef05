"""How long a service holds."""

from datetime import date

import pytest

from workbook_tools.core.interval import Interval, parse_interval
from workbook_tools.core.servicing import (
    DATE_TO_DATE,
    SAME_MONTH,
    counted,
    granted_until,
    holds_until,
    month_end,
    months_after,
    next_due_fits,
    shorter,
    window_until,
)

YEAR = Interval(months=12)


@pytest.mark.parametrize(
    ("done", "interval", "until"),
    [
        (date(2025, 11, 10), "12M", date(2026, 11, 10)),
        (date(2024, 2, 29), "12M", date(2025, 2, 28)),
        (date(2026, 10, 25), "30D", date(2026, 11, 24)),
        (date(2021, 11, 25), "5Y", date(2026, 11, 25)),
    ],
)
def test_a_service_holds_until_the_corresponding_day(done: date, interval: str, until: date) -> None:
    assert holds_until(done, parse_interval(interval)) == until


def test_the_calendar_has_an_end() -> None:
    assert holds_until(date(9999, 6, 1), YEAR) == date.max
    assert months_after(date(9999, 6, 1), 12) == date.max
    assert months_after(date(1, 2, 1), -3) == date.min


@pytest.mark.parametrize(("counting", "until"), [(DATE_TO_DATE, date(2026, 11, 10)), (SAME_MONTH, date(2026, 11, 30))])
def test_the_way_of_counting_decides_between_the_day_and_the_end_of_its_month(counting: str, until: date) -> None:
    assert counted(date(2025, 11, 10), YEAR, counting) == until


def test_an_interval_in_days_does_not_slip_to_the_end_of_a_month() -> None:
    assert counted(date(2026, 11, 1), Interval(days=30), SAME_MONTH) == date(2026, 12, 1)


def test_the_end_of_february_depends_on_the_year() -> None:
    assert [month_end(date(year, 2, 3)).day for year in (2027, 2028)] == [28, 29]


# The anniversary is 1 November; the window reaches from 1 August to 1 February (A.1104(29) 1.3.2).
@pytest.mark.parametrize(
    ("done", "until"),
    [
        (date(2026, 8, 1), date(2028, 2, 1)),
        (date(2026, 11, 1), date(2028, 2, 1)),
        (date(2027, 2, 1), date(2028, 2, 1)),
        (date(2026, 7, 31), date(2027, 7, 31)),
        (date(2027, 2, 2), date(2028, 2, 2)),
    ],
)
def test_an_examination_within_the_window_is_the_one_of_its_anniversary(done: date, until: date) -> None:
    assert window_until(done, 12, date(2019, 11, 1), 3, 3) == until


def test_without_a_window_after_nothing_waits_past_the_anniversary() -> None:
    assert window_until(date(2026, 9, 1), 12, date(2019, 11, 1), 3, 0) == date(2027, 11, 1)
    assert window_until(date(2026, 11, 2), 12, date(2019, 11, 1), 3, 0) == date(2027, 11, 2)


def test_an_anniversary_on_a_leap_day_is_the_28th_in_other_years() -> None:
    assert window_until(date(2027, 2, 28), 12, date(2024, 2, 29), 3, 3) == date(2028, 5, 28)


@pytest.mark.parametrize(
    ("granted", "longest", "until"),
    [
        (None, 17, date(2026, 6, 1)),
        (date(2026, 9, 1), 17, date(2026, 9, 1)),
        (date(2026, 11, 1), 17, date(2026, 11, 1)),
        (date(2026, 11, 2), 17, date(2026, 11, 1)),
        (date(2027, 3, 1), None, date(2027, 3, 1)),
        (date(2026, 5, 1), 17, date(2026, 6, 1)),
    ],
)
def test_a_grant_counts_up_to_the_longest_interval_and_never_shortens(
    granted: date | None, longest: int | None, until: date
) -> None:
    assert granted_until(date(2025, 6, 1), date(2026, 6, 1), granted, longest) == until


@pytest.mark.parametrize(("makers", "chosen"), [("6M", "6M"), ("365D", "12M"), ("2Y", "12M"), (None, "12M")])
def test_a_makers_interval_only_shortens(makers: str | None, chosen: str) -> None:
    interval = parse_interval(makers) if makers else None
    assert shorter(YEAR, interval, date(2025, 6, 1)) == parse_interval(chosen)


@pytest.mark.parametrize(
    ("written", "fits"),
    [
        (date(2026, 6, 10), True),
        (date(2026, 6, 9), True),
        (date(2026, 6, 30), True),
        (date(2026, 6, 1), True),
        (date(2026, 5, 31), False),
        (date(2026, 7, 1), False),
        (date(2025, 6, 10), False),
    ],
)
def test_a_next_due_is_the_day_or_one_less_or_in_its_month(written: date, fits: bool) -> None:
    due = date(2026, 6, 10)
    assert next_due_fits(written, date(2025, 6, 10), due, due) is fits


def test_a_next_due_up_to_the_end_of_a_window_fits() -> None:
    assert next_due_fits(date(2026, 9, 1), date(2025, 6, 10), date(2026, 6, 10), date(2026, 9, 1))
    assert not next_due_fits(date(2026, 9, 2), date(2025, 6, 10), date(2026, 6, 10), date(2026, 9, 1))


def test_one_day_less_than_the_first_of_a_month_fits() -> None:
    assert next_due_fits(date(2026, 5, 31), date(2025, 6, 1), date(2026, 6, 1), date(2026, 6, 1))
