"""Words and places of theirs as ours, by the mapping; what came after it was made is named."""

from __future__ import annotations

from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.lines import names_place
from workbook_tools.adopt.mapping import KEEP, NONE, UNDECIDED, Mapping
from workbook_tools.adopt.names import match_choice, match_item
from workbook_tools.adopt.places import clean_name, read_craft
from workbook_tools.columns import Column
from workbook_tools.reading.cells import shortened

# Columns whose text names a craft or a place on board.
PLACE_COLUMNS = {
    "inventory.place",
    "craft.name",
    "crew.craft",
    "servicing.appliance",
    "routine.subject",
    "defects.subject",
}


def has_words(column: Column) -> bool:
    """Whether a column takes words of a list that a mapping can translate; units are read as they are."""
    return column.kind in ("item", "choice")


class Lexicon:
    """Looks up the words and places of one mapping. notes: what was met that is not in it."""

    def __init__(self, mapping: Mapping) -> None:
        self.notes: list[str] = []
        self._words = {(word.column, fold(word.text)): word for word in mapping.words}
        self._places = {fold(place.text): place for place in mapping.places}
        self._ours = {fold(place.match.to) for place in mapping.places}
        self._new: set[tuple[str, str]] = set()

    def word(self, name: str, text: str, column: Column) -> tuple[str, str, str]:
        """A word of a column such as inventory.item as ours: the word, a measure told in it, and what to say of it."""
        if name in PLACE_COLUMNS:
            return self.place(text), "", ""
        entry = self._words.get((name, fold(text)))
        if entry is None:
            return self._new_word(name, text, column)
        if entry.match.to in (KEEP, NONE):
            return shortened(text), "", ""
        said = "" if fold(text) == fold(entry.match.to) else f"{text!r} taken for {entry.match.to!r}"
        return entry.match.to, entry.content, said

    def place(self, text: str) -> str:
        """A craft or place as our book names it."""
        entry = self._places.get(fold(text))
        if entry is not None:
            return clean_name(text) if entry.match.to in (KEEP, NONE) else entry.match.to
        if fold(text) in self._ours:
            return clean_name(text)
        craft = read_craft(text)
        name = craft.name if craft else clean_name(text)
        self._note("place", text, f"read as {name!r}")
        return name

    def says_where(self, text: str) -> bool:
        """Whether the heading of a section names a place: by itself, or because the mapping says so."""
        return fold(text) in self._places or names_place(text)

    def _new_word(self, name: str, text: str, column: Column) -> tuple[str, str, str]:
        """A word that came after the mapping was made: taken where it is declared, else kept as it is written."""
        found = match_item(text) if column.kind == "item" else match_choice(text, column, name.partition(".")[0])
        if found.to in (KEEP, UNDECIDED, NONE):
            self._note(name, text, "kept as it is written")
            return shortened(text), "", ""
        self._note(name, text, f"read as {found.to!r} ({found.evidence})")
        return found.to, "", f"{text!r} taken for {found.to!r}"

    def _note(self, name: str, text: str, what: str) -> None:
        if (name, fold(text)) not in self._new:
            self._new.add((name, fold(text)))
            self.notes.append(f"{shortened(text)!r} is not in the mapping ({name}): {what}")
