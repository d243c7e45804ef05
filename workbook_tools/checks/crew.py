"""Who goes to which craft (CR codes)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, Craft, close_crafts
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.findings import Finding, State
from workbook_tools.reading import Row
from workbook_tools.rules import Rule


@dataclass(slots=True)
class Boarding:
    """The persons assigned to a craft, those who may be, and the state of its two rules."""

    craft: Craft
    assigned: list[Row] = field(default_factory=list)
    doubtful: list[Row] = field(default_factory=list)
    states: dict[str, tuple[str, str]] = field(default_factory=dict)


def _rule(audit: Audit, name: str) -> Rule | None:
    return next((rule for rule in audit.rule_set.rules if rule.evidence == "crew" and rule.key.endswith(name)), None)


def boardings(audit: Audit) -> list[Boarding]:
    """Who is assigned to each craft, worked out once an audit."""
    if "boardings" not in audit.shared:
        audit.shared["boardings"] = _evaluate(audit)
    result: list[Boarding] = audit.shared["boardings"]
    return result


def _evaluate(audit: Audit) -> list[Boarding]:
    by_name: dict[str, Craft] = audit.shared["crafts_by_name"]
    found = {id(craft): Boarding(craft) for craft in audit.crafts}
    for row in audit.book.rows("crew"):
        text = row.get("craft")
        if text is None:
            continue
        craft = by_name.get(catalogue.normalise(text))
        if craft is not None:
            found[id(craft)].assigned.append(row)
        else:
            for near in close_crafts(text, by_name):
                found[id(near)].doubtful.append(row)
    recorded = any(boarding.assigned or boarding.doubtful for boarding in found.values())
    for boarding in found.values():
        boarding.states["manning.room"] = _room(audit, boarding, recorded)
        boarding.states["manning.person-in-charge"] = _charge(audit, boarding, recorded)
    return list(found.values())


def _basis(audit: Audit, boarding: Boarding, recorded: bool) -> tuple[str, str] | None:
    if audit.outside:
        return "not_applicable", audit.outside
    if not boarding.craft.clear:
        return "not_evaluated", "the craft's name is not clear"
    if not recorded:
        return "not_evaluated", "the Crew sheet assigns nobody to a craft"
    return None


def _room(audit: Audit, boarding: Boarding, recorded: bool) -> tuple[str, str]:
    basis = _basis(audit, boarding, recorded)
    if basis is not None:
        return basis
    persons = boarding.craft.persons
    if persons is None:
        return "not_evaluated", "persons permitted is not recorded"
    if len(boarding.assigned) > persons:
        return "finding", ""
    if len(boarding.assigned) + len(boarding.doubtful) > persons:
        return "not_evaluated", "a craft named on the Crew sheet is not clear"
    return "passed", "counted"


def _charge(audit: Audit, boarding: Boarding, recorded: bool) -> tuple[str, str]:
    basis = _basis(audit, boarding, recorded)
    if basis is not None:
        return basis
    if any(row.get("duty") == "person in charge" for row in boarding.assigned):
        return "passed", "counted"
    if not boarding.assigned:
        return "not_applicable", "nobody is assigned to it"
    doubtful = [row for row in boarding.doubtful if row.get("duty") == "person in charge"]
    if doubtful or any("duty" in row.unclear for row in boarding.assigned):
        return "not_evaluated", "a duty or craft named on the Crew sheet is not clear"
    if all(row.get("duty") is None for row in boarding.assigned):
        return "not_evaluated", "no duty in the craft is recorded"
    return "finding", ""


@states
def crew_states(audit: Audit) -> Iterator[State]:
    """How the rules on persons in craft ended."""
    prefix = "" if audit.rule_set.key == "solas" else f"{audit.rule_set.key}-"
    for boarding in boardings(audit):
        for key, (state, why) in boarding.states.items():
            yield State(f"{prefix}{key}", boarding.craft.name, state, why)


@check(
    Code(
        "CR01",
        "craft-overfilled",
        ("action",),
        "no more persons are assigned to a craft than it is permitted to accommodate",
        "who has no seat in a boat that falls or is lowered is hurt, and hurts others",
        "31 persons assigned to a boat for 30",
        "exactly 30 persons assigned to it",
        "assign the persons beyond the number to another craft with room",
        "LSA Code 4.4.2",
    )
)
def craft_overfilled(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every craft with more persons than places."""
    rule = _rule(audit, "manning.room")
    for boarding in boardings(audit):
        if rule is None or boarding.states["manning.room"][0] != "finding":
            continue
        persons = boarding.craft.persons or 0
        yield audit.finding(
            "CR01",
            "action",
            rule.priority,
            "crew",
            boarding.assigned[persons],
            "craft",
            boarding.craft.name,
            f"{len(boarding.assigned)} persons assigned, {persons} permitted",
            "assign those beyond the number to another craft with room",
            rule,
            required=persons,
            carried=len(boarding.assigned),
        )


@check(
    Code(
        "CR02",
        "nobody-in-charge",
        ("action",),
        "each craft to which persons are assigned has a person in charge",
        "a craft without one is not launched in time",
        "Lifeboat 2 has twelve persons assigned, none with the duty 'person in charge'",
        "a raft to which nobody is assigned",
        "name a deck officer or certificated person",
        "SOLAS III/10.3; 46 CFR 199.100",
    )
)
def nobody_in_charge(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every manned craft without a person in charge."""
    rule = _rule(audit, "manning.person-in-charge")
    for boarding in boardings(audit):
        if rule is None or boarding.states["manning.person-in-charge"][0] != "finding":
            continue
        yield audit.finding(
            "CR02",
            "action",
            rule.priority,
            "craft",
            boarding.craft.row,
            "name",
            boarding.craft.name,
            f"{len(boarding.assigned)} persons assigned, none of them in charge ({rule.note or 'one is asked'})",
            "give one of them the duty 'person in charge' on the Crew sheet",
            rule,
            required=1,
            carried=0,
        )


@check(
    Code(
        "CR03",
        "assigned-to-unknown-craft",
        ("query",),
        "the craft that a person is assigned to stands on the Craft sheet",
        "a person sent to a boat that is not there has no place",
        "'Lifebaot 1' on the Crew sheet",
        "'lifeboat 1' in small letters; an empty cell",
        "write the craft's name as on the Craft sheet",
    )
)
def assigned_to_unknown_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every person assigned to a craft nobody knows."""
    by_name: dict[str, Craft] = audit.shared["crafts_by_name"]
    for row in audit.book.rows("crew"):
        text = row.get("craft")
        if text is None or catalogue.normalise(text) in by_name:
            continue
        near = close_crafts(text, by_name)
        hint = f"; did you mean {near[0].name!r}?" if near else ""
        number = row.get("number")
        yield audit.finding(
            "CR03",
            "query",
            "at next port",
            "crew",
            row,
            "craft",
            f"crew number {number}" if number else f"assigned to {text}",
            f"craft {text!r} is not on the Craft sheet{hint}",
            "write the craft's name as on the Craft sheet",
        )
