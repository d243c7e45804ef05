"""Places by side and after a loss: exact records, and records that leave something open."""

from __future__ import annotations

import math
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbook_tools.core.coverage import (
    BOTH,
    NEITHER,
    SIDES,
    Place,
    Range,
    after_any_loss,
    after_largest_loss,
    beyond_replaced,
    exact,
    left_out,
    on_side,
    rafts_to_marshal,
    scenarios,
    share_covered,
    together,
)

PORT, STARBOARD = frozenset({"port"}), frozenset({"starboard"})
FLEET = [
    exact("Boat P", 20, PORT),
    exact("Boat S", 16, STARBOARD),
    exact("Stern boat", 25, NEITHER),
    exact("Raft", 10, BOTH),
]


def test_a_craft_counts_on_the_sides_where_it_can_be_used() -> None:
    assert on_side(FLEET, "port") == Range(30, 30)
    assert on_side(FLEET, "starboard") == Range(26, 26)
    assert together(FLEET) == Range(71, 71)


def test_a_number_not_recorded_may_be_any() -> None:
    unknown = Place("Raft 2", 0, math.inf, PORT, PORT, "persons permitted of Raft 2 is not recorded")
    found = on_side([*FLEET, unknown], "port")
    assert (found.least, found.most, found.doubt) == (30, math.inf, unknown.doubt)
    assert on_side([*FLEET, unknown], "starboard").doubt == ""


def test_a_side_not_recorded_counts_on_neither_for_sure_and_on_both_perhaps() -> None:
    unknown = Place("Raft 2", 6, 6, NEITHER, BOTH, side_doubt="side of Raft 2 is not recorded")
    assert [(on_side([unknown], side).least, on_side([unknown], side).most) for side in SIDES] == [(0, 6), (0, 6)]
    assert together([unknown]) == Range(6, 6)


def test_the_loss_that_hurts_most_on_a_side_is_of_what_serves_it() -> None:
    loss = after_any_loss(FLEET, "starboard")
    assert (loss.lost, loss.places.most) == ("Boat S", 10)


def test_the_largest_craft_is_the_ships_and_not_the_sides() -> None:
    loss = after_largest_loss(FLEET, "starboard")
    assert (loss.lost, loss.places) == ("Stern boat", Range(26, 26))


def test_among_equally_large_craft_the_worse_one_is_lost() -> None:
    loss = after_largest_loss([exact("A", 6, PORT), exact("B", 6, STARBOARD)], "starboard")
    assert (loss.lost, loss.places.most) == ("B", 0)


def test_with_no_craft_there_is_nothing_to_lose() -> None:
    assert after_any_loss([], "port").lost is None
    assert after_largest_loss([], "port").places == Range(0, 0)
    assert [scenario.name for scenario in scenarios([], 3)] == [
        "all craft usable",
        "port side lost",
        "starboard side lost",
    ]


@pytest.mark.parametrize(
    ("name", "places", "lacking"),
    [
        ("all craft usable", 71, 0),
        ("port side lost", 26, 4),  # Boat S 16 + Raft 10
        ("starboard side lost", 30, 0),  # Boat P 20 + Raft 10
        ("Boat P lost", 51, 0),
        ("Boat S lost", 55, 0),
        ("Stern boat lost", 46, 0),
        ("Raft lost", 61, 0),
        ("largest craft lost", 46, 0),
    ],
)
def test_the_scenarios_of_thirty_persons(name: str, places: int, lacking: int) -> None:
    (scenario,) = [found for found in scenarios(FLEET, 30) if found.name == name]
    assert (scenario.places.least, scenario.places.most, scenario.left_out) == (places, places, lacking)


def test_who_is_left_out_is_said_for_sure_and_perhaps() -> None:
    unknown = Place("Raft 2", 0, math.inf, PORT, PORT, "?")
    (found,) = [found for found in scenarios([unknown], 4) if found.name == "starboard side lost"]
    assert (found.left_out, found.perhaps_left_out) == (0, 4)


@pytest.mark.parametrize(("persons", "places", "out"), [(25, 20, 5), (25, 25, 0), (25, 24.5, 1), (0, 0, 0)])
def test_left_out(persons: int, places: float, out: int) -> None:
    assert left_out(persons, places) == out


def test_nobody_to_carry_is_fully_covered() -> None:
    assert (share_covered(0, 0), share_covered(40, 15)) == (100, 37.5)


@pytest.mark.parametrize(("persons", "count"), [(-1, 0), (0, 0), (25, 1), (26, 2), (47, 3), (60, 3)])
def test_the_fewest_rafts_are_the_largest_ones(persons: int, count: int) -> None:
    assert rafts_to_marshal(persons, [10, 25, 12]) == count


def test_rafts_that_stand_for_boats_are_not_additional() -> None:
    # 50 asked on each side; 40 and 55 in the boats: ten rafts' places are used up, the surplus of a side helps nobody
    assert beyond_replaced(Range(60, 60), [Range(40, 40), Range(55, 55)], 50) == Range(50, 50)
    assert beyond_replaced(Range(5, 5), [Range(40, 40)], 50) == Range(0, 0)


# ---- a record that leaves something open holds every ship that it may mean ----------------------------------------

sides = st.sampled_from((PORT, STARBOARD, BOTH, NEITHER))
exact_places = st.lists(st.builds(exact, st.just("A"), st.integers(1, 4), sides), min_size=1, max_size=4)


@st.composite
def open_places(draw: st.DrawFn) -> list[Place]:
    found = []
    for number in range(draw(st.integers(1, 3))):
        most = draw(st.integers(0, 3))
        possible = draw(sides)
        found.append(
            Place(str(number), draw(st.integers(0, most)), most, draw(st.sampled_from((NEITHER, possible))), possible)
        )
    return found


def _meanings(place: Place) -> list[Place]:
    open_sides = sorted(place.possible_sides - place.sure_sides)
    return [
        exact(place.name, persons, place.sure_sides | frozenset(extra))
        for persons in range(int(place.least), int(place.most) + 1)
        for extra in ([name for name, take in zip(open_sides, taken, strict=True) if take]
                      for taken in product((False, True), repeat=len(open_sides)))
    ]  # fmt: skip


@given(open_places(), st.sampled_from(SIDES))
@settings(max_examples=60, deadline=None)
def test_every_meaning_lies_within_the_range(places: list[Place], side: str) -> None:
    for meaning in product(*map(_meanings, places)):
        for question in (on_side, _any_loss, _largest_loss):
            said, true = question(places, side), question(list(meaning), side)
            assert true.least == true.most
            assert said.least <= true.least <= said.most, question


def _any_loss(places: list[Place], side: str) -> Range:
    return after_any_loss(places, side).places


def _largest_loss(places: list[Place], side: str) -> Range:
    return after_largest_loss(places, side).places


@given(exact_places, st.sampled_from(SIDES), st.builds(exact, st.just("B"), st.integers(1, 4), sides))
def test_one_craft_more_never_takes_places_away(places: list[Place], side: str, more: Place) -> None:
    assert on_side([*places, more], side).least >= on_side(places, side).least
    assert after_any_loss([*places, more], side).places.least >= after_any_loss(places, side).places.least
