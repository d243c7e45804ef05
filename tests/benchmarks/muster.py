"""Seconds to propose a muster list, and how they grow with ship and crew. Run: python -m tests.benchmarks.muster

Three ships of each size: a list in order but for a few faults, as ships have it; a list that is any list at all, with
room to spare; and the same with hardly a place to spare, so that many must move. Each is set against the list in order
of the smallest ship, measured in the same run. Seconds are of the processor (the solver runs in one thread), so that a
busy machine changes little.
"""

from __future__ import annotations

import random
import time
from dataclasses import replace

from workbook_tools.core.muster import CHARGE, ENGINE, ROLES, SECOND, Boat, Hand, Muster, score
from workbook_tools.planning.muster_program import best_list, displaced

SIZES = ((25, 4), (50, 8), (100, 15), (200, 30))  # persons and craft
SIDES = (frozenset({"port"}), frozenset({"starboard"}))


def ordered(persons: int, crafts: int, spare: int, seed: int = 7) -> Muster:
    """A ship whose craft are led and manned, two of three of them lifeboats, with a fault in one line of twenty."""
    chance = random.Random(seed)
    boats = []
    for number in range(crafts):
        lifeboat = number % 3 != 2
        room = -(-persons // crafts) + spare
        steps = ((1, 2),) if lifeboat else ()
        boats.append(Boat(f"{number}", room, lifeboat, lifeboat, lifeboat, number % 5 == 0, steps, SIDES[number % 2]))
    hands = []
    for person in range(persons):
        craft, place = person % crafts, person // crafts
        boat = boats[craft]
        roles = [CHARGE, *([SECOND, ENGINE] if boat.lifeboat else [])]
        hand = Hand(
            leads="sure" if place < 2 else chance.choice(("perhaps", "no")),
            certificated=place < 3,
            fit="sure",
            engineer=place == 2,
            craft=craft,
            role=roles[place] if place < len(roles) else "",
            party=chance.choice(("", "launching", "fire", "doors")),
        )
        if chance.random() < 0.05:
            hand = replace(hand, role="") if hand.role else replace(hand, craft=None)
        hands.append(hand)
    return Muster(tuple(hands), tuple(boats))


def any_list(muster: Muster, seed: int = 7) -> Muster:
    """The same ship with a present list that is any list at all."""
    chance = random.Random(seed)
    crafts = range(len(muster.boats))
    hands = (
        replace(hand, craft=chance.choice((*crafts, None)), role=chance.choice(("", "", "", *ROLES)))
        for hand in muster.hands
    )
    return replace(muster, hands=tuple(hands))


def main() -> None:
    """Print a line for each size and kind of list."""
    first = 0.0
    best_list(ordered(4, 1, 1))  # the solver is loaded before anything is measured
    print(f"{'list':<22}{'persons':>8}{'craft':>6}{'seconds':>9}{'side lost':>10}{'ratio':>8}  lacks, moved, duties")
    for kind in ("in order", "any list, roomy", "any list, tight"):
        before: tuple[int, float] | None = None
        for persons, crafts in SIZES:
            muster = ordered(persons, crafts, 2 if "tight" in kind else 8)
            muster = muster if kind == "in order" else any_list(muster)
            start = time.process_time()
            found = best_list(muster)
            seconds = time.process_time() - start
            start = time.process_time()
            displaced(muster, found, "port")
            lost = time.process_time() - start
            first = first or seconds
            said = score(muster, found)
            grown = ""
            if before is not None:
                grown = f"  x {seconds / before[1]:.1f} for x {persons / before[0]:.1f} persons"
            before = persons, seconds
            figures = f"{sum(said.lacks)}, {said.moved}, {said.duties}"
            speed = f"{seconds:>9.2f}{lost:>10.2f}{seconds / first:>8.1f}"
            print(f"{kind:<22}{persons:>8}{crafts:>6}{speed}  {figures}{grown}")


if __name__ == "__main__":
    main()
