"""The best muster list: against every list of small crews, and constraint by constraint on large random ones."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planning.muster_problems import displaced_faults, every_list, faults, random_muster
from workbook_tools.core.muster import (
    CHARGE,
    COMMAND,
    ENGINE,
    HANDS,
    PARTIES,
    PLACE,
    QUALIFIED,
    SECOND,
    SHOWN,
    Boat,
    Hand,
    List,
    Muster,
    score,
    usable,
)
from workbook_tools.planning.muster_program import best_list, displaced


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 3), st.integers(1, 2), st.integers(0, 1))
def test_no_list_of_a_small_crew_is_better(seed: int, persons: int, crafts: int, unlisted: int) -> None:
    """Source: every list there is, counted through."""
    muster = random_muster(seed, persons, crafts, (1, 3), unlisted)
    found = best_list(muster)
    assert faults(muster, found) == []
    assert score(muster, found).order == min(score(muster, other).order for other in every_list(muster))


@pytest.mark.parametrize("seed", range(4))
def test_a_crew_of_four_in_three_craft_against_every_list(seed: int) -> None:
    muster = random_muster(seed, 4, 3, (1, 2))
    found = best_list(muster)
    assert score(muster, found).order == min(score(muster, other).order for other in every_list(muster))


@pytest.mark.parametrize(("seed", "persons", "crafts"), [(1, 60, 6), (2, 90, 10), (3, 40, 12)])
def test_every_constraint_holds_on_a_large_random_ship(seed: int, persons: int, crafts: int) -> None:
    muster = random_muster(seed, persons, crafts, (6, 20), unlisted=7)
    found = best_list(muster)
    assert faults(muster, found) == []
    room = sum(boat.room for boat in muster.boats)
    everybody = persons + 7
    # a place is what is asked first, so nobody is left out while there is room
    assert score(muster, found).lacks[PLACE] == max(0, everybody - room)
    for side in ("port", "starboard"):
        assert displaced_faults(muster, found, side, displaced(muster, found, side)) == []


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 12), st.integers(1, 5))
def test_when_a_side_is_lost_nobody_is_left_out_while_there_is_room(seed: int, persons: int, crafts: int) -> None:
    muster = random_muster(seed, persons, crafts, (1, 6), unlisted=seed % 3)
    found = best_list(muster)
    for side in ("port", "starboard"):
        assert displaced_faults(muster, found, side, displaced(muster, found, side)) == []


# ---- one demand a time -------------------------------------------------------------------------------------------

PORT, STARBOARD = frozenset({"port"}), frozenset({"starboard"})
BOAT = Boat("Boat", 4, engine=False)


def led(**more: object) -> Hand:
    return Hand(leads="sure", fit="sure", **more)  # type: ignore[arg-type]  # fields of a hand


def crew(**more: object) -> Hand:
    return Hand(leads="no", fit="sure", **more)  # type: ignore[arg-type]  # fields of a hand


def lacks_of(muster: Muster) -> dict[int, int]:
    return {level: number for level, number in enumerate(score(muster, best_list(muster)).lacks) if number}


def test_a_list_in_order_is_left_as_it_is() -> None:
    hands = (led(craft=0, role=CHARGE), led(craft=0, role=SECOND), crew(craft=0), crew(craft=0))
    muster = Muster(hands, (BOAT,))
    assert best_list(muster) == List((0,) * 4, (CHARGE, SECOND, "", ""), (0,))


def test_one_too_many_moves_one() -> None:
    first = (led(craft=0, role=CHARGE), led(craft=0, role=SECOND), crew(craft=0), crew(craft=0), crew(craft=0))
    second = (led(craft=1, role=CHARGE), led(craft=1, role=SECOND))
    muster = Muster((*first, *second), (BOAT, BOAT))
    found = score(muster, best_list(muster))
    assert (found.lacks, found.moved, found.duties) == ((0,) * 6, 1, 0)


def test_the_qualified_person_takes_charge_from_the_one_who_is_not() -> None:
    muster = Muster((crew(craft=0, role=CHARGE), led(craft=0, role=SECOND), crew(craft=0)), (BOAT,))
    found = best_list(muster)
    assert found.role[1] == CHARGE
    assert score(muster, found).lacks == (0,) * 6


@pytest.mark.parametrize(
    ("muster", "level", "number"),
    [
        (Muster((led(),) * 6, (BOAT,)), PLACE, 2),
        (Muster((led(),) * 3, (BOAT,), unlisted=3), PLACE, 2),
        (Muster((Hand(free=False),), (BOAT,)), COMMAND, 1),
        (Muster((led(),), (BOAT,)), QUALIFIED, 1),
        (Muster((crew(), crew()), (BOAT,)), QUALIFIED, 1),
        (Muster((led(), led()), (Boat("Boat", 4, engine=False, by_complement=((1, 2),)),)), QUALIFIED, 2),
        (Muster((Hand(leads="perhaps"), Hand(leads="perhaps")), (BOAT,)), SHOWN, 1),
        (Muster((led(), led()), (Boat("Boat", 4),)), HANDS, 1),
        (Muster((led(), led()), (Boat("Boat", 4, engine=False, radio=True),)), HANDS, 1),
        (Muster((Hand(leads="sure", fit="no"), led()), (BOAT,)), HANDS, 1),
    ],
)
def test_what_cannot_be_met_is_told_by_its_level(muster: Muster, level: int, number: int) -> None:
    assert lacks_of(muster)[level] == number


def test_a_raft_in_the_charge_of_a_practised_person_is_not_shown_rather_than_wrong() -> None:
    muster = Muster((crew(),), (Boat("Raft", 4, lifeboat=False, second=False, engine=False),))
    assert lacks_of(muster) == {SHOWN: 1}


def test_a_party_is_kept_in_its_craft() -> None:
    boats = (Boat("One", 3, engine=False), Boat("Two", 6, engine=False))
    leaders = (
        led(craft=0, role=CHARGE),
        led(craft=0, role=SECOND),
        led(craft=1, role=CHARGE),
        led(craft=1, role=SECOND),
    )
    launchers = (crew(craft=0, party="launching"), crew(craft=0, party="fire"))
    muster = Muster((*leaders, *launchers), boats)
    found = best_list(muster)
    # somebody must leave craft 1: whoever it is, one of the two parties is parted from it, unless a leader goes
    assert score(muster, found).lacks[PARTIES] == 0
    assert score(muster, found).moved == 1


def test_an_engineer_is_taken_for_the_engine() -> None:
    muster = Muster((led(), led(), crew(), crew(engineer=True)), (Boat("Boat", 4),))
    assert best_list(muster).role[3] == ENGINE


def test_those_who_had_no_craft_are_spread_evenly_over_the_boats_and_not_into_rafts() -> None:
    boats = (BOAT, BOAT, Boat("Raft", 9, lifeboat=False, second=False, engine=False))
    found = best_list(Muster((led(),) * 6, boats))
    assert [len(found.in_craft(number)) for number in range(3)] == [3, 3, 0]


def test_when_the_port_side_is_lost_its_crew_goes_over_with_a_leader() -> None:
    boats = (
        Boat("Port boat", 3, engine=False, sides=PORT),
        Boat("Starboard boat", 3, engine=False, sides=STARBOARD),
        Boat("Starboard raft", 3, lifeboat=False, second=False, engine=False, sides=STARBOARD),
    )
    hands = (
        *(led(craft=0, role=CHARGE), led(craft=0, role=SECOND), crew(craft=0)),
        *(led(craft=1, role=CHARGE), led(craft=1, role=SECOND), crew(craft=1)),
    )
    muster = Muster(hands, boats)
    found = best_list(muster)
    lost = displaced(muster, found, "starboard")
    assert dict(lost.moves) == {0: 2, 1: 2, 2: 2}
    assert (lost.unplaced, lost.leaderless) == (0, ())
    assert displaced(muster, found, "port").unplaced == 3
    assert usable(boats, "starboard") == [1, 2]


def test_a_raft_that_fills_with_nobody_qualified_is_told() -> None:
    raft = Boat("Raft", 3, lifeboat=False, second=False, engine=False, sides=STARBOARD)
    muster = Muster((crew(craft=0), crew(craft=0)), (Boat("Boat", 3, engine=False, sides=PORT), raft))
    assert displaced(muster, List((0, 0), ("", ""), (0, 0)), "starboard").leaderless == (1,)
