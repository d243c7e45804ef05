"""Capacity rules that hold however the ship is equipped: persons certified, rescue boats, kinds of boat."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.cover import Cover, Entries, judged, none_recorded
from workbook_tools.checks.places import counting, equipped_with, persons_on_board, places_of, unclear_craft
from workbook_tools.core import coverage as core
from workbook_tools.core.coverage import SIDES, Range
from workbook_tools.core.words import counted
from workbook_tools.rules import Rule


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
    state, why = judged(Range(sure, possible, core.joined(doubts)), rule.fixed)
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
    crafts = counting(audit)
    boats = [craft for craft in crafts if "lifeboat" in craft.families]
    if any(craft.kind == "free-fall lifeboat" for craft in boats):
        return [Cover(rule, SHIP, "passed", "counted")]
    short = entries.get("short-rafts")
    if short is not None and short.state != "not_applicable":
        if short.state or short.doubt:
            return [Cover(rule, SHIP, "not_evaluated", short.why or short.doubt)]
        return [Cover(rule, SHIP, "not_applicable", f"she may be equipped under {short.rule.reference} instead")]
    why = unclear_craft(crafts) or ("" if boats else "no lifeboat is recorded on the Craft sheet")
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
    why = unclear_craft(audit.crafts) or ("persons on board is not recorded" if persons is None else "")
    if why or persons is None:
        return [Cover(rule, SHIP, "not_evaluated", why)]
    equipped = equipped_with(audit, persons)
    rafts = places_of(equipped.rafts)
    boats = [craft for craft in audit.crafts if {"lifeboat", "rescue-boat"} & set(craft.families)]
    if not boats or not rafts:
        what = "lifeboat or rescue boat" if rafts else "liferaft"
        return none_recorded([rule], what)
    in_boats = core.together(places_of([*equipped.lifeboats, *equipped.free_fall]))
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
            message=f"{counted(at_least, 'liferaft')} to be marshalled by {_boats(len(boats))}; at most "
            f"{rule.fixed:g} for each, {limit:g} in all ({rule.note})",
            remedy="correct the types of the craft; if they are right, more boats to marshal the rafts are needed",
            asked=limit,
            there=at_least,
        )
    ]


def _boats(number: int) -> str:
    return counted(number, "lifeboat or rescue boat", "lifeboats and rescue boats")


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
