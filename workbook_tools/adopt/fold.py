"""Folds what people write, in any alphabet, so that like meets like."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_APOSTROPHE = re.compile(r"(?<=\w)['’](?:s\b)?(?=\w|\b|$)")
_WORD = re.compile(r"[^\W_]+")


@lru_cache(maxsize=20_000)
def fold(text: str) -> str:
    """Fold case, accents, punctuation and a plain English plural: 'Hand-Flares' and 'hand flare' are one.

    Letters of every alphabet are kept (catalogue.normalise keeps the Latin ones alone).
    """
    plain = "".join(
        letter
        for letter in unicodedata.normalize("NFKD", _APOSTROPHE.sub("", text.casefold()))
        if not unicodedata.combining(letter)
    )
    return " ".join(_singular(word) for word in _WORD.findall(plain))


def words_of(text: str) -> tuple[str, ...]:
    """The folded words of a text."""
    return tuple(fold(text).split())


def _singular(word: str) -> str:
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word
