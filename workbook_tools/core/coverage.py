"""Whether there is a place for everyone: capacity by side."""

from collections.abc import Iterable
from dataclasses import dataclass

SIDES = ("port", "starboard", "aft")


@dataclass(frozen=True, slots=True)
class Place:
    """The places a craft offers: persons permitted to accommodate, and the side it hangs or lies on."""

    persons: int
    side: str  # port, starboard or aft
    transferable: bool = False


def capacity_by_side(places: Iterable[Place]) -> dict[str, int]:
    """Persons that the craft of each side can take; port and starboard always have an entry."""
    total = {"port": 0, "starboard": 0}
    for place in places:
        total[place.side] = total.get(place.side, 0) + place.persons
    return total


def share_covered(persons: int, capacity: float) -> float:
    """Percent of persons for whom there is a place; 100 where there is nobody to carry.

    >>> share_covered(25, 20)
    80.0
    """
    return 100.0 if persons <= 0 else 100.0 * capacity / persons
