"""What an audit says: findings, and the state in which each rule ended for each subject. Standard library only."""

import base64
import hashlib
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, fields
from datetime import date
from functools import lru_cache
from operator import attrgetter

from workbook_tools.core.words import counted

GRADES = ("action", "due", "query", "note")
STATES = ("passed", "finding", "exempt", "not_applicable", "not_evaluated")


def grade_words(grade: str, number: int) -> str:
    """So many findings of a grade, in words: '3 action', '2 due', '4 queries', '1 note'."""
    return counted(number, grade, {"query": "queries", "note": "notes"}.get(grade, grade))


# More persons on board than the ship is certified for: the worst finding of all, before everything else.
WORST = "CV03"


SOON_DAYS = 14  # the days of the priority 'within 14 days'


def priority_of_due(days_left: int) -> str:
    """The priority of what falls due in so many days."""
    return f"within {SOON_DAYS} days" if days_left <= SOON_DAYS else "at next port"


@dataclass(frozen=True, slots=True)
class FollowUp:
    """What is being done about a finding, from the Follow-up sheet; past: its expected day has gone by."""

    order: str = ""
    port: str = ""
    expected: date | None = None
    reported_to: str = ""
    interim: str = ""
    past: bool = False


# Made anew with its id and without names; a frozen dataclass takes three times as long. Nobody changes one even so.
@dataclass(slots=True, unsafe_hash=True)
class Finding:
    """One thing to look at: where, what is there, what is asked, by which paragraph, what to do."""

    code: str
    rule: str
    grade: str
    priority: str
    sheet: str
    cell: str
    subject: str
    message: str
    remedy: str
    source: str = ""
    required: float | None = None
    carried: float | None = None
    unit: str = ""
    id: str = ""

    follow_up: FollowUp | None = None
    person: str = ""  # the name of whom a line of the Crew sheet is about; empty unless names were asked for

    @property
    def followed_up(self) -> bool:
        """Whether it is known and ordered and not past its expected day: then it leaves the front of a report."""
        return self.follow_up is not None and not self.follow_up.past

    def sort_key(self) -> tuple[int, bool, int, str, str, str]:
        """Worst first: priority, more persons than certified, grade, then subject and code."""
        from workbook_tools.rules.model import PRIORITIES

        return (
            PRIORITIES.index(self.priority),
            self.code != WORST,
            GRADES.index(self.grade),
            self.subject,
            self.code,
            self.cell,
        )


# Hundreds to a book: a frozen dataclass takes three times as long to make. Nobody changes one all the same.
@dataclass(slots=True, unsafe_hash=True)
class State:
    """How a rule ended for a subject, and why where that needs saying."""

    rule: str
    subject: str
    state: str
    why: str = ""


@lru_cache(maxsize=20_000)
def identity(code: str, rule: str, subject: str, occurrence: int = 0) -> str:
    """A short name for a finding that stays the same when rows move: code, rule and subject decide it.

    occurrence tells apart several findings of one code, rule and subject.
    """
    text = "\0".join((code, rule, subject.casefold(), str(occurrence) if occurrence else ""))
    digest = base64.b32encode(hashlib.sha256(text.encode()).digest()[:5]).decode().lower()  # 5 bytes are 8 letters
    return f"{code}-{digest[:6]}"


def identified(findings: Iterable[Finding]) -> list[Finding]:
    """The findings with their ids; those alike in code, rule and subject are numbered in the order given."""
    seen: dict[tuple[str, str, str], int] = {}
    named: list[Finding] = []
    taken: set[str] = set()
    for finding in findings:
        key = (finding.code, finding.rule, finding.subject.casefold())
        occurrence = seen.get(key, 0)
        while (name := identity(*key, occurrence)) in taken:  # two different findings with one short name: number on
            occurrence += 1
        seen[key] = occurrence + 1
        taken.add(name)
        named.append(finding if finding.id == name else _with_id(finding, name))
    return named


_values_of = attrgetter(*(entry.name for entry in fields(Finding)))


def _with_id(finding: Finding, name: str) -> Finding:
    """A copy with an id: what dataclasses.replace makes, in half the time."""
    copy = Finding(*_values_of(finding))
    copy.id = name
    return copy


@dataclass(frozen=True, slots=True)
class PlacesAfterLoss:
    """What would be left of the places if craft were lost: the places shown, and the persons certainly left out."""

    name: str
    places: int
    left_out: int


@dataclass(frozen=True, slots=True)
class Persons:
    """The three figures of persons, and how the places stand if craft are lost. None: not recorded.

    places: persons whom the survival craft that count can take, by the side on which they are stowed.
    """

    on_board: int | None = None
    certified: int | None = None
    places: dict[str, int] = field(default_factory=dict)
    losses: tuple[PlacesAfterLoss, ...] = ()


# What a day is about after which something holds no more, and the words for it.
LAPSE_KINDS = {
    "stores": "stores and gear",
    "rafts": "liferafts",
    "services": "services",
    "certificates": "ship's certificates",
    "exemptions": "exemptions",
    "crew": "crew's certificates",
}


@dataclass(frozen=True, slots=True)
class Lapse:
    """A day on record after which something holds no more: kind as in LAPSE_KINDS, and the cell that shows it.

    person: the name of whom it is about; empty unless names were asked for.
    """

    day: date
    kind: str
    what: str
    where: str
    sheet: str
    cell: str
    person: str = ""


@dataclass(slots=True)
class BookResult:
    """Everything an audit says of one book."""

    book: str
    ship: str = ""
    imo_number: str = ""
    readable: bool = True
    reason: str = ""
    rules: str = ""
    states: list[State] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    assumptions: list[str] = field(default_factory=list)
    persons: Persons = field(default_factory=Persons)
    lapses: list[Lapse] = field(default_factory=list)  # only where the audit was asked for them
    calls_planned: bool = False  # whether the Ports sheet has a call from which an order or a service can be planned

    def state_counts(self) -> dict[str, int]:
        """How many rule-and-subject pairs ended in each state."""
        counts = Counter(state.state for state in self.states)
        return {name: counts[name] for name in STATES}

    def front(self) -> list[Finding]:
        """The findings that nobody follows up yet, or whose expected day has gone by."""
        return [finding for finding in self.findings if not finding.followed_up]

    def followed_up(self) -> list[Finding]:
        """The findings that are being followed up: still on record, and still counted for the exit status."""
        return [finding for finding in self.findings if finding.followed_up]

    def grade_counts(self) -> dict[str, int]:
        """How many findings there are of each grade, those being followed up among them."""
        counts = Counter(finding.grade for finding in self.findings)
        return {grade: counts[grade] for grade in GRADES}
