"""What an audit says: findings, and the state in which each rule ended for each subject. Standard library only."""

import base64
import hashlib
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

GRADES = ("action", "due", "query", "note")
GRADE_WORDS = {
    "action": "a rule is not met on the day asked",
    "due": "a rule will not be met within the warning period",
    "query": "the record is unclear, contradictory or implausible: look",
    "note": "for information",
}
STATES = ("passed", "finding", "exempt", "not_applicable", "not_evaluated")

CAUTION = (
    "An aid to the officer's own check. The convention's official text, the flag Administration, class, the maker's "
    "manual and the master decide."
)


@dataclass(frozen=True, slots=True)
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

    def sort_key(self) -> tuple[int, int, str, str, str]:
        """Worst first: priority, grade, then subject and code."""
        from workbook_tools.rules.model import PRIORITIES

        return (PRIORITIES.index(self.priority), GRADES.index(self.grade), self.subject, self.code, self.cell)


@dataclass(frozen=True, slots=True)
class State:
    """How a rule ended for a subject, and why where that needs saying."""

    rule: str
    subject: str
    state: str
    why: str = ""


def identity(code: str, rule: str, subject: str, occurrence: int = 0) -> str:
    """A short name for a finding that stays the same when rows move: code, rule and subject decide it.

    occurrence tells apart several findings of one code, rule and subject.
    """
    text = "\0".join((code, rule, subject.casefold(), str(occurrence) if occurrence else ""))
    digest = base64.b32encode(hashlib.sha256(text.encode()).digest()).decode().lower()
    return f"{code}-{digest[:6]}"


def identified(findings: Iterable[Finding]) -> list[Finding]:
    """The findings with their ids; those alike in code, rule and subject are numbered in the order given."""
    seen: Counter[tuple[str, str, str]] = Counter()
    named: list[Finding] = []
    taken: set[str] = set()
    for finding in findings:
        key = (finding.code, finding.rule, finding.subject.casefold())
        name = identity(*key, occurrence=seen[key])
        while name in taken:  # two different findings with one short name: number on
            seen[key] += 1
            name = identity(*key, occurrence=seen[key])
        seen[key] += 1
        taken.add(name)
        named.append(replace(finding, id=name))
    return named


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

    def state_counts(self) -> dict[str, int]:
        """How many rule-and-subject pairs ended in each state."""
        counts = Counter(state.state for state in self.states)
        return {name: counts[name] for name in STATES}

    def grade_counts(self) -> dict[str, int]:
        """How many findings there are of each grade."""
        counts = Counter(finding.grade for finding in self.findings)
        return {grade: counts[grade] for grade in GRADES}
