"""Which lines below the headings are lines of the table."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from workbook_tools.columns import sheet
from workbook_tools.reading import Book, RawBook, Row, read_raw

Grid = list[list[Any]]

HEADINGS: list[Any] = ["Stowed at", "Item", "Qty", "Unit", "Expiry", "Size", "Wearer's size"]
BUCKET: list[Any] = ["Lifeboat 1", "bucket", 2.0]
CRAFT: Grid = [["Craft", "Type", "Persons"], ["Lifeboat 1", "lifeboat", 20.0]]


def _book(*lines: list[Any], craft: Grid | None = None, **other: Grid) -> Book:
    sheets: dict[str, Grid] = {"Craft": craft or CRAFT, "Inventory": [HEADINGS, *lines], **other}
    return read_raw(RawBook("test.xlsx", sheets))


def _items(*lines: list[Any]) -> list[Any]:
    return [row.get("item") for row in _book(*lines).rows("inventory")]


def _row(*cells: Any) -> Row:
    return _book(list(cells)).rows("inventory")[0]


@pytest.mark.parametrize("word", ["Nil", "NIL.", "None", "No defects", "N/A", "-", "--", "\u2013"])
def test_a_line_of_words_for_nothing_is_none(word: str) -> None:
    book = _book(BUCKET, Defects=[["Craft or place", "Fitting", "What is wrong"], [word, "", word]])
    assert book.rows("defects") == []
    assert book.findings == []


def test_a_line_with_more_than_a_word_for_nothing_is_a_line() -> None:
    book = _book(BUCKET, Defects=[["Craft or place", "Fitting"], ["Lifeboat 1", "N/A"], ["Nile cabin", "x"]])
    assert len(book.rows("defects")) == 2


@pytest.mark.parametrize(
    "total",
    [
        ["Total", "", 8.0],
        ["Subtotal", "hand flare", 6.0],
        ["", "TOTAL buckets", 2.0],
        ["Sum", "", 2.0],
        ["Sum:", "", 2.0],
    ],
)
def test_a_total_is_no_line(total: list[Any]) -> None:
    assert _items(BUCKET, total, BUCKET) == ["bucket", "bucket"]


@pytest.mark.parametrize("place", ["Sump room", "Total flooding room", "Totem locker"])
def test_a_place_that_begins_like_a_total_is_none(place: str) -> None:
    assert _items([place, "bucket", 2.0]) == ["bucket"]


def test_a_line_of_form_e_is_no_total() -> None:
    form: Grid = [["Entry", "Figure"], ["Total number of persons", 20.0]]
    assert _book(BUCKET, **{"Record of Equipment": form}).rows("record_of_equipment")[0].get("figure") == 20


@pytest.mark.parametrize("note", ["Checked by 3/O on 20 Nov 2026", "Note: flares renewed in Rotterdam", "Master"])
def test_a_note_under_the_table_is_no_line(note: str) -> None:
    assert _items(BUCKET, [], [note]) == ["bucket"]
    assert _items(BUCKET, ["", note]) == ["bucket"]


def test_a_line_half_typed_inside_the_table_stays() -> None:
    assert _items(BUCKET, ["", "compass"], BUCKET) == ["bucket", "compass", "bucket"]


def test_a_known_item_or_craft_at_the_end_is_a_line_half_typed() -> None:
    assert _items(BUCKET, ["", "hand flares"]) == ["bucket", "hand flares"]
    book = _book(BUCKET, craft=[*CRAFT, ["Lifeboat 2"], ["Rafts serviced at Rotterdam"]])
    assert [row.get("name") for row in book.rows("craft")] == ["Lifeboat 1", "Lifeboat 2"]


def test_a_lone_number_at_the_end_is_no_note() -> None:
    assert _items(BUCKET, ["", "", 3.0]) == ["bucket", None]


def test_a_person_without_more_than_a_number_is_a_person() -> None:
    crew: Grid = [["No", "Rank"], ["1", "Master"], ["2"], [], ["Updated by C/O"]]
    assert [row.get("number") for row in _book(BUCKET, Crew=crew).rows("crew")] == ["1", "2"]


@pytest.mark.parametrize(
    ("quantity", "number", "unit"),
    [
        ("6 pcs", 6, None),
        ("1 no.", 1, None),
        ("2 ea", 2, None),
        ("1 set", 1, "set"),
        ("90 L", 90, "L"),
        ("90", 90, None),
    ],
)
def test_a_quantity_is_read_with_the_unit_behind_it(quantity: str, number: float, unit: str | None) -> None:
    row = _row("Lifeboat 1", "bucket", quantity)
    assert (row.get("quantity"), row.get("unit")) == (number, unit)


def test_the_unit_cell_goes_before_the_unit_behind_the_quantity() -> None:
    assert _row("Lifeboat 1", "fresh water", "90 litres", "L").get("quantity") == 90
    book = _book(["Lifeboat 1", "fresh water", "90 L", "mL"])
    assert [(finding.code, finding.cell) for finding in book.findings] == [("WB02", "C2")]
    assert book.rows("inventory")[0].get("quantity") is None


@pytest.mark.parametrize("quantity", ["two", "6 or 7", "1,500 pcs", "120 x 500 ml", "6 furlongs"])
def test_other_words_in_a_quantity_are_not_guessed(quantity: str) -> None:
    book = _book(["Lifeboat 1", "bucket", quantity])
    assert [finding.code for finding in book.findings] == ["WB02"]


@pytest.mark.parametrize("size", ["S", "XL", "xxl", "Universal", "M/L"])
def test_a_wearers_size_under_size_is_one(size: str) -> None:
    book = _book(["Bridge", "immersion suit", 1.0, "", "", size])
    row = book.rows("inventory")[0]
    assert (row.get("wearer_size"), row.get("content"), book.findings) == (size, None, [])


def test_a_wearers_size_is_none_under_content_or_beside_another() -> None:
    beside = _book(["Bridge", "immersion suit", 1.0, "", "", "S", "XL"])
    assert [finding.code for finding in beside.findings] == ["WB02"]
    grid: Grid = [["Stowed at", "Item", "Qty", "Content per unit"], ["Bridge", "immersion suit", 1.0, "XL"]]
    book = read_raw(RawBook("test.xlsx", {"Craft": CRAFT, "Inventory": grid}))
    assert [finding.code for finding in book.findings] == ["WB02"]


def test_a_place_merged_over_several_lines_is_that_of_all_of_them() -> None:
    inventory: Grid = [HEADINGS, BUCKET, ["", "compass", 1.0], ["", "whistle", 1.0], ["", "", ""]]
    sheets: dict[str, Grid] = {"Craft": CRAFT, "Inventory": inventory}
    book = read_raw(RawBook("test.xlsx", sheets, merged={"Inventory": [((1, 0), (2, 0)), ((3, 2), (4, 2))]}))
    assert [row.get("place") for row in book.rows("inventory")] == ["Lifeboat 1", "Lifeboat 1", None]


def test_long_texts_are_quoted_in_part() -> None:
    long = "x" * 32_000
    lines: Grid = [["Lifeboat 1", long, long, long, long, long], [long, "bucket", 2.0]]
    book = _book(*lines, Crew=[["No", "Rank", long], ["1", long]])
    assert book.findings
    for finding in book.findings:
        assert len(finding.message) < 300
        assert len(finding.subject) <= 100


def test_a_text_that_fits_is_quoted_whole() -> None:
    place = "Locker " + "x" * 60
    (finding,) = _book([place, "bucket", "many"]).findings
    assert finding.subject == f"{place}, bucket"


@pytest.mark.parametrize(
    ("key", "column", "word", "choice"),
    [
        ("servicing", "done_by", "2/E", "crew"),
        ("servicing", "done_by", "Chief Engineer", "crew"),
        ("servicing", "done_by", "bosun", "crew"),
        ("inventory", "condition", "Satisfactory", "in use"),
        ("fire", "condition", "new", "in use"),
        ("craft", "kind", "LB/RB", "lifeboat and rescue boat"),
        ("craft", "kind", "Rescue boat (RIB)", "rescue boat"),
        ("craft", "side", "FWD", "forward"),
    ],
)
def test_more_words_are_known(key: str, column: str, word: str, choice: str) -> None:
    assert sheet(key).column(column).names.find(word) == choice


def test_an_expiry_that_is_said_to_be_none_is_empty() -> None:
    row = _row("Lifeboat 1", "bucket", 2.0, "", "No expiry")
    assert (row.get("expires"), row.unclear) == (None, {})
    assert _row("Lifeboat 1", "bucket", 2.0, "", date(2028, 1, 1)).get("expires") == date(2028, 1, 1)
