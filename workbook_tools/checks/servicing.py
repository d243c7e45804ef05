"""Whether rafts and every other appliance with a service of its own were serviced in time, and by whom (SV codes)."""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.checks.cautions import CO2_CAUTION, RELEASE_CAUTION
from workbook_tools.checks.context import Audit
from workbook_tools.checks.raft_service import deadlines
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.checks.service_duties import duties
from workbook_tools.checks.service_duty import Duty
from workbook_tools.checks.service_holding import Holding, interval_of, interval_words
from workbook_tools.core.expiry import days_left, days_words
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import shorter
from workbook_tools.findings import Finding, State, priority_of_due
from workbook_tools.rules import Rule, warning_days


@states
def servicing_states(audit: Audit) -> Iterator[State]:
    """How every dated duty of a craft, an appliance or the ship ended."""
    for duty in (*deadlines(audit), *duties(audit)):
        yield State(duty.rule.key, duty.subject, duty.state, duty.why)


def _extra(duty: Duty) -> bool:
    return duty.craft is not None and duty.craft.purpose == "extra"


def lead_of(audit: Audit, rule: Rule) -> int:
    """Days before its end at which a service is called due; a look every thirty days would else always be."""
    days = audit.warn_days("servicing")
    return min(days, int(warning_days("intervals in days").value)) if rule.unit == "days" else days


def _lapsing(audit: Audit, duty: Duty) -> tuple[str, str, str] | None:
    """(grade, priority, when) of a duty that has lapsed or will within the warning days."""
    if duty.day is None or duty.fault == "hands":
        return None
    left = days_left(duty.day, audit.on)
    if duty.state == "finding":
        grade, priority, when = "action", duty.rule.priority, f"on {duty.day}, {days_words(-left)} ago"
    elif duty.state == "passed" and duty.warn and left <= lead_of(audit, duty.rule):
        grade, priority = "due", priority_of_due(left)
        when = f"on {duty.day}, in {days_words(left)}"
    else:
        return None
    return ("note", "plan", when) if _extra(duty) else (grade, priority, when)


def _yield(audit: Audit, code: str, evidence: str, done: str, soon: str, remedy: str) -> Iterator[Finding]:
    for duty in deadlines(audit):
        lapsing = _lapsing(audit, duty) if duty.rule.evidence == evidence else None
        if lapsing is None or duty.holding is None:
            continue
        grade, priority, when = lapsing
        message = f"{done if duty.state == 'finding' else soon} {when}"
        if duty.holding.reading:
            message += f" ({duty.holding.reading})"
        yield audit.finding(
            code,
            grade,
            priority,
            duty.holding.sheet,
            duty.holding.row,
            duty.holding.column,
            duty.subject,
            message,
            remedy,
            duty.rule,
        )


@check(
    Code(
        "SV01",
        "raft-service",
        ("action", "due", "note"),
        "an inflatable liferaft is serviced within 12 months, or within the time the Administration has granted",
        "only the servicing station sees what is inside, and a raft out of service may not inflate",
        "a raft last serviced on 10 November 2025, asked on 25 November 2026",
        "the same raft with a written grant until 1 February 2027, or with a later line 'liferaft serviced' on the "
        "Servicing sheet; one whose date is not recorded (not evaluated)",
        "land it at an approved servicing station, with an exchange raft so that capacity is kept",
        "SOLAS III/20.8.1",
    )
)
def raft_service(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every raft whose service has lapsed or will within the warning days."""
    yield from _yield(
        audit,
        "SV01",
        "service",
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
    """Yield a finding for every raft whose contents have run out or will within the warning days."""
    yield from _yield(
        audit,
        "SV02",
        "contents",
        "dated contents of the sealed pack ran out",
        "dated contents of the sealed pack run out",
        "have the contents renewed at an approved servicing station",
    )


def caution_for(service: str) -> str:
    """The caution of a service whose work can hurt, with a space before it; '' where there is none."""
    if service.startswith("CO2"):
        return f" {CO2_CAUTION}"
    if any(word in service for word in ("release gear", "launching", "winch", "falls", "hook")):
        return f" {RELEASE_CAUTION}"
    return ""


@check(
    Code(
        "SV03",
        "service-overdue",
        ("action", "due", "note"),
        "every service on the Servicing sheet was last done within its interval",
        "what is examined late is found broken late",
        "falls of Lifeboat 1 renewed on 20 November 2021, asked on 25 November 2026",
        "falls renewed exactly five years ago; a davit examined 14 months ago within the survey window; a service "
        "without a line for that craft (not evaluated); another line that holds; a date after the day asked",
        "have it done, and enter the day, who did it and the certificate",
        "SOLAS III/20; MSC.1/Circ.1432; MSC.1/Circ.1318",
    )
)
def service_overdue(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every service whose interval has ended or will within the warning days."""
    for duty in duties(audit):
        lapsing = _lapsing(audit, duty)
        if lapsing is None or duty.holding is None:
            continue
        grade, priority, when = lapsing
        rule, holding = duty.rule, duty.holding
        ended = "lapsed" if duty.state == "finding" else "lapses"
        message = f"{rule.item}: last done {holding.done}, asked every {interval_words(rule)}; {ended} {when}"
        if row_interval := _makers(rule, holding):
            message += f" (maker's interval {row_interval})"
        if holding.reading:
            message += f", {holding.reading}"
        if rule.note:
            message += f" ({rule.note})"
        yield audit.finding(
            "SV03",
            grade,
            priority,
            holding.sheet,
            holding.row,
            holding.column,
            duty.subject,
            message,
            f"have it done and enter the day and the certificate.{caution_for(rule.item)}",
            rule,
        )


def _makers(rule: Rule, holding: Holding) -> Interval | None:
    makers: Interval | None = holding.row.get("interval")
    return makers if makers is not None and shorter(interval_of(rule), makers, holding.done) is makers else None


@check(
    Code(
        "SV04",
        "done-by-others",
        ("action", "query", "note"),
        "a service that only a maker, an authorized provider or an approved station may do was done by one of them",
        "a hook put together by hands that do not know it opens under load",
        "the five-year overhaul of the release gear done by 'crew'; by 'competent person' (a query: the record does "
        "not show that the firm is authorized)",
        "work of before 1 January 2020 (MSC.402(96) was not in force); crew work after an examination by a provider "
        "that still holds; an empty cell (not evaluated)",
        "have it done by the maker or an authorized provider; correct the cell if it was",
        "MSC.402(96) 4.2, 4.3; SOLAS III/20.8.1",
    )
)
def done_by_others(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every service in time that was done by somebody whom the rule does not name."""
    for duty in (*duties(audit), *deadlines(audit)):
        holding = duty.holding
        if duty.fault != "hands" or holding is None:
            continue
        sure = duty.state == "finding"
        grade = "action" if sure else "query"
        asked = " or ".join(duty.rule.done_by)
        service = holding.row.get("service") or duty.rule.item
        shown = "" if sure else "; the record does not show that this is one of them"
        yield audit.finding(
            "SV04",
            "note" if _extra(duty) else grade,
            "plan" if _extra(duty) else duty.rule.priority if sure else "at next port",
            holding.sheet,
            holding.row,
            "done_by",
            duty.subject,
            f"{service} on {holding.done}: done by {holding.row.get('done_by')}, {asked} asked{shown}",
            f"have it done by {asked}, or correct the cell.{caution_for(service)}",
            duty.rule,
        )
