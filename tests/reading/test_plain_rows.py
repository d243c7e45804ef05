"""Rows typed column by column are those that are typed cell by cell."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.workbooks import ON, clean
from workbook_tools.checks import Options, audit_book
from workbook_tools.fleet.packing import pack
from workbook_tools.reading import Book, RawBook, plain_rows, read_book, read_raw
from workbook_tools.reading.plain_rows import PlainRows

# What stands in officers' books, and what has been read wrongly once.
CELLS: list[Any] = [
    *("", "", "", "  ", "Lifeboat 1", "hand flare", "Hand Flares", "hnd flare", "in use", "ok", "rating", "none"),
    *("Nil", "n/a", "-", "---" * 30, "nil" + "!" * 70, "No expiry", "no entries" + "." * 60, "nothing"),
    *("total", "Grand total: 5", "Sub-total", "- total", "Total flooding", "sum: 5", "Totals" + " x" * 80),
    *("Item", "Quantity *", "Remarks (of the mate, and so on and on until it is more than sixty)", "Expires", "Rank"),
    *("6 pcs", "90 L", "500 mL", "XL", "12M", "2021", "06/2028", "03/04/2027", "30.02.2027", "1,500", "2,5", "yes"),
    *("tab\there", "two  spaces", "line\nbreak", "nb\u00a0sp", "\u017fum of", "a" * 200, "\u2014", "\x00"),
    *(None, True, False, 0.0, -0.0, 1, 1.0, 2.5, -5.0, 10**16, 1e16, 46146.0, 2024.0, float("nan"), float("inf")),
    *(date(2027, 3, 4), datetime(2027, 3, 4, 5, 6)),
]
KEYS = ("crew", "inventory", "routine", "defects", "certificates")


def _shown(book: Book) -> list[Any]:
    """What was read of a book, in order; as text, so that -0.0, 0 and no number are what they are."""
    rows = [
        (key, row.number, repr(row.values), repr(row.unclear))
        for key, table in book.tables.items()
        for row in table.rows
    ]
    return [*rows, *book.findings, book.month_only, book.sheets_not_read]


def _cell_by_cell(raw: RawBook, month_first_day: bool) -> Book:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(PlainRows, "end_full", lambda _: False)
        return read_raw(raw, month_first_day)


@st.composite
def _books(draw: st.DrawFn) -> RawBook:
    grids = clean().grids()
    for name in [name for name in grids if name.casefold().replace(" ", "_") in KEYS]:
        lines = grids[name]
        width = len(lines[0])
        for line in lines[1:]:
            if draw(st.booleans()):
                line[draw(st.integers(0, len(line) - 1))] = draw(st.sampled_from(CELLS))
        own = draw(st.lists(st.lists(st.sampled_from(CELLS), max_size=width), max_size=4))
        at = draw(st.integers(1, len(lines)))
        lines[at:at] = own
        if draw(st.booleans()):
            for line in lines:
                line.insert(0, draw(st.sampled_from(["", "total", "7"])))
    errors = {"Inventory": {(draw(st.integers(1, 9)), draw(st.integers(0, 9))): "#N/A"}} if draw(st.booleans()) else {}
    merged = {"Inventory": [((2, 0), (4, 0))]} if draw(st.booleans()) else {}
    return RawBook("test.xlsx", grids, errors=errors, merged=merged)


@settings(max_examples=60, deadline=None)
@given(_books(), st.booleans())
def test_columns_give_what_cells_give(raw: RawBook, month_first_day: bool) -> None:
    assert _shown(read_raw(raw, month_first_day)) == _shown(_cell_by_cell(raw, month_first_day))


@pytest.mark.parametrize("cell", CELLS, ids=lambda cell: repr(cell)[:30])
@pytest.mark.parametrize("other", ["Lifeboat 1", "none", ""])
def test_each_cell_is_read_alike_the_first_time_and_again(cell: Any, other: str) -> None:
    book = clean()
    for key in ("item", "quantity", "content", "expires", "condition", "remarks"):
        line: dict[str, Any] = {"place": other, key: cell}
        book.rows["inventory"] += [dict(line), dict(line)]
    book.rows["inventory"].append({"place": "Lifeboat 1", "item": "bucket", "quantity": 1.0})
    raw = RawBook("test.xlsx", book.grids())
    assert _shown(read_raw(raw)) == _shown(_cell_by_cell(raw, False)) == _shown(read_raw(raw))


def test_a_heading_beyond_the_last_filled_column_is_no_error() -> None:
    grids = clean().grids()
    grids["Inventory"] = [grids["Inventory"][0], ["Lifeboat 1", "bucket", "", 2.0], []]
    assert [row.values for row in read_raw(RawBook("test.xlsx", grids)).rows("inventory")] == [
        {"place": "Lifeboat 1", "item": "bucket", "quantity": 2.0}
    ]


def test_a_result_is_packed_into_the_same_bytes_whatever_was_read_before(tmp_path: Path) -> None:
    path = clean().save(tmp_path / "book.xlsx")  # from a file every cell has a text of its own

    def packed() -> bytes:
        return pack(audit_book(read_book(path), Options(ON)))

    plain_rows._meanings.clear()
    first = packed()
    assert packed() == first
