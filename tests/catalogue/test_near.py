"""Close words are those that difflib finds, in its order."""

from __future__ import annotations

import difflib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from workbook_tools import catalogue
from workbook_tools.catalogue.near import Words, close_words

LETTERS = st.text(alphabet="abcde é\u0100", max_size=12)


@given(LETTERS, st.lists(LETTERS, max_size=12), st.integers(1, 3), st.sampled_from([0.0, 0.6, 0.75, 0.8, 1.0]))
@example("a" * 40, ["a" * 39, "a" * 20, "b" * 40], 3, 0.6)
@example("a" * 600, ["a" * 590, "b"], 1, 0.75)
def test_close_words_are_those_of_difflib(word: str, words: list[str], n: int, cutoff: float) -> None:
    assert close_words(word, words, n, cutoff) == difflib.get_close_matches(word, words, n, cutoff)


@pytest.mark.parametrize(
    "word", ["hand flar", "lifebouy", "tin openner", "immersion siut", "x", "", "therml protective ad"]
)
def test_a_slip_in_an_item_is_found_as_difflib_finds_it(word: str) -> None:
    names = [
        catalogue.normalise(name) for item in catalogue.items().values() for name in (item.name, *item.other_names)
    ]
    assert Words(names).close(word, cutoff=0.75) == difflib.get_close_matches(word, names, 1, 0.75)
