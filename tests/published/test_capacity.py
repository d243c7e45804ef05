"""Places for everyone, checked against hand-worked ships and against an enumeration of who can sit where.

Sources of the shares: SOLAS III/21.1, 21.2, 21.3, 31.1 and 31.2 as restated on secondary pages (III/31.1.8 read in the
text; III/31.1.3.4 from memory); 46 CFR 199.201 to 199.203, 199.261 and 199.262 read in the text; LSA Code 4.4.2.2.1 and
4.2.3/4.3.3 restated, 5.1.1.1 read. The arithmetic of each ship stands beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.workbooks import ON, Line, Workbook
from workbook_tools.checks import Options
from workbook_tools.checks.context import open_audit
from workbook_tools.checks.coverage import scenarios
from workbook_tools.core.coverage import BOTH, NEITHER, Place, after_any_loss, exact
from workbook_tools.core.coverage import scenarios as core_scenarios
from workbook_tools.reading import RawBook, read_raw
from workbook_tools.rules import Rule, load_rule_set

# ---- the figures of the rows --------------------------------------------------------------------------------------

SHARES = [
    # key, figure, reference
    ("capacity.davit-lifeboats", 100, "SOLAS III/31.1.1.1"),
    ("capacity.davit-rafts-transferable", 100, "SOLAS III/31.1.1.2"),
    ("capacity.davit-rafts", 100, "SOLAS III/31.1.1.2"),
    ("capacity.free-fall-lifeboats", 100, "SOLAS III/31.1.2"),
    ("capacity.free-fall-rafts", 100, "SOLAS III/31.1.2"),
    ("capacity.short-rafts-transferable", 100, "SOLAS III/31.1.3.1"),
    ("capacity.short-rafts", 150, "SOLAS III/31.1.3.2"),
    ("capacity.short-loss", 100, "SOLAS III/31.1.3.4"),
    ("capacity.passenger-lifeboats", 50, "SOLAS III/21.1.1"),
    ("capacity.passenger-lifeboats-floor", 37.5, "SOLAS III/21.1.1"),
    ("capacity.passenger-extra-rafts", 25, "SOLAS III/21.1.1.2"),
    ("capacity.short-international-lifeboats", 30, "SOLAS III/21.1.2"),
    ("capacity.short-international-extra-rafts", 25, "SOLAS III/21.1.2"),
    ("capacity.small-passenger-rafts-transferable", 100, "SOLAS III/21.1.4"),
    ("capacity.small-passenger-rafts", 150, "SOLAS III/21.1.4"),
    ("capacity.marshalling", 6, "SOLAS III/21.3"),
    ("capacity.marshalling-short-international", 9, "SOLAS III/21.3"),
    ("us-capacity.davit-lifeboats", 100, "46 CFR 199.261(b)"),
    ("us-capacity.free-fall-rafts", 100, "46 CFR 199.261(c)"),
    ("us-capacity.short-rafts", 150, "46 CFR 199.261(d)"),
    ("us-capacity.passenger-lifeboats-floor", 37.5, "46 CFR 199.201(b)"),
    ("us-capacity.passenger-craft", 100, "46 CFR 199.201(b)"),
    ("us-capacity.passenger-extra-rafts", 25, "46 CFR 199.201(b)"),
    ("us-capacity.short-international-lifeboats", 30, "46 CFR 199.201(c)"),
    ("us-capacity.small-passenger-rafts", 150, "46 CFR 199.201(d)"),
    ("us-capacity.marshalling", 6, "46 CFR 199.203"),
    ("us-capacity.marshalling-short-international", 9, "46 CFR 199.203"),
]


def _rows(key: str) -> list[Rule]:
    return load_rule_set("us" if key.startswith("us-") else "solas").by_key()[key]


@pytest.mark.parametrize(("key", "figure", "reference"), SHARES, ids=[key for key, _, _ in SHARES])
def test_a_row_holds_the_figure_of_its_paragraph(key: str, figure: float, reference: str) -> None:
    assert {(rule.fixed, rule.reference) for rule in _rows(key)} == {(figure, reference)}


def test_where_the_loss_of_a_craft_is_a_rule() -> None:
    # III/31.1.3.4, III/21.1.4 (from memory) and 46 CFR 199.261(d): only these; elsewhere a scenario informs
    keys = {rule.key for name in ("solas", "us") for rule in load_rule_set(name).rules if rule.key.endswith("-loss")}
    assert keys == {
        "capacity.short-loss",
        "capacity.small-passenger-largest-loss",
        "us-capacity.short-largest-loss",
    }


@pytest.mark.parametrize(
    ("key", "keel", "mass"),
    [
        # LSA Code 4.4.2.2.1 and 5.1.1.1 (MSC.272(85)): ships built from 1 July 2010
        ("capacity.person-mass-cargo-lifeboat", date(2010, 6, 30), 75),
        ("capacity.person-mass-cargo-lifeboat", date(2010, 7, 1), 82.5),
        ("capacity.person-mass-passenger-lifeboat", date(2020, 1, 1), 75),
        ("capacity.person-mass-rescue-boat", date(2010, 6, 30), None),
        ("capacity.person-mass-rescue-boat", date(2010, 7, 1), 82.5),
    ],
)
def test_the_mass_of_a_person_by_keel(key: str, keel: date, mass: float | None) -> None:
    found = [
        rule.fixed
        for rule in _rows(key)
        if (rule.keel_laid_from or date.min) <= keel <= (rule.keel_laid_until or date.max)
    ]
    assert found == ([] if mass is None else [mass])


def test_the_mass_of_a_person_in_a_raft_by_its_making() -> None:
    # LSA Code 4.2.3/4.3.3: rafts made from 1 January 2012
    (rule,) = _rows("capacity.person-mass-liferaft")
    assert (rule.fixed, rule.in_force_from) == (82.5, date(2012, 1, 1))


# ---- ships worked out by hand -------------------------------------------------------------------------------------


def boat(name: str, side: str, persons: int, kind: str = "lifeboat") -> Line:
    return {"name": name, "kind": kind, "side": side, "persons": persons, "construction": "totally enclosed"}


def raft(name: str, side: str, persons: int, transferable: str = "no", kind: str = "liferaft") -> Line:
    moved = {"name": name, "kind": kind, "side": side, "persons": persons, "transferable": transferable}
    return {**moved, "mass_kg": 185} if transferable == "yes" else moved  # LSA Code 4.1.2.2: at most


def vessel(craft: list[Line], persons: int, **ship: Any) -> Workbook:
    """A ship of 5,000 gross tonnage, 120 m, keel of 2012, on international voyages, with these craft."""
    particulars = {
        "name": "Orrin Vale",
        "ship_type": "container ship",
        "gross_tonnage": 5000,
        "length_m": 120,
        "keel_laid": date(2012, 5, 3),
        "voyage": "international",
        "persons_on_board": persons,
    }
    return Workbook(particulars | ship, {"craft": craft, "inventory": []})


def states(book: Workbook) -> dict[tuple[str, str], str]:
    """State of each capacity rule, by its name and subject."""
    return {
        (state.rule.partition(".")[2], state.subject): state.state
        for state in book.audit().states
        if "capacity." in state.rule
    }


def ended(book: Workbook, *names: str) -> set[str]:
    """The states in which rules ended for all their subjects."""
    found = {state for (name, _), state in states(book).items() if name in names}
    assert found, names
    return found


def left(book: Workbook) -> dict[str, tuple[float, int]]:
    """Places and persons left out in each scenario."""
    raw = RawBook("test.xlsx", book.grids())
    audit = open_audit(read_raw(raw, False), Options(ON))
    return {found.name: (found.places.most, found.left_out) for found in scenarios(audit)}


DAVIT = [
    boat("Boat P", "port", 25),
    boat("Boat S", "starboard", 22, "lifeboat and rescue boat"),
    raft("Raft P", "port", 13, "yes"),
    raft("Raft S", "starboard", 12, "yes"),
]


@pytest.mark.parametrize(
    ("persons", "boats", "rafts"),
    [
        (22, {"passed"}, {"passed"}),  # 22 of 22 in Boat S; rafts 13 + 12 = 25
        (23, {"passed", "finding"}, {"passed"}),  # one without a place to starboard
        (25, {"passed", "finding"}, {"passed"}),  # 25 of 25 in the rafts
        (26, {"finding"}, {"finding"}),
    ],
)
def test_boats_on_both_sides_and_rafts_that_can_be_moved(persons: int, boats: set[str], rafts: set[str]) -> None:
    # SOLAS III/31.1.1
    book = vessel(DAVIT, persons)
    assert ended(book, "davit-lifeboats") == boats
    assert ended(book, "davit-rafts-transferable") == rafts


def test_rafts_that_cannot_be_moved_take_everyone_on_each_side() -> None:
    # SOLAS III/31.1.1.2: 13 and 12 places for 13
    crafts = [*DAVIT[:2], raft("Raft P", "port", 13), raft("Raft S", "starboard", 12)]
    found = states(vessel(crafts, 13))
    assert (found["davit-rafts", "port side"], found["davit-rafts", "starboard side"]) == ("passed", "finding")


def test_what_is_left_of_a_davit_ship_with_thirty_on_board() -> None:
    assert left(vessel(DAVIT, 30)) == {
        "all craft usable": (72, 0),  # 25 + 22 + 13 + 12
        "port side lost": (47, 0),  # Boat S 22, both rafts 25
        "starboard side lost": (50, 0),  # Boat P 25, both rafts 25
        "Boat P lost": (47, 0),
        "Boat S lost": (50, 0),
        "Raft P lost": (59, 0),
        "Raft S lost": (60, 0),
        "largest craft lost": (47, 0),
    }
    assert left(vessel(DAVIT, 50))["port side lost"] == (47, 3)


FREE_FALL = [
    boat("Stern boat", "aft", 25, "free-fall lifeboat"),
    {"name": "Rescue boat", "kind": "rescue boat", "side": "port", "persons": 6},
    raft("Raft P", "port", 25),
    raft("Raft S", "starboard", 20, kind="davit-launched liferaft"),
    {**raft("Bow raft", "port", 6), "purpose": "remote"},
    {**raft("Spare raft", "starboard", 25), "purpose": "extra"},
]


@pytest.mark.parametrize(
    ("persons", "boats", "rafts"),
    [
        (20, {"passed"}, {"passed"}),
        (21, {"passed"}, {"passed", "finding"}),  # to starboard 20: the extra raft never counts
        (25, {"passed"}, {"passed", "finding"}),
        (26, {"finding"}, {"finding"}),  # to port 25: the remote raft never counts
    ],
)
def test_a_free_fall_boat_and_rafts_on_each_side(persons: int, boats: set[str], rafts: set[str]) -> None:
    # SOLAS III/31.1.2
    book = vessel(FREE_FALL, persons)
    assert ended(book, "free-fall-lifeboats") == boats
    assert ended(book, "free-fall-rafts") == rafts
    assert ended(book, "davit-lifeboats") == {"not_applicable"}


def test_the_stern_boat_is_on_no_side() -> None:
    found = left(vessel(FREE_FALL, 22))
    wanted = {
        "port side lost": (20, 2),  # Raft S alone
        "starboard side lost": (25, 0),  # Raft P alone
        "all craft usable": (70, 0),  # 25 + 25 + 20
    }
    assert {name: found[name] for name in wanted} == wanted


@pytest.mark.parametrize(("persons", "launching"), [(20, {"passed"}), (21, {"finding"})])
def test_the_rafts_of_one_side_stand_under_launching_appliances(persons: int, launching: set[str]) -> None:
    # SOLAS III/31.1.2: 20 launched places to starboard, and none to port
    assert ended(vessel(FREE_FALL, persons), "free-fall-raft-launching") == launching


def test_a_us_free_fall_vessel_may_have_an_evacuation_system_instead() -> None:
    # 46 CFR 199.261(c)
    crafts = [FREE_FALL[0], FREE_FALL[1], raft("Raft P", "port", 25), raft("Raft S", "starboard", 25)]
    us = vessel(crafts, 20, rule_set="us")
    assert ended(us, "free-fall-raft-launching-or-system") == {"not_evaluated"}
    assert ended(vessel(crafts, 20), "free-fall-raft-launching") == {"finding"}


RESCUE = {"name": "Rescue boat", "kind": "rescue boat", "side": "port", "persons": 6}


def short(craft: list[Line], persons: int, **ship: Any) -> Workbook:
    return vessel([*craft, RESCUE], persons, **({"length_m": 84.9} | ship))


@pytest.mark.parametrize(("persons", "rafts"), [(10, {"passed"}), (11, {"finding"})])
def test_a_short_ship_with_rafts_that_cannot_be_moved(persons: int, rafts: set[str]) -> None:
    # SOLAS III/31.1.3.2: 8 + 8 = 16 places on each side; 150 % of 10 is 15, of 11 is 16.5
    crafts = [raft(f"Raft {side}{number}", side, 8) for side in ("port", "starboard") for number in (1, 2)]
    assert ended(short(crafts, persons), "short-rafts") == rafts


def test_a_short_ship_that_loses_a_raft_on_one_side() -> None:
    # SOLAS III/31.1.3.4: 8 + 8 to each side, one lost leaves 8 for 9
    crafts = [raft(f"Raft {side}{number}", side, 8) for side in ("port", "starboard") for number in (1, 2)]
    assert ended(short(crafts, 8), "short-loss") == {"passed"}
    assert ended(short(crafts, 9), "short-loss") == {"finding"}


def test_a_short_ship_with_rafts_that_can_be_moved() -> None:
    # SOLAS III/31.1.3.1: 10 to each side for 10; one lost, the other serves both sides
    crafts = [raft("Raft P", "port", 10, "yes"), raft("Raft S", "starboard", 10, "yes")]
    assert ended(short(crafts, 10), "short-rafts-transferable", "short-loss") == {"passed"}
    assert ended(short(crafts, 11), "short-rafts-transferable", "short-rafts") == {"finding", "not_applicable"}


@pytest.mark.parametrize(
    ("construction", "state"),
    [("totally enclosed", "passed"), ("partially enclosed", "finding"), ("", "not_evaluated")],
)
def test_only_a_totally_enclosed_rescue_boat_counts_in_the_150_percent(construction: str, state: str) -> None:
    # SOLAS III/31.1.3.3: 150 % of 8 is 12; to port a raft for 8 and the boat for 8, to starboard rafts for 16
    crafts = [
        raft("Raft P", "port", 8),
        raft("Raft S1", "starboard", 8),
        raft("Raft S2", "starboard", 8),
        boat("Boat", "port", 8, "lifeboat and rescue boat") | {"construction": construction},
    ]
    assert states(vessel(crafts, 8, length_m=60))["short-rafts", "port side"] == state


@pytest.mark.parametrize(("starboard", "found"), [(8, {"passed"}), (7, {"passed", "finding"})])
def test_a_rescue_boat_beside_rafts_that_can_be_moved(starboard: int, found: set[str]) -> None:
    # SOLAS III/31.1.3.1 to 31.1.3.3, 8 persons: to port a raft for 4 and the boat for 6 are 10; both rafts can be taken
    # to either side, so that port has 18 and starboard 12 of the 12 that are 150 %; starboard's own raft takes 8
    crafts = [
        raft("Raft P", "port", 12 - starboard, "yes"),
        raft("Raft S", "starboard", starboard, "yes"),
        boat("Boat", "port", 6, "lifeboat and rescue boat"),
    ]
    assert (
        ended(vessel(crafts, 8, length_m=60), "short-rafts-transferable", "short-rafts") - {"not_applicable"} == found
    )


def test_a_us_rescue_boat_counts_however_it_is_built() -> None:
    # 46 CFR 199.261(d): a lifeboat that is the rescue boat counts
    crafts = [
        raft("Raft P", "port", 8),
        raft("Raft S1", "starboard", 8),
        raft("Raft S2", "starboard", 8),
        boat("Boat", "port", 8, "lifeboat and rescue boat") | {"construction": "partially enclosed"},
    ]
    found = states(vessel(crafts, 8, length_m=60, rule_set="us"))
    assert found["short-rafts", "port side"] == "passed"


@pytest.mark.parametrize(
    ("ship", "state"),
    [({"length_m": 85}, "not_applicable"), ({"ship_type": "oil tanker"}, "not_applicable"), ({}, "passed")],
)
def test_tankers_and_ships_of_85_m_are_no_short_ships(ship: dict[str, Any], state: str) -> None:
    crafts = [raft("Raft P", "port", 10, "yes"), raft("Raft S", "starboard", 10, "yes")]
    assert ended(short(crafts, 10, **ship), "short-rafts-transferable") == {state}


LINER = [
    boat("Boat 1", "starboard", 150),
    boat("Boat 2", "port", 150, "lifeboat and rescue boat"),
    boat("Boat 3", "starboard", 50, "lifeboat and rescue boat"),
    boat("Boat 4", "port", 50),
    *(raft(f"Raft {number}", side, 25) for number in (1, 2) for side in ("port", "starboard")),
]


def liner(persons: int, craft: list[Line] = LINER, **ship: Any) -> Workbook:
    return vessel(craft, persons, **({"ship_type": "passenger ship", "gross_tonnage": 30000} | ship))


@pytest.mark.parametrize(
    ("persons", "boats", "floor", "extra"),
    [
        # 200 in the boats of each side, 100 in rafts: 50 % and 25 % of 400 are 200 and 100
        (400, {"passed"}, {"passed"}, {"passed"}),
        # 200.5 asked: whether the rafts may stand for half a place depends on what launches them; 100.25 are asked of
        # rafts of which at most 100 are additional
        (401, {"not_evaluated"}, {"passed"}, {"finding"}),
        # 50 % of 500 is 250, all that boats and rafts of a side take, 200 + 50; of 501 it is 250.5
        (500, {"not_evaluated"}, {"passed"}, {"finding"}),
        (501, {"finding"}, {"passed"}, {"finding"}),
        # 37.5 % of 533 is 199.9, of 534 is 200.25
        (533, {"finding"}, {"passed"}, {"finding"}),
        (534, {"finding"}, {"finding"}, {"finding"}),
    ],
)
def test_a_passenger_ship_on_international_voyages(
    persons: int, boats: set[str], floor: set[str], extra: set[str]
) -> None:
    # SOLAS III/21.1.1
    book = liner(persons)
    assert ended(book, "passenger-lifeboats") == boats
    assert ended(book, "passenger-lifeboats-floor") == floor
    assert ended(book, "passenger-extra-rafts") == extra


def test_launched_rafts_stand_for_boats_and_then_are_not_additional() -> None:
    # SOLAS III/21.1.1: 500 persons, 250 asked each side: 200 in boats, 50 in launched rafts; then 125 more asked
    launched = [raft(f"DL {side}", side, 50, kind="davit-launched liferaft") for side in ("port", "starboard")]
    others = [raft(f"TO {number}", "port", 25) for number in range(5)]
    book = liner(500, [*LINER[:4], *launched, *others])
    assert ended(book, "passenger-lifeboats", "passenger-lifeboats-floor", "passenger-extra-rafts") == {"passed"}
    book = liner(500, [*LINER[:4], *launched, *others[:4]])
    assert ended(book, "passenger-extra-rafts") == {"finding"}


@pytest.mark.parametrize(("persons", "state"), [(400, "passed"), (401, "finding")])
def test_a_us_passenger_vessel(persons: int, state: str) -> None:
    # 46 CFR 199.201(b): 400 in boats, rafts for 100 more: 25 % of 400 is 100; 401 need one raft place and 100.25 more
    book = liner(persons, rule_set="us")
    assert ended(book, "passenger-craft", "passenger-lifeboats-floor") == {"passed"}
    assert ended(book, "passenger-extra-rafts") == {state}


@pytest.mark.parametrize(("boats", "state"), [(45, "passed"), (44, "finding")])
def test_short_international_voyages(boats: int, state: str) -> None:
    # SOLAS III/21.1.2: 30 % of 300 is 90; 300 + 25 % are 375 places in all
    crafts = [
        boat("Boat 1", "starboard", boats, "lifeboat and rescue boat"),
        boat("Boat 2", "port", boats, "lifeboat and rescue boat"),
        *(raft(f"Raft {number}", "port", 50) for number in range(6)),
    ]
    book = liner(300, crafts, voyage="short international")
    assert ended(book, "short-international-lifeboats") == {state}
    assert ended(book, "short-international-craft", "short-international-extra-rafts") == {"passed"}


def test_short_international_voyages_ask_additional_rafts() -> None:
    # SOLAS III/21.1.2: boats 100, rafts 250: 200 of them make up 300, 50 are left of the 75 asked
    crafts = [
        boat("Boat 1", "starboard", 50, "lifeboat and rescue boat"),
        boat("Boat 2", "port", 50, "lifeboat and rescue boat"),
        *(raft(f"Raft {number}", "port", 50) for number in range(5)),
    ]
    assert ended(liner(300, crafts, voyage="short international"), "short-international-extra-rafts") == {"finding"}


@pytest.mark.parametrize(
    ("persons", "tonnage", "state"),
    [(199, 499, "passed"), (200, 499, "not_applicable"), (199, 500, "not_applicable")],
)
def test_a_small_passenger_ship_may_have_rafts_only(persons: int, tonnage: int, state: str) -> None:
    # SOLAS III/21.1.4: under 500 gross tonnage and fewer than 200 persons; 150 % of 199 is 298.5
    crafts = [
        RESCUE,
        *(raft(f"{side} {number}", side, 50, "yes") for side in ("port", "starboard") for number in range(4)),
    ]
    book = liner(persons, crafts, gross_tonnage=tonnage)
    assert ended(book, "small-passenger-rafts-transferable", "small-passenger-rafts") - {"not_applicable"} == (
        {state} - {"not_applicable"}
    )


@pytest.mark.parametrize(("persons", "state"), [(50, "passed"), (51, "finding")])
def test_a_small_passenger_ship_that_loses_her_largest_raft(persons: int, state: str) -> None:
    # SOLAS III/21.1.4: 50 + 50 on each side, neither can be moved; 150 % of 51 is 76.5
    crafts = [RESCUE, *(raft(f"{side} {number}", side, 50) for side in ("port", "starboard") for number in range(2))]
    assert ended(liner(persons, crafts, gross_tonnage=400), "small-passenger-largest-loss") == {state}


@pytest.mark.parametrize(
    ("tonnage", "sides", "found"),
    [
        (499, ("port",), {"not_applicable", "passed"}),
        (500, ("port",), {"passed", "finding", "not_applicable"}),
        (500, ("port", "starboard"), {"passed", "not_applicable"}),
    ],
)
def test_rescue_boats_of_passenger_ships(tonnage: int, sides: tuple[str, ...], found: set[str]) -> None:
    # SOLAS III/21.2; 46 CFR 199.202
    crafts = [
        boat("Boat 1", "starboard", 150),
        boat("Boat 2", "port", 150),
        *({**RESCUE, "name": f"Rescue {side}", "side": side} for side in sides),
    ]
    for rules in ("solas", "us"):
        book = liner(100, crafts, gross_tonnage=tonnage, rule_set=rules)
        assert ended(book, "passenger-rescue-boats", "passenger-rescue-boats-each-side") == found


@pytest.mark.parametrize(
    ("persons", "voyage", "state"),
    [
        (420, "international", "passed"),
        (421, "international", "finding"),
        (480, "short international", "passed"),
        (481, "short international", "finding"),
    ],
)
def test_six_rafts_for_each_boat_and_nine_on_short_international_voyages(persons: int, voyage: str, state: str) -> None:
    # SOLAS III/21.3, 46 CFR 199.203: two boats for 150 each; rafts for 10; 12 rafts take 120, 18 take 180
    crafts = [
        boat("Boat 1", "starboard", 150, "lifeboat and rescue boat"),
        boat("Boat 2", "port", 150, "lifeboat and rescue boat"),
        *(raft(f"Raft {number}", "port", 10) for number in range(40)),
    ]
    name = "marshalling" if voyage == "international" else "marshalling-short-international"
    for rules in ("solas", "us"):
        assert ended(liner(persons, crafts, voyage=voyage, rule_set=rules), name) == {state}


def test_a_bulk_carrier_of_2006_has_a_free_fall_boat() -> None:
    # SOLAS III/31.1.8
    old, new = date(2006, 6, 30), date(2006, 7, 1)
    assert ended(vessel(DAVIT, 20, ship_type="bulk carrier", keel_laid=old), "bulk-carrier-free-fall") == {
        "not_applicable"
    }
    assert ended(vessel(DAVIT, 20, ship_type="bulk carrier", keel_laid=new), "bulk-carrier-free-fall") == {"finding"}
    assert ended(vessel(FREE_FALL, 20, ship_type="bulk carrier"), "bulk-carrier-free-fall") == {"passed"}


@pytest.mark.parametrize("rules", ["solas", "us"])
def test_a_remote_raft_is_asked_where_the_stem_is_far_away(rules: str) -> None:
    # SOLAS III/31.1.4; 46 CFR 199.261(e)
    for crafts, far, state in (
        (DAVIT, "yes", "finding"),
        (DAVIT, "no", "not_applicable"),
        (DAVIT, "", "not_evaluated"),
        (FREE_FALL, "yes", "passed"),
        (FREE_FALL, "", "passed"),
    ):
        book = vessel(crafts, 20, rule_set=rules, far_stem_or_stern=far)
        assert ended(book, "remote-raft") == {state}, (crafts, far)


# ---- nothing recorded, no fault -----------------------------------------------------------------------------------


@given(st.data())
@settings(max_examples=60)
def test_what_is_struck_out_of_a_record_makes_no_fault(data: st.DataObject) -> None:
    crafts = data.draw(st.sampled_from((DAVIT, FREE_FALL)))
    book = vessel([dict(line) for line in crafts], 20)
    for line in book.rows["craft"]:
        for column in ("side", "persons", "transferable", "purpose"):
            # without 'remote' or 'extra' a craft counts, which is more places and no fault
            if column in line and data.draw(st.booleans()):
                line[column] = data.draw(st.sampled_from(("", "?")))
    for key in ("persons_on_board", "length_m", "gross_tonnage", "keel_laid", "ship_type", "voyage"):
        if data.draw(st.integers(0, 3)) == 0:
            book.ship[key] = ""
    assert [finding for finding in book.findings() if finding.code.startswith("CV")] == []


# ---- against an enumeration of who can sit where ------------------------------------------------------------------

SEATS = {"port": frozenset({"port"}), "starboard": frozenset({"starboard"}), "either": BOTH, "aft": NEITHER}
Ship = list[tuple[int, str]]  # persons, and where: port, starboard, either, aft


def _seatings(persons: int, room: list[int]) -> Iterator[int]:
    """How many sit in each way of sending every person to a craft, or nowhere, without overfilling one."""
    if persons == 0:
        yield 0
        return
    yield from _seatings(persons - 1, room)  # this one stays out
    for number, free in enumerate(room):
        if free:
            rest = [*room[:number], free - 1, *room[number + 1 :]]
            yield from (1 + seated for seated in _seatings(persons - 1, rest))


def _most_seated(persons: int, usable: Ship) -> int:
    return max(_seatings(persons, [room for room, _ in usable]))


def _usable(ship: Ship, scenario: str) -> Ship:
    if scenario == "port side lost":
        return [craft for craft in ship if craft[1] in ("starboard", "either")]
    if scenario == "starboard side lost":
        return [craft for craft in ship if craft[1] in ("port", "either")]
    return ship


small_ships = st.lists(st.tuples(st.integers(1, 3), st.sampled_from(sorted(SEATS))), min_size=1, max_size=4)


def _places(ship: Ship) -> list[Place]:
    return [exact(str(number), persons, SEATS[where]) for number, (persons, where) in enumerate(ship)]


@given(small_ships, st.integers(0, 6))
@settings(max_examples=60)
def test_nobody_finds_a_seat_that_the_formula_does_not_know_and_the_other_way_round(ship: Ship, persons: int) -> None:
    found = {scenario.name: scenario for scenario in core_scenarios(_places(ship), persons)}
    for name in ("all craft usable", "port side lost", "starboard side lost"):
        assert found[name].left_out == persons - _most_seated(persons, _usable(ship, name)), name
    without = [[*ship[:number], *ship[number + 1 :]] for number in range(len(ship))]
    seated = [_most_seated(persons, rest) for rest in without]
    for number, count in enumerate(seated):
        assert found[f"{number} lost"].left_out == persons - count
    assert found["largest craft lost"].left_out == persons - min(seated)


@given(small_ships, st.integers(0, 6), st.sampled_from(("port", "starboard")))
@settings(max_examples=60)
def test_the_rule_of_any_one_craft_lost_is_met_when_everyone_sits_whichever_is_lost(
    ship: Ship, persons: int, side: str
) -> None:
    # SOLAS III/31.1.3.4
    other = "starboard side lost" if side == "port" else "port side lost"
    met = all(
        _most_seated(persons, _usable([*ship[:number], *ship[number + 1 :]], other)) == persons
        for number in range(len(ship))
    )
    assert (after_any_loss(_places(ship), side).places.least >= persons) == met
