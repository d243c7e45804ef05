"""Compares what is proposed for a layout, with no help, with its truth."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from tests.adopt.layouts.layout import Layout
from workbook_tools.adopt import KEEP, NONE, UNDECIDED, Mapping, open_source, propose
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import Match
from workbook_tools.reading.address import address


@dataclass
class Measured:
    """Counts of columns and of items: right, asked (with the right proposal or not), left out, wrong."""

    columns: Counter[str] = field(default_factory=Counter)
    items: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)


def verdict(match: Match | None, truth: str) -> str:
    """How a match compares with the truth: right, asked well, asked badly, left out or wrong."""
    if match is None:
        return "right" if truth == NONE else "left out"
    if match.to == UNDECIDED:
        return "asked well" if match.suggested == truth else "asked badly"
    if match.to == truth:
        return "right"
    return "left out" if match.to in (NONE, KEEP) else "wrong"


def columns_of(mapping: Mapping) -> dict[tuple[str, str], Match]:
    """Each mapped heading: sheet and cell, and what it is taken for with the sheet of ours before it."""
    found = {}
    for table in mapping.tables:
        key = table.match.suggested or table.match.to
        for column in table.columns:
            match = Match(**vars(column.match))
            match.to = match.to if match.to in (NONE, UNDECIDED) else f"{key}.{match.to}"
            match.suggested = f"{key}.{match.suggested}" if match.suggested else ""
            if table.match.undecided and match.to != NONE:
                match.to, match.suggested = UNDECIDED, match.suggested or match.to
            if table.match.to == NONE:
                match.to = NONE
            for row in range(table.first_heading, table.last_heading + 1):
                found[table.sheet, address(row, column.index)] = match
    return found


def measure(layout: Layout, path: Path) -> Measured:
    """Propose a mapping for a saved layout and compare it with the truth."""
    mapping = propose(open_source(path))
    measured = Measured()
    columns = columns_of(mapping)
    for place, truth in layout.columns.items():
        said = verdict(columns.get(place), truth)
        measured.columns[said] += 1
        _note(measured, said, f"{path.name} {place[0]}!{place[1]}", columns.get(place), truth)
    for place, match in columns.items():  # a column that is taken for ours and is in no truth is wrong as well
        named = layout.columns.get(place) or any(
            place[0] == sheet and place[1][0] == cell[0] for sheet, cell in layout.columns
        )
        if not named and match.to not in (NONE, UNDECIDED):
            measured.columns["wrong"] += 1
            measured.wrong.append(f"{path.name} {place[0]}!{place[1]}: taken for {match.to}, no column of the truth")
    words = {fold(word.text): word.match for word in mapping.words if word.column == "inventory.item"}
    for text, truth in layout.items.items():
        said = verdict(words.get(fold(text)), truth)
        measured.items[said] += 1
        _note(measured, said, f"{path.name} {text!r}", words.get(fold(text)), truth)
    return measured


def _note(measured: Measured, said: str, what: str, match: Match | None, truth: str) -> None:
    taken = f"{match.to}/{match.suggested} {match.confidence:.2f} ({match.evidence})" if match else "not found"
    if said == "wrong":
        measured.wrong.append(f"{what}: {taken}, truth {truth}")
    elif said != "right":
        measured.asked.append(f"{what}: {said}: {taken}, truth {truth}")
