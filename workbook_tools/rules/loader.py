"""Reads the rules tables into Rule rows, refusing anything it cannot vouch for with file and line."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache, cached_property
from pathlib import Path
from typing import TypeVar

from workbook_tools import catalogue
from workbook_tools.rules.model import (
    DONE_BY,
    EVIDENCE,
    FACTS,
    PRIORITIES,
    STATUSES,
    SUBJECTS,
    Application,
    Condition,
    Rule,
    Substitute,
)
from workbook_tools.strictcsv import Line, TableError, read

RULES_FOLDER = Path(__file__).parent
T = TypeVar("T", date, float)

RULE_COLUMNS = (
    "key",
    "item",
    "subject",
    "evidence",
    "fixed",
    "per_person",
    "percent",
    "minimum",
    "threshold",
    "extra",
    "per_height",
    "unit",
    "compare",
    "applies_to",
    "band_by",
    "band_from",
    "band_until",
    "in_force_from",
    "in_force_until",
    "keel_laid_from",
    "keel_laid_until",
    "done_by",
    "extended_to",
    "priority",
    "waivable",
    "reference",
    "status",
    "compared_on",
    "note",
)
SUBSTITUTE_COLUMNS = (
    "key",
    "rule",
    "by_item",
    "by_fact",
    "form",
    "per_person",
    "at_most",
    "applies_to",
    "in_force_from",
    "in_force_until",
    "reference",
    "status",
    "compared_on",
    "note",
)
APPLICATION_COLUMNS = (
    "key",
    "ship_family",
    "voyages",
    "gross_tonnage_from",
    "keel_laid_from",
    "covers",
    "reference",
    "status",
    "compared_on",
    "note",
)
FORMS = ("one for one", "whole", "made in 2 days")
BANDS = ("persons", "length_m", "gross_tonnage", "passengers_certified")
_LISTS: dict[str, Callable[[], Mapping[str, object]]] = {
    **dict.fromkeys(("inventory", "length", "certificate", "maker", "stock"), catalogue.items),
    "servicing": catalogue.services,
    "routine": catalogue.tasks,
    "fire": catalogue.fire_kinds,
    "fitting": catalogue.fittings,
}
_UNITLESS = ("% of persons",)


@dataclass(frozen=True, eq=False)
class RuleSet:
    """Every rule of one set, with its substitutes and the gate of its chapter.

    Two sets are the same only where they are one object: what is worked out of a set is remembered under it.
    """

    key: str
    name: str
    edition: str
    rules: tuple[Rule, ...]
    substitutes: dict[str, tuple[Substitute, ...]]
    applications: tuple[Application, ...]

    def by_key(self) -> dict[str, list[Rule]]:
        """The rows of each key, in the order of the tables."""
        return self._by_key

    @cached_property
    def _by_key(self) -> dict[str, list[Rule]]:
        found: dict[str, list[Rule]] = {}
        for rule in self.rules:
            found.setdefault(rule.key, []).append(rule)
        return found

    def by_evidence(self, evidence: str) -> list[tuple[str, list[Rule]]]:
        """Keys and rows of the rules that are shown by one kind of evidence, in the order of the tables."""
        return self._by_evidence.get(evidence, [])

    @cached_property
    def _by_evidence(self) -> dict[str, list[tuple[str, list[Rule]]]]:
        found: dict[str, list[tuple[str, list[Rule]]]] = {}
        for key, rows in self.by_key().items():
            found.setdefault(rows[0].evidence, []).append((key, rows))
        return found

    def of_subject(self, subject: str) -> list[Rule]:
        """The rows for one kind of subject."""
        return [rule for rule in self.rules if rule.subject == subject]


def _condition(line: Line, column: str) -> Condition:
    text = line.cells[column]
    clauses: list[tuple[str, tuple[str, ...]]] = []
    for part in (piece.strip() for piece in text.split(";") if text):
        fact, sign, values = part.partition("=")
        if not sign or fact not in FACTS:
            raise line.error(f"{column}: {part!r} is not fact=value|value with a fact of {', '.join(FACTS)}")
        if any(fact == other for other, _ in clauses):
            raise line.error(f"{column}: {fact} stands there twice")
        names = tuple(values.split("|"))
        for name in names:
            if name not in FACTS[fact]:
                raise line.error(f"{column}: {fact} cannot be {name!r}; it is one of {', '.join(FACTS[fact])}")
        clauses.append((fact, names))
    return Condition(tuple(clauses))


def _done_by(line: Line) -> tuple[str, ...]:
    names = line.words("done_by")
    for name in names:
        if name not in DONE_BY:
            raise line.error(f"done_by cannot be {name!r}; it is one of {', '.join(DONE_BY)}")
    return names


def _compared_on(line: Line) -> date:
    day = line.date_or_none("compared_on")
    if day is None or not date(1974, 1, 1) <= day <= date(2100, 1, 1):
        raise line.error("compared_on must be the day on which the figure was compared")
    return day


def _waivable(line: Line) -> str:
    """'' where the text names no waiver; the paragraph that lets the Administration waive; 'never: paragraph'."""
    text = line.text("waivable")
    if text == "no":
        return ""
    if not re.search(r"[0-9]", text):
        raise line.error(f"waivable is {text!r}; it must be no, a paragraph, or never: and a paragraph")
    return text


def _unit(line: Line, evidence: str, item: str) -> str:
    unit = line.choice("unit", (*catalogue.units(), *_UNITLESS))
    if evidence in ("inventory", "maker"):
        asked, own = catalogue.units().get(unit), catalogue.items()[item].dimension
        if asked is None or asked.dimension != own:
            raise line.error(f"unit {unit!r} does not measure {item}: it is measured as {own}")
    return unit


def _band(line: Line) -> tuple[str, float | None, float | None]:
    """What bands go by, and the bounds of this one."""
    band_by, least, most = line.cells["band_by"], line.number_or_none("band_from"), line.number_or_none("band_until")
    if band_by and band_by not in BANDS:
        raise line.error(f"band_by is {band_by!r}; it must be one of {', '.join(BANDS)}")
    if bool(band_by) != (least is not None or most is not None):
        raise line.error("band_by and at least one of band_from and band_until go together")
    if least is not None and most is not None and most <= least:
        raise line.error("band_until must lie above band_from")
    return band_by, least, most


def rule_of_line(line: Line) -> Rule:
    """One line of a rules table as a rule; raises the line's own error for anything that cannot be vouched for."""
    evidence = line.choice("evidence", EVIDENCE)
    item = line.text("item")
    known = _LISTS.get(evidence)
    if known is not None and item not in known():
        raise line.error(f"item {item!r} is not in the catalogue")
    unit = _unit(line, evidence, item)
    band_by, band_from, band_until = _band(line)
    threshold, extra = line.number_or_none("threshold"), line.number_or_none("extra")
    if (threshold is None) != (extra is None):
        raise line.error("threshold and extra go together")
    numbers = {name: line.number_or_none(name) for name in ("fixed", "per_person", "percent", "minimum", "per_height")}
    if not any(numbers.values()):
        raise line.error("no quantity: fixed, per_person, percent, minimum and per_height are all empty")
    if any(value is not None and value < 0 for value in (*numbers.values(), extra, threshold)):
        raise line.error("a quantity is below zero")
    in_force_from, in_force_until = line.period("in_force")
    if in_force_from is None:
        raise line.error("in_force_from must be given")
    keel_laid_from, keel_laid_until = line.period("keel_laid")
    extended_to = line.number_or_none("extended_to")
    if extended_to is not None and extended_to <= 0:
        raise line.error("extended_to must be above zero")
    return Rule(
        key=line.text("key"),
        item=item,
        subject=line.choice("subject", SUBJECTS),
        evidence=evidence,
        fixed=numbers["fixed"] or 0.0,
        per_person=numbers["per_person"] or 0.0,
        percent=numbers["percent"] or 0.0,
        minimum=numbers["minimum"] or 0.0,
        threshold=threshold,
        extra=extra or 0.0,
        per_height=numbers["per_height"] or 0.0,
        unit=unit,
        at_most=line.choice("compare", ("at least", "at most")) == "at most",
        condition=_condition(line, "applies_to"),
        band_by=band_by,
        band_from=band_from,
        band_until=band_until,
        in_force_from=in_force_from,
        in_force_until=in_force_until,
        keel_laid_from=keel_laid_from,
        keel_laid_until=keel_laid_until,
        done_by=_done_by(line),
        extended_to=extended_to,
        priority=line.choice("priority", PRIORITIES),
        waivable=_waivable(line),
        reference=line.text("reference"),
        status=line.choice("status", STATUSES),
        compared_on=_compared_on(line),
        note=line.cells["note"],
        origin=f"{line.path.name}:{line.number}",
    )


def _ranges_meet(a: tuple[T | None, T | None], b: tuple[T | None, T | None], closed: bool) -> bool:
    """Whether two ranges share a point; None is open-ended; closed: the last value belongs to the range."""
    (a_from, a_until), (b_from, b_until) = a, b

    def before(until: T | None, start: T | None) -> bool:
        if until is None or start is None:
            return False
        return until < start if closed else until <= start

    return not before(a_until, b_from) and not before(b_until, a_from)


def _overlap(a: Rule, b: Rule) -> bool:
    return (
        _ranges_meet((a.in_force_from, a.in_force_until), (b.in_force_from, b.in_force_until), closed=True)
        and _ranges_meet((a.keel_laid_from, a.keel_laid_until), (b.keel_laid_from, b.keel_laid_until), closed=True)
        and _ranges_meet((a.band_from, a.band_until), (b.band_from, b.band_until), closed=False)
    )


def read_rules(path: Path) -> Iterator[Rule]:
    """Yield the rules of one table; raises TableError with file and line."""
    for line in read(path, RULE_COLUMNS):
        yield rule_of_line(line)


def check_keys(rules: list[Rule]) -> None:
    """Refuse two rows of one key whose periods, keel dates and bands overlap, or that say different things.

    Raises TableError naming the later row.
    """
    seen: dict[str, list[Rule]] = {}
    for rule in rules:
        for earlier in seen.get(rule.key, []):
            file, _, number = rule.origin.rpartition(":")
            if _overlap(earlier, rule):
                raise TableError(Path(file), int(number), f"key {rule.key} overlaps {earlier.origin}")
            if (earlier.subject, earlier.item, earlier.evidence, earlier.band_by) != (
                rule.subject,
                rule.item,
                rule.evidence,
                rule.band_by,
            ):
                raise TableError(Path(file), int(number), f"key {rule.key} means something else at {earlier.origin}")
        seen.setdefault(rule.key, []).append(rule)


def _substitutes(path: Path, rules: set[str]) -> Iterator[Substitute]:
    """Yield the substitutes of a set's rules."""
    keys: set[str] = set()
    for line in read(path, SUBSTITUTE_COLUMNS):
        key = line.text("key")
        if key in keys:
            raise line.error(f"key {key} stands here a second time")
        keys.add(key)
        if line.text("rule") not in rules:
            raise line.error(f"there is no rule {line.text('rule')}")
        by_item = line.cells["by_item"]
        by_fact = _condition(line, "by_fact")
        if by_item and by_item not in catalogue.items():
            raise line.error(f"by_item {by_item!r} is not in the catalogue")
        if not by_item and not by_fact.clauses:
            raise line.error("neither by_item nor by_fact is given")
        form = line.choice("form", FORMS)
        per_person, at_most = line.number_or_none("per_person"), line.number_or_none("at_most")
        if (per_person is not None) != (form == "made in 2 days") or (at_most is not None and form != "one for one"):
            raise line.error("per_person belongs to 'made in 2 days', at_most to 'one for one'")
        if any(number is not None and number <= 0 for number in (per_person, at_most)):
            raise line.error("per_person and at_most must be above zero")
        in_force_from, in_force_until = line.period("in_force")
        if in_force_from is None:
            raise line.error("in_force_from must be given")
        _compared_on(line)
        yield Substitute(
            key=key,
            rule=line.text("rule"),
            by_item=by_item,
            by_fact=by_fact,
            form=form,
            per_person=per_person or 0.0,
            at_most=at_most,
            condition=_condition(line, "applies_to"),
            in_force_from=in_force_from,
            in_force_until=in_force_until,
            reference=line.text("reference"),
            status=line.choice("status", STATUSES),
            note=line.cells["note"],
        )


def _applications(path: Path) -> Iterator[Application]:
    for line in read(path, APPLICATION_COLUMNS):
        _compared_on(line)
        tonnage = line.number_or_none("gross_tonnage_from") or 0.0
        if tonnage < 0:
            raise line.error("gross_tonnage_from is below zero")
        for voyage in line.words("voyages"):
            if voyage not in FACTS["voyage"]:
                raise line.error(f"voyages: {voyage!r} is none of {', '.join(FACTS['voyage'])}")
        yield Application(
            key=line.text("key"),
            ship_family=line.choice("ship_family", FACTS["ship_family"]),
            voyages=line.words("voyages"),
            gross_tonnage_from=tonnage,
            keel_laid_from=line.date_or_none("keel_laid_from"),
            covers=line.words("covers"),
            reference=line.text("reference"),
            status=line.choice("status", STATUSES),
            note=line.cells["note"],
        )


def _rule_set_lines() -> list[Line]:
    return list(read(RULES_FOLDER / "rulesets.csv", ("key", "name", "folder", "application", "edition", "note")))


def rule_set_names() -> dict[str, str]:
    """Key and name of every rule set."""
    return {line.text("key"): line.text("name") for line in _rule_set_lines()}


@cache
def load_rule_set(key: str) -> RuleSet:
    """Load one rule set, whole.

    Raises KeyError for a key that is none, TableError (file and line) for a fault in its tables.
    """
    return read_rule_set(key, RULES_FOLDER)


def read_rule_set(key: str, folder: Path) -> RuleSet:
    """Load a rule set from a folder laid out as ours; raises as load_rule_set does."""
    lines = read(folder / "rulesets.csv", ("key", "name", "folder", "application", "edition", "note"))
    line = next((line for line in lines if line.text("key") == key), None)
    if line is None:
        raise KeyError(key)
    own = folder / line.text("folder")
    gate = own / line.text("application")
    others = own / "substitutes.csv"
    rules = [rule for path in sorted(own.glob("*.csv")) if path not in (gate, others) for rule in read_rules(path)]
    check_keys(rules)
    substitutes: dict[str, list[Substitute]] = {}
    for substitute in _substitutes(others, {rule.key for rule in rules}):
        substitutes.setdefault(substitute.rule, []).append(substitute)
    return RuleSet(
        key=key,
        name=line.text("name"),
        edition=line.text("edition"),
        rules=tuple(rules),
        substitutes={rule: tuple(found) for rule, found in substitutes.items()},
        applications=tuple(_applications(gate)),
    )


@dataclass(frozen=True, slots=True)
class Policy:
    """One figure of our own choosing, with the group of items it is for ('*': all others)."""

    key: str
    group: str
    value: float
    unit: str
    reference: str
    status: str
    compared_on: date
    note: str


@cache
def policies() -> dict[str, Policy]:
    """Every policy figure by key."""
    found: dict[str, Policy] = {}
    columns = ("key", "group", "value", "unit", "reference", "status", "compared_on", "note")
    for line in read(RULES_FOLDER / "policy.csv", columns):
        value = line.number_or_none("value")
        if value is None:
            raise line.error("value is empty")
        key = line.text("key")
        if key in found:
            raise line.error(f"key {key} stands here a second time")
        if key.startswith("warn.") and any(line.text("group") == other.group for other in found.values()):
            raise line.error(f"group {line.text('group')} has its warning days already")
        found[key] = Policy(
            key=key,
            group=line.text("group"),
            value=value,
            unit=line.cells["unit"],
            reference=line.text("reference"),
            status=line.choice("status", STATUSES),
            compared_on=_compared_on(line),
            note=line.cells["note"],
        )
    return found


def warning_days_words() -> str:
    """The warning days in words: '90 days for pyrotechnic, ...; 30 for others'."""
    leads = [policy for key, policy in policies().items() if key.startswith("warn.")]
    named = ", ".join(f"{policy.value:g} for {policy.group}" for policy in leads if policy.group != "*")
    return f"{named}, {warning_days('*').value:g} for others"


@cache
def warning_days(group: str) -> Policy:
    """The warning days for an item of a group: how many days before its date it is called due."""
    by_group = {policy.group: policy for key, policy in policies().items() if key.startswith("warn.")}
    return by_group.get(group) or by_group["*"]
