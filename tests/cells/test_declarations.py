"""What the declarations promise: the names and arguments agreed, texts that fit a wizard, examples that hold."""

from __future__ import annotations

import ast
import inspect
import re
from datetime import date
from typing import Any

import pytest

import workbook_tools.cells
from tests.cells.calls import answer
from tests.cells.case_table import agrees
from workbook_tools.cells import FUNCTIONS
from workbook_tools.cells.arguments import serial_of
from workbook_tools.cells.page import signature
from workbook_tools.cells.registry import Function

AGREED = (
    "LSA_REQUIRED(item, craft_type, persons, [pack], [option])",
    "LSA_SHORT(item, craft_type, persons, carried, [pack], [option])",
    "LSA_SOURCE(item, craft_type, [pack])",
    "LSA_ITEMS(craft_type, [pack])",
    "LSA_WATER_L(persons, craft_type, [pack], [option])",
    "LSA_FOOD_KJ(persons, craft_type, [pack])",
    "LSA_TPA(persons)",
    "LSA_PAINTER_M(stowage_height_m, craft_type)",
    "LSA_LIFEBUOYS(length_m, ship_type)",
    "LSA_STATUS(expiry, on_date, [warn_days])",
    "LSA_DAYS_LEFT(expiry, on_date)",
    "LSA_NEXT_DUE(last_done, interval)",
    "LSA_COVER_PCT(persons, capacities)",
    "LSA_COVER_WORST_PCT(persons, capacities, sides, [transferable])",
    "LSA_RATION_DAYS(litres, persons, [litres_per_day], [dry_days])",
    "LSA_RATION_PLAN(litres, persons, days, [litres_per_day], [dry_days])",
    "LSA_IMO_OK(imo_number)",
    "FFA_SPARE_CHARGES(extinguishers)",
)
LONGEST = 255  # characters of a wizard's text

EVERY = pytest.mark.parametrize("function", FUNCTIONS.values(), ids=list(FUNCTIONS))


@pytest.mark.parametrize("agreed", AGREED)
def test_a_function_has_the_name_and_arguments_agreed(agreed: str) -> None:
    assert signature(FUNCTIONS[agreed.partition("(")[0]]) == agreed


@EVERY
def test_a_function_is_a_plain_callable_of_the_package_with_the_same_arguments(function: Function) -> None:
    plain = getattr(workbook_tools.cells, function.name)
    parameters = inspect.signature(plain).parameters.values()
    assert [parameter.name for parameter in parameters] == [argument.name for argument in function.arguments]
    optional = [parameter.default is None for parameter in parameters]
    assert optional == [argument.optional for argument in function.arguments]
    assert function.name in workbook_tools.cells.__all__


@EVERY
def test_the_texts_fit_a_wizard_and_say_what_is_asked(function: Function) -> None:
    for text in (function.help, *(argument.help for argument in function.arguments)):
        assert 10 < len(text) <= LONGEST
    assert function.help.endswith(".")
    assert function.source
    assert function.category


@EVERY
def test_optional_arguments_come_last_and_say_what_stands_in_their_place(function: Function) -> None:
    optional = [argument.optional for argument in function.arguments]
    assert optional == sorted(optional)
    for argument in function.arguments:
        assert argument.kind in ("text", "number", "whole", "date", "numbers", "texts")
        assert not argument.optional or "Default: " in argument.help


@EVERY
def test_a_name_is_no_cell_reference_and_has_no_dot(function: Function) -> None:
    assert re.fullmatch(r"(LSA|FFA)(_[A-Z]+)+", function.name)


@EVERY
def test_the_examples_hold(function: Function) -> None:
    assert function.examples
    for formula, value in function.examples:
        assert agrees(_evaluated(formula.removeprefix("=")), value), formula


def _evaluated(formula: str) -> Any:
    """The value of an example: its calls are read as Python, arrays {a;b} as columns."""
    text = re.sub(r"\{([^}]*)\}", lambda found: "[" + ",".join(f"[{x}]" for x in found[1].split(";")) + "]", formula)
    return _value(ast.parse(text, mode="eval").body)


def _value(node: ast.expr) -> Any:
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        arguments = [_value(argument) for argument in node.args]
        if node.func.id == "DATE":
            return serial_of(date(*arguments))
        if node.func.id == "INDEX":
            return arguments[0][arguments[1] - 1][arguments[2] - 1]
        return answer(node.func.id, *arguments)
    return ast.literal_eval(node)


def test_named_arguments_may_be_given_by_name_in_python() -> None:
    from workbook_tools.cells import LSA_REQUIRED

    assert LSA_REQUIRED("hand flare", "liferaft", persons=25, pack="B") == 3.0
    with pytest.raises(TypeError, match="unexpected argument 'colour'"):
        LSA_REQUIRED("hand flare", "liferaft", 25, colour="red")
