"""Words like another word, as difflib finds them, some twenty times sooner. Standard library only.

difflib compares a word with every word of a list, with two upper bounds first to spare it the comparison. Here those
bounds are worked out of figures that are kept for each word of the list; what is left is compared by difflib itself, so
that the answer is its own.
"""

import difflib
from collections import Counter
from collections.abc import Iterable
from operator import itemgetter

# A word as a number: 64 fields of 16 bits, one field a letter (its code modulo 64), as many bits set as the letter
# occurs. The bits that two words share are then at least the letters they share.
_FIELDS, _BITS = 64, 16
_FULL = (1 << _FIELDS * _BITS) - 1


def _letters(word: str) -> int:
    bits = 0
    for field, count in Counter(ord(letter) % _FIELDS for letter in word).items():
        if count > _BITS:
            return _FULL
        bits |= ((1 << count) - 1) << field * _BITS
    return bits


class Words:
    """A list of words among which those like another are looked for."""

    def __init__(self, words: Iterable[str]) -> None:
        self._words = list(words)
        self._by_length: dict[int, list[tuple[int, str, int]]] = {}
        for place, word in enumerate(self._words):
            self._by_length.setdefault(len(word), []).append((place, word, _letters(word)))

    def close(self, word: str, n: int = 1, cutoff: float = 0.6) -> list[str]:
        """What difflib.get_close_matches returns for this word: at most n of the list, the likest first."""
        length = len(word)
        if not 0 < length <= _FIELDS * _BITS // 2:
            fit = [other for other in self._words if 2.0 * min(length, len(other)) >= cutoff * (length + len(other))]
            return difflib.get_close_matches(word, fit, n, cutoff) if fit else []
        letters = _letters(word)
        possible: list[tuple[float, int, str]] = []  # the most that it can be like, place, word
        for other_length, others in self._by_length.items():
            both = length + other_length
            if 2.0 * min(length, other_length) / both >= cutoff:
                bounds = [(2.0 * (letters & kept).bit_count() / both, place, other) for place, other, kept in others]
                possible += [entry for entry in bounds if entry[0] >= cutoff]
        if not possible:
            return []
        if n == 1:
            return _closest(word, possible, cutoff)
        in_order = sorted(possible, key=itemgetter(1))
        return difflib.get_close_matches(word, [other for _, _, other in in_order], n, cutoff)


def _closest(word: str, possible: list[tuple[float, int, str]], cutoff: float) -> list[str]:
    """The likest word, the last in the alphabet of two as like. Those that cannot be it are not compared."""
    matcher = difflib.SequenceMatcher()
    matcher.set_seq2(word)
    best: tuple[float, str] | None = None
    least = cutoff
    for bound, _, other in sorted(possible, reverse=True):
        if bound < least:
            break
        matcher.set_seq1(other)
        ratio = matcher.ratio()
        if ratio >= least and (best is None or (ratio, other) > best):
            best, least = (ratio, other), ratio
    return [best[1]] if best else []


def close_words(word: str, words: Iterable[str], n: int = 1, cutoff: float = 0.6) -> list[str]:
    """difflib.get_close_matches for a list that is asked once."""
    return Words(words).close(word, n, cutoff)
