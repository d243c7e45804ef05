"""Names of craft, however they are written."""

from __future__ import annotations

import pytest

from workbook_tools.adopt.places import Craft, clean_name, craft_in_title, read_craft


@pytest.mark.parametrize(
    ("text", "craft"),
    [
        ("Lifeboat 1", Craft("lifeboat", "1", "")),
        ("LB1", Craft("lifeboat", "1", "")),
        ("LB No. 2 (P)", Craft("lifeboat", "2", "port")),
        ("No.1 L/Boat (Stbd)", Craft("lifeboat", "1", "starboard")),
        ("LIFEBOAT #1", Craft("lifeboat", "1", "")),
        ("Stbd lifeboat", Craft("lifeboat", "", "starboard")),
        ("Rettungsboot 2 (Bb)", Craft("lifeboat", "2", "port")),
        ("Bote salvavidas nº 1 (estribor)", Craft("lifeboat", "1", "starboard")),
        ("Rescue boat", Craft("rescue boat", "", "")),
        ("Free-fall lifeboat", Craft("free-fall lifeboat", "", "")),
        ("Life raft 3", Craft("liferaft", "3", "")),
        ("Lifeboat/rescue boat 2", Craft("lifeboat and rescue boat", "2", "")),
    ],
)
def test_a_craft_is_read(text: str, craft: Craft) -> None:
    assert read_craft(text) == craft


@pytest.mark.parametrize("text", ["Bridge", "Lifeboat 1 and 2", "Lifeboat davit", "LBX", "12", "", "Lifeboat 1 engine"])
def test_what_is_no_single_craft_is_none(text: str) -> None:
    assert read_craft(text) is None


@pytest.mark.parametrize(
    ("text", "craft"),
    [
        ("INVENTORY OF LIFEBOAT NO. 1 (PORT SIDE)", Craft("lifeboat", "1", "port")),
        ("LIFEBOAT INVENTORY - LB2 STBD", Craft("lifeboat", "2", "starboard")),
        ("Lifeboats and liferafts", None),
        ("Lifeboat 1 and lifeboat 2", None),
    ],
)
def test_a_title_names_one_craft_or_none(text: str, craft: Craft | None) -> None:
    assert craft_in_title(text) == craft


def test_a_name_loses_what_formulas_read_as_wildcards() -> None:
    assert clean_name("Boat* 1?") == "Boat 1"
