"""How rules stand for ships and craft that are alike in every fact: worked out once, for a fleet asks it over and over.

What depends on more than facts stays open and is worked out for each ship: rows that differ by keel date or size.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache

from workbook_tools.core.quantity import required
from workbook_tools.rules import Rule, RuleSet
from workbook_tools.rules.in_force import KeyOnDay, keys_on

# Ships and craft of one fleet differ in some dozen ways; a fleet of every kind of ship in some hundred.
_KINDS_REMEMBERED = 500  # some 10 MB

FactItems = tuple[tuple[str, str | None], ...]
Gates = tuple[tuple[tuple[str, ...], str], ...]  # what each covers, why it is shut


@dataclass(frozen=True, slots=True)
class ShipRule:
    """A rule as it holds for the ship: state '' when it is to be evaluated; otherwise its state and why.

    doubt: a fact that the condition asks is not recorded. Such a rule can pass, but its lack is 'not evaluated'.
    """

    rule: Rule
    state: str
    why: str
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class CraftRule:
    """A key as it stands for a craft: state '' when it is to be evaluated; otherwise its state and why.

    rule: the row in force, or None where there is none, or where keel date or size must tell it first (is_open).
    doubt: a fact that the condition asks is not recorded; None when all are. asked: the quantity, where neither persons
    nor height bear on it. items: what counts for it, its own item first, then what may stand in its place.
    """

    key: str
    rows: list[Rule]
    rule: Rule | None
    state: str = ""
    why: str = ""
    doubt: str | None = None
    asked: float | None = None
    items: tuple[str, ...] = ()

    @property
    def is_open(self) -> bool:
        """Whether the row in force depends on the craft's size or the ship's keel date."""
        return self.rule is None and not self.state


class Ships:
    """Ships alike in their facts and in which chapters apply to them."""

    def __init__(
        self, rule_set: RuleSet, on: date, facts: Mapping[str, str | None], gates: Gates, outside: str
    ) -> None:
        self._rule_set, self._on, self._facts = rule_set, on, facts
        self._gates, self._outside = gates, outside
        self._reasons: dict[str, str] = {}
        self._rules: dict[str, list[ShipRule | KeyOnDay]] = {}

    def outside_of(self, rule: Rule) -> str:
        """Why the chapter of a rule does not apply to these ships; '' when it does."""
        reason = self._reasons.get(rule.reference)
        if reason is None:
            told = (why for covers, why in self._gates if _covers(covers, rule.reference))
            reason = self._reasons[rule.reference] = next(told, self._outside)
        return reason

    def rules(self, evidence: str) -> list[ShipRule | KeyOnDay]:
        """Each rule of one kind of evidence as it holds for these ships; the keys that are open as they are."""
        known = self._rules.get(evidence)
        if known is None:
            on_day = keys_on(self._rule_set, self._on)
            known = [self._stands(on_day[key]) for key, _ in self._rule_set.by_evidence(evidence)]
            self._rules[evidence] = known
        return known

    def _stands(self, key: KeyOnDay) -> ShipRule | KeyOnDay:
        return key if key.settled is None else self.ended(key.rows, *key.settled)

    def ended(self, rows: list[Rule], rule: Rule | None, state: str, why: str) -> ShipRule:
        """How a key stands, once its row in force is known or there is none."""
        if outside := self.outside_of(rule or rows[0]):
            return ShipRule(rows[0], "not_applicable", outside)
        if rule is None:
            # a fact that contradicts decides, even where the size that a band asks is not recorded
            told = [row.condition.holds(self._facts) for row in rows]
            contradicted = [fact for holds, fact in told if holds is False]
            if state == "not_evaluated" and len(contradicted) == len(rows):
                state, why = "not_applicable", contradicted[0]
            return ShipRule(rows[0], state, why)
        applies, fact = rule.condition.holds(self._facts)
        if applies is False:
            return ShipRule(rule, "not_applicable", fact)
        return ShipRule(rule, "", "", doubt="" if applies else fact)


@lru_cache(maxsize=_KINDS_REMEMBERED)
def ships_like(rule_set: RuleSet, on: date, facts: FactItems, gates: Gates, outside: str) -> Ships:
    """The ships of one kind, on a day."""
    return Ships(rule_set, on, dict(facts), gates, outside)


@lru_cache(maxsize=_KINDS_REMEMBERED)
def craft_rules(
    rule_set: RuleSet, on: date, evidence: tuple[str, ...], subjects: tuple[str, ...], facts: FactItems
) -> tuple[CraftRule, ...]:
    """The keys of some kinds of evidence and some subjects as they stand for craft of these facts.

    evidence: 'craft.' stands for all that begin so.
    """
    known = dict(facts)
    exact = {kind for kind in evidence if not kind.endswith(".")}
    begun = tuple(kind for kind in evidence if kind.endswith("."))

    def wanted(rule: Rule) -> bool:
        return rule.subject in subjects and (rule.evidence in exact or rule.evidence.startswith(begun))

    return tuple(
        CraftRule(key.key, key.rows, None)
        if key.settled is None
        else craft_rule(rule_set, key.rows, *key.settled, known)
        for key in keys_on(rule_set, on).values()
        if wanted(key.rows[0])
    )


def craft_rule(
    rule_set: RuleSet, rows: list[Rule], rule: Rule | None, state: str, why: str, facts: Mapping[str, str | None]
) -> CraftRule:
    """How a key stands for a craft of these facts, once its row in force is known or there is none."""
    key = rows[0].key
    if rule is None:
        return CraftRule(key, rows, None, state, why)
    applies, fact = rule.condition.holds(facts)
    if applies is False:
        return CraftRule(key, rows, rule, "not_applicable", fact)
    items = (rule.item, *(entry.by_item for entry in rule_set.substitutes.get(rule.key, ())))
    return CraftRule(key, rows, rule, "", "", None if applies else fact, required(rule, None), items)


@cache
def _covers(covers: tuple[str, ...], reference: str) -> bool:
    """Whether a chapter's gate is for a paragraph by name; '*' is for those that no other gate names."""
    return reference.startswith(tuple(prefix for prefix in covers if prefix != "*"))
