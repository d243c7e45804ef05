"""The list of checks: each is one function with its code and the text that explains it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbook_tools.findings import Finding, State

if TYPE_CHECKING:
    from workbook_tools.checks.context import Audit

FAMILIES = {
    "EQ": "equipment",
    "EX": "expiry",
    "CV": "coverage",
    "SV": "servicing",
    "RT": "routine and drills",
    "CR": "crew",
    "FF": "fire",
    "SH": "ship",
    "WB": "workbook",
    "CP": "comparison of returns",
}


@dataclass(frozen=True, slots=True)
class Code:
    """What a finding code means. A code never changes its meaning and is never used again."""

    code: str
    name: str
    grades: tuple[str, ...]
    what: str
    why: str
    trips: str
    silent: str
    remedy: str
    source: str = ""

    def text(self) -> str:
        """The explanation as `davitbook rules CODE` prints it."""
        parts = [
            f"{self.code} {self.name}",
            f"Grade: {', '.join(self.grades)}",
            f"What it checks: {self.what}",
            f"Why it matters: {self.why}",
            f"Found: {self.trips}",
            f"Silent: {self.silent}",
            f"What to do: {self.remedy}",
        ]
        if self.source:
            parts.append(f"Source: {self.source}")
        return "\n".join(parts)


CODES: dict[str, Code] = {}
CheckFunction = Callable[["Audit"], Iterator[Finding]]
CHECKS: list[CheckFunction] = []
StatesFunction = Callable[["Audit"], Iterable[State]]
STATES: list[StatesFunction] = []


def describe(code: Code) -> None:
    """Enter a code in the list. Raises ValueError for a code or name that is taken."""
    if code.code in CODES or any(code.name == other.name for other in CODES.values()):
        raise ValueError(f"{code.code} {code.name} is taken")
    if code.code[:2] not in FAMILIES:
        raise ValueError(f"{code.code}: no such family")
    CODES[code.code] = code


def states(function: StatesFunction) -> StatesFunction:
    """Enter a function that tells how each of its family's rules ended for each subject."""
    STATES.append(function)
    return function


def check(code: Code) -> Callable[[CheckFunction], CheckFunction]:
    """Enter a check and its code in the lists."""

    def enter(function: CheckFunction) -> CheckFunction:
        describe(code)
        CHECKS.append(function)
        return function

    return enter
