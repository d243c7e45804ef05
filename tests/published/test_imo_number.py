"""The check digit of the IMO ship identification number, and what it cannot catch.

Source: resolution A.1117(30), the IMO ship identification number scheme (the resolution's text not seen by us); the
worked example 9074729 is printed in many places. The counts of what goes uncaught are our own arithmetic.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.core.imo_number import imo_number_ok, read_imo_number

EXAMPLE = "9074729"

# Wrong digits that the scheme lets pass, for the example: position from the left, and the digit written by mistake.
# A weight of 7 or 3 shares no factor with 10 and catches all; 6, 4 and 2 miss a digit that is 5 off; 5 misses any digit
# that is an even number off.
UNCAUGHT = {(2, "5"), (3, "1"), (3, "3"), (3, "5"), (3, "9"), (4, "9"), (6, "7")}

SINGLE_ERRORS = [
    (position, digit) for position, right in enumerate(EXAMPLE, start=1) for digit in "0123456789" if digit != right
]


def _with(number: str, position: int, digit: str) -> str:
    return number[: position - 1] + digit + number[position:]


def _complete(first_six: str) -> str:
    """The valid number with these six digits, found by trying all ten."""
    (number,) = [first_six + digit for digit in "0123456789" if imo_number_ok(first_six + digit)]
    return number


def test_the_worked_example_is_right() -> None:
    assert 9 * 7 + 0 * 6 + 7 * 5 + 4 * 4 + 7 * 3 + 2 * 2 == 139
    assert imo_number_ok(EXAMPLE)


@pytest.mark.parametrize("text", ["9074729", "IMO 9074729", "IMO9074729", "imo no. 9074729", " IMO number 9074729 "])
def test_the_number_is_read_with_or_without_the_letters(text: str) -> None:
    assert read_imo_number(text) == EXAMPLE


@pytest.mark.parametrize(("position", "digit"), SINGLE_ERRORS)
def test_a_wrong_digit_of_the_example_is_caught_unless_the_scheme_cannot(position: int, digit: str) -> None:
    assert imo_number_ok(_with(EXAMPLE, position, digit)) is ((position, digit) in UNCAUGHT)


def test_56_of_the_63_wrong_digits_of_the_example_are_caught() -> None:
    # so the scheme does not catch every single wrong digit, and no message may say that it does
    assert (len(SINGLE_ERRORS), len(UNCAUGHT)) == (63, 7)


@given(st.from_regex(r"[0-9]{6}", fullmatch=True))
def test_every_number_has_7_wrong_digits_that_pass(first_six: str) -> None:
    number = _complete(first_six)
    passed = [
        position
        for position, right in enumerate(number, start=1)
        for digit in "0123456789"
        if digit != right and imo_number_ok(_with(number, position, digit))
    ]
    assert passed == [2, 3, 3, 3, 3, 4, 6]


@given(st.from_regex(r"[0-9]{6}", fullmatch=True))
def test_two_neighbouring_digits_changed_over_are_always_caught(first_six: str) -> None:
    number = _complete(first_six)
    for left in range(6):
        swapped = number[:left] + number[left + 1] + number[left] + number[left + 2 :]
        assert imo_number_ok(swapped) is (swapped == number)


@pytest.mark.parametrize("text", ["", "907472", "90747290", "907472X", "9O74729", "９０７４７２９"])
def test_anything_but_seven_plain_digits_is_no_number(text: str) -> None:
    assert not imo_number_ok(text)
