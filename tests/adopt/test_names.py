"""Names of items: likeness helps with a slip of the pen and never makes another thing of one."""

from __future__ import annotations

import pytest

from workbook_tools.adopt.mapping import KEEP, UNDECIDED
from workbook_tools.adopt.names import match_item, match_name
from workbook_tools.adopt.words import vocabulary


@pytest.mark.parametrize(
    ("text", "item"),
    [
        ("HAND FLARES", "hand flare"),
        ("Hand flaers", "hand flare"),
        ("Hand flares (red, 6 months old)", "hand flare"),
        ("Buoyant smoke signal - orange", "buoyant smoke signal"),
        ("SOLAS approved hand flares", "hand flare"),
        ("Fallschirmrakete", "rocket parachute flare"),
        ("Bengalas de mano", "hand flare"),
        ("Compas", "compass"),
    ],
)
def test_an_item_is_known_as_people_write_it(text: str, item: str) -> None:
    assert match_item(text).to == item


@pytest.mark.parametrize(
    ("text", "not_item"),
    [
        ("Lifeboat light", "lifebuoy light"),
        ("Lifejacket whistle", "whistle"),
        ("Hand pump handle", "manual bailing pump"),
        ("Spare parts for searchlight", "searchlight"),
        ("Portable water pump", "fresh water"),
        ("Lifebuoy line throwing", "lifebuoy line"),
        ("Water tablets", "fresh water"),
        ("Flares", "hand flare"),
        ("Battery for hand torch radio", "torch battery set"),
        ("Empty water cans", "fresh water"),
    ],
)
def test_another_thing_is_never_taken_for_it_without_asking(text: str, not_item: str) -> None:
    assert match_item(text).to in (UNDECIDED, KEEP), not_item


def test_no_declared_name_left_out_of_the_list_is_applied_wrongly() -> None:
    """Each name in turn is looked up in the list without it: what is then applied must be the same thing."""
    names = vocabulary().items
    wrong = []
    for name, found in names.items():
        match = match_name(name, {other: entry for other, entry in names.items() if other != name})
        if match.to not in (KEEP, UNDECIDED, found.entry):
            wrong.append(f"{name}: {match.to} for {found.entry} ({match.evidence})")
    assert wrong == []


def test_a_thing_like_none_of_ours_is_kept_as_written() -> None:
    assert match_item("Ship's bell").to == KEEP
