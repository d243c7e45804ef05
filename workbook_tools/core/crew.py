"""Persons and their papers: ranks, certificates that run out, substitutes. Nothing here knows a name."""

import re
from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache

from workbook_tools.catalogue import normalise
from workbook_tools.catalogue.near import Words
from workbook_tools.core.expiry import warning_ends
from workbook_tools.core.servicing import months_after

# Words that stand before a rank and change nothing for SOLAS III/10.3.
_BESIDE = {"additional", "acting", "extra", "junior", "senior", "relief", "senr", "jr", "sr", "the"}
_DECK_OFFICERS = {
    *("master", "captain", "staff captain", "master mariner", "mate", "deck officer", "navigating officer"),
    *("navigation officer", "officer of the watch", "oow", "watchkeeping officer", "ch off", "ch officer", "ch mate"),
    *("chief officer", "chief mate", "c o", "c off", "first officer", "first mate", "1st officer", "1st mate", "1 o"),
    *("second officer", "second mate", "2nd officer", "2nd mate", "2 o", "2 off", "2nd off"),
    *("third officer", "third mate", "3rd officer", "3rd mate", "3 o", "3 off", "3rd off"),
    *("fourth officer", "4th officer", "4 o"),
}
_ABLE_SEAMEN = {"able seaman", "able seafarer", "able seafarer deck", "able bodied seaman", "ab", "a b", "able seamen"}
_OTHERS = {
    *("ordinary seaman", "os", "o s", "deckhand", "rating", "deck rating", "bosun", "boatswain", "pumpman", "cadet"),
    *("deck cadet", "engine cadet", "oiler", "motorman", "wiper", "fitter", "greaser", "electrician", "cook"),
    *("chief cook", "2nd cook", "second cook", "messman", "mess boy", "steward", "chief steward", "chief engineer"),
    *("second engineer", "third engineer", "fourth engineer", "2nd engineer", "3rd engineer", "4th engineer"),
    *("first engineer", "1st engineer", "purser", "passenger"),
}
_PASSENGERS = {"passenger", "pax", "supernumerary", "guest", "infant", "child"}
_NONE = {"none", "no", "nil", "no certificate", "not held", "not certificated", "without", "without certificate"}
_NOT_SAID = {"", "n a", "na", "tbc", "tba", "unknown", "pending", "not recorded"}


def _rank(text: str | None) -> str:
    return " ".join(word for word in normalise(text or "").split() if word not in _BESIDE)


@lru_cache(maxsize=2_000)
def is_deck_officer(rank: str | None) -> bool:
    """Whether a rank is surely one of the master and deck officers; False where it is not known or not given.

    Source: SOLAS III/10.3 asks a deck officer or certificated person in charge. The list of words is ours.
    """
    return _rank(rank) in _DECK_OFFICERS


def is_able_seaman(rank: str | None) -> bool:
    """Whether a rank is surely able seaman, who may be in charge under 46 CFR 199.100."""
    return _rank(rank) in _ABLE_SEAMEN


def is_no_deck_officer(rank: str | None) -> bool:
    """Whether a rank is surely none of the deck officers; False where it is not known or not given."""
    return _rank(rank) in _OTHERS | _ABLE_SEAMEN


@lru_cache(maxsize=2_000)
def is_passenger(rank: str | None) -> bool:
    """Whether the word in the rank's place stands for somebody who is no seafarer."""
    return _rank(rank) in _PASSENGERS


@lru_cache(maxsize=2_000)
def certificate_word(text: str | None) -> str:
    """What a certificate cell says: 'held', 'none' (it says that there is none), or '' (it says nothing)."""
    folded = normalise(text or "")
    if folded in _NOT_SAID:
        return ""
    return "none" if folded in _NONE else "held"


VALID = "valid"
ENDING = "ending"  # within the warning period, or before the voyage ends
LAPSED = "lapsed"


def paper_status(last_day: date, on: date, warn_days: int, voyage_ends: date | None) -> str:
    """'valid', 'ending' or 'lapsed' on the day asked, for a paper that is good on its last day.

    A voyage that ended before the day asked says nothing. warn_days: days of warning.
    """
    if last_day < on:
        return LAPSED
    before_the_end = voyage_ends is not None and voyage_ends >= on and last_day < voyage_ends
    return ENDING if before_the_end or last_day <= warning_ends(on, warn_days) else VALID


AT_SEA = "lapsed at sea"
BEFORE_SAILING = "lapsed before sailing"
PERHAPS_AT_SEA = "lapsed, perhaps at sea"
TOO_LONG = "lapsed too long ago"


def lapsed_medical(last_day: date, on: date, departed: date | None, months: int) -> str:
    """How a medical certificate that has run out stands.

    One that lapses at sea holds to the next port with a doctor, for so many months at most. departed: last departure;
    None, or a day after the one asked, leaves open whether it lapsed at sea.
    Source: STCW I/9; MLC A1.2.9.
    """
    if on > months_after(last_day, months):
        return TOO_LONG
    if departed is None or departed > on:
        return PERHAPS_AT_SEA
    return AT_SEA if last_day >= departed else BEFORE_SAILING


def also_named(remarks: str | None, names: Iterable[str]) -> bool:
    """Whether remarks say 'also' and then one of the names: how a line records a second duty.

    >>> also_named("also communications and doors", ["communications"])
    True
    """
    words = normalise(remarks or "").split()
    if "also" not in words:
        return False
    after = f" {' '.join(words[words.index('also') + 1 :])} "
    return any(f" {normalise(name)} " in after for name in names)


@lru_cache(maxsize=5_000)
def crew_number(text: str) -> str:
    """A crew number folded, so that 'No. 07' meets '7'."""
    folded = re.sub(r"^(crew )?(number|no|nr)\b", "", normalise(text)).strip()
    return re.sub(r"\b0+(?=\d)", "", folded)


def find_persons(text: str, numbers: Mapping[str, int], ranks: Mapping[str, int]) -> tuple[list[int], list[str]]:
    """The persons that a cell names by crew number or by a rank held by one: those found, and the words not found.

    numbers and ranks: folded number or rank -> position of the person; a rank that several hold must be left out.
    Several may stand in one cell, parted by comma, semicolon, slash, '&' or 'and'.
    """
    whole = _one(text, numbers, ranks)
    if whole is not None:
        return [whole], []
    found: list[int] = []
    lost: list[str] = []
    for part in filter(None, (piece.strip() for piece in re.split(r"[,;/&+]|\band\b", text))):
        person = _one(part, numbers, ranks)
        if person is None:
            lost.append(part)
        else:
            found.append(person)
    return found, lost


def _one(text: str, numbers: Mapping[str, int], ranks: Mapping[str, int]) -> int | None:
    number = numbers.get(crew_number(text))
    return number if number is not None else ranks.get(normalise(text))


def nearest_number(text: str, numbers: Iterable[str]) -> str | None:
    """The crew number most like a text, or None when nothing is close."""
    close = _words(tuple(numbers)).close(crew_number(text), cutoff=0.6)
    return close[0] if close else None


_words = lru_cache(maxsize=4)(Words)


_BLANKS = {"", "n a", "na", "none", "nil", "no", "unknown", "tbc", "tba", "not marked", "see certificate", "various"}


def serial_key(text: str | None) -> str:
    """A serial number folded for comparing; '' where the cell holds none."""
    folded = normalise(text) if text else ""
    return "" if folded in _BLANKS else re.sub(r"^(s n|serial no|serial|no) ", "", folded).replace(" ", "")
