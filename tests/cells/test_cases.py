"""The table of cases through the neutral layer, and the table itself."""

from __future__ import annotations

import json

import pytest

from tests.cells import make_cases
from tests.cells.calls import outcome
from tests.cells.case_table import FILE, agrees, cases
from workbook_tools.cells import FUNCTIONS


@pytest.mark.parametrize("function", sorted(FUNCTIONS))
def test_every_case_of_a_function_gives_its_value_or_error(function: str) -> None:
    wrong = []
    for case in cases():
        if case.function == function:
            value, error = outcome(case.function, *case.arguments)
            if error != case.error or (not error and not agrees(value, case.expected)):
                wrong.append(f"{case.name}: {value!r} {error}, not {case.expected!r} {case.error} ({case.source})")
    assert not wrong


def test_the_table_is_what_its_maker_writes() -> None:
    assert FILE.read_text(encoding="utf-8") == make_cases.text(), "run: python -m tests.cells.make_cases"


def test_there_are_thousands_of_cases_and_each_names_its_source() -> None:
    assert len(cases()) > 4000
    assert all(case.source for case in cases())


@pytest.mark.parametrize("function", sorted(FUNCTIONS))
def test_every_function_has_a_value_a_blank_and_an_error_among_the_cases(function: str) -> None:
    own = [case for case in cases() if case.function == function]
    assert any(not case.error and case.expected != "" for case in own)
    assert any(not case.error and case.expected == "" for case in own)
    assert any(case.error for case in own)


def test_every_kind_of_error_stands_among_the_cases() -> None:
    assert {case.error for case in cases()} == {"", "#VALUE!", "#N/A", "#NUM!"}


def test_a_changed_figure_is_noticed() -> None:
    case = next(case for case in cases() if case.function == "LSA_TPA" and case.expected == 3.0)
    assert not agrees(outcome(case.function, *case.arguments)[0], 4.0)


def test_json_holds_the_arguments_as_a_host_hands_them_over() -> None:
    case = next(case for case in cases() if case.function == "LSA_TPA" and isinstance(case.arguments[0], tuple))
    assert all(isinstance(cell, float | None) for row in case.arguments[0] for cell in row)
    assert json.dumps(case.arguments)
