"""When the next of a routine falls due, and how that is said."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from workbook_tools.checks.context import Audit
from workbook_tools.core import routine as core
from workbook_tools.core.expiry import days_left, days_words
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import days_after, months_after
from workbook_tools.rules import Rule
from workbook_tools.rules.loader import policies


@lru_cache(maxsize=1_000)
def interval_of(rule: Rule) -> Interval:
    """The interval that a rule's quantity and unit give; hours become the days they touch."""
    if rule.unit == "months":
        return Interval(months=int(rule.fixed))
    return Interval(days=core.whole_days(rule.fixed) if rule.unit == "h" else int(rule.fixed))


def interval_words(rule: Rule) -> str:
    """'7 days', '1 month'."""
    unit = rule.unit[:-1] if rule.fixed == 1 and rule.unit in ("days", "months") else rule.unit
    return f"{rule.fixed:g} {unit}"


def every_words(rule: Rule) -> str:
    """'every 7 days', 'every month'."""
    return f"every {rule.unit[:-1]}" if rule.fixed == 1 else f"every {interval_words(rule)}"


def same_month(audit: Audit) -> bool:
    """Whether the Ship sheet says that deadlines run to the end of their calendar month."""
    return audit.ship_facts.get("deadline_counting") == "same calendar month"


def due_day(audit: Audit, rule: Rule, last: date) -> date:
    """The last day on which the next one is in time."""
    return core.deadline(last, interval_of(rule), same_month(audit))


def lead_of(audit: Audit, last: date, due: date) -> int:
    """Days before a deadline at which it is called due: a share of its interval, at most the days for servicing."""
    return core.lead_days(last, due, policies()["routine.lead-share"].value, audit.warn_days("servicing"))


def in_lead(audit: Audit, last: date, due: date) -> bool:
    """Whether a deadline lies within its lead."""
    return 0 <= days_left(due, audit.on) <= lead_of(audit, last, due)


def when_due(audit: Audit, due: date) -> str:
    """'on 2026-12-01, in 6 days', with the departure that comes before it is too late."""
    left = days_left(due, audit.on)
    leaves = audit.book.ship_value("next_departure")
    before = f", before the departure on {leaves}" if leaves is not None and audit.on <= due <= leaves else ""
    return f"on {due}, {'today' if left == 0 else f'in {days_words(left)}'}{before}"


def back(due: date | None, every: Interval) -> date:
    """The day from which an interval leads to a day; None: to the last day there is."""
    day = due or date.max
    return months_after(day, -every.months) if every.months else days_after(day, -every.days)
