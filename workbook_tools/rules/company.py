"""A company's own rules: a small TOML file that tightens published rules, adds rules, or sets more warning days.

Nothing is loosened in silence: a figure that asks less than the published rule, for any number of persons or stowage
height, is refused unless the Administration's letter is named beside it, and is then named in every output.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from workbook_tools import catalogue
from workbook_tools.rules.loader import (
    RULE_COLUMNS,
    RuleSet,
    load_rule_set,
    policies,
    rule_of_line,
    rule_set_names,
    warning_days,
)
from workbook_tools.rules.model import DONE_BY, PRIORITIES, Rule
from workbook_tools.strictcsv import Line, TableError

# Works out the quantity a rule asks: (rule, persons, stowage height in metres). It lies in core, above this package.
Asked = Callable[[Rule, int | None, float | None], float | None]

# Over these the company's figure is compared with the published one. A lifeboat takes 150 persons at most
# (LSA Code 4.4.2.1); figures for the whole ship go on to the 10,000 that the Ship sheet accepts.
CRAFT_PERSONS = range(1, 151)
SHIP_PERSONS = range(1, 10_001)
HEIGHTS_M = range(5, 41)

PREFIX = "company."
_FIGURES = ("fixed", "per_person", "percent", "minimum", "threshold", "extra", "per_height")
_FIGURE_WORDS = {
    "fixed": "{:g} fixed",
    "per_person": "{:g} for each person",
    "percent": "{:g} % of persons",
    "minimum": "{:g} at least",
    "threshold": "more from {:g} persons on",
    "extra": "{:g} more from the threshold on",
    "per_height": "{:g} x the stowage height",
}
_TIGHTENING_KEYS = (
    "tightens",
    *_FIGURES,
    "extended_to",
    "done_by",
    "priority",
    "reference",
    "administration_reference",
)
_NEW_KEYS = (
    "key",
    "item",
    "subject",
    "evidence",
    *_FIGURES,
    "unit",
    "compare",
    "applies_to",
    "in_force_from",
    "priority",
    "reference",
    "note",
)
# What a wholly new rule may be shown by: these are counted by item, whatever the rule's key.
_NEW_SUBJECTS = {
    "inventory": ("lifeboat", "liferaft", "liferaft-a", "liferaft-b", "rescue-boat"),
    "stock": ("ship",),
}
_TOP_KEYS = ("name", "rule", "warn")
_NEW_FROM = "1998-07-01"


class CompanyError(TableError):
    """A fault in a company's file: the text says the file, the entry and what to do."""

    def __init__(self, path: Path, entry: str, message: str) -> None:
        ValueError.__init__(self, f"{path.name}{', ' if entry else ''}{entry}: {message}")
        self.path = path
        self.line = 0


@dataclass(frozen=True, slots=True)
class Tightening:
    """What a company asks instead of a published rule's figures; what is empty stays as published."""

    key: str
    figures: tuple[tuple[str, float], ...]
    extended_to: float | None
    done_by: tuple[str, ...]
    priority: str
    reference: str
    administration_reference: str
    origin: str

    def applied(self, rule: Rule) -> Rule:
        """The published row with the company's figures; its reference names both."""
        administration = f"; Administration: {self.administration_reference}" if self.administration_reference else ""
        changes: dict[str, Any] = dict(self.figures)
        if self.extended_to is not None:
            changes["extended_to"] = self.extended_to
        if self.done_by:
            changes["done_by"] = self.done_by
        if self.priority:
            changes["priority"] = self.priority
        return replace(
            rule,
            **changes,
            reference=f"{rule.reference}; company rule: {self.reference}{administration}",
            note="; ".join(filter(None, (rule.note, self._note(rule)))),
            origin=self.origin,
        )

    def _note(self, rule: Rule) -> str:
        parts = []
        for name, figure in self.figures:
            published = getattr(rule, name)
            if published != figure:
                was = _FIGURE_WORDS[name].format(published) if published else "none such"
                parts.append(f"{_FIGURE_WORDS[name].format(figure)}, published: {was}")
        return f"company rule: {'; '.join(parts)}" if parts else ""


@dataclass(frozen=True, slots=True)
class Company:
    """A company's rules, read and compared with the published ones."""

    name: str
    file: str
    tightenings: tuple[Tightening, ...] = ()
    own: tuple[Rule, ...] = ()
    warn: tuple[tuple[str, int], ...] = ()
    looser: tuple[str, ...] = ()  # what is looser than published, and on whose word

    def applied(self, rule_set: RuleSet) -> RuleSet:
        """The rule set as this company asks it."""
        changes = {entry.key: entry for entry in self.tightenings}
        rules = tuple(changes[rule.key].applied(rule) if rule.key in changes else rule for rule in rule_set.rules)
        return replace(rule_set, name=f"{rule_set.name}, with company rules: {self.name}", rules=(*rules, *self.own))

    def warning_days(self, group: str) -> int | None:
        """The company's warning days for a group of items, or None where it has none."""
        days = dict(self.warn)
        if group in days:
            return days[group]
        # '*' is the published figure for every group that has none of its own
        return days.get("*") if warning_days(group).group == "*" else None


class _Entry(Line):
    """A new rule as a line of a rules table, so that the same strict reading refuses the same slips."""

    def __init__(self, path: Path, entry: str, cells: dict[str, str]) -> None:
        super().__init__(path, 0, cells)
        self._entry = entry

    def error(self, message: str) -> TableError:
        """The error to raise for this entry."""
        return CompanyError(self.path, self._entry, message)


def _near(word: str, words: Sequence[str]) -> str:
    close = difflib.get_close_matches(word, words, n=1, cutoff=0.6)
    return f"; did you mean {close[0]!r}?" if close else ""


def _known_keys(path: Path, entry: str, table: Mapping[str, Any], keys: Sequence[str]) -> None:
    for name in table:
        if name not in keys:
            raise CompanyError(path, entry, f"there is no key {name!r}{_near(name, keys)} (keys: {', '.join(keys)})")


def _text(path: Path, entry: str, table: Mapping[str, Any], key: str, needed: bool = False) -> str:
    value = table.get(key, "")
    if not isinstance(value, str):
        raise CompanyError(path, entry, f"{key} must be text in quotation marks, not {value!r}")
    if needed and not value.strip():
        raise CompanyError(path, entry, f'{key} is missing: write {key} = "..."')
    return value.strip()


def _number(path: Path, entry: str, table: Mapping[str, Any], key: str) -> float | None:
    value = table.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < float("inf"):
        raise CompanyError(path, entry, f"{key} must be a number of 0 or more, not {value!r}")
    return float(value)


def read_company(path: Path, asked: Asked) -> Company:
    """Read a company's file and compare it with the published rules.

    asked works out what a rule asks (core.quantity.required). Raises CompanyError for anything unknown, misspelt or
    looser than published without the Administration's reference.
    """
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise CompanyError(path, "", f"cannot be read: {error.strerror or error}") from error
    except UnicodeDecodeError as error:
        raise CompanyError(path, "", "is no text in UTF-8: save it as UTF-8") from error
    except tomllib.TOMLDecodeError as error:
        raise CompanyError(path, "", f"is no TOML: {error}") from error
    _known_keys(path, "", document, _TOP_KEYS)
    name = _text(path, "", document, "name", needed=True)
    entries = document.get("rule", [])
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise CompanyError(path, "", "write each rule under a heading of its own, [[rule]]")
    tightenings: list[Tightening] = []
    own: list[Rule] = []
    looser: list[str] = []
    for number, table in enumerate(entries, start=1):
        if "tightens" in table:
            tightening, loosened = _tightening(path, number, table, asked)
            _refuse_twice(path, f"rule {number}", tightening.key, [other.key for other in tightenings])
            tightenings.append(tightening)
            looser += loosened
        else:
            rule = _new_rule(path, number, table)
            _refuse_twice(path, f"rule {number}", rule.key, [other.key for other in own])
            own.append(rule)
    warn, shortened = _lead_times(path, document.get("warn", {}))
    return Company(name, str(path), tuple(tightenings), tuple(own), warn, (*looser, *shortened))


def _refuse_twice(path: Path, entry: str, key: str, earlier: Sequence[str]) -> None:
    if key in earlier:
        raise CompanyError(path, entry, f"{key} stands here a second time: keep one entry")


def _published() -> dict[str, list[Rule]]:
    return {key: rows for name in rule_set_names() for key, rows in load_rule_set(name).by_key().items()}


def _tightening(path: Path, number: int, table: Mapping[str, Any], asked: Asked) -> tuple[Tightening, list[str]]:
    key = _text(path, f"rule {number}", table, "tightens", needed=True)
    entry = f"rule {number} (tightens {key})"
    published = _published()
    if key not in published:
        raise CompanyError(path, entry, f"there is no rule {key!r}{_near(key, list(published))}")
    _known_keys(path, entry, table, _TIGHTENING_KEYS)
    figures = {name: value for name in _FIGURES if (value := _number(path, entry, table, name)) is not None}
    tightening = Tightening(
        key=key,
        figures=tuple(figures.items()),
        extended_to=_number(path, entry, table, "extended_to"),
        done_by=_done_by(path, entry, table),
        priority=_priority(path, entry, table),
        reference=_text(path, entry, table, "reference", needed=True),
        administration_reference=_text(path, entry, table, "administration_reference"),
        origin=f"{path.name}, {entry}",
    )
    if not figures and tightening.extended_to is None and not tightening.done_by and not tightening.priority:
        raise CompanyError(path, entry, f"it changes nothing: give one of {', '.join(_FIGURES)}")
    if {"threshold", "extra"} & figures.keys():
        rows = [tightening.applied(row) for row in published[key]]
        if any((row.threshold is None) != (row.extra == 0) for row in rows):
            raise CompanyError(path, entry, "threshold and extra go together: give both")
    reasons = list(dict.fromkeys(reason for row in published[key] for reason in _looser(row, tightening, asked)))
    if reasons and not tightening.administration_reference:
        raise CompanyError(
            path,
            entry,
            f"looser than the published rule: {reasons[0]}. Ask as much as the rule does, or name the "
            'Administration\'s letter: administration_reference = "..."',
        )
    return tightening, [
        f"{key}: {reason} (Administration: {tightening.administration_reference})" for reason in reasons[:1]
    ]


def _done_by(path: Path, entry: str, table: Mapping[str, Any]) -> tuple[str, ...]:
    names = table.get("done_by", [])
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise CompanyError(path, entry, f'done_by must be a list such as ["{DONE_BY[0]}"]')
    for name in names:
        if name not in DONE_BY:
            raise CompanyError(path, entry, f"done_by cannot be {name!r}{_near(name, DONE_BY)}")
    return tuple(names)


def _priority(path: Path, entry: str, table: Mapping[str, Any]) -> str:
    priority = _text(path, entry, table, "priority")
    if priority and priority not in PRIORITIES:
        raise CompanyError(path, entry, f"priority cannot be {priority!r}{_near(priority, PRIORITIES)}")
    return priority


def _looser(row: Rule, tightening: Tightening, asked: Asked) -> Iterator[str]:
    """Why the company's row asks less than the published one, at the first point where it does."""
    own = tightening.applied(row)
    for persons, height in _points(row, own):
        published, company = asked(row, persons, height), asked(own, persons, height)
        if published is None or company is None:
            continue
        # an interval is looser when it is longer, whatever its compare column says
        most = row.at_most or row.unit in ("months", "days")
        if company > published if most else company < published:
            at = "".join((f" for {persons} persons" if persons else "", f" at {height:g} m" if height else ""))
            word = "allows" if most else "asks"
            yield f"{company:g} {row.unit}{at}, where {row.reference} {word} {published:g}"
            break
    if tightening.extended_to is not None and (row.extended_to is None or tightening.extended_to > row.extended_to):
        yield f"an extension to {tightening.extended_to:g} {row.unit}, where {row.reference} allows less"
    if tightening.done_by and row.done_by and not set(tightening.done_by) <= set(row.done_by):
        yield f"done by {' or '.join(tightening.done_by)}, where {row.reference} asks {' or '.join(row.done_by)}"
    if tightening.priority and PRIORITIES.index(tightening.priority) > PRIORITIES.index(row.priority):
        yield f"priority {tightening.priority!r}, where a lack is put right {row.priority!r}"


def _points(row: Rule, own: Rule) -> Iterator[tuple[int | None, float | None]]:
    """Persons and stowage heights at which two rows are compared: only what either of them depends on."""
    persons: Sequence[int | None] = (None,)
    heights: Sequence[float | None] = (None,)
    if row.needs_persons or own.needs_persons:
        persons = SHIP_PERSONS if row.subject == "ship" else CRAFT_PERSONS
    if row.per_height or own.per_height:
        heights = HEIGHTS_M
    return ((count, height) for count in persons for height in heights)


def _new_rule(path: Path, number: int, table: Mapping[str, Any]) -> Rule:
    key = _text(path, f"rule {number}", table, "key")
    if not key:
        raise CompanyError(path, f"rule {number}", 'give tightens = "a published rule", or key = "company.your-rule"')
    entry = f"rule {number} ({key})"
    _known_keys(path, entry, table, _NEW_KEYS)
    if not key.startswith(PREFIX) or key == PREFIX:
        raise CompanyError(path, entry, f"a rule of the company's own has a key that begins with {PREFIX!r}")
    evidence, subject = (_text(path, entry, table, name, needed=True) for name in ("evidence", "subject"))
    if evidence not in _NEW_SUBJECTS:
        raise CompanyError(path, entry, f"evidence cannot be {evidence!r}: {' or '.join(_NEW_SUBJECTS)}")
    if subject not in _NEW_SUBJECTS[evidence]:
        raise CompanyError(
            path, entry, f"with evidence {evidence!r} the subject is {' or '.join(_NEW_SUBJECTS[evidence])}"
        )
    item = _text(path, entry, table, "item", needed=True)
    known = catalogue.item_names().find(item)
    if known is None:
        raise CompanyError(path, entry, f"item {item!r} is not in the list{_near(item, list(catalogue.items()))}")
    return rule_of_line(_Entry(path, entry, _cells(path, entry, table, key, known, evidence, subject)))


def _cells(
    path: Path, entry: str, table: Mapping[str, Any], key: str, item: str, evidence: str, subject: str
) -> dict[str, str]:
    cells = dict.fromkeys(RULE_COLUMNS, "")
    for name in _FIGURES:
        figure = _number(path, entry, table, name)
        cells[name] = "" if figure is None else repr(figure)
    start = table.get("in_force_from")
    if start is not None and type(start) is not date:
        raise CompanyError(path, entry, f"in_force_from must be a day without quotation marks, not {start!r}")
    since = start.isoformat() if start is not None else _NEW_FROM
    cells |= {
        "key": key,
        "item": item,
        "subject": subject,
        "evidence": evidence,
        "unit": _text(path, entry, table, "unit") or catalogue.items()[item].default_unit,
        "compare": _text(path, entry, table, "compare") or "at least",
        "applies_to": _text(path, entry, table, "applies_to"),
        "in_force_from": since,
        "compared_on": since,
        "priority": _text(path, entry, table, "priority") or "at next port",
        "waivable": "no",
        "reference": f"company rule: {_text(path, entry, table, 'reference', needed=True)}",
        "status": "derived",
        "note": _text(path, entry, table, "note"),
    }
    return cells


def _lead_times(path: Path, table: Any) -> tuple[tuple[tuple[str, int], ...], list[str]]:
    entry = "warn"
    if not isinstance(table, dict):
        raise CompanyError(path, entry, "write the warning days below a heading [warn], such as pyrotechnic = 120")
    groups = {policy.group for key, policy in policies().items() if key.startswith("warn.")} | set(catalogue.GROUPS)
    names = {("other" if group == "*" else group): group for group in sorted(groups)}
    _known_keys(path, entry, table, (*names, "administration_reference"))
    administration = _text(path, entry, table, "administration_reference")
    found: list[tuple[str, int]] = []
    shortened: list[str] = []
    for name, group in names.items():
        days = _number(path, entry, table, name)
        if days is None:
            continue
        if days != int(days) or days > 3660:
            raise CompanyError(path, entry, f"{name} must be a whole number of days up to 3660, not {table[name]!r}")
        usual = int(warning_days(group).value)
        if days < usual:
            if not administration:
                raise CompanyError(
                    path,
                    entry,
                    f"{name} = {days:g} is shorter than the usual {usual} days: give {usual} or more, or "
                    'administration_reference = "..."',
                )
            shortened.append(f"warning days for {name}: {days:g}, usually {usual} (Administration: {administration})")
        found.append((group, int(days)))
    return tuple(found), shortened
