"""Which sheet is read as which, and what is said of those that are not."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from workbook_tools.findings import Finding
from workbook_tools.reading import Book, RawBook, read_raw

Grid = list[list[Any]]

DAY = date(2026, 11, 3)
NEEDED: dict[str, Grid] = {
    "Craft": [["Craft", "Type"], ["Lifeboat 1", "lifeboat"]],
    "Inventory": [["Stowed at", "Item", "Qty"], ["Lifeboat 1", "bucket", 2.0]],
}
ROUTINE: Grid = [["Date", "Task"], [DAY, "fire drill"]]
CARGO_LOG: Grid = [["Date", "What", "By"], [DAY, "Loaded cement", "Mate"], [DAY, "Bunkers", ""], [DAY, "Pilot", ""]]


def _read(**sheets: Grid) -> Book:
    return read_raw(RawBook("test.xlsx", {**NEEDED, **{name.replace("_", " "): grid for name, grid in sheets.items()}}))


def _said(book: Book) -> list[Finding]:
    return [finding for finding in book.findings if finding.code == "WB18"]


@pytest.mark.parametrize(
    ("key", "first", "second", "grid"),
    [
        ("routine", "Routine", "Drills", ROUTINE),
        ("inventory", "Inventory", "Stores", NEEDED["Inventory"]),
        ("craft", "Craft", "Survival craft", NEEDED["Craft"]),
    ],
)
def test_a_second_sheet_of_a_kind_is_named_and_so_is_the_one_read(
    key: str, first: str, second: str, grid: Grid
) -> None:
    book = read_raw(RawBook("test.xlsx", {**NEEDED, first: grid, second: grid}))
    (said,) = _said(book)
    assert (said.grade, said.sheet) == ("query", second)
    assert repr(first) in said.message
    assert repr(second) in said.message
    assert "one sheet" in said.remedy
    assert "rename" in said.remedy
    assert book.tables[key].name == first


def test_of_two_sheets_the_one_with_lines_is_read() -> None:
    book = _read(Routine=[["Date", "Task"]], Drills=ROUTINE)
    assert book.tables["routine"].name == "Drills"
    assert _said(book) == []


def test_of_two_sheets_the_one_with_our_headings_is_read() -> None:
    book = _read(Routine=[["?", "!"], ["a", "b"]], Drills=ROUTINE)
    assert book.tables["routine"].name == "Drills"
    assert [(said.grade, said.sheet) for said in _said(book)] == [("note", "Routine")]


@pytest.mark.parametrize(
    ("name", "sheet", "headings"),
    [
        ("Drill log", "Routine", ["Date", "Drill", "Attended by"]),
        ("Ashore jobs", "Servicing", ["Appliance", "Service", "Last done", "Firm"]),
        ("Crewlist", "Crew", ["No", "Rank", "Name", "Boat"]),
        ("Red bottles", "Fire", ["No", "Appliance", "Type", "Location"]),
    ],
)
def test_headings_of_a_missing_sheet_are_known_again(name: str, sheet: str, headings: list[str]) -> None:
    (said,) = _said(_read(**{name: [headings, ["x"] * len(headings)]}))
    assert (said.grade, said.sheet) == ("note", name)
    assert sheet in said.message


@pytest.mark.parametrize(
    "grid",
    [
        [["Chart", "Edition", "Date"], ["BA 4", 3, DAY]],
        [["Date", "Task"], [DAY, "fire drill"]],  # two columns only
        [["No", "Name", "Remarks"], ["1", "Agent", "fax"]],  # as in any list
        CARGO_LOG,
    ],
)
def test_a_list_of_something_else_is_only_listed(grid: Grid) -> None:
    book = _read(Own_list=grid)
    assert _said(book) == []
    assert book.sheets_not_read == ["Own list"]


def test_headings_of_a_sheet_that_is_there_are_no_matter() -> None:
    book = _read(Routine=ROUTINE, Old_drills=[["Date", "Drill", "By"], [DAY, "fire drill", "C/O"]])
    assert _said(book) == []


def test_an_empty_sheet_of_the_template_is_named_with_the_one_that_holds_its_lines() -> None:
    book = _read(Routine=[["Date", "Task"]], Drill_log=[["Date", "Drill", "By"], [DAY, "fire drill", "C/O"]])
    (said,) = _said(book)
    assert "'Routine' has no lines" in said.message


@pytest.mark.parametrize(
    ("name", "key", "grid"),
    [
        ("Log", "routine", CARGO_LOG),
        (
            "Maintenance",
            "servicing",
            [["Equipment", "Work", "Date"], *([what, "overhauled", DAY] for what in ("Main engine", "Crane", "Radar"))],
        ),
        ("Actions", "follow_up", [["Id", "Job"], ["1", "Paint"], ["2", "Grease"], ["3", "Wash"]]),
    ],
)
def test_a_sheet_of_something_else_under_one_of_our_names_is_named_once(name: str, key: str, grid: Grid) -> None:
    book = _read(**{name: grid})
    assert [(said.code, said.grade, said.sheet) for said in book.findings] == [("WB18", "note", name)]
    assert key not in book.tables
    assert book.sheets_not_read == []


@pytest.mark.parametrize(
    "tasks",
    [
        ("fire drill", "Loaded cement", "Bunkers"),
        ("fire dril", "abandn ship drill", "steering dril"),  # slips of the pen
        ("Loaded cement", "Bunkers"),  # too few to tell
    ],
)
def test_a_sheet_of_ours_with_slips_is_read(tasks: tuple[str, ...]) -> None:
    book = _read(Log=[["Date", "What"], *([DAY, task] for task in tasks)])
    assert _said(book) == []
    assert len(book.rows("routine")) == len(tasks)
