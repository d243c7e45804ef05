"""How long water lasts, day by day: common practice of the survival-craft training texts, no rule.

Nothing is issued on the dry days but to the injured; from then on each person has the same issue every day. What rain
or a desalinator brings on a day can be issued on that day. Litres, days, persons; standard library only.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

LONGEST_PLAN = 366  # days; whatever lasts longer lasts 'longer than can be told'
_EXACT = 9  # decimals kept of a litre: more than any measure, fewer than the slips of binary fractions

Gain = Callable[[int], float]


def nothing_gained(_day: int) -> float:
    """No water but what is stowed."""
    return 0.0


@dataclass(frozen=True, slots=True)
class Issue:
    """How water is issued.

    persons: in the craft. litres: for each person and day after the dry days. injured: persons who have their issue on
    the dry days as well.
    """

    persons: int
    litres: float
    dry_days: float
    injured: int = 0

    def persons_on(self, day: int) -> int:
        """Persons who are issued water on a day, counted from 1; an injured person is one of those in the craft."""
        return self.persons if day > self.dry_days else min(self.injured, self.persons)

    def asked_on(self, day: int) -> float:
        """Litres that a full issue takes on a day."""
        return self.persons_on(day) * self.litres


@dataclass(frozen=True, slots=True)
class RationDay:
    """One day in a craft: litres gained and issued, and those left in the evening. full: nobody had less."""

    day: int
    gained: float
    issued: float
    left: float
    full: bool


def plan(litres: float, issue: Issue, days: int, gain: Gain = nothing_gained) -> Iterator[RationDay]:
    """So many days of issue from so much water. The last of it is shared out; then nothing is left.

    Takes whole dry days only: a day is dry or it is not.
    """
    left = litres
    for day in range(1, days + 1):
        gained = gain(day)
        asked = issue.asked_on(day)
        issued = min(left + gained, asked)
        left = round(left + gained - issued, _EXACT)
        yield RationDay(day, gained, round(issued, _EXACT), left, issued >= asked - 10**-_EXACT)


def days_lasting(litres: float, issue: Issue, gain: Gain | None = None) -> float | None:
    """Dry days and days of issue until the water ends; a part of a day counts as a part.

    None where it lasts longer than can be told: a billion days of plain stock, or with a gain LONGEST_PLAN.

    >>> days_lasting(37.5, Issue(25, 0.5, 1))
    4.0
    """
    if gain is None and not issue.injured:
        days = issue.dry_days + litres / (issue.persons * issue.litres)
        return round(days, _EXACT) if days <= 1e9 else None
    for found in plan(litres, issue, LONGEST_PLAN, gain or nothing_gained):
        if not found.full:
            return round(found.day - 1 + found.issued / issue.asked_on(found.day), _EXACT)
    return None


def issue_reaching(litres: float, issue: Issue, last_day: int, gain: Gain = nothing_gained) -> float | None:
    """The largest issue in litres, for each person and day, that is full on every day to the last one.

    None where nothing need be issued until then. The issue of a day can only come from what was there or gained by
    that day, so the tightest day decides.
    """
    gained, shares, tightest = litres, 0, None
    for day in range(1, last_day + 1):
        gained += gain(day)
        shares += issue.persons_on(day)
        if shares:
            each = gained / shares
            tightest = each if tightest is None else min(tightest, each)
    return tightest if tightest is None else round(tightest, _EXACT)
