"""What a rule row asks, in words that fit one cell."""

from __future__ import annotations

from workbook_tools.rules import Rule
from workbook_tools.rules.model import FACT_WORDS

_COUNTED = ("each", "set", "pair")


def asked_words(rule: Rule, sure: bool = True) -> str:
    """The quantity of a row in words; where it may not apply, with the condition.

    '3 L for each person', '10 % of the persons, rounded up, 2 at least', '1, 2 from 13 persons'.
    """
    parts = [_fixed(rule), _per_person(rule), _percent(rule), _per_height(rule)]
    text = " and ".join(part for part in parts if part)
    if rule.minimum:
        text += f"{', ' if text else ''}{_amount(rule.minimum, rule.unit)} at least"
    if rule.threshold is not None:
        text += f", {_amount(rule.fixed + rule.extra, rule.unit)} from {rule.threshold:g} persons"
    text = f"length {text}" if rule.unit == "m" else text
    return text if sure else f"{text} ({condition_words(rule)})"


def condition_words(rule: Rule) -> str:
    """When a row applies, in words."""
    if rule.evidence == "maker":
        return "where the maker specifies it"
    clauses = rule.condition.clauses
    return "where " + "; ".join(f"{FACT_WORDS[fact]}: {' or '.join(values)}" for fact, values in clauses)


def _amount(value: float, unit: str) -> str:
    number = f"{value:,g}" if value < 1e6 else f"{value:,.0f}"
    if unit in _COUNTED:
        return number if unit == "each" else f"{number} {unit}"
    return f"{number} x {unit}" if unit[0].isdigit() else f"{number} {unit}"


def _fixed(rule: Rule) -> str:
    return _amount(rule.fixed, rule.unit) if rule.fixed else ""


def _per_person(rule: Rule) -> str:
    return f"{_amount(rule.per_person, rule.unit)} for each person" if rule.per_person else ""


def _percent(rule: Rule) -> str:
    return f"{rule.percent:g} % of the persons, rounded up" if rule.percent else ""


def _per_height(rule: Rule) -> str:
    if not rule.per_height:
        return ""
    return "the stowage height" if rule.per_height == 1 else f"{rule.per_height:g} x the stowage height"
