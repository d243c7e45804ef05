"""In date, due or expired, on a day asked."""

import calendar
from datetime import date, timedelta

from workbook_tools.core.words import counted

IN_DATE = "in date"
DUE = "due"
EXPIRED = "expired"


def month_expiry(year: int, month: int, first_day: bool = False) -> date:
    """The day a month-and-year mark stands for: the last day of the month, or the first where so chosen.

    No published text says which; the last day is a named assumption (policy row month-expiry.last-day).
    """
    return date(year, month, 1 if first_day else calendar.monthrange(year, month)[1])


def days_left(expiry: date, on: date) -> int:
    """Days from the day asked to the expiry; 0 on the day itself, below zero when it has passed."""
    return (expiry - on).days


def days_words(days: int) -> str:
    """A number of days in words: '1 day', '12 days'."""
    return counted(days, "day")


def status(expiry: date, on: date, warn_days: int) -> str:
    """'in date', 'due' (expires within warn_days) or 'expired'. The day marked is the last good day."""
    left = days_left(expiry, on)
    if left < 0:
        return EXPIRED
    return DUE if left <= warn_days else IN_DATE


def warning_ends(on: date, warn_days: int) -> date:
    """The last day of the warning period, capped at the end of the calendar."""
    try:
        return on + timedelta(days=warn_days)
    except OverflowError:
        return date.max
