"""The Rules sheet: every row of the rule tables, and beside those that the book answers what its formulas look up.

The figures that formulas use are the ones that stand there to be read: a wrong figure on this sheet is a wrong answer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from typing import Any

from workbook_tools import catalogue
from workbook_tools.book.calculated.lists import (
    ALL_FACTS,
    EVIDENCE,
    FIGURES,
    OF_CRAFT,
    SUBJECTS,
    Lists,
    answered_here,
)
from workbook_tools.book.calculated.writer import CalculatedBook, Value, block
from workbook_tools.book.formats import PAGE_CHARACTERS, row_height, set_up_page
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW
from workbook_tools.columns.calculated import RULES
from workbook_tools.columns.suppliers import offer_number, supplier_of
from workbook_tools.core.caution import CAUTION
from workbook_tools.rules.loader import load_rule_set, rule_set_names
from workbook_tools.rules.model import FACT_WORDS, PRIORITIES, STATUS_WORDS, Condition, Rule, Substitute

_NO_LIMIT = 1e15
_FORMS = {"whole": 1, "one for one": 2, "made in 2 days": 3}
_MOST_CLAUSES = 2
_FIRST_SHEET = 11  # columns that surely stand on the first of two sheets of paper side by side
_BROKEN = 4  # characters of a line that are lost where it is broken between words


@dataclass(frozen=True, slots=True)
class Standing:
    """A substitute for a rule that counts lots, with the row of that rule on the Rules sheet (from 1)."""

    rule_set: str
    rule: Rule
    row: int
    substitute: Substitute


@cache
def rule_rows() -> tuple[tuple[str, Rule], ...]:
    """Every rule with its set, in the order of the sheet: those the book answers first, by subject."""
    found: list[tuple[str, Rule]] = []
    for name in rule_set_names():
        rules = load_rule_set(name).rules
        own = [rule for rule in rules if answered_here(rule)]
        found += [(name, rule) for subject in SUBJECTS for rule in own if rule.subject == subject]
        found += [(name, rule) for rule in rules if not answered_here(rule)]
    return tuple(found)


@cache
def standings() -> tuple[Standing, ...]:
    """The substitutes of the rules that count lots, those of one rule together."""
    found = []
    for row, (name, rule) in enumerate(rule_rows(), start=1):
        if answered_here(rule) and rule.evidence in ("inventory", "maker"):
            for substitute in load_rule_set(name).substitutes.get(rule.key, ()):
                found.append(Standing(name, rule, row, substitute))
    return tuple(found)


def most_standings() -> int:
    """The largest number of such substitutes in one set: so many rows each craft needs."""
    return max(sum(entry.rule_set == name for entry in standings()) for name in rule_set_names())


@dataclass(frozen=True, slots=True)
class _Shown:
    key: str
    heading: str
    width: float
    format: str = "plain"


_READABLE = (
    _Shown("set", "Rule set", 9),
    _Shown("key", "Rule", 30),
    _Shown("subject", "For", 13),
    _Shown("item", "Item", 30, "wrapped_middle"),
    _Shown("evidence", "Shown by", 13),
    _Shown("fixed", "Fixed", 9, "number"),
    _Shown("per_person", "For each person", 10, "number"),
    _Shown("percent", "Percent of persons", 10, "number"),
    _Shown("minimum", "At least", 9, "number"),
    _Shown("threshold", "From persons on", 10, "number"),
    _Shown("extra", "so many more", 9, "number"),
    _Shown("per_height", "For each metre of height", 11, "number"),
    _Shown("unit", "Unit", 10),
    _Shown("compare", "Compared", 10),
    _Shown("condition", "Applies where", 44, "wrapped_middle"),
    _Shown("from", "In force from", 12, "date"),
    _Shown("until", "until", 12, "date"),
    _Shown("keel_from", "Keel from", 12, "date"),
    _Shown("keel_until", "Keel until", 12, "date"),
    _Shown("reference", "Paragraph", 28, "wrapped_middle"),
    _Shown("status", "How sure the figure is", 44, "wrapped_middle"),
    _Shown("compared_on", "Compared on", 12, "date"),
    _Shown("priority", "Priority", 15),
    _Shown("answered", "Answered by", 16),
)
_LOOKED_UP = (
    *("ev", "item_no", "factor", "figure", "fact1", "values1", "fact2", "values2", "band_from", "band_until"),
    *("first", "needs_persons", "at_most", "twin", "counted", "subs_first", "subs_count", "dated", "needed", "sealed"),
    *("lead", "name", "urgency"),
)


def write_rules(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet and make its columns known as rules.key."""
    rows, formats = rule_rows(), calc.formats
    words = (
        "What each rule asks, and where it stands. The larger of 'at least' and fixed + for each person + percent "
        f"(rounded up) + more from so many persons on + for each metre of stowage height. {CAUTION}"
    )
    calc.head(page, RULES, words, len(_READABLE), 150, len(rows), grows=False, help_columns=_FIRST_SHEET)
    page.set_row(HEADING_ROW, 48)
    headings = [*(column.heading for column in _READABLE), *_LOOKED_UP]
    for index, heading in enumerate(headings):
        page.write(HEADING_ROW, index, heading, formats.optional)
        key = _READABLE[index].key if index < len(_READABLE) else heading
        last = FIRST_ROW + len(rows) - 1
        calc.names[f"rules.{key}"] = block(page.get_name(), index, FIRST_ROW, last)
    for index, column in enumerate(_READABLE):
        page.set_column(index, index, column.width, getattr(formats, column.format))
    page.set_column(len(_READABLE), len(headings) - 1, 10, formats.plain, {"hidden": True})
    for row, (name, rule) in enumerate(rows):
        values = [*_readable(name, rule), *(_looked_up(name, rule, row) if answered_here(rule) else ())]
        for index, value in enumerate(values):
            _write(page, FIRST_ROW + row, index, value, formats)
        page.set_row(FIRST_ROW + row, _height(values))
    page.autofilter(HEADING_ROW, 0, FIRST_ROW + len(rows) - 1, len(_READABLE) - 1)
    page.freeze_panes(FIRST_ROW, 2)
    page.repeat_rows(HEADING_ROW)
    page.repeat_columns(0, 1)
    width = sum(column.width for column in _READABLE)
    set_up_page(page, calc.ship, landscape=True, pages_wide=math.ceil(width / PAGE_CHARACTERS))
    calc.protect(page)


def _height(values: Sequence[Value | date | None]) -> float:
    """Points of a row that shows its longest wrapped text whole."""
    wrapped = [
        (str(value or ""), column.width)
        for value, column in zip(values, _READABLE, strict=False)
        if column.format == "wrapped_middle"
    ]
    return max(row_height(text, int(width) - _BROKEN) for text, width in wrapped)


def _write(page: Any, row: int, column: int, value: Value | date | None, formats: Any) -> None:
    if isinstance(value, date):
        page.write_datetime(row, column, datetime(value.year, value.month, value.day), formats.date)
    elif value is not None and value != "":
        page.write(row, column, value)


def _readable(name: str, rule: Rule) -> Sequence[Value | date | None]:
    return (
        *(name, rule.key, rule.subject, rule.item, rule.evidence),
        *(rule.fixed or None, rule.per_person or None, rule.percent or None, rule.minimum or None),
        *(rule.threshold, rule.extra or None, rule.per_height or None, rule.unit),
        *("at most" if rule.at_most else "at least", _condition_words(rule)),
        *(rule.in_force_from, rule.in_force_until, rule.keel_laid_from, rule.keel_laid_until),
        *(rule.reference, STATUS_WORDS[rule.status], rule.compared_on, rule.priority),
        "this book" if answered_here(rule) else "davitbook check",
    )


def _condition_words(rule: Rule) -> str:
    words = [f"{FACT_WORDS[fact]}: {' or '.join(values)}" for fact, values in rule.condition.clauses]
    if rule.band_by:
        least = f"from {rule.band_from:g}" if rule.band_from is not None else ""
        most = f"below {rule.band_until:g}" if rule.band_until is not None else ""
        words.append(f"{rule.band_by.replace('_', ' ')}: {' '.join(filter(None, (least, most)))}")
    return "; ".join(words)


def clauses(condition: Condition) -> list[Value]:
    """Number of a fact and the values it may have, twice; 0 where there is none. Raises ValueError for more."""
    if len(condition.clauses) > _MOST_CLAUSES:
        raise ValueError(f"a condition of more than {_MOST_CLAUSES} facts: the workbook's formulas look at no more")
    found: list[Value] = []
    for fact, values in condition.clauses:
        found += [ALL_FACTS.index(fact) + 1, f"|{'|'.join(values)}|"]
    for _ in range(_MOST_CLAUSES - len(condition.clauses)):
        found += [0, ""]
    return found


def _looked_up(name: str, rule: Rule, row: int) -> Sequence[Value | None]:
    rules = load_rule_set(name)
    same = rules.by_key()[rule.key]
    if rule.band_by not in ("", "persons"):
        raise ValueError(f"{rule.key} goes by {rule.band_by}: the workbook's formulas know bands of persons only")
    evidence, column = rule.evidence.partition(".")[::2]
    item = catalogue.items().get(rule.item)
    unit = catalogue.units().get(rule.unit)
    targets = {target for entry in catalogue.items().values() for target in entry.counts_as}
    own = [position for position, entry in enumerate(standings_of(name)) if entry.row == row + 1]
    return (
        EVIDENCE.get(evidence, OF_CRAFT),
        list(catalogue.items()).index(rule.item) + 1 if item else 0,
        unit.factor if unit else 1,
        FIGURES.index(column) + 1 if column else 0,
        *clauses(rule.condition),
        rule.band_from if rule.band_by else None,
        rule.band_until if rule.band_by else None,
        int(same[0] is rule),
        int(rule.needs_persons),
        int(rule.at_most),
        _twin(name, rule),
        int(rule.item in targets),
        own[0] + 1 if own else 0,
        len(own),
        int(bool(item and item.dated)),
        _needed(name, rule),
        int(evidence == "certificate" and bool(item and item.dated) and rule.subject != "liferaft"),
        _lead(rule),
        shown_name(name, rule),
        PRIORITIES.index(rule.priority) + 1,
    )


# What a rule limits that is asked of the craft, by the column of the Craft sheet.
_LIMITED = {"painter_m": "length", "persons": "persons", "mass_kg": "mass", "stowage_height_m": "stowage height"}


def shown_name(name: str, rule: Rule) -> str:
    """What a rule asks, as it is called on deck: the item, and what of it is measured where it is not counted.

    Told apart are several measures of one item, and the least and the most of one: 'painter, length', 'persons, at
    most'. One that stands in the rule's own words is taken from its key: 'release depth, at most'.
    """
    item = rule.item if rule.item in catalogue.items() else ""
    words = rule.key.partition(".")[2].replace("-", " ")
    evidence, column = rule.evidence.partition(".")[::2]
    unit = catalogue.units().get(rule.unit)
    dimension = unit.dimension if unit else ""
    if evidence == "pack":
        return rule.item
    if column:
        measured = _LIMITED[column]
        told = f"{item}, {measured}" if item else measured
    elif evidence == "length":
        part = words.rpartition(" ")[2]
        told = f"{item}, length" if part == "length" else f"{item}, length of {part}"
    elif evidence == "certificate" and dimension == "force":
        told = f"{item}, strength"
    elif evidence == "certificate" and dimension == "length":
        told = words
    else:
        return item or words
    bound = _bound(name, rule, item)
    return f"{told}{' ' if ',' in told else ', '}{bound}" if bound else told


def _bound(name: str, rule: Rule, item: str) -> str:
    """Whether it is the most or the least of a measure, where that does not go without saying."""
    if rule.at_most:
        return "at most"
    limited = any(
        other.at_most and (other.item, other.unit) == (rule.item, rule.unit) for other in load_rule_set(name).rules
    )
    return "at least" if limited or not item else ""


def standings_of(name: str) -> list[Standing]:
    """The substitutes of one set."""
    return [entry for entry in standings() if entry.rule_set == name]


def _lead(rule: Rule) -> int:
    from workbook_tools.rules import warning_days

    item = catalogue.items().get(rule.item)
    return int(warning_days(item.group if item else "").value)


def _row_of(name: str, wanted: Rule) -> int:
    return next(row for row, (owner, rule) in enumerate(rule_rows(), start=1) if owner == name and rule is wanted)


def _twin(name: str, rule: Rule) -> int:
    """The row of the rule that asks the same of the same boat when she is lifeboat and rescue boat in one."""
    if rule.evidence not in ("inventory", "length"):
        return 0
    alike = [
        other
        for owner, other in rule_rows()
        if owner == name
        and other.item == rule.item
        and other.evidence == rule.evidence
        and {other.subject, rule.subject} == {"lifeboat", "rescue-boat"}
    ]
    if len(alike) > 1:
        raise ValueError(f"{rule.key} has more than one twin: the workbook's formulas know one")
    return _row_of(name, alike[0]) if alike else 0


def _needed(name: str, rule: Rule) -> int:
    """For a rule on the length of lines: the row of the rule that says how many; 0 where none does."""
    if rule.evidence != "length":
        return 0
    counting = [
        other
        for owner, other in rule_rows()
        if owner == name and other.item == rule.item and other.subject == rule.subject and other.evidence == "inventory"
    ]
    if len(counting) > 1 or any(other.needs_persons for other in counting):
        raise ValueError(f"{rule.key}: the workbook's formulas know one fixed number of lines")
    return _row_of(name, counting[0]) if counting else 0


def _supplier_number(rule: Rule) -> int:
    """Who supplies what a rule asks, among the offers of a call; 0: nobody ashore, as far as the catalogue knows."""
    return offer_number(supplier_of(rule.item)) if rule.item in catalogue.items() else 0


def write_rule_lists(lists: Lists) -> None:
    """Where the rules of each subject stand, the substitutes, and the gates, as tables of the hidden lists."""
    ranges: list[tuple[Value, ...]] = []
    for name in rule_set_names():
        for subject in SUBJECTS:
            own = [
                row
                for row, (owner, rule) in enumerate(rule_rows(), start=1)
                if owner == name and rule.subject == subject and answered_here(rule)
            ]
            if own:
                ranges.append((f"{name}|{subject}", own[0], len(own)))
    lists.table("range", ("name", "first", "count"), ranges)
    lists.table(
        "standing",
        (
            *("rule", "form", "item", "per_person", "at_most", "factor", "fact1", "values1", "fact2", "values2"),
            *("if1", "ifvalues1", "if2", "ifvalues2", "from", "until"),
        ),
        [_standing_row(entry) for entry in standings()],
    )
    lists.table("rulesupplier", ("number",), [(_supplier_number(rule),) for _, rule in rule_rows()])
    starts, counts = [], []
    for name in rule_set_names():
        own = [index for index, entry in enumerate(standings(), start=1) if entry.rule_set == name]
        starts.append(own[0] if own else 0)
        counts.append(len(own))
    lists.table(
        "set",
        ("name", "first", "count", "edition", "rules", "answered", "title"),
        [
            (
                name,
                starts[index],
                counts[index],
                max(rule.compared_on for rule in load_rule_set(name).rules).isoformat(),
                sum(owner == name for owner, _ in rule_rows()),
                sum(owner == name and answered_here(rule) for owner, rule in rule_rows()),
                title,
            )
            for index, (name, title) in enumerate(rule_set_names().items())
        ],
    )


def _standing_row(entry: Standing) -> tuple[Value, ...]:
    from workbook_tools.book.calculated.engine import serial

    substitute = entry.substitute
    items = list(catalogue.items())
    return (
        entry.row,
        _FORMS[substitute.form],
        items.index(substitute.by_item) + 1 if substitute.by_item else 0,
        substitute.per_person,
        _NO_LIMIT if substitute.at_most is None else substitute.at_most,
        catalogue.units()[entry.rule.unit].factor,
        *clauses(substitute.by_fact),
        *clauses(substitute.condition),
        serial(substitute.in_force_from),
        0 if substitute.in_force_until is None else serial(substitute.in_force_until),
    )
