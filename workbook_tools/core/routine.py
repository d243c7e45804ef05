"""Routine and drills: who took part, when the next one is due, and how much of the crew has missed its drills."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from workbook_tools.core.interval import Interval, month_length
from workbook_tools.core.servicing import days_after, holds_until

MOST_IN_RANGE = 1000  # '1-2026' is a slip of the pen, not a crew

_ALL = r"(?:all|every(?:one|body)|(?:all|full|whole|entire) (?:crew|hands|persons|on board|crew members))"
_BUT = r"(?:except(?: for)?|excepting|but|excluding|excl\.?|without|minus|less|apart from|bar)"
_HEADS = r"(?: ?\(?\d{1,4}(?: (?:persons|crew|men|people))?\)?)?"  # 'all (12)': how many that were
_WHOLE = re.compile(rf"{_ALL}(?:{_HEADS}|[\s,(]+{_BUT}\s*:?\s*(?P<but>.+?)\)?)")
_BESIDE = re.compile(r"(?:\b(?:crew|numbers?|nos?\.?|nr\.?)\s*)+(?=[\d:])|[#:]")
_RANGE = re.compile(r"(\d{1,4})\s*(?:-|to)\s*(\d{1,4})")
_NUMBER = re.compile(r"[a-z]{0,3}-?\d{1,4}[a-z]?")


@lru_cache(maxsize=5_000)
def number_key(text: str) -> str:
    """A crew number as it is compared: '07' is '7', 'E3' is 'e3'."""
    folded = re.sub(r"\s+", "", text.casefold())
    return folded.lstrip("0") or "0" if folded.isdigit() else folded


@dataclass(frozen=True, slots=True)
class Attendance:
    """Who took part: everyone but some, or those listed. Numbers are as number_key gives them.

    single_out: the numbers that stand by themselves, not inside a range.
    """

    everyone: bool
    numbers: frozenset[str] = frozenset()  # those listed, or with everyone those excepted
    single_out: tuple[str, ...] = ()

    def includes(self, number: str | None) -> bool | None:
        """Whether a crew number took part; None where a person has no number and that decides."""
        if number is None:
            return True if self.everyone and not self.numbers else None
        return (number in self.numbers) != self.everyone

    @property
    def may_be_a_count(self) -> bool:
        """Whether it is one bare number, which may be meant as a count of heads."""
        return not self.everyone and len(self.numbers) == 1 and all(number.isdigit() for number in self.numbers)


@lru_cache(maxsize=5_000)
def parse_attendance(text: str, known: frozenset[str] = frozenset()) -> Attendance | None:
    """Read 'all', '1-8, 12', 'all except 4, 7'; None where the text says anything else.

    known: crew numbers (as number_key gives them) that are no plain numbers, such as 'c/o'.

    >>> sorted(parse_attendance("1-3, 12").numbers, key=int)
    ['1', '2', '3', '12']
    """
    folded = re.sub(r"[\u2010-\u2015]", "-", re.sub(r"\s+", " ", text.casefold())).strip(" .")
    match = _WHOLE.fullmatch(folded)
    if match and match["but"] is None:
        return Attendance(True)
    listed = _parse_list(match["but"] if match else folded, known)
    if listed is None:
        return None
    numbers, single_out = listed
    return Attendance(bool(match), frozenset(numbers), tuple(single_out))


def _parse_list(text: str, known: AbstractSet[str]) -> tuple[set[str], list[str]] | None:
    numbers: set[str] = set()
    single_out: list[str] = []
    for piece in re.split(r"[,;&+]|\band\b|(?<=\d)\s+(?=[a-z]{0,3}\d)", _BESIDE.sub(" ", text)):
        token = piece.strip(" .")
        if number_key(token) in known:
            numbers.add(number_key(token))
            single_out.append(number_key(token))
        elif match := _RANGE.fullmatch(token):
            first, last = int(match[1]), int(match[2])
            if not first <= last < first + MOST_IN_RANGE:
                return None
            numbers.update(str(number) for number in range(first, last + 1))
        elif _NUMBER.fullmatch(token):
            numbers.add(number_key(token))
            single_out.append(number_key(token))
        else:
            return None
    return numbers, single_out


def deadline(last: date, interval: Interval, same_month: bool = False) -> date:
    """The last day on which the next one is in time.

    same_month: where the flag lets a deadline counted in months run to the end of its calendar month.
    Source: no text says how 'every month' is counted; date to date is the stricter reading.
    """
    due = holds_until(last, interval)
    if same_month and interval.months:
        return due.replace(day=month_length(due.year, due.month))
    return due


def lead_days(last: date, due: date, share_percent: float, warn_days: int) -> int:
    """Days before a deadline from which it is called due: a share of the interval, no more than the warning days."""
    return min(warn_days, int((due - last).days * share_percent // 100))


def whole_days(hours: float) -> int:
    """Days that so many hours may touch, for a record that holds days only: 12 or 24 h reach the day before or after.

    >>> whole_days(12), whole_days(24), whole_days(25)
    (1, 1, 2)
    """
    return -int(-hours // 24)


@dataclass(frozen=True, slots=True)
class Person:
    """A crew member: the number (as number_key gives it) and the day of joining this ship, where recorded."""

    number: str | None
    joined: date | None


@dataclass(frozen=True, slots=True)
class Drill:
    """One drill on record: its day, who took part (None: not recorded), and whether its line is clear."""

    day: date | None
    attendance: Attendance | None
    certain: bool = True

    def had(self, person: Person) -> bool | None:
        """Whether a person took part on this ship; None when it cannot be told."""
        if self.day is not None and person.joined is not None and self.day < person.joined:
            return False  # whoever had the number then was someone else
        found = self.attendance.includes(person.number) if self.attendance else None
        if found and self.attendance and self.attendance.everyone and person.joined is None:
            return None  # 'all' are those on board that day
        return None if found and not (self.certain and self.day) else found


@dataclass(frozen=True, slots=True)
class DrillRecord:
    """The drills of one kind up to the day asked; start: the first one on record."""

    drills: tuple[Drill, ...] = ()
    start: date | None = field(default=None)

    @classmethod
    def of(cls, drills: Iterable[Drill]) -> DrillRecord:
        """A record of drills, which begins with the first clear one."""
        found = tuple(drills)
        return cls(found, min((drill.day for drill in found if drill.day and drill.certain), default=None))

    def last(self, person: Person) -> tuple[date | None, date | None]:
        """The last day on which a person surely took part, and the last on which that is possible."""
        sure: date | None = None
        possible: date | None = None
        for drill in self.drills:
            had = drill.had(person)
            if had and drill.day is not None:
                sure = max(sure or date.min, drill.day)
            if had is not False:
                possible = max(possible or date.min, drill.day or date.max)
        return sure, possible

    def until(self, day: date) -> DrillRecord:
        """The drills up to a day; an undated one may be among them."""
        return DrillRecord(tuple(drill for drill in self.drills if drill.day is None or drill.day <= day), self.start)


OK, LATE, UNKNOWN = "ok", "late", "unknown"


@dataclass(frozen=True, slots=True)
class Standing:
    """How a person stands to a drill that each must have within an interval; due: the last day in time."""

    state: str
    due: date | None = None
    last: date | None = None


def standing(person: Person, record: DrillRecord, on: date, interval: Interval, same_month: bool = False) -> Standing:
    """Whether a person is late for a drill.

    The interval runs from the last drill taken part in, else from joining; where the record begins after that, from its
    first drill, since what was held before is not known (SOLAS III/19.3.2: each crew member, every month).
    """

    def reaches(day: date | None) -> bool:
        return day is not None and (day == date.max or deadline(day, interval, same_month) >= on)

    sure, possible = record.last(person)
    if sure is not None:
        due = deadline(sure, interval, same_month)
        state = OK if due >= on else UNKNOWN if reaches(possible) else LATE
        return Standing(state, due, sure)
    if record.start is None or person.joined is None or reaches(possible):
        if person.joined is not None and reaches(person.joined):
            return Standing(OK, deadline(person.joined, interval, same_month))
        return Standing(UNKNOWN)
    since = max(person.joined, record.start)
    due = deadline(since, interval, same_month)
    if due < on:
        return Standing(LATE, due)
    return Standing(OK, due) if person.joined >= record.start else Standing(UNKNOWN)


def took_part(person: Person, record: DrillRecord, day: date, interval: Interval) -> bool | None:
    """Whether a person took part in a drill on this ship in the interval before a day, both ends counted.

    None when it cannot be told: an unclear line, or a part of the interval of which there is no record.
    """
    possible = False
    for drill in record.until(day).drills:
        if drill.day is not None and holds_until(drill.day, interval) < day:
            continue
        had = drill.had(person)
        if had:
            return True
        possible = possible or had is None
    if possible or record.start is None:
        return None
    before = days_after(record.start, -1)
    unrecorded = holds_until(before, interval) >= day and (person.joined is None or person.joined <= before)
    return None if unrecorded else False


@dataclass(frozen=True, slots=True)
class Missing:
    """Of a crew, those who surely have not had both drills, and those who may not have had them (these included)."""

    crew: int
    surely: tuple[Person, ...]
    possibly: tuple[Person, ...]

    def surely_above(self, percent: float) -> bool:
        """Whether surely more than a percentage of the crew has missed."""
        return len(self.surely) * 100 > percent * self.crew

    def possibly_above(self, percent: float) -> bool:
        """Whether more than a percentage of the crew may have missed."""
        return len(self.possibly) * 100 > percent * self.crew


def missing_drills(
    persons: Sequence[Person], abandon: DrillRecord, fire: DrillRecord, day: date, interval: Interval
) -> Missing:
    """Who, of those on board on a day, has not had BOTH drills on this ship in the interval before it.

    Source: SOLAS III/19.3.2. That a person who missed EITHER drill counts as missing is a reading of the text.
    """
    surely, possibly = [], []
    aboard = [person for person in persons if person.joined is None or person.joined <= day]
    for person in aboard:
        had = [took_part(person, record, day, interval) for record in (abandon, fire)]
        if False in had:
            surely.append(person)
        if had != [True, True]:
            possibly.append(person)
    return Missing(len(aboard), tuple(surely), tuple(possibly))
