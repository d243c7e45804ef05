"""Which of our words a word of theirs is: by declared names, then by likeness, with what speaks for it.

Likeness never decides between two things that differ in a word: 'lifebuoy light' and 'lifebuoy with light' are not one
thing misspelt. Every word of theirs must be a word of the name, but for a slip of the pen, and nothing of the name may
be missing; colours, 'SOLAS', 'approved' and the like do not count.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache

from rapidfuzz import fuzz, process

from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import KEEP, Match, settled
from workbook_tools.adopt.words import Name, vocabulary
from workbook_tools.columns import Column

# Words that make no other thing of a thing.
_ORNAMENTS = frozenset(
    fold(word)
    for word in (
        *("solas", "solas74", "approved", "type", "typ", "new", "std", "standard", "imo", "med", "mer", "ce", "lsa"),
        *("red", "rot", "roja", "rojo", "rouge", "orange", "naranja", "merah", "oranye", "wheelmark"),
        *("the", "a", "of", "for", "in", "to", "der", "die", "das", "de", "del", "la", "el", "les", "du"),
        *("each", "pcs", "pc", "no", "nos", "lifeboat", "boat"),
    )
)
# Two words are one, misspelt, where they are so alike and begin alike; short words must be the same.
_SLIP = 0.80
_SHORT = 4
# What a plural or a case adds to a word.
_ENDINGS = frozenset(("e", "s", "n", "es", "en", "er"))
# A name reached by likeness is applied where it is so alike and no other thing comes near.
_LIKE_APPLIED = 0.90
# Less alike than this a name is not even proposed.
_LIKE_PROPOSED = 0.70
_MARGIN = 0.06


def match_item(text: str) -> Match:
    """The item that a text names."""
    return match_name(text, vocabulary().items)


def match_name(text: str, names: Mapping[str, Name]) -> Match:
    """The entry of a list of names that a text is: declared, or alike. Unlike everything: kept as it is written."""
    for tried, how in _versions(text):
        found = names.get(fold(tried))
        if found is not None:
            confidence = 1.0 if how == "as written" and not found.language else 0.97 if how == "as written" else 0.95
            return settled(found.entry, confidence, _declared(tried, found, how), KEEP)
    return _alike(text, names)


def _declared(text: str, found: Name, how: str) -> str:
    language = f" ({found.language})" if found.language else ""
    apart = "" if how == "as written" else f", {how}"
    return f"{fold(text)!r} is a known name{language}{apart}"


def _versions(text: str) -> list[tuple[str, str]]:
    """A text as written, and without what stands in brackets, behind a dash or a comma, and without ornaments."""
    found = [(text, "as written")]
    without = re.sub(r"\([^()]*\)", " ", text)
    if without != text:
        found.append((without, "what stands in brackets apart"))
    first = re.split(r"\s[-–]\s", without, maxsplit=1)[0]
    if first != without:
        found.append((first, "what stands behind it apart"))
    plain = " ".join(word for word in fold(without).split() if word not in _ORNAMENTS and not word.isdigit())
    if plain and plain != fold(without):
        found.append((plain, "words such as colour and approval apart"))
    return found


def _alike(text: str, names: Mapping[str, Name]) -> Match:
    folded = " ".join(word for word in fold(text).split() if word not in _ORNAMENTS and not word.isdigit())
    if len(folded) < 3:
        return settled("", 0.0, "too short to compare", KEEP)
    best: dict[str, tuple[float, str]] = {}
    for name, score, _ in process.extract(folded, list(names), scorer=fuzz.token_sort_ratio, limit=12):
        entry = names[name].entry
        if score / 100 > best.get(entry, (0.0, ""))[0]:
            best[entry] = (score / 100, name)
    ranked = sorted(((score, entry, name) for entry, (score, name) in best.items()), reverse=True)
    if not ranked:
        return settled("", 0.0, "like no known name", KEEP)
    score, entry, name = ranked[0]
    second = ranked[1][0] if len(ranked) > 1 else 0.0
    if score < _LIKE_PROPOSED:
        return settled(entry, 0.0, f"like no known name; the nearest is {name!r}, {score:.0%}", KEEP)
    sure = score >= _LIKE_APPLIED and score - second >= _MARGIN and _is_slip(folded, name)
    confidence = min(score, 0.96) if sure else min(score * 0.9, 0.85)
    return settled(entry, confidence, f"{score:.0%} like {name!r}; next {second:.0%}", KEEP)


def _is_slip(theirs: str, ours: str) -> bool:
    """Whether two names have the same words but for slips of the pen."""
    left, right = theirs.split(), [word for word in ours.split() if word not in _ORNAMENTS]
    if len(left) != len(right):
        return theirs.replace(" ", "") == ours.replace(" ", "")
    rest = list(right)
    for word in left:
        partner = max(rest, key=lambda other: fuzz.ratio(word, other))
        if not _same_word(word, partner):
            return False
        rest.remove(partner)
    return True


def _same_word(one: str, other: str) -> bool:
    if one == other:
        return True
    if min(len(one), len(other)) <= _SHORT or one[0] != other[0] or one.isdigit() or other.isdigit():
        return False
    if _is_another_word(one, other):
        return False
    return fuzz.ratio(one, other) / 100 >= _SLIP


@cache
def _known_words() -> frozenset[str]:
    names: Iterable[str] = (*vocabulary().items, *vocabulary().craft_kinds)
    return frozenset(word for name in names for word in name.split())


def _is_another_word(one: str, other: str) -> bool:
    """Whether two words are two words that both mean something: 'lifebuoy' is no slip for 'lifeboat'."""
    if one in _known_words() and other in _known_words():
        short, long = sorted((one, other), key=len)
        return not (long.startswith(short) and long[len(short) :] in _ENDINGS)
    return False


def match_choice(text: str, column: Column, sheet: str) -> Match:
    """The word of a column's list that a text is."""
    if sheet == "craft" and column.key == "kind":
        return match_name(text, vocabulary().craft_kinds)
    if column.kind == "item":
        return match_item(text)
    return match_name(text, choice_names(sheet, column.key))


@cache
def choice_names(sheet: str, key: str) -> dict[str, Name]:
    """The declared names of a column's words, folded."""
    from workbook_tools.columns import sheet as sheet_of

    column = sheet_of(sheet).column(key)
    others = dict(column.choice_names)
    found: dict[str, Name] = {}
    for choice in column.choices:
        for name in (choice, *others.get(choice, ())):
            found.setdefault(fold(name), Name(choice))
    if key == "side":
        for side in ("port", "starboard"):
            for word in vocabulary().plain[side]:
                found.setdefault(word, Name(side))
    return found


def knows_item(text: str) -> bool:
    """Whether a text is a declared name of an item, its ornaments apart."""
    names = vocabulary().items
    return any(fold(tried) in names for tried, _ in _versions(text))
