"""Ranges, blanks and errors, as hosts hand them over."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pytest

from tests.cells.calls import answer
from workbook_tools.cells import FUNCTIONS, CellError, ErrorCell, evaluate
from workbook_tools.cells.registry import Function
from workbook_tools.cells.spread import WHOLE_COLUMN_ROWS

COLUMN_HEIGHT = 1_048_576


def error_of(function: str, *arguments: Any) -> str:
    """The error that a call shows."""
    with pytest.raises(CellError) as caught:
        evaluate(function, arguments)
    assert caught.value.why
    return caught.value.kind


def test_a_whole_column_is_cut_at_its_last_filled_row() -> None:
    column = ((6.0,), (None,), (21.0,), *((None,),) * (COLUMN_HEIGHT - 3))
    assert answer("LSA_TPA", column) == ((2.0,), ("",), (3.0,))


def test_whole_columns_are_cut_together() -> None:
    rest = ((None,),) * (COLUMN_HEIGHT - 3)
    items = (("hand flare",), ("TPA",), (None,), *rest)
    persons = ((36.0,), (None,), (21.0,), *rest)
    assert answer("LSA_REQUIRED", items, "lifeboat", persons) == ((6.0,), ("",), ("",))


def test_a_whole_column_of_nothing_is_one_blank_cell() -> None:
    assert answer("LSA_TPA", ((None,),) * COLUMN_HEIGHT) == (("",),)


def test_a_whole_column_of_capacities_counts_what_is_filled() -> None:
    column = ((25.0,), (25.0,), *((None,),) * (COLUMN_HEIGHT - 2))
    assert answer("LSA_COVER_PCT", 25.0, column) == 200.0


def test_a_range_below_a_whole_column_keeps_its_height() -> None:
    table = answer("LSA_TPA", ((6.0,), *((None,),) * 99))
    assert len(table) == 100
    assert WHOLE_COLUMN_ROWS > 100


def test_a_whole_row_is_cut_at_its_last_filled_column() -> None:
    assert answer("LSA_TPA", ((6.0, 21.0, *(None,) * 16_382),)) == ((2.0, 3.0),)


def test_lists_and_flat_rows_serve_as_ranges() -> None:
    assert answer("LSA_TPA", [[6], [21]]) == ((2.0,), (3.0,))
    assert answer("LSA_TPA", [6, 21]) == ((2.0, 3.0),)
    assert answer("LSA_TPA", []) == (("",),)


def test_a_column_meets_a_row_in_a_table() -> None:
    table = answer("LSA_REQUIRED", (("hand flare",), ("smoke signal",)), "liferaft", 25.0, (("A", "B"),))
    assert table == ((6.0, 3.0), (2.0, 1.0))


def test_a_cell_beyond_the_shorter_range_is_not_available() -> None:
    table = answer("LSA_DAYS_LEFT", ((46387.0,), (46387.0,), (46387.0,)), ((46351.0,), (46350.0,)))
    assert table == ((36.0,), (37.0,), ("#N/A",))
    assert isinstance(table[2][0], ErrorCell)


def test_an_error_in_one_cell_leaves_the_others() -> None:
    table = answer("LSA_TPA", ((6.0,), ("x",), (True,)))
    assert table == ((2.0,), ("#VALUE!",), ("#VALUE!",))
    assert isinstance(table[1][0], ErrorCell)
    assert "x" in table[1][0].why


def test_a_table_function_takes_one_cell() -> None:
    assert answer("LSA_ITEMS", (("lifeboat",),)) == answer("LSA_ITEMS", "lifeboat")
    assert error_of("LSA_ITEMS", (("lifeboat",), ("liferaft",))) == "#VALUE!"


@pytest.mark.parametrize("function", FUNCTIONS.values(), ids=list(FUNCTIONS))
def test_no_argument_at_all_and_one_too_many_are_bad(function: Function) -> None:
    assert error_of(function.name) == "#VALUE!"
    assert error_of(function.name, *["x"] * (len(function.arguments) + 1)) == "#VALUE!"
    assert error_of(function.name, *[("x",)] * (len(function.arguments) + 1)) == "#VALUE!"


def test_an_unknown_function_is_not_available() -> None:
    assert error_of("LSA_NOTHING", 1) == "#N/A"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf"), True, False])
@pytest.mark.parametrize("function", ["LSA_TPA", "FFA_SPARE_CHARGES"])
def test_what_is_no_number_is_bad(function: str, value: object) -> None:
    assert error_of(function, value) in ("#VALUE!", "#NUM!")


@pytest.mark.parametrize("value", [date(2026, 12, 31), datetime(2026, 12, 31, 23, 59), 46387, 46387.0, "2026-12-31"])
def test_a_day_may_come_in_any_form(value: object) -> None:
    assert answer("LSA_DAYS_LEFT", value, 46351.0) == 36.0


def test_a_day_before_the_calendar_is_refused_in_any_form() -> None:
    assert error_of("LSA_DAYS_LEFT", date(1900, 2, 28), 46351.0) == "#NUM!"
    assert error_of("LSA_DAYS_LEFT", "1900-02-28", 46351.0) == "#NUM!"
    assert answer("LSA_DAYS_LEFT", "1900-03-01", 61.0) == 0.0


def test_an_error_of_the_program_is_a_bad_argument_never_a_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(persons: object) -> float:
        raise ZeroDivisionError("broken")

    monkeypatch.setitem(FUNCTIONS, "LSA_TPA", replace(FUNCTIONS["LSA_TPA"], call=broken))
    assert error_of("LSA_TPA", 6.0) == "#VALUE!"
