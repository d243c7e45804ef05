"""How long a service holds: intervals, survey windows, calendar-month counting and what the Administration grants.

Standard library only. Dates beyond the calendar are its last day.
"""

from datetime import date, timedelta

from workbook_tools.core.interval import Interval, add_months, month_length, next_due

DATE_TO_DATE = "date to date"
SAME_MONTH = "same calendar month"


def months_after(day: date, months: int) -> date:
    """The corresponding day so many months on, held within the calendar."""
    try:
        return add_months(day, months)
    except OverflowError:
        return date.max if months > 0 else date.min


def days_after(day: date, days: int) -> date:
    """The day so many days on (below zero: before), held within the calendar."""
    try:
        return day + timedelta(days=days)
    except OverflowError:
        return date.max if days > 0 else date.min


def holds_until(done: date, interval: Interval) -> date:
    """The last day on which a service of an interval holds, counted date to date and held within the calendar."""
    try:
        return next_due(done, interval)
    except OverflowError:
        return date.max


def month_end(day: date) -> date:
    """The last day of a day's month."""
    return day.replace(day=month_length(day.year, day.month))


def counted(done: date, interval: Interval, counting: str) -> date:
    """The deadline of a service under a way of counting.

    counting: 'date to date', or 'same calendar month': a slip inside the month in which the interval ends needs no
    application to the flag (Norwegian directive SM 4-2015, for inflatable life-saving appliances).

    >>> counted(date(2025, 11, 10), Interval(months=12), SAME_MONTH)
    datetime.date(2026, 11, 30)
    """
    due = holds_until(done, interval)
    return month_end(due) if counting == SAME_MONTH and interval.months else due


def shorter(rule: Interval, makers: Interval | None, done: date) -> Interval:
    """The rule's interval, or the maker's where it ends earlier: a maker's interval never lengthens a rule's."""
    if makers is None or holds_until(done, makers) >= holds_until(done, rule):
        return rule
    return makers


def window_until(done: date, months: int, anniversary: date, before: int, after: int) -> date:
    """The last day for the next yearly examination that is tied to a survey.

    An examination within so many months before and after an anniversary (day and month count, the year does not) was
    the one of that anniversary; the next may wait until `after` months past the following one. One done outside every
    window holds as many months as the interval has. Source: A.1104(29) 1.3.2 (window of three months before to three
    after the anniversary).

    >>> window_until(date(2026, 8, 20), 12, date(2020, 11, 1), 3, 3)
    datetime.date(2028, 2, 1)
    """
    until = months_after(done, months)
    for year in range(max(done.year - 1, 1), min(done.year + 1, 9999) + 1):
        survey = date(year, anniversary.month, min(anniversary.day, month_length(year, anniversary.month)))
        if months_after(survey, -before) <= done <= months_after(survey, after):
            until = max(until, months_after(months_after(survey, months), after))
    return until


def granted_until(done: date, due: date, granted: date | None, longest_months: int | None) -> date:
    """The deadline with what the Administration has granted in writing, at most so many months after the service.

    longest_months: 17 for inflatable appliances (SOLAS III/20.8.1) and hydrostatic releases (III/20.9); None: no bound.
    """
    if granted is None:
        return due
    bound = date.max if longest_months is None else months_after(done, longest_months)
    return max(due, min(granted, bound))


def next_due_fits(written: date, done: date, due: date, latest: date) -> bool:
    """Whether a 'next due' as written is a reading of the last service and its interval.

    Fits: the deadline, the day before it (expiry is the survey date or that date less one day, HSSC guidelines), any
    day of its calendar month, and where a window or grant allows more, any day up to the latest.
    """
    if written <= done:
        return False
    day_before = due - timedelta(days=1) if due > date.min else due
    same_month = (written.year, written.month) == (due.year, due.month)
    return same_month or day_before <= written <= latest
