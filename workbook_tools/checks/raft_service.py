"""Rafts: the service certificate and what is in the sealed pack (SOLAS III/20.8.1)."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from workbook_tools.checks.context import Audit, Craft
from workbook_tools.checks.service_duty import Duty, doubts_of, judged
from workbook_tools.checks.service_holding import Holding, line_holding, raft_holding
from workbook_tools.checks.service_lines import Lines, lines_for_craft, service_of
from workbook_tools.rules import Rule, RuleSet


def raft_service_rule(audit: Audit) -> Rule | None:
    """The rule in force on the service of a raft, or None where the rule set has none."""
    rules = _raft_rules(audit.rule_set)
    return next((rule for rule in rules if rule.evidence == "service" and rule.in_force(audit.on)), None)


def _raft_lines(audit: Audit, craft: Craft, rule: Rule) -> Lines:
    service = service_of(rule)
    return lines_for_craft(audit, craft, service) if service and craft.clear else Lines()


def _raft_holdings(audit: Audit, craft: Craft, rule: Rule) -> list[Holding]:
    """What the Craft sheet and the Servicing sheet record of a raft's service: the later one counts."""
    own = raft_holding(audit, craft, rule)
    lines = [line_holding(audit, rule, row) for row in _raft_lines(audit, craft, rule).clear]
    return [entry for entry in (own, *lines) if entry is not None]


def certificate_state(audit: Audit, craft: Craft) -> tuple[bool, str]:
    """Whether a raft's certificate is evidence on the day asked, and by which certificate or why not."""
    known: dict[tuple[int, date], tuple[bool, str]] = audit.once("certificate_states", dict)
    key = id(craft), audit.on
    found = known.get(key)
    if found is None:  # every item of a sealed pack asks
        found = known[key] = _certificate_state(audit, craft)
    return found


def _certificate_state(audit: Audit, craft: Craft) -> tuple[bool, str]:
    rule = raft_service_rule(audit)
    if rule is not None:
        lines = [entry for entry in _raft_holdings(audit, craft, rule) if entry.sheet == "servicing"]
        for entry in sorted(lines, key=lambda entry: entry.done, reverse=True):
            number = entry.row.get("certificate")
            if number is not None and entry.hands == "ok" and entry.done <= audit.on <= entry.due:
                return True, f"by evidence: certificate {number} of {entry.done}"
    number, serviced = craft.row.get("certificate"), craft.row.get("serviced")
    if number is None or serviced is None:
        missing = "number" if number is None else "date"
        return False, f"sealed pack: the {missing} of the service certificate is not recorded"
    if serviced > audit.on:
        return False, f"sealed pack: the service certificate is dated {serviced}, after the day asked"
    own = raft_holding(audit, craft, rule) if rule is not None else None
    if own is not None and own.due < audit.on:
        return False, f"sealed pack: the service certificate lapsed on {own.due}"
    return True, f"by evidence: certificate {number} of {serviced}"


def deadlines(audit: Audit) -> list[Duty]:
    """The state of each raft's service and dated contents, worked out once an audit."""
    return audit.once("deadlines", lambda: _work_out(audit))


def _work_out(audit: Audit) -> list[Duty]:
    found = []
    rules = _raft_rules(audit.rule_set)
    for craft in audit.crafts:
        subjects = craft.subjects()
        for rule in rules:
            if rule.subject in subjects:
                duty = _deadline(audit, craft, rule)
                duty.craft = craft
                found.append(duty)
    return found


@lru_cache(maxsize=16)
def _raft_rules(rule_set: RuleSet) -> tuple[Rule, ...]:
    return tuple(rule for rule in rule_set.rules if rule.evidence in ("service", "contents"))


def _deadline(audit: Audit, craft: Craft, rule: Rule) -> Duty:
    if audit.outside:
        return Duty(rule, craft.name, "not_applicable", audit.outside)
    if not craft.clear:
        return Duty(rule, craft.name, "not_evaluated", "the craft's name is not clear")
    if rule.evidence == "service":
        holdings, lines = _raft_holdings(audit, craft, rule), _raft_lines(audit, craft, rule)
        doubts = doubts_of(audit, rule, lines)
        if "serviced" in craft.row.unclear:
            doubts.append(f"{audit.where('craft', craft.row, 'serviced')} shows {craft.row.unclear['serviced']!r}")
        return judged(audit, rule, craft.name, holdings, doubts, "date of the last service is not recorded")
    day = craft.row.get("earliest_content")
    if day is None:
        return Duty(rule, craft.name, "not_evaluated", "earliest dated content of the pack is not recorded")
    holding = Holding("craft", craft.row, "earliest_content", day, day, day)
    if day < audit.on:
        return Duty(rule, craft.name, "finding", "recorded", day=day, fault="overdue", holding=holding)
    return Duty(rule, craft.name, "passed", "recorded", day=day, warn=True, holding=holding)
