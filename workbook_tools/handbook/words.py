"""What is said of a rule, an assumption and a gate, as label and text; the terminal and the pages only lay it out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbook_tools import catalogue
from workbook_tools.rules import Application, Condition, Rule, RuleSet, Substitute, load_rule_set, rule_set_names
from workbook_tools.rules.model import FACT_WORDS, STATUS_WORDS

if TYPE_CHECKING:
    from datetime import date

    from workbook_tools.rules.loader import Policy

Said = list[tuple[str, str]]  # label and text, in the order in which they are read

# Units that the tables write in the plural.
_COUNTED_UNITS = ("blasts", "days", "months", "persons")
# Intervals say what they are; pieces need no unit beside the item's own name.
_UNNAMED_UNITS = ("each", "set", "pair")


@dataclass(frozen=True, slots=True)
class Entry:
    """One key of a rule set: every row of it, and what may stand in its item's place."""

    rule_set: RuleSet
    rows: tuple[Rule, ...]
    substitutes: tuple[Substitute, ...]

    @property
    def key(self) -> str:
        """The key, the same in every row."""
        return self.rows[0].key

    @property
    def subject(self) -> str:
        """The beginning of the key: the name of the page that holds it."""
        return subject_of(self.key)


def subject_of(key: str) -> str:
    """The beginning of a rule's key, up to the dot."""
    return key.partition(".")[0]


def entries() -> dict[str, Entry]:
    """Every rule key of every set, in the order of the tables."""
    found = {}
    for name in rule_set_names():
        rule_set = load_rule_set(name)
        for key, rows in rule_set.by_key().items():
            found[key] = Entry(rule_set, tuple(rows), rule_set.substitutes.get(key, ()))
    return found


def _with_unit(value: float, unit: str) -> str:
    """A figure with its unit, in the singular for one: '1 day', '90 days', '0.5 L'; pieces carry none."""
    if unit in _UNNAMED_UNITS:
        return f"{value:,g}"
    return f"{value:,g} {unit.removesuffix('s') if value == 1 and unit in _COUNTED_UNITS else unit}".strip()


def quantity_words(rule: Rule) -> str:
    """The quantity of a rule in words."""
    parts = []
    if rule.fixed:
        parts.append(_with_unit(rule.fixed, rule.unit))
    if rule.per_person:
        parts.append(f"{_with_unit(rule.per_person, rule.unit)} for each person permitted")
    if rule.percent:
        parts.append(f"{rule.percent:g} % of the persons permitted, rounded up")
    if rule.per_height:
        parts.append(f"{rule.per_height:g} x the stowage height")
    text = " + ".join(parts) or "0"
    if rule.minimum:
        text += f", {_with_unit(rule.minimum, rule.unit)} at least"
    if rule.threshold is not None:
        text += f"; {rule.extra:g} more from {rule.threshold:g} persons on"
    return f"{'at most ' if rule.at_most else ''}{text}"


def days_words(first: date | None, last: date | None) -> str:
    """A period of days: 'from 1998-07-01 until 2013-12-31'; empty where it is open at both ends."""
    parts = [f"from {first}" if first else "", f"until {last}" if last else ""]
    return " ".join(part for part in parts if part)


def condition_words(condition: Condition) -> str:
    """The facts that must hold, in the words of the workbook."""
    return "; ".join(f"{FACT_WORDS[fact]} is {' or '.join(values)}" for fact, values in condition.clauses)


def _bounds(rule: Rule) -> str:
    until = f" below {rule.band_until:g}" if rule.band_until is not None else ""
    return f"{_BAND_WORDS.get(rule.band_by, rule.band_by)} from {rule.band_from or 0:g}{until}"


_BAND_WORDS = {
    "persons": "persons",
    "length_m": "the ship's length in metres",
    "gross_tonnage": "gross tonnage",
    "passengers_certified": "passengers certified for",
}


def sureness_words(status: str, compared_on: date | None) -> str:
    """How sure a figure is, and when it was compared."""
    compared = f", compared on {compared_on}" if compared_on else ""
    return f"{STATUS_WORDS[status]} ({status}{compared})"


def rule_words(rule: Rule) -> Said:
    """Everything that one row says, its figure first."""
    said: Said = [("Asked", f"{rule.item}: {quantity_words(rule)}"), ("By", rule.reference)]
    if rule.condition.clauses:
        said.append(("Where", condition_words(rule.condition)))
    if rule.band_by:
        said.append(("Where", _bounds(rule)))
    said.append(("In force", days_words(rule.in_force_from, rule.in_force_until)))
    if keel := days_words(rule.keel_laid_from, rule.keel_laid_until):
        said.append(("Keel laid", keel))
    if rule.done_by:
        said.append(("Done by", " or ".join(rule.done_by)))
    if rule.extended_to is not None:
        said.append(("Longest the Administration may grant", _with_unit(rule.extended_to, rule.unit)))
    said.append(("Shown by", f"{rule.evidence}; priority when missing: {rule.priority}"))
    if rule.waivable:
        label = "It cannot be waived" if rule.waivable.startswith("never") else "The Administration may waive it"
        said.append((label, rule.waivable.removeprefix("never: ")))
    if rule.note:
        said.append(("Note", rule.note))
    said.append(("Figure", sureness_words(rule.status, rule.compared_on)))
    return said


def substitute_words(substitute: Substitute) -> str:
    """What may stand in an item's place, on what terms, by which paragraph."""
    by = substitute.by_item or condition_words(substitute.by_fact)
    form = {
        "one for one": "piece for piece",
        "whole": "its presence is enough",
        "made in 2 days": f"in place of {substitute.per_person:g} for each person, as far as it makes it in two days",
    }[substitute.form]
    most = f", {substitute.at_most:g} at most" if substitute.at_most else ""
    where = f", where {condition_words(substitute.condition)}" if substitute.condition.clauses else ""
    note = f". {substitute.note}" if substitute.note else ""
    return f"{by}: {form}{most}{where} ({substitute.reference}; {STATUS_WORDS[substitute.status]}){note}"


def application_words(application: Application) -> Said:
    """Where a chapter applies at all."""
    covers = ", ".join(application.covers)
    said: Said = [
        ("Holds for", "every paragraph that no other line names" if covers == "*" else covers),
        ("Ships", f"{application.ship_family} ships, {' and '.join(application.voyages)} voyages"),
    ]
    if application.gross_tonnage_from:
        said.append(("Gross tonnage", f"from {application.gross_tonnage_from:g}"))
    if keel := days_words(application.keel_laid_from, None):
        said.append(("Keel laid", keel))
    said += [("By", application.reference), ("Figure", sureness_words(application.status, None))]
    if application.note:
        said.append(("Note", application.note))
    return said


def policy_words(policy: Policy) -> Said:
    """One figure of our own choosing, or of a practice, with where it comes from."""
    group = "" if policy.group == "*" else f" ({policy.group})"
    value = _with_unit(policy.value, policy.unit)
    return [
        ("Taken", f"{value}{group}"),
        ("Why", policy.note or "no word on it"),
        ("By", policy.reference),
        ("Figure", sureness_words(policy.status, policy.compared_on)),
    ]


def items_words() -> list[str]:
    """Every item with its other names."""
    return [
        f"{item.name} ({', '.join(item.other_names)})" if item.other_names else item.name
        for item in catalogue.items().values()
    ]
