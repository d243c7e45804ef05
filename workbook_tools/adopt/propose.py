"""Proposes a mapping for a foreign workbook: tables, columns, answers, words and places, each with its evidence."""

from __future__ import annotations

from collections.abc import Iterable

from workbook_tools.adopt.answers import find_answers
from workbook_tools.adopt.blocks import find_blocks
from workbook_tools.adopt.carry import Carrier
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import KEEP, Mapping, Match, PlaceMap, WordMap, settled
from workbook_tools.adopt.measures import measure_in
from workbook_tools.adopt.names import knows_item, match_choice, match_item
from workbook_tools.adopt.places import Craft, clean_name, craft_in_title, read_craft
from workbook_tools.adopt.source import Source
from workbook_tools.adopt.tables import propose_table
from workbook_tools.adopt.words import vocabulary
from workbook_tools.columns import Column, sheet


def propose(source: Source) -> Mapping:
    """A mapping of everything that can be told; what cannot is left undecided, with a proposal where there is one."""
    mapping = Mapping(source.file_name)
    for page in source.pages.values():
        blocks = find_blocks(page)
        mapping.tables += [propose_table(block) for block in blocks]
        mapping.answers += find_answers(page, blocks)
    settle_words(source, mapping)
    return mapping


def settle_words(source: Source, mapping: Mapping) -> None:
    """Propose the words and places that the tables use and that are not in the mapping yet."""
    carrier = Carrier(source, mapping)
    known = {(word.column, fold(word.text)) for word in mapping.words}
    mapping.words += [word_map(*used) for used in carrier.words_used() if (used[0], fold(used[1])) not in known]
    there = {fold(place.text) for place in mapping.places}
    mapping.places += [place for place in _places(carrier.places_used()) if fold(place.text) not in there]


def word_map(column: str, text: str) -> WordMap:
    """The proposal for one word of a column such as 'inventory.item'."""
    key, name = column.split(".")
    asked = sheet(key).column(name)
    if asked.kind != "item":
        return WordMap(column, text, _choice(text, asked, key))
    if not knows_item(text):
        rest, measure = measure_in(text)
        if measure is not None and (knows_item(rest) or match_item(rest).to not in (KEEP,)):
            match = match_item(rest)
            match.evidence += f"; {measure.content:g} {measure.content_unit} is its content"
            return WordMap(column, text, match, f"{measure.content:g} {measure.content_unit}")
    return WordMap(column, text, match_item(text))


def _choice(text: str, column: Column, key: str) -> Match:
    found = column.names.find(text)
    if found is not None:
        return settled(found, 1.0, f"a declared word of {column.heading}")
    return match_choice(text, column, key)


def _places(used: Iterable[str]) -> list[PlaceMap]:
    """The craft and places named, and what each is called in our book."""
    texts = list(dict.fromkeys(used))
    crafts = {text: craft for text in texts if (craft := read_craft(text) or craft_in_title(text)) is not None}
    kinds = _kinds_with_numbers(crafts.values())
    places = []
    for text in texts:
        craft = crafts.get(text)
        if craft is None:
            places.append(PlaceMap(text, _place(text)))
            continue
        name = _name_of(craft, kinds, list(crafts.values()))
        if not craft.number and not craft.side and craft.kind in kinds:
            match = settled(name, 0.6, f"{craft.kind}, but which one of several?", clean_name(text))
            places.append(PlaceMap(text, match))
            continue
        words = " ".join(part for part in (craft.kind, craft.number, craft.side) if part)
        places.append(PlaceMap(text, settled(name, 0.95, f"reads as {words}"), craft.kind, _side(craft, crafts)))
    return places


def _place(text: str) -> Match:
    """A place on board: in our language where the whole of it is declared in another, else as it is written."""
    found = vocabulary().places.get(fold(text))
    if found is not None:
        return settled(found.entry, 0.95, f"{fold(text)!r} is a declared place ({found.language})")
    return Match(clean_name(text), 1.0, "as written")


def _kinds_with_numbers(crafts: Iterable[Craft]) -> set[str]:
    return {craft.kind for craft in crafts if craft.number or craft.side}


def _name_of(craft: Craft, kinds: set[str], every: list[Craft]) -> str:
    """One name for one craft: 'Lifeboat, port' is Lifeboat 1 where that one is said to be the port boat."""
    if not craft.number and craft.side:
        same = {one.name for one in every if one.kind == craft.kind and one.side == craft.side and one.number}
        if len(same) == 1:
            return same.pop()
    sides = {one.side for one in every if (one.kind, one.number) == (craft.kind, craft.number) and one.side}
    return f"{craft.name} {craft.side}".strip() if craft.number and len(sides) > 1 else craft.name


def _side(craft: Craft, crafts: dict[str, Craft]) -> str:
    """The side of a craft, told by any of its names; '' where they contradict each other."""
    if craft.side:
        return craft.side
    sides = {one.side for one in crafts.values() if (one.kind, one.number) == (craft.kind, craft.number) and one.side}
    return sides.pop() if len(sides) == 1 else ""
