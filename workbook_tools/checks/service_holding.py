"""How long one recorded service holds: its interval, survey window, grants and whose hands did it (SOLAS III/20)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache

from workbook_tools.checks.context import Audit, Craft
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import (
    DATE_TO_DATE,
    SAME_MONTH,
    counted,
    granted_until,
    holds_until,
    months_after,
    shorter,
    window_until,
)
from workbook_tools.reading import Row
from workbook_tools.rules import Rule
from workbook_tools.rules.loader import Policy, policies

NO_LETTER = "puts it off, and no line of the Servicing sheet has the reference of that grant"
SAME_MONTH_SOURCE = "Norwegian directive SM 4-2015"


@dataclass(slots=True)
class Holding:
    """How long one recorded service holds.

    due: until this day for certain. maybe: until this day if what is not recorded is as good as it can be.
    hands: 'ok', 'wrong' (the crew, where the rule asks others) or 'open' (not shown to be one of those asked).
    """

    sheet: str
    row: Row
    column: str
    done: date
    due: date
    maybe: date
    hands: str = "ok"
    reading: str = ""  # what made the deadline later than date to date
    doubt: str = ""  # why maybe is later than due


@lru_cache(maxsize=4_000)
def policy_of(kind: str, rule: Rule) -> Policy | None:
    """The figure of our own of one kind (window, margin, latest, start) for a rule; None where it has none."""
    return _policies_by_rule().get((kind, rule.key))


@dataclass(frozen=True, slots=True)
class _Terms:
    """What bears on how long a service of a rule holds: its interval and our own figures for it."""

    interval: Interval
    window: Policy | None
    margin: Policy | None
    latest: Policy | None


@lru_cache(maxsize=1_000)
def _terms_of(rule: Rule) -> _Terms:
    return _Terms(interval_of(rule), *(policy_of(kind, rule) for kind in ("window", "margin", "latest")))


@cache
def _policies_by_rule() -> dict[tuple[str, str], Policy]:
    found: dict[tuple[str, str], Policy] = {}
    for key, policy in policies().items():
        found.setdefault((key.partition(".")[0], policy.group), policy)
    return found


@lru_cache(maxsize=1_000)
def interval_of(rule: Rule) -> Interval:
    """The interval that a rule's quantity and unit give."""
    return Interval(days=int(rule.fixed)) if rule.unit == "days" else Interval(months=int(rule.fixed))


def interval_words(rule: Rule) -> str:
    """'12 months'."""
    return f"{rule.fixed:g} {rule.unit}"


def _hands(audit: Audit, rule: Rule, row: Row, done: date) -> str:
    """Who did it, by the row of the rule in force on the day of the work."""
    who = row.get("done_by")
    if who in rule.done_by and rule.in_force(done):
        return "ok"
    rows = audit.rule_set.by_key().get(rule.key, [rule])
    asked = next((other.done_by for other in rows if other.in_force(done)), ())
    if not asked or who in asked:
        return "ok"
    return "wrong" if who == "crew" else "open"


def reach(audit: Audit, rule: Rule, done: date, makers: Interval | None) -> tuple[date, date, str, str]:
    """(due, maybe, reading, doubt) of a service done on a day, grants apart."""
    terms = _terms_of(rule)
    interval = shorter(terms.interval, makers, done)
    strict = holds_until(done, interval)
    if interval is not terms.interval:
        return strict, strict, "", ""
    if window := terms.window:
        return _in_window(audit, rule, done, int(window.value), window.reference)
    if margin := terms.margin:
        due = months_after(strict, int(margin.value))
        return due, due, f"with the {margin.value:g} months after it that {margin.reference} leaves", ""
    if latest := terms.latest:
        return strict, months_after(done, int(latest.value)), "", "the survey that it goes with is not recorded"
    # The text lets the flag put off only what has a longest interval of its own, so only there does the month slip.
    if rule.extended_to is not None and audit.ship_facts.get("deadline_counting") == SAME_MONTH:
        due = counted(done, interval, SAME_MONTH)
        reading = f"counted within the {SAME_MONTH} ({SAME_MONTH_SOURCE}), not {DATE_TO_DATE}" if due > strict else ""
        return due, due, reading, ""
    return strict, strict, "", ""


def _in_window(audit: Audit, rule: Rule, done: date, months: int, source: str) -> tuple[date, date, str, str]:
    strict = holds_until(done, interval_of(rule))
    family, anniversary = audit.ship_facts.get("ship_family"), audit.book.ship_value("anniversary")
    # Passenger ships renew their certificate each year: nothing may wait past the anniversary (SOLAS I/7).
    beyond = _policies_by_rule().get(("window-after", family or ""))
    after = months if beyond is None else int(beyond.value)
    if family is None or anniversary is None:
        missing = "the ship type" if family is None else "the survey anniversary"
        return strict, months_after(strict, months + after), "", f"{missing} is not recorded"
    due = window_until(done, int(rule.fixed), anniversary, months, after)
    return due, due, f"within the survey window ({source})" if due > strict else "", ""


def line_holding(audit: Audit, rule: Rule, row: Row) -> Holding | None:
    """How long a line of the Servicing sheet holds; None without a readable day."""
    done = row.get("done")
    if done is None:
        return None
    due, maybe, reading, doubt = reach(audit, rule, done, row.get("interval"))
    granted, reference = row.get("granted_until"), row.get("grant_reference")
    if granted is not None and reference is not None and granted > due:
        if rule.extended_to is not None:
            due = granted_until(done, due, granted, int(rule.extended_to))
            maybe, reading = max(due, maybe), f"put off by the Administration ({reference})"
        else:
            maybe, doubt = max(maybe, granted), f"put off by {reference}, though the paragraph knows no extension"
    return Holding("servicing", row, "done", done, due, maybe, _hands(audit, rule, row, done), reading, doubt)


def raft_holding(audit: Audit, craft: Craft, rule: Rule) -> Holding | None:
    """The service that a raft's own line on the Craft sheet records."""
    serviced = craft.row.get("serviced")
    if serviced is None:
        return None
    due, maybe, reading, doubt = reach(audit, rule, serviced, None)
    granted = craft.row.get("service_granted_until")
    longest = int(rule.extended_to) if rule.extended_to is not None else None
    later = granted_until(serviced, due, granted, longest)
    if later > max(due, maybe):
        # the Craft sheet has no cell for the letter: a grant counts from a line of the Servicing sheet that names it
        maybe, doubt = later, f"{audit.where('craft', craft.row, 'service_granted_until')} {NO_LETTER}"
    return Holding("craft", craft.row, "serviced", serviced, due, max(due, maybe), "ok", reading, doubt)
