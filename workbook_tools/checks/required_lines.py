"""What the workbook's own Required sheet must show, by the audit: one line for each rule of each craft that applies."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from workbook_tools.checks.context import Audit
from workbook_tools.checks.equipment import Verdict, verdicts
from workbook_tools.columns.calculated import BY_CERTIFICATE, ENOUGH, EXPIRED, LAPSES, OPEN, SHORT
from workbook_tools.core import stock

_COUNTED = ("inventory", "maker")


@dataclass(frozen=True, slots=True)
class RequiredLine:
    """One line. asked, carried, missing: in the rule's unit; None where the sheet shows nothing.

    earliest: the first expiry of what is carried of the item in date; until: the last day on which it suffices, within
    the lead time.
    """

    craft: str
    rule: str
    asked: float | None
    carried: float | None
    missing: float | None
    earliest: date | None
    until: date | None
    says: str


def required_lines(audit: Audit) -> list[RequiredLine]:
    """Every rule that applies to a craft, in the order of the craft."""
    return list(_lines(audit))


def _lines(audit: Audit) -> Iterator[RequiredLine]:
    for verdict in verdicts(audit):
        if verdict.state == "not_applicable":
            continue
        counted = verdict.rule.evidence in _COUNTED and verdict.asked > 0
        says = _says(verdict)
        missing = verdict.asked - verdict.carried.sure if counted and says in (SHORT, EXPIRED) else None
        yield RequiredLine(
            verdict.craft.name,
            verdict.rule.key,
            verdict.asked or None,
            verdict.carried.sure if counted else None,
            missing,
            _earliest(verdict, audit.on) if counted else None,
            verdict.due,
            says,
        )


def _says(verdict: Verdict) -> str:
    if verdict.state == "passed":
        if verdict.due is not None:
            return LAPSES
        return BY_CERTIFICATE if verdict.rule.evidence == "certificate" else ENOUGH
    if verdict.state == "not_evaluated":
        return OPEN
    expired = verdict.rule.evidence in _COUNTED and stock.suffices(
        verdict.carried.sure + verdict.carried.expired, verdict.asked
    )
    return EXPIRED if expired else SHORT


def _earliest(verdict: Verdict, on: date) -> date | None:
    days = [
        entry.lot.expires
        for entry in verdict.lots
        if entry.lot.item == verdict.rule.item
        and entry.lot.expires is not None
        and stock.standing(entry.lot, on) in (stock.SURE, stock.POSSIBLE)
    ]
    return min(days, default=None)
