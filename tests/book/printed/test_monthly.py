"""The monthly checklist of a craft: what it lists, for whichever craft is chosen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.book.printed.bench import Played, Rows, lines_between
from workbook_tools import catalogue
from workbook_tools.columns.calculated import MONTHLY, REQUIRED
from workbook_tools.rules import load_rule_set

CHOICE = (2, 2)
LAST_ROW = 85  # of the list
HEADINGS = (7, 50)  # rows of the headings on the two sheets of paper


def page(book: Played, craft: str | None = None) -> list[list[Any]]:
    """The page for a craft: every row but the headings of the second sheet of paper, the first five columns."""
    book.type(MONTHLY, *CHOICE, craft)
    book.calculate()
    return [book.block(MONTHLY, range(row, row + 1), range(5))[0] for row in range(LAST_ROW) if row != HEADINGS[1]]


def test_both_sheets_of_paper_begin_the_list_with_its_headings(busy: Played) -> None:
    first, second = (busy.block(MONTHLY, range(row, row + 1), range(1, 8))[0] for row in HEADINGS)
    assert first == second
    assert first[:3] == ["What to look at", "Asked", "Unit"]


def test_a_figure_of_the_craft_is_nothing_to_look_at(busy: Played) -> None:
    shown = [line[1] for line in lines_between(page(busy, "Raft P"), "What must be in or on it")]
    assert "hydrostatic release unit" in shown
    assert not {"persons, at least", "mass, at most", "stowage height, at most"} & set(shown)


def _required(book: Played, craft: str) -> list[list[Any]]:
    """Item, asked, unit and words of the lines of the Required sheet for a craft, but for her own figures."""
    lines = book.block(REQUIRED, range(3, 600), range(12))
    figures = {rule.key for rule in load_rule_set("solas").rules if rule.evidence.startswith("craft.")}
    return [
        [line[1], round(line[2], 2) if line[2] != "" else "?", line[5], line[8]]
        for line in lines
        if line[0] == craft and line[11] not in figures
    ]


@pytest.mark.parametrize("craft", ["Lifeboat 1", "Lifeboat 2", "Raft P", "Boat*"])
def test_it_lists_what_the_required_sheet_asks_of_the_craft(busy: Played, craft: str) -> None:
    shown = lines_between(page(busy, craft), "What must be in or on it")
    wanted = _required(busy, craft)
    assert len(wanted) > 5
    assert [line[1:5] for line in shown] == wanted


@pytest.mark.parametrize(
    ("craft", "kind"),
    [
        ("Lifeboat 1", "lifeboat"),
        ("Lifeboat 2", "lifeboat and rescue boat"),
        ("Raft P", "liferaft"),
        ("Boat*", "rescue boat"),
    ],
)
def test_it_lists_the_fittings_of_the_crafts_kind_with_their_paragraphs(busy: Played, craft: str, kind: str) -> None:
    shown = lines_between(page(busy, craft), "Its parts and launching gear")
    wanted = [(name, entry.paragraph) for name, entry in catalogue.fittings().items() if kind in entry.kinds]
    assert [(line[1].removesuffix(", where fitted"), line[4]) for line in shown] == wanted


@pytest.mark.parametrize(
    ("craft", "defects"),
    [
        ("Lifeboat 1", [["■", "limit switches", "2026-11-01", "", "sticks"]]),
        ("Boat*", [["■", "fuel for 24 hours", "2026-11-02", "", "=1+1 leaks"]]),
        ("Lifeboat 2", [["", "None on the Defects sheet", "", "", ""]]),
    ],
)
def test_it_lists_the_open_defects_of_the_craft_and_of_no_other(
    busy: Played, craft: str, defects: list[list[Any]]
) -> None:
    assert lines_between(page(busy, craft), "Open defects of this craft") == defects


def test_it_lists_the_weekly_and_monthly_tasks_with_intervals_from_the_rules(busy: Played) -> None:
    every: dict[tuple[float, str], str] = {(7, "days"): "every week", (1, "months"): "every month"}
    rules = {rule.key.partition(".")[2]: rule for rule in load_rule_set("solas").rules if rule.evidence == "routine"}
    asked = {
        "Lifeboat 1": [
            "weekly-inspection",
            "engine-run",
            "boats-moved",
            "alarm",
            "boats-turned-out",
            "monthly-inspection",
        ],
        "Raft P": ["weekly-inspection", "alarm", "monthly-inspection"],
        "Boat*": ["weekly-inspection", "engine-run", "alarm", "monthly-inspection"],
    }
    for craft, keys in asked.items():
        shown = lines_between(page(busy, craft), "Weekly and monthly tasks")
        wanted = [
            (f"{rules[key].item} ({rules[key].reference})", every[rules[key].fixed, rules[key].unit]) for key in keys
        ]
        assert [(line[1], line[2]) for line in shown] == wanted


def test_the_last_day_of_a_task_is_that_of_the_craft_or_the_ship(
    opened: Callable[..., Played], busy_rows: Rows
) -> None:
    from datetime import date

    rows = {
        **busy_rows,
        "routine": [
            {"day": date(2026, 11, 3), "task": "engine run", "subject": "Lifeboat 1"},
            {"day": date(2026, 11, 9), "task": "engine run", "subject": "Lifeboat 2"},
            {"day": date(2026, 11, 5), "task": "monthly check"},
            {"day": date(2026, 11, 20), "task": "monthly inspection", "result": "postponed"},
            {"day": date(2026, 12, 1), "task": "weekly inspection"},
        ],
    }
    shown = lines_between(page(opened(rows), "Lifeboat 1"), "Weekly and monthly tasks")
    last = {line[1].partition(" (")[0]: line[4] for line in shown}
    assert last["engine run"] == "2026-11-03"
    assert last["monthly inspection"] == "2026-11-05"
    assert last["weekly inspection"] == "none recorded"


def test_an_empty_choice_is_the_first_craft_and_a_wrong_one_is_told(busy: Played) -> None:
    assert page(busy, None) == page(busy, "Lifeboat 1")[:2] + page(busy, None)[2:]
    assert "Craft 1 of 5" in page(busy, None)[3][1]
    wrong = page(busy, "Lifeboat 9")
    assert "no craft of this name" in wrong[3][1]
    assert not any("enough" in str(cell) for line in wrong for cell in line)


def test_a_star_in_the_choice_is_no_wildcard(busy: Played) -> None:
    assert "no craft of this name" in page(busy, "Life*")[3][1]


def test_every_line_fits_in_the_parts_of_the_page_for_every_kind_of_craft(
    opened: Callable[..., Played], busy_rows: Rows
) -> None:
    kinds = list(catalogue.craft_kinds())
    craft = [{"name": f"C{index}", "kind": kind, "persons": 25, "pack": "A"} for index, kind in enumerate(kinds)]
    book = opened({**busy_rows, "craft": craft}, {"craft": 8, "crew": 20, "inventory": 120, "routine": 150})
    for entry in craft:
        shown = page(book, str(entry["name"]))
        if "Part" in shown[3][1]:
            book.type(MONTHLY, 2, 7, 2)
            shown += page(book, str(entry["name"]))
            book.type(MONTHLY, 2, 7, None)
        told = {line[1] for line in shown}
        fittings = [name for name, fitting in catalogue.fittings().items() if entry["kind"] in fitting.kinds]
        assert told >= {line[0] for line in _required(book, str(entry["name"]))}
        assert {name.removesuffix(", where fitted") for name in told} >= set(fittings)
