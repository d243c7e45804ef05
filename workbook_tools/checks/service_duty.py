"""How one dated duty of a craft, an appliance or the ship ends, from the lines that speak for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from workbook_tools.checks.context import Audit, Craft
from workbook_tools.checks.service_holding import Holding, line_holding
from workbook_tools.checks.service_lines import Lines
from workbook_tools.rules import Rule


@dataclass(slots=True)
class Duty:
    """A dated duty of a craft, an appliance or the ship: its rule, state, day and the cell that shows it."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    craft: Craft | None = None
    day: date | None = None
    warn: bool = False  # whether its day may be called due: nothing unclear could move it
    fault: str = ""  # overdue or hands
    holding: Holding | None = None


def doubts_of(audit: Audit, rule: Rule, lines: Lines) -> list[str]:
    """What stands in the way: unclear lines that would do if they meant what they may mean."""
    found = []
    for row, column in lines.doubtful:
        holding = line_holding(audit, rule, row)
        if holding is not None and (holding.done > audit.on or holding.maybe < audit.on):
            continue
        if holding is None and "done" not in row.unclear:
            continue
        text = row.unclear.get(column) or row.get(column) or ""
        found.append(f"{audit.where('servicing', row, column)} shows {text!r}")
    return found


def judged(
    audit: Audit, rule: Rule, subject: str, holdings: Sequence[Holding], doubts: list[str], none: str, fact: str = ""
) -> Duty:
    """How a duty ends. fact: what the condition asks and the record does not say."""
    past = [entry for entry in holdings if entry.done <= audit.on]
    sure = [entry for entry in past if entry.hands == "ok"]
    best = max(sure, key=lambda entry: entry.due, default=None)
    if best is not None and best.due >= audit.on:
        later = any(entry.maybe > best.due for entry in past if entry.hands != "wrong")
        why = f"last done {best.done}, holds until {best.due}" + (f" {best.reading}" if best.reading else "")
        return Duty(rule, subject, "passed", why, day=best.due, warn=not (later or doubts or fact), holding=best)
    good = [entry for entry in sure if entry.maybe >= audit.on]
    if good:
        return Duty(rule, subject, "not_evaluated", good[0].doubt, holding=good[0])
    untold = [entry for entry in past if entry.hands == "open" and entry.maybe >= audit.on]
    if untold:
        where = audit.where("servicing", untold[0].row, "done_by")
        said = untold[0].row.get("done_by")
        why = f"who did it is not recorded at {where}" if said is None else f"{where} shows {said!r}"
        return Duty(rule, subject, "not_evaluated", why, fault="" if said is None else "hands", holding=untold[0])
    if doubts:
        return Duty(rule, subject, "not_evaluated", "; ".join(doubts))
    if not past:
        if holdings:
            where = audit.where(holdings[0].sheet, holdings[0].row, holdings[0].column)
            none = f"{where} is dated {holdings[0].done}, after the day asked"
        return Duty(rule, subject, "not_evaluated", none)
    if fact:
        return Duty(rule, subject, "not_evaluated", fact)
    wrong = [entry for entry in past if entry.hands == "wrong" and entry.maybe >= audit.on]
    if wrong:
        return Duty(rule, subject, "finding", fault="hands", holding=wrong[0])
    latest = max(past, key=lambda entry: entry.due)
    return Duty(rule, subject, "finding", fault="overdue", day=latest.due, holding=latest)
