"""How a task that is to be carried out within an interval of the last time ends, for the ship or a craft."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.routine_due import due_day, every_words, in_lead, lead_of, same_month, when_due
from workbook_tools.checks.routine_record import Last, last_done, last_not_held
from workbook_tools.checks.routine_tasks import COVERING, WEATHER, WHOLE, code_of, shown_by
from workbook_tools.core.expiry import days_left, days_words
from workbook_tools.findings import priority_of_due
from workbook_tools.reading import Row
from workbook_tools.rules import Rule


@dataclass(slots=True)
class Duty:
    """How a rule ended for a subject, and what is to be said about it (code '' when nothing)."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    code: str = ""
    grade: str = ""
    priority: str = ""
    sheet: str = "routine"
    row: Row | None = None
    column: str = "day"
    message: str = ""
    days: int | None = None
    due: date | None = None  # the last day on which the next one is in time, where the record tells it
    lead: int = 0  # days before it at which it is called due
    more: Duty | None = None  # a second thing to be said about the same rule


def dated(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """A task that is to be carried out within an interval of the last time."""
    name = craft.name if craft else SHIP
    if craft is None and rule.item in COVERING and (covered := _own(audit)):
        return _covering(audit, rule, covered)
    last = last_done(audit, shown_by(rule.item), craft, rule.item in WHOLE)
    return _verdict(audit, rule, name, last, craft)


def _own(audit: Audit) -> list[Craft]:
    return [craft for craft in audit.crafts if craft.purpose != "extra" and craft.clear]


def _covering(audit: Audit, rule: Rule, crafts: list[Craft]) -> Duty:
    """An inspection of the whole ship's craft: late where it is late for any of them."""
    found = [
        (craft, _verdict(audit, rule, craft.name, last_done(audit, shown_by(rule.item), craft), craft))
        for craft in crafts
    ]
    late = [(craft, duty) for craft, duty in found if duty.state == "finding"]
    if late:
        craft, worst = max(late, key=lambda pair: pair[1].days or 0)
        names = ", ".join(each.name for each, _ in late)
        scope = "" if len(late) == len(crafts) else f", {names}"
        return replace(worst, subject=SHIP, message=worst.message.replace(f", {craft.name}", scope, 1))
    open_ones = [duty for _, duty in found if duty.state == "not_evaluated"]
    if open_ones:
        return replace(open_ones[0], subject=SHIP, code="")
    soonest = min((duty for _, duty in found), key=lambda duty: (not duty.code, duty.due or date.max))
    return replace(soonest, subject=SHIP, message=soonest.message.replace(f", {soonest.subject}", "", 1))


def _verdict(audit: Audit, rule: Rule, name: str, last: Last, craft: Craft | None) -> Duty:
    """Passed, late or not evaluated, from the day a task was last carried out."""
    what = rule.item if craft is None else f"{rule.item}, {craft.name}"
    if last.day is None:
        return Duty(rule, name, "not_evaluated", last.doubt or f"no {what} is recorded")
    due = due_day(audit, rule, last.day)
    left = days_left(due, audit.on)
    counting = ", counted to the end of the calendar month" if same_month(audit) and rule.unit == "months" else ""
    ago = (audit.on - last.day).days
    said = f"{what}: last on {last.day}, {days_words(ago)} ago; asked {every_words(rule)}{counting}"
    row, lead = last.sure.row if last.sure else None, lead_of(audit, last.day, due)
    duty = Duty(rule, name, "passed", f"last on {last.day}", row=row, due=due, lead=lead)
    only = ""
    if last.sure is not None and last.sure.task != rule.item:
        duty = replace(duty, why=f"{last.sure.task} on {last.day}")
        # a wider task shows that the narrower one was done; it does not show that the ship keeps lines of it
        if last_done(audit, (rule.item,), craft, rule.item in WHOLE).day is None:
            only = f"no {what} is recorded; the last {last.sure.task} is of {last.day}"
            if left >= 0:
                return replace(duty, due=None)
    if left >= 0:
        if not in_lead(audit, last.day, due):
            return duty
        return told(audit, replace(duty, days=left), craft, f"{said}: due {when_due(audit, due)}")
    if last.possible is not None and (last.possible == date.max or due_day(audit, rule, last.possible) >= audit.on):
        return replace(duty, state="not_evaluated", why=last.doubt or "a line is not clear")
    if only:
        return replace(duty, state="not_evaluated", why=only)
    missed = last_not_held(audit, shown_by(rule.item), craft)
    if missed is not None and missed.day is not None and missed.day > last.day:
        if rule.key in WEATHER and due_day(audit, rule, missed.day) >= audit.on:
            return replace(
                duty, state="not_evaluated", why=f"not held on {missed.day}: asked only as the weather allows"
            )
        said += f"; entered as not held on {missed.day}"
    return told(audit, replace(duty, state="finding", why="", days=-left), craft, said)


def told(audit: Audit, duty: Duty, craft: Craft | None, message: str, code: str = "") -> Duty:
    """A duty with its finding: action where the state is a finding, due before that, a note for an extra craft."""
    if duty.state == "finding":
        grade, priority = "action", duty.rule.priority
    else:
        grade, priority = "due", priority_of_due(duty.days or 0)
    if craft is not None and craft.purpose == "extra":
        grade, priority = "note", "plan"
    return replace(duty, code=code or code_of(duty.rule.item), grade=grade, priority=priority, message=message)
