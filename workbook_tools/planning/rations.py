"""How long the water and food of each craft last: as assigned, full, and when a side is lost.

Water counts as the audit counts it: in date and fit on the day asked; a sealed raft by its service certificate. What is
only possible evidence never lengthens a plan: it is told beside it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from workbook_tools.checks.context import Audit, Craft
from workbook_tools.checks.persons import Boarding, boardings
from workbook_tools.checks.places import counting, persons_on_board, usable_sides
from workbook_tools.checks.raft_service import certificate_state
from workbook_tools.core import stock
from workbook_tools.core.coverage import SIDES
from workbook_tools.core.quantity import required
from workbook_tools.core.rations import LONGEST_PLAN, Gain, Issue, RationDay, days_lasting, issue_reaching, plan
from workbook_tools.rules import Rule
from workbook_tools.rules.loader import policies

WATER, FOOD = "fresh water", "food ration"
_HAND_PUMP, _KIT = "manual reverse-osmosis desalinator", "desalting apparatus"
AS_ASSIGNED, FULL = "as assigned", "full"
SHORTEST_TABLE, LONGEST_TABLE = 4, 40  # days shown where nothing else is asked


@dataclass(frozen=True, slots=True)
class Ask:
    """What is asked: litres for each person and day (None: the practice), injured in each craft, rain in each craft.

    rain: litres by day; every_day: litres on each day. reach: days for which the issue is sought.
    """

    litres: float | None = None
    injured: int = 0
    rain: Mapping[int, float] = field(default_factory=dict)
    every_day: float = 0.0
    reach: tuple[int, ...] = (10, 15, 30)
    days: int | None = None

    def rain_on(self, day: int) -> float:
        """Litres collected on a day."""
        return self.every_day + self.rain.get(day, 0.0)


@dataclass(frozen=True, slots=True)
class Store:
    """So much water (L) or food (kJ): surely, perhaps besides, and why. known False: nothing can be said of it."""

    sure: float
    perhaps: float = 0.0
    known: bool = True
    how: str = ""
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Makers:
    """What makes water in a craft: litres each day by hand pump, litres once by desalting kit; what is not known."""

    each_day: float = 0.0
    once: float = 0.0
    doubt: str = ""

    def on(self, day: int) -> float:
        """Litres made on a day: a kit is used up in the days in which it makes its content."""
        days = int(policies()["ration.desalinator-days"].value)
        return self.each_day + (self.once / days if day <= days else 0.0)


@dataclass(slots=True)
class Case:
    """A craft in one scenario. persons None: not evaluated, why says so. absent: nobody is in it ('none', 'lost').

    lasting: days until the store ends; with_gains: with rain and desalinator (None: longer than LONGEST_PLAN days).
    reach: day -> the largest issue that is full to that day, with all gains (None: nothing need be issued until then).
    food_a_day: kJ for each person and day of issue, shared out evenly until the water ends.
    """

    scenario: str
    persons: int | None
    why: str = ""
    absent: str = ""
    lasting: float | None = None
    with_gains: float | None = None
    days: list[RationDay] = field(default_factory=list)
    days_with_gains: list[RationDay] = field(default_factory=list)
    reach: dict[int, float | None] = field(default_factory=dict)
    food_a_day: float | None = None
    food_left: list[float] = field(default_factory=list)


@dataclass(slots=True)
class CraftRations:
    """One craft: what it holds on the day asked, and how long that lasts in each scenario."""

    craft: Craft
    water: Store
    food: Store
    makers: Makers
    cases: list[Case]


@dataclass(slots=True)
class RationPlan:
    """Every survival craft of a book. left_out: persons for whom there is no place when a side is lost, by scenario."""

    on: date
    ask: Ask
    issue: float
    dry_days: int
    crafts: list[CraftRations]
    left_out: dict[str, int]
    horizon: int

    @property
    def gains(self) -> bool:
        """Whether anything is gained in any craft."""
        return bool(self.ask.every_day or self.ask.rain) or any(
            entry.makers.each_day or entry.makers.once for entry in self.crafts
        )


def ration_plan(audit: Audit, ask: Ask) -> RationPlan:
    """The plan of every lifeboat and liferaft of the book."""
    issue = ask.litres if ask.litres is not None else policies()["ration.litres-per-day"].value
    dry = int(policies()["ration.dry-days"].value)
    crafts = [craft for craft in audit.crafts if set(craft.families) & {"lifeboat", "liferaft"}]
    persons, left_out = _persons(audit, crafts)
    found = []
    for craft in crafts:
        cases = [Case(scenario, *persons[scenario][id(craft)]) for scenario in persons]
        found.append(
            CraftRations(
                craft, _store(audit, craft, WATER, "L"), _store(audit, craft, FOOD, "kJ"), _makers(audit, craft), cases
            )
        )
    for entry in found:
        _work_out(entry, ask, issue, dry)
    horizon = _horizon(found, ask)
    for entry in found:
        _day_by_day(entry, ask, issue, dry, horizon)
    return RationPlan(audit.on, ask, issue, dry, found, left_out, horizon)


# ---- who is in each craft ----------------------------------------------------------------------------------------

_InCraft = tuple[int | None, str, str]  # persons, why they are not known, why nobody is in it
_Persons = dict[str, dict[int, _InCraft]]


def _persons(audit: Audit, crafts: Sequence[Craft]) -> tuple[_Persons, dict[str, int]]:
    """Persons in each craft by scenario, with why where that is not known, and who is left out when a side is lost."""
    by_craft = {id(boarding.craft): boarding for boarding in boardings(audit)}
    recorded = any(boarding.assigned for boarding in by_craft.values())
    found: _Persons = {AS_ASSIGNED: {}, FULL: {}}
    for craft in crafts:
        found[AS_ASSIGNED][id(craft)] = _assigned(by_craft[id(craft)], recorded)
        room = craft.persons
        found[FULL][id(craft)] = (room, "" if room is not None else "persons permitted is not recorded", "")
    aboard, left_out = persons_on_board(audit), {}
    own = {id(craft): len(by_craft[id(craft)].assigned) for craft in crafts}
    for side, other in (SIDES, SIDES[::-1]):
        name = f"{side} side lost"
        found[name], left_out[name] = _side_lost(audit, crafts, other, aboard, own)
    return found, {name: number for name, number in left_out.items() if number}


def _assigned(boarding: Boarding, recorded: bool) -> _InCraft:
    if not recorded:
        return None, "the Crew sheet assigns nobody to a craft", ""
    if not boarding.craft.clear:
        return None, "the craft's name is not clear", ""
    return len(boarding.assigned), "", "" if boarding.assigned else "none"


def _side_lost(
    audit: Audit, crafts: Sequence[Craft], usable: str, aboard: int | None, own: Mapping[int, int]
) -> tuple[dict[int, _InCraft], int]:
    """Persons in each craft when only those usable on one side are left.

    Who belongs to them stays; the others fill the free places of the lifeboats first, then of the rafts, in the order
    of the Craft sheet: ours, for no text tells who goes where.
    """
    counted = {id(craft) for craft in counting(audit)}
    left = [craft for craft in crafts if id(craft) in counted and usable in usable_sides(craft)[0]]
    found: dict[int, _InCraft] = {}
    for craft in crafts:
        lies = usable_sides(craft)[1] and id(craft) in counted
        found[id(craft)] = (None, "", "lost" if lies else "not counted")
    if aboard is None:
        return dict.fromkeys(found, (None, "persons on board is not recorded", "")), 0
    order = sorted(left, key=lambda craft: "lifeboat" not in craft.families)
    waiting = aboard - sum(min(own[id(craft)], craft.persons or 0) for craft in order)
    for craft in order:
        if craft.persons is None:
            found[id(craft)] = (None, "persons permitted is not recorded", "")
            continue
        there = min(own[id(craft)], craft.persons)
        more = max(0, min(waiting, craft.persons - there))
        waiting -= more
        found[id(craft)] = (there + more, "", "" if there + more else "none")
    return found, max(0, waiting)


# ---- what is in it -----------------------------------------------------------------------------------------------


def _store(audit: Audit, craft: Craft, item: str, unit: str) -> Store:
    lots = [entry for entry in craft.lots if stock.counts_for(entry.lot, item)]
    if not lots and "liferaft" in craft.families:
        return _sealed(audit, craft, item)
    if not craft.lots:
        return Store(0, known=False, doubt="no inventory is recorded for this craft")
    found = stock.carried((entry.lot for entry in lots), item, unit, audit.on)
    doubts = [entry.doubt for entry in lots if entry.doubt]
    if found.unmeasured:
        doubts.append("what one piece of a lot holds is not recorded")
    how = "counted on the Inventory sheet"
    if found.expired:
        how += f"; {found.expired:g} {unit} more have expired and count for nothing"
    return Store(found.sure, found.possible, True, how, "; ".join(dict.fromkeys(doubts)))


def _sealed(audit: Audit, craft: Craft, item: str) -> Store:
    """What the pack of a raft must hold, shown by its service certificate."""
    if craft.facts["pack"] is None:
        return Store(0, known=False, doubt="pack (A or B) is not recorded")
    rule = _pack_rule(audit, craft, item)
    if rule is None:
        return Store(0, how=f"a SOLAS {craft.facts['pack']} pack holds none by the rules")
    amount = required(rule, craft.persons)
    if amount is None:
        return Store(0, known=False, doubt="persons permitted is not recorded")
    valid, why = certificate_state(audit, craft)
    earliest = craft.row.get("earliest_content")
    if valid and earliest is not None and earliest < audit.on:
        valid, why = False, f"dated contents of the pack ran out on {earliest}"
    if not valid:
        return Store(0, amount, False, f"{rule.reference}", why)
    return Store(amount, how=f"{why}; what the pack must hold by {rule.reference}")


def _pack_rule(audit: Audit, craft: Craft, item: str) -> Rule | None:
    for key, rows in audit.rule_set.by_key().items():
        if rows[0].subject in craft.subjects() and rows[0].item == item and rows[0].evidence == "certificate":
            return audit.rows_in_force(key, rows, craft.persons)[0]
    return None


def _makers(audit: Audit, craft: Craft) -> Makers:
    days = policies()["ration.desalinator-days"].value
    lots = [entry.lot for entry in craft.lots]
    pump, kit = (stock.carried(lots, item, "L", audit.on) for item in (_HAND_PUMP, _KIT))
    pieces = [stock.carried(lots, item, "each", audit.on).at_best for item in (_HAND_PUMP, _KIT)]
    unknown = [
        name
        for name, found, number in zip((_HAND_PUMP, _KIT), (pump, kit), pieces, strict=True)
        if number and not found.sure
    ]
    doubt = "; ".join(f"what the {name} makes is not clear from the record" for name in unknown)
    return Makers(pump.sure / days, kit.sure, doubt)


# ---- how long it lasts -------------------------------------------------------------------------------------------


def _work_out(entry: CraftRations, ask: Ask, litres: float, dry: int) -> None:
    for case in entry.cases:
        if not entry.water.known and not case.absent:
            case.why = case.why or entry.water.doubt
        if not case.persons or case.why or case.absent:
            continue
        issue = Issue(case.persons, litres, dry, ask.injured)
        gain = _gain(entry, ask)
        case.lasting = days_lasting(entry.water.sure, issue)
        case.with_gains = days_lasting(entry.water.sure, issue, gain)
        case.reach = {day: issue_reaching(entry.water.sure, issue, day, gain) for day in ask.reach}


def _gain(entry: CraftRations, ask: Ask) -> Gain:
    return lambda day: ask.rain_on(day) + entry.makers.on(day)


def _horizon(found: Sequence[CraftRations], ask: Ask) -> int:
    """Days to show: until the last water ends, or as many as are asked."""
    if ask.days is not None:
        return ask.days
    ends = [end for entry in found for case in entry.cases for end in (case.lasting, case.with_gains) if end]
    return min(LONGEST_TABLE, max([SHORTEST_TABLE, *(math.ceil(end) for end in ends)]))


def _day_by_day(entry: CraftRations, ask: Ask, litres: float, dry: int, horizon: int) -> None:
    for case in entry.cases:
        if not case.persons or case.why or case.absent:
            continue
        issue = Issue(case.persons, litres, dry, ask.injured)
        case.days = list(plan(entry.water.sure, issue, horizon))
        case.days_with_gains = list(plan(entry.water.sure, issue, horizon, _gain(entry, ask)))
        if entry.food.known:
            _share_food(entry, case, dry, horizon)


def _share_food(entry: CraftRations, case: Case, dry: int, horizon: int) -> None:
    """Food in even parts over the days of issue on which there is water, since it is not eaten without."""
    last = case.with_gains if case.with_gains is not None else float(LONGEST_PLAN)
    days = max(0, min(math.ceil(last), LONGEST_PLAN) - dry)
    if not days:
        case.food_left = [entry.food.sure] * horizon
        return
    case.food_a_day = entry.food.sure / ((case.persons or 1) * days)
    case.food_left = [max(0.0, entry.food.sure * (1 - max(0, day - dry) / days)) for day in range(1, horizon + 1)]
