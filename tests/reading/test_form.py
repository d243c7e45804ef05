"""Where the answers of a form stand."""

from __future__ import annotations

from typing import Any

from workbook_tools.reading import Book, RawBook, read_raw

NEEDED: dict[str, list[list[Any]]] = {"Craft": [["Craft", "Type"]], "Inventory": [["Stowed at", "Item", "Qty"]]}


def _read(*ship: list[Any]) -> Book:
    return read_raw(RawBook("test.xlsx", {**NEEDED, "Ship": list(ship)}))


def test_answers_below_a_row_of_labels_are_read() -> None:
    book = _read(["Ship's name", "IMO number", "Gross tonnage"], ["Orrin Vale", "3100019", "x"])
    assert (book.ship_value("name"), book.ship_value("imo_number")) == ("Orrin Vale", "3100019")
    assert [(finding.code, finding.cell) for finding in book.findings] == [("WB02", "C2")]


def test_a_label_is_never_an_answer() -> None:
    book = _read(["Ship's name", "IMO number", "", "", "", "", "GT", "5200"])
    assert book.ship_value("name") is None
    assert book.ship_value("gross_tonnage") == 5200


def test_labels_without_answers_have_none_from_the_row_below() -> None:
    book = _read(["Ship's name"], ["Call sign"], ["IMO number"])
    assert book.ship_value("name") is None


def test_a_word_that_is_both_a_label_and_the_answer_asked_is_the_answer() -> None:
    book = _read(["Ship's name", "Orrin Vale"], ["Rule set", "IMO"], ["IMO", "3100019"])
    assert (book.ship_value("rule_set"), book.ship_value("imo_number")) == ("solas", "3100019")
