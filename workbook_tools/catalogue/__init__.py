"""The one list of items, craft kinds, ship types, units and places, each with the other names it is known by.

Standard library only. Every list is a CSV beside this file; nothing here is repeated elsewhere.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from workbook_tools.catalogue.near import Words
from workbook_tools.strictcsv import read

_HERE = Path(__file__).parent

DIMENSIONS = ("count", "volume", "energy", "duration", "length", "mass", "force", "period", "time")
GROUPS = (
    "loose gear",
    "ration",
    "pyrotechnic",
    "medicine",
    "battery",
    "document",
    "fire",
    "radio",
    "hydrostatic release",
    "personal",
    "ship",
    "fitting",
)


@dataclass(frozen=True, slots=True)
class Item:
    """A thing that an inventory line can hold."""

    key: str
    name: str
    dimension: str
    default_unit: str
    group: str
    dated: bool
    serialised: bool
    counts_as: tuple[str, ...]
    other_names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of measure; factor converts to the base unit of its dimension (L, kJ, h, m, kg, kN, 1)."""

    key: str
    dimension: str
    factor: float
    other_names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CraftKind:
    """A kind of survival craft or rescue boat; families are the rule subjects it answers to."""

    key: str
    families: tuple[str, ...]
    other_names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShipType:
    """A type of ship: family cargo or passenger, and whether it is an oil, chemical or gas tanker."""

    key: str
    family: str
    tanker: bool
    other_names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fitting:
    """A part of a craft, or of the ship ('ship' among its kinds), that must work; reported by exception."""

    key: str
    kinds: tuple[str, ...]
    paragraph: str
    other_names: tuple[str, ...]


# Texts up to this length are remembered: names and words of lists, which come again in every line and book.
_REMEMBERED_LENGTH = 100


def normalise(text: str) -> str:
    """Fold case, punctuation, spaces and a plain plural, so that 'Hand Flares' meets 'hand flare'."""
    return _remembered(text) if len(text) <= _REMEMBERED_LENGTH else _normalised(text)


def _normalised(text: str) -> str:
    words = re.sub(r"[^0-9a-z]+", " ", text.casefold()).split()
    return " ".join(_singular(word) for word in words)


_remembered = lru_cache(maxsize=50_000)(_normalised)


def _singular(word: str) -> str:
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


class Names:
    """Looks up a list's entries by key or other name, and proposes the nearest one for a word it does not know."""

    def __init__(self, entries: Iterable[tuple[str, Iterable[str]]]) -> None:
        self._by_name: dict[str, str] = {}
        for key, others in entries:
            for name in (key, *others):
                folded = normalise(name)
                if self._by_name.setdefault(folded, key) != key:
                    raise ValueError(f"{name!r} names both {self._by_name[folded]!r} and {key!r}")
        self._as_written = {key: key for key in self._by_name.values()}
        self._words = Words(self._by_name)
        self._nearest = lru_cache(maxsize=5_000)(self._look_for)

    def find(self, text: str) -> str | None:
        """The entry that goes by this name, or None."""
        return self._as_written.get(text) or self._by_name.get(normalise(text))

    def nearest(self, text: str) -> str | None:
        """The entry whose name is most like the text, or None when nothing is close."""
        return self._nearest(normalise(text))

    def _look_for(self, folded: str) -> str | None:
        close = self._words.close(folded, cutoff=0.75)
        return self._by_name[close[0]] if close else None


@cache
def items() -> dict[str, Item]:
    """Every catalogue item by its trade name."""
    path = _HERE / "items.csv"
    columns = ("key", "name", "dimension", "default_unit", "group", "dated", "serialised", "counts_as", "other_names")
    found: dict[str, Item] = {}
    keys: set[str] = set()
    for line in read(path, columns):
        item = Item(
            key=line.text("key"),
            name=line.text("name"),
            dimension=line.choice("dimension", DIMENSIONS),
            default_unit=line.choice("default_unit", tuple(units())),
            group=line.choice("group", GROUPS),
            dated=line.choice("dated", ("yes", "no")) == "yes",
            serialised=line.choice("serialised", ("yes", "no")) == "yes",
            counts_as=line.words("counts_as"),
            other_names=line.words("other_names"),
        )
        if item.name in found or item.key in keys:
            raise line.error(f"{item.name!r} stands here a second time")
        keys.add(item.key)
        found[item.name] = item
    for item in found.values():
        for name in item.counts_as:
            if name not in found:
                raise ValueError(f"items.csv: {item.name} counts as {name!r}, which is no item")
    return found


@cache
def units() -> dict[str, Unit]:
    """Every unit by its key."""
    found: dict[str, Unit] = {}
    for line in read(_HERE / "units.csv", ("key", "dimension", "factor", "other_names")):
        factor = line.number_or_none("factor")
        if factor is None or factor <= 0:
            raise line.error("factor must be a number above zero")
        key = line.text("key")
        if key in found:
            raise line.error(f"unit {key!r} stands here a second time")
        found[key] = Unit(key, line.choice("dimension", DIMENSIONS), factor, line.words("other_names"))
    return found


@cache
def craft_kinds() -> dict[str, CraftKind]:
    """Every kind of craft by its key."""
    found: dict[str, CraftKind] = {}
    for line in read(_HERE / "craft_kinds.csv", ("key", "families", "other_names", "note")):
        kind = CraftKind(line.text("key"), line.words("families"), line.words("other_names"))
        found[kind.key] = kind
    return found


@cache
def ship_types() -> dict[str, ShipType]:
    """Every type of ship by its key."""
    found: dict[str, ShipType] = {}
    for line in read(_HERE / "ship_types.csv", ("key", "family", "tanker", "other_names")):
        found[line.text("key")] = ShipType(
            line.text("key"),
            line.choice("family", ("cargo", "passenger")),
            line.choice("tanker", ("yes", "no")) == "yes",
            line.words("other_names"),
        )
    return found


@cache
def fittings() -> dict[str, Fitting]:
    """Every fitting by its key."""
    found: dict[str, Fitting] = {}
    for line in read(_HERE / "fittings.csv", ("key", "kinds", "paragraph", "other_names")):
        kinds = line.words("kinds")
        for kind in kinds:
            if kind != "ship" and kind not in craft_kinds():
                raise line.error(f"{kind!r} is no kind of craft")
        found[line.text("key")] = Fitting(line.text("key"), kinds, line.text("paragraph"), line.words("other_names"))
    return found


@dataclass(frozen=True, slots=True)
class Word:
    """An entry of a plain list: its name, a note, and its other names."""

    key: str
    note: str
    other_names: tuple[str, ...]


def _words(file: str) -> dict[str, Word]:
    found: dict[str, Word] = {}
    for line in read(_HERE / file, ("key", "note", "other_names")):
        key = line.text("key")
        if key in found:
            raise line.error(f"{key!r} stands here a second time")
        found[key] = Word(key, line.cells["note"], line.words("other_names"))
    return found


@cache
def services() -> dict[str, Word]:
    """Every kind of service by its name."""
    return _words("services.csv")


@cache
def tasks() -> dict[str, Word]:
    """Every routine task and drill by its name."""
    return _words("tasks.csv")


@cache
def fire_kinds() -> dict[str, Word]:
    """Every kind of fire appliance by its name."""
    return _words("fire_kinds.csv")


@cache
def place_words() -> frozenset[str]:
    """Words that make a text a place on board, other than a craft."""
    return frozenset(line.text("word") for line in read(_HERE / "places.csv", ("word", "note")))


@lru_cache(maxsize=5_000)
def is_place(text: str) -> bool:
    """Whether a text names a place on board: one of its words is a place word ('Bridge wing, port')."""
    letters = re.sub(r"\b([a-z])[/.]([a-z])\b", r"\1\2", text.casefold())  # E/R is one word
    words = re.sub(r"[^0-9a-z]+", " ", letters).split()
    return any(word in place_words() for word in words)


@cache
def item_names() -> Names:
    """Looks up items."""
    return Names((item.name, item.other_names) for item in items().values())


@cache
def craft_kind_names() -> Names:
    """Looks up craft kinds."""
    return Names((kind.key, kind.other_names) for kind in craft_kinds().values())


@cache
def ship_type_names() -> Names:
    """Looks up ship types."""
    return Names((kind.key, kind.other_names) for kind in ship_types().values())


@cache
def _unit_lookup() -> dict[str, str]:
    lookup: dict[str, str] = {}
    for unit in units().values():
        for name in (unit.key, *unit.other_names):
            lookup.setdefault(name.casefold().replace(" ", ""), unit.key)
    return lookup


def find_unit(text: str) -> str | None:
    """The unit that goes by this name, or None. Case does not matter: 'ML' is millilitre, megalitres are unknown."""
    return _unit_lookup().get(text.casefold().replace(" ", ""))


def convert(amount: float, unit: str, into: str) -> float | None:
    """An amount in another unit, or None when the two measure different things.

    >>> convert(500, "mL", "L")
    0.5
    """
    if unit == into:
        return amount
    source, target = units()[unit], units()[into]
    if source.dimension != target.dimension:
        return None
    return amount * source.factor / target.factor
