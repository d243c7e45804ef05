"""Several things told in one cell."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.adopt.measures import Lot, lots, measure_in


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("500 ml x 72", [Lot(72, None, 500, "mL")]),
        ("72 x 500ml", [Lot(72, None, 500, "mL")]),
        ("72 pcs x 0.5 l", [Lot(72, "each", 0.5, "L")]),
        ("24 packs × 10000 kJ", [Lot(24, "pack", 10000, "kJ")]),
        ("2 nos", [Lot(2, "each")]),
        ("2 nos.", [Lot(2, "each")]),
        ("6 Stück", [Lot(6, "each")]),
        ("3 uds", [Lot(3, "each")]),
        ("2 buah", [Lot(2, "each")]),
        ("exp 03/27", [Lot(expires="03/27")]),
        ("Exp.: 31.03.2027", [Lot(expires="31.03.2027")]),
        ("6 pcs exp 03/27", [Lot(6, "each", expires="03/27")]),
        ("6 (exp 03/2027)", [Lot(6, expires="03/2027")]),
        ("500 ml x 72, exp 06/2029", [Lot(72, None, 500, "mL", "06/2029")]),
        ("4 exp 03/27, 2 exp 08/28", [Lot(4, expires="03/27"), Lot(2, expires="08/28")]),
        ("valid until Mar 2027", [Lot(expires="Mar 2027")]),
    ],
)
def test_what_a_cell_tells(text: str, told: list[Lot]) -> None:
    assert lots(text) == told


@pytest.mark.parametrize(
    "text",
    [
        "6 + 2 spare",
        "see list",
        "500 ml x 72 l",
        "2 x 3",
        "six",
        "6 pcs, one torn",
        "1.5.3 nos",
        "3 of 6",
        "",
        "exp soon",
    ],
)
def test_a_word_that_is_not_understood_leaves_the_whole_cell_unread(text: str) -> None:
    assert lots(text) is None


@given(st.text(max_size=60))
def test_no_text_brings_it_down(text: str) -> None:
    lots(text)
    measure_in(text)


@pytest.mark.parametrize(
    ("text", "rest", "measure"),
    [
        ("Drinking water 500 ml", "Drinking water", Lot(content=500, content_unit="mL")),
        ("Drinking water (500 ml) sachets", "Drinking water sachets", Lot(content=500, content_unit="mL")),
        ("Painter 25 m", "Painter", Lot(content=25, content_unit="m")),
        ("Lifeboat 1", "Lifeboat 1", None),
        ("SART 9 GHz", "SART 9 GHz", None),
    ],
)
def test_a_measure_in_a_name_is_its_content(text: str, rest: str, measure: Lot | None) -> None:
    assert measure_in(text) == (rest, measure)
