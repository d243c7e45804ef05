"""A layout that has changed since its mapping was made is noticed and named, never misread."""

from __future__ import annotations

from typing import Any

import pytest

from workbook_tools.adopt import LayoutChanged, Mapping, carry, propose
from workbook_tools.adopt.source import source_of
from workbook_tools.reading import RawBook

Grid = list[list[Any]]


def book(grid: Grid, name: str = "LSA") -> Any:
    return source_of(RawBook("theirs.xlsx", {name: grid}))


def grid() -> Grid:
    return [
        ["LIFEBOAT 1", "", "", ""],
        ["Item", "Qty", "Expiry date", "Remarks"],
        ["Hand flares", 6.0, "25/03/2028", ""],
        ["Buckets", 2.0, "", ""],
        ["Whistle", 1.0, "", "new"],
    ]


@pytest.fixture
def mapping() -> Mapping:
    return propose(book(grid()))


def _quantities(changed: Grid, mapping: Mapping) -> list[Any]:
    return [record.values.get("quantity") for record in carry(book(changed), mapping).rows["inventory"]]


def test_the_same_layout_with_other_lines_is_read(mapping: Mapping) -> None:
    assert _quantities([*grid(), ["Compass", 1.0, "", ""]], mapping) == [6, 2, 1, 1]


def test_rows_put_in_above_are_followed_and_said(mapping: Mapping) -> None:
    carried = carry(book([["", "", "", ""], *grid()]), mapping)
    assert [record.values["quantity"] for record in carried.rows["inventory"]] == [6, 2, 1]
    assert carried.notes == ["sheet 'LSA': the headings of row 2 stand in row 3 now"]


def _swapped() -> Grid:
    return [[line[0], line[2], line[1], line[3]] for line in grid()]


def _renamed() -> Grid:
    lines = grid()
    lines[1][1] = "Required"
    return lines


def _other_boat() -> Grid:
    lines = grid()
    lines[0][0] = "LIFEBOAT 2"
    return lines


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        (_swapped(), "LSA!B2: the heading 'Qty' stood here, now 'Expiry date' (it stands in column C now)"),
        (_renamed(), "LSA!B2: the heading 'Qty' stood here, now 'Required'"),
        (_other_boat(), "LSA!A1: 'LIFEBOAT 1' stood here, now 'LIFEBOAT 2'"),
    ],
)
def test_a_changed_layout_is_named_with_its_cell(changed: Grid, named: str, mapping: Mapping) -> None:
    with pytest.raises(LayoutChanged) as raised:
        carry(book(changed), mapping)
    assert raised.value.changes == [named]


def test_a_sheet_that_is_gone_is_named(mapping: Mapping) -> None:
    with pytest.raises(LayoutChanged, match="no sheet 'LSA' any more"):
        carry(book(grid(), "Other"), mapping)


def test_a_new_column_is_said_and_its_cells_are_listed(mapping: Mapping) -> None:
    carried = carry(
        book([[*line, extra] for line, extra in zip(grid(), ["", "Maker", "X", "", ""], strict=True)]), mapping
    )
    assert carried.notes == ["LSA!E2: the column 'Maker' is not in the mapping; its cells are not carried over"]
    assert [fate.text for fate in carried.left] == ["Maker", "X"]


def test_a_word_that_came_later_is_said(mapping: Mapping) -> None:
    carried = carry(book([*grid(), ["Sea anchor", 1.0, "", ""], ["Ship's bell", 1.0, "", ""]]), mapping)
    assert [record.values["item"] for record in carried.rows["inventory"]][-2:] == ["sea-anchor", "Ship's bell"]
    assert len(carried.notes) == 2
    assert "kept as it is written" in carried.notes[1]
