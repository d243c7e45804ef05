"""Whether the lines of the Servicing sheet can be right (SV codes)."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, close_crafts
from workbook_tools.checks.raft_service import raft_service_rule
from workbook_tools.checks.registry import Code, check
from workbook_tools.checks.service_holding import (
    interval_of,
    interval_words,
    line_holding,
    policy_of,
    raft_holding,
    reach,
)
from workbook_tools.checks.service_lines import (
    craft_services,
    kinds_of_service,
    lines_for_craft,
    rule_of_line,
    service_of,
)
from workbook_tools.core.servicing import holds_until, months_after, next_due_fits, shorter
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.rules import Rule


def _line_subject(row: Row) -> str:
    parts = [row.get("appliance"), row.get("service")]
    return ", ".join(part for part in parts if part)


def _query(audit: Audit, code: str, row: Row, column: str, message: str, remedy: str, source: str = "") -> Finding:
    return audit.finding(
        code, "query", "at next port", "servicing", row, column, _line_subject(row), message, remedy, source=source
    )


@check(
    Code(
        "SV05",
        "service-of-unknown-craft",
        ("query",),
        "a service that belongs to a craft names one of the Craft sheet",
        "a service entered for a craft that is not there is counted for none",
        "'falls renewed' for 'Lifebaot 1'",
        "'LIFEBOAT 1'; 'EPIRB' with 'EPIRB annual test', which is no craft's",
        "write the craft's name as on the Craft sheet",
    )
)
def service_of_unknown_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every craft's service with an appliance that is no craft."""
    services, by_name = craft_services(audit), audit.crafts_by_name
    if not all(craft.clear for craft in audit.crafts):
        return  # a craft whose name is not clear may be the one meant; its name is a query already
    for row in audit.book.rows("servicing"):
        text = row.get("appliance")
        if text is None or row.get("service") not in services or catalogue.normalise(text) in by_name:
            continue
        near = close_crafts(text, by_name)
        hint = f"; did you mean {near[0].name!r}?" if near else ""
        yield _query(
            audit,
            "SV05",
            row,
            "appliance",
            f"{row.get('service')}: {text!r} is no craft of the Craft sheet{hint}",
            "write the craft's name as on the Craft sheet; one line for each craft",
        )


@check(
    Code(
        "SV06",
        "next-due-differs",
        ("query",),
        "the day 'next due' is the last one plus the interval",
        "of two dates the comfortable one is believed",
        "falls renewed on 10 May 2024, next due 10 May 2031",
        "one day less than the interval; another day of the same month; a shorter interval of the maker that is "
        "recorded; any day within the survey window; the day that the Administration has granted",
        "compare with the certificate; enter the maker's interval where it is shorter",
        "resolution A.1104(29): expiry is the date of the survey or that date less one day",
    )
)
def next_due_differs(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every 'next due' that no reading of the interval gives."""
    for row in audit.book.rows("servicing"):
        written = row.get("next_due")
        rule = rule_of_line(audit, row) if written is not None else None
        if written is None or rule is None or {"interval", "granted_until"} & row.unclear.keys():
            continue
        holding = line_holding(audit, rule, row)
        if holding is None or written == row.get("granted_until"):
            continue
        own = holds_until(holding.done, shorter(interval_of(rule), row.get("interval"), holding.done))
        readings = (own, holding.due, holds_until(holding.done, interval_of(rule)))
        windowed = policy_of("window", rule) is not None and holding.done < written <= holding.maybe
        if windowed or any(next_due_fits(written, holding.done, day, max(day, holding.maybe)) for day in readings):
            continue
        yield _query(
            audit,
            "SV06",
            row,
            "next_due",
            f"{rule.item}: next due {written} is written; done {holding.done}, it holds until {holding.due}",
            "compare both dates with the certificate; enter the maker's interval where it is shorter",
            rule.reference,
        )


@check(
    Code(
        "SV07",
        "grant-without-reference",
        ("query",),
        "a service put off by the Administration has the reference of its letter",
        "a grant that nobody can show does not count at the gangway",
        "inflatable lifejackets put off until March 2027, no reference; a raft put off on the Craft sheet, and no line "
        "of the Servicing sheet with the letter's reference",
        "a reference in the cell; a day that lies before the service is due anyway",
        "enter the reference of the Administration's letter",
        "SOLAS III/20.8.1, 20.9",
    )
)
def grant_without_reference(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every grant without a reference that would move a deadline."""
    for row in audit.book.rows("servicing"):
        granted = row.get("granted_until")
        rule = rule_of_line(audit, row) if granted is not None else None
        if granted is None or rule is None or row.get("grant_reference") is not None:
            continue
        holding = line_holding(audit, rule, row)
        if holding is None or granted <= holding.due or "grant_reference" in row.unclear:
            continue
        yield _query(
            audit,
            "SV07",
            row,
            "granted_until",
            f"{rule.item}: put off until {granted} without a reference; it counts until {holding.due}",
            "enter the reference of the Administration's letter",
            rule.reference,
        )
    service = raft_service_rule(audit)
    for craft in audit.crafts if service is not None and not audit.outside else []:
        granted = craft.row.get("service_granted_until")
        own = raft_holding(audit, craft, service) if service is not None and granted is not None else None
        if service is None or own is None or "liferaft" not in craft.families:
            continue
        lines = lines_for_craft(audit, craft, service_of(service) or "").clear
        shown = any(row.get("granted_until") and row.get("grant_reference") for row in lines)
        if not shown and own.maybe > own.due and own.maybe >= audit.on:
            yield audit.finding(
                "SV07",
                "query",
                "at next port",
                "craft",
                craft.row,
                "service_granted_until",
                craft.name,
                f"{service.item}: put off until {granted} without a reference; it counts until {own.due}",
                "enter the service on the Servicing sheet, with what was granted and the reference of the letter",
                service,
            )


@check(
    Code(
        "SV08",
        "grant-too-long",
        ("query",),
        "a service is put off no longer than the paragraph lets the Administration grant",
        "beyond seventeen months a raft has no paragraph to stand on",
        "a raft serviced on 20 October 2026 and put off until May 2028; falls put off (the text has no extension)",
        "exactly seventeen months",
        "read the letter again; what goes beyond the paragraph belongs on the Exemptions sheet",
        "SOLAS III/20.8.1, 20.9",
    )
)
def grant_too_long(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every grant beyond what the paragraph allows."""
    remedy = "read the letter again; what goes beyond the paragraph is an exemption: enter it on the Exemptions sheet"
    for row in audit.book.rows("servicing"):
        granted, done = row.get("granted_until"), row.get("done")
        rule = rule_of_line(audit, row) if granted is not None else None
        if granted is None or done is None or rule is None:
            continue
        said = _too_long(rule, done, granted)
        if said and granted > reach(audit, rule, done, row.get("interval"))[0]:
            yield _query(audit, "SV08", row, "granted_until", f"{rule.item}: {said}", remedy, rule.reference)
    service = raft_service_rule(audit)
    for craft in audit.crafts if service is not None and service.extended_to is not None else []:
        granted, done = craft.row.get("service_granted_until"), craft.row.get("serviced")
        if service is None or granted is None or done is None or audit.outside or "liferaft" not in craft.families:
            continue
        if said := _too_long(service, done, granted):
            yield audit.finding(
                "SV08",
                "query",
                "at next port",
                "craft",
                craft.row,
                "service_granted_until",
                craft.name,
                f"{service.item}: {said}",
                remedy,
                source=service.reference,
            )


def _too_long(rule: Rule, done: date, granted: date) -> str:
    if rule.extended_to is None:
        return f"put off until {granted}; {rule.reference} knows no extension"
    bound = months_after(done, int(rule.extended_to))
    if granted <= bound:
        return ""
    return f"put off until {granted}; {rule.extended_to:g} months after {done} is {bound}, and no more can be granted"


@check(
    Code(
        "SV09",
        "interval-longer-than-rule",
        ("query",),
        "a maker's interval is shorter than the rule's",
        "a maker can ask for more care, never for less",
        "falls with a maker's interval of 6Y",
        "4Y; 60M, which is the rule's own",
        "leave the cell empty, or write the shorter interval",
    )
)
def interval_longer_than_rule(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every maker's interval that is longer than the rule's."""
    for row in audit.book.rows("servicing"):
        makers = row.get("interval")
        rule = rule_of_line(audit, row) if makers is not None else None
        if makers is None or rule is None:
            continue
        done = row.get("done") or audit.on
        if holds_until(done, makers) > holds_until(done, interval_of(rule)):
            yield _query(
                audit,
                "SV09",
                row,
                "interval",
                f"{rule.item}: maker's interval {makers} is longer than the {interval_words(rule)} of the rule, "
                "which stand",
                "leave the cell empty, or write the shorter interval",
                rule.reference,
            )


@check(
    Code(
        "SV10",
        "service-misfits-craft",
        ("query",),
        "a craft's service is one that its kind of craft has",
        "a line that slipped to the next craft leaves the right one without its service",
        "'release gear annual examination' for a throw-over raft",
        "'falls renewed' for a free-fall boat (its recovery falls); a hydrostatic release on a remote raft",
        "correct the craft or the service",
    )
)
def service_misfits_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every service of a family of craft to which the craft named does not belong."""
    services = craft_services(audit)
    for row in audit.book.rows("servicing"):
        craft = audit.crafts_by_name.get(catalogue.normalise(row.get("appliance") or ""))
        families = services.get(row.get("service") or "", ())
        if craft is None or craft.kind is None or not families:
            continue
        # A throw-over raft shares its family with one under a davit, but has nothing that is lowered.
        shared = set(families) & set(craft.families)
        if shared and (craft.kind != "liferaft" or "liferaft" in kinds_of_service(audit, row.get("service") or "")):
            continue
        yield _query(
            audit,
            "SV10",
            row,
            "service",
            f"{row.get('service')} is recorded for {craft.name}, a {craft.kind}, which has nothing of the kind",
            "correct the craft or the service",
        )
