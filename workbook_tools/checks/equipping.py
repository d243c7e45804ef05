"""The ways in which a ship may be equipped with craft, each a group of rules (SOLAS III/21.1 and III/31.1).

The way she meets, or comes nearest to, counts; the rules of the others do not apply. Only III/31.1.3.4 and III/21.1.4
make the loss of a craft a rule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.cover import (
    Cover,
    Entries,
    Rules,
    cover_persons,
    each_side,
    none_carried,
    none_recorded,
    together,
)
from workbook_tools.checks.places import (
    Equipped,
    counting,
    equipped_with,
    place_of,
    places_of,
    unclear_craft,
    usable_sides,
)
from workbook_tools.core import coverage as core
from workbook_tools.core.coverage import SIDES, Loss, Place
from workbook_tools.rules import Rule

_COUNTS = "-counts"  # how the key of a rule ends that only says which craft count


def _all_transferable(rafts: list[Craft]) -> bool:
    return bool(rafts) and all(craft.facts["transferable"] == "yes" for craft in rafts)


def _none(equipped: Equipped, rules: list[Rule], what: str) -> list[Cover]:
    """No craft of a kind is recorded: short of the first rule where the Craft sheet is kept, and told once."""
    if not equipped.complete:
        return none_recorded(rules, what)
    return [none_carried(rules[0], equipped.persons), *none_recorded(rules[1:], what)]


def _davit(equipped: Equipped, rules: Rules) -> list[Cover]:
    """Lifeboats on each side, and liferafts (III/31.1.1)."""
    boats, rafts, persons = equipped.lifeboats, equipped.rafts, equipped.persons
    found = (
        each_side(rules["davit-lifeboats"], places_of(boats), boats, persons)
        if boats
        else _none(equipped, [rules["davit-lifeboats"]], "lifeboat")
    )
    if not rafts:
        return [*found, *_none(equipped, [rules["davit-rafts"]], "liferaft")]
    if _all_transferable(rafts):
        return [*found, together(rules["davit-rafts-transferable"], core.together(places_of(rafts)), rafts, persons)]
    return [*found, *each_side(rules["davit-rafts"], places_of(rafts), rafts, persons)]


def _free_fall(equipped: Equipped, rules: Rules) -> list[Cover]:
    """Free-fall lifeboats over the stern, and liferafts on each side, those of one side launched (III/31.1.2)."""
    boats, rafts, persons = equipped.free_fall, equipped.rafts, equipped.persons
    found = [together(rules["free-fall-lifeboats"], core.together(places_of(boats)), boats, persons)]
    launching = rules.get("free-fall-raft-launching")
    alternative = rules.get("free-fall-raft-launching-or-system")
    if not rafts:
        others = [rule for rule in (launching, alternative) if rule is not None]
        return [*found, *_none(equipped, [rules["free-fall-rafts"], *others], "liferaft")]
    found += each_side(rules["free-fall-rafts"], places_of(rafts), rafts, persons)
    if launching is not None:
        found.append(_launched(launching, rafts, persons, may_be_system=False))
    if alternative is not None:
        found.append(_launched(alternative, rafts, persons, may_be_system=True))
    return found


def _launched(rule: Rule, rafts: list[Craft], persons: int, may_be_system: bool) -> Cover:
    """Whether the rafts of one side at least stand under launching appliances."""
    davit = [craft for craft in rafts if craft.kind == "davit-launched liferaft"]
    asked = rule.fixed * persons / 100
    if any(core.on_side(places_of(davit), side).least >= asked for side in SIDES):
        return Cover(rule, SHIP, "passed", "counted")
    if may_be_system:
        return Cover(
            rule, SHIP, "not_evaluated", "whether the rafts of a side have an evacuation system is not recorded"
        )
    places = places_of(davit)
    if any(core.on_side(places, side).most >= asked for side in SIDES):
        return Cover(rule, SHIP, "not_evaluated", core.joined(core.on_side(places, side).doubt for side in SIDES))
    if davit:
        there = max(core.on_side(places, side).most for side in SIDES)
        taken = ", ".join(f"{core.on_side(places, side).most:g} to {side}" for side in SIDES)
        return Cover(
            rule,
            SHIP,
            "finding",
            code="CV07",
            row=davit[0].row,
            column="persons",
            message=f"davit-launched liferafts take {taken}; those of one side at least must take all {persons} "
            f"({rule.note})",
            remedy="correct the type or the persons of the rafts; if they are right, ask class or the Administration. "
            "Launching gear is worked on only by those certified for it, by the maker's manual",
            asked=asked,
            there=there,
            unit="persons",
        )
    return Cover(
        rule,
        SHIP,
        "finding",
        code="CV07",
        row=rafts[0].row,
        column="kind",
        message=f"none of the {len(rafts)} liferafts beside the free-fall lifeboat is davit-launched; those of "
        f"one side at least must be ({rule.note})",
        remedy="correct the type of the rafts that stand under a launching appliance; if there are none, ask class or "
        "the Administration. Launching gear is worked on only by those certified for it, by the maker's manual",
        asked=1,
        unit="each",
    )


def _rafts_only(prefix: str) -> Callable[[Equipped, Rules], list[Cover]]:
    """Liferafts on each side, with the loss of a craft allowed for (III/31.1.3, III/21.1.4)."""

    def evaluate(equipped: Equipped, rules: Rules) -> list[Cover]:
        rafts, persons = equipped.rafts, equipped.persons
        counts = rules.get(f"{prefix}-rescue-boat-counts")
        boats = [place for craft in equipped.lifeboats if counts and (place := _if_it_counts(counts, craft))]
        if not rafts:
            return none_recorded([rules[f"{prefix}-rafts"]], "liferaft")
        whole, anchors = rules[f"{prefix}-rafts"], [*rafts, *equipped.lifeboats]
        found = each_side(whole, [*places_of(rafts), *boats], anchors, persons)
        if _all_transferable(rafts):
            moved, stowed = rules[f"{prefix}-rafts-transferable"], places_of(rafts, stowed=True)
            alone = each_side(moved, stowed, anchors, persons)
            # a rescue boat that counts needs the 150 % all the same (31.1.3.3); either way will do
            helped = [*found, *each_side(moved, [*stowed, *boats], anchors, persons)]
            found = min(alone, helped, key=_worst) if boats else alone
        if counts is not None and found[0].rule is whole and boats:
            found.append(Cover(counts, SHIP, "passed", "counted"))
        any_loss, largest = rules.get(f"{prefix}-loss"), rules.get(f"{prefix}-largest-loss")
        if any_loss is not None:
            found += _losses(any_loss, equipped, core.after_any_loss)
        if largest is not None:
            found += _losses(largest, equipped, core.after_largest_loss)
        return found

    return evaluate


def _if_it_counts(counts: Rule, craft: Craft) -> Place | None:
    holds, why = counts.condition.holds(craft.facts)
    return None if holds is False else place_of(craft, sure=bool(holds), doubt=f"{why} for {craft.name}" if why else "")


def _losses(rule: Rule, equipped: Equipped, after: Callable[[Sequence[Place], str], Loss]) -> Iterator[Cover]:
    places = places_of(equipped.crafts)
    for side in SIDES:
        loss = after(places, side)
        lost = next((craft for craft in equipped.crafts if craft.name == loss.lost), None)
        yield cover_persons(rule, f"{side} side", f"{loss.lost} lost", loss.places, equipped.persons, lost, code="CV04")


def _worst(covers: list[Cover]) -> tuple[int, int]:
    order = ("passed", "not_evaluated", "finding")
    return (
        max(order.index(cover.state) for cover in covers),
        sum(cover.state == "finding" for cover in covers),
    )


def _passenger(prefix: str) -> Callable[[Equipped, Rules], list[Cover]]:
    """Lifeboats, liferafts that make up the number, and additional liferafts (III/21.1.1, 21.1.2)."""

    def evaluate(equipped: Equipped, rules: Rules) -> list[Cover]:
        persons, rafts = equipped.persons, equipped.rafts
        boats = [*equipped.lifeboats, *equipped.free_fall]
        named: Rules = {
            name: rules[f"{prefix}-{name}"]
            for name in ("lifeboats", "lifeboats-floor", "raft-counts", "craft", "extra-rafts")
            if f"{prefix}-{name}" in rules
        }
        if not boats:
            # below the floor no liferafts may stand for boats: where there is one, it is the rule that is not met
            first = "lifeboats-floor" if "lifeboats-floor" in named else "lifeboats"
            ordered = sorted(named.values(), key=lambda rule: rule is not named.get(first))
            return _none(equipped, ordered, "lifeboat")
        places, raft_places = places_of(boats), places_of(rafts)
        total, raft_total = core.together(places), core.together(raft_places)
        found: list[Cover] = []
        groups = [total]
        asked = 0.0
        if "lifeboats-floor" in named:
            found += each_side(named["lifeboats-floor"], places, boats, persons)
        if "lifeboats" in named and "raft-counts" in named:
            rule, counts = named["lifeboats"], named["raft-counts"]
            standing_in = [place for craft in rafts if (place := _stands_in(counts, craft))]
            found += each_side(rule, [*places, *standing_in], boats, persons)
            groups = [core.on_side(places, side) for side in SIDES]
            asked = rule.fixed * persons / 100
            found.append(Cover(counts, SHIP, "passed", "counted"))
        elif "lifeboats" in named:
            found.append(together(named["lifeboats"], total, boats, persons))
        if "craft" in named:
            asked = named["craft"].fixed * persons / 100
            found.append(together(named["craft"], total.plus(raft_total), boats, persons))
        if not rafts:
            return [*found, *none_recorded([named["extra-rafts"]], "liferaft")]
        extra = core.beyond_replaced(raft_total, groups, asked)
        return [*found, together(named["extra-rafts"], extra, rafts, persons)]

    return evaluate


def _stands_in(counts: Rule, raft: Craft) -> Place:
    """A raft that may stand for a lifeboat: one that is launched surely; another may be served by a system."""
    holds, _ = counts.condition.holds(raft.facts)
    return place_of(raft, sure=bool(holds), doubt=f"whether a launching appliance serves {raft.name} is not recorded")


@dataclass(frozen=True, slots=True)
class Option:
    """One way in which a ship may be equipped: its rules, how they are evaluated, and for which ship it is meant.

    persons_limit: a rule that names the number of persons up to which the way is open.
    otherwise: the way looked at where the ship has the craft of none.
    """

    rules: tuple[str, ...]
    evaluate: Callable[[Equipped, Rules], list[Cover]]
    meant_for: Callable[[Equipped], bool]
    persons_limit: str = ""
    otherwise: bool = False


OPTIONS = (
    # Among ways that fail alike the first counts: a free-fall lifeboat shows which way was meant.
    Option(
        (
            "free-fall-lifeboats",
            "free-fall-rafts",
            "free-fall-raft-launching",
            "free-fall-raft-launching-or-system",
        ),
        _free_fall,
        lambda ship: bool(ship.free_fall),
    ),
    Option(
        ("davit-lifeboats", "davit-rafts", "davit-rafts-transferable"),
        _davit,
        lambda ship: all(any(side in usable_sides(boat)[1] for boat in ship.lifeboats) for side in SIDES),
        otherwise=True,
    ),
    Option(
        ("short-rafts-transferable", "short-rafts", "short-rescue-boat-counts", "short-loss", "short-largest-loss"),
        _rafts_only("short"),
        lambda ship: bool(ship.rafts),
    ),
    Option(
        (
            "passenger-lifeboats",
            "passenger-lifeboats-floor",
            "passenger-raft-counts",
            "passenger-craft",
            "passenger-extra-rafts",
        ),
        _passenger("passenger"),
        lambda ship: bool(ship.lifeboats or ship.free_fall),
        otherwise=True,
    ),
    Option(
        ("short-international-lifeboats", "short-international-craft", "short-international-extra-rafts"),
        _passenger("short-international"),
        lambda ship: bool(ship.lifeboats or ship.free_fall),
    ),
    Option(
        (
            "small-passenger-persons",
            "small-passenger-rafts-transferable",
            "small-passenger-rafts",
            "small-passenger-rescue-boat-counts",
            "small-passenger-largest-loss",
        ),
        _rafts_only("small-passenger"),
        lambda ship: bool(ship.rafts),
        persons_limit="small-passenger-persons",
    ),
)


OF_OPTIONS = {name for option in OPTIONS for name in option.rules}


def _closed(option: Option, entries: Entries, persons: int) -> str:
    """Why a way is not open to the ship; '' when it is, or may be."""
    own = [entries[name] for name in option.rules if name in entries]
    limit = entries.get(option.persons_limit)
    if limit is not None and not limit.state and persons > limit.rule.fixed:
        return f"{persons} persons on board; {limit.rule.note}"
    return next((entry.why for entry in own if entry.state == "not_applicable"), "" if own else "no such rule")


def _doubt(option: Option, entries: Entries) -> str:
    """Which fact is missing to tell whether a way is open to the ship.

    A rule that says which craft count asks facts of a craft, which the ship as a whole does not have.
    """
    own = [entries[name] for name in option.rules if name in entries and not name.endswith(_COUNTS)]
    return next((entry.why or entry.doubt for entry in own if entry.state or entry.doubt), "")


def _evaluated(option: Option, entries: Entries, equipped: Equipped) -> list[Cover]:
    rules = {name: entries[name].rule for name in option.rules if name in entries}
    found = option.evaluate(equipped, rules)
    if option.persons_limit in rules:
        found.append(Cover(rules[option.persons_limit], SHIP, "passed", "counted"))
    return found


def equipping(audit: Audit, entries: Entries, persons: int | None) -> Iterator[Cover]:
    """Evaluate the ways in which the ship may be equipped; the one she meets, or comes nearest to, counts."""
    reason = unclear_craft(counting(audit)) or ("persons on board is not recorded" if persons is None else "")
    if reason or persons is None:
        yield from _as_they_stand(entries, "not_evaluated", reason)
        return
    equipped = equipped_with(audit, persons)
    not_closed = [option for option in OPTIONS if not _closed(option, entries, persons)]
    meant = [option for option in not_closed if option.meant_for(equipped)]
    meant = meant or [option for option in not_closed if option.otherwise]
    doubtful = [option for option in meant if _doubt(option, entries)]
    tried = [_evaluated(option, entries, equipped) for option in meant if option not in doubtful]
    chosen = min(tried, key=_worst, default=[])
    doubt = _doubt(doubtful[0], entries) if doubtful else ""
    if doubt:
        chosen = [
            replace(cover, state="not_evaluated", why=doubt) if cover.state == "finding" else cover for cover in chosen
        ]
    yield from chosen
    told = {cover.rule.key for cover in chosen}
    left = {name: entry for name, entry in entries.items() if entry.rule.key not in told}
    if chosen and (not doubt or _worst(chosen)[0] == 0):
        yield from _as_they_stand(left, "not_applicable", f"the ship is looked at under {chosen[0].rule.reference}")
    else:
        yield from _as_they_stand(left, "not_evaluated", doubt or "no way of equipping the ship is open to her")


def _as_they_stand(entries: Entries, state: str, why: str) -> Iterator[Cover]:
    """Rules that are not looked at: for their own reason where they have one, else for the one given."""
    for entry in entries.values():
        if entry.state:
            yield Cover(entry.rule, SHIP, entry.state, entry.why)
        elif entry.doubt and state == "not_evaluated" and not entry.rule.key.endswith(_COUNTS):
            yield Cover(entry.rule, SHIP, state, entry.doubt)
        else:
            yield Cover(entry.rule, SHIP, state, why)
