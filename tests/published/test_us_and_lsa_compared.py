"""The whole US table against the LSA Code rules: each difference is named with its reason, and stays a difference.

Sources: 46 CFR 199.175(b) (87 FR 68308) as the independent check; LSA Code 4.4.8, 4.1.5 and 5.1.2 as our `solas` rules
hold them.
"""

import pytest

from tests.published._crafts import (
    A_RAFT,
    B_RAFT,
    COUNTED,
    FREE_FALL_LIFEBOAT,
    INFLATED_RESCUE_BOAT,
    LIFEBOAT,
    LIFEBOAT_AND_RESCUE_BOAT,
    PERSONS,
    RIGID_INFLATED_RESCUE_BOAT,
    RIGID_RESCUE_BOAT,
    SELF_BAILING_LIFEBOAT,
    SHORT_LIFEBOAT,
    TableCraft,
    asked,
    figure,
    of_equipment_table,
)
from tests.published._us_table import US_ITEMS, cells
from workbook_tools.rules import load_rule_set

US = load_rule_set("us")
LSA = load_rule_set("solas")

CRAFTS = (
    LIFEBOAT,
    SHORT_LIFEBOAT,
    SELF_BAILING_LIFEBOAT,
    FREE_FALL_LIFEBOAT,
    LIFEBOAT_AND_RESCUE_BOAT,
    A_RAFT,
    B_RAFT,
    RIGID_RESCUE_BOAT,
    INFLATED_RESCUE_BOAT,
    RIGID_INFLATED_RESCUE_BOAT,
)
LIFEBOATS = (LIFEBOAT, SHORT_LIFEBOAT, SELF_BAILING_LIFEBOAT, FREE_FALL_LIFEBOAT)
RESCUE_BOATS = (RIGID_RESCUE_BOAT, INFLATED_RESCUE_BOAT, RIGID_INFLATED_RESCUE_BOAT)
RAFTS = (A_RAFT, B_RAFT)

# Where the LSA Code calls the row's thing by another name: any one of these is the row's.
LSA_ITEMS = {
    "3": ("boat-hook", "safety boat-hook"),  # 5.1.2.3.1 rigid, 5.1.2.4.5 inflated
    "17": ("safety knife", "knife or hatchet"),  # 5.1.2.4.1 inflated, 5.1.2.3.3 rigid; US note 4 says the same
    "20": ("buoyant oars", "buoyant oars or paddles"),  # 5.1.2.2.1; US note 6 says the same
    "29": ("anti-seasickness medicine", "seasickness bag"),  # a US kit is one bag and 48 h of medicine, (b)(29)
}

_LADDER = "row 18: a ladder belongs to the boat's construction in the LSA Code, not to its equipment list"
_RAINWATER = "row 25: the means to collect rain belongs to the boat's construction in the LSA Code"
_SKATES = "row 33, only if the maker specifies them: construction in the LSA Code"
_KNIFE = "row 17 as amended on 14 December 2022: knife and jackknife; LSA Code 4.4.8.22 asks the jack-knife only"
_PAINTER = "row 21: LSA Code 4.1.3.2 asks a raft's painter among its fittings, as a length"

# Every difference between the two, by row and craft, with its reason.
EXCEPTIONS: dict[tuple[str, str], str] = {
    **{("17", craft.name): _KNIFE for craft in LIFEBOATS},
    **{("18", craft.name): _LADDER for craft in (*LIFEBOATS, LIFEBOAT_AND_RESCUE_BOAT, *RESCUE_BOATS)},
    **{("21", craft.name): _PAINTER for craft in RAFTS},
    **{("25", craft.name): _RAINWATER for craft in (*LIFEBOATS, LIFEBOAT_AND_RESCUE_BOAT)},
    **{("33", craft.name): _SKATES for craft in (*LIFEBOATS, LIFEBOAT_AND_RESCUE_BOAT, *RESCUE_BOATS)},
    ("11", SHORT_LIFEBOAT.name): "LSA Code 4.4.8.32 lets the Administration drop fishing tackle; the US column does",
    ("22", SHORT_LIFEBOAT.name): "LSA Code 4.4.8.32 lets the Administration drop food; the US column does",
}


def _us(number: str, craft: TableCraft) -> dict[int, float]:
    return {persons: asked(US, US_ITEMS[number], craft, persons) for persons in PERSONS}


def _lsa(number: str, craft: TableCraft) -> dict[int, float]:
    items = LSA_ITEMS.get(number, (US_ITEMS[number],))
    return {persons: max(asked(LSA, item, craft, persons) for item in items) for persons in PERSONS}


@pytest.mark.parametrize("craft", CRAFTS, ids=lambda craft: craft.name)
@pytest.mark.parametrize("number", US_ITEMS)
def test_the_two_tables_agree_but_for_the_named_exceptions(number: str, craft: TableCraft) -> None:
    agree = _us(number, craft) == _lsa(number, craft)
    reason = EXCEPTIONS.get((number, craft.name))
    if reason is None:
        assert _us(number, craft) == _lsa(number, craft), "name the difference in EXCEPTIONS with its reason"
    else:
        assert not agree, f"no longer a difference; take the exception out: {reason}"


def test_every_exception_names_a_row_and_a_craft() -> None:
    known = {(number, craft.name) for number in US_ITEMS for craft in CRAFTS}
    assert set(EXCEPTIONS) <= known
    assert all(EXCEPTIONS.values())


@pytest.mark.parametrize("item", LSA_ITEMS["29"])
@pytest.mark.parametrize("craft", [LIFEBOAT, A_RAFT, B_RAFT], ids=lambda craft: craft.name)
def test_a_seasickness_kit_is_a_bag_and_a_supply_of_medicine_for_each_person(craft: TableCraft, item: str) -> None:
    # 46 CFR 199.175(b)(29); LSA Code 4.4.8.21 and 4.1.5.1.21 (the raft's 48 h partly from memory)
    assert asked(LSA, item, craft, 25) == asked(US, "seasickness kit", craft, 25) == 25


_INFLATABLE = "LSA Code 4.2.9.1: inflatable rafts; the table's columns are for rigid rafts"
_RAFT_FITTING = "a fitting or limit of the raft itself, outside the equipment table"
_PACK = "which pack a ship may use is the column of the US table, not a row"

# Rules of the LSA Code for craft, counted in pieces, litres or kJ or on the raft itself, that no US cell answers.
LSA_ONLY: dict[str, str] = {
    "liferaft-a.scissors": "LSA Code 4.1.5.1.7 asks a pair of scissors; the US table has no such row",
    "lifeboat.torch-batteries": "no cell: us-lifeboat.flashlight-batteries holds 46 CFR 199.175(b)(12)",
    "lifeboat.torch-bulb": "no cell: us-lifeboat.flashlight-bulb holds 46 CFR 199.175(b)(12)",
    "rescue-boat.torch-batteries": "no cell: us-rescue-boat.flashlight-batteries holds 46 CFR 199.175(b)(12)",
    "rescue-boat.torch-bulb": "no cell: us-rescue-boat.flashlight-bulb holds 46 CFR 199.175(b)(12)",
    "liferaft-a.torch-batteries": "no cell: us-liferaft-a.flashlight-batteries holds 46 CFR 199.175(b)(12)",
    "liferaft-a.torch-bulb": "no cell: us-liferaft-a.flashlight-bulb holds 46 CFR 199.175(b)(12)",
    "liferaft-b.torch-batteries": "no cell: us-liferaft-b.flashlight-batteries holds 46 CFR 199.175(b)(12)",
    "liferaft-b.torch-bulb": "no cell: us-liferaft-b.flashlight-bulb holds 46 CFR 199.175(b)(12)",
    "liferaft.repair-outfit": _INFLATABLE,
    "liferaft.pump": _INFLATABLE,
    "liferaft.hydrostatic-release": _RAFT_FITTING,
    "liferaft.release-depth": _RAFT_FITTING,
    "liferaft.weak-link-least": _RAFT_FITTING,
    "liferaft.weak-link-most": _RAFT_FITTING,
    "liferaft.painter-length": _RAFT_FITTING,
    "liferaft.painter-strength": _RAFT_FITTING,
    "liferaft.least-persons": _RAFT_FITTING,
    "liferaft.packed-mass": _RAFT_FITTING,
    "liferaft.drop-height": _RAFT_FITTING,
    "liferaft.a-pack-cargo": _PACK,
    "liferaft.a-pack-passenger": _PACK,
    "liferaft.service": "servicing, 46 CFR 199.190, not the equipment table",
    "liferaft.dated-contents": "servicing: resolution A.761(18)",
    "lifeboat.painter-length": "a length: compared with 46 CFR 199.175(b)(21) below",
    "lifeboat.rescue-quoit-line": "a length: compared with 46 CFR 199.175(b)(14) below",
    "rescue-boat.rescue-quoit-line": "a length: compared with 46 CFR 199.175(b)(14) below",
    "rescue-boat.towing-line-length": "a length: compared with 46 CFR 199.175(b)(39) below",
    "rescue-boat.sea-anchor-hawser": "LSA Code 5.1.2.2.4 gives the hawser 10 m; the US table has no such figure",
}


def test_every_lsa_rule_without_a_us_cell_is_named() -> None:
    answered = {
        (item, cell.column.subject)
        for cell in cells()
        if cell.text
        for item in LSA_ITEMS.get(cell.number, (US_ITEMS[cell.number],))
    }
    alone = {
        rule.key
        for rule in LSA.rules
        if of_equipment_table(rule) and not (rule.evidence in COUNTED and (rule.item, rule.subject) in answered)
    }
    assert alone == set(LSA_ONLY), "name it in LSA_ONLY with the reason, or take it out"


# Lengths and strengths beside the tables that both texts give: (LSA rule, US rule, persons, height, same in both?).
LENGTHS = [
    ("lifeboat.painter-length", "us-lifeboat.painter-length", None, 12.0, True),
    ("lifeboat.painter-length", "us-lifeboat.painter-length", None, 5.0, True),
    ("lifeboat.rescue-quoit-line", "us-lifeboat.heaving-line-length", None, None, True),
    ("rescue-boat.rescue-quoit-line", "us-rescue-boat.heaving-line-length", None, None, True),
    ("rescue-boat.towing-line-length", "us-rescue-boat.towline-length", None, None, True),
    ("liferaft.weak-link-least", "us-liferaft.float-free-link-least", None, None, True),
    ("liferaft.weak-link-most", "us-liferaft.float-free-link-most", None, None, True),
    ("liferaft.painter-strength", "us-liferaft.painter-strength", 8, None, True),
    ("liferaft.painter-strength", "us-liferaft.painter-strength", 25, None, True),  # once 20 kN is read as 10
    ("liferaft.painter-strength", "us-liferaft.painter-strength", 26, None, True),
    ("liferaft.painter-length", "us-liferaft.painter-length", None, 12.0, False),  # 10 m against 20 m for a rigid raft
]


@pytest.mark.parametrize(("lsa_key", "us_key", "persons", "height", "same"), LENGTHS)
def test_lengths_and_strengths_agree_but_for_the_raft_painter(
    lsa_key: str, us_key: str, persons: int | None, height: float | None, same: bool
) -> None:
    # LSA Code 4.4.8.7, 4.4.8.24, 5.1.2.2, 4.1.3.2 (from memory), 4.1.6.2; 46 CFR 199.175(b)(14), (21), (39)
    assert (figure(LSA, lsa_key, persons, height) == figure(US, us_key, persons, height)) is same


def test_only_the_us_table_gives_the_rescue_boats_painter_a_length() -> None:
    # LSA Code 5.1.2.2.5: sufficient length, no number; 46 CFR 199.175(b)(21)(i)(B): twice the height or 15 m
    lengths = {
        rule_set.key: [
            rule.key
            for rule in rule_set.of_subject("rescue-boat")
            if rule.item == "painter" and rule.evidence == "length"
        ]
        for rule_set in (LSA, US)
    }
    assert lengths == {"solas": [], "us": ["us-rescue-boat.painter-length"]}


def test_only_the_us_table_lets_a_sart_replace_the_rescue_boats_radar_reflector() -> None:
    # LSA Code 5.1.2.2.12 has no such waiver; 46 CFR 199.175(b)(24) has it for any craft
    assert "rescue-boat.radar-reflector" not in LSA.substitutes
    assert "us-rescue-boat.radar-reflector" in US.substitutes
