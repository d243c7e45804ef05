"""Cells: what is read, and what is not read because it would be a guess."""

from datetime import date, datetime, time
from typing import Any

import pytest

from workbook_tools.columns import sheet
from workbook_tools.reading.cells import Typed, as_text, type_cell, type_content, type_date, type_number


@pytest.mark.parametrize(
    ("value", "day"),
    [
        (date(2027, 3, 12), date(2027, 3, 12)),
        (datetime(2027, 3, 12, 8, 30), date(2027, 3, 12)),
        ("2027-03-12", date(2027, 3, 12)),
        ("2027/3/12", date(2027, 3, 12)),
        ("12 Mar 2027", date(2027, 3, 12)),
        ("12-MAR-27", date(2027, 3, 12)),
        ("1st September 2027", date(2027, 9, 1)),
        ("March 12, 2027", date(2027, 3, 12)),
        ("25/03/2027", date(2027, 3, 25)),
        ("03/25/2027", date(2027, 3, 25)),
        ("05.05.2027", date(2027, 5, 5)),
        ("03/2027", date(2027, 3, 31)),
        ("2028-02", date(2028, 2, 29)),
        ("Mar 2027", date(2027, 3, 31)),
        ("DEC-27", date(2027, 12, 31)),
    ],
)
def test_reads_a_date_that_has_one_reading(value: Any, day: date) -> None:
    assert type_date(value, "expiry").value == day


@pytest.mark.parametrize(
    "value",
    [
        "12/03/2027",
        "12/03/27",
        "03/27",
        "2027",
        2027.0,
        46146.0,
        7.0,
        True,
        time(8, 30),
        "31/02/2027",
        "31 Feb 2027",
        "13/13/2027",
        "12 Mrz 2027",
        "00/2027",
        "soon",
        "see label",
        "2027-3-12-1",
    ],
)
def test_does_not_guess_a_date(value: Any) -> None:
    typed = type_date(value, "expiry")
    assert typed.value is None
    assert typed.problem
    assert typed.remedy


def test_says_both_readings_of_an_ambiguous_date() -> None:
    assert "2027-03-12 or as 2027-12-03" in type_date("12/03/2027", "expiry").problem


def test_names_both_day_counts_of_a_plain_number() -> None:
    # 46146 days: 4 May 2026 from the 1900 base; 1,462 days later from the 1904 base (ISO 29500, date bases)
    assert "2026-05-04" in type_date(46146.0, "expiry").problem
    assert "2030-05-05" in type_date(46146.0, "expiry").problem


def test_a_month_is_no_day_where_a_day_is_needed() -> None:
    assert type_date("03/2027", "date").value is None
    assert type_date("03/2027", "made").value == date(2027, 3, 1)
    assert type_date("03/2027", "expiry", month_first_day=True).value == date(2027, 3, 1)
    assert type_date("03/2027", "expiry").month_only


@pytest.mark.parametrize(
    ("value", "number"),
    [
        (72.0, 72),
        ("72", 72),
        (" 72 ", 72),
        ("10 000", 10000),
        ("10\u00a0000", 10000),
        ("1,5", 1.5),
        ("0.5", 0.5),
        ("1,234,567", 1234567),
    ],
)
def test_reads_a_number_that_has_one_reading(value: Any, number: float) -> None:
    assert type_number(value).value == number


@pytest.mark.parametrize(
    "value", ["1,500", "about 6", "6 pcs", "six", "", "1.2.3", True, date(2027, 1, 1), "inf", "nan"]
)
def test_does_not_guess_a_number(value: Any) -> None:
    assert type_number(value).value is None


@pytest.mark.parametrize(
    ("value", "content"),
    [("500 mL", (500, "mL")), ("500ml", (500, "mL")), (500.0, (500, None)), ("2400 kcal", (2400, "kcal"))],
)
def test_reads_a_content_with_or_without_its_unit(value: Any, content: tuple[float, str | None]) -> None:
    assert type_content(value).value == content


@pytest.mark.parametrize("value", ["500 blobs", "a lot", "500 mL x 72"])
def test_does_not_guess_a_content(value: str) -> None:
    assert type_content(value).value is None


@pytest.mark.parametrize(
    ("key", "column", "value", "typed"),
    [
        ("craft", "side", "STBD", "starboard"),
        ("craft", "kind", "Free fall lifeboat", "free-fall lifeboat"),
        ("craft", "sart_stowed", True, "yes"),
        ("craft", "sart_stowed", 1.0, "yes"),
        ("craft", "name", 3.0, "3"),
        ("ship", "imo_number", 3100019.0, "3100019"),
        ("ship", "imo_number", "IMO No. 3100019", "3100019"),
        ("ship", "rule_set", "46 CFR", "us"),
        ("inventory", "unit", "Litres", "L"),
        ("inventory", "condition", "To be landed", "awaiting landing"),
    ],
)
def test_knows_the_other_names_of_a_word(key: str, column: str, value: Any, typed: str) -> None:
    assert type_cell(value, sheet(key).column(column)).value == typed


def test_a_cell_of_spaces_is_empty() -> None:
    assert type_cell("   ", sheet("craft").column("side")).value is None
    assert type_cell("   ", sheet("craft").column("side")).problem == ""


def test_a_cell_reads_as_a_person_sees_it() -> None:
    assert [as_text(value) for value in (25.0, 2.5, True, "a\n b ")] == ["25", "2.5", "yes", "a b"]


@pytest.mark.parametrize(
    "word", ["N/A", "n/a", "-", "--", "none", "NIL", "no expiry", "Permanent", "unlimited", "not applicable"]
)
@pytest.mark.parametrize(("key", "column"), [("craft", "serviced"), ("inventory", "expires"), ("inventory", "made")])
def test_a_word_for_no_date_is_an_empty_cell(key: str, column: str, word: str) -> None:
    assert type_cell(word, sheet(key).column(column)) == Typed()


@pytest.mark.parametrize("word", ["tbc", "?", "see label", "none 2027", "n"])
def test_a_word_that_leaves_the_date_open_is_no_empty_cell(word: str) -> None:
    assert type_cell(word, sheet("inventory").column("expires")).problem


@pytest.mark.parametrize(
    ("key", "column", "text", "number"),
    [
        ("craft", "stowage_height_m", "14 m", 14),
        ("craft", "mass_kg", "170kg", 170),
        ("ship", "length_m", "98 metres", 98),
        ("craft", "persons", "25 persons", 25),
        ("fire", "quantity", "6 pcs", 6),
    ],
)
def test_a_number_may_have_its_unit_behind_it(key: str, column: str, text: str, number: float) -> None:
    assert type_cell(text, sheet(key).column(column)).value == number


@pytest.mark.parametrize(
    ("key", "column", "text"),
    [
        ("craft", "stowage_height_m", "46 ft"),
        ("craft", "mass_kg", "170 m"),
        ("ship", "gross_tonnage", "5200 kg"),
        ("fire", "quantity", "6 L"),
        ("fire", "quantity", "2.5 pcs"),
    ],
)
def test_a_number_with_another_unit_behind_it_is_not_read(key: str, column: str, text: str) -> None:
    typed = type_cell(text, sheet(key).column(column))
    assert typed.value is None
    assert typed.problem
