"""Muster problems at random, every list of a small one, and a check of a list that shares no code with the program."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator

from workbook_tools.core.muster import CHARGE, ENGINE, RADIO, ROLES, SECOND, Boat, Displaced, Hand, List, Muster

SIDES = (frozenset({"port"}), frozenset({"starboard"}), frozenset({"port", "starboard"}), frozenset[str]())


def random_muster(seed: int, persons: int, crafts: int, room: tuple[int, int], unlisted: int = 0) -> Muster:
    """A ship whose present list is any list at all: too full, leaderless, unqualified."""
    chance = random.Random(seed)
    boats = []
    for number in range(crafts):
        lifeboat = chance.random() < 0.6
        steps = ((1, 1), (3, 2)) if lifeboat and chance.random() < 0.3 else ()
        boats.append(
            Boat(
                f"Craft {number + 1}",
                chance.randint(*room),
                lifeboat,
                lifeboat,
                lifeboat and chance.random() < 0.8,
                chance.random() < 0.3,
                steps,
                chance.choice(SIDES),
            )
        )
    hands = tuple(
        Hand(
            leads=chance.choice(("sure", "perhaps", "no", "no")),
            certificated=chance.random() < 0.4,
            fit=chance.choice(("sure", "perhaps", "no")),
            engineer=chance.random() < 0.3,
            craft=chance.choice((None, *range(crafts))),
            role=chance.choice(("", "", "", *ROLES)),
            party=chance.choice(("", "launching", "fire")),
            free=chance.random() < 0.9,
        )
        for _ in range(persons)
    )
    return Muster(hands, tuple(boats), unlisted)


def every_list(muster: Muster) -> Iterator[List]:
    """Every list there is: each person in each craft or in none, with each duty or none, within the craft's room."""
    options: list[tuple[int | None, str]] = [(None, "")]
    for craft, boat in enumerate(muster.boats):
        roles = ["", CHARGE, SECOND, *([ENGINE] if boat.engine else []), *([RADIO] if boat.radio else [])]
        options += [(craft, role) for role in roles]
    of_person = [[(craft, role) for craft, role in options if not role or hand.free] for hand in muster.hands]
    nameless = list(itertools.product(range(muster.unlisted + 1), repeat=len(muster.boats)))
    for chosen in itertools.product(*of_person):
        one_of_each = all(
            sum(pair == (craft, role) for pair in chosen) <= 1
            for craft in range(len(muster.boats))
            for role in (CHARGE, SECOND)
        )
        if not one_of_each:
            continue
        taken = [sum(pair[0] == craft for pair in chosen) for craft in range(len(muster.boats))]
        for unlisted in nameless:
            if sum(unlisted) > muster.unlisted:
                continue
            if all(a + b <= boat.room for a, b, boat in zip(taken, unlisted, muster.boats, strict=True)):
                yield List(tuple(c for c, _ in chosen), tuple(r for _, r in chosen), tuple(unlisted))


def faults(muster: Muster, found: List) -> list[str]:
    """What no list may do, whatever it lacks."""
    said = []
    for number, boat in enumerate(muster.boats):
        inside = [p for p, craft in enumerate(found.craft) if craft == number]
        if len(inside) + found.unlisted[number] > boat.room:
            said.append(f"{boat.name} too full")
        for role in ROLES:
            held = [p for p in inside if found.role[p] == role]
            if role in (CHARGE, SECOND) and len(held) > 1:
                said.append(f"two {role} in {boat.name}")
            if held and ((role == ENGINE and not boat.engine) or (role == RADIO and not boat.radio)):
                said.append(f"{role} in {boat.name}, which has none")
    for person, (craft, role) in enumerate(zip(found.craft, found.role, strict=True)):
        if role and (craft is None or not muster.hands[person].free):
            said.append(f"{role} given to person {person}")
    if any(number < 0 for number in found.unlisted) or sum(found.unlisted) > muster.unlisted:
        said.append("persons without a line miscounted")
    return said


def displaced_faults(muster: Muster, found: List, side: str, moved: Displaced) -> list[str]:
    """What no answer to the loss of a side may do; among it to leave somebody out while there is room."""
    left = [number for number, boat in enumerate(muster.boats) if side in boat.sides]
    load = {number: found.unlisted[number] + sum(craft == number for craft in found.craft) for number in left}
    going = dict(moved.moves)
    said = [] if len(going) == len(moved.moves) else ["somebody goes to two craft"]
    said += [f"person {p} leaves a craft that is left" for p in going if found.craft[p] in left]
    for craft in (*going.values(), *(craft for _, craft, number in moved.unlisted for _ in range(number))):
        if craft not in left:
            said.append(f"craft {craft} is lost")
            continue
        load[craft] += 1
    said += [f"{muster.boats[craft].name} too full" for craft in left if load[craft] > muster.boats[craft].room]
    everybody = len(muster.hands) + muster.unlisted
    if sum(load.values()) + moved.unplaced != everybody:
        said.append("persons lost from sight")
    if moved.unplaced != max(0, everybody - sum(muster.boats[craft].room for craft in left)):
        said.append(f"{moved.unplaced} left out")
    return said
