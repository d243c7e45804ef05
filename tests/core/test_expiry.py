"""In date, due, expired: the boundary days."""

from datetime import date, timedelta

import pytest

from workbook_tools.core.expiry import days_left, month_expiry, status, warning_ends

ON = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("left", "word"), [(-1, "expired"), (0, "due"), (90, "due"), (91, "in date"), (-4000, "expired")]
)
def test_the_day_marked_is_the_last_good_day(left: int, word: str) -> None:
    expiry = ON + timedelta(days=left)
    assert status(expiry, ON, 90) == word
    assert days_left(expiry, ON) == left


def test_without_warning_only_the_last_day_itself_is_due() -> None:
    assert status(ON, ON, 0) == "due"
    assert status(ON + timedelta(days=1), ON, 0) == "in date"


@pytest.mark.parametrize(("year", "month", "last"), [(2027, 2, 28), (2028, 2, 29), (2027, 12, 31), (2027, 6, 30)])
def test_a_month_stands_for_its_last_day_or_its_first_where_so_chosen(year: int, month: int, last: int) -> None:
    assert month_expiry(year, month) == date(year, month, last)
    assert month_expiry(year, month, first_day=True) == date(year, month, 1)


def test_the_warning_period_stops_at_the_end_of_the_calendar() -> None:
    assert warning_ends(date(9999, 12, 1), 90) == date.max
