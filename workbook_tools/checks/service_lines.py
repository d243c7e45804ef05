"""Which lines of the Servicing sheet are about which subject, and which rule a line answers to."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, Craft, close_crafts
from workbook_tools.columns import sheet
from workbook_tools.reading import Row
from workbook_tools.rules import Rule, RuleSet


@dataclass(slots=True)
class Lines:
    """The lines for one service of one subject, and those that may be for it but are not clear."""

    clear: list[Row] = field(default_factory=list)
    doubtful: list[tuple[Row, str]] = field(default_factory=list)  # with the column that is not clear


@dataclass(slots=True)
class _Service:
    """The lines of one service and those whose service is not clear, in the order of the sheet, with the appliance."""

    lines: list[tuple[Row, str]] = field(default_factory=list)
    of_craft: dict[str, list[tuple[Row, str]]] = field(default_factory=dict)  # by folded name, the craft's own only
    elsewhere: bool = False  # whether some line names no craft of the book

    def add(self, row: Row, folded: str, is_craft: bool) -> None:
        """Add a line; folded: its appliance as names are compared."""
        line = row, folded
        self.lines.append(line)
        if is_craft:
            self.of_craft.setdefault(folded, []).append(line)
        else:
            self.elsewhere = True


def lines_for_craft(audit: Audit, craft: Craft, service: str) -> Lines:
    """The lines of a service that name a craft, and those that may mean it."""
    lines, by_name = Lines(), audit.crafts_by_name
    own, known = catalogue.normalise(craft.name), _lines_of_service(audit, service)
    for row, folded in known.lines if known.elsewhere or own not in by_name else known.of_craft.get(own, ()):
        if folded != own and folded in by_name:
            continue
        named, text = row.get("service"), row.get("appliance")
        if folded == own:
            if named is None or "done" in row.unclear:
                lines.doubtful.append((row, "service" if named is None else "done"))
            else:
                lines.clear.append(row)
        else:
            near = close_crafts(text, by_name) if text else []
            if craft in near or (named == service and not near):
                lines.doubtful.append((row, "appliance"))
    return lines


def _lines_of_service(audit: Audit, service: str) -> _Service:
    """The lines whose service is this one or is not clear."""
    by_service = audit.once("lines_by_service", lambda: _index_lines(audit))
    return by_service.get(service) or by_service[""]


def _index_lines(audit: Audit) -> dict[str, _Service]:
    """The lines by service; under '' those whose service is not clear, which stand under every other one as well."""
    rows = [(row, row.get("service")) for row in audit.book.rows("servicing")]
    found = {"": _Service()} | {service: _Service() for _, service in rows if service is not None}
    for row, service in rows:
        if service is not None or "service" in row.unclear:
            folded = catalogue.normalise(row.get("appliance") or "")
            for name in found if service is None else (service,):
                found[name].add(row, folded, folded in audit.crafts_by_name)
    return found


def lines_for_ship(audit: Audit, service: str) -> dict[str, Lines]:
    """The lines of a service by appliance; those whose service is not clear are doubtful for every appliance."""
    found: dict[str, Lines] = {}
    names: dict[str, str] = {}
    unclear = []
    for row, folded in _lines_of_service(audit, service).lines:
        text = row.get("appliance") or ""
        if row.get("service") == service:
            name = names.setdefault(folded or catalogue.normalise(service), text or service)
            lines = found.setdefault(name, Lines())
            if "done" in row.unclear:
                lines.doubtful.append((row, "done"))
            else:
                lines.clear.append(row)
        elif folded not in audit.crafts_by_name:
            unclear.append((row, "service"))
    for lines in found.values():
        lines.doubtful.extend(unclear)
    return found


def rule_of_line(audit: Audit, row: Row) -> Rule | None:
    """The rule in force that a line's service answers to, as it applies to its craft or to the ship."""
    known: dict[int, Rule | None] = audit.once("rules_of_lines", dict)
    if id(row) not in known:  # several checks ask it of every line
        known[id(row)] = _rule_of_line(audit, row)
    return known[id(row)]


def _rule_of_line(audit: Audit, row: Row) -> Rule | None:
    named = row.get("service")
    if named is None or audit.outside:
        return None
    craft = audit.crafts_by_name.get(catalogue.normalise(row.get("appliance") or ""))
    facts = craft.facts if craft else audit.ship_facts
    rules = _rules_by_service(audit.rule_set, audit.on).get(named, ())
    return next((rule for rule in rules if rule.condition.holds(facts)[0] is not False), None)


@lru_cache(maxsize=256)
def _rules_by_service(rule_set: RuleSet, on: date) -> dict[str, list[Rule]]:
    """The rules in force for each service, in the order of the tables: many lines ask for the few of their own."""
    found: dict[str, list[Rule]] = {}
    for rule in rule_set.rules:
        if rule.evidence in ("servicing", "service") and rule.in_force(on):
            service = service_of(rule)
            if service is not None:
                found.setdefault(service, []).append(rule)
    return found


def service_of(rule: Rule) -> str | None:
    """The word of the Servicing sheet for what a rule asks; a raft's own service goes by another trade name there."""
    return rule.item if rule.evidence == "servicing" else sheet("servicing").column("service").names.find(rule.item)


def craft_services(audit: Audit) -> dict[str, tuple[str, ...]]:
    """The services that belong to craft, with the families of craft that have them."""
    return _craft_services(audit.rule_set)


@lru_cache(maxsize=16)
def _craft_services(rule_set: RuleSet) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    kinds = catalogue.craft_kinds()
    for rule in rule_set.rules:
        if rule.evidence not in ("servicing", "service") or rule.subject in ("ship", "appliance"):
            continue
        service = service_of(rule)
        clause = next((values for fact, values in rule.condition.clauses if fact == "kind"), ())
        families = [family for kind in clause for family in kinds[kind].families]
        if rule.subject != "craft":
            families.append(rule.subject)
        if service:
            found[service] = tuple(dict.fromkeys((*found.get(service, ()), *families)))
    return found


def kinds_of_service(audit: Audit, service: str) -> tuple[str, ...]:
    """The kinds of craft that a rule of this service names; a raft alone when it names none."""
    return _kinds_of_service(audit.rule_set, service)


@lru_cache(maxsize=1_000)
def _kinds_of_service(rule_set: RuleSet, service: str) -> tuple[str, ...]:
    for rule in rule_set.rules:
        if rule.evidence == "servicing" and rule.item == service:
            return next((values for fact, values in rule.condition.clauses if fact == "kind"), ("liferaft",))
    return ("liferaft",)
