"""What one record says beside another: lighted lifebuoys, demands on stock, suits by size."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.core.ship_level import judge, lighted, lighted_at_best, size_name, sizes_short


@pytest.mark.parametrize(
    ("sure", "at_best", "least", "most", "state"),
    [
        (4, 4, 4, 4, "passed"),
        (3, 3, 4, 4, "finding"),
        (3, 4, 4, 4, "not_evaluated"),
        (2, 2, 2, 4, "not_evaluated"),
        (1, 1, 2, 4, "finding"),
        (0, 0, 0, 6, "not_evaluated"),
    ],
)
def test_only_what_is_sure_passes_and_only_what_cannot_be_enough_is_short(
    sure: float, at_best: float, least: float, most: float, state: str
) -> None:
    assert judge(sure, at_best, least, most) == state


@pytest.mark.parametrize(
    ("buoys", "lights", "dead", "least", "most"),
    [
        (4, 0, 0, 4, 4),  # by kind only
        (0, 4, 0, 4, 4),  # by dated units only
        (4, 4, 0, 4, 4),  # both: the same lights
        (4, 2, 0, 4, 6),  # two units recorded apart may belong to others
        (4, 2, 2, 2, 2),  # two of the four have expired
        (4, 4, 2, 4, 4),  # two old ones beside enough new ones
    ],
)
def test_either_record_of_a_light_is_enough_and_an_expired_unit_takes_a_buoy_out(
    buoys: float, lights: float, dead: float, least: float, most: float
) -> None:
    assert lighted(buoys, lights, dead) == least
    assert lighted_at_best(buoys, lights, dead) == most


@given(st.integers(0, 40), st.integers(0, 40), st.integers(0, 40))
def test_what_is_sure_is_never_more_than_what_is_possible(buoys: int, lights: int, dead: int) -> None:
    assert lighted(buoys, lights, dead) <= lighted_at_best(buoys, lights, dead)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("L", "L"),
        ("Large", "L"),
        ("x-large", "XL"),
        ("2XL", "XXL"),
        ("Adult universal", "universal"),
        ("one size", "universal"),
        ("190 cm", "190 cm"),
    ],
)
def test_a_size_has_several_names(text: str, size: str) -> None:
    assert size_name(text) == size


def test_universal_pieces_make_up_for_missing_sizes() -> None:
    assert sizes_short({"L": 3, "XL": 2}, {"L": 2, "XL": 1}, anyone=2) == {}
    assert sizes_short({"L": 3, "XL": 2}, {"L": 2, "XL": 1}, anyone=1) == {"L": 1, "XL": 1}
    assert sizes_short({"L": 3}, {"M": 9}, anyone=2) == {"L": 3}


SIZES = ("M", "L", "XL")


@given(st.lists(st.sampled_from(SIZES), max_size=5), st.lists(st.sampled_from((*SIZES, "any")), max_size=6))
def test_nobody_is_short_exactly_when_some_way_of_handing_out_fits_everyone(
    wearers: list[str], suits: list[str]
) -> None:
    fits = any(
        all(suit in (size, "any") for size, suit in zip(wearers, handed, strict=True))
        for handed in permutations(suits, len(wearers))
    )
    wanted = {size: wearers.count(size) for size in set(wearers)}
    held = {size: float(suits.count(size)) for size in SIZES}
    assert (sizes_short(wanted, held, suits.count("any")) == {}) == fits
