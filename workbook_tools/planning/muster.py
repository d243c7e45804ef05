"""The muster list of a book as a problem, and the list proposed for it.

Craft count as they do in the audit: survival craft that are required, never a remote or an extra raft, and no boat that
is a rescue boat only. Whoever mans such a boat stays with it, has no key duty elsewhere, and a place like everybody.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, Craft
from workbook_tools.checks.muster import substitutes
from workbook_tools.checks.persons import CERTIFICATE_CELLS, Person, outcomes, people
from workbook_tools.checks.places import counting, persons_on_board, usable_sides
from workbook_tools.core.coverage import SIDES
from workbook_tools.core.crew import certificate_word, is_able_seaman, is_deck_officer, is_no_deck_officer
from workbook_tools.core.muster import (
    ENGINE,
    MILD,
    NO,
    PERHAPS,
    RADIO,
    ROLES,
    SURE,
    Boat,
    Displaced,
    Hand,
    List,
    Muster,
    Score,
    is_engine_hand,
    score,
)
from workbook_tools.core.stock import FIT_CONDITIONS
from workbook_tools.planning.muster_program import best_list, displaced
from workbook_tools.planning.muster_substitutes import Stand, stand_ins
from workbook_tools.rules import Rule


@dataclass(slots=True)
class Proposal:
    """A muster list proposed for a book, and what it rests on.

    persons, crafts: those of the muster, in its order. until: the last day for which papers must hold. lost: by side
    lost, where those go whose craft is lost. missing_parties: duties of the muster list that nobody has, with who could
    have each. left_out: craft and persons that the list leaves aside, and why.
    """

    muster: Muster
    persons: list[Person]
    crafts: list[Craft]
    until: date
    until_words: str
    found: List
    score: Score
    present: Score
    lost: dict[str, Displaced] = field(default_factory=dict)
    stands: list[Stand] = field(default_factory=list)
    missing_parties: list[tuple[Rule, int | None]] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    beside: dict[int, str] = field(default_factory=dict)  # person -> the rescue boat that the person mans

    @property
    def complete(self) -> bool:
        """Whether everything that is asked is met, as far as the record shows."""
        return not self.unmet

    @property
    def unmet(self) -> int:
        """How many things cannot be met; what is only not shown, and parties parted, left out."""
        lacks = sum(number for level, number in enumerate(self.score.lacks) if level not in MILD)
        return lacks + len(self.missing_parties) + sum(bool(moved.unplaced) for moved in self.lost.values())


class NothingToPropose(Exception):
    """The record does not hold what a muster list needs; the text says what and where."""


def propose(audit: Audit, until: date | None = None) -> Proposal:
    """The best muster list of a book. until: papers must hold to this day; None: to the end of the voyage on record.

    Raises NothingToPropose for a book without persons or survival craft, NotSolved where the solver gives up.
    """
    last, words = _last_day(audit, until)
    crafts, left_out = _crafts(audit)
    persons = [person for person in people(audit) if person.aboard and not person.explained]
    if not persons:
        raise NothingToPropose("the Crew sheet names nobody on board: enter who is on board, a line for each person")
    if not crafts:
        why = "; ".join(left_out) or "the Craft sheet lists none"
        raise NothingToPropose(
            f"no survival craft with persons permitted is recorded ({why}): enter Persons permitted for each lifeboat "
            "and liferaft on the Craft sheet"
        )
    left_out += [f"{person.label}: {_set_aside(person)}" for person in people(audit) if person not in persons]
    by_name = {catalogue.normalise(craft.name): number for number, craft in enumerate(crafts)}
    beside = dict(_beside(audit, persons, by_name))
    hands = tuple(_hand(audit, person, last, by_name, number in beside) for number, person in enumerate(persons))
    aboard = persons_on_board(audit)
    muster = Muster(
        hands,
        tuple(_boat(audit, craft, hands, number) for number, craft in enumerate(crafts)),
        max(0, (aboard or 0) - len(persons)),
    )
    found = best_list(muster)
    proposal = Proposal(
        muster,
        persons,
        crafts,
        last,
        words,
        found,
        score(muster, found),
        score(muster, _present(muster)),
        beside=beside,
    )
    proposal.left_out = left_out
    for side, other in (SIDES, SIDES[::-1]):
        proposal.lost[side] = displaced(muster, found, other)
    proposal.stands = stand_ins(muster, found, _commanders(persons), _present_stands(audit, persons), _deck(persons))
    proposal.missing_parties = list(_missing_parties(audit, persons, hands))
    return proposal


def _last_day(audit: Audit, until: date | None) -> tuple[date, str]:
    if until is not None:
        return until, "as asked"
    ends = audit.book.ship_value("voyage_ends")
    if ends is not None and ends >= audit.on:
        return ends, "the end of the voyage on the Ship sheet"
    calls = [row.get("arrival") for row in audit.book.rows("ports") if row.get("arrival") is not None]
    ahead = [day for day in calls if day > audit.on]
    if ahead:
        return min(ahead), "the next call on the Ports sheet"
    return audit.on, "the day asked; give --until, or Voyage ends on the Ship sheet"


# ---- craft -------------------------------------------------------------------------------------------------------


def _crafts(audit: Audit) -> tuple[list[Craft], list[str]]:
    """The survival craft in which persons can be placed, and why others are left aside."""
    found, left_out = [], []
    for craft in counting(audit):
        if not set(craft.families) & {"lifeboat", "liferaft"}:
            continue
        if not craft.clear:
            left_out.append(f"{craft.name}: its name is not clear ({audit.where('craft', craft.row, 'name')})")
        elif craft.persons is None:
            where = audit.where("craft", craft.row, "persons")
            left_out.append(f"{craft.name}: persons permitted is not recorded ({where})")
        else:
            found.append(craft)
            if not usable_sides(craft)[0] and usable_sides(craft)[1]:
                left_out.append(f"{craft.name}, when a side is lost: {usable_sides(craft)[2]}")
    return found, left_out


def _rows(audit: Audit, name: str) -> list[Rule]:
    """The rows in force of a rule on crew, by its name without the prefix of the rule set."""
    return [rule for rule in audit.rule_set.rules if rule.key.endswith(f"crew.{name}") and rule.in_force(audit.on)]


def _asked(audit: Audit, name: str, craft: Craft) -> bool:
    """Whether a rule asks for somebody in a craft; what a fact leaves open is taken as asked."""
    return any(rule.condition.holds(craft.facts)[0] is not False for rule in _rows(audit, name))


def _boat(audit: Audit, craft: Craft, hands: Sequence[Hand], number: int) -> Boat:
    radio = craft.facts["sart_stowed"] == "yes" or any(
        catalogue.items()[entry.lot.item].group == "radio" and entry.lot.condition in FIT_CONDITIONS
        for entry in craft.lots
    )
    steps = [
        (max(1, int(rule.band_from or 1)), int(rule.fixed))
        for rule in _rows(audit, "certificated-by-complement")
        if rule.condition.holds(craft.facts)[0]
    ]
    return Boat(
        name=craft.name,
        room=int(craft.persons or 0),
        lifeboat="lifeboat" in craft.families,
        second=_asked(audit, "second-in-command", craft),
        engine=_asked(audit, "engine-operator", craft),
        radio=radio or any(hand.craft == number and hand.role == RADIO for hand in hands),
        by_complement=tuple(sorted(steps)),
        sides=usable_sides(craft)[0],
    )


# ---- persons -----------------------------------------------------------------------------------------------------


def _set_aside(person: Person) -> str:
    if not person.aboard:
        return f"joins on {person.row.get('joined')}"
    return "on board without a craft, by the Remarks"


def _beside(audit: Audit, persons: Sequence[Person], by_name: dict[str, int]) -> Iterator[tuple[int, str]]:
    """Who mans a boat that is no survival craft."""
    for number, person in enumerate(persons):
        text = person.row.get("craft")
        craft = audit.crafts_by_name.get(catalogue.normalise(text)) if text is not None else None
        if craft is not None and catalogue.normalise(craft.name) not in by_name and "rescue-boat" in craft.families:
            yield number, craft.name


def _hand(audit: Audit, person: Person, last: date, by_name: dict[str, int], beside: bool) -> Hand:
    row = person.row
    text, duty, party = row.get("craft"), row.get("duty"), row.get("muster_duty")
    craft = by_name.get(catalogue.normalise(text)) if text is not None else None
    medical = row.get("medical_expires")
    held = certificate_word(row.get("certificate")) == "held" and _lasts(row.get("certificate_expires"), last)
    return Hand(
        leads=_leads(audit, person, last),
        certificated=held,
        fit=PERHAPS if medical is None else SURE if medical >= last else NO,
        engineer=is_engine_hand(row.get("rank")) or duty == ENGINE,
        craft=craft,
        role=duty if duty in ROLES and craft is not None else "",
        party=party if party is not None and party != "none" else "",
        free=person.seafarer and not beside,
    )


def _lasts(expires: date | None, last: date) -> bool:
    """Whether a paper holds to the last day; many carry no date."""
    return expires is None or expires >= last


def _leads(audit: Audit, person: Person, last: date) -> str:
    """Whether somebody is shown to be a deck officer or certificated person to the last day (SOLAS III/10.3)."""
    row = person.row
    if any(column in row.unclear for column in CERTIFICATE_CELLS):
        return PERHAPS
    word, lasts, rank = (
        certificate_word(row.get("certificate")),
        _lasts(row.get("certificate_expires"), last),
        row.get("rank"),
    )
    if is_deck_officer(rank):
        # which of an officer's certificates ends, the cell does not say: a deck officer needs no other one
        return SURE if lasts else PERHAPS
    if word == "held":
        return SURE if lasts else NO
    able = any("able seaman" in rule.item for rule in _rows(audit, "charge-qualified"))
    if able and is_able_seaman(rank):
        return SURE
    return NO if word == "none" and is_no_deck_officer(rank) else PERHAPS


def _present(muster: Muster) -> List:
    """The list as the Crew sheet has it."""
    return List(
        tuple(hand.craft for hand in muster.hands), tuple(hand.role for hand in muster.hands), (0,) * len(muster.boats)
    )


def _commanders(persons: Sequence[Person]) -> list[int]:
    return [number for number, person in enumerate(persons) if person.row.get("muster_duty") == "in command"]


def _deck(persons: Sequence[Person]) -> list[bool]:
    return [is_deck_officer(person.row.get("rank")) for person in persons]


def _present_stands(audit: Audit, persons: Sequence[Person]) -> set[tuple[int, int]]:
    """Pairs of key person and substitute as the Crew sheet has them."""
    numbers = {id(person): number for number, person in enumerate(persons)}
    return {
        (numbers[id(named)], numbers[id(entry.person)])
        for entry in substitutes(audit)
        for named in entry.named
        if id(named) in numbers and id(entry.person) in numbers
    }


def _missing_parties(
    audit: Audit, persons: Sequence[Person], hands: Sequence[Hand]
) -> Iterator[tuple[Rule, int | None]]:
    """Duties of the muster list that nobody has (SOLAS III/37.3), and who could: first somebody without a duty."""
    taken: set[int] = set()
    for outcome in outcomes(audit):
        if outcome.told is None or outcome.told.code != "CR12":
            continue
        sizes = {hand.party: sum(other.party == hand.party for other in hands) for hand in hands}
        sizes[""] = len(hands) + 1
        able = [number for number, hand in enumerate(hands) if hand.free and number not in taken]
        able = [number for number in able if sizes[hands[number].party] > 1]
        best = max(able, key=lambda number: (sizes[hands[number].party], -number), default=None)
        if best is not None:
            taken.add(best)
        yield outcome.rule, best
