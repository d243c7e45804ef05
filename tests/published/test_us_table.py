"""The `us` rule set against the printed table, both ways, and its notes. Source: see _us_table.py."""

import pytest

from tests.published._crafts import (
    CRAFT_SUBJECTS,
    FREE_FALL_LIFEBOAT,
    INFLATED_RESCUE_BOAT,
    LIFEBOAT,
    ON,
    PERSONS,
    RIGID_INFLATED_RESCUE_BOAT,
    RIGID_RESCUE_BOAT,
    SELF_BAILING_LIFEBOAT,
    TableCraft,
    asked_of_subject,
    figure,
)
from tests.published._us_table import COLUMNS, US_ITEMS, Cell, cells, rows
from workbook_tools.core.stock import Lot, credited
from workbook_tools.rules import load_rule_set

US = load_rule_set("us")
PREFIX = "46 CFR 199.175(b)"

# Rows of the rule set that no cell holds: figures that the section's text gives beside the table. Each with its
# paragraph of 46 CFR 199.175 (87 FR 68308) unless another is named, and worked figures: persons, height in m, quantity.
DETAILS: dict[str, tuple[str, list[tuple[int | None, float | None, float]]]] = {
    "us-lifeboat.painter-length": ("(b)(21)(i)(B): twice the height, 15 m at least", [(None, 12, 24), (None, 5, 15)]),
    "us-rescue-boat.painter-length": (
        "(b)(21)(i)(B): twice the height, 15 m at least",
        [(None, 12, 24), (None, 5, 15)],
    ),
    "us-liferaft.painter-length": ("(b)(21)(ii): rigid rafts, 20 m and the height", [(None, 12, 32), (None, 0, 20)]),
    # 20 kN is printed for 9 to 25 persons beside 2,250 lbf, which is 10 kN: see test_worked_figures.py
    "us-liferaft.painter-strength": (
        "(b)(21)(ii)(B), kN",
        [(8, None, 7.5), (9, None, 10), (25, None, 10), (26, None, 15)],
    ),
    "us-liferaft.float-free-link-least": ("(b)(21)(ii)(C): 2.2 kN less 0.4 kN", [(None, None, 1.8)]),
    "us-liferaft.float-free-link-most": ("(b)(21)(ii)(C): 2.2 kN and 0.4 kN", [(None, None, 2.6)]),
    "us-lifeboat.heaving-line-length": ("(b)(14), m", [(None, None, 30)]),
    "us-rescue-boat.heaving-line-length": ("(b)(14), m", [(None, None, 30)]),
    "us-lifeboat.towline-length": ("(b)(39), m", [(None, None, 50)]),
    "us-rescue-boat.towline-length": ("(b)(39), m", [(None, None, 50)]),
    "us-lifeboat.flashlight-batteries": ("(b)(12): one spare set", [(None, None, 1)]),
    "us-lifeboat.flashlight-bulb": ("(b)(12): one spare bulb", [(None, None, 1)]),
    "us-rescue-boat.flashlight-batteries": ("(b)(12): one spare set", [(None, None, 1)]),
    "us-rescue-boat.flashlight-bulb": ("(b)(12): one spare bulb", [(None, None, 1)]),
    "us-liferaft-a.flashlight-batteries": ("(b)(12): one spare set", [(None, None, 1)]),
    "us-liferaft-a.flashlight-bulb": ("(b)(12): one spare bulb", [(None, None, 1)]),
    "us-liferaft-b.flashlight-batteries": ("(b)(12): one spare set", [(None, None, 1)]),
    "us-liferaft-b.flashlight-bulb": ("(b)(12): one spare bulb", [(None, None, 1)]),
    "us-liferaft.a-pack": ("(b), the columns: a B pack on short international voyages only", [(None, None, 1)]),
    "us-liferaft.service": ("46 CFR 199.190, from memory: 12 months, as SOLAS III/20.8.1", [(None, None, 12)]),
}


def _cell_name(cell: Cell) -> str:
    return f"{cell.number}-{US_ITEMS[cell.number]}-{cell.column.heading}".replace(" ", "-")


def test_the_copy_of_the_table_is_whole() -> None:
    # 41 numbered rows; row 20 has a second line for the paddles of rafts
    numbers = [row["item_no"] for row in rows()]
    assert numbers == [*map(str, range(1, 21)), "20p", *map(str, range(21, 42))]
    assert list(rows()[0]) == ["item_no", "item", *(column.heading for column in COLUMNS)]
    assert numbers == list(US_ITEMS)


@pytest.mark.parametrize("cell", cells(), ids=_cell_name)
def test_the_rules_ask_what_the_cell_asks(cell: Cell) -> None:
    item, subject, crafts = US_ITEMS[cell.number], cell.column.subject, cell.column.crafts
    found = {
        persons: max(asked_of_subject(US, item, subject, craft.facts, persons, ON) for craft in crafts)
        for persons in PERSONS
    }
    assert found == {persons: cell.quantity(persons) for persons in PERSONS}


def test_every_row_of_the_rule_set_is_a_cell_or_a_named_detail() -> None:
    printed = {
        (f"{PREFIX}({cell.number.removesuffix('p')})", US_ITEMS[cell.number], cell.column.subject)
        for cell in cells()
        if cell.text
    }
    others = {
        rule.key
        for rule in US.rules
        if rule.subject in CRAFT_SUBJECTS
        and (rule.key in DETAILS or (rule.reference, rule.item, rule.subject) not in printed)
    }
    assert others == set(DETAILS)


@pytest.mark.parametrize("key", DETAILS)
def test_a_detail_beside_the_table_has_the_figure_of_the_text(key: str) -> None:
    _, figures = DETAILS[key]
    found = [(persons, height, figure(US, key, persons, height)) for persons, height, _ in figures]
    assert found == figures


# The notes that take an item away: (note, row, craft it is not needed in).
NOT_NEEDED = [
    ("2", "2", SELF_BAILING_LIFEBOAT),
    ("3", "4", INFLATED_RESCUE_BOAT),
    ("3", "4", RIGID_INFLATED_RESCUE_BOAT),
    ("5", "20", FREE_FALL_LIFEBOAT),
    ("7", "23", RIGID_RESCUE_BOAT),
    ("7", "26", RIGID_RESCUE_BOAT),
    ("7", "34", RIGID_RESCUE_BOAT),
    ("10", "39", LIFEBOAT),  # the lifeboat that is not the rescue boat too
]


@pytest.mark.parametrize(
    ("note", "number", "craft"),
    NOT_NEEDED,
    ids=[f"note-{note}-row-{row}-{craft.name}" for note, row, craft in NOT_NEEDED],
)
def test_an_item_is_not_asked_where_a_note_says_so(note: str, number: str, craft: TableCraft) -> None:
    # 46 CFR 199.175, notes 2, 3, 5, 7 and 10
    assert any(cell.number == number and note in cell.notes for cell in cells())
    assert asked_of_subject(US, US_ITEMS[number], craft.subjects[0], craft.facts, 25) == 0


@pytest.mark.parametrize(
    ("number", "craft"),
    [("4", RIGID_RESCUE_BOAT)] + [(number, RIGID_INFLATED_RESCUE_BOAT) for number in ("23", "26", "34")],
    ids=lambda value: value if isinstance(value, str) else value.name,
)
def test_a_note_takes_an_item_only_from_the_boats_it_names(number: str, craft: TableCraft) -> None:
    # 46 CFR 199.175, notes 3 and 7
    assert asked_of_subject(US, US_ITEMS[number], "rescue-boat", craft.facts, 25) > 0


def test_skates_and_fenders_are_asked_only_where_the_maker_specifies_them() -> None:
    # 46 CFR 199.175, note 8
    rules = [rule for rule in US.rules if rule.item == US_ITEMS["33"]]
    assert [(rule.subject, rule.evidence) for rule in rules] == [("lifeboat", "maker"), ("rescue-boat", "maker")]


LARGE_MAKER = (100.0, "L")  # content of a device: what it makes in two days

# What may stand in an item's place: (source, rule key, craft, lots, quantity credited).
STAND_INS = [
    ("note 4", "us-rescue-boat.knife", RIGID_RESCUE_BOAT, [Lot("hatchet", 1)], 1),
    ("note 4", "us-rescue-boat.knife", INFLATED_RESCUE_BOAT, [Lot("hatchet", 1)], 0),
    ("note 6", "us-rescue-boat.oars", RIGID_RESCUE_BOAT, [Lot("buoyant paddle", 4)], 1),
    ("(b)(25)", "us-lifeboat.rainwater", LIFEBOAT, [Lot("manual reverse-osmosis desalinator", 1)], 1),
    ("(b)(40)(iii)", "us-lifeboat.water", LIFEBOAT, [Lot("desalting apparatus", 1, "each", *LARGE_MAKER, ON)], 25),
    (
        "(b)(40)(iv)",
        "us-lifeboat.water",
        LIFEBOAT,
        [Lot("manual reverse-osmosis desalinator", 1, "each", *LARGE_MAKER)],
        50,
    ),
]


@pytest.mark.parametrize(
    ("key", "craft", "lots", "quantity"),
    [case[1:] for case in STAND_INS],
    ids=[f"{case[0]}-{case[2].name}" for case in STAND_INS],
)
def test_what_may_stand_in_an_items_place_counts(key: str, craft: TableCraft, lots: list[Lot], quantity: float) -> None:
    # 46 CFR 199.175, the note or paragraph named; 25 persons: a third of 75 L by desalting, two thirds by the other
    (rule,) = US.by_key()[key]
    assert credited(rule, US.substitutes[key], lots, craft.facts, 25, ON).sure == quantity


@pytest.mark.parametrize("key", ["us-lifeboat.radar-reflector", "us-rescue-boat.radar-reflector"])
def test_a_sart_stowed_in_the_boat_replaces_its_radar_reflector(key: str) -> None:
    # 46 CFR 199.175(b)(24): a 9 GHz SART stowed in the craft, whatever its type
    (rule,) = US.by_key()[key]
    stowed = credited(rule, US.substitutes[key], [], {"sart_stowed": "yes"}, 25, ON).sure
    elsewhere = credited(rule, US.substitutes[key], [], {"sart_stowed": "no"}, 25, ON).sure
    assert (stowed, elsewhere) == (1, 0)
