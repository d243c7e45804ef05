"""Whether the craft have a place for everyone on each side (CV codes). Cargo ships: SOLAS III/31."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.core.coverage import share_covered
from workbook_tools.findings import Finding, State
from workbook_tools.rules import Rule

SIDES = ("port", "starboard")


@dataclass(slots=True)
class Cover:
    """How one capacity rule ended for the ship or one of its sides. Places are persons, or craft for rescue boats."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    asked: float = 0.0
    places: float = 0.0
    persons: int = 0
    crafts: list[Craft] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Range:
    """The least and the most that the record can mean, and what makes the difference."""

    least: float
    most: float
    doubt: str = ""


def persons_on_board(audit: Audit) -> int | None:
    """Everyone on board: the Ship sheet's figure, else the lines of the Crew sheet, else None."""
    recorded = audit.book.ship_value("persons_on_board")
    if recorded is not None:
        return int(recorded)
    if any("persons_on_board" in row.unclear for row in audit.book.rows("ship")):
        return None
    return len(audit.book.rows("crew")) or None


def _counting(audit: Audit) -> list[Craft]:
    """Craft that count: required ones. A remote raft never does, nor does one carried as extra."""
    return [craft for craft in audit.crafts if craft.purpose in ("required", None)]


def _places(crafts: list[Craft], side: str | None) -> Range:
    """Persons that the craft of a side can take (side None: of the whole ship)."""
    least = most = 0.0
    doubts: list[str] = []
    for craft in crafts:
        recorded = craft.row.get("side")
        if side is not None and recorded is not None and recorded != side:
            if craft.facts["transferable"] == "yes" and "liferaft" in craft.families:
                pass  # it can be taken to this side
            elif craft.facts["transferable"] is None and craft.kind == "liferaft":
                doubts.append(f"side-to-side transfer of {craft.name} is not recorded")
                most += craft.persons or 0
                continue
            else:
                continue
        if craft.persons is None:
            doubts.append(f"persons permitted of {craft.name} is not recorded")
            most = float("inf")
            continue
        most += craft.persons
        if craft.purpose is None:
            doubts.append(f"purpose of {craft.name} is not clear")
        elif side is not None and recorded is None:
            doubts.append(f"side of {craft.name} is not recorded")
        else:
            least += craft.persons
    return Range(least, most, "; ".join(doubts))


def _cover(rule: Rule, subject: str, found: Range, asked: float, persons: int, crafts: list[Craft]) -> Cover:
    state = "passed" if found.least >= asked else "finding" if found.most < asked else "not_evaluated"
    why = {"passed": "counted", "finding": "", "not_evaluated": found.doubt}[state]
    return Cover(rule, subject, state, why, asked, found.least, persons, crafts)


def _each_side(rule: Rule, crafts: list[Craft], persons: int) -> list[Cover]:
    asked = rule.fixed * persons / 100
    return [_cover(rule, f"{side} side", _places(crafts, side), asked, persons, crafts) for side in SIDES]


def _together(rule: Rule, crafts: list[Craft], persons: int) -> list[Cover]:
    asked = rule.fixed * persons / 100
    return [_cover(rule, SHIP, _places(crafts, None), asked, persons, crafts)]


def covers(audit: Audit) -> list[Cover]:
    """The state of every capacity rule, worked out once an audit."""
    if "covers" not in audit.shared:
        audit.shared["covers"] = list(_evaluate(audit))
    result: list[Cover] = audit.shared["covers"]
    return result


def _evaluate(audit: Audit) -> Iterator[Cover]:
    rules: dict[str, Rule] = {}
    for entry in audit.rules_for_ship("capacity"):
        if entry.state or entry.doubt:
            yield Cover(entry.rule, SHIP, entry.state or "not_evaluated", entry.why or entry.doubt)
        else:
            rules[entry.rule.key.partition(".")[2]] = entry.rule
    rescue = rules.pop("rescue-boats", None)
    if rescue is not None:
        yield _rescue_boats(audit, rescue)
    if rules:
        yield from _options(audit, rules)


def _rescue_boats(audit: Audit, rule: Rule) -> Cover:
    boats = [craft for craft in audit.crafts if "rescue-boat" in craft.families]
    unclear = [craft for craft in audit.crafts if craft.kind is None]
    if not audit.crafts:
        return Cover(rule, SHIP, "not_evaluated", "no craft is recorded")
    found = Range(len(boats), len(boats) + len(unclear), "the type of a craft is not clear")
    return _cover(rule, SHIP, found, rule.fixed, 0, boats)


def _options(audit: Audit, rules: dict[str, Rule]) -> Iterator[Cover]:
    """Evaluate the ways in which a cargo ship may be equipped; the one that it meets, or comes nearest to, counts."""
    persons = persons_on_board(audit)
    crafts = _counting(audit)
    if persons is None or not crafts or any(craft.kind is None for craft in crafts):
        why = "persons on board is not recorded" if persons is None else "the craft are not clear"
        yield from (Cover(rule, SHIP, "not_evaluated", why) for rule in rules.values())
        return
    options: dict[str, list[Cover]] = {}
    free_fall = [craft for craft in crafts if craft.kind == "free-fall lifeboat"]
    lifeboats = [craft for craft in crafts if "lifeboat" in craft.families and craft not in free_fall]
    rafts = [craft for craft in crafts if "liferaft" in craft.families]
    if free_fall:
        options["free-fall"] = [
            *_together(rules["free-fall-lifeboats"], free_fall, persons),
            *_each_side(rules["free-fall-rafts"], rafts, persons),
        ]
    else:
        if lifeboats or "short-rafts" not in rules:
            options["davit"] = _davit(rules, lifeboats, rafts, persons)
        if "short-rafts" in rules:
            options["short"] = _short(rules, crafts, rafts, persons)
    order = {"passed": 0, "not_evaluated": 1, "finding": 2}
    chosen = min(options, key=lambda name: max(order[cover.state] for cover in options[name]))
    evaluated = options[chosen]
    yield from evaluated
    paragraph = evaluated[0].rule.reference
    for rule in rules.values():
        if all(cover.rule is not rule for cover in evaluated):
            yield Cover(rule, SHIP, "not_applicable", f"the ship is looked at under {paragraph}")


def _all_transferable(rafts: list[Craft]) -> bool:
    return bool(rafts) and all(craft.facts["transferable"] == "yes" for craft in rafts)


def _davit(rules: dict[str, Rule], lifeboats: list[Craft], rafts: list[Craft], persons: int) -> list[Cover]:
    boats = _each_side(rules["davit-lifeboats"], lifeboats, persons)
    if _all_transferable(rafts):
        return [*boats, *_together(rules["davit-rafts-transferable"], rafts, persons)]
    return [*boats, *_each_side(rules["davit-rafts"], rafts, persons)]


def _short(rules: dict[str, Rule], crafts: list[Craft], rafts: list[Craft], persons: int) -> list[Cover]:
    if _all_transferable(rafts):
        rule = rules["short-rafts-transferable"]
        return [
            _cover(rule, f"{side} side", _stowed(rafts, side), rule.fixed * persons / 100, persons, rafts)
            for side in SIDES
        ]
    enclosed_rescue = [
        craft
        for craft in crafts
        if craft.kind == "lifeboat and rescue boat" and craft.facts["construction"] == "totally enclosed"
    ]
    return _each_side(rules["short-rafts"], [*rafts, *enclosed_rescue], persons)


def _stowed(rafts: list[Craft], side: str) -> Range:
    """Places of the rafts that are stowed on a side, transfers apart."""
    own = [craft for craft in rafts if craft.row.get("side") in (side, None)]
    return _places(own, side)


@states
def coverage_states(audit: Audit) -> Iterator[State]:
    """How every capacity rule ended for the ship or one of its sides."""
    for cover in covers(audit):
        yield State(cover.rule.key, cover.subject, cover.state, cover.why)


@check(
    Code(
        "CV01",
        "places-short",
        ("action",),
        "a cargo ship's craft have places for everyone on board, on each side where the text says so",
        "a list or a fire can take one side's craft away",
        "25 persons on board, a lifeboat for 20 to port",
        "a free-fall boat aft with rafts on both sides; rafts that can be moved and together take everyone; a remote "
        "raft beside enough others (it never counts)",
        "correct the figures; if they are right, the ship must not sail with so many persons",
        "SOLAS III/31.1; 46 CFR 199.261",
    )
)
def places_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every capacity rule in persons that is not met."""
    for cover in covers(audit):
        if cover.state != "finding" or cover.rule.unit == "each":
            continue
        side = cover.subject.removesuffix(" side")
        own = [craft for craft in cover.crafts if craft.row.get("side") == side or cover.subject == SHIP]
        anchor = own[0].row if own else None
        percent = share_covered(cover.persons, cover.places)
        yield audit.finding(
            "CV01",
            "action",
            cover.rule.priority,
            "craft",
            anchor,
            "persons",
            cover.subject,
            f"{cover.rule.item}, {cover.subject}: places for {cover.places:g} of {cover.persons} persons on board "
            f"({percent:.0f} %); {cover.rule.fixed:g} % asked ({cover.rule.note or cover.rule.item})",
            "correct the figures; if they are right, the number of persons on board exceeds what the craft can take",
            cover.rule,
            required=cover.asked,
            carried=cover.places,
            unit="persons",
        )


@check(
    Code(
        "CV02",
        "rescue-boat-missing",
        ("action",),
        "a cargo ship carries a rescue boat",
        "without one nobody who falls overboard is fetched back",
        "two lifeboats and four rafts, none recorded as rescue boat",
        "a lifeboat recorded as 'lifeboat and rescue boat'",
        "correct the type of the boat that serves as rescue boat, or have one fitted",
        "SOLAS III/31.2; 46 CFR 199.262",
    )
)
def rescue_boat_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a finding when no rescue boat is recorded."""
    for cover in covers(audit):
        if cover.state == "finding" and cover.rule.unit == "each":
            yield audit.finding(
                "CV02",
                "action",
                cover.rule.priority,
                "craft",
                None,
                "kind",
                SHIP,
                f"rescue boats: {cover.places:g} recorded, {cover.asked:g} asked ({cover.rule.note})",
                "correct the type of the boat that serves as rescue boat",
                cover.rule,
                required=cover.asked,
                carried=cover.places,
            )
