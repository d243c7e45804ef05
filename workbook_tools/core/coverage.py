"""Whether there is a place for everyone: what is left when a side or a craft is lost.

Places are persons. Every sum is a range, because a record may leave open how many persons a craft takes, on which side
it lies or whether it can be moved: `least` is sure, `most` is what the record can mean at best. An exact record has
both alike. A craft over the stern counts on neither side, since the rules ask for places on each side beside it
(SOLAS III/31.1.2); a liferaft that is easily moved counts on both (SOLAS III/31.1.1.2).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

SIDES = ("port", "starboard")
BOTH = frozenset(SIDES)
NEITHER: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Range:
    """The least and the most that a record can mean, and what makes the difference."""

    least: float
    most: float
    doubt: str = ""

    def plus(self, other: Range) -> Range:
        """The sum of two ranges."""
        return Range(self.least + other.least, self.most + other.most, joined((self.doubt, other.doubt)))


@dataclass(frozen=True, slots=True)
class Place:
    """The places that one craft offers, and the sides on which it can be used (none: over the stern).

    least, most: persons; most is infinite where the number is not recorded.
    doubt, side_doubt: why least and most, or sure and possible sides, differ.
    """

    name: str
    least: float
    most: float
    sure_sides: frozenset[str]
    possible_sides: frozenset[str]
    doubt: str = ""
    side_doubt: str = ""


@dataclass(frozen=True, slots=True)
class Scenario:
    """What happened, the places left, and the persons on board."""

    name: str
    places: Range
    persons: int

    @property
    def left_out(self) -> int:
        """Persons for whom there is certainly no place."""
        return left_out(self.persons, self.places.most)

    @property
    def perhaps_left_out(self) -> int:
        """Persons for whom no place is shown."""
        return left_out(self.persons, self.places.least)


@dataclass(frozen=True, slots=True)
class Loss:
    """The craft whose loss hurts most (None: there is none), and the places left then."""

    lost: str | None
    places: Range


def exact(name: str, persons: int, sides: frozenset[str]) -> Place:
    """A craft of which everything is recorded."""
    return Place(name, persons, persons, sides, sides)


def joined(doubts: Iterable[str]) -> str:
    """Reasons in one line, each once."""
    return "; ".join(dict.fromkeys(filter(None, doubts)))


def left_out(persons: int, places: float) -> int:
    """Persons without a place.

    >>> left_out(25, 20)
    5
    """
    return 0 if places >= persons else math.ceil(persons - places)


def share_covered(persons: int, capacity: float) -> float:
    """Percent of persons for whom there is a place; 100 where there is nobody to carry.

    >>> share_covered(25, 20)
    80.0
    """
    return 100.0 if persons <= 0 else 100.0 * capacity / persons


def together(places: Iterable[Place]) -> Range:
    """Persons that all craft take between them, wherever they lie."""
    found = list(places)
    return Range(
        sum(place.least for place in found),
        sum(place.most for place in found),
        joined(place.doubt for place in found),
    )


def on_side(places: Iterable[Place], side: str) -> Range:
    """Persons that the craft usable on a side take: those that lie there and those that can be moved there."""
    near = [place for place in places if side in place.possible_sides]
    return Range(
        sum(place.least for place in near if side in place.sure_sides),
        sum(place.most for place in near),
        joined(doubt for place in near for doubt in (place.doubt, place.side_doubt)),
    )


def after_any_loss(places: Sequence[Place], side: str) -> Loss:
    """What is left on a side when the one craft is lost whose loss hurts most there (SOLAS III/31.1.3.4).

    The least and the most are both taken over every craft, for any of them may be the one that is lost.
    """
    if not places:
        return Loss(None, Range(0, 0))
    rests = [on_side(_without(places, number), side) for number in range(len(places))]
    worst = min(range(len(places)), key=lambda number: (rests[number].most, rests[number].least))
    doubt = joined(rest.doubt for rest in rests)
    return Loss(places[worst].name, Range(min(rest.least for rest in rests), min(rest.most for rest in rests), doubt))


def after_largest_loss(places: Sequence[Place], side: str) -> Loss:
    """What is left on a side when the largest craft of the ship is lost; among equals the one that hurts most there.

    Where a capacity is open, more than one craft may be the largest: the least is that of the worst, the most that of
    the best of them.
    """
    if not places:
        return Loss(None, Range(0, 0))
    surely = max(place.least for place in places)
    numbers = [number for number, place in enumerate(places) if place.most >= surely]
    rests = {number: on_side(_without(places, number), side) for number in numbers}
    worst = min(numbers, key=lambda number: (rests[number].most, rests[number].least))
    known = all(place.least == place.most for place in places)
    choose = min if known else max
    doubt = joined([*(rest.doubt for rest in rests.values()), *(place.doubt for place in places)])
    most = choose(rest.most for rest in rests.values())
    return Loss(places[worst].name, Range(min(rest.least for rest in rests.values()), most, doubt))


def scenarios(places: Sequence[Place], persons: int) -> list[Scenario]:
    """What may happen to the craft, and who is left out: all usable, either side lost, each craft lost, the largest.

    A side that is lost takes with it the craft that can be used on that side only, and what lies over the stern is not
    counted on; a craft that is lost leaves the others, wherever they lie.
    """
    found = [Scenario("all craft usable", together(places), persons)]
    for side, other in (SIDES, SIDES[::-1]):
        found.append(Scenario(f"{side} side lost", on_side(places, other), persons))
    single = [together(_without(places, number)) for number in range(len(places))]
    found += [Scenario(f"{place.name} lost", rest, persons) for place, rest in zip(places, single, strict=True)]
    if single:
        doubt = joined(place.doubt for place in places)
        rest = Range(min(rest.least for rest in single), min(rest.most for rest in single), doubt)
        found.append(Scenario("largest craft lost", rest, persons))
    return found


def rafts_to_marshal(persons: float, rafts: Iterable[float]) -> int:
    """The fewest liferafts that take so many persons, the largest first; all of them where they do not suffice.

    >>> rafts_to_marshal(30, [10, 25, 12])
    2
    """
    count = 0
    for capacity in sorted(rafts, reverse=True):
        if persons <= 0:
            break
        persons -= capacity
        count += 1
    return count


def beyond_replaced(rafts: Range, boats: Iterable[Range], asked: float) -> Range:
    """Raft places left when rafts have made up what each group of lifeboats lacks of the places asked of it.

    Liferafts that stand in the place of lifeboats do not count a second time as the additional ones
    (SOLAS III/21.1.1.2, 21.1.2).
    """
    groups = list(boats)
    lacking_at_most = sum(max(0.0, asked - group.least) for group in groups)
    lacking_at_least = sum(max(0.0, asked - group.most) for group in groups)
    return Range(
        max(0.0, rafts.least - lacking_at_most),
        max(0.0, rafts.most - lacking_at_least),
        joined((rafts.doubt, *(group.doubt for group in groups))),
    )


def _without(places: Sequence[Place], number: int) -> list[Place]:
    return [place for index, place in enumerate(places) if index != number]
