"""Worked figures that a surveyor can check by hand, each with its source."""

import pytest

from tests.published._crafts import A_RAFT, B_RAFT, ON, asked, figure, rule_of
from workbook_tools.core.quantity import in_band
from workbook_tools.core.stock import Carried, Lot, credited
from workbook_tools.rules import RuleSet, load_rule_set

LSA = load_rule_set("solas")
US = load_rule_set("us")

# LSA Code 4.1.5.1 and 46 CFR 199.175(b), a raft for 25 persons with an A pack; the arithmetic is ours.
RAFT_FOR_25 = [
    ("liferaft-a.fresh-water", "us-liferaft-a.water", 37.5),  # 1.5 L each
    ("liferaft-a.food-ration", "us-liferaft-a.provisions", 250_000),  # 10,000 kJ each
    ("liferaft-a.thermal-protective-aids", "us-liferaft-a.thermal-protective-aids", 3),  # 2.5, rounded up
    ("liferaft-a.bailer", "us-liferaft-a.bailer", 2),  # from 13 persons
    ("liferaft-a.knife", "us-liferaft-a.knife", 2),  # from 13 persons
]


@pytest.mark.parametrize(("lsa_key", "us_key", "quantity"), RAFT_FOR_25, ids=[case[0] for case in RAFT_FOR_25])
def test_a_raft_for_25_persons_carries_the_worked_quantities(lsa_key: str, us_key: str, quantity: float) -> None:
    assert figure(LSA, lsa_key, 25) == quantity
    assert figure(US, us_key, 25) == quantity


# LSA Code 4.1.5.1.2 and .3 (read on a page that restates them); 46 CFR 199.175 note 1. The B pack by LSA Code 4.1.5.3.
@pytest.mark.parametrize("key", [f"liferaft-{pack}.{item}" for pack in "ab" for item in ("knife", "bailer")])
@pytest.mark.parametrize(("persons", "pieces"), [(6, 1), (12, 1), (13, 2), (150, 2)])
def test_the_second_knife_and_bailer_begin_at_13_persons(key: str, persons: int, pieces: int) -> None:
    assert figure(LSA, key, persons) == pieces
    assert figure(US, f"us-{key}", persons) == pieces


# What a device makes in two days stands as its content; each of these could make 100 L.
DESALTING = Lot("desalting apparatus", 1, "each", 100, "L", ON)
DESALINATOR = Lot("manual reverse-osmosis desalinator", 1, "each", 100, "L")

# LSA Code 4.1.5.1.19: 0.5 L or 1.0 L of the 1.5 L (the shares partly from memory: seen for the lifeboat, and as one
# third and two thirds in 46 CFR 199.175(b)(40)). LSA Code 4.4.8.9: 1 L or 2 L of the 3 L.
REPLACED = [
    ("liferaft-a.fresh-water", [DESALTING], 12.5),
    ("liferaft-a.fresh-water", [DESALINATOR], 25),
    ("liferaft-a.fresh-water", [DESALTING, DESALINATOR], 25),
    ("liferaft-a.fresh-water", [Lot("fresh water", 12.5, "L", expires=ON), DESALTING, DESALINATOR], 37.5),
    ("lifeboat.fresh-water", [DESALTING], 25),
    ("lifeboat.fresh-water", [DESALINATOR], 50),
    ("lifeboat.fresh-water", [DESALTING, DESALINATOR], 50),
]


@pytest.mark.parametrize(("key", "lots", "litres"), REPLACED)
def test_water_is_replaced_by_one_device_or_the_other_for_25_persons(key: str, lots: list[Lot], litres: float) -> None:
    found = credited(rule_of(LSA, key), LSA.substitutes[key], lots, A_RAFT.facts, 25, ON)
    assert found == Carried(sure=litres)


def test_a_device_that_makes_less_counts_for_what_it_makes() -> None:
    # LSA Code 4.4.8.9: the device must make the water it replaces in two days
    key = "lifeboat.fresh-water"
    small = Lot("manual reverse-osmosis desalinator", 1, "each", 30, "L")
    assert credited(rule_of(LSA, key), LSA.substitutes[key], [small], {}, 25, ON).sure == 30


def test_two_safety_knives_with_opener_blades_count_as_two_tin_openers() -> None:
    # LSA Code 4.1.5.1.7 (read on a page that restates it)
    key = "liferaft-a.tin-openers"
    knives = Lot("safety knife with tin-opener blade", 2)
    assert credited(rule_of(LSA, key), LSA.substitutes[key], [knives], A_RAFT.facts, 25, ON).sure == 2


# LSA Code 4.4.8.9 and 4.4.8.12 (read on a page that restates them); 46 CFR 199.175(b)(22) and (40).
@pytest.mark.parametrize(
    ("key", "us_key", "each"), [("fresh-water", "water", 3), ("food-ration", "provisions", 10_000)]
)
@pytest.mark.parametrize("persons", [1, 25, 150])
def test_a_lifeboat_carries_3_litres_and_10000_kj_a_person(key: str, us_key: str, each: int, persons: int) -> None:
    assert figure(LSA, f"lifeboat.{key}", persons) == each * persons
    assert figure(US, f"us-lifeboat.{us_key}", persons) == each * persons


# Common practice, no source: nothing in the first 24 hours, then half a litre a person a day.
@pytest.mark.parametrize(("key", "days"), [("liferaft-a.fresh-water", 4), ("lifeboat.fresh-water", 7)])
def test_the_water_lasts_as_long_as_the_usual_ration_plan_says(key: str, days: int) -> None:
    assert 1 + figure(LSA, key, 25) / 25 / 0.5 == days


# LSA Code 4.4.8.13 to .15; 4.1.5.1.10 to .12; 4.1.5.3 (half of them in a B pack, partly from memory);
# 46 CFR 199.175(b)(30) to (32).
SIGNALS = [
    ("lifeboat", 6, 4, 2),
    ("liferaft-a", 6, 4, 2),
    ("liferaft-b", 3, 2, 1),
]


@pytest.mark.parametrize(("subject", "hand", "rocket", "smoke"), SIGNALS)
def test_the_signals_of_boat_a_pack_and_b_pack(subject: str, hand: int, rocket: int, smoke: int) -> None:
    keys = ("hand-flares", "rocket-flares", "smoke-signals")
    assert tuple(figure(LSA, f"{subject}.{key}") for key in keys) == (hand, rocket, smoke)
    us_keys = ("hand-flare", "parachute-flare", "smoke-signal")
    assert tuple(figure(US, f"us-{subject}.{key}") for key in us_keys) == (hand, rocket, smoke)


@pytest.mark.parametrize("rule_set", [LSA, US], ids=["solas", "us"])
@pytest.mark.parametrize("item", ["fresh water", "food ration"])
def test_a_b_pack_holds_neither_water_nor_food(item: str, rule_set: RuleSet) -> None:
    # LSA Code 4.1.5.3 (partly from memory); 46 CFR 199.175(b), column of the B pack
    assert asked(rule_set, item, B_RAFT, 25) == 0


# LSA Code 4.4.8.31, 4.1.5.1.24, 5.1.2.2.13; 46 CFR 199.175 note 9: a tenth of the persons permitted, never under 2. No
# text states the rounding: up, our choice. The arithmetic is ours.
AIDS = [(6, 2), (20, 2), (21, 3), (25, 3), (36, 4), (150, 15)]


@pytest.mark.parametrize("subject", ["lifeboat", "liferaft-a", "liferaft-b", "rescue-boat"])
@pytest.mark.parametrize(("persons", "aids"), AIDS)
def test_thermal_protective_aids_are_a_tenth_rounded_up_and_two_at_least(subject: str, persons: int, aids: int) -> None:
    assert figure(LSA, f"{subject}.thermal-protective-aids", persons) == aids
    assert figure(US, f"us-{subject}.thermal-protective-aids", persons) == aids


# LSA Code 4.4.8.7: twice the height; LSA Code 4.1.3.2: 10 m and the height; 46 CFR 199.175(b)(21): twice the height for
# boats, 20 m and the height for rigid rafts; 15 m at least in all of them.
PAINTERS = [
    (LSA, "lifeboat.painter-length", 12.0, 24.0),
    (LSA, "lifeboat.painter-length", 7.5, 15.0),
    (LSA, "lifeboat.painter-length", 3.0, 15.0),
    (LSA, "liferaft.painter-length", 12.0, 22.0),
    (LSA, "liferaft.painter-length", 5.0, 15.0),
    (LSA, "liferaft.painter-length", 2.0, 15.0),
    (US, "us-lifeboat.painter-length", 12.0, 24.0),
    (US, "us-lifeboat.painter-length", 3.0, 15.0),
    (US, "us-rescue-boat.painter-length", 12.0, 24.0),
    (US, "us-liferaft.painter-length", 12.0, 32.0),
]


@pytest.mark.parametrize(
    ("rule_set", "key", "height", "length"), PAINTERS, ids=[f"{case[1]}-at-{case[2]:g}-m" for case in PAINTERS]
)
def test_a_painter_follows_the_height_of_the_stowage(rule_set: RuleSet, key: str, height: float, length: float) -> None:
    assert figure(rule_set, key, height_m=height) == length


# LSA Code paragraph, figure, whether it is a most; each read on a page that restates it.
LIMITS = [
    ("liferaft.release-depth", 4, "m", True),  # 4.1.6.3: a hydrostatic release works by 4 m of water
    ("liferaft.least-persons", 6, "persons", False),  # 4.1.2.1: the smallest raft approved
    ("liferaft.packed-mass", 185, "kg", True),  # 4.1.2.2
    ("liferaft.drop-height", 18, "m", True),  # 4.1.1.2
    ("liferaft.weak-link-least", 1.8, "kN", False),  # 4.1.6.2: 2.2 kN less 0.4 kN
    ("liferaft.weak-link-most", 2.6, "kN", True),  # 4.1.6.2: 2.2 kN and 0.4 kN
]


@pytest.mark.parametrize(("key", "limit", "unit", "at_most"), LIMITS)
def test_a_raft_keeps_within_its_limits(key: str, limit: float, unit: str, at_most: bool) -> None:
    rule = rule_of(LSA, key)
    assert (figure(LSA, key), rule.unit, rule.at_most) == (limit, unit, at_most)


# LSA Code 4.2.6.1 and 4.3.6.1, from memory; 46 CFR 199.175(b)(21)(ii)(B) for rigid rafts: over 25, 9 to 25, under 9.
BANDS = [(6, 7.5), (8, 7.5), (9, 10.0), (25, 10.0), (26, 15.0), (150, 15.0)]


@pytest.mark.parametrize(("persons", "kilonewtons"), BANDS)
def test_the_strength_of_a_raft_painter_goes_by_persons(persons: int, kilonewtons: float) -> None:
    assert figure(LSA, "liferaft.painter-strength", persons) == kilonewtons
    assert figure(US, "us-liferaft.painter-strength", persons) == kilonewtons


# One pound-force in newtons: the pound, 0.45359237 kg (1959 agreement), under standard gravity, 9.80665 m/s2 (1901);
# NIST SP 811, appendix B, gives it rounded.
NEWTONS_PER_POUND_FORCE = 0.45359237 * 9.80665


def test_a_pound_force_is_4_4482216_newtons() -> None:
    assert round(NEWTONS_PER_POUND_FORCE, 7) == 4.4482216


def test_the_us_band_of_9_to_25_persons_is_the_2250_pounds_force_and_not_the_20_kn_beside_it() -> None:
    # 46 CFR 199.175(b)(21)(ii)(B) prints 20 kN beside 2,250 lbf, in the editions of 2015 and 2022
    from_pounds = 2250 * NEWTONS_PER_POUND_FORCE / 1000
    assert from_pounds == pytest.approx(10, abs=0.05)
    assert from_pounds != pytest.approx(20, rel=0.4)
    assert figure(US, "us-liferaft.painter-strength", 25) == pytest.approx(from_pounds, abs=0.05)


@pytest.mark.parametrize("key", ["liferaft.painter-strength", "us-liferaft.painter-strength"])
def test_every_size_of_raft_is_in_one_band_of_painter_strength(key: str) -> None:
    rule_set = US if key.startswith("us-") else LSA
    for persons in range(1, 201):
        assert sum(bool(in_band(rule, persons)) for rule in rule_set.by_key()[key]) == 1
