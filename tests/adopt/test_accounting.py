"""Nothing is lost: every filled cell of the source is carried over or listed, each once, whatever the source holds."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.adopt.deciding import decided
from tests.adopt.layouts import LAYOUTS
from tests.adopt.layouts.layout import Layout
from workbook_tools.adopt import Carried, LayoutChanged, Mapping, Source, carry, propose
from workbook_tools.adopt.convert import shown
from workbook_tools.adopt.source import source_of
from workbook_tools.reading import RawBook

NOTHING = Layout("", lambda _: None, {})

HEADINGS = (
    *("Item", "Description", "Qty", "Quantity", "Expiry", "Exp. date", "Location", "Remarks", "Sl. No.", "Maker"),
    *("Rank", "Name", "Boat", "Type", "Capacity", "Lifeboat 1", "LB2 (Port)", "Ablaufdatum", "Cantidad", "Unit"),
)
CELLS = st.one_of(
    st.sampled_from(HEADINGS),
    st.sampled_from(
        (
            *("Hand flares", "Sea anchor", "Compas", "Lifeboat 1", "LB1", "Bridge", "TOTAL", "PYROTECHNICS", "Note: x"),
            *(
                "500 ml x 72",
                "2 nos",
                "exp 03/27",
                "4 exp 03/27, 2 exp 08/28",
                "03/04/2026",
                "25/03/2026",
                "12/26",
                '"',
            ),
            *("-", "nil", "=1+1", "Vessel:", "IMO No: 3100019", "Fresh water 500 ml", "ditto", "ok", "L", "pcs"),
        )
    ),
    st.text(max_size=8),
    st.integers(0, 40).map(float),
    st.datetimes(datetime(2020, 1, 1), datetime(2032, 1, 1)),
    st.booleans(),
    st.just(""),
    st.just(""),
)
GRIDS = st.integers(1, 7).flatmap(lambda width: st.lists(st.lists(CELLS, min_size=width, max_size=width), max_size=12))
PLACES = st.tuples(st.integers(0, 11), st.integers(0, 6))


@st.composite
def tables(draw: st.DrawFn) -> list[list[Any]]:
    """A sheet that is likely to hold a table: titles, a line of headings, lines."""
    width = draw(st.integers(2, 6))
    line = st.lists(CELLS, min_size=width, max_size=width)
    heads = draw(st.lists(st.sampled_from(HEADINGS), min_size=width, max_size=width, unique=True))
    above = draw(st.lists(line, max_size=2))
    below = draw(st.lists(line, max_size=8))
    again = draw(st.lists(st.just(heads), max_size=1))
    return [*above, heads, *below, *again, *draw(st.lists(line, max_size=3))]


@st.composite
def sources(draw: st.DrawFn) -> Source:
    """A foreign workbook of one or two sheets, with merged cells and cells that show errors."""
    sheets = {f"Sheet{number}": draw(st.one_of(GRIDS, tables())) for number in range(draw(st.integers(1, 2)))}
    merged = {}
    for name in sheets:
        areas = draw(st.lists(st.tuples(PLACES, st.integers(0, 3), st.integers(0, 3)), max_size=2))
        merged[name] = [((row, column), (row + down, column + right)) for (row, column), down, right in areas]
    errors = {name: dict.fromkeys(draw(st.lists(PLACES, max_size=2)), "#N/A") for name in sheets}
    return source_of(RawBook("theirs.xlsx", sheets, errors=errors, merged=merged))


def carried_by_proposal(source: Source) -> tuple[Mapping, Carried]:
    mapping = decided(propose(source), NOTHING)
    return mapping, carry(source, mapping)


def closes(source: Source, carried: Carried) -> None:
    """Every filled cell has one fate, and each that is left has its reason."""
    assert [fate.place for fate in carried.fates] == list(source.filled())
    assert all(bool(fate.targets) != bool(fate.why) for fate in carried.fates)


_HOLDS_NO_VALUE = {"a heading", "a label", "as above", "said again", "holds for the whole table"}


def is_in_the_book(carried: Carried) -> None:
    """Each cell said to be carried is in the book: a value came from it, or it heads, labels or repeats one."""
    held: dict[tuple[str, Any], int] = {}
    remarks = []
    for key, records in {**carried.rows, "ship": [carried.ship]}.items():
        for record in records:
            remarks.append(str(record.values.get("remarks", "")))
            for column, place in record.places.items():
                if column in record.values:
                    held[f"{key}.{column}", place] = 1
    for fate in carried.fates:
        if not fate.carried or set(fate.how.split("; ")) & _HOLDS_NO_VALUE:
            continue
        there = any((target, fate.place) in held for target in fate.targets)
        assert there or any(fate.text in text for text in remarks), fate


# Two columns for one of ours, of which one cannot be read: the value is that of the other, and so is its cell.
TWO_QUANTITIES: list[list[Any]] = [
    ["Lifeboat 1", "Item", "Description", "Qty", "Quantity", "Expiry"],
    [1.0, *["Item"] * 5],
]


@settings(max_examples=200, deadline=None)
@given(sources())
@example(source_of(RawBook("theirs.xlsx", {"Sheet0": TWO_QUANTITIES})))
def test_every_filled_cell_is_carried_or_listed_once(source: Source) -> None:
    _, carried = carried_by_proposal(source)
    closes(source, carried)
    is_in_the_book(carried)


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_filled_cell_of_a_layout_is_carried_or_listed_once(
    name: str, sources_of_layouts: dict[str, Source]
) -> None:
    source = sources_of_layouts[name]
    carried = carry(source, decided(propose(source), LAYOUTS[name]))
    closes(source, carried)
    is_in_the_book(carried)


@settings(max_examples=60, deadline=None)
@given(sources(), sources())
def test_a_mapping_of_another_book_never_loses_a_cell_either(one: Source, other: Source) -> None:
    try:
        carried = carry(other, decided(propose(one), NOTHING))
    except LayoutChanged:
        return  # it is named and nothing is read: test_locate.py
    closes(other, carried)


def test_a_cell_is_listed_as_it_is_seen() -> None:
    assert shown(25.0) == "25"
    assert shown(datetime(2026, 3, 1)) == "2026-03-01"
