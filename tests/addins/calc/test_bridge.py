"""What passes between Calc and the cell functions, without an office."""

from __future__ import annotations

import math
import struct
from typing import Any

import pytest

from tests.cells.case_table import Case, cases
from workbook_tools.addins.calc.office import bridge
from workbook_tools.cells import FUNCTIONS
from workbook_tools.cells.registry import NOT_AVAILABLE, NUMBER_ERROR, VALUE_ERROR, Argument, Function

LOOK = FUNCTIONS["LSA_TPA"]
STATUS = FUNCTIONS["LSA_STATUS"]
NEXT_DUE = FUNCTIONS["LSA_NEXT_DUE"]
FULL_COLUMN = 1_048_576


def _code(number: object) -> int:
    assert isinstance(number, float)
    assert math.isnan(number)
    (bits,) = struct.unpack("<Q", struct.pack("<d", number))
    return int(bits) & 0xFFFF_FFFF


@pytest.mark.parametrize(("kind", "code"), [(VALUE_ERROR, 519), (NOT_AVAILABLE, 0x7FFF), (NUMBER_ERROR, 503)])
def test_an_error_is_a_nan_that_carries_calcs_own_number(kind: str, code: int) -> None:
    # Calc's errors by number: include/formula/errorcodes.hxx of its source
    assert _code(bridge.error_number(kind)) == code


def test_a_single_value_goes_back_as_it_is() -> None:
    assert bridge.call(LOOK, [36.0]) == 4.0
    assert bridge.call(STATUS, [46387.0, 46351.0]) == "in date"


def test_a_bad_argument_shows_the_error_of_the_neutral_layer() -> None:
    assert _code(bridge.call(LOOK, ["many"])) == 519


def test_a_bad_cell_of_a_range_of_numbers_leaves_the_others_standing() -> None:
    answer = bridge.call(LOOK, [((36.0,), ("many",), ("",))])
    assert isinstance(answer, bridge.Answer)
    assert answer.type == "[][]any"
    (first,), (second,), (third,) = answer.rows
    assert (first, third) == (4.0, "")
    assert _code(second) == 519


def test_a_table_of_texts_holds_nothing_but_texts() -> None:
    # in a table of mixed type Calc's own comparisons with a text would all be false
    answer = bridge.call(STATUS, [((46387.0,), ("no day",), ("",)), 46351.0])
    assert answer == bridge.Answer("[][]string", (("in date",), ("#VALUE!",), ("",)))
    assert isinstance(answer, bridge.Answer)
    assert {type(cell) for row in answer.rows for cell in row} == {str}


@pytest.mark.parametrize("case", [case for case in cases() if isinstance(case.expected, tuple)], ids=lambda c: c.name)
def test_no_table_mixes_texts_with_numbers(case: Case) -> None:
    answer = bridge.call(FUNCTIONS[case.function], list(case.arguments))
    assert isinstance(answer, bridge.Answer)
    cells = [cell for row in answer.rows for cell in row]
    assert all(isinstance(cell, str) for cell in cells) or not any(isinstance(cell, str) and cell for cell in cells)


def test_a_fault_of_ours_is_an_error_in_the_cell_and_no_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: Any) -> float:
        raise ZeroDivisionError

    monkeypatch.setattr(bridge, "evaluate", broken)
    assert _code(bridge.call(LOOK, [36.0])) == 519


def test_no_result_is_a_truth_value(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bridge, "evaluate", lambda *_: True)
    assert type(bridge.call(LOOK, [36.0])) is float


def _arguments_seen(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """A list that will hold the arguments of the next call."""
    seen: list[Any] = []

    def evaluate(_: str, values: list[Any]) -> float:
        seen.extend(values)
        return 0.0

    monkeypatch.setattr(bridge, "evaluate", evaluate)
    return seen


def test_whole_columns_are_cut_below_the_last_row_that_any_of_them_fills(monkeypatch: pytest.MonkeyPatch) -> None:
    given = _arguments_seen(monkeypatch)
    short = ((1.0,), *[("",)] * (FULL_COLUMN - 1))
    long = ((1.0,), ("",), (3.0,), *[("",)] * (FULL_COLUMN - 3))
    bridge.call(LOOK, [short, long])
    assert given == [((1.0,), ("",), ("",)), ((1.0,), ("",), (3.0,))]


def test_an_empty_whole_column_keeps_one_row(monkeypatch: pytest.MonkeyPatch) -> None:
    given = _arguments_seen(monkeypatch)
    bridge.call(LOOK, [(("",),) * FULL_COLUMN])
    assert given == [(("",),)]


def test_a_document_that_counts_from_1904_gets_the_same_day() -> None:
    # 31 January 2026 is day 46053 of the 1900 system, and 1462 days less in that of 1904; EDATE gives 28 February.
    days = 1462
    assert bridge.call(NEXT_DUE, [46053.0, "1M"]) == 46081.0
    assert bridge.call(NEXT_DUE, [46053.0 - days, "1M"], days) == 46081.0 - days
    in_a_range = bridge.call(NEXT_DUE, [((46053.0 - days,), ("",)), "1M"], days)
    assert in_a_range == bridge.Answer("[][]any", ((46081.0 - days,), ("",)))


def test_a_blank_date_stays_blank_and_a_year_stays_a_year_in_a_document_that_counts_from_1904() -> None:
    assert bridge.call(NEXT_DUE, [0.0, "1M"], 1462) == ""
    assert _code(bridge.call(NEXT_DUE, [2026.0, "1M"], 1462)) == 519


def test_only_functions_with_dates_ask_for_the_document() -> None:
    number = Argument("n", "", "number")
    assert not bridge.takes_dates(Function("F", "", (number,), "number", float, (), ""))
    assert bridge.takes_dates(Function("F", "", (number,), "date", float, (), ""))
    assert bridge.takes_dates(Function("F", "", (Argument("d", "", "date"),), "number", float, (), ""))
