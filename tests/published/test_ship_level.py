"""The ship's stock against outside figures: the federal lifebuoy tables, half of them lighted, suits at watch stations.

data/us_46cfr_lifebuoys.csv is a copy of the tables of 46 CFR 199.271 (cargo vessels) and 46 CFR 199.211 (passenger
vessels), public domain, which print the numbers of SOLAS III/32.1.1 and III/22.1.1. It was not made from our rules.
"""

from __future__ import annotations

import pytest

from tests.published._tables import Line, read_table
from tests.workbooks import ON, Workbook, clean
from workbook_tools.core.quantity import in_band, required
from workbook_tools.findings import Finding
from workbook_tools.rules import Rule, load_rule_set

TABLE = read_table("us_46cfr_lifebuoys.csv")
KEYS = {("solas", family): f"lifebuoys.number-{family}" for family in ("cargo", "passenger")} | {
    ("us", family): f"us-lifebuoys.number-{family}" for family in ("cargo", "passenger")
}


def _printed(family: str, length: float) -> int:
    (line,) = [
        line
        for line in TABLE
        if line["ship_family"] == family
        and float(line["length_from_m"]) <= length
        and (not line["length_until_m"] or length < float(line["length_until_m"]))
    ]
    return int(line["lifebuoys"])


def _held(rule_set: str, family: str, length: float) -> int:
    rows = load_rule_set(rule_set).by_key()[KEYS[rule_set, family]]
    (row,) = [row for row in rows if in_band(row, length)]
    return int(row.fixed)


@pytest.mark.parametrize("rule_set", ["solas", "us"])
@pytest.mark.parametrize("family", ["cargo", "passenger"])
def test_both_rule_sets_ask_the_lifebuoys_of_the_federal_table_at_every_length(rule_set: str, family: str) -> None:
    for decimetres in range(1, 4001):
        length = decimetres / 10
        assert _held(rule_set, family, length) == _printed(family, length), length


@pytest.mark.parametrize("line", TABLE, ids=lambda line: f"{line['section']}-{line['length_from_m']}")
def test_an_audit_asks_the_number_printed_at_the_edges_of_each_band(line: Line) -> None:
    first = max(float(line["length_from_m"]), 1.0)
    last = float(line["length_until_m"] or 500) - 0.01
    for length in (first, last):
        book = clean()
        kind = "general cargo ship" if line["ship_family"] == "cargo" else "passenger ship"
        book.ship.update(ship_type=kind, length_m=length)
        for other in book.rows["inventory"]:
            if other["item"] == "lifebuoy":
                other["quantity"] = 1  # one fewer than eight in all
        found = _short(book, f"lifebuoys.number-{line['ship_family']}")
        assert [(finding.required, finding.carried) for finding in found] == [(int(line["lifebuoys"]), 7)]


def _short(book: Workbook, rule: str) -> list[Finding]:
    return [finding for finding in book.findings() if finding.rule == rule]


# Half of the number asked, rounded up, counted out by hand (SOLAS III/7.1.3).
HALVES = {8: 4, 10: 5, 12: 6, 14: 7, 18: 9, 24: 12, 30: 15, 7: 4, 9: 5, 11: 6, 1: 1}


@pytest.mark.parametrize(("asked", "lighted"), HALVES.items())
def test_half_of_the_lifebuoys_asked_are_lighted(asked: int, lighted: int) -> None:
    for key in ("lifebuoys.with-light", "us-lifebuoys.with-light"):
        rule = _rule(key)
        assert required(rule, asked) == lighted


def _rule(key: str) -> Rule:
    (row,) = load_rule_set("us" if key.startswith("us-") else "solas").by_key()[key]
    return row


@pytest.mark.parametrize("rings", [0, 1, 2, 6, 40])
def test_lifebuoys_beyond_the_number_asked_ask_for_no_more_lights(rings: int) -> None:
    book = clean()
    if rings:
        book.add("inventory", place="Bosun store", item="lifebuoy", quantity=rings, condition="spare")
    assert book.findings() == []


@pytest.mark.parametrize(("length", "lighted"), [(59.9, 6), (60, 6), (119, 6), (120, 9)])
def test_a_passenger_ship_below_60_m_has_six_lights_and_not_half_of_eight(length: float, lighted: int) -> None:
    # SOLAS III/22.1.2; 46 CFR 199.211(b): six below 60 m; from 60 m half of 12, from 120 m half of 18
    book = clean()
    book.ship.update(ship_type="passenger ship", length_m=length)
    book.add("inventory", place="Main deck", item="lifebuoy", quantity=10)
    found = [finding for finding in book.findings() if finding.rule.startswith("lifebuoys.with-light")]
    assert [(finding.required, finding.carried) for finding in found] == [(lighted, 4)]


# The flag notice's example (MPA Singapore 2006, on III/32.3): a suit for each person of Form E section 2.1, and where
# the crew is fewer, the suits to spare may serve the watch stations. Here Form E says 25.
@pytest.mark.parametrize(
    ("crew", "stations", "suits", "short_of"),
    [
        (25, 0, 25, {}),
        (25, 3, 28, {}),
        (25, 3, 27, {"suits.watch-stations": (3, 2)}),
        (22, 3, 25, {}),  # three fewer than Form E: their suits serve the stations
        (23, 3, 25, {"suits.watch-stations": (3, 2)}),
        (25, 3, 24, {"suits.personal": (25, 24), "suits.watch-stations": (3, 0)}),
    ],
)
def test_suits_beyond_the_persons_on_board_serve_the_watch_stations(
    crew: int, stations: int, suits: int, short_of: dict[str, tuple[int, int]]
) -> None:
    book = clean()
    book.ship.update(persons_certified=25, persons_on_board=crew, watch_stations=stations)
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "immersion suit"]
    book.add("inventory", place="Cabins", item="immersion suit", quantity=suits, wearer_size="universal")
    found = [finding for finding in book.findings() if finding.rule.startswith("suits.")]
    assert {finding.rule: (finding.required, finding.carried) for finding in found} == short_of


def test_personal_suits_serve_the_rescue_boats_crew() -> None:
    # MPA Singapore 2006: suits of III/32.3 may also serve III/7.3
    states = {state.rule: state.state for state in clean().audit().states}
    assert states["suits.rescue-boat-crew"] == "passed"


@pytest.mark.parametrize(("height", "state"), [(12, "passed"), (15, "passed"), (15.1, "not_evaluated")])
def test_a_lifebuoy_line_of_30_m_reaches_from_15_m(height: float, state: str) -> None:
    # own arithmetic on III/7.1.2: 12 m asks 30 m; above 15 m twice the height is more than 30 m
    book = clean()
    for craft in book.rows["craft"]:
        craft["stowage_height_m"] = height
    states = {found.rule: found.state for found in book.audit().states}
    assert states["lifebuoys.line-length"] == state


@pytest.mark.parametrize(
    ("warm", "state"), [("yes", "not_applicable"), ("no", "finding"), ("", "not_evaluated")], ids=["warm", "cold", "?"]
)
def test_us_suits_are_not_asked_on_routes_between_32_north_and_32_south(warm: str, state: str) -> None:
    # 46 CFR 199.273, 199.214, 199.70(c)
    book = clean()
    book.ship.update(rule_set="us", warm_routes=warm)
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "immersion suit"]
    book.add("inventory", place="Cabins", item="immersion suit", quantity=2, wearer_size="universal")
    states = {found.rule: found.state for found in book.audit().states}
    assert states["us-suits.personal"] == state


@pytest.mark.parametrize(
    ("construction", "state"),
    [
        ("open", "finding"),
        ("partially enclosed", "not_applicable"),
        ("totally enclosed", "not_applicable"),
        ("", "open"),
    ],
)
def test_a_passenger_ships_suits_are_asked_of_open_lifeboats(construction: str, state: str) -> None:
    # III/22.4: three for each lifeboat; the relief of enclosed boats is from memory
    book = clean()
    book.ship.update(ship_type="passenger ship")
    for boat in book.rows["craft"][:2]:
        boat["construction"] = construction
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "immersion suit"]
    book.add("inventory", place="Muster station", item="immersion suit", quantity=5)
    states = {found.rule: found.state for found in book.audit().states}
    assert states["suits.passenger-lifeboats"] == {"open": "not_evaluated"}.get(state, state)


@pytest.mark.parametrize(
    ("passengers", "children", "jackets", "short"),
    [(100, 5, 10, False), (101, 5, 10, True), (101, 5, 11, False), (100, 12, 11, True), (100, 12, 12, False)],
)
def test_childrens_lifejackets_are_a_tenth_of_the_passengers_or_one_for_each_child(
    passengers: int, children: int, jackets: int, short: bool
) -> None:
    # III/7.2.1.3; the rounding up is our choice
    book = clean()
    book.ship.update(ship_type="passenger ship", passengers=passengers, children=children)
    book.add("inventory", place="Muster station", item="child lifejacket", quantity=jackets)
    found = [
        finding for finding in book.findings() if finding.rule.startswith("lifejackets.") and "child" in finding.rule
    ]
    assert bool(found) == short


@pytest.mark.parametrize(
    ("under_a_day", "infants", "jackets", "short"),
    [("yes", 9, 3, False), ("yes", 0, 2, True), ("no", 3, 3, False), ("no", 4, 3, True), ("", 4, 3, False)],
)
def test_infants_lifejackets_follow_the_length_of_the_voyage(
    under_a_day: str, infants: int, jackets: int, short: bool
) -> None:
    # III/7.2.1.1-.2: under 24 h 2.5 % of 120 passengers, otherwise one for each infant
    book = clean()
    book.ship.update(ship_type="passenger ship", passengers=120, infants=infants, voyage_under_24h=under_a_day)
    book.add("inventory", place="Muster station", item="infant lifejacket", quantity=jackets)
    assert bool([finding for finding in book.findings() if "infant" in finding.rule]) == short


@pytest.mark.parametrize(("jackets", "state"), [(25, "passed"), (24, "finding")])
def test_a_passenger_ship_has_one_in_twenty_more_lifejackets(jackets: int, state: str) -> None:
    # III/22.2; 46 CFR 199.212: 20 persons, 4 at stations, 5 % of 20
    book = clean()
    book.ship.update(ship_type="passenger ship", persons_on_board=20, watch_stations=4)
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "lifejacket"]
    book.add("inventory", place="Muster station", item="lifejacket", quantity=jackets)
    states = {found.rule: found.state for found in book.audit().states}
    assert states["lifejackets.passenger-extra"] == state


def test_no_ship_level_row_is_asked_before_or_after_its_time() -> None:
    # III/6.2 until 31 December 2023, IV/7 from 1 January 2024 (from memory)
    rows = [rule for rule in load_rule_set("solas").rules if rule.evidence == "stock" and rule.key.startswith("radio.")]
    assert {rule.reference for rule in rows if not rule.in_force(ON)} == {"SOLAS III/6.2.1", "SOLAS III/6.2.2"}
    assert {rule.status for rule in rows if rule.reference == "SOLAS IV/7"} == {"memory"}
