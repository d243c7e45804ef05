"""Every code has a row that trips it, at the cell it must name, and an innocent look-alike that stays silent."""

from __future__ import annotations

import pytest

from tests.checks.cases import CASES, FOLLOWS
from tests.checks.cases.coverage import many_rafts, rafts_of_seven, short_ship
from tests.workbooks import boat_lots, clean
from workbook_tools.checks import CODES


def test_every_code_has_its_cases() -> None:
    assert set(CASES) == set(CODES), "give it a trip and a look-alike in tests/checks/cases"
    assert all(trips and silents for trips, silents in CASES.values())


@pytest.mark.parametrize(
    ("code", "number"), [(code, number) for code, (trips, _) in CASES.items() for number in range(len(trips))]
)
def test_trips_at_the_cell_it_names(code: str, number: int) -> None:
    book = clean()
    sheet, cell = CASES[code][0][number](book)
    found = [(finding.code, finding.sheet, finding.cell) for finding in book.findings()]
    assert (code, sheet, cell) in found
    assert {other for other, _, _ in found} <= {code} | FOLLOWS.get(code, set()), f"enter in FOLLOWS: {found}"


@pytest.mark.parametrize(
    ("code", "number"), [(code, number) for code, (_, silents) in CASES.items() for number in range(len(silents))]
)
def test_the_look_alike_stays_silent(code: str, number: int) -> None:
    book = clean()
    CASES[code][1][number](book)
    assert [finding for finding in book.findings() if finding.code == code] == []


def test_too_few_places_asked_is_no_more_persons_than_places() -> None:
    """Below 85 m 150 % of 20 persons is 30; 28 places to port take everyone on board all the same."""
    book = clean()
    short_ship(7, "no")(book)
    rafts_of_seven(book)
    (found,) = [finding for finding in book.findings() if finding.code == "CV01" and "port side" in finding.message]
    assert "places for 28 of 20 persons" in found.message
    assert "there are too few places: ask class or the Administration before sailing" in found.remedy


def test_one_boat_that_marshals_is_one() -> None:
    book = clean()
    many_rafts(299)(book)
    book.rows["craft"] = [line for line in book.rows["craft"] if line["name"] != "Lifeboat 2"]
    (found,) = [finding for finding in book.findings() if finding.code == "CV10"]
    assert "to be marshalled by 1 lifeboat or rescue boat; at most 6 for each, 6 in all" in found.message


def test_a_clean_book_shows_nothing_and_leaves_nothing_out() -> None:
    result = clean().audit()
    assert result.findings == [], "complete the book in tests/workbooks.py or tests/parts"
    assert result.state_counts()["not_evaluated"] == 0
    assert result.state_counts()["passed"] > 150


def test_an_inventory_of_one_line_is_no_excuse_for_the_rest() -> None:
    book = clean()
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["place"] != "Lifeboat 1"]
    book.rows["inventory"].append(boat_lots("Lifeboat 1")[0])
    assert len([finding for finding in book.findings() if finding.code == "EQ01"]) > 25
