"""Several things in one cell: '500 ml x 72', '2 nos', '6 pcs exp 03/27', '4 exp 03/2027, 2 exp 06/2028'."""

from __future__ import annotations

import re
from dataclasses import dataclass

from workbook_tools import catalogue
from workbook_tools.adopt.words import find_unit, vocabulary
from workbook_tools.reading.cells import type_number

_NUMBER = r"\d+(?:[.,]\d+)?"
_TIMES = r"\s*[x×*]\s*"
_WORD = r"[^\W\d_]+\.?(?:\s?\([^()]*\))?"
# '500 ml x 72', '72 x 500 ml', '72 pcs x 0.5 l', '30 m'
_PRODUCT = re.compile(rf"({_NUMBER})\s*({_WORD})?{_TIMES}({_NUMBER})\s*({_WORD})?", re.IGNORECASE)
_SINGLE = re.compile(rf"({_NUMBER})\s*({_WORD}(?:\s{_WORD})?)?", re.IGNORECASE)
_DAY = (
    r"\d{4}-\d{1,2}(?:-\d{1,2})?|\d{1,2}\s?[-/.]\s?\d{1,2}\s?[-/.]\s?\d{2,4}|\d{1,2}\s?[-/.]\s?\d{2,4}"
    r"|\d{1,2}[\s.-]+[^\W\d_]+[\s.-]+\d{2,4}|[^\W\d_]{3,10}\.?[\s.'-]+\d{2,4}"
)
_MARKS = r"[\s:.,;()\[\]/-]*"


@dataclass(frozen=True, slots=True)
class Lot:
    """What a text says of one lot. expires is the date as written: its column decides how it is read."""

    quantity: float | None = None
    unit: str | None = None
    content: float | None = None
    content_unit: str | None = None
    expires: str | None = None


def lots(text: str) -> list[Lot] | None:
    """The lots that a text tells of, in its own order; None where any word of it is not understood."""
    if len(text) > 200:
        return None
    whole = _lot(text)
    if whole is not None:
        return [whole]
    parts = [part for part in re.split(r"\s*[;\n&]\s*|\s*,\s+|\s+(?:and|und|y|dan|et)\s+", text.strip()) if part]
    found = [_lot(part) for part in parts]
    if len(parts) < 2 or any(lot is None or lot.quantity is None for lot in found):
        return None
    return [lot for lot in found if lot is not None]


def _lot(text: str) -> Lot | None:
    rest, expires = _without_expiry(text)
    rest = rest.strip(" \t\n:;,()[]-").strip()
    if not rest:
        return Lot(expires=expires) if expires else None
    amount = amount_of(rest)
    if amount is None:
        return None
    return Lot(amount.quantity, amount.unit, amount.content, amount.content_unit, expires)


def _without_expiry(text: str) -> tuple[str, str | None]:
    """The text without 'exp 03/27', and the date of it."""
    match = _expiry_pattern().search(text)
    if match is None:
        return text, None
    return f"{text[: match.start()]} {text[match.end() :]}", match["day"].strip()


def _expiry_pattern() -> re.Pattern[str]:
    words = sorted((re.escape(word) for word in vocabulary().plain["expiry"]), key=len, reverse=True)
    spaced = "|".join(word.replace(r"\ ", r"[\s.:/]+") for word in words)
    return re.compile(rf"(?:^|(?<=[\s,;(\[/]))(?:{spaced})(?![^\W\d_]){_MARKS}(?P<day>{_DAY}){_MARKS}", re.IGNORECASE)


def amount_of(text: str) -> Lot | None:
    """A quantity, with unit and content where they are told: '2 nos', '500 ml x 72', '72 x 500 ml'."""
    if match := _PRODUCT.fullmatch(text):
        return _product(*match.groups())
    match = _SINGLE.fullmatch(text)
    if match is None:
        return None
    number, unit = type_number(match[1]).value, find_unit(match[2]) if match[2] else None
    if number is None or (match[2] and unit is None):
        return None
    return Lot(number, unit)


def _product(first: str, first_unit: str | None, second: str, second_unit: str | None) -> Lot | None:
    """Pieces times what each holds: the side with a unit of measure is the content, the other one is counted."""
    sides = []
    for written, word in ((first, first_unit), (second, second_unit)):
        number, unit = type_number(written).value, find_unit(word) if word else None
        if number is None or (word and unit is None):
            return None
        sides.append((number, unit))
    measured = [unit is not None and catalogue.units()[unit].dimension != "count" for _, unit in sides]
    if sum(measured) != 1:
        return None
    (content, content_unit), (quantity, unit) = sides if measured[0] else sides[::-1]
    return Lot(quantity, unit, content, content_unit)


def measure_in(text: str) -> tuple[str, Lot | None]:
    """A name without the one measure that stands in it: 'Drinking water 500 ml' is the name and 500 mL.

    Only a number with a unit of measure is taken out, so that 'Lifeboat 1' keeps its number.
    """
    pattern = re.compile(
        rf"[(\[,]?\s*(?<![\w.,])(?P<number>{_NUMBER})\s*(?P<unit>[^\W\d_]+)\b\.?\s*[)\]]?", re.IGNORECASE
    )
    for match in pattern.finditer(text):
        unit, number = find_unit(match["unit"]), type_number(match["number"]).value
        if unit and number is not None and catalogue.units()[unit].dimension != "count":
            rest = f"{text[: match.start()]} {text[match.end() :]}"
            return " ".join(rest.split()), Lot(content=number, content_unit=unit)
    return text, None


def has_words_of_expiry(text: str) -> bool:
    """Whether a text names an expiry with its date."""
    return _without_expiry(text)[1] is not None
