"""Names of craft and places on board, however they are written: LB1, No.1 L/Boat (Port), Rettungsboot 1 (Bb)."""

from __future__ import annotations

import re
from dataclasses import dataclass

from workbook_tools import catalogue
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.words import vocabulary

_SHORT = {
    "lb": "lifeboat",
    "l boat": "lifeboat",
    "lboat": "lifeboat",
    "lifeb": "lifeboat",
    "lr": "liferaft",
    "l raft": "liferaft",
    "lraft": "liferaft",
    "ilr": "liferaft",
    "rb": "rescue boat",
    "fflb": "free-fall lifeboat",
    "ffb": "free-fall lifeboat",
}
_NUMBER_WORDS = {"one": "1", "two": "2", "three": "3", "four": "4"}
_NO = frozenset(("no", "nr", "num", "number", "n", "unit", "numero", "nº"))
_FILLERS = frozenset(("the", "equipment", "inventory", "list", "stores", "check", "checklist", "side", "ausrustung"))


@dataclass(frozen=True, slots=True)
class Craft:
    """A craft by its name: kind, number or letter ('' for the only one of its kind), side."""

    kind: str
    number: str
    side: str

    @property
    def name(self) -> str:
        """The name it goes by on our sheets."""
        short = {"lifeboat": "Lifeboat", "liferaft": "Liferaft", "rescue boat": "Rescue boat"}
        base = short.get(self.kind, self.kind[0].upper() + self.kind[1:])
        tail = self.number or (self.side.capitalize() if self.kind != "rescue boat" else "")
        return f"{base} {tail}".strip()


def read_craft(text: str) -> Craft | None:
    """The craft that a text names with nothing else in it, or None."""
    plain = re.sub(r"(?<=[^\W\d_])(?=\d)", " ", text.replace("#", " no "))
    plain = re.sub(r"\b([A-Za-z])\s*/\s*(?=[A-Za-z])", r"\1 ", plain)
    words = fold(plain).split()
    number, side, rest = "", "", []
    for word in words:
        word = _NUMBER_WORDS.get(word, word)
        if word.isdigit() and len(word) <= 2:
            if number:
                return None
            number = str(int(word))
        elif found := _side(word):
            if side:
                return None
            side = found
        elif word not in _NO and word not in _FILLERS:
            rest.append(word)
    kind = _kind(rest)
    return Craft(kind, number, side) if kind else None


def _side(word: str) -> str:
    for side in ("port", "starboard"):
        if word in vocabulary().plain[side]:
            return side
    return {"aft": "aft", "forward": "forward", "fwd": "forward"}.get(word, "")


def _kind(words: list[str]) -> str:
    text = " ".join(words)
    if text in _SHORT:
        return _SHORT[text]
    found = vocabulary().craft_kinds.get(text)
    return found.entry if found else ""


def craft_in_title(text: str) -> Craft | None:
    """The craft that a title names among other words: 'Inventory of Lifeboat No. 1 (Port side)'.

    Only a title with one kind of craft and a number or side names one craft; 'Lifeboats and liferafts' does not.
    """
    direct = read_craft(text)
    if direct is not None and (direct.number or direct.side):
        return direct
    plain = re.sub(r"(?<=[^\W\d_])(?=\d)", " ", text.replace("#", " no "))
    words = fold(plain).split()
    found: set[Craft] = set()
    for first in range(len(words)):
        for last in range(len(words), first + 1, -1):
            craft = read_craft(" ".join(words[first:last]))
            if craft is not None and (craft.number or craft.side):
                found.add(craft)
                break
    biggest = {craft for craft in found if not any(_says_more(other, craft) for other in found)}
    return biggest.pop() if len(biggest) == 1 else None


def _says_more(one: Craft, other: Craft) -> bool:
    return (
        one != other
        and (other.kind == one.kind or other.kind in one.kind)
        and other.number in ("", one.number)
        and other.side in ("", one.side)
    )


def is_place(text: str) -> bool:
    """Whether a text names a craft or a place on board."""
    if read_craft(text) is not None or catalogue.is_place(text):
        return True
    return any(word in vocabulary().plain["place_word"] for word in fold(text).split())


def clean_name(text: str) -> str:
    """A name of theirs as our sheets can hold it: without * ? ~, which spreadsheet formulas read as wildcards."""
    return " ".join(re.sub(r"[*?~]", " ", text).split())
