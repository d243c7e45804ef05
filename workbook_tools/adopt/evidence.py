"""What speaks for a column of theirs being a column of ours: its heading, and the shape of what stands in it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from typing import Any

from rapidfuzz import fuzz

from workbook_tools.adopt import measures
from workbook_tools.adopt.days import looks_like_date
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import KEEP, UNDECIDED
from workbook_tools.adopt.names import match_choice
from workbook_tools.adopt.places import is_place
from workbook_tools.adopt.words import find_unit, vocabulary
from workbook_tools.columns import Column, Sheet
from workbook_tools.reading.cells import is_nil, type_interval, type_number

# So many values of a column are looked at: enough to know its kind.
_SAMPLE = 60
# Words in a heading that say nothing of which column it is.
_NEUTRAL = frozenset(
    [
        "of",
        "the",
        "and",
        "in",
        "for",
        "on",
        "no",
        "dd",
        "mm",
        "yy",
        "yyyy",
        "mmm",
        "if",
        "any",
        "all",
        "item",
        "equipment",
        "lsa",
        "ffa",
        "each",
        "per",
        "solas",
        "der",
        "die",
        "das",
        "von",
        "am",
        "de",
        "la",
        "el",
        "del",
        "tgl",
        "tanggal",
        "fecha",
        "datum",
        "date",
    ]
)
_DATES = ("date", "expiry", "made")


@dataclass(frozen=True, slots=True)
class Speaks:
    """How much speaks for something (0 to 1), and what it is."""

    score: float
    words: str


@lru_cache(maxsize=20_000)
def by_heading(text: str, sheet: str, key: str) -> Speaks:
    """What a heading says for one column of ours."""
    names = {name: found for name, found in vocabulary().headings[sheet].items() if found.entry == key}
    folded = fold(text)
    if not folded:
        return Speaks(0.0, "no heading")
    before, _, inside = text.partition("(")
    for tried, worth in ((folded, 1.0), (fold(before), 0.98), (fold(inside), 0.94)):
        if tried in names:
            language = f" ({names[tried].language})" if names[tried].language else ""
            return Speaks(worth - (0.02 if language else 0.0), f"heading {text!r} is a known name{language}")
    return max((_likeness(text, folded, name) for name in names), key=lambda found: found.score, default=Speaks(0, ""))


def _likeness(text: str, folded: str, name: str) -> Speaks:
    theirs, ours = folded.split(), name.split()
    extra = [word for word in theirs if word not in ours]
    if len(name) > 3 and set(ours) <= set(theirs):
        if all(word in _NEUTRAL or word.isdigit() for word in extra):
            return Speaks(0.94, f"heading {text!r} is {name!r} with words that say nothing more")
        return Speaks(max(0.5, 0.78 - 0.06 * len(extra)), f"heading {text!r} holds {name!r}")
    ratio = fuzz.token_sort_ratio(folded, name) / 100
    if ratio >= 0.84 and min(len(folded), len(name)) >= 5 and folded[0] == name[0]:
        return Speaks(0.6 + 0.36 * ratio, f"heading {text!r} is {ratio:.0%} like {name!r}")
    return Speaks(ratio * 0.5, f"heading {text!r} is {ratio:.0%} like {name!r}")


@dataclass(frozen=True)
class Values:
    """The values of a column of theirs, and what shapes they have, each as a share of them (0 to 1)."""

    cells: tuple[Any, ...]

    @staticmethod
    def of(values: Sequence[Any]) -> Values:
        """A sample of the values that say anything."""
        said = [value for value in values if not is_nil(value) and value not in ("", None)]
        return Values(tuple(said[:: max(1, len(said) // _SAMPLE)][:_SAMPLE]))

    def share(self, says: Any) -> float:
        """The share of values of which something holds."""
        return sum(bool(says(value)) for value in self.cells) / len(self.cells) if self.cells else 0.0

    @property
    def running(self) -> bool:
        """Whether the values count 1, 2, 3: a running number."""
        numbers = [type_number(value).value for value in self.cells]
        known = [number for number in numbers if number is not None]
        if len(known) < 3 or len(known) < 0.9 * len(self.cells):
            return False
        steps = [after - before for before, after in itertools.pairwise(known)]
        return bool(sum(step == 1 for step in steps) >= 0.8 * len(steps))


def is_date(value: Any) -> bool:
    """Whether a value is or means a date, with 'exp' before it or not."""
    if looks_like_date(value):
        return True
    return isinstance(value, str) and measures.has_words_of_expiry(value)


def is_amount(value: Any) -> bool:
    """Whether a value is a number, or a text that tells a quantity."""
    if isinstance(value, bool | datetime | date):
        return False
    if type_number(value).value is not None:
        return True
    if not isinstance(value, str):
        return False
    found = measures.lots(value)
    return found is not None and any(lot.quantity is not None for lot in found)


def by_shape(values: Values, sheet: Sheet, column: Column) -> Speaks | None:
    """What the values say for one column of ours; None where they say nothing either way."""
    if not values.cells:
        return None
    if column.kind in _DATES:
        share = values.share(is_date)
        return Speaks(share, f"{share:.0%} of its values are dates")
    if column.kind == "year":
        share = values.share(lambda value: is_date(value) or _in(value, 1950, 2100))
        return Speaks(share, f"{share:.0%} of its values are years or dates")
    if column.kind in ("number", "whole"):
        if values.running and len(values.cells) >= 4:
            return Speaks(0.0, "its values are a running number")
        share = values.share(lambda value: is_amount(value) and not _out_of_range(value, column))
        return Speaks(share, f"{share:.0%} of its values are quantities")
    if column.kind == "content":
        share = values.share(lambda value: is_amount(value))
        return Speaks(share, f"{share:.0%} of its values are measures")
    if column.kind == "unit":
        share = values.share(lambda value: isinstance(value, str) and find_unit(value))
        return Speaks(share, f"{share:.0%} of its values are units")
    if column.kind == "item" or column.choices:
        return _by_words(values, sheet, column)
    if column.kind == "interval":
        share = values.share(lambda value: type_interval(value).value is not None)
        return Speaks(share, f"{share:.0%} of its values are intervals")
    return _by_text(values, sheet, column)


def _by_words(values: Values, sheet: Sheet, column: Column) -> Speaks:
    """Words of a list: counted where they are known, or so alike that a person would be asked."""
    known = values.share(lambda value: isinstance(value, str) and _is_known(value, column, sheet))
    if not column.required and column.kind != "item":
        known = max(known, 0.5)  # words of another language in a column of little weight: they stay as written
    what = "items" if column.kind == "item" else f"words of {column.heading}"
    return Speaks(known, f"{known:.0%} of its values are known {what}")


def _is_known(value: str, column: Column, sheet: Sheet) -> bool:
    return match_choice(value, column, sheet.key).to not in (KEEP, UNDECIDED)


def _by_text(values: Values, sheet: Sheet, column: Column) -> Speaks | None:
    if (sheet.key, column.key) in _CRAFT_NAMES:
        share = values.share(lambda value: isinstance(value, str) and is_place(value))
        return Speaks(share, f"{share:.0%} of its values are craft or places")
    if column.key in ("serial", "batch"):
        return Speaks(0.0, "its values are a running number") if values.running else None
    if column.key in ("number", "certificate", "remarks"):
        return None
    if column.key == "name" and sheet.key == "crew" and values.share(lambda value: not isinstance(value, str)) > 0.2:
        return Speaks(0.0, "its values are no names")
    share = values.share(is_date)
    return Speaks(0.0, "its values are dates") if share > 0.5 else None


_CRAFT_NAMES = {
    ("craft", "name"),
    ("crew", "craft"),
    ("inventory", "place"),
    ("fire", "place"),
    ("servicing", "appliance"),
    ("routine", "subject"),
    ("defects", "subject"),
}


def _in(value: Any, least: float, most: float) -> bool:
    number = type_number(value).value
    return number is not None and least <= number <= most


# A lot of more pieces than this is rather a serial number.
_MOST_PIECES = 5_000


def _out_of_range(value: Any, column: Column) -> bool:
    """Whether a number lies outside what its column can hold."""
    number = type_number(value).value
    if number is None:
        return False
    most = _MOST_PIECES if column.key in ("quantity", "asked") else column.maximum
    return (most is not None and number > most) or (column.minimum is not None and number < column.minimum)


def together(heading: Speaks, shape: Speaks | None) -> Speaks:
    """Heading and shape weighed together: a shape that contradicts takes the certainty from any heading."""
    if shape is None:
        return heading
    words = f"{heading.words}; {shape.words}"
    if heading.score >= 0.9:
        lack = max(0.0, 0.6 - shape.score)
        return Speaks(heading.score - 0.6 * lack, words)
    if heading.score >= 0.5:
        return Speaks(heading.score - 0.4 * max(0.0, 0.6 - shape.score) + (0.06 if shape.score >= 0.9 else 0), words)
    return Speaks(heading.score * (0.5 + 0.5 * shape.score), words)
