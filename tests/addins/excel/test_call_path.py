"""The table of cases through xlwings' own registration, conversion and call path, over stand-ins for COM.

This is not Excel: what Excel hands over is imitated (floats, None, tuples of tuples, missing, dates, error numbers).
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest

from tests.addins.excel.excel import ERROR_NUMBERS, Excel, as_literal, as_range, as_vba_gets_it, same
from tests.cells.case_table import Case, cases
from workbook_tools.addins.excel.standins import MISSING, ExcelRange
from workbook_tools.cells import FUNCTIONS


@pytest.mark.parametrize("form", [as_range, as_literal], ids=["cells", "literals"])
@pytest.mark.parametrize("function", sorted(FUNCTIONS))
def test_every_case_gives_its_value_or_error(excel: Excel, function: str, form: Callable[[Any], Any]) -> None:
    wrong = []
    for case in cases():
        if case.function == function and not (form is as_literal and _leaves_out_what_is_needed(case)):
            got = excel.call(function, *map(form, case.arguments))
            expected = case.error or as_vba_gets_it(case.expected)
            if not same(got, expected):
                wrong.append(f"{case.name}: {got!r}, not {expected!r} ({case.source})")
    assert not wrong


def _leaves_out_what_is_needed(case: Case) -> bool:
    """Excel itself refuses a formula that leaves out an argument that is needed."""
    arguments = FUNCTIONS[case.function].arguments
    return any(
        value is None and not argument.optional for value, argument in zip(case.arguments, arguments, strict=False)
    )


def test_a_date_cell_arrives_as_a_date_with_a_time_zone(excel: Excel) -> None:
    expiry = ExcelRange(datetime(2026, 12, 31, tzinfo=UTC))
    assert excel.call("LSA_DAYS_LEFT", expiry, 46351.0) == 36.0
    column = ExcelRange(((datetime(2026, 12, 31),), (None,), (datetime(2026, 11, 20),)))
    assert excel.call("LSA_STATUS", column, datetime(2026, 11, 25)) == [["in date"], [""], ["expired"]]


def test_a_cell_of_the_currency_kind_arrives_as_a_decimal(excel: Excel) -> None:
    assert excel.call("LSA_TPA", ExcelRange(Decimal("21"))) == 3.0


def test_a_whole_number_from_vba_serves_as_one_from_a_cell(excel: Excel) -> None:
    assert excel.call("LSA_TPA", 21) == 3.0
    assert excel.call("LSA_IMO_OK", 9074729) == 1.0


@pytest.mark.parametrize(("text", "number"), ERROR_NUMBERS.items())
def test_an_error_cell_passes_through(excel: Excel, text: str, number: int) -> None:
    expected = text if text in ("#N/A", "#NUM!") else "#VALUE!"
    assert excel.call("LSA_TPA", ExcelRange(number)) == expected
    assert excel.call("LSA_TPA", ExcelRange(((6.0,), (number,)))) == [[2.0], [expected]]
    assert excel.call("LSA_COVER_PCT", 25.0, ExcelRange(((20.0,), (number,)))) == expected


def test_a_newer_error_of_excel_is_a_bad_argument(excel: Excel) -> None:
    spill, calc = -2146826231, -2146826238
    assert excel.call("LSA_COVER_PCT", 25.0, ExcelRange(((20.0,), (spill,)))) == "#VALUE!"
    assert excel.call("LSA_TPA", ExcelRange(calc)) == "#VALUE!"


def test_arguments_left_out_take_their_defaults(excel: Excel) -> None:
    assert excel.call("LSA_REQUIRED", "hand flare", "liferaft", 25.0, MISSING, MISSING) == 6.0
    assert excel.call("LSA_RATION_DAYS", 9.0, 6.0, MISSING, 0.0) == 3.0


def test_a_number_where_a_text_is_asked_is_the_number_as_shown(excel: Excel) -> None:
    assert excel.call("LSA_IMO_OK", 9074729.0) == 1.0
    assert excel.call("LSA_REQUIRED", "hand flare", "liferaft", 25.0, 25.0) == "#VALUE!"


def test_a_whole_column_is_cut_at_its_last_filled_row(excel: Excel) -> None:
    column = ((6.0,), (21.0,), *((None,),) * 65_534)
    assert excel.call("LSA_TPA", ExcelRange(column)) == [[2.0], [3.0]]


def test_a_list_fills_rows_and_columns(excel: Excel) -> None:
    table = excel.call("LSA_ITEMS", "liferaft", "B")
    assert len(table) > 20
    assert {len(row) for row in table} == {3}
    assert all(type(cell) is str for row in table for cell in row)
