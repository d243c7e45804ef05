"""Which of the planning commands would help with what an audit found: the lines that stand below its findings."""

from __future__ import annotations

from collections.abc import Callable

from workbook_tools.findings import BookResult, Finding

_MUSTER = {f"CR{number:02}" for number in (*range(1, 9), 11, 12, 13, 16, 17, 18)}
_RATIONS = ("fresh-water", "water", "food-ration", "provisions")


def _about_rations(finding: Finding) -> bool:
    return finding.code[:2] in ("EQ", "EX") and finding.rule.rpartition(".")[2] in _RATIONS


# What is short or lapses can be ordered for a call; what is to be serviced can be placed at one.
_TO_ORDER = frozenset({"EQ01", "EX01", "EX03", "EX04", "SH10", "SH11", "SH12", "FF04", "FF05"})
_TO_SERVICE = frozenset({"SV01", "SV02", "SV03", "SV04", "FF01", "FF02", "FF03"})

# what a finding must be, the command, what it does
_STEPS: tuple[tuple[Callable[[Finding], bool], str, str], ...] = (
    (lambda finding: finding.code in _MUSTER, "davitbook muster {book}", "proposes a muster list"),
    (_about_rations, "davitbook ration {book}", "says how long water and food last"),
    (lambda finding: finding.grade == "due", "davitbook calendar {book} --out due.ics", "puts deadlines in a calendar"),
)

# the same where the Ports sheet has calls ahead
_STEPS_WITH_CALLS: tuple[tuple[Callable[[Finding], bool], str, str], ...] = (
    (
        lambda finding: finding.code in _TO_ORDER,
        "davitbook order {book} --until DATE",
        "says what to order for which call",
    ),
    (
        lambda finding: finding.code in _TO_SERVICE,
        "davitbook servicing {book}",
        "says which service to have at which call",
    ),
)


def next_steps(result: BookResult) -> list[str]:
    """A line for each command that would help: 'davitbook muster book.xlsx proposes a muster list'."""
    book = f'"{result.book}"' if " " in result.book else result.book
    return [
        f"{command.replace('{book}', book)}  {words}"
        for fits, command, words in (*_STEPS, *(_STEPS_WITH_CALLS if result.calls_planned else ()))
        if any(fits(finding) for finding in result.findings)
    ]
