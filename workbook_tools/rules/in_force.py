"""Which row of each key holds on a day, as far as no ship can change it: worked out once for all books of a run.

Most keys have one row in force, whatever the ship. Those whose rows differ by keel date or size stay open: what is
asked of a ship by them is worked out for each ship.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from workbook_tools.rules.loader import RuleSet
from workbook_tools.rules.model import Rule

# The row of a key that holds, or None with the state that the rule ends in and why.
Outcome = tuple[Rule | None, str, str]


@dataclass(frozen=True, slots=True)
class KeyOnDay:
    """One key on a day; settled is how it ends for every ship, None where keel date or size decide."""

    key: str
    rows: list[Rule]
    settled: Outcome | None


# A run asks one day of two rule sets, and of each as a company tightens it.
@lru_cache(maxsize=64)
def keys_on(rule_set: RuleSet, on: date) -> dict[str, KeyOnDay]:
    """Every key of a rule set as it stands on a day, in the order of the tables."""
    return {key: KeyOnDay(key, rows, _settled(rows, on)) for key, rows in rule_set.by_key().items()}


def _settled(rows: list[Rule], on: date) -> Outcome | None:
    in_force = [rule for rule in rows if rule.in_force(on)]
    if not in_force:
        return None, "not_applicable", "; ".join(dict.fromkeys(map(period_words, rows)))
    if any(rule.band_by or rule.keel_laid_from or rule.keel_laid_until for rule in in_force):
        return None
    if len(in_force) > 1:
        return None, "not_evaluated", "more than one row may apply"
    return in_force[0], "", ""


def period_words(rule: Rule) -> str:
    """The days between which a row is in force, in words."""
    if rule.in_force_until:
        return f"in force from {rule.in_force_from} until {rule.in_force_until}"
    return f"in force from {rule.in_force_from}"
