"""The muster list: nobody is lost, in whichever order the Crew sheet stands."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

from tests.book.printed.bench import Played, Rows
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.book.printed.muster import _FIRST_PAGE, _SECOND_PAGE
from workbook_tools.columns.calculated import MUSTER

PART = (2, 7)
SECOND = 11 + _FIRST_PAGE  # where the second sheet of paper begins, with the headings
LIST = (range(11, SECOND), range(SECOND + 1, SECOND + 1 + _SECOND_PAGE))


def listed(book: Played, parts: int = 1) -> list[list[Any]]:
    """The lines of the list in all its parts, each with the mark before it and the seven columns of the page."""
    found: list[list[Any]] = []
    for part in range(1, parts + 1):
        book.type(MUSTER, *PART, part)
        book.calculate()
        lines = [line for rows in LIST for line in book.block(MUSTER, rows, range(8))]
        found += [line for line in lines if any(cell != "" for cell in line)]
    return found


def test_both_sheets_of_paper_begin_the_list_with_its_headings(busy: Played) -> None:
    first, second = (busy.block(MUSTER, range(row, row + 1), range(1, 8))[0] for row in (10, SECOND))
    assert first == second
    assert first[:3] == ["No.", "Rank", "Name"]


def grouped(lines: list[list[Any]]) -> dict[str, list[str]]:
    """Crew numbers by the heading under which they stand."""
    found: dict[str, list[str]] = {}
    heading = ""
    for line in lines:
        if line[0] in ("»", "■"):
            heading = line[2]
            found[heading] = []
        else:
            found[heading].append(line[1])
    return found


def test_persons_stand_under_their_craft_and_those_without_one_last(busy: Played) -> None:
    groups = grouped(listed(busy))
    assert list(groups) == ["Lifeboat 1", "Lifeboat 2", "Raft P", "Raft S", "Boat*", "No craft"]
    assert groups["Lifeboat 1"] == ["1", "2", "3", "4", "5", "6", "16"]
    assert groups["Boat*"] == ["13"]
    assert groups["No craft"] == ["14", "15"]
    assert groups["Raft P"] == []


def test_a_craft_that_nobody_knows_is_told_beside_the_name(busy: Played) -> None:
    names = {line[1]: line[3] for line in listed(busy) if line[1]}
    assert names["14"] == "Di Oak (craft: Raft Q)"
    assert names["16"] == "Fi Yew, joins 2026-12-01"


def test_the_heading_counts_those_on_board_against_those_permitted(busy: Played) -> None:
    told = {line[2]: line[3] for line in listed(busy) if line[0] == "»"}
    assert told["Lifeboat 1"] == "6 assigned of 20 permitted"  # number 16 joins later
    assert told["Boat*"] == "1 assigned of 6 permitted"


def test_substitutes_are_told_from_both_sides(busy: Played) -> None:
    by_number = {line[1]: line for line in listed(busy) if line[1]}
    assert by_number["1"][6] == "7"
    assert by_number["2"][6] == "7"
    assert by_number["7"][6] == "1"
    assert by_number["7"][7] == "1, 2"
    assert by_number["12"][6] == ""  # '1, 2' holds 1 and 2, not 12


def test_persons_in_charge_stand_before_members(opened: Callable[..., Played], busy_rows: Rows) -> None:
    crew = [
        {"number": "1", "craft": "Lifeboat 1", "duty": "member"},
        {"number": "2", "craft": "Lifeboat 1"},
        {"number": "3", "craft": "lifeboat 1", "duty": "coxswain"},
        {"number": "4", "craft": " Lifeboat  1", "duty": "engine operator"},
    ]
    groups = grouped(listed(opened({**busy_rows, "crew": crew})))
    assert groups["Lifeboat 1"] == ["3", "4", "1", "2"]


def test_more_assigned_than_permitted_is_marked_and_said(opened: Callable[..., Played], busy_rows: Rows) -> None:
    crew = [{"number": str(number), "craft": "Boat*"} for number in range(1, 8)]
    heading = next(line for line in listed(opened({**busy_rows, "crew": crew})) if line[2] == "Boat*")
    assert heading[0] == "■"
    assert heading[5] == "MORE THAN PERMITTED"
    assert heading[3] == "7 assigned of 6 permitted"


def test_sorted_rows_and_rows_inserted_among_them_lose_nobody(busy_rows: Rows, opened: Callable[..., Played]) -> None:
    shuffled = [dict(line) for line in busy_rows["crew"]]
    random.Random(4).shuffle(shuffled)
    book = opened({**busy_rows, "crew": shuffled})
    before = {key: set(numbers) for key, numbers in grouped(listed(book)).items()}
    book.insert_rows("Crew", FIRST_ROW, 2)
    book.insert_rows("Crew", FIRST_ROW + 7, 3)
    book.insert_rows("Craft", FIRST_ROW + 1, 1)
    book.fill("crew", 8, {"number": "99", "rank": "pilot", "craft": "Raft S"})
    after = {key: set(numbers) for key, numbers in grouped(listed(book)).items()}
    assert after == {**before, "Raft S": {"99"}}


def test_a_full_crew_prints_whole_in_parts_and_the_page_says_so(opened: Callable[..., Played], busy_rows: Rows) -> None:
    crew = [
        {"number": f"N{index}", "rank": "rating", "name": f"Name {index}", "craft": f"Craft {index % 45}"}
        for index in range(300)
    ]
    craft = [{"name": f"Craft {index}", "kind": "liferaft", "persons": 25} for index in range(8)]
    room = {"craft": 8, "crew": 300, "inventory": 20, "routine": 20}
    book = opened({**busy_rows, "crew": crew, "craft": craft, "inventory": [], "routine": []}, room)
    lines = listed(book, parts=6)
    assert "Part 6 of 6: print every part" in book.cell(MUSTER, 2, 1)
    numbers = [line[1] for line in lines if line[1]]
    assert sorted(numbers) == sorted(f"N{index}" for index in range(300))
    assert len(lines) == 300 + 8 + 1


def test_the_page_counts_the_persons_against_the_ship_sheet(busy: Played) -> None:
    assert busy.cell(MUSTER, 3, 1) == "15 persons on board are listed; the Ship sheet says 12 ■."


def test_names_below_the_room_are_told(opened: Callable[..., Played], busy_rows: Rows) -> None:
    crew = [{"number": str(number), "name": f"Name {number}"} for number in range(140)]
    book = opened({**busy_rows, "crew": crew})
    assert "■ 10 names stand below the room of this list" in book.cell(MUSTER, 3, 1)


def test_the_alarm_signal_is_that_of_the_policy_table(busy: Played) -> None:
    said = busy.cell(MUSTER, 4, 1)
    assert said.startswith("General emergency alarm: 7 or more short blasts, then 1 long")  # LSA Code 7.2.1


def test_every_duty_of_the_muster_list_is_counted(busy: Played) -> None:
    rows = busy.block(MUSTER, range(70, 100), range(8))
    counted = {row[1]: row[6] for row in rows if "37.3" in str(row[4])}
    assert counted["fire party"] == 2
    assert counted["close doors and valves"] == 1
    assert len(counted) == 9


def test_duties_to_passengers_stand_where_passengers_are_carried(busy: Played) -> None:
    def text() -> str:
        return " ".join(str(cell) for row in busy.block(MUSTER, range(70, 100), range(1, 2)) for cell in row)

    assert "No passengers on the Ship sheet" in text()
    names = [line for line in range(60) if busy.cell("Ship", line, 0) == "Passengers on board"]
    busy.type("Ship", names[0], 1, 3)
    busy.calculate()
    assert "Duties to passengers (III/37.6)" in text()
    busy.type("Ship", names[0], 1, None)
    busy.calculate()
