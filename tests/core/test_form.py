"""A figure of the form beside the rule and beside what is carried."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.core.form import BELOW_FORM, BELOW_RULE, compare

NUMBERS = st.integers(0, 500)


@pytest.mark.parametrize(
    ("figure", "rule", "carried", "found"),
    [
        (8, 8, 8, []),
        (7, 8, 8, [BELOW_RULE]),
        (8, 8, 7, [BELOW_FORM]),
        (9, 8, 8, [BELOW_FORM]),
        (8, 10, 7, [BELOW_RULE, BELOW_FORM]),
        (8, None, 8, []),
        (8, 8, None, []),
        (8, None, float("inf"), []),
        (0, None, 0, []),
    ],
)
def test_a_form_is_compared_with_rule_and_stock(
    figure: float, rule: float | None, carried: float | None, found: list[str]
) -> None:
    assert compare(figure, rule, carried) == found


@given(NUMBERS, NUMBERS, NUMBERS)
def test_nothing_differs_where_rule_form_and_stock_rise_in_this_order(a: int, b: int, c: int) -> None:
    least, middle, most = sorted((a, b, c))
    assert compare(middle, least, most) == []


@given(NUMBERS, st.none() | NUMBERS)
def test_more_on_board_never_makes_a_difference(figure: int, rule: int | None) -> None:
    assert BELOW_FORM not in compare(figure, rule, figure + 1)
