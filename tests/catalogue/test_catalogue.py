"""The lists of items, kinds, units and places."""

import pytest

from workbook_tools import catalogue


@pytest.mark.parametrize(
    ("name", "item"),
    [
        ("Hand Flares", "hand flare"),
        ("parachute rocket", "rocket parachute flare"),
        ("TPA", "thermal protective aid"),
        ("HRU", "hydrostatic release unit"),
        ("tin opener", "tin-opener"),
        ("First Aid Kit", "first-aid outfit"),
        ("lifebuoy w/ light", "lifebuoy with light"),
    ],
)
def test_an_item_is_known_by_its_other_names(name: str, item: str) -> None:
    assert catalogue.item_names().find(name) == item


def test_the_nearest_item_is_proposed_for_a_slip() -> None:
    assert catalogue.item_names().nearest("hand flair") == "hand flare"
    assert catalogue.item_names().nearest("brass sextant") is None


def test_no_name_means_two_items() -> None:
    with pytest.raises(ValueError, match="names both"):
        catalogue.Names([("hand flare", ["flare"]), ("rocket", ["Flares"])])


@pytest.mark.parametrize(
    "text", ["Bridge", "Bridge wing, port", "Pyrotechnics locker", "Engine control room", "E/R", "ECR", "Wheel house"]
)
def test_a_place_on_board_is_a_place(text: str) -> None:
    assert catalogue.is_place(text)


@pytest.mark.parametrize("text", ["Lifeboat 1", "Lifebaot 1", "Raft P", "Raft E", "Boat R"])
def test_a_craft_is_no_place_of_the_list(text: str) -> None:
    assert not catalogue.is_place(text)


def test_units_that_measure_different_things_do_not_convert() -> None:
    assert catalogue.convert(1, "L", "kJ") is None
    assert catalogue.find_unit("Litres") == "L"
    assert catalogue.find_unit("furlong") is None
