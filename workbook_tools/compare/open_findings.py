"""Findings that stay open from return to return (CP06)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from workbook_tools.checks.registry import Code
from workbook_tools.compare.registry import describe
from workbook_tools.findings import BookResult, Finding

# A finding is open in two returns at least; more can be asked.
FEWEST_RETURNS = 2
# What falls due is due in several returns in a row, and a note asks for nothing.
_OPEN_GRADES = ("action", "query")

describe(
    Code(
        "CP06",
        "finding-stays-open",
        ("query",),
        "what a return's audit found is put right, or ordered, by the return that many returns later",
        "a finding that comes back each month with nothing ordered is one that nobody works on",
        "a bucket short in the last two returns (--open-for sets the number), with no open line on the Follow-up sheet",
        "a finding with an order or a day that has not passed on the Follow-up sheet; what is only due; one that was "
        "gone in between; the same item short in another craft; returns without a record date (not compared)",
        "put it right, or write on the Follow-up sheet what is ordered and by when",
        "common practice, no source",
    )
)


@dataclass(frozen=True, slots=True)
class Audited:
    """What the audit of one return found, on the day of its record. recorded: None where the return gives no day."""

    recorded: date | None
    findings: dict[str, Finding]


def audited(result: BookResult, recorded: date | None) -> Audited:
    """Keep of an audit what can stay open."""
    kept = {finding.id: finding for finding in result.findings if finding.grade in _OPEN_GRADES}
    return Audited(recorded, kept)


def days_known(series: Sequence[Audited]) -> list[Audited]:
    """The returns of a series that count: every one with a record date, the same day once, and always the newest.

    A return is audited for the day of its record. Without that day nobody knows what was open then.
    """
    counted: list[Audited] = []
    for entry in series[:-1]:
        if entry.recorded is not None and entry.recorded not in (other.recorded for other in counted):
            counted.append(entry)
    newest = series[-1:]
    if newest and newest[0].recorded is not None:
        counted = [entry for entry in counted if entry.recorded != newest[0].recorded]
    return [*counted, *newest]


def finding_stays_open(series: Sequence[Audited], open_for: int) -> Iterator[Finding]:
    """Yield a query for each finding of the newest return that was open in so many returns in a row, it among them.

    series: the returns of one ship, oldest first.
    """
    counted = days_known(series)
    if len(counted) < open_for:
        return
    for name, finding in counted[-1].findings.items():
        if finding.followed_up:
            continue
        since = counted[-1]
        number = 0
        for entry in reversed(counted):
            if name not in entry.findings:
                break
            since, number = entry, number + 1
        if number >= open_for:
            yield Finding(
                code="CP06",
                rule=finding.rule,
                grade="query",
                priority=finding.priority,
                sheet=finding.sheet,
                cell=finding.cell,
                subject=finding.subject,
                message=f"{name}, open in {number} returns in a row, since {since.recorded}: {finding.message}",
                remedy=finding.remedy
                if finding.follow_up is None
                else f"its day on the Follow-up sheet has passed: {finding.remedy}",
                source=finding.source,
            )
