"""Laws that hold for every rule and every inventory, whatever the figures: no source, they follow from the meaning."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.published._crafts import ON
from workbook_tools.catalogue import items, units
from workbook_tools.core.quantity import in_band, required
from workbook_tools.core.stock import FIT_CONDITIONS, Carried, Lot, carried, credited
from workbook_tools.rules import Rule, RuleSet, Substitute, load_rule_set

RULE_SETS = [load_rule_set("solas"), load_rule_set("us")]
RULES = [rule for rule_set in RULE_SETS for rule in rule_set.rules]
HEIGHT_M = 12.0

ALL_RULES = pytest.mark.parametrize("rule", RULES, ids=lambda rule: f"{rule.key}-{rule.origin}")


# ---- what is asked -------------------------------------------------------------------------------------------------


@ALL_RULES
def test_what_is_asked_never_falls_when_persons_rise(rule: Rule) -> None:
    asked = [required(rule, persons, HEIGHT_M) or 0.0 for persons in range(1, 201)]
    assert asked == sorted(asked)


@ALL_RULES
def test_what_is_asked_never_falls_when_the_stowage_is_higher(rule: Rule) -> None:
    asked = [required(rule, 25, height / 2) or 0.0 for height in range(80)]
    assert asked == sorted(asked)


BANDED = sorted(
    {(rule_set.key, rule.key) for rule_set in RULE_SETS for rule in rule_set.rules if rule.band_by == "persons"}
)


@pytest.mark.parametrize(("name", "key"), BANDED)
def test_what_is_asked_never_falls_from_one_band_of_persons_to_the_next(name: str, key: str) -> None:
    rows = load_rule_set(name).by_key()[key]
    asked = [required(rule, persons) or 0.0 for persons in range(1, 201) for rule in rows if in_band(rule, persons)]
    assert len(asked) == 200
    assert asked == sorted(asked)


@given(st.sampled_from(RULES), st.integers(1, 2000), st.integers(0, 2000), st.floats(0, 60))
def test_a_larger_craft_is_never_asked_for_less(rule: Rule, persons: int, more: int, height: float) -> None:
    smaller, larger = required(rule, persons, height), required(rule, persons + more, height)
    assert smaller is not None
    assert larger is not None
    assert larger >= smaller >= rule.minimum


# ---- what is carried -----------------------------------------------------------------------------------------------

ITEMS = ("hand flare", "fresh water", "food ration", "safety knife", "safety knife with tin-opener blade")
QUANTITIES = st.integers(0, 500)
DATES = st.none() | st.dates(ON - timedelta(days=400), ON + timedelta(days=400))
CONDITIONS = st.sampled_from((*FIT_CONDITIONS, "defective", "awaiting landing"))
CONTENTS = st.sampled_from([(None, None), (500.0, "mL"), (0.125, "L"), (10_000.0, "kJ"), (4.0, "each")])


@st.composite
def lots(draw: st.DrawFn) -> Lot:
    """A lot of one of a few items, in date or not, measured or not."""
    content, content_unit = draw(CONTENTS)
    return Lot(
        item=draw(st.sampled_from(ITEMS)),
        quantity=draw(st.none() | QUANTITIES),
        unit=draw(st.sampled_from([None, *units()])),
        content=content,
        content_unit=content_unit,
        expires=draw(DATES),
        condition=draw(CONDITIONS),
        certain=draw(st.booleans()),
    )


ASKED = st.sampled_from([("hand flare", "each"), ("fresh water", "L"), ("food ration", "kJ"), ("safety knife", "each")])


def _sum(parts: list[Carried]) -> Carried:
    return Carried(
        sum(part.sure for part in parts),
        sum(part.possible for part in parts),
        sum(part.expired for part in parts),
        sum(part.unmeasured for part in parts),
    )


def _same(found: Carried, expected: Carried) -> bool:
    amounts = [(found.sure, expected.sure), (found.possible, expected.possible), (found.expired, expected.expired)]
    return found.unmeasured == expected.unmeasured and all(a == pytest.approx(b) for a, b in amounts)


@given(st.lists(lots(), max_size=8), ASKED)
def test_what_is_carried_is_the_sum_over_the_lots(inventory: list[Lot], asked: tuple[str, str]) -> None:
    item, unit = asked
    assert _same(carried(inventory, item, unit, ON), _sum([carried([lot], item, unit, ON) for lot in inventory]))


@given(st.lists(lots(), max_size=8).flatmap(lambda found: st.tuples(st.just(found), st.permutations(found))), ASKED)
def test_the_order_of_the_lines_changes_nothing(
    inventories: tuple[list[Lot], list[Lot]], asked: tuple[str, str]
) -> None:
    item, unit = asked
    one, other = inventories
    assert _same(carried(one, item, unit, ON), carried(other, item, unit, ON))


@given(lots(), st.integers(0, 500), st.integers(0, 500), ASKED)
def test_a_lot_split_over_two_lines_counts_the_same(lot: Lot, here: int, there: int, asked: tuple[str, str]) -> None:
    item, unit = asked
    whole = carried([replace(lot, quantity=here + there)], item, unit, ON)
    split = carried([replace(lot, quantity=here), replace(lot, quantity=there)], item, unit, ON)
    assert split.sure == pytest.approx(whole.sure)
    assert split.possible == pytest.approx(whole.possible)
    assert split.expired == pytest.approx(whole.expired)
    assert split.at_best == pytest.approx(whole.at_best)


@given(st.lists(lots(), max_size=6), st.integers(1, 4000), ASKED)
def test_expired_lots_never_count(inventory: list[Lot], days: int, asked: tuple[str, str]) -> None:
    item, unit = asked
    expired = [replace(lot, expires=ON - timedelta(days=days)) for lot in inventory]
    found = carried(expired, item, unit, ON)
    assert (found.sure, found.possible, found.unmeasured) == (0, 0, 0)


@given(st.lists(lots(), max_size=6), ASKED, st.sampled_from(["defective", "awaiting landing", "ashore"]))
def test_what_is_out_of_use_never_counts(inventory: list[Lot], asked: tuple[str, str], condition: str) -> None:
    item, unit = asked
    assert carried([replace(lot, condition=condition) for lot in inventory], item, unit, ON) == Carried()


@given(st.lists(lots(), max_size=6), ASKED, st.dates(ON - timedelta(days=500), ON + timedelta(days=500)))
def test_what_is_surely_carried_never_rises_as_days_pass(
    inventory: list[Lot], asked: tuple[str, str], day: date
) -> None:
    item, unit = asked
    today, later = carried(inventory, item, unit, day), carried(inventory, item, unit, day + timedelta(days=30))
    assert later.sure <= today.sure
    assert later.at_best <= today.at_best


@given(st.lists(lots(), max_size=6), lots(), ASKED)
def test_one_lot_more_never_makes_less(inventory: list[Lot], more: Lot, asked: tuple[str, str]) -> None:
    item, unit = asked
    before, after = carried(inventory, item, unit, ON), carried([*inventory, more], item, unit, ON)
    assert after.sure >= before.sure
    assert after.at_best >= before.at_best


# ---- what stands in the place of something else ------------------------------------------------------------------

STAND_INS = [
    (rule_set, substitute)
    for rule_set in RULE_SETS
    for found in rule_set.substitutes.values()
    for substitute in found
    if substitute.form == "one for one"
]


@pytest.mark.parametrize(("rule_set", "stand_in"), STAND_INS, ids=[substitute.key for _, substitute in STAND_INS])
def test_one_piece_that_may_stand_for_another_counts_as_one(rule_set: RuleSet, stand_in: Substitute) -> None:
    (rule,) = rule_set.by_key()[stand_in.rule]
    facts = {fact: values[0] for fact, values in stand_in.condition.clauses}
    piece = Lot(stand_in.by_item, 1, "each", expires=ON)
    assert credited(rule, rule_set.substitutes[rule.key], [piece], facts, 25, ON).sure == 1


# ---- water alternatives --------------------------------------------------------------------------------------------

# LSA Code 4.4.8.9, 4.1.5.1.19 (the shares partly from memory); 46 CFR 199.175(b)(40)(iii) and (iv): either, never both.
WATER = [
    (rule_set, key)
    for rule_set in RULE_SETS
    for key, found in rule_set.substitutes.items()
    if sum(substitute.form == "made in 2 days" for substitute in found) > 1
]
EITHER = pytest.mark.parametrize(("rule_set", "key"), WATER, ids=[key for _, key in WATER])
LITRES = st.floats(0, 1000, allow_nan=False)


def _credited(rule_set: RuleSet, key: str, inventory: list[Lot], persons: int) -> Carried:
    (rule,) = rule_set.by_key()[key]
    return credited(rule, rule_set.substitutes[key], inventory, {}, persons, ON)


def _desalting(litres: float | None) -> Lot:
    return Lot("desalting apparatus", 1, "each", litres, "L", ON)


def _desalinator(litres: float | None) -> Lot:
    return Lot("manual reverse-osmosis desalinator", 1, "each", litres, "L")


def test_the_water_of_lifeboats_and_a_packs_has_two_alternatives() -> None:
    assert {"lifeboat.fresh-water", "liferaft-a.fresh-water", "us-lifeboat.water"} <= {key for _, key in WATER}


@EITHER
@given(persons=st.integers(1, 150), water=LITRES, one=LITRES, other=LITRES)
def test_water_alternatives_never_add_up(
    rule_set: RuleSet, key: str, persons: int, water: float, one: float, other: float
) -> None:
    packed = Lot("fresh water", water, "L", expires=ON)
    either = max(
        _credited(rule_set, key, [packed, _desalting(one)], persons).sure,
        _credited(rule_set, key, [packed, _desalinator(other)], persons).sure,
    )
    both = _credited(rule_set, key, [packed, _desalting(one), _desalinator(other)], persons)
    assert both.sure == pytest.approx(either)


@EITHER
@given(persons=st.integers(1, 150))
def test_devices_alone_never_meet_the_whole_of_the_water(rule_set: RuleSet, key: str, persons: int) -> None:
    (rule,) = rule_set.by_key()[key]
    many = [_desalting(10_000.0), _desalinator(10_000.0), _desalting(10_000.0), _desalinator(10_000.0)]
    asked = required(rule, persons)
    assert asked is not None
    assert _credited(rule_set, key, many, persons).sure == pytest.approx(asked * 2 / 3)


@EITHER
@given(persons=st.integers(1, 150))
def test_a_device_whose_output_is_not_recorded_is_possible_and_never_sure(
    rule_set: RuleSet, key: str, persons: int
) -> None:
    found = _credited(rule_set, key, [_desalinator(None)], persons)
    assert found.sure == 0
    assert found.possible > 0


def test_every_item_of_these_tests_is_in_the_catalogue() -> None:
    assert set(ITEMS) <= set(items())
