"""A person who knows the truth of a layout decides what the proposal leaves open."""

from __future__ import annotations

from tests.adopt.layouts.layout import Layout
from workbook_tools.adopt import KEEP, NONE, UNDECIDED, Mapping
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import Match
from workbook_tools.reading.address import address


def decided(mapping: Mapping, layout: Layout) -> Mapping:
    """The mapping with every open question answered by the truth; what the truth does not tell is as proposed."""
    items = {fold(text): ours for text, ours in layout.items.items()}
    for table in mapping.tables:
        _settle(table.match, table.match.suggested or NONE)
        for column in table.columns:
            cells = [address(row, column.index) for row in range(table.first_heading, table.last_heading + 1)]
            truth = next(
                (layout.columns[table.sheet, cell] for cell in cells if (table.sheet, cell) in layout.columns), ""
            )
            _settle(column.match, truth.rpartition(".")[2] or column.match.suggested or NONE)
            if column.blank == UNDECIDED:
                column.blank = "as above"
        for fixed in table.fixed:
            _settle(fixed.match, fixed.match.suggested or NONE)
    for answer in mapping.answers:
        _settle(answer.match, answer.match.suggested or NONE)
    for word in mapping.words:
        _settle(word.match, items.get(fold(word.text)) or word.match.suggested or KEEP)
    for place in mapping.places:
        _settle(place.match, place.match.suggested or KEEP)
    return mapping


def _settle(match: Match, to: str) -> None:
    if match.undecided:
        match.to, match.suggested = to, ""
