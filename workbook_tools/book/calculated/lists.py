"""The hidden sheet that formulas look words up in: names of items, units, kinds and choices, and what belongs to each.

Every entry comes from the catalogue, the columns or the rule tables; nothing is stated here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

from workbook_tools import catalogue
from workbook_tools.book.calculated.writer import CalculatedBook, Value, block
from workbook_tools.catalogue import normalise
from workbook_tools.columns import sheet
from workbook_tools.columns.ports import OFFERS
from workbook_tools.columns.suppliers import SUPPLIER_WORDS, offer_number, service_suppliers, supplier_of
from workbook_tools.core.stock import CONTAINERS, FIT_CONDITIONS, ROUNDING
from workbook_tools.rules import warning_days
from workbook_tools.rules.loader import load_rule_set, policies, rule_set_names
from workbook_tools.rules.model import FACTS, Rule

# Evidence that one craft's own lines on the Required sheet answer; the number stands in the tables.
EVIDENCE = {"inventory": 1, "maker": 2, "length": 3, "certificate": 4, "pack": 5}
FIGURES = ("painter_m", "persons", "mass_kg", "stowage_height_m")  # craft columns that rules limit
OF_CRAFT = 6  # the number of their evidence

# Facts of a craft that rules ask, in the order of their columns on the sheet of craft.
CRAFT_FACTS = tuple(
    fact for fact in FACTS if fact in {column.key for column in sheet("craft").columns} and fact != "kind"
)
SHIP_FACTS = tuple(fact for fact in FACTS if fact in {column.key for column in sheet("ship").columns})
ALL_FACTS = ("kind", *CRAFT_FACTS, *SHIP_FACTS, "ship_family", "tanker")

# Subjects of rules that a craft can have, in the order of the Rules sheet.
SUBJECTS = ("lifeboat", "rescue-boat", "liferaft", "liferaft-a", "liferaft-b")

_SPACES = re.compile(r"\s+")


def fold(text: str) -> str:
    """A text as the formulas fold it: hyphens are spaces, spaces are single. Case is no matter to MATCH."""
    return _SPACES.sub(" ", text.replace("-", " ")).strip()


def folded(expression: str) -> str:
    """The formula that folds a text so."""
    return f'TRIM(SUBSTITUTE({expression}&"","-"," "))'


def escaped(expression: str) -> str:
    """The formula that takes the meaning of a wildcard from * ? and ~."""
    return f'SUBSTITUTE(SUBSTITUTE(SUBSTITUTE({expression},"~","~~"),"*","~*"),"?","~?")'


def answered_here(rule: Rule) -> bool:
    """Whether the book's own formulas answer a rule on the Required sheet."""
    return rule.subject in SUBJECTS and (rule.evidence in EVIDENCE or rule.evidence.startswith("craft."))


def measures() -> dict[str, str]:
    """The dimension in which the rules count each item; those that no rule counts have their own.

    Raises ValueError where two rules count one item in two dimensions, which the formulas could not tell apart.
    """
    found = {item.name: "" for item in catalogue.items().values()}
    for rule_set in map(load_rule_set, rule_set_names()):
        for rule in rule_set.rules:
            if not answered_here(rule) or EVIDENCE.get(rule.evidence) not in (1, 2):
                continue
            own = catalogue.units()[rule.unit].dimension
            # a device that makes water is measured as what it stands for; what counts by the piece is counted apart
            makers = [
                entry.by_item
                for entry in rule_set.substitutes.get(rule.key, ())
                if entry.by_item and entry.form == "made in 2 days"
            ]
            for name in (*makers, *(item.name for item in catalogue.items().values() if _counts(item.name, rule.item))):
                if found[name] not in ("", own):
                    raise ValueError(f"{name} is counted in {found[name]} and in {own}: the workbook counts in one")
                found[name] = own
    return {name: own or catalogue.items()[name].dimension for name, own in found.items()}


def _counts(name: str, item: str) -> bool:
    return name == item or item in catalogue.items()[name].counts_as


def variants(name: str) -> set[str]:
    """The spellings of a name that the formulas know: as declared, in plain letters, in the plural."""
    plain = normalise(name)
    return {fold(entry).casefold() for entry in (name, plain, f"{name}s", f"{plain}s") if entry}


def aliases(entries: Iterable[tuple[Value, Iterable[str]]]) -> list[tuple[str, Value]]:
    """Each spelling with what it means, a spelling that would mean two things left out."""
    found: dict[str, Value] = {}
    doubtful: set[str] = set()
    for meaning, names in entries:
        for spelling in set().union(*map(variants, names)):
            if found.setdefault(spelling, meaning) != meaning:
                doubtful.add(spelling)
    return sorted((spelling, meaning) for spelling, meaning in found.items() if spelling not in doubtful)


class Lists:
    """Writes tables side by side, and makes each of their columns known by name."""

    def __init__(self, calc: CalculatedBook, page: Any) -> None:
        self.calc, self.page, self.column = calc, page, 0

    def table(self, name: str, columns: Sequence[str], rows: Sequence[Sequence[Value]]) -> None:
        """Write a table with its headings in the first row."""
        for index, heading in enumerate(columns):
            self.page.write(0, self.column, f"{name} {heading}", self.calc.formats.optional)
            self.page.write_column(1, self.column, [row[index] for row in rows])
            place = block(self.page.get_name(), self.column, 1, max(1, len(rows)))
            self.calc.names[f"lists.{name}_{heading}"] = place
            self.column += 1


def write_lists(calc: CalculatedBook, page: Any) -> Lists:
    """Write the sheet; further tables can be written beside its own."""
    lists = Lists(calc, page)
    items = list(catalogue.items().values())
    number = {item.name: index for index, item in enumerate(items, start=1)}
    units = list(catalogue.units().values())
    unit_number = {unit.key: index for index, unit in enumerate(units, start=1)}
    dimension = {name: index for index, name in enumerate(catalogue.DIMENSIONS, start=1)}
    measured = measures()
    counted = [[number[name] for name in item.counts_as] + [0, 0] for item in items]
    lists.table(
        "item",
        ("name", "dated", "lead", "unit", "container", "measure", "counts1", "counts2", "supplier"),
        [
            (
                item.name,
                int(item.dated),
                int(warning_days(item.group).value),
                unit_number[item.default_unit],
                int(item.default_unit in CONTAINERS),
                dimension[measured[item.name]],
                counts[0],
                counts[1],
                offer_number(supplier_of(item.name)),
            )
            for item, counts in zip(items, counted, strict=True)
        ],
    )
    lists.table(
        "itemalias",
        ("text", "number"),
        aliases((number[item.name], (item.name, *item.other_names)) for item in items),
    )
    lists.table(
        "unit",
        ("name", "dimension", "factor", "container"),
        [(unit.key, dimension[unit.dimension], unit.factor, int(unit.key in CONTAINERS)) for unit in units],
    )
    lists.table("unitalias", ("text", "number"), _unit_aliases(unit_number))
    lists.table("choice", ("text", "value"), _choices())
    kinds = catalogue.craft_kinds().values()
    lists.table(
        "kind",
        ("name", "first", "second"),
        [(kind.key, kind.families[0], (*kind.families, "", "")[1]) for kind in kinds],
    )
    lists.table("placeword", ("text",), [(word,) for word in sorted(catalogue.place_words())])
    types = catalogue.ship_types().values()
    lists.table(
        "shiptype", ("name", "family", "tanker"), [(e.key, e.family, "yes" if e.tanker else "no") for e in types]
    )
    lists.table("rounding", ("share",), [(ROUNDING,)])
    lists.table("lead", ("servicing", "other"), [(int(warning_days("servicing").value), int(warning_days("*").value))])
    lists.table("call", ("lead",), [(int(policies()["planning.lead-time"].value),)])
    lists.table("supplier", ("words",), [(SUPPLIER_WORDS[offer],) for offer in OFFERS])
    lists.table("servicealias", ("text", "supplier"), _service_aliases())
    page.protect("")
    return lists


def _service_aliases() -> list[tuple[str, Value]]:
    """Each spelling of a service that somebody ashore does, with the number of who does it."""
    does = service_suppliers()
    return aliases(
        (offer_number(does[service.key].supplier), (service.key, *service.other_names))
        for service in catalogue.services().values()
        if service.key in does and does[service.key].supplier in OFFERS
    )


def _unit_aliases(numbers: dict[str, int]) -> list[tuple[str, Value]]:
    found: dict[str, Value] = {}
    for unit in catalogue.units().values():
        for name in (unit.key, *unit.other_names):
            found.setdefault(name.casefold().replace(" ", ""), numbers[unit.key])
    return sorted(found.items())


def _choices() -> list[tuple[str, Value]]:
    """The words of every column with choices that formulas read, as 'column|word', with the choice that each means."""
    found: dict[str, Value] = {}
    for key, columns in (
        ("craft", ("kind", "side", *CRAFT_FACTS)),
        ("ship", (*SHIP_FACTS, "rule_set")),
        ("inventory", ("condition",)),
        ("ports", OFFERS),
    ):
        for name in columns:
            column = sheet(key).column(name)
            others = dict(column.choice_names)
            for spelling, meaning in aliases((choice, (choice, *others.get(choice, ()))) for choice in column.choices):
                found[f"{name}|{spelling}"] = meaning
    for choice in sheet("inventory").column("condition").choices:
        found[f"fit|{choice}"] = int(choice in FIT_CONDITIONS)
    return sorted(found.items())
