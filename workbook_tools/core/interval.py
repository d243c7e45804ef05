"""Interval arithmetic: '12M', '5Y', '2W', '30D'. Short months follow EDATE: 31 January + 1 month = 28 February."""

import calendar
import re
from dataclasses import dataclass
from datetime import date, timedelta

_MONTH_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_FORM = re.compile(r"\s*(\d{1,4})\s*(d|days?|w|weeks?|m|months?|y|years?)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Interval:
    """A number of days and a number of months; one of the two is zero."""

    months: int = 0
    days: int = 0

    def __str__(self) -> str:
        if self.months:
            return f"{self.months // 12}Y" if self.months % 12 == 0 else f"{self.months}M"
        return f"{self.days // 7}W" if self.days and self.days % 7 == 0 else f"{self.days}D"


def parse_interval(text: str) -> Interval:
    """Read '12M', '5Y', '2W', '30D' (also '12 months'). Raises ValueError for anything else and for zero."""
    match = _FORM.fullmatch(text)
    if not match or int(match[1]) == 0:
        raise ValueError(f"{text!r} is no interval: write 12M, 5Y, 2W or 30D")
    count, letter = int(match[1]), match[2][0].lower()
    if letter in "my":
        return Interval(months=count * (12 if letter == "y" else 1))
    return Interval(days=count * (7 if letter == "w" else 1))


def add_months(start: date, months: int) -> date:
    """The same day number so many months on, or that month's last day when it is shorter (as EDATE).

    Source: EDATE of the OpenDocument formula standard; the corresponding-date rule counts the same way.
    Raises OverflowError when the result lies outside the years 1 to 9999.
    """
    index = start.year * 12 + (start.month - 1) + months
    year, month = divmod(index, 12)
    if not 1 <= year <= 9999:
        raise OverflowError(f"{start} plus {months} months lies outside the calendar")
    return date(year, month + 1, min(start.day, month_length(year, month + 1)))


def month_length(year: int, month: int) -> int:
    """Days of a month, without the weekday that calendar.monthrange works out beside them.

    >>> month_length(2028, 2)
    29
    """
    return 29 if month == 2 and calendar.isleap(year) else _MONTH_LENGTHS[month - 1]


def next_due(last_done: date, interval: Interval) -> date:
    """The day on which an interval that began on last_done ends.

    Count every due date from the original date, not from the one before: month-end does not stick.
    """
    if interval.months:
        return add_months(last_done, interval.months)
    return last_done + timedelta(days=interval.days)
