"""The craft that the published tables speak of, and what a rule set asks of one."""

from dataclasses import dataclass
from datetime import date

from workbook_tools.core.quantity import in_band, required
from workbook_tools.rules import Rule, RuleSet
from workbook_tools.rules.model import Facts

ON = date(2026, 11, 25)

# Persons permitted: the smallest raft, both sides of 13 persons (a second bailer and knife), both sides of a further
# thermal protective aid, and the largest lifeboat.
PERSONS = (6, 12, 13, 20, 21, 25, 36, 150)

# What is counted in pieces, litres or kJ, as against the length of a line, the mass of a raft or a service date.
COUNTED = ("inventory", "certificate", "maker")
CRAFT_SUBJECTS = ("lifeboat", "liferaft", "liferaft-a", "liferaft-b", "rescue-boat")
EQUIPMENT_TABLES = ("lifeboat.csv", "liferaft.csv", "rescue_boat.csv", "survival_craft.csv")


def of_equipment_table(rule: Rule) -> bool:
    """Whether a rule stands in one of the tables of equipment, and not among services, routines or fittings."""
    return rule.subject in CRAFT_SUBJECTS and rule.origin.partition(":")[0] in EQUIPMENT_TABLES


@dataclass(frozen=True)
class TableCraft:
    """A craft as a table knows it: the subjects it answers to and the facts that decide for it."""

    name: str
    subjects: tuple[str, ...]
    facts: Facts


def _lifeboat(name: str, kind: str = "lifeboat", voyage: str = "international", self_bailing: str = "no") -> TableCraft:
    subjects = ("lifeboat", "rescue-boat") if kind == "lifeboat and rescue boat" else ("lifeboat",)
    facts = {"kind": kind, "construction": "totally enclosed", "voyage": voyage, "self_bailing": self_bailing}
    return TableCraft(name, subjects, facts)


def _raft(pack: str, voyage: str) -> TableCraft:
    facts = {"kind": "liferaft", "construction": "rigid", "purpose": "required", "pack": pack, "voyage": voyage}
    return TableCraft(f"rigid {pack} raft", (f"liferaft-{pack.lower()}",), facts)


def _rescue_boat(construction: str) -> TableCraft:
    facts = {"kind": "rescue boat", "construction": construction, "voyage": "international"}
    return TableCraft(f"{construction} rescue boat", ("rescue-boat",), facts)


LIFEBOAT = _lifeboat("lifeboat")
SHORT_LIFEBOAT = _lifeboat("short international lifeboat", voyage="short international")
SELF_BAILING_LIFEBOAT = _lifeboat("self-bailing lifeboat", self_bailing="yes")
FREE_FALL_LIFEBOAT = _lifeboat("free-fall lifeboat", kind="free-fall lifeboat")
LIFEBOAT_AND_RESCUE_BOAT = _lifeboat("lifeboat and rescue boat", kind="lifeboat and rescue boat")
SHORT_LIFEBOAT_AND_RESCUE_BOAT = _lifeboat(
    "short international lifeboat and rescue boat", kind="lifeboat and rescue boat", voyage="short international"
)
A_RAFT = _raft("A", "international")
B_RAFT = _raft("B", "short international")
RIGID_RESCUE_BOAT = _rescue_boat("rigid")
INFLATED_RESCUE_BOAT = _rescue_boat("inflated")
RIGID_INFLATED_RESCUE_BOAT = _rescue_boat("rigid-inflated")


def rule_of(rule_set: RuleSet, key: str, persons: int | None = None, on: date = ON) -> Rule:
    """The one row of a key that is in force on a day and holds a size."""
    rows = [rule for rule in rule_set.by_key()[key] if rule.in_force(on) and in_band(rule, persons) is not False]
    assert len(rows) == 1, f"{key}: {len(rows)} rows for {persons} persons on {on}"
    return rows[0]


def figure(rule_set: RuleSet, key: str, persons: int | None = None, height_m: float | None = None) -> float:
    """The quantity that the row of a key asks, in its unit."""
    asked = required(rule_of(rule_set, key, persons), persons, height_m)
    assert asked is not None, f"{key} asks for a figure that was not given"
    return asked


def asked_of_subject(rule_set: RuleSet, item: str, subject: str, facts: Facts, persons: int, on: date = ON) -> float:
    """What a rule set asks of one kind of subject: 0 where no rule holds; two rules for one thing add up and show."""
    total = 0.0
    for rule in rule_set.of_subject(subject):
        if rule.item != item or rule.evidence not in COUNTED or not rule.in_force(on):
            continue
        if rule.condition.holds(facts)[0] and in_band(rule, persons):
            total += required(rule, persons) or 0.0
    return total


def asked(rule_set: RuleSet, item: str, craft: TableCraft, persons: int, on: date = ON) -> float:
    """What a rule set asks of a craft: of two lists that hold for it, the larger quantity (LSA Code 5.1.1.1)."""
    return max(asked_of_subject(rule_set, item, subject, craft.facts, persons, on) for subject in craft.subjects)
