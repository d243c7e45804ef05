"""Fire appliances against literal readings of the paragraphs.

Spare charges: SOLAS II-2/10.3.3 (all of the first ten extinguishers, half of the rest, sixty at most); the text has no
rounding: a half counts as a whole charge, our choice. Hoses: II-2/10.2.3 (partly from memory). Outfits: II-2/10.10.2.
Breathing apparatus: II-2/10.10.2.5. EEBD: II-2/13.3.4 and MSC/Circ.1081. Extinguishers: A.951(23) 9.1.
"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.workbooks import ON, Workbook, clean
from workbook_tools.core.fire import hoses, spare_charges
from workbook_tools.rules import Rule, load_rule_set

RULES = load_rule_set("solas").by_key()


def _literal(extinguishers: int) -> int:
    """Hand out charges one by one: whole ones to the first ten, half ones to the rest; begun charges are whole."""
    halves = 0
    for number in range(1, extinguishers + 1):
        halves += 2 if number <= 10 else 1
    return min((halves + 1) // 2, 60)


@pytest.mark.parametrize("extinguishers", range(201))
def test_spare_charges_as_the_paragraph_reads(extinguishers: int) -> None:
    (rule,), (cap,) = RULES["fire.spare-charges"], RULES["fire.spare-charges-most"]
    asked = spare_charges(extinguishers, int(rule.threshold or 0), rule.percent, int(cap.fixed))
    assert asked == _literal(extinguishers)


# The figures of the paragraph, by hand; the cap is reached with ten and a hundred, less the rounded half.
@pytest.mark.parametrize(("extinguishers", "charges"), [(10, 10), (11, 11), (12, 11), (109, 60), (110, 60), (200, 60)])
def test_spare_charges_worked_by_hand(extinguishers: int, charges: int) -> None:
    assert _literal(extinguishers) == charges


@given(st.dictionaries(st.sampled_from("abcdef"), st.integers(0, 60)))
def test_counting_by_type_and_size_never_asks_less_than_over_the_ship(numbers: dict[str, int]) -> None:
    apart = sum(spare_charges(number, 10, 50, 60) for number in numbers.values())
    assert apart >= spare_charges(sum(numbers.values()), 10, 50, 60)


@given(st.integers(0, 500), st.integers(0, 50))
def test_more_extinguishers_never_ask_for_fewer_charges(number: int, more: int) -> None:
    assert spare_charges(number, 10, 50, 60) <= spare_charges(number + more, 10, 50, 60) <= 60


@given(st.floats(20, 400), st.floats(0, 50))
def test_a_longer_ship_never_has_fewer_hoses(length: float, more: float) -> None:
    least, most = hoses(length, 30, 1, 5)
    assert 5 <= least <= most <= least + 1
    assert hoses(length + more, 30, 1, 5) >= (least, most)


# key, figure, unit: as the paragraphs state them, copied by hand
STATED = [
    ("fire.extinguisher-service", 12, "months"),  # A.951(23) 9.1
    ("fire.extinguisher-discharge", 60, "months"),  # A.951(23) 9.1.1
    ("fire.extinguisher-pressure-test", 120, "months"),  # A.951(23) 9.1.2
    ("fire.outfits-cargo", 2, "each"),  # II-2/10.10.2
    ("fire.outfits-tanker", 4, "each"),  # two, and two more of tankers
    ("fire.outfits-passenger", 2, "each"),
    ("fire.outfits-passenger-pair", 2, "each"),
    ("fire.outfits-passenger-length", 80, "m"),
    ("fire.spare-cylinders", 2, "each"),  # II-2/10.10.2.5
    ("fire.spare-cylinders-recharged", 1, "each"),
    ("fire.spare-cylinders-passenger", 2, "each"),
    ("fire.spare-cylinders-passenger-recharged", 1, "each"),
    ("fire.spare-cylinders-passenger-over-36", 2, "each"),
    ("fire.eebd-accommodation", 2, "each"),  # II-2/13.3.4, MSC/Circ.1081
    ("fire.eebd-spare", 1, "each"),
    ("fire.eebd-spare-passenger", 2, "each"),
    ("fire.hoses-length", 30, "m"),  # II-2/10.2.3, partly from memory
    ("fire.hoses-dangerous-goods", 3, "each"),
    ("fire.radios", 2, "each"),  # II-2/10.10.4
    ("fire.dangerous-goods-suits", 4, "each"),  # II-2/19, from memory
    ("fire.dangerous-goods-breathing-apparatus", 2, "each"),
    ("fire.atmosphere-instrument", 1, "each"),  # XI-1/7
]


@pytest.mark.parametrize(("key", "figure", "unit"), STATED, ids=[row[0] for row in STATED])
def test_a_row_holds_the_figure_its_paragraph_states(key: str, figure: float, unit: str) -> None:
    (rule,) = RULES[key]
    assert (rule.fixed, rule.unit) == (figure, unit)


def _banded(key: str, size: float) -> Rule:
    (rule,) = [
        rule
        for rule in RULES[key]
        if (rule.band_from or 0) <= size and (rule.band_until is None or size < rule.band_until)
    ]
    return rule


def test_hoses_are_five_at_least_from_1000_gross_tonnage_on_and_three_below() -> None:
    # II-2/10.2.3, partly from memory
    assert [_banded("fire.hoses", tonnage).minimum for tonnage in (999.9, 1000)] == [3, 5]
    assert [_banded("fire.hoses", tonnage).fixed for tonnage in (999.9, 1000)] == [1, 1]


def test_a_main_vertical_zone_has_two_eebd_up_to_36_passengers_and_four_above() -> None:
    # MSC/Circ.1081
    assert [_banded("fire.eebd-zones", passengers).fixed for passengers in (12, 36, 37)] == [2, 2, 4]


def _state(book: Workbook, rule: str, on: date = ON) -> str:
    (found,) = [state.state for state in book.audit(on).states if (state.rule, state.subject) == (rule, "ship")]
    return found


@pytest.mark.parametrize(
    ("passengers", "plant", "cylinders", "state"),
    [
        (36, "yes", 6, "passed"),  # one for each of six apparatus
        (36, "yes", 5, "finding"),
        (37, "yes", 11, "finding"),  # above 36 passengers always two for each
        (37, "yes", 12, "passed"),
    ],
)
def test_above_36_passengers_a_recharging_plant_saves_no_cylinder(
    passengers: int, plant: str, cylinders: int, state: str
) -> None:
    book = clean()
    book.ship.update(ship_type="passenger ship", voyage="short international", recharging_plant=plant)
    book.ship.update(passengers_certified=passengers, passenger_length_m=100, fire_zones=3)
    book.find("fire", kind="breathing apparatus spare cylinder")["quantity"] = cylinders
    over = passengers > 36
    rule = "fire.spare-cylinders-passenger-over-36" if over else "fire.spare-cylinders-passenger-recharged"
    assert _state(book, rule) == state
    if over:
        assert _state(book, "fire.spare-cylinders-passenger-recharged") == "not_applicable"


@pytest.mark.parametrize(("outfits", "state"), [(3, "finding"), (4, "passed")])
def test_a_tanker_has_four_outfits(outfits: int, state: str) -> None:
    book = clean()
    book.ship["ship_type"] = "oil tanker"
    book.find("fire", kind="fire-fighter's outfit")["quantity"] = outfits
    assert _state(book, "fire.outfits-tanker") == state


@pytest.mark.parametrize(("on", "state"), [(date(2016, 6, 30), "not_applicable"), (date(2016, 7, 1), "passed")])
def test_the_atmosphere_testing_instrument_is_asked_from_july_2016(on: date, state: str) -> None:
    assert _state(clean(), "fire.atmosphere-instrument", on) == state


@pytest.mark.parametrize(
    ("foam_spares", "counting", "state"),
    [(8, "by type and size", "passed"), (7, "by type and size", "finding"), (8, "over the ship", "passed")],
)
def test_the_counting_chosen_decides_which_charges_are_short(foam_spares: int, counting: str, state: str) -> None:
    book = clean()
    book.ship["spare_charge_counting"] = counting
    book.find("fire", kind="spare charge", agent="foam")["quantity"] = foam_spares
    states = {entry.state for entry in book.audit().states if entry.rule == "fire.spare-charges"}
    assert (states == {"passed"}) == (state == "passed")
    assert ("finding" in states) == (state == "finding")


def test_without_a_fire_sheet_every_rule_is_not_evaluated_and_nothing_is_found() -> None:
    book = clean()
    del book.rows["fire"]
    result = book.audit()
    states = {state.state for state in result.states if state.rule.startswith("fire.")}
    assert states == {"not_evaluated", "not_applicable"}
    assert [finding for finding in result.findings if finding.code.startswith("FF")] == []
