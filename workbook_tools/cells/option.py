"""The option text of a cell function: 'on=2026-11-25; construction=inflated; rules=us'. Loaded on the first call."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import cache

from workbook_tools import catalogue
from workbook_tools.catalogue import normalise
from workbook_tools.cells.edition import EDITION, RULES
from workbook_tools.cells.registry import VALUE_ERROR, CellError
from workbook_tools.core.day_text import read_day
from workbook_tools.rules import load_rule_set, rule_set_names
from workbook_tools.rules.model import FACTS

_GIVEN_APART = ("kind", "pack")  # facts that craft_type and pack tell
COUNTED = ("inventory", "certificate", "maker")
LENGTHS = ("length", "craft.painter_m")


@dataclass(frozen=True, slots=True)
class Option:
    """What an option text says: the day asked, the keel date, the rule set, and facts of craft and ship."""

    on: date = EDITION
    keel: date | None = None
    rules: str = RULES
    facts: dict[str, str] = field(default_factory=dict)


@cache
def known_facts() -> tuple[str, ...]:
    """The facts that an option may give: those that a row on the equipment of a craft asks, and the type of ship."""
    asked = {
        fact
        for name in rule_set_names()
        for rule in load_rule_set(name).rules
        if rule.evidence in COUNTED + LENGTHS
        for fact, _ in rule.condition.clauses
    }
    return tuple(fact for fact in FACTS if fact in asked | {"ship_type", "ship_family"} and fact not in _GIVEN_APART)


def parse_option(text: str) -> Option:
    """Read an option text. Raises CellError #VALUE! for a key or a value that is not known."""
    on, keel, rules, facts = EDITION, None, RULES, {}
    for part in filter(None, (piece.strip() for piece in text.split(";"))):
        key, sign, value = (piece.strip() for piece in part.partition("="))
        fact = normalise(key).replace(" ", "_")
        if not sign or not value:
            raise CellError(VALUE_ERROR, f"option: {part!r} is not key=value")
        if fact == "on":
            on = _day(value)
        elif fact == "keel":
            keel = _day(value)
        elif fact in ("rules", "rule"):
            rules = _choice("rules", value, tuple(rule_set_names()))
        elif fact in known_facts():
            facts[fact] = _fact(fact, value)
        else:
            raise CellError(VALUE_ERROR, f"option: no key is called {key!r}")
    return Option(on, keel, rules, _with_ship_type(facts))


def _day(text: str) -> date:
    day = read_day(text)
    if day is None:
        raise CellError(VALUE_ERROR, f"option: {text!r} is no day; write it as 2026-11-25")
    return day


def _choice(key: str, text: str, choices: tuple[str, ...]) -> str:
    for choice in choices:
        if normalise(choice) == normalise(text):
            return choice
    raise CellError(VALUE_ERROR, f"option: {key} is one of {', '.join(choices)}, not {text!r}")


def _fact(fact: str, text: str) -> str:
    if fact == "ship_type" and (found := catalogue.ship_type_names().find(text)):
        return found
    return _choice(fact, text, FACTS[fact])


def _with_ship_type(facts: dict[str, str]) -> dict[str, str]:
    """A type of ship tells its family, and whether it is a tanker."""
    ship = catalogue.ship_types().get(facts.get("ship_type", ""))
    if ship is None:
        return facts
    return {"ship_family": ship.family, "tanker": "yes" if ship.tanker else "no", **facts}
