"""Headings are found wherever they stand, under any of their names."""

from __future__ import annotations

from typing import Any

import pytest

from tests.workbooks import clean
from workbook_tools.reading import Book, RawBook, read_raw

CRAFT = [["Craft", "Type"], ["Lifeboat 1", "lifeboat"]]


def _inventory(*rows: list[Any]) -> Book:
    return read_raw(RawBook("test.xlsx", {"Craft": CRAFT, "Inventory": list(rows)}))


@pytest.mark.parametrize(
    "heading", ["Qty", "QUANTITY", "quantity *", "Number", " Quantity ", "Quantity (pcs)", "Quantity:"]
)
def test_a_heading_is_known_by_its_names(heading: str) -> None:
    book = _inventory(["Stowed at", "Item", heading], ["Lifeboat 1", "bucket", 2.0])
    assert book.rows("inventory")[0].get("quantity") == 2


def test_the_address_is_that_of_the_cell_in_the_sheet() -> None:
    book = _inventory(
        ["Stores of the ship"], [], ["", "Item", "", "Stowed at", "Qty"], [], ["", "bucket", "", "Lifeboat 1", "x"]
    )
    assert [(finding.sheet, finding.cell) for finding in book.findings] == [("Inventory", "E5")]


def test_text_above_the_headings_that_looks_like_one_does_not_mislead() -> None:
    book = _inventory(["Item", "", "Date:"], ["Stowed at", "Item", "Qty"], ["Lifeboat 1", "bucket", 2.0])
    assert [row.get("item") for row in book.rows("inventory")] == ["bucket"]


def test_sheets_are_known_by_their_names_in_any_order() -> None:
    grids = clean().grids()
    named = {
        "Vessel particulars": grids["Ship"],
        "LSA inventory": grids["Inventory"],
        "BOATS AND RAFTS": grids["Craft"],
    }
    book = read_raw(RawBook("test.xlsx", named))
    assert set(book.tables) == {"ship", "craft", "inventory"}
    assert book.findings == []


def test_a_unit_inside_the_content_cell_is_read() -> None:
    book = _inventory(["Stowed at", "Item", "Qty", "Size"], ["Lifeboat 1", "water", 72.0, "500 ml"])
    row = book.rows("inventory")[0]
    assert (row.get("content"), row.get("content_unit")) == (500, "mL")


def test_a_form_is_read_wherever_its_labels_stand() -> None:
    ship: list[list[Any]] = [
        ["Particulars"],
        [],
        ["", "Name of ship:", "Orrin Vale", "", "GT", 5200.0],
        ["", "", "Voyages", "worldwide"],
    ]
    book = read_raw(RawBook("test.xlsx", {"Ship": ship, "Craft": CRAFT, "Inventory": [["Stowed at", "Item", "Qty"]]}))
    assert book.ship_value("name") == "Orrin Vale"
    assert book.ship_value("gross_tonnage") == 5200
    assert book.ship_value("voyage") == "international"
