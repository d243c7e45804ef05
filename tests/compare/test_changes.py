"""What changed is told once, at its cells, whichever way the lines stand; and a person is never named."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.compare.pairs import changed, read, step, two
from tests.workbooks import ON, Workbook, clean
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.compare.changes import CHANGED, GONE, NEW, Change, changes, new_log_lines
from workbook_tools.compare.identity import KEYS
from workbook_tools.compare.matching import match


def shuffled(book: Workbook, seed: int) -> Workbook:
    """Lines and columns in any order, empty lines between, title rows above."""
    pick = random.Random(seed)
    book.title_rows = pick.randint(0, 5)
    for key in book.rows:
        order = [column.key for column in sheet(key).columns]
        pick.shuffle(order)
        book.columns[key] = order
        pick.shuffle(book.rows[key])
        at = pick.randint(0, len(book.rows[key]))
        book.rows[key][at:at] = [{} for _ in range(pick.randint(0, 2))]
    return book


def one(found: list[Change]) -> tuple[str, str, str, list[tuple[str, str, str]]]:
    [change] = found
    differences = [(entry.column, entry.before, entry.after) for entry in change.differences]
    return change.sheet, change.kind, change.subject, differences


def test_nothing_but_a_line_of_routine_is_new_and_it_is_counted() -> None:
    old, new = two()
    assert changed(old, new) == []
    assert new_log_lines(step(old, new)) == {"Routine": 1}


@given(st.integers(0, 2**32))
@settings(max_examples=40, deadline=None)
def test_lines_and_columns_that_moved_are_no_change(seed: int) -> None:
    assert changed(clean(), shuffled(clean(), seed)) == []


# What is done to the newer return, and what must be told: sheet, kind, subject, differences.
EDITS: list[tuple[str, Callable[[Workbook], object], tuple[str, str, str, list[tuple[str, str, str]]]]] = [
    (
        "a lot used up in part",
        lambda book: book.lot("bucket").update(quantity=1),
        ("Inventory", CHANGED, "Lifeboat 1, bucket", [("Quantity", "2", "1")]),
    ),
    (
        "a lot that took the place of another",
        lambda book: book.lot("hand flare").update(batch="K2", expires=date(2030, 1, 31)),
        (
            "Inventory",
            CHANGED,
            "Lifeboat 1, hand flare, K2",
            [("Batch or serial", "H6", "K2"), ("Expires", "2029-06-30", "2030-01-31")],
        ),
    ),
    (
        "a lot carried elsewhere",
        lambda book: book.lot("hand flare").update(place="Bridge"),
        ("Inventory", CHANGED, "Bridge, hand flare, H6", [("Stowed at", "Lifeboat 1", "Bridge")]),
    ),
    (
        "a lot gone",
        lambda book: book.rows["inventory"].remove(book.lot("whistle")),
        ("Inventory", GONE, "Lifeboat 1, whistle: 1", []),
    ),
    (
        "a new lot",
        lambda book: book.add("inventory", place="Bridge", item="hand flare", quantity=3, batch="K2"),
        ("Inventory", NEW, "Bridge, hand flare, K2: 3", []),
    ),
    (
        "a raft exchanged",
        lambda book: book.find("craft", name="Raft P").update(serial="LR-8"),
        ("Craft", CHANGED, "Raft P", [("Serial number", "empty", "LR-8")]),
    ),
    (
        "a person in another boat",
        lambda book: book.find("crew", number="3").update(craft="Lifeboat 2"),
        ("Crew", CHANGED, "crew number 3", [("Craft assigned", "Lifeboat 1", "Lifeboat 2")]),
    ),
    (
        "a service done",
        lambda book: book.find("servicing", service="falls renewed", appliance="Lifeboat 2").update(done=ON),
        ("Servicing", CHANGED, "Lifeboat 2, falls renewed", [("Last done", "2024-05-10", "2026-11-25")]),
    ),
    (
        "an answer of the form",
        lambda book: book.ship.update(persons_on_board=13),
        ("Ship", CHANGED, "Ship", [("Persons on board", "12", "13")]),
    ),
    (
        "a line of the log that is gone",
        lambda book: book.rows["routine"].remove(book.find("routine", task="steering gear test")),
        ("Routine", GONE, "steering gear test", []),
    ),
]


@pytest.mark.parametrize(("edit", "told"), [entry[1:] for entry in EDITS], ids=[entry[0] for entry in EDITS])
@pytest.mark.parametrize("seed", [None, 7])
def test_one_edit_is_told_once(
    edit: Callable[[Workbook], object],
    told: tuple[str, str, str, list[tuple[str, str, str]]],
    seed: int | None,
) -> None:
    old, new = clean(), clean()
    edit(new)
    sheet_name, kind, subject, differences = told
    expected = [(column, "" if before == "empty" else before, after) for column, before, after in differences]
    assert one(changed(old, shuffled(new, seed) if seed is not None else new)) == (sheet_name, kind, subject, expected)


def test_a_change_names_its_cells_in_both_returns() -> None:
    old, new = clean(), clean()
    new.rows["inventory"].reverse()
    new.lot("bucket")["quantity"] = 1
    [change] = changed(old, new)
    assert change.old_cell == old.cell("inventory", old.lot("bucket"), "quantity")
    assert change.cell == new.cell("inventory", new.lot("bucket"), "quantity")
    assert change.cell != change.old_cell


@given(st.integers(0, 2**32))
@settings(max_examples=40, deadline=None)
def test_every_line_is_paired_once_or_told(seed: int) -> None:
    pick = random.Random(seed)
    old, new = clean(), clean()
    for book in (old, new):
        for line in pick.sample(book.rows["inventory"], pick.randint(0, 30)):
            line.update(pick.choice([{"batch": "Q1"}, {"quantity": 9}, {"place": "Bridge"}, {"expires": ON}]))
        for line in pick.sample(book.rows["inventory"], pick.randint(0, 10)):
            book.rows["inventory"].remove(line)
    before, after = read(old).tables["inventory"], read(new).tables["inventory"]
    found = match(before, after)
    assert sorted([row.number for row in found.gone] + [pair.old.number for pair in found.pairs]) == [
        row.number for row in before.rows
    ]
    assert sorted([row.number for row in found.new] + [pair.new.number for pair in found.pairs]) == [
        row.number for row in after.rows
    ]


@given(st.integers(0, 2**32))
@settings(max_examples=25, deadline=None)
def test_turned_round_what_was_new_is_gone(seed: int) -> None:
    pick = random.Random(seed)
    old, new = clean(), clean()
    for line in pick.sample(new.rows["inventory"], 5):
        new.rows["inventory"].remove(line)
    for line in pick.sample(new.rows["inventory"], 5):
        line["quantity"] = 77

    def kinds(found: list[Change]) -> list[tuple[str, str]]:
        return sorted((change.kind, change.subject.partition(":")[0]) for change in found)

    swap = {NEW: GONE, GONE: NEW, CHANGED: CHANGED}
    there, back = kinds(changed(old, new)), kinds(changed(new, old))
    assert sorted((swap[kind], subject) for kind, subject in back) == there


def test_a_person_is_known_again_and_never_named() -> None:
    old, new = clean(), clean()
    for book in (old, new):
        book.find("crew", number="3").update(name="Ferrant Quill", remarks="")
    new.find("crew", number="3").update(number="30", remarks="Ferrant Quill has his own suit")
    [change] = changed(old, new)
    assert (change.kind, change.subject) == (CHANGED, "crew number 30")
    assert [(entry.column, entry.before, entry.after) for entry in change.differences] == [
        ("Crew number", "3", "30"),
        ("Remarks", "", "crew number 30 has his own suit"),
    ]


def test_a_relief_under_the_old_number_is_another_person() -> None:
    old, new = clean(), clean()
    old.find("crew", number="3")["name"] = "Ferrant Quill"
    new.find("crew", number="3")["name"] = "Osk Marrendel"
    assert one(changed(old, new)) == (
        "Crew",
        CHANGED,
        "crew number 3",
        [("Name", "a person", "another person")],
    )


def test_in_use_written_out_is_no_change() -> None:
    old, new = clean(), clean()
    for line in new.rows["inventory"]:
        line.setdefault("condition", "in use")
    for line in new.rows["craft"]:
        line.setdefault("purpose", "required")
    assert changed(old, new) == []


def test_a_column_that_one_return_does_not_keep_is_said_and_no_change() -> None:
    old, new = clean(), clean()
    new.columns["inventory"] = [key for key in new.order("inventory") if key != "batch"]
    made = step(old, new)
    made.count_left_out()
    assert changed(old, new) == []
    assert dict(made.left_out) == {"column Inventory, Batch or serial: only the older return keeps it": 1}


def test_a_sheet_that_one_return_does_not_keep_is_said_and_no_change() -> None:
    old, new = clean(), clean()
    del old.rows["servicing"]
    made = step(old, new)
    made.count_left_out()
    assert changed(old, new) == []
    assert dict(made.left_out) == {"sheet Servicing: only the newer return keeps it": 1}


def test_a_cell_that_cannot_be_read_is_no_change_and_counted() -> None:
    old, new = clean(), clean()
    new.lot("bucket")["quantity"] = "2 or so"
    made = step(old, new)
    assert list(changes(made)) == []
    assert list(made.left_out) == ["cells that cannot be read in one of the two returns"]


def test_every_table_of_the_contract_has_keys() -> None:
    assert {entry.key for entry in SHEETS if entry.layout == "table"} <= set(KEYS)
