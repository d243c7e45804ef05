"""Dates: what a column proves decides, and nothing else."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from workbook_tools.adopt.days import DAY_FIRST, MONTH_FIRST, MONTH_YEAR, ORDERS, YEAR_MONTH, prove, prove_short, read

DAYS = st.dates(date(2001, 1, 1), date(2040, 12, 31))
FORMS = {DAY_FIRST: "%d/%m/%Y", MONTH_FIRST: "%m/%d/%Y"}


def column(*texts: str) -> list[tuple[str, object]]:
    return [(f"C{number}", text) for number, text in enumerate(texts, start=5)]


def test_an_ambiguous_date_is_not_read_without_an_order() -> None:
    day = read("03/04/2026", "expiry")
    assert day.value is None
    assert "2026-04-03 or as 2026-03-04" in day.problem


@pytest.mark.parametrize(
    ("texts", "order"),
    [
        (("03/04/2026", "25/03/2026"), DAY_FIRST),
        (("03/04/2026", "03/25/2026"), MONTH_FIRST),
        (("03/04/2026", "05/06/2026"), ""),
        (("25/03/2026", "03/25/2026"), ""),
        (("05/05/2026",), ""),
        (("25/03/26",), ""),  # the 25th, or the year 2025
        (("25/03/26", "01/02/32"), DAY_FIRST),
    ],
)
def test_a_column_proves_an_order_or_none(texts: tuple[str, ...], order: str) -> None:
    assert prove(column(*texts)).order == order


def test_the_proof_names_its_cell() -> None:
    assert prove(column("03/04/2026", "25/03/2026")).words() == "'25/03/2026' in C6 can only be read day first"


def test_a_contradiction_is_named_and_proves_nothing() -> None:
    proof = prove(column("25/03/2026", "03/25/2026"))
    assert (proof.order, proof.against) == ("", "'03/25/2026' in C6")


@pytest.mark.parametrize(
    ("texts", "order"),
    [(("03/27", "11/26"), MONTH_YEAR), (("27/03",), YEAR_MONTH), (("03/04", "05/06"), ""), (("03/27", "27/03"), "")],
)
def test_short_months_are_proved_alike(texts: tuple[str, ...], order: str) -> None:
    assert prove_short(column(*texts)).order == order


@given(st.sampled_from(list(FORMS)), st.lists(DAYS, min_size=1, max_size=8))
def test_a_proved_order_is_the_one_it_was_written_in(order: str, days: list[date]) -> None:
    texts = [day.strftime(FORMS[order]) for day in days]
    proof = prove(column(*texts))
    assert proof.order in ("", order)
    if proof.order:
        assert [read(text, "expiry", proof.order).value for text in texts] == days


@given(DAYS, st.sampled_from(ORDERS))
def test_what_can_be_read_in_one_way_is_read_so_whatever_the_order(day: date, order: str) -> None:
    assume(day.day > 12)
    assert read(day.strftime("%d/%m/%Y"), "expiry", order).value == day
    assert read(day.strftime("%m/%d/%Y"), "expiry", order).value == day


@given(DAYS)
def test_nothing_ambiguous_is_read_when_nothing_is_proved(day: date) -> None:
    assume(day.day <= 12 and day.day != day.month)
    assert read(day.strftime("%d/%m/%Y"), "date").value is None


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("31.03.2028", date(2028, 3, 31)),
        ("Okt 2027", date(2027, 10, 31)),
        ("Mär 2028", date(2028, 3, 31)),
        ("dic 2027", date(2027, 12, 31)),
        ("15 de agosto de 2027", date(2027, 8, 15)),
        ("7. Mai 2027", date(2027, 5, 7)),
        ("31 Agustus 2028", date(2028, 8, 31)),
        ("févr. 2028", date(2028, 2, 29)),
    ],
)
def test_months_are_known_in_other_languages(text: str, day: date) -> None:
    assert read(text, "expiry").value == day


def test_a_real_date_is_taken_as_it_is() -> None:
    assert read(datetime(2026, 3, 4), "expiry", MONTH_FIRST).value == date(2026, 3, 4)


def test_a_month_stands_for_its_first_day_where_that_is_asked() -> None:
    assert read("03/27", "expiry", short=MONTH_YEAR, month_first_day=True).value == date(2027, 3, 1)
