"""Who stands in for those whom the muster list cannot do without (SOLAS III/37.5), found exactly.

Key is whoever is in command, and whoever is in charge of a craft without a second in command: which persons are key is
the master's choice, and this is ours. A substitute is not key in the same emergency, and stands in for one person only.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbook_tools.core.muster import CHARGE, NO, SECOND, SURE, List, Muster
from workbook_tools.planning.program import Model

IN_COMMAND, IN_CHARGE = "in command", "in charge of a craft"


@dataclass(frozen=True, slots=True)
class Stand:
    """A key person and who stands in (None: nobody is left who could). kept: as on the present list."""

    key: int
    role: str
    substitute: int | None
    kept: bool = False


def stand_ins(
    muster: Muster, found: List, commanders: Sequence[int], present: set[tuple[int, int]], deck: Sequence[bool]
) -> list[Stand]:
    """A substitute for each key person: as many as can be, then as they are now, then by craft and qualification."""
    keys = [(person, IN_COMMAND) for person in commanders]
    keys += [(person, IN_CHARGE) for person in _without_second(muster, found) if person not in commanders]
    if not keys:
        return []
    model, pairs = Model(), {}
    for at, (key, role) in enumerate(keys):
        nobody = model.add(1, 10_000)
        parts = [(nobody, 1.0)]
        for other in range(len(muster.hands)):
            cost = _cost(muster, found, deck, key, role, other, commanders)
            if cost is None:
                continue
            pairs[at, other] = model.add(1, cost + (0 if (key, other) in present else 100))
            parts.append((pairs[at, other], 1.0))
        model.at_least(parts, 1)
        model.at_most(parts, 1)
    for other in range(len(muster.hands)):
        model.at_most([(pair, 1.0) for (_, person), pair in pairs.items() if person == other], 1)
    values = model.solve()
    chosen = {at: other for (at, other), pair in pairs.items() if values[pair] > 0.5}
    return [
        Stand(key, role, chosen.get(at), at in chosen and (key, chosen[at]) in present)
        for at, (key, role) in enumerate(keys)
    ]


def _without_second(muster: Muster, found: List) -> list[int]:
    """Persons in charge of a craft for which no second in command is asked, and in which there is none."""
    return [
        person
        for number, boat in enumerate(muster.boats)
        if not boat.second and not found.holders(number, SECOND)
        for person in found.holders(number, CHARGE)
    ]


def _cost(
    muster: Muster, found: List, deck: Sequence[bool], key: int, role: str, other: int, commanders: Sequence[int]
) -> int | None:
    """How well somebody would stand in, 0 best; None: not at all."""
    hand = muster.hands[other]
    if other == key or not hand.free or other in commanders or hand.leads == NO or hand.fit == NO:
        return None
    if role == IN_COMMAND:
        return (0 if deck[other] else 20) + (0 if found.role[other] != CHARGE else 1)
    if found.role[other] == CHARGE:
        return None  # whoever leads one craft cannot take over another
    away = 0 if found.craft[other] == found.craft[key] else 10
    return away + (0 if hand.leads == SURE else 5) + (1 if found.role[other] else 0)
