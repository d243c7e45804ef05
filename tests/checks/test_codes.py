"""Every code has a row that trips it, at the cell it must name, and an innocent look-alike that stays silent."""

from __future__ import annotations

import pytest

from tests.checks.cases import CASES, FOLLOWS
from tests.workbooks import boat_lots, clean
from workbook_tools.checks import CODES


def test_every_code_has_its_cases() -> None:
    assert set(CASES) == set(CODES)
    assert all(trips and silents for trips, silents in CASES.values())


@pytest.mark.parametrize(
    ("code", "number"), [(code, number) for code, (trips, _) in CASES.items() for number in range(len(trips))]
)
def test_trips_at_the_cell_it_names(code: str, number: int) -> None:
    book = clean()
    sheet, cell = CASES[code][0][number](book)
    found = [(finding.code, finding.sheet, finding.cell) for finding in book.findings()]
    assert (code, sheet, cell) in found
    assert {other for other, _, _ in found} <= {code} | FOLLOWS.get(code, set()), found


@pytest.mark.parametrize(
    ("code", "number"), [(code, number) for code, (_, silents) in CASES.items() for number in range(len(silents))]
)
def test_the_look_alike_stays_silent(code: str, number: int) -> None:
    book = clean()
    CASES[code][1][number](book)
    assert [finding for finding in book.findings() if finding.code == code] == []


def test_a_clean_book_shows_nothing_and_leaves_nothing_out() -> None:
    result = clean().audit()
    assert result.findings == []
    assert result.state_counts()["not_evaluated"] == 0
    assert result.state_counts()["passed"] > 150


def test_an_inventory_of_one_line_is_no_excuse_for_the_rest() -> None:
    book = clean()
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["place"] != "Lifeboat 1"]
    book.rows["inventory"].append(boat_lots("Lifeboat 1")[0])
    assert len([finding for finding in book.findings() if finding.code == "EQ01"]) > 25
