"""Handover and arrival pages: what they tell, against the same facts taken from the rows in plain Python."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from tests.book.printed.bench import SMALL, Played, Rows, lines_between
from tests.workbooks import ON
from workbook_tools import catalogue
from workbook_tools.book.printed import PRINTED
from workbook_tools.columns.calculated import ARRIVAL, HANDOVER, REQUIRED

PAGES = (HANDOVER, ARRIVAL)


def page(book: Played, name: str) -> list[list[Any]]:
    return book.block(name, range(6, 86), range(5))


@pytest.mark.parametrize("name", PAGES)
def test_persons_and_places_are_those_of_ship_and_craft(busy: Played, name: str) -> None:
    assert busy.cell(name, 3, 1) == "Persons: 20 certified for. 12 on board. "
    assert busy.cell(name, 4, 1) == "Places: 40 in 2 lifeboats. 40 in 2 liferafts. "


@pytest.mark.parametrize("name", PAGES)
def test_every_line_of_the_required_sheet_that_calls_for_something_is_told_the_worst_first(
    opened: Callable[..., Played], busy_rows: Rows, name: str
) -> None:
    inventory = [dict(line) for line in busy_rows["inventory"]]
    first = [line for line in inventory if line["place"] == "Lifeboat 1"]
    next(line for line in first if line["item"] == "hand flare")["expires"] = date(2026, 12, 1)
    next(line for line in first if line["item"] == "boat-hook")["quantity"] = 1
    next(line for line in first if line["item"] == "rocket parachute flare")["expires"] = date(2026, 11, 1)
    book = opened({**busy_rows, "inventory": inventory})
    required = [line for line in book.block(REQUIRED, range(3, 600), range(9)) if line[0] != ""]
    calling = [line for line in required if line[8][:1] == "■"] + [line for line in required if line[8][:1] == "▲"]
    shown = lines_between(page(book, name), "Short, expired or lapsing")
    assert [(line[0], line[1]) for line in shown] == [(line[8][0], f"{line[0]}: {line[1]}") for line in calling]
    told = {line[1]: line[3] for line in shown}
    assert told["Lifeboat 1: boat-hook"] == "■ SHORT"
    assert told["Lifeboat 1: rocket parachute flare"] == "■ EXPIRED"
    assert told["Lifeboat 1: hand flare"] == "▲ lapses, enough until 2026-12-01"


@pytest.mark.parametrize("name", PAGES)
def test_certificates_have_their_days_and_how_many_are_left(busy: Played, name: str) -> None:
    shown = lines_between(page(busy, name), "Certificates to lay on the table")
    assert [(line[0], line[1], line[3]) for line in shown] == [
        ("", "Safety Equipment", f"2027-01-04, {(date(2027, 1, 4) - ON).days} days"),
        ("■", "Radio", "EXPIRED 2026-11-24"),
        ("", "Tonnage", "no last day recorded"),
        ("▲", "Load Line", "2026-12-01, 6 days"),
    ]


@pytest.mark.parametrize("name", PAGES)
def test_open_defects_are_those_found_and_not_closed_by_the_day(busy: Played, name: str) -> None:
    shown = lines_between(page(busy, name), "Open defects")
    assert [line[1:5] for line in shown] == [
        ["Lifeboat 1: limit switches", "sticks", "2026-11-01", "Defects!A4"],
        ["Boat*: fuel for 24 hours", "=1+1 leaks", "2026-11-02", "Defects!A6"],
    ]


def test_what_is_followed_up_is_told_and_what_is_past_its_day_marked(busy: Played) -> None:
    shown = lines_between(page(busy, HANDOVER), "Being followed up")
    assert [line[:4] for line in shown] == [
        ["", "EQ01-aaaaaa, order R-12, Skarhavn", "two borrowed", "2026-12-09"],
        ["■", "EX02-bbbbbb", "", "2026-11-01 PAST"],
    ]


def test_an_exemption_without_a_reference_is_marked(busy: Played) -> None:
    shown = lines_between(page(busy, ARRIVAL), "Exemptions and waivers")
    assert [line[:4] for line in shown] == [
        ["", "lifeboat.food-ration", "Flag L 44", f"2027-05-01, {(date(2027, 5, 1) - ON).days} days"],
        ["■", "lifeboat.fishing-tackle", "Flag NO REFERENCE", "no last day recorded"],
    ]


def test_the_rafts_certificates_hold_for_the_interval_of_the_rules(busy: Played) -> None:
    shown = lines_between(page(busy, ARRIVAL), "Liferaft service certificates")
    assert [line[1] for line in shown] == ["Raft P", "Raft S"]
    assert all(line[3].startswith("2027-10-20, ") for line in shown)  # serviced 2026-10-20, twelve months: III/20.8.1


def _last_held(rows: Rows, words: tuple[str, ...] = ()) -> dict[str, date]:
    names = {other: key for key, word in catalogue.tasks().items() for other in (key, *word.other_names)}
    found: dict[str, date] = {}
    for line in rows["routine"]:
        task = names[line["task"]]
        if line["day"] <= ON and line.get("result") != "not held" and (not words or any(w in task for w in words)):
            found[task] = max(line["day"], found.get(task, line["day"]))
    return {task: found[task] for task in catalogue.tasks() if task in found}


def test_the_last_day_of_each_task_is_that_of_the_routine_sheet(busy: Played, busy_rows: Rows) -> None:
    shown = lines_between(page(busy, HANDOVER), "Last drills, tests and inspections")
    wanted = _last_held(busy_rows)
    assert len(wanted) > 5
    assert {line[1]: line[3][:10] for line in shown} == {task: day.isoformat() for task, day in wanted.items()}
    drills = lines_between(page(busy, ARRIVAL), "Last drills and training")
    wanted = _last_held(busy_rows, ("drill", "launch", "training", "muster"))
    assert {line[1]: line[3][:10] for line in drills} == {task: day.isoformat() for task, day in wanted.items()}


@pytest.mark.parametrize("name", PAGES)
def test_an_empty_book_says_that_nothing_is_recorded(opened: Callable[..., Played], name: str) -> None:
    book = opened({"ship": [{}]})
    assert book.cell(name, 3, 1) == "Persons: not recorded"
    assert book.cell(name, 4, 1) == "Places: no craft recorded"
    assert book.cell(name, 1, 0).startswith("Ship without a name, for 2026-11-25, no record date")
    assert lines_between(page(book, name), "Open defects") == [
        ["", "No defect is open on the Defects sheet", "", "", ""]
    ]


@pytest.mark.parametrize(
    ("record", "said"),
    [(date(2026, 10, 31), "by the record of 2026-10-31"), ("last week", "by the record of last week")],
)
def test_the_head_of_a_page_tells_the_day_asked_from_that_of_the_record(
    opened: Callable[..., Played], record: date | str, said: str
) -> None:
    book = opened({"ship": [{"name": "Orrin Vale", "record_date": record}]})
    for name in PRINTED:
        assert book.cell(name, 1, 0) == f"Orrin Vale, for 2026-11-25, {said}"


def test_no_name_of_a_person_stands_on_the_pages_for_others(busy: Played) -> None:
    text = " ".join(str(cell) for name in PAGES for line in page(busy, name) for cell in line)
    assert not any(name in text for name in ("Ada Vor", "Bo Lind", "Cy Elm", "Ed Ash"))


def test_lines_below_the_room_are_told_and_not_left_out_in_silence(opened: Callable[..., Played]) -> None:
    entries = [{"day": ON, "task": "engine run"}] * 103
    defects = [{"subject": "Bridge", "fitting": "fire doors"}] * 102
    book = opened({"ship": [{}], "routine": entries, "defects": defects}, dict.fromkeys(SMALL, 1))
    said = book.cell(HANDOVER, 2, 1)
    assert "■ 1 lines below the room of the Defects sheet. ■ 2 lines below the room of the Routine sheet. " in said
