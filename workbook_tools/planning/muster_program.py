"""The best muster list, found exactly: what is asked comes first level by level, then the fewest changes.

A program of whole numbers (HiGHS). x: person p has a place in craft c. d: person p has duty r in craft c. u: persons
without a line in craft c. y: craft c is manned. What is asked and cannot be given is let go by a variable of its level,
and the levels are minimised one after the other, each held at its least before the next: so the list lacks as little as
can be, and its lacks say which demand cannot be met. After a place for everybody comes that nobody is put into a raft
who is in none now, while a lifeboat has room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from workbook_tools.core.muster import (
    CHARGE,
    COMMAND,
    ENGINE,
    HANDS,
    LEVELS,
    NO,
    PARTIES,
    PLACE,
    QUALIFIED,
    RADIO,
    ROLES,
    SECOND,
    SHOWN,
    SURE,
    Boat,
    Displaced,
    List,
    Muster,
    spread_over,
    unhandy_in,
    usable,
)
from workbook_tools.planning.program import Model

Part = tuple[int, float]


@dataclass(slots=True)
class _Variables:
    """Numbers of the variables, and what each level adds up."""

    places: dict[tuple[int, int], int] = field(default_factory=dict)
    roles: dict[tuple[int, int, str], int] = field(default_factory=dict)
    unplaced: list[int] = field(default_factory=list)
    unlisted: list[int] = field(default_factory=list)
    unlisted_out: int = 0
    manned: list[int] = field(default_factory=list)
    levels: list[list[Part]] = field(default_factory=lambda: [[] for _ in LEVELS])

    def in_craft(self, boat: int) -> list[Part]:
        """Persons in a craft, those without a line among them."""
        return [*((at, 1.0) for (_, craft), at in self.places.items() if craft == boat), (self.unlisted[boat], 1.0)]


def best_list(muster: Muster) -> List:
    """The list that is best by what is asked, then nearest to the present one, then evenly spread.

    Raises NotSolved.
    """
    if not muster.boats:
        return List((None,) * len(muster.hands), ("",) * len(muster.hands), ())
    model, variables = _build(muster)
    return _read(muster, variables, _in_order(model, muster, variables))


# ---- the program -------------------------------------------------------------------------------------------------


def _build(muster: Muster) -> tuple[Model, _Variables]:
    model, variables = Model(), _Variables()
    for person in range(len(muster.hands)):
        _add_person(model, muster, variables, person)
    _add_unlisted(model, muster, variables)
    by_boat = _by_boat(variables, len(muster.boats))
    for number, boat in enumerate(muster.boats):
        _add_boat(model, muster, variables, number, boat, by_boat[number])
    for craft, party in sorted(muster.parties()):
        holders = [person for person, hand in enumerate(muster.hands) if hand.party == party]
        lost = model.add(1)
        variables.levels[PARTIES].append((lost, 1.0))
        model.at_least([*((variables.places[person, craft], 1.0) for person in holders), (lost, 1.0)], 1)
    return model, variables


def _by_boat(variables: _Variables, boats: int) -> list[list[int]]:
    found: list[list[int]] = [[] for _ in range(boats)]
    for (_, craft), at in variables.places.items():
        found[craft].append(at)
    return found


def _add_person(model: Model, muster: Muster, variables: _Variables, person: int) -> None:
    """One place or none; at most one key duty, and that where the place is."""
    hand = muster.hands[person]
    out = model.add(1)
    variables.unplaced.append(out)
    variables.levels[PLACE].append((out, 1.0))
    for craft, boat in enumerate(muster.boats):
        place = variables.places[person, craft] = model.add(1)
        if not hand.free:
            continue
        duties = []
        for role in _roles_of(boat):
            duty = variables.roles[person, craft, role] = model.add(1)
            duties.append((duty, 1.0))
            if hand.fit == NO:
                variables.levels[HANDS].append((duty, 1.0))
            if role == CHARGE and hand.leads != SURE:
                level = QUALIFIED if hand.leads == NO and boat.lifeboat else SHOWN
                variables.levels[level].append((duty, 1.0))
        model.at_most([*duties, (place, -1.0)], 0)
    everywhere = [(variables.places[person, craft], 1.0) for craft in range(len(muster.boats))]
    model.at_least([*everywhere, (out, 1.0)], 1)
    model.at_most([*everywhere, (out, 1.0)], 1)


def _roles_of(boat: Boat) -> list[str]:
    needed = {CHARGE: True, SECOND: True, ENGINE: boat.engine, RADIO: boat.radio}
    return [role for role in ROLES if needed[role]]


def _add_unlisted(model: Model, muster: Muster, variables: _Variables) -> None:
    variables.unlisted_out = model.add(muster.unlisted)
    variables.levels[PLACE].append((variables.unlisted_out, 1.0))
    variables.unlisted = [model.add(min(muster.unlisted, boat.room)) for boat in muster.boats]
    parts = [(at, 1.0) for at in (*variables.unlisted, variables.unlisted_out)]
    model.at_least(parts, muster.unlisted)
    model.at_most(parts, muster.unlisted)


def _add_boat(
    model: Model, muster: Muster, variables: _Variables, number: int, boat: Boat, places: Sequence[int]
) -> None:
    """Room (LSA Code 4.4.2), command (SOLAS III/10.3), engine (III/10.5) and radio of one craft, where it is manned."""
    manned = model.add(1)
    variables.manned.append(manned)
    if boat.lifeboat and muster.manned_now(number):
        model.at_least([(manned, 1.0)], 1)
    inside = [*((at, 1.0) for at in places), (variables.unlisted[number], 1.0)]
    model.at_most([*inside, (manned, -float(boat.room))], 0)
    asked = {CHARGE: COMMAND}
    if boat.second:
        asked[SECOND] = QUALIFIED
    asked |= {role: HANDS for role, needed in ((ENGINE, boat.engine), (RADIO, boat.radio)) if needed}
    for role in _roles_of(boat):
        holders = [(at, 1.0) for (_, craft, held), at in variables.roles.items() if craft == number and held == role]
        if role in (CHARGE, SECOND):
            model.at_most(holders, 1)
        if role in asked:
            lacking = model.add(1)
            variables.levels[asked[role]].append((lacking, 1.0))
            model.at_least([*holders, (lacking, 1.0), (manned, -1.0)], 0)
    _certificated(model, muster, variables, number, boat, inside)


def _certificated(
    model: Model, muster: Muster, variables: _Variables, number: int, boat: Boat, inside: Sequence[Part]
) -> None:
    """Certificated persons by complement: for each step of the scale, whether so many persons are in the craft."""
    if not boat.by_complement:
        return
    held = [(variables.places[person, number], 1.0) for person, hand in enumerate(muster.hands) if hand.certificated]
    before, steps = 0, []
    for begins, asked in boat.by_complement:
        reached = model.add(1)
        # more than begins - 1 persons only where the step is reached
        model.at_most([*inside, (reached, -float(max(0, boat.room - begins + 1)))], begins - 1)
        steps.append((reached, -float(asked - before)))
        before = asked
    short = model.add(before)
    variables.levels[QUALIFIED].append((short, 1.0))
    model.at_least([*held, (short, 1.0), *steps], 0)


# ---- what is minimised -------------------------------------------------------------------------------------------


def _to_rafts(muster: Muster, variables: _Variables) -> list[Part]:
    """Persons put into a raft who are in none now."""
    parts = [(at, 1.0) for (person, craft), at in variables.places.items() if muster.to_raft(person, craft)]
    return [*parts, *((at, 1.0) for craft, at in enumerate(variables.unlisted) if muster.to_raft(None, craft))]


def _moves(muster: Muster, variables: _Variables) -> list[Part]:
    """Persons who stay in their craft, each saving a change."""
    return [
        (variables.places[person, hand.craft], -1.0)
        for person, hand in enumerate(muster.hands)
        if hand.craft is not None
    ]


def _duties(muster: Muster, variables: _Variables) -> list[Part]:
    """Duties changed, then duties that another would do better: in one sum, a change weighing more than all those."""
    unhandy = 1.0
    duty = 1.0 + len(muster.hands)
    parts: list[Part] = []
    for (person, _, role), at in variables.roles.items():
        hand = muster.hands[person]
        # a key duty of old that is kept saves a change; a new one where there was none is a change
        weight = -duty if role == hand.role else duty if not hand.role else 0.0
        weight += unhandy if unhandy_in(hand, role) else 0.0
        if weight:
            parts.append((at, weight))
    return parts


def _spread(model: Model, muster: Muster, variables: _Variables) -> list[Part]:
    """Persons in rafts, then the fullest lifeboat: it is those who had no craft, or must move, that are spread."""
    most = max(boat.room for boat in muster.boats)
    fullest = model.add(most)
    parts: list[Part] = [(fullest, 1.0)]
    for number, boat in enumerate(muster.boats):
        inside = variables.in_craft(number)
        if not boat.lifeboat:
            parts += [(at, 1.0 + most) for at, _ in inside]
        if number in spread_over(muster.boats):
            model.at_most([*inside, (fullest, -1.0)], 0)
    return parts


def _in_order(model: Model, muster: Muster, variables: _Variables) -> list[float]:
    """The values that make the first level least, then the second, and so on.

    Where nothing need lack although nobody moves, that settles every level of lacks and the moves at once, and most of
    the variables with them. Otherwise all that is asked together is tried first, then level by level.
    """
    levels = [variables.levels[PLACE], _to_rafts(muster, variables), *variables.levels[PLACE + 1 :]]
    everything = [part for level in levels for part in level]
    free = list(model.upper)
    _keep_in_place(model, muster, variables)
    if _amount(everything, _least(model, everything)):
        model.upper[: len(free)] = free
        if _amount(everything, _least(model, everything)):
            for level in levels:
                if level:
                    _held(model, level)
        else:
            _hold(model, everything, 0)
        if not _amount(moves := _moves(muster, variables), _held(model, moves)) + len(moves):
            _keep_in_place(model, muster, variables)
    else:
        _hold(model, everything, 0)
    _held(model, _spread(model, muster, variables))
    return _least(model, _duties(muster, variables))


def _keep_in_place(model: Model, muster: Muster, variables: _Variables) -> None:
    """Leave everybody who has a craft there."""
    for (person, craft), at in variables.places.items():
        if muster.hands[person].craft not in (None, craft):
            model.upper[at] = 0


def _amount(parts: Sequence[Part], values: Sequence[float]) -> int:
    """A sum of whole variables with whole weights, freed of the solver's slips."""
    return round(sum(weight * values[at] for at, weight in parts))


def _least(model: Model, parts: Sequence[Part]) -> list[float]:
    model.costs = [0.0] * len(model.upper)
    for at, weight in parts:
        model.costs[at] += weight
    return model.solve()


def _held(model: Model, parts: Sequence[Part]) -> list[float]:
    """Minimise a level and hold it there: every weight is a whole number, and so is the least."""
    values = _least(model, parts)
    _hold(model, parts, _amount(parts, values))
    return values


def _hold(model: Model, parts: Sequence[Part], least: float) -> None:
    if parts:  # half a unit of room for the solver's own slips: no list of whole numbers lies between
        model.at_most(parts, least + 0.5)


def _read(muster: Muster, variables: _Variables, values: Sequence[float]) -> List:
    craft: list[int | None] = [None] * len(muster.hands)
    role = [""] * len(muster.hands)
    for (person, boat), at in variables.places.items():
        if values[at] > 0.5:
            craft[person] = boat
    for (person, _, held), at in variables.roles.items():
        if values[at] > 0.5:
            role[person] = held
    return List(tuple(craft), tuple(role), tuple(round(values[at]) for at in variables.unlisted))


# ---- when a side is lost -----------------------------------------------------------------------------------------


def displaced(muster: Muster, found: List, side: str) -> Displaced:
    """Where everybody goes when only the craft usable on a side are left.

    Who has a place in one of them stays. The others go so that as few as can be are left out, then as few craft as can
    be fill without a qualified person, then few go into rafts, then to craft near on the Craft sheet. Raises NotSolved.
    """
    left = usable(muster.boats, side)
    sources: list[int | None] = [None, *(number for number in range(len(muster.boats)) if number not in left)]
    groups = {source: [p for p, craft in enumerate(found.craft) if craft == source] for source in sources}
    free = {source: 0 if source is None else found.unlisted[source] for source in sources}
    free[None] += muster.unlisted - sum(found.unlisted)
    sources = [source for source in sources if groups[source] or free[source]]
    flows = _flows(muster, found, left, groups, free, sources)
    return _deal(muster, found, left, groups, free, flows)


_Flow = dict[tuple[int | None, int], tuple[int, int]]  # (from, craft) -> persons, of whom so many are leaders


def _leaders(muster: Muster, persons: Sequence[int]) -> list[int]:
    hands = muster.hands
    return [person for person in persons if hands[person].free and hands[person].leads == SURE]


def _flows(
    muster: Muster,
    found: List,
    left: Sequence[int],
    groups: dict[int | None, list[int]],
    free: dict[int | None, int],
    sources: Sequence[int | None],
) -> _Flow:
    if not sources:
        return {}
    model, at = Model(), {}
    out, leaderless, in_rafts, away = [], [], [], []
    for source in sources:
        size = len(groups[source]) + free[source]
        leaders = len(_leaders(muster, groups[source]))
        stays = model.add(size)
        out.append((stays, 1.0))
        going, leading = [(stays, 1.0)], []
        for craft in left:
            persons, lead = model.add(size), model.add(leaders)
            at[source, craft] = (persons, lead)
            going.append((persons, 1.0))
            leading.append((lead, 1.0))
            model.at_most([(lead, 1.0), (persons, -1.0)], 0)
            # those of a group who are no leaders are so many, and no more
            model.at_most([(persons, 1.0), (lead, -1.0)], size - leaders)
            away.append((persons, float(abs(craft - (source or 0)))))
            if not muster.boats[craft].lifeboat:
                in_rafts.append((persons, 1.0))
        model.at_least(going, size)
        model.at_most(going, size)
        model.at_most(leading, leaders)
        rest = [(persons, 1.0) for persons, _ in (at[source, craft] for craft in left)]
        model.at_most([*rest, *((lead, -1.0) for lead, _ in leading)], size - leaders)
    for craft in left:
        there = len(found.in_craft(craft)) + found.unlisted[craft]
        coming = [(at[source, craft][0], 1.0) for source in sources]
        model.at_most(coming, max(0, muster.boats[craft].room - there))
        if not there:
            lacking, filled = model.add(1), model.add(1)
            leaderless.append((lacking, 1.0))
            model.at_most([*coming, (filled, -float(muster.boats[craft].room))], 0)
            model.at_least([*((at[source, craft][1], 1.0) for source in sources), (lacking, 1.0), (filled, -1.0)], 0)
    values: list[float] = []
    for level in (out, leaderless, in_rafts, away):
        if level or not values:
            values = _held(model, level)
    return {pair: (round(values[persons]), round(values[lead])) for pair, (persons, lead) in at.items()}


def _deal(
    muster: Muster,
    found: List,
    left: Sequence[int],
    groups: dict[int | None, list[int]],
    free: dict[int | None, int],
    flows: _Flow,
) -> Displaced:
    """Give each flow its persons: the leaders it needs, then the others in the order of the list."""
    moves: list[tuple[int, int]] = []
    unlisted: list[tuple[int | None, int, int]] = []
    led: set[int] = {craft for craft in left if found.in_craft(craft) or found.unlisted[craft]}
    filled = {craft for (_, craft), (persons, _) in flows.items() if persons}
    placed = 0
    for source, group in groups.items():
        leaders = _leaders(muster, group)
        others = [person for person in group if person not in set(leaders)]
        nameless = free[source]
        for craft in left:
            persons, lead = flows.get((source, craft), (0, 0))
            going, leaders = leaders[:lead], leaders[lead:]
            wanted = persons - lead
            going, others = going + others[:wanted], others[wanted:]
            moves += [(person, craft) for person in going]
            if lead:
                led.add(craft)
            more = min(nameless, persons - len(going))
            if more:
                unlisted.append((source, craft, more))
                nameless -= more
            placed += persons
    total = sum(len(group) for group in groups.values()) + sum(free.values())
    return Displaced(tuple(sorted(moves)), tuple(unlisted), total - placed, tuple(sorted(filled - led)))
