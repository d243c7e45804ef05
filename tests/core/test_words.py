"""A number with its noun."""

import pytest

from workbook_tools.core.words import counted


@pytest.mark.parametrize(
    ("number", "nouns", "text"),
    [
        (0, ("book",), "0 books"),
        (1, ("book",), "1 book"),
        (1200, ("book",), "1,200 books"),
        (1, ("query", "queries"), "1 query"),
        (4, ("query", "queries"), "4 queries"),
        (2, ("action", "action"), "2 action"),
    ],
)
def test_a_number_stands_with_its_noun(number: int, nouns: tuple[str, ...], text: str) -> None:
    assert counted(number, *nouns) == text
