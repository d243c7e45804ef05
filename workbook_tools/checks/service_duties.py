"""How every service shown by the Servicing sheet ended, for each craft, appliance and the ship."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from workbook_tools.checks.alike import CraftRule, craft_rule
from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.service_duty import Duty, doubts_of, judged
from workbook_tools.checks.service_holding import line_holding, policy_of
from workbook_tools.checks.service_lines import Lines, lines_for_craft, lines_for_ship
from workbook_tools.core import stock
from workbook_tools.core.servicing import months_after
from workbook_tools.rules import Rule
from workbook_tools.rules.loader import Policy

_SERVICING = ("servicing",)
_DISPOSABLE, _SERVICEABLE = "hydrostatic release fitted", "hydrostatic release serviced"
_RELEASE_ITEM = "hydrostatic release unit"


def duties(audit: Audit) -> list[Duty]:
    """How every rule shown by the Servicing sheet ended for every subject, worked out once an audit."""
    return audit.once("services", lambda: _work_out(audit))


def _work_out(audit: Audit) -> list[Duty]:
    found: list[Duty] = []
    stands = [
        (craft, {entry.key: entry for entry in audit.rules_for_craft(craft, _SERVICING, ("craft", *craft.subjects()))})
        for craft in audit.crafts
    ]
    for key, rows in audit.rule_set.by_evidence("servicing"):
        if rows[0].subject in ("ship", "appliance"):
            found.extend(_of_ship(audit, key, rows))
        else:
            found.extend(_of_craft(audit, craft, entries[key]) for craft, entries in stands if key in entries)
    return found


def _of_craft(audit: Audit, craft: Craft, entry: CraftRule) -> Duty:
    duty = _craft_duty(audit, craft, entry)
    duty.craft = craft
    return duty


def _craft_duty(audit: Audit, craft: Craft, entry: CraftRule) -> Duty:
    first = entry.rows[0]
    if outside := audit.outside_of(first):
        return Duty(first, craft.name, "not_applicable", outside)
    if not craft.clear:
        return Duty(first, craft.name, "not_evaluated", "the craft's name is not clear")
    if entry.is_open:
        in_force = audit.rows_in_force(entry.key, entry.rows, craft.persons)
        entry = craft_rule(audit.rule_set, entry.rows, *in_force, craft.facts)
    rule, fact = entry.rule, entry.doubt or ""
    if rule is None or entry.state:
        return Duty(rule or first, craft.name, entry.state, entry.why)
    if rule.item in (_DISPOSABLE, _SERVICEABLE):
        shown = _release_shown_otherwise(audit, craft, rule)
        if shown:
            return Duty(rule, craft.name, "not_applicable", shown)
    made, start = craft.row.get("made"), policy_of("start", rule)
    if start is not None and made is not None and audit.on <= months_after(made, int(start.value)):
        return Duty(rule, craft.name, "not_applicable", _young(made, start))
    if "servicing" not in audit.book.tables:
        return Duty(rule, craft.name, "not_evaluated", "the book has no Servicing sheet")
    lines = lines_for_craft(audit, craft, rule.item)
    holdings = [entry for entry in (line_holding(audit, rule, row) for row in lines.clear) if entry is not None]
    # Of a raft whose age is not recorded nobody can say that it is old enough for a yearly pressure test.
    if start is not None and made is None and start.value > rule.fixed:
        fact = "the raft's day of making is not recorded"
    none = f"the Servicing sheet has no dated line '{rule.item}' for this craft"
    return judged(audit, rule, craft.name, holdings, doubts_of(audit, rule, lines), none, fact)


def _young(made: date, start: Policy) -> str:
    return f"of {made}: asked from an age of {start.value:g} months on"


def _release_shown_otherwise(audit: Audit, craft: Craft, rule: Rule) -> str:
    """Why a raft's hydrostatic release is shown by something else than this service; '' when it is not.

    A date marked on a disposable unit is the Inventory's: it is not asked twice. Of the two kinds of unit a raft has
    one: the later line tells which.
    """
    for entry in craft.lots:
        lot = entry.lot
        if lot.item == _RELEASE_ITEM and lot.expires and lot.certain and lot.condition in stock.FIT_CONDITIONS:
            return f"shown by the date at {audit.where('inventory', entry.row, 'expires')}"
    latest: dict[str, date] = {}
    for service in (_DISPOSABLE, _SERVICEABLE):
        days = [row.get("done") for row in lines_for_craft(audit, craft, service).clear]
        past = [day for day in days if day is not None and day <= audit.on]
        if past:
            latest[service] = max(past)
    other = _SERVICEABLE if rule.item == _DISPOSABLE else _DISPOSABLE
    if other in latest and (rule.item not in latest or latest[other] > latest[rule.item]):
        return f"the unit is of the other kind: {other} {latest[other]}"
    return ""


def _of_ship(audit: Audit, key: str, rows: list[Rule]) -> Iterator[Duty]:
    if outside := audit.outside_of(rows[0]):
        yield Duty(rows[0], SHIP, "not_applicable", outside)
        return
    rule, state, why = audit.rows_in_force(key, rows, None)
    if rule is None:
        yield Duty(rows[0], SHIP, state, why)
        return
    applies, fact = rule.condition.holds(audit.ship_facts)
    if applies is False:
        yield Duty(rule, SHIP, "not_applicable", fact)
        return
    start, made = policy_of("start", rule), made_of(audit, rule)
    if start is not None and made is not None and audit.on <= months_after(made, int(start.value)):
        yield Duty(rule, SHIP, "not_applicable", _young(made, start))
        return
    by_name = lines_for_ship(audit, rule.item)
    none = f"the Servicing sheet has no dated line '{rule.item}'"
    if "servicing" not in audit.book.tables:
        none = "the book has no Servicing sheet"
    if rule.subject == "ship" or not by_name:
        together = Lines()
        doubtful = {}  # a line may be for several things
        for lines in by_name.values():
            together.clear.extend(lines.clear)
            doubtful.update({(id(row), column): (row, column) for row, column in lines.doubtful})
        together.doubtful.extend(doubtful.values())
        by_name = {SHIP: together}
    for name, lines in by_name.items():
        holdings = [entry for entry in (line_holding(audit, rule, row) for row in lines.clear) if entry is not None]
        yield judged(audit, rule, name, holdings, doubts_of(audit, rule, lines), none, "" if applies else fact)


def made_of(audit: Audit, rule: Rule) -> date | None:
    """The earliest day from which a thing of the ship can be counted: its foam's year of making, else the keel."""
    if rule.item != "foam concentrate analysed":
        keel: date | None = audit.book.ship_value("keel_laid")
        return keel
    years = [row.get("made") for row in audit.book.rows("fire") if row.get("kind") == "foam concentrate"]
    return date(int(min(years)), 1, 1) if years and all(year is not None for year in years) else None
