"""What counts as carried, and what takes the place of what."""

from datetime import date

import pytest

from workbook_tools.core import stock
from workbook_tools.core.stock import Carried, Lot, carried, credited, measure, standing
from workbook_tools.rules import load_rule_set

ON = date(2026, 11, 25)
GOOD, BAD = date(2028, 1, 31), date(2026, 11, 24)
SOLAS = load_rule_set("solas")
WATER = SOLAS.by_key()["lifeboat.fresh-water"][0]
WATER_BY = SOLAS.substitutes["lifeboat.fresh-water"]
REFLECTOR = SOLAS.by_key()["lifeboat.radar-reflector"][0]
REFLECTOR_BY = SOLAS.substitutes["lifeboat.radar-reflector"]


@pytest.mark.parametrize(
    ("lot", "unit", "amount"),
    [
        (Lot("fresh water", 72, "sachet", 500, "mL"), "L", 36.0),
        (Lot("fresh water", 90, "L"), "L", 90.0),
        (Lot("fresh water", 90, "L", 5, "L"), "L", 90.0),  # litres are litres, whatever the content says
        (Lot("fresh water", 10, "sachet", 1, "US gal"), "L", 37.85411784),
        (Lot("food ration", 30, None, 10000, "kJ"), "kJ", 300000.0),
        (Lot("food ration", 30, None, 2400, "kcal"), "kJ", 301248.0),
        (Lot("hand flare", 2, "pack", 3, "each"), "each", 6.0),
        (Lot("painter", 2, None, 25, "m"), "each", 2.0),
        (Lot("anti-seasickness medicine", 20), "48 h supply", 20.0),
        (Lot("anti-seasickness medicine", 960, "h"), "48 h supply", 20.0),
    ],
)
def test_a_lot_is_measured_in_the_rules_unit(lot: Lot, unit: str, amount: float) -> None:
    assert measure(lot, unit) == pytest.approx(amount)


@pytest.mark.parametrize(
    "lot",
    [Lot("fresh water", 72, "sachet"), Lot("fresh water", None, "L"), Lot("fresh water", 72, "sachet", 500, "kg")],
)
def test_without_a_content_a_lot_has_no_measure(lot: Lot) -> None:
    assert measure(lot, "L") is None


@pytest.mark.parametrize(
    ("lot", "state"),
    [
        (Lot("hand flare", 6, expires=GOOD), stock.SURE),
        (Lot("hand flare", 6, expires=ON), stock.SURE),
        (Lot("hand flare", 6, expires=BAD), stock.EXPIRED),
        (Lot("hand flare", 6), stock.POSSIBLE),
        (Lot("hand flare", 6, expires=GOOD, certain=False), stock.POSSIBLE),
        (Lot("hand flare", 6, expires=GOOD, condition="awaiting landing"), stock.UNFIT),
        (Lot("bucket", 2), stock.SURE),
        (Lot("bucket", 2, condition="spare"), stock.SURE),
        (Lot("bucket", 2, condition="defective"), stock.UNFIT),
    ],
)
def test_only_what_is_fit_and_in_date_is_sure(lot: Lot, state: str) -> None:
    assert standing(lot, ON) == state


def test_a_hatchet_counts_as_knife_or_hatchet_but_a_knife_is_no_hatchet() -> None:
    lots = [Lot("hatchet", 2), Lot("jack-knife", 1)]
    assert carried(lots, "knife or hatchet", "each", ON).sure == 3
    assert carried(lots, "hatchet", "each", ON).sure == 2


def test_packs_without_a_number_hold_at_least_one_and_perhaps_more() -> None:
    total = carried([Lot("hand flare", 2, "pack", expires=GOOD)], "hand flare", "each", ON)
    assert total.sure == 2
    assert total.at_best == float("inf")


def _water(*lots: Lot, persons: int = 20) -> Carried:
    return credited(WATER, WATER_BY, [Lot("fresh water", 20, "L", expires=GOOD), *lots], {}, persons, ON)


def test_a_desalinator_counts_for_what_it_makes_in_two_days_up_to_its_share() -> None:
    item = "manual reverse-osmosis desalinator"
    assert _water(Lot(item, 1, None, 30, "L")).sure == 50
    assert _water(Lot(item, 1, None, 90, "L")).sure == 60  # 2 L for each of 20 persons at most


def test_a_desalinator_of_unknown_output_is_possible_and_not_sure() -> None:
    water = _water(Lot("manual reverse-osmosis desalinator", 1))
    assert (water.sure, water.at_best) == (20, 60)


def test_the_two_devices_are_alternatives_and_never_added() -> None:
    water = _water(
        Lot("manual reverse-osmosis desalinator", 1, None, 40, "L"),
        Lot("desalting apparatus", 1, None, 20, "L", expires=GOOD),
    )
    assert water.sure == 60


def test_a_sart_stowed_in_the_boat_takes_the_reflectors_place() -> None:
    assert credited(REFLECTOR, REFLECTOR_BY, [], {"sart_stowed": "yes"}, 20, ON).sure == 1
    assert credited(REFLECTOR, REFLECTOR_BY, [], {"sart_stowed": "no"}, 20, ON).sure == 0
    assert credited(REFLECTOR, REFLECTOR_BY, [Lot("survival-craft SART", 1)], {"sart_stowed": None}, 20, ON).sure == 1


def test_a_marked_figures_rounding_is_no_shortage() -> None:
    assert stock.suffices(59.9999, 60)
    assert not stock.suffices(59.9, 60)
