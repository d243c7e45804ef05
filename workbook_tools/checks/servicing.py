"""Whether a sealed liferaft's service and contents are in date (SV codes)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from workbook_tools.checks.context import Audit, Craft
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.core.expiry import DUE, EXPIRED, days_left, status
from workbook_tools.core.interval import Interval, next_due
from workbook_tools.findings import Finding, State
from workbook_tools.rules import Rule


@dataclass(slots=True)
class Deadline:
    """A dated duty of a craft: its rule, state and day."""

    craft: Craft
    rule: Rule
    state: str
    why: str
    day: date | None = None


def _service_rule(audit: Audit) -> Rule | None:
    return next((rule for rule in audit.rule_set.rules if rule.evidence == "service" and rule.in_force(audit.on)), None)


def service_due(audit: Audit, craft: Craft) -> date | None:
    """The day until which the last service holds; a day granted in writing by the Administration takes its place."""
    rule, serviced = _service_rule(audit), craft.row.get("serviced")
    if rule is None or serviced is None:
        return None
    due = next_due(serviced, Interval(months=int(rule.fixed)))
    granted = craft.row.get("service_granted_until")
    return max(due, granted) if granted else due


def certificate_state(audit: Audit, craft: Craft) -> tuple[bool, str]:
    """Whether a raft's certificate is evidence on the day asked, and by which certificate or why not."""
    number, serviced = craft.row.get("certificate"), craft.row.get("serviced")
    if number is None or serviced is None:
        missing = "number" if number is None else "date"
        return False, f"sealed pack: the {missing} of the service certificate is not recorded"
    if serviced > audit.on:
        return False, f"sealed pack: the service certificate is dated {serviced}, after the day asked"
    due = service_due(audit, craft)
    if due is not None and due < audit.on:
        return False, f"sealed pack: the service certificate lapsed on {due}"
    return True, f"by evidence: certificate {number} of {serviced}"


def deadlines(audit: Audit) -> list[Deadline]:
    """The state of each raft's service and dated contents, worked out once an audit."""
    if "deadlines" not in audit.shared:
        found = []
        for craft in audit.crafts:
            for rule in audit.rule_set.rules:
                if rule.subject in craft.subjects() and rule.evidence in ("service", "contents"):
                    found.append(_deadline(audit, craft, rule))
        audit.shared["deadlines"] = found
    result: list[Deadline] = audit.shared["deadlines"]
    return result


def _deadline(audit: Audit, craft: Craft, rule: Rule) -> Deadline:
    if audit.outside:
        return Deadline(craft, rule, "not_applicable", audit.outside)
    if not craft.clear:
        return Deadline(craft, rule, "not_evaluated", "the craft's name is not clear")
    if rule.evidence == "service":
        day, missing = service_due(audit, craft), "date of the last service is not recorded"
        serviced = craft.row.get("serviced")
        if serviced is not None and serviced > audit.on:
            return Deadline(craft, rule, "not_evaluated", f"the last service is dated {serviced}, after the day asked")
    else:
        day, missing = craft.row.get("earliest_content"), "earliest dated content of the pack is not recorded"
    if day is None:
        return Deadline(craft, rule, "not_evaluated", missing)
    return Deadline(craft, rule, "finding" if day < audit.on else "passed", "recorded", day)


@states
def servicing_states(audit: Audit) -> Iterator[State]:
    """How every dated duty of a craft ended."""
    for entry in deadlines(audit):
        yield State(entry.rule.key, entry.craft.name, entry.state, entry.why)


def _yield(audit: Audit, code: str, evidence: str, column: str, done: str, soon: str, remedy: str) -> Iterator[Finding]:
    for entry in deadlines(audit):
        if entry.rule.evidence != evidence or entry.day is None or entry.state not in ("passed", "finding"):
            continue
        now = status(entry.day, audit.on, audit.warn_days("servicing"))
        if now not in (DUE, EXPIRED):
            continue
        left = days_left(entry.day, audit.on)
        extra = entry.craft.purpose == "extra"
        grade = "action" if now == EXPIRED else "due"
        priority = entry.rule.priority if now == EXPIRED else "within 14 days" if left <= 14 else "at next port"
        when = (
            f"{done} on {entry.day}, {-left} days ago" if now == EXPIRED else f"{soon} on {entry.day}, in {left} days"
        )
        yield audit.finding(
            code,
            "note" if extra else grade,
            "plan" if extra else priority,
            "craft",
            entry.craft.row,
            column,
            entry.craft.name,
            when,
            remedy,
            entry.rule,
        )


@check(
    Code(
        "SV01",
        "raft-service",
        ("action", "due", "note"),
        "an inflatable liferaft is serviced within 12 months, or within the time the Administration has granted",
        "only the servicing station sees what is inside, and a raft out of service may not inflate",
        "a raft last serviced on 10 November 2025, asked on 25 November 2026",
        "the same raft with a written grant until 1 February 2027; one whose date is not recorded (not evaluated)",
        "land it at an approved servicing station, with an exchange raft so that capacity is kept",
        "SOLAS III/20.8.1",
    )
)
def raft_service(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every raft whose service has lapsed or will within the lead time."""
    yield from _yield(
        audit,
        "SV01",
        "service",
        "serviced",
        "service lapsed",
        "service lapses",
        "land the raft at an approved servicing station, with another in its place meanwhile",
    )


@check(
    Code(
        "SV02",
        "raft-contents",
        ("action", "due", "note"),
        "the dated contents of a sealed pack have not run out",
        "flares and rations in a raft expire like any other",
        "a raft whose earliest dated content is 2026-09, asked on 25 November 2026",
        "a raft whose earliest dated content is not recorded (not evaluated)",
        "have the contents renewed at an approved servicing station",
        "resolution A.761(18) as amended by MSC.388(94)",
    )
)
def raft_contents(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every raft whose contents have run out or will within the lead time."""
    yield from _yield(
        audit,
        "SV02",
        "contents",
        "earliest_content",
        "dated contents of the sealed pack ran out",
        "dated contents of the sealed pack run out",
        "have the contents renewed at an approved servicing station",
    )
