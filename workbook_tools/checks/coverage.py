"""Whether the craft have a place for everyone, also when a side or a craft is lost (CV codes). SOLAS III/21 and III/31.

A ship may be equipped in one of several ways, each a group of rules. The one she meets, or comes nearest to, counts;
the rules of the others do not apply. Only III/31.1.3.4 and III/21.1.4 make the loss of a craft a rule: for every other
ship `scenarios` tells what would be left, as information.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from workbook_tools.checks.context import SHIP, Audit, Craft, ShipRule
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.core import coverage as core
from workbook_tools.core.coverage import SIDES, Loss, Place, Range, Scenario
from workbook_tools.findings import Finding, Persons, PlacesAfterLoss, State
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

_COUNTS = "-counts"  # how the key of a rule ends that only says which craft count
OTHER = {"port": "starboard", "starboard": "port"}
_CORRECT = "correct the figures; if they are right, the number of persons on board exceeds what the craft can take"


@dataclass(slots=True)
class Cover:
    """How one rule ended for the ship, one of its sides or a craft, and what there is to say if it is not met."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    code: str = ""
    sheet: str = "craft"
    row: Row | None = None
    column: str = "persons"
    message: str = ""
    remedy: str = _CORRECT
    asked: float = 0.0
    there: float = 0.0
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Equipped:
    """The persons to be carried, and the survival craft that count: a remote raft never does, nor an extra craft."""

    persons: int
    crafts: list[Craft]

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


Rules = dict[str, Rule]
Entries = dict[str, ShipRule]


# ---- persons ------------------------------------------------------------------------------------------------------


def _is_passenger(row: Row) -> bool:
    return "passenger" in str(row.get("rank") or "").casefold()


def _listed(audit: Audit) -> list[Row]:
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
    listed = _listed(audit)
    if audit.ship_facts["ship_family"] != "passenger":
        return len(listed) or None
    passengers = audit.book.ship_value("passengers")
    named = sum(map(_is_passenger, listed))
    if not listed or (passengers is None and not named):
        return None
    return len(listed) - named + max(named, int(passengers or 0))


# ---- places -------------------------------------------------------------------------------------------------------


def _counting(audit: Audit) -> list[Craft]:
    return [craft for craft in audit.crafts if craft.purpose in ("required", None)]


def _unclear(crafts: Sequence[Craft]) -> str:
    if not crafts:
        return "no craft is recorded"
    return next((f"the type of {craft.name} is not clear" for craft in crafts if craft.kind is None), "")


def _equipped(audit: Audit, persons: int) -> Equipped:
    return Equipped(persons, [craft for craft in _counting(audit) if set(craft.families) & {"lifeboat", "liferaft"}])


def _usable_sides(craft: Craft) -> tuple[frozenset[str], frozenset[str], str]:
    """The sides on which a craft can surely be used, those on which it perhaps can, and why they differ."""
    side, transfer = craft.row.get("side"), craft.facts["transferable"]
    if transfer == "yes" and "liferaft" in craft.families:
        return core.BOTH, core.BOTH, ""
    if side is None:
        if craft.kind == "free-fall lifeboat":
            return core.NEITHER, core.NEITHER, ""
        return core.NEITHER, core.BOTH, f"side of {craft.name} is not recorded"
    own = core.BOTH & {side}
    if transfer is None and craft.kind == "liferaft":
        return own, core.BOTH, f"side-to-side transfer of {craft.name} is not recorded"
    return own, own, ""


def _stowed_sides(craft: Craft) -> tuple[frozenset[str], frozenset[str], str]:
    """The side on which a raft is stowed, transfer apart. One that lies aft amidships may be meant for either."""
    side = craft.row.get("side")
    if side in SIDES:
        return frozenset({side}), frozenset({side}), ""
    return core.NEITHER, core.BOTH, f"{craft.name} is recorded on neither side"


def _place(craft: Craft, stowed: bool = False, sure: bool = True, doubt: str = "") -> Place:
    """The places of a craft. sure False: it only perhaps counts, for the reason in doubt."""
    sure_sides, possible_sides, side_doubt = _stowed_sides(craft) if stowed else _usable_sides(craft)
    least: float = craft.persons or 0
    most: float = float("inf") if craft.persons is None else craft.persons
    if craft.persons is None:
        doubt = f"persons permitted of {craft.name} is not recorded"
    elif craft.purpose is None:
        least, doubt = 0, f"purpose of {craft.name} is not clear"
    elif not sure:
        least = 0
    return Place(craft.name, least, most, sure_sides, possible_sides, doubt, side_doubt)


def _places(crafts: Iterable[Craft], stowed: bool = False) -> list[Place]:
    return [_place(craft, stowed) for craft in crafts]


def scenarios(audit: Audit) -> list[Scenario]:
    """What would be left of the places if a side or a craft were lost; none where persons or craft are not recorded.

    For information: a rule asks it of few ships, and those rules are evaluated apart.
    """
    persons = persons_on_board(audit)
    if persons is None or _unclear(_counting(audit)):
        return []
    equipped = _equipped(audit, persons)
    return core.scenarios(_places(equipped.crafts), persons) if equipped.crafts else []


def persons_and_places(audit: Audit) -> Persons:
    """Persons on board, persons certified and places, for the reports, with what the loss of craft would leave."""
    certified = audit.book.ship_value("persons_certified")
    places: dict[str, int] = {}
    for craft in _counting(audit):
        side = craft.row.get("side")
        if craft.persons is not None and side is not None and {"lifeboat", "liferaft"} & set(craft.families):
            places[side] = places.get(side, 0) + craft.persons
    losses = [
        PlacesAfterLoss(scenario.name, int(scenario.places.least), scenario.left_out)
        for scenario in scenarios(audit)
        if scenario.places.least == scenario.places.most
    ]
    return Persons(persons_on_board(audit), None if certified is None else int(certified), places, tuple(losses))


# ---- one rule in persons ------------------------------------------------------------------------------------------


def _judged(found: Range, asked: float) -> tuple[str, str]:
    if found.least >= asked:
        return "passed", "counted"
    if found.most < asked:
        return "finding", ""
    return "not_evaluated", found.doubt


def _cover(
    rule: Rule,
    subject: str,
    scenario: str,
    found: Range,
    persons: int,
    anchor: Craft | None,
    code: str = "CV01",
) -> Cover:
    """A rule that asks places for a share of the persons."""
    asked = rule.fixed * persons / 100
    state, why = _judged(found, asked)
    percent = core.share_covered(persons, found.most)
    lacking = core.left_out(persons, found.most)
    message = (
        f"{rule.item}, {subject}, {scenario}: places for {'' if found.least == found.most else 'at most '}"
        f"{found.most:g} of {persons} persons ({percent:.0f} %)"
        f"{f', {lacking} left out' if lacking else ''}; {rule.fixed:g} % asked ({rule.note or rule.item})"
    )
    row = anchor.row if anchor else None
    return Cover(
        rule, subject, state, why, code, row=row, message=message, asked=asked, there=found.most, unit="persons"
    )


def _anchor(crafts: Iterable[Craft], side: str | None) -> Craft | None:
    return next((craft for craft in crafts if side is None or craft.row.get("side") == side), None)


def _each_side(rule: Rule, places: list[Place], crafts: list[Craft], persons: int) -> list[Cover]:
    return [
        _cover(
            rule,
            f"{side} side",
            f"{OTHER[side]} side lost",
            core.on_side(places, side),
            persons,
            _anchor(crafts, side),
        )
        for side in SIDES
    ]


def _together(rule: Rule, found: Range, crafts: list[Craft], persons: int) -> Cover:
    return _cover(rule, SHIP, "all craft usable", found, persons, _anchor(crafts, None))


def _none(rules: Iterable[Rule], what: str) -> list[Cover]:
    """A kind of craft without any line: perhaps not written down yet."""
    return [Cover(rule, SHIP, "not_evaluated", f"no {what} is recorded on the Craft sheet") for rule in rules]


def _all_transferable(rafts: list[Craft]) -> bool:
    return bool(rafts) and all(craft.facts["transferable"] == "yes" for craft in rafts)


# ---- the ways in which a ship may be equipped ---------------------------------------------------------------------


def _davit(equipped: Equipped, rules: Rules) -> list[Cover]:
    """Lifeboats on each side, and liferafts (III/31.1.1)."""
    boats, rafts, persons = equipped.lifeboats, equipped.rafts, equipped.persons
    found = (
        _each_side(rules["davit-lifeboats"], _places(boats), boats, persons)
        if boats
        else _none([rules["davit-lifeboats"]], "lifeboat")
    )
    if not rafts:
        return [*found, *_none([rules["davit-rafts"]], "liferaft")]
    if _all_transferable(rafts):
        return [*found, _together(rules["davit-rafts-transferable"], core.together(_places(rafts)), rafts, persons)]
    return [*found, *_each_side(rules["davit-rafts"], _places(rafts), rafts, persons)]


def _free_fall(equipped: Equipped, rules: Rules) -> list[Cover]:
    """Free-fall lifeboats over the stern, and liferafts on each side, those of one side launched (III/31.1.2)."""
    boats, rafts, persons = equipped.free_fall, equipped.rafts, equipped.persons
    found = [_together(rules["free-fall-lifeboats"], core.together(_places(boats)), boats, persons)]
    launching = rules.get("free-fall-raft-launching")
    alternative = rules.get("free-fall-raft-launching-or-system")
    if not rafts:
        return [*found, *_none(filter(None, (rules["free-fall-rafts"], launching, alternative)), "liferaft")]
    found += _each_side(rules["free-fall-rafts"], _places(rafts), rafts, persons)
    if launching is not None:
        found.append(_launched(launching, rafts, persons, may_be_system=False))
    if alternative is not None:
        found.append(_launched(alternative, rafts, persons, may_be_system=True))
    return found


def _launched(rule: Rule, rafts: list[Craft], persons: int, may_be_system: bool) -> Cover:
    """Whether the rafts of one side at least stand under launching appliances."""
    davit = [craft for craft in rafts if craft.kind == "davit-launched liferaft"]
    asked = rule.fixed * persons / 100
    if any(core.on_side(_places(davit), side).least >= asked for side in SIDES):
        return Cover(rule, SHIP, "passed", "counted")
    if may_be_system:
        return Cover(
            rule, SHIP, "not_evaluated", "whether the rafts of a side have an evacuation system is not recorded"
        )
    if davit:
        return Cover(rule, SHIP, "not_evaluated", "not all the rafts of a side are recorded as davit-launched")
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
            return _none([rules[f"{prefix}-rafts"]], "liferaft")
        whole, anchors = rules[f"{prefix}-rafts"], [*rafts, *equipped.lifeboats]
        found = _each_side(whole, [*_places(rafts), *boats], anchors, persons)
        if _all_transferable(rafts):
            moved, stowed = rules[f"{prefix}-rafts-transferable"], _places(rafts, stowed=True)
            alone = _each_side(moved, stowed, anchors, persons)
            # a rescue boat that counts needs the 150 % all the same (31.1.3.3); either way will do
            helped = [*found, *_each_side(moved, [*stowed, *boats], anchors, persons)]
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
    return None if holds is False else _place(craft, sure=bool(holds), doubt=f"{why} for {craft.name}" if why else "")


def _losses(rule: Rule, equipped: Equipped, after: Callable[[Sequence[Place], str], Loss]) -> Iterator[Cover]:
    places = _places(equipped.crafts)
    for side in SIDES:
        loss = after(places, side)
        lost = next((craft for craft in equipped.crafts if craft.name == loss.lost), None)
        yield _cover(rule, f"{side} side", f"{loss.lost} lost", loss.places, equipped.persons, lost, code="CV04")


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
            return _none(named.values(), "lifeboat")
        places, raft_places = _places(boats), _places(rafts)
        total, raft_total = core.together(places), core.together(raft_places)
        found: list[Cover] = []
        groups = [total]
        asked = 0.0
        if "lifeboats-floor" in named:
            found += _each_side(named["lifeboats-floor"], places, boats, persons)
        if "lifeboats" in named and "raft-counts" in named:
            rule, counts = named["lifeboats"], named["raft-counts"]
            standing_in = [place for craft in rafts if (place := _stands_in(counts, craft))]
            found += _each_side(rule, [*places, *standing_in], boats, persons)
            groups = [core.on_side(places, side) for side in SIDES]
            asked = rule.fixed * persons / 100
            found.append(Cover(counts, SHIP, "passed", "counted"))
        elif "lifeboats" in named:
            found.append(_together(named["lifeboats"], total, boats, persons))
        if "craft" in named:
            asked = named["craft"].fixed * persons / 100
            found.append(_together(named["craft"], total.plus(raft_total), boats, persons))
        if not rafts:
            return [*found, *_none([named["extra-rafts"]], "liferaft")]
        extra = core.beyond_replaced(raft_total, groups, asked)
        return [*found, _together(named["extra-rafts"], extra, rafts, persons)]

    return evaluate


def _stands_in(counts: Rule, raft: Craft) -> Place:
    """A raft that may stand for a lifeboat: one that is launched surely; another may be served by a system."""
    holds, _ = counts.condition.holds(raft.facts)
    return _place(raft, sure=bool(holds), doubt=f"whether a launching appliance serves {raft.name} is not recorded")


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
        lambda ship: all(any(side in _usable_sides(boat)[1] for boat in ship.lifeboats) for side in SIDES),
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
_OF_OPTIONS = {name for option in OPTIONS for name in option.rules}


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


def _options(audit: Audit, entries: Entries, persons: int | None) -> Iterator[Cover]:
    """Evaluate the ways in which the ship may be equipped; the one she meets, or comes nearest to, counts."""
    reason = _unclear(_counting(audit)) or ("persons on board is not recorded" if persons is None else "")
    if reason or persons is None:
        yield from _as_they_stand(entries, "not_evaluated", reason)
        return
    equipped = _equipped(audit, persons)
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


# ---- single rules -------------------------------------------------------------------------------------------------


def _at_most_certified(what: str, column: str, certified: str) -> Callable[[Audit, Rule, Entries], Iterable[Cover]]:
    def evaluate(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
        number = persons_on_board(audit) if column == "persons_on_board" else audit.book.ship_value(column)
        allowed = audit.book.ship_value(certified)
        if number is None or allowed is None:
            missing = f"{what} on board" if number is None else f"{what} certified for"
            return [Cover(rule, SHIP, "not_evaluated", f"{missing} is not recorded")]
        most = rule.fixed * allowed / 100
        if number <= most:
            return [Cover(rule, SHIP, "passed", "counted")]
        recorded = audit.book.ship_value(column) is not None
        return [
            Cover(
                rule,
                SHIP,
                "finding",
                code="CV03",
                sheet="ship",
                row=audit.book.rows("ship")[0],
                column=column if recorded else certified,
                message=f"{number} {what} on board, the ship is certified for {allowed}: {number - most:g} too many "
                f"({rule.note})",
                remedy="do not sail: land those beyond the number, or correct the figure that is wrong",
                asked=most,
                there=number,
                unit="persons",
            )
        ]

    return evaluate


def _rescue_boats(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
    yield _rescue_cover(audit, rule, SHIP, None)


def _rescue_boats_each_side(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
    for side in SIDES:
        yield _rescue_cover(audit, rule, f"{side} side", side)


def _rescue_cover(audit: Audit, rule: Rule, subject: str, side: str | None) -> Cover:
    if not audit.crafts:
        return Cover(rule, subject, "not_evaluated", "no craft is recorded")
    sure = possible = 0
    doubts = []
    for craft in audit.crafts:
        recorded = craft.row.get("side")
        if craft.kind is None:
            possible += side in (None, recorded) or recorded is None
            doubts.append(f"the type of {craft.name} is not clear")
        elif "rescue-boat" in craft.families:
            sure += side in (None, recorded)
            possible += side in (None, recorded) or recorded is None
            if side is not None and recorded is None:
                doubts.append(f"side of {craft.name} is not recorded")
    state, why = _judged(Range(sure, possible, core.joined(doubts)), rule.fixed)
    where = "" if side is None else f" on the {subject}"
    return Cover(
        rule,
        subject,
        state,
        why,
        "CV02",
        column="kind",
        message=f"rescue boats{where}: {sure} recorded, {rule.fixed:g} asked ({rule.note})",
        remedy="correct the type or side of the boat that serves as rescue boat; if there is none, have one fitted",
        asked=rule.fixed,
        there=sure,
    )


def _remote_raft(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
    rafts = [craft for craft in audit.crafts if "liferaft" in craft.families]
    if any(craft.purpose == "remote" for craft in rafts):
        return [Cover(rule, SHIP, "passed", "counted")]
    unclear = next((craft.name for craft in audit.crafts if craft.kind is None or craft.purpose is None), "")
    if unclear or not rafts:
        why = f"type or purpose of {unclear} is not clear" if unclear else "no liferaft is recorded on the Craft sheet"
        return [Cover(rule, SHIP, "not_evaluated", why)]
    return [
        Cover(
            rule,
            SHIP,
            "finding",
            code="CV08",
            sheet="ship",
            row=audit.book.rows("ship")[0] if audit.book.rows("ship") else None,
            column="far_stem_or_stern",
            message=f"no raft with the purpose 'remote' is recorded, {rule.fixed:g} asked ({rule.note})",
            remedy="mark the raft stowed far forward or aft as 'remote'; if there is none, have one fitted",
            asked=rule.fixed,
        )
    ]


def _bulk_carrier(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
    crafts = _counting(audit)
    boats = [craft for craft in crafts if "lifeboat" in craft.families]
    if any(craft.kind == "free-fall lifeboat" for craft in boats):
        return [Cover(rule, SHIP, "passed", "counted")]
    short = entries.get("short-rafts")
    if short is not None and short.state != "not_applicable":
        if short.state or short.doubt:
            return [Cover(rule, SHIP, "not_evaluated", short.why or short.doubt)]
        return [Cover(rule, SHIP, "not_applicable", f"she may be equipped under {short.rule.reference} instead")]
    why = _unclear(crafts) or ("" if boats else "no lifeboat is recorded on the Craft sheet")
    why = why or next((f"purpose of {craft.name} is not clear" for craft in crafts if craft.purpose is None), "")
    if why:
        return [Cover(rule, SHIP, "not_evaluated", why)]
    return [
        Cover(
            rule,
            SHIP,
            "finding",
            code="CV06",
            row=boats[0].row,
            column="kind",
            message=f"a bulk carrier with {len(boats)} lifeboats on falls and no free-fall lifeboat; {rule.fixed:g} "
            f"asked ({rule.note})",
            remedy="correct the type of the boat or of the ship, or the keel date; if they are right, ask class or the "
            "Administration",
            asked=rule.fixed,
        )
    ]


def _marshalling(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
    persons = persons_on_board(audit)
    why = _unclear(audit.crafts) or ("persons on board is not recorded" if persons is None else "")
    if why or persons is None:
        return [Cover(rule, SHIP, "not_evaluated", why)]
    equipped = _equipped(audit, persons)
    rafts = _places(equipped.rafts)
    boats = [craft for craft in audit.crafts if {"lifeboat", "rescue-boat"} & set(craft.families)]
    if not boats or not rafts:
        what = "lifeboat or rescue boat" if rafts else "liferaft"
        return _none([rule], what)
    in_boats = core.together(_places([*equipped.lifeboats, *equipped.free_fall]))
    at_least = core.rafts_to_marshal(persons - in_boats.most, [raft.most for raft in rafts])
    at_most = core.rafts_to_marshal(persons - in_boats.least, [raft.least for raft in rafts])
    limit = rule.fixed * len(boats)
    if at_most <= limit:
        return [Cover(rule, SHIP, "passed", "counted")]
    if at_least <= limit:
        doubt = core.joined([in_boats.doubt, *(raft.doubt for raft in rafts)])
        return [Cover(rule, SHIP, "not_evaluated", doubt)]
    return [
        Cover(
            rule,
            SHIP,
            "finding",
            code="CV10",
            row=equipped.rafts[0].row,
            column="kind",
            message=f"{at_least} liferafts to be marshalled by {len(boats)} lifeboats and rescue boats; at most "
            f"{rule.fixed:g} for each, {limit:g} in all ({rule.note})",
            remedy="correct the types of the craft; if they are right, more boats to marshal the rafts are needed",
            asked=limit,
            there=at_least,
        )
    ]


def _boat_kind(
    fact: str, good: tuple[str, ...], bad: tuple[str, ...], fall_launched: bool = False
) -> Callable[[Audit, Rule, Entries], Iterable[Cover]]:
    """Each lifeboat that counts must be of a kind, told by a column of the Craft sheet."""

    def evaluate(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
        boats = [craft for craft in audit.crafts if "lifeboat" in craft.families]
        if not boats:
            yield Cover(rule, SHIP, "not_applicable", "no lifeboat is recorded")
        for craft in boats:
            value = craft.facts[fact]
            if craft.purpose == "extra":
                yield Cover(rule, craft.name, "not_applicable", "carried as extra")
            elif fall_launched and craft.kind == "free-fall lifeboat":
                yield Cover(rule, craft.name, "not_applicable", "not launched by falls")
            elif value in good:
                yield Cover(rule, craft.name, "passed", "recorded")
            elif value not in bad or craft.purpose is None:
                heading = audit.book.tables["craft"].sheet.column(fact).heading
                yield Cover(
                    rule, craft.name, "not_evaluated", f"{heading}, or its purpose, is not recorded or not clear"
                )
            else:
                yield _wrong_kind(audit, rule, craft, fact)

    return evaluate


_CARGO_REMEDY = (
    "correct the record if the boat is of that kind; if it is not, ask class or the Administration before cargo of "
    "that sort is carried"
)
_KIND_REMEDIES = {
    "construction": "correct the record if the boat is totally enclosed; if it is not, ask class or the Administration",
    "air_support": _CARGO_REMEDY,
    "fire_protected": _CARGO_REMEDY,
    "hooks_compliant": "correct the record if the hooks are confirmed; if they are not, ask class or the "
    "Administration, and use fall preventers by the maker's manual. Hooks are worked on only by those certified for "
    "them",
}


def _wrong_kind(audit: Audit, rule: Rule, craft: Craft, fact: str) -> Cover:
    heading = audit.book.tables["craft"].sheet.column(fact).heading
    return Cover(
        rule,
        craft.name,
        "finding",
        code="CV09",
        row=craft.row,
        column=fact,
        message=f"{heading}: {craft.facts[fact]}; a {rule.item} is asked ({rule.note})",
        remedy=_KIND_REMEDIES[fact],
        asked=rule.fixed,
    )


def _person_mass(family: str) -> Callable[[Audit, Rule, Entries], Iterable[Cover]]:
    """Each craft's assumed mass of a person. A boat that is both is looked at as the lifeboat it is."""

    def evaluate(audit: Audit, rule: Rule, entries: Entries) -> Iterable[Cover]:
        crafts = [craft for craft in audit.crafts if craft.families[:1] == (family,)]
        if not crafts:
            yield Cover(rule, SHIP, "not_applicable", f"no {family.replace('-', ' ')} is recorded")
        for craft in crafts:
            yield _mass_cover(rule, craft, by_making=family == "liferaft")

    return evaluate


def _mass_cover(rule: Rule, craft: Craft, by_making: bool) -> Cover:
    """by_making: the day on which the craft was made decides, and not the ship's keel."""
    mass, made = craft.row.get("person_mass_kg"), craft.row.get("made")
    if craft.purpose == "extra":
        return Cover(rule, craft.name, "not_applicable", "carried as extra")
    if by_making and made is not None and made < rule.in_force_from:
        return Cover(rule, craft.name, "not_applicable", f"made {made}, before {rule.in_force_from}")
    if mass is None:
        return Cover(rule, craft.name, "not_evaluated", "person mass is not recorded")
    if mass >= rule.fixed:
        return Cover(rule, craft.name, "passed", "recorded")
    if by_making and made is None:
        return Cover(rule, craft.name, "not_evaluated", "date of making is not recorded")
    since = f"made {made}" if by_making else rule.note
    return Cover(
        rule,
        craft.name,
        "finding",
        code="CV11",
        row=craft.row,
        column="person_mass_kg",
        message=f"{mass:g} kg assumed for each person; {rule.fixed:g} kg belongs to such a craft"
        f"{f' ({since})' if since else ''}",
        remedy="look at the marking and correct mass or dates; if they are right, ask class for how many persons the "
        "craft is approved",
        asked=rule.fixed,
        there=mass,
    )


SINGLE: dict[str, Callable[[Audit, Rule, Entries], Iterable[Cover]]] = {
    "persons-certified": _at_most_certified("persons", "persons_on_board", "persons_certified"),
    "passengers-certified": _at_most_certified("passengers", "passengers", "passengers_certified"),
    "rescue-boats": _rescue_boats,
    "passenger-rescue-boats": _rescue_boats,
    "passenger-rescue-boats-each-side": _rescue_boats_each_side,
    "remote-raft": _remote_raft,
    "bulk-carrier-free-fall": _bulk_carrier,
    "marshalling": _marshalling,
    "marshalling-short-international": _marshalling,
    "enclosed-lifeboats": _boat_kind("construction", ("totally enclosed",), ("partially enclosed", "open")),
    "toxic-air-support": _boat_kind("air_support", ("yes",), ("no",)),
    "fire-protection": _boat_kind("fire_protected", ("yes",), ("no",)),
    "compliant-hooks": _boat_kind("hooks_compliant", ("yes",), ("no",), fall_launched=True),
    "person-mass-cargo-lifeboat": _person_mass("lifeboat"),
    "person-mass-passenger-lifeboat": _person_mass("lifeboat"),
    "person-mass-rescue-boat": _person_mass("rescue-boat"),
    "person-mass-liferaft": _person_mass("liferaft"),
}


def _entries(audit: Audit) -> Entries:
    return {entry.rule.key.partition(".")[2]: entry for entry in audit.rules_for_ship("capacity")}


def _evaluate(audit: Audit) -> Iterator[Cover]:
    entries = _entries(audit)
    yield from _options(
        audit, {name: entries[name] for name in entries if name in _OF_OPTIONS}, persons_on_board(audit)
    )
    for name, entry in entries.items():
        if name in _OF_OPTIONS:
            continue
        if entry.state:
            yield Cover(entry.rule, SHIP, entry.state, entry.why)
            continue
        for cover in SINGLE[name](audit, entry.rule, entries):
            if entry.doubt and cover.state == "finding":
                yield replace(cover, state="not_evaluated", why=entry.doubt)
            else:
                yield cover


def covers(audit: Audit) -> list[Cover]:
    """The state of every capacity rule, worked out once an audit."""
    if "covers" not in audit.shared:
        audit.shared["covers"] = list(_evaluate(audit))
    result: list[Cover] = audit.shared["covers"]
    return result


@states
def coverage_states(audit: Audit) -> Iterator[State]:
    """How every capacity rule ended for the ship, one of its sides or a craft."""
    told: set[tuple[str, str]] = set()  # two craft of one name are one subject
    for cover in covers(audit):
        if (cover.rule.key, cover.subject) not in told:
            told.add((cover.rule.key, cover.subject))
            yield State(cover.rule.key, cover.subject, cover.state, cover.why)


# ---- findings -----------------------------------------------------------------------------------------------------


def _report(audit: Audit, code: str, grade: str = "action") -> Iterator[Finding]:
    for cover in covers(audit):
        if cover.state == "finding" and cover.code == code:
            yield audit.finding(
                code,
                grade,
                cover.rule.priority,
                cover.sheet,
                cover.row,
                cover.column,
                cover.subject,
                cover.message,
                cover.remedy,
                cover.rule,
                required=cover.asked,
                carried=cover.there,
                unit=cover.unit,
            )


@check(
    Code(
        "CV01",
        "places-short",
        ("action",),
        "the craft have places for everyone on board, together or on each side, as the text says for the ship's type "
        "and the way she is equipped",
        "a list or a fire can take one side's craft away",
        "25 persons on board, a lifeboat for 20 to port",
        "a free-fall boat aft with rafts on both sides; rafts that can be moved and together take everyone; a remote "
        "raft beside enough others (it never counts); a craft whose side or number of persons is not recorded",
        "correct the figures; if they are right, the ship must not sail with so many persons",
        "SOLAS III/21.1; III/31.1; 46 CFR 199.201; 199.261",
    )
)
def places_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every capacity rule in persons that is not met."""
    return _report(audit, "CV01")


@check(
    Code(
        "CV02",
        "rescue-boat-missing",
        ("action",),
        "a cargo ship carries a rescue boat; a passenger ship of 500 gross tonnage and over one on each side",
        "without one nobody who falls overboard is fetched back",
        "two lifeboats and four rafts, none recorded as rescue boat",
        "a lifeboat recorded as 'lifeboat and rescue boat'",
        "correct the type of the boat that serves as rescue boat, or have one fitted",
        "SOLAS III/21.2; III/31.2; 46 CFR 199.202; 199.262",
    )
)
def rescue_boat_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a finding when no rescue boat is recorded."""
    return _report(audit, "CV02")


@check(
    Code(
        "CV03",
        "more-on-board-than-certified",
        ("action",),
        "no more persons, and no more passengers, are on board than the ship is certified for",
        "for everyone beyond the number there is no lifejacket, no seat and no permission to sail",
        "21 persons on board, certified for 20",
        "exactly 20 persons on board; someone on the crew list who joins tomorrow",
        "land those beyond the number before sailing, or correct the figure that is wrong",
        "SOLAS I/12; Record of Equipment 2.1",
    )
)
def more_on_board_than_certified(audit: Audit) -> Iterator[Finding]:
    """Yield the worst finding of all: more persons than the ship may carry."""
    return _report(audit, "CV03")


@check(
    Code(
        "CV04",
        "loss-leaves-persons-out",
        ("action",),
        "where the loss of a craft is a rule (cargo ships below 85 m and small passenger ships that carry rafts in the "
        "place of lifeboats), those left take everyone on each side",
        "with rafts only, the one that does not inflate must not cost a life",
        "one raft to each side, neither of which can be moved across",
        "the same rafts, easily moved side to side; two rafts to each side; a longer ship with lifeboats, whatever her "
        "worst case",
        "correct side-to-side transfer and persons permitted; if they are right, a further raft is needed",
        "SOLAS III/31.1.3.4; III/21.1.4; 46 CFR 199.261(d)",
    )
)
def loss_leaves_persons_out(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for each side on which the loss of a craft leaves too few places, where that is a rule."""
    return _report(audit, "CV04")


@check(
    Code(
        "CV05",
        "persons-counts-differ",
        ("query",),
        "no more persons are assigned to craft on the Crew sheet, and no more passengers recorded, than there are on "
        "board by the Ship sheet",
        "every place is counted against the persons on board: a figure too low hides a place that is missing",
        "20 persons on board, 21 of the Crew sheet assigned to craft",
        "a line without a craft (someone on board alongside only); a crew list that leaves out the passengers; one who "
        "joins tomorrow",
        "correct the number of persons on board, or take those who have left off the Crew sheet",
    )
)
def persons_counts_differ(audit: Audit) -> Iterator[Finding]:
    """Yield a query when the Ship sheet knows of fewer persons than the record shows."""
    recorded = audit.book.ship_value("persons_on_board")
    if recorded is None:
        return
    assigned = sum(row.get("craft") is not None for row in _listed(audit))
    passengers = audit.book.ship_value("passengers") or 0
    said = ""
    if assigned > recorded:
        said = f"{assigned} persons of the Crew sheet are assigned to craft"
    elif passengers > recorded:
        said = f"{passengers} passengers are recorded"
    if said:
        yield audit.finding(
            "CV05",
            "query",
            "at next port",
            "ship",
            audit.book.rows("ship")[0],
            "persons_on_board",
            SHIP,
            f"{recorded} persons on board, but {said}; the places are counted for {recorded}",
            "correct the number of persons on board, or take those who have left off the Crew sheet",
            source="SOLAS III/37; III/10.4",
            required=max(assigned, passengers),
            carried=recorded,
            unit="persons",
        )


@check(
    Code(
        "CV06",
        "free-fall-boat-missing",
        ("action",),
        "a bulk carrier with a keel from 1 July 2006 has a free-fall lifeboat over the stern",
        "a flooded bulk carrier can go down faster than a boat is lowered",
        "a bulk carrier of 2009 with two boats on falls",
        "the same with a keel of 30 June 2006; a bulk carrier below 85 m that carries rafts under III/31.1.3",
        "correct the type of the boat or of the ship, or the keel date; otherwise ask class or the Administration",
        "SOLAS III/31.1.8",
    )
)
def free_fall_boat_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for a bulk carrier that is not equipped as she must be."""
    return _report(audit, "CV06")


@check(
    Code(
        "CV07",
        "launched-rafts-missing",
        ("action",),
        "beside a free-fall lifeboat, the liferafts of one side at least stand under launching appliances",
        "when the stern cannot be reached, somebody must be able to board a raft dry",
        "a free-fall boat, and throw-over rafts on both sides",
        "a davit-launched raft on one side and a throw-over raft on the other",
        "correct the type of the rafts; otherwise ask class or the Administration. Launching gear is worked on only by "
        "those certified for it, by the maker's manual",
        "SOLAS III/31.1.2",
    )
)
def launched_rafts_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for a free-fall ship whose rafts are all thrown over."""
    return _report(audit, "CV07")


@check(
    Code(
        "CV08",
        "remote-raft-missing",
        ("action",),
        "a cargo ship whose stem or stern lies over 100 m from the nearest craft has a remote raft",
        "who is cut off forward has nothing else",
        "'Stem or stern over 100 m away: yes', and no raft marked 'remote'",
        "the same with a raft marked 'remote'; a ship of 98 m; the question not answered",
        "mark the raft far forward or aft as 'remote', or have one fitted",
        "SOLAS III/31.1.4; 46 CFR 199.261(e)",
    )
)
def remote_raft_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a finding when a remote raft is asked and none is recorded."""
    return _report(audit, "CV08")


@check(
    Code(
        "CV09",
        "boat-kind-wrong",
        ("action",),
        "lifeboats are of the kind that ship and cargo ask: totally enclosed on cargo ships, with air support for "
        "cargoes giving off toxic vapours, fire-protected for cargoes of a flash point to 60 C, with release hooks "
        "confirmed to comply with the revised Code",
        "a boat that lets gas or fire in saves nobody",
        "a chemical tanker with toxic cargoes, air support 'no'",
        "an extra boat; a gas carrier without toxic cargoes; a partially enclosed boat of a passenger ship",
        "correct the record if the boat is of that kind; otherwise ask class or the Administration",
        "SOLAS III/31.1.1.1; III/31.1.6; III/31.1.7",
    )
)
def boat_kind_wrong(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every lifeboat that is not of the kind asked."""
    return _report(audit, "CV09")


@check(
    Code(
        "CV10",
        "rafts-beyond-marshalling",
        ("action",),
        "a passenger ship has boats enough to marshal her rafts: not more than six for each lifeboat or rescue boat, "
        "nine on short international voyages",
        "rafts that nobody gathers drift apart",
        "one rescue boat, and seven rafts needed for those whom the lifeboats do not take",
        "exactly six; rafts that are not needed for anybody",
        "correct the types of the craft; otherwise more boats are needed",
        "SOLAS III/21.3; 46 CFR 199.203",
    )
)
def rafts_beyond_marshalling(audit: Audit) -> Iterator[Finding]:
    """Yield a finding when more rafts must be marshalled than the boats may be given."""
    return _report(audit, "CV10")


@check(
    Code(
        "CV11",
        "person-mass-low",
        ("query",),
        "the mass marked for a person fits the craft and its date: 82.5 kg in lifeboats of cargo ships and in "
        "rescue boats of ships from 1 July 2010, and in rafts made from 2012",
        "a boat approved with 75 kg takes fewer persons of today",
        "a cargo ship of 2012, a lifeboat marked 75 kg",
        "75 kg in a boat of a ship with a keel of 30 June 2010; in a passenger ship's lifeboat; in a raft made in 2011",
        "look at the marking; correct mass or dates, or ask class for how many persons the craft is approved",
        "LSA Code 4.4.2.2.1; 5.1.1.1; 4.2.3; 4.3.3",
    )
)
def person_mass_low(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every craft whose marked mass does not fit its date."""
    return _report(audit, "CV11", "query")


@check(
    Code(
        "CV12",
        "certified-beyond-places",
        ("query",),
        "the craft would have places for everyone for whom the ship is certified, and not for those now on board only",
        "the next joiner would be without a place although the certificate lets him sail",
        "12 on board, certified for 20, a lifeboat for 19",
        "places for exactly 20; places missing for those on board already (that is CV01)",
        "compare Craft sheet and certificate, and correct the one that is wrong",
        "SOLAS III/21.1; III/31.1; Record of Equipment 2.1",
    )
)
def certified_beyond_places(audit: Audit) -> Iterator[Finding]:
    """Yield one query when the craft suffice for those on board and not for those certified."""
    certified, on_board = audit.book.ship_value("persons_certified"), persons_on_board(audit)
    own = [cover for cover in covers(audit) if cover.code in ("CV01", "CV04")]
    if certified is None or on_board is None or certified <= on_board:
        return
    if not own or any(cover.state == "finding" for cover in own):
        return
    entries = {name: entry for name, entry in _entries(audit).items() if name in _OF_OPTIONS}
    short = [
        cover
        for cover in _options(audit, entries, int(certified))
        if cover.state == "finding" and cover.code in ("CV01", "CV04")
    ]
    if short:
        yield audit.finding(
            "CV12",
            "query",
            "at next port",
            "ship",
            audit.book.rows("ship")[0],
            "persons_certified",
            SHIP,
            f"certified for {certified} persons ({on_board} now on board), but {short[0].message}",
            "compare the persons permitted on the Craft sheet with the certificate, and correct the one that is wrong",
            source=short[0].rule.reference,
            required=short[0].asked,
            carried=short[0].there,
            unit="persons",
        )
