"""Intervals: reading them and counting them."""

import calendar
from datetime import date

import pytest

from workbook_tools.core.interval import Interval, add_months, month_length, next_due, parse_interval


@pytest.mark.parametrize(
    ("text", "interval"),
    [
        ("12M", Interval(months=12)),
        ("5Y", Interval(months=60)),
        ("2W", Interval(days=14)),
        ("30D", Interval(days=30)),
        (" 12 months ", Interval(months=12)),
        ("1 week", Interval(days=7)),
    ],
)
def test_reads_an_interval(text: str, interval: Interval) -> None:
    assert parse_interval(text) == interval


@pytest.mark.parametrize("text", ["", "12", "M12", "0M", "-3D", "1.5Y", "12MM", "yearly"])
def test_refuses_what_is_no_interval(text: str) -> None:
    with pytest.raises(ValueError, match="no interval"):
        parse_interval(text)


def test_prints_as_it_is_read() -> None:
    assert [str(parse_interval(text)) for text in ("12M", "18M", "2W", "30D")] == ["1Y", "18M", "2W", "30D"]


@pytest.mark.parametrize(
    ("start", "months", "end"),
    [
        (date(2027, 1, 31), 1, date(2027, 2, 28)),
        (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2026, 9, 30), 4, date(2027, 1, 30)),  # month-end does not stick
        (date(2026, 3, 31), -1, date(2026, 2, 28)),
    ],
)
def test_short_months_end_on_their_last_day(start: date, months: int, end: date) -> None:
    assert add_months(start, months) == end


def test_past_the_calendar_is_an_error_and_not_a_wrong_day() -> None:
    with pytest.raises(OverflowError):
        add_months(date(9999, 6, 1), 12)


def test_a_due_date_counts_from_the_day_done() -> None:
    assert next_due(date(2026, 10, 20), parse_interval("12M")) == date(2027, 10, 20)
    assert next_due(date(2026, 10, 20), parse_interval("30D")) == date(2026, 11, 19)


@pytest.mark.parametrize("year", [1, 1900, 2000, 2026, 2028, 2100, 9999])
def test_a_month_is_as_long_as_the_calendar_says(year: int) -> None:
    assert [month_length(year, month) for month in range(1, 13)] == [
        calendar.monthrange(year, month)[1] for month in range(1, 13)
    ]
