"""Words of other languages and of the trade's shorthand for headings, items and units: words.csv beside this file.

The names that the workbook itself declares (columns, catalogue) come first; these are added to them. They are from
memory of what seafarers write, no published source.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from workbook_tools import catalogue
from workbook_tools.adopt.fold import fold
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.strictcsv import read

_TABLE = Path(__file__).with_name("words.csv")
_PLAIN = ("total", "expiry", "line_number", "ditto", "port", "starboard", "place_word", "month", "unit", "item")
_LISTS = (*_PLAIN, "craft_kind", *(sheet.key for sheet in SHEETS))


@dataclass(frozen=True, slots=True)
class Name:
    """A declared name: what it means, and where it is declared ('' for the workbook's own, else a language)."""

    entry: str
    language: str = ""


@dataclass
class Vocabulary:
    """All declared names, folded."""

    headings: dict[str, dict[str, Name]] = field(default_factory=dict)  # sheet key -> folded heading -> column key
    items: dict[str, Name] = field(default_factory=dict)
    craft_kinds: dict[str, Name] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    months: dict[str, int] = field(default_factory=dict)
    places: dict[str, Name] = field(default_factory=dict)  # a place on board in another language -> in ours
    plain: dict[str, frozenset[str]] = field(default_factory=dict)  # total, expiry, ditto ... -> folded words

    def is_one(self, kind: str, text: str) -> bool:
        """Whether a text is one of the words of a plain list."""
        return fold(text) in self.plain[kind]


@cache
def vocabulary() -> Vocabulary:
    """Everything that is declared, ours first."""
    found = Vocabulary()
    for sheet in SHEETS:
        found.headings[sheet.key] = {fold(name): Name(column.key) for name, column in _own_headings(sheet)}
    for item in catalogue.items().values():
        for name in (item.name, *item.other_names):
            found.items.setdefault(fold(name), Name(item.name))
    for craft in catalogue.craft_kinds().values():
        for name in (craft.key, *craft.other_names):
            found.craft_kinds.setdefault(fold(name), Name(craft.key))
    plain: dict[str, set[str]] = {kind: set() for kind in _PLAIN}
    for line in read(_TABLE, ("language", "list", "entry", "words", "note")):
        kind, language = line.choice("list", _LISTS), line.text("language")
        for word in line.words("words"):
            _add(found, plain, kind, line.cells["entry"], word, language)
    found.plain = {kind: frozenset(words) for kind, words in plain.items()}
    return found


def _own_headings(sheet: Sheet) -> list[tuple[str, Column]]:
    return [
        (name, column)
        for column in sheet.columns
        for name in (column.heading, column.title, column.key.replace("_", " "), *column.other_headings)
    ]


def _add(found: Vocabulary, plain: dict[str, set[str]], kind: str, entry: str, word: str, language: str) -> None:
    folded = fold(word)
    if kind in found.headings:
        column = next(sheet for sheet in SHEETS if sheet.key == kind).column(entry)
        found.headings[kind].setdefault(folded, Name(column.key, language))
    elif kind == "item":
        found.items.setdefault(folded, Name(catalogue.items()[entry].name, language))
    elif kind == "craft_kind":
        found.craft_kinds.setdefault(folded, Name(catalogue.craft_kinds()[entry].key, language))
    elif kind == "unit":
        found.units.setdefault(folded, catalogue.units()[entry].key)
    elif kind == "month":
        found.months.setdefault(folded, int(entry))
    elif kind == "place_word":
        plain[kind] |= set(folded.split())
        if entry:
            found.places.setdefault(folded, Name(entry, language))
    else:
        plain[kind].add(folded)


def find_unit(text: str) -> str | None:
    """The unit that a text names, in any of the languages known, or None."""
    return catalogue.find_unit(text) or vocabulary().units.get(fold(text))
