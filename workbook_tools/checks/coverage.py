"""Whether the craft have a place for everyone, also when a side or a craft is lost (CV codes). SOLAS III/21 and III/31.

The loss of a craft is a rule for few ships; for every other `scenarios` tells what would be left, as information.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.checks.capacity import covers, entries_of
from workbook_tools.checks.context import SHIP, Audit
from workbook_tools.checks.equipping import OF_OPTIONS, equipping
from workbook_tools.checks.places import counting, crew_lines, equipped_with, persons_on_board, places_of, unclear_craft
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.core import coverage as core
from workbook_tools.core.coverage import Scenario
from workbook_tools.findings import Finding, Persons, PlacesAfterLoss, State


def scenarios(audit: Audit) -> list[Scenario]:
    """What would be left of the places if a side or a craft were lost; none where persons or craft are not recorded.

    For information: a rule asks it of few ships, and those rules are evaluated apart.
    """
    persons = persons_on_board(audit)
    if persons is None or unclear_craft(counting(audit)):
        return []
    equipped = equipped_with(audit, persons)
    return core.scenarios(places_of(equipped.crafts), persons) if equipped.crafts else []


def persons_and_places(audit: Audit) -> Persons:
    """Persons on board, persons certified and places, for the reports, with what the loss of craft would leave."""
    certified = audit.book.ship_value("persons_certified")
    places: dict[str, int] = {}
    for craft in counting(audit):
        side = craft.row.get("side")
        if craft.persons is not None and side is not None and {"lifeboat", "liferaft"} & set(craft.families):
            places[side] = places.get(side, 0) + craft.persons
    losses = [
        PlacesAfterLoss(scenario.name, int(scenario.places.least), scenario.left_out)
        for scenario in scenarios(audit)
        if scenario.places.least == scenario.places.most
    ]
    return Persons(persons_on_board(audit), None if certified is None else int(certified), places, tuple(losses))


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
        "correct the figures; if they are right, there are too few places: ask class or the Administration before "
        "sailing",
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
    assigned = sum(row.get("craft") is not None for row in crew_lines(audit))
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
    entries = {name: entry for name, entry in entries_of(audit).items() if name in OF_OPTIONS}
    short = [
        cover
        for cover in equipping(audit, entries, int(certified))
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
