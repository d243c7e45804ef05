"""Stretches of days on which something is lacking. Standard library only."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Stretch:
    """So much is lacking from a first day to a last one, both counted."""

    first: date
    last: date
    amount: float

    @property
    def days(self) -> int:
        """How many days it has."""
        return (self.last - self.first).days + 1


def lacking(first: date, last: date, changes: Iterable[date], lack_on: Callable[[date], float]) -> list[Stretch]:
    """The stretches of a period on which something is lacking.

    changes: the days on which the lack may become another; lack_on says how much is lacking from such a day until the
    next. Neighbours with the same lack are one stretch.
    """
    days = sorted({first, *(day for day in changes if first < day <= last)})
    ends = [*(day - _DAY for day in days[1:]), last]
    found: list[Stretch] = []
    for day, end in zip(days, ends, strict=True):
        amount = lack_on(day)
        if amount <= 0:
            continue
        if found and found[-1].amount == amount and found[-1].last + _DAY == day:
            found[-1] = replace(found[-1], last=end)
        else:
            found.append(Stretch(day, end, amount))
    return found


def day_after(day: date) -> date:
    """The next day; the last day of the calendar has none and stands for itself."""
    return day if day == date.max else day + _DAY


def split(stretch: Stretch, at: Iterable[date]) -> list[Stretch]:
    """A stretch cut so that each of some days is the first of a part.

    >>> [part.days for part in split(Stretch(date(2027, 1, 1), date(2027, 1, 10), 6), [date(2027, 1, 4)])]
    [3, 7]
    """
    firsts = sorted({stretch.first, *(day for day in at if stretch.first < day <= stretch.last)})
    lasts = [*(day - _DAY for day in firsts[1:]), stretch.last]
    return [Stretch(first, last, stretch.amount) for first, last in zip(firsts, lasts, strict=True)]


def runs(stretches: Sequence[Stretch]) -> list[Stretch]:
    """Stretches that touch as one run, with the largest lack of its parts."""
    found: list[Stretch] = []
    for stretch in sorted(stretches, key=lambda entry: entry.first):
        if found and stretch.first <= found[-1].last + _DAY:
            last, amount = max(found[-1].last, stretch.last), max(found[-1].amount, stretch.amount)
            found[-1] = Stretch(found[-1].first, last, amount)
        else:
            found.append(stretch)
    return found
