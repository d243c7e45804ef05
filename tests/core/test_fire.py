"""Spare charges, hoses, outfits, and from when an extinguisher's tests count."""

from datetime import date

import pytest

from workbook_tools.core.fire import age_reached, hoses, passenger_outfits, spare_charges


@pytest.mark.parametrize(
    ("extinguishers", "charges"),
    [(0, 0), (1, 1), (10, 10), (11, 11), (12, 11), (13, 12), (20, 15), (109, 60), (110, 60), (111, 60), (500, 60)],
)
def test_all_of_the_first_ten_half_of_the_rest_and_sixty_at_most(extinguishers: int, charges: int) -> None:
    assert spare_charges(extinguishers, 10, 50, 60) == charges


@pytest.mark.parametrize(
    ("length", "least", "most"),
    [(58, 5, 5), (98, 5, 5), (120, 5, 5), (121, 5, 6), (150, 6, 6), (185, 7, 8), (210, 8, 8)],
)
def test_hoses_by_length_leave_part_lengths_open(length: float, least: float, most: float) -> None:
    assert hoses(length, 30, 1, 5) == (least, most)


@pytest.mark.parametrize(("length", "outfits"), [(1, 4), (80, 4), (80.1, 6), (160, 6), (161, 8)])
def test_a_pair_of_outfits_for_each_80_m_of_passenger_spaces_or_part_of_it(length: float, outfits: float) -> None:
    assert passenger_outfits(length, 2, 2, 80) == outfits


def test_only_the_year_is_marked_so_its_last_day_counts() -> None:
    assert age_reached(2021, 60) == date(2026, 12, 31)
    assert age_reached(2016, 120) == date(2026, 12, 31)
    assert age_reached(9999, 60) == date.max
