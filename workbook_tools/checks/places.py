"""Who is on board, and which craft count with how many places on which side. SOLAS III/21 and III/31."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from workbook_tools.checks.context import Audit, Craft
from workbook_tools.core import coverage as core
from workbook_tools.core.coverage import SIDES, Place
from workbook_tools.reading import Row

PERHAPS = "perhaps"  # side-to-side transfer of a raft whose mass is not recorded


@dataclass(frozen=True, slots=True)
class Equipped:
    """The persons to be carried, and the survival craft that count: a remote raft never does, nor an extra craft."""

    persons: int
    crafts: list[Craft]
    complete: bool = False  # the Craft sheet lists craft, and each with a type that can be read

    @property
    def free_fall(self) -> list[Craft]:
        """Lifeboats over the stern."""
        return [craft for craft in self.crafts if craft.kind == "free-fall lifeboat"]

    @property
    def lifeboats(self) -> list[Craft]:
        """Lifeboats on falls, those that are also the rescue boat among them."""
        return [craft for craft in self.crafts if "lifeboat" in craft.families and craft.kind != "free-fall lifeboat"]

    @property
    def rafts(self) -> list[Craft]:
        """Liferafts, launched or thrown over."""
        return [craft for craft in self.crafts if "liferaft" in craft.families]


def _is_passenger(row: Row) -> bool:
    return "passenger" in str(row.get("rank") or "").casefold()


def crew_lines(audit: Audit) -> list[Row]:
    """Lines of the Crew sheet of those who have joined by the day asked."""
    return [row for row in audit.book.rows("crew") if row.get("joined") is None or row.get("joined") <= audit.on]


def persons_on_board(audit: Audit) -> int | None:
    """Everyone on board: the Ship sheet's figure, else the lines of the Crew sheet, else None.

    On a passenger ship the lines are everyone only together with the passengers; without them nothing is known.
    """
    recorded = audit.book.ship_value("persons_on_board")
    if recorded is not None:
        return int(recorded)
    if any("persons_on_board" in row.unclear for row in audit.book.rows("ship")):
        return None
    listed = crew_lines(audit)
    if audit.ship_facts["ship_family"] != "passenger":
        return len(listed) or None
    passengers = audit.book.ship_value("passengers")
    named = sum(map(_is_passenger, listed))
    if not listed or (passengers is None and not named):
        return None
    return len(listed) - named + max(named, int(passengers or 0))


def counting(audit: Audit) -> list[Craft]:
    """The craft that count: required ones, and those whose purpose could not be read."""
    return [craft for craft in audit.crafts if craft.purpose in ("required", None)]


def unclear_craft(crafts: Sequence[Craft]) -> str:
    """Why nothing can be said of these craft; '' when it can."""
    if not crafts:
        return "no craft is recorded"
    return next((f"the type of {craft.name} is not clear" for craft in crafts if craft.kind is None), "")


def equipped_with(audit: Audit, persons: int) -> Equipped:
    """The survival craft that count, for a number of persons."""
    most = heaviest_moved(audit)
    crafts = [craft for craft in counting(audit) if set(craft.families) & {"lifeboat", "liferaft"}]
    complete = bool(audit.crafts) and not unclear_craft(audit.crafts)
    return Equipped(persons, [_as_moved(craft, most) for craft in crafts], complete)


def heaviest_moved(audit: Audit) -> float | None:
    """The mass in kg above which a raft is not easily moved side to side; None where the rule set has no figure."""
    rows = audit.rule_set.by_key().get("liferaft.packed-mass", [])
    return next((rule.fixed for rule in rows if rule.in_force(audit.on)), None)


def _as_moved(craft: Craft, most: float | None) -> Craft:
    """A raft that is recorded as moved, with what its mass makes of that: 'no' above the figure, 'perhaps' unknown."""
    if most is None or craft.facts["transferable"] != "yes" or "liferaft" not in craft.families:
        return craft
    mass = craft.row.get("mass_kg")
    moved = PERHAPS if mass is None else "yes" if mass <= most else "no"
    return craft if moved == "yes" else replace(craft, facts={**craft.facts, "transferable": moved})


def usable_sides(craft: Craft) -> tuple[frozenset[str], frozenset[str], str]:
    """The sides on which a craft can surely be used, those on which it perhaps can, and why they differ."""
    side, transfer = craft.row.get("side"), craft.facts["transferable"]
    if transfer == "yes" and "liferaft" in craft.families:
        return core.BOTH, core.BOTH, ""
    if side is None:
        if craft.kind == "free-fall lifeboat":
            return core.NEITHER, core.NEITHER, ""
        return core.NEITHER, core.BOTH, f"side of {craft.name} is not recorded"
    own = core.BOTH & {side}
    if transfer == PERHAPS:
        return own, core.BOTH, f"mass of {craft.name}, which is to be moved side to side, is not recorded"
    if transfer is None and craft.kind == "liferaft":
        return own, core.BOTH, f"side-to-side transfer of {craft.name} is not recorded"
    return own, own, ""


def _stowed_sides(craft: Craft) -> tuple[frozenset[str], frozenset[str], str]:
    """The side on which a raft is stowed, transfer apart. One that lies aft amidships may be meant for either."""
    side = craft.row.get("side")
    if side in SIDES:
        return frozenset({side}), frozenset({side}), ""
    return core.NEITHER, core.BOTH, f"{craft.name} is recorded on neither side"


def place_of(craft: Craft, stowed: bool = False, sure: bool = True, doubt: str = "") -> Place:
    """The places of a craft. sure False: it only perhaps counts, for the reason in doubt."""
    sure_sides, possible_sides, side_doubt = _stowed_sides(craft) if stowed else usable_sides(craft)
    least: float = craft.persons or 0
    most: float = float("inf") if craft.persons is None else craft.persons
    if craft.persons is None:
        doubt = f"persons permitted of {craft.name} is not recorded"
    elif craft.purpose is None:
        least, doubt = 0, f"purpose of {craft.name} is not clear"
    elif not sure:
        least = 0
    return Place(craft.name, least, most, sure_sides, possible_sides, doubt, side_doubt)


def places_of(crafts: Iterable[Craft], stowed: bool = False) -> list[Place]:
    """The places of craft; stowed: by the side on which each is stowed, transfer apart."""
    return [place_of(craft, stowed) for craft in crafts]
