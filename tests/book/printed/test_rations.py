"""The ration card agrees with core/rations.py day by day; its stores are counted as the audit counts them."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from tests.book.printed.bench import SMALL, Played, Rows
from workbook_tools.book.printed.rations import DAYS_SHOWN
from workbook_tools.columns.calculated import RATIONS
from workbook_tools.core.rations import Issue, days_lasting, plan
from workbook_tools.rules.loader import policies

PRACTICE, DRY = policies()["ration.litres-per-day"].value, policies()["ration.dry-days"].value
CHOICE, PERSONS, LITRES, INJURED, WATER = (2, 3), (4, 5), (5, 5), (6, 5), (7, 5)
STORE_ROW, CASES_ROW, TABLE_ROW = 9, 13, 18


@pytest.fixture(scope="module")
def tiny(opened: Callable[..., Played]) -> Played:
    """A book with room for hardly more than one boat: quick to work out again."""
    room = dict.fromkeys(SMALL, 1)
    return opened({"ship": [{}], "craft": [{"name": "Lifeboat 1", "kind": "lifeboat", "persons": 20}]}, room)


def card(book: Played, craft: str | None = None, **typed: Any) -> Played:
    """The card with these cells filled in."""
    cells = {"persons": PERSONS, "litres": LITRES, "injured": INJURED, "water": WATER}
    book.type(RATIONS, *CHOICE, craft)
    for key, place in cells.items():
        book.type(RATIONS, *place, typed.get(key))
    book.calculate()
    return book


def lasts(book: Played) -> list[Any]:
    """Persons, days that the water lasts and food each a day: of the card, as assigned, full."""
    return [[book.cell(RATIONS, CASES_ROW + row, column) for column in (5, 6, 8)] for row in (1, 2, 3)]


def left(book: Played, column: int = 7) -> list[Any]:
    return [book.cell(RATIONS, TABLE_ROW + day, column) for day in range(1, DAYS_SHOWN + 1)]


def _cases() -> list[tuple[float, int, float, int]]:
    """Water, persons, issue, injured: edges by hand, and a few by chance."""
    draw = random.Random(20)
    edges = [(37.5, 25, 0.5, 0), (0, 5, 0.5, 0), (0, 5, 0.5, 2), (2.5, 5, 0.5, 5), (1, 5, 0.5, 4), (5000, 2, 0.25, 1)]
    return edges + [
        (round(draw.uniform(0, 300), 2), draw.randint(1, 60), round(draw.uniform(0.1, 3), 2), draw.choice((0, 0, 1, 3)))
        for _ in range(12)
    ]


@pytest.mark.parametrize(("litres", "persons", "each", "injured"), _cases())
def test_every_day_is_that_of_the_core(tiny: Played, litres: float, persons: int, each: float, injured: int) -> None:
    busy = card(tiny, "Lifeboat 1", persons=persons, litres=each, injured=injured, water=litres)
    issue = Issue(persons, each, DRY, injured)
    days = list(plan(litres, issue, DAYS_SHOWN))
    assert left(busy) == [pytest.approx(day.left, abs=0.005 + 1e-9) for day in days]
    issued = [busy.cell(RATIONS, TABLE_ROW + day, 6) for day in range(1, DAYS_SHOWN + 1)]
    assert issued == [pytest.approx(day.issued, abs=0.005 + 1e-9) for day in days]
    marks = [busy.cell(RATIONS, TABLE_ROW + day, 0) for day in range(1, DAYS_SHOWN + 1)]
    assert marks == ["" if day.full else "■" for day in days]
    words = [str(busy.cell(RATIONS, TABLE_ROW + day, 2)) for day in range(1, DAYS_SHOWN + 1)]
    assert [word.endswith(("water out", "short", "too little")) for word in words] == [not day.full for day in days]
    lasting = days_lasting(litres, issue)
    shown = lasts(busy)[0][1]
    assert shown == ("over 366" if lasting is None else pytest.approx(lasting, abs=0.005 + 1e-9))


def test_with_nothing_typed_it_goes_by_the_record_and_the_practice(busy: Played) -> None:
    card(busy, "Lifeboat 1")
    water = 120 * 0.5  # tests/workbooks.py: 120 sachets of 500 mL
    assert busy.cell(RATIONS, STORE_ROW + 1, 3) == water
    assert busy.cell(RATIONS, STORE_ROW + 2, 3) == 20 * 10_000
    assert lasts(busy)[1][:2] == [6, days_lasting(water, Issue(6, PRACTICE, DRY))]
    assert lasts(busy)[2][:2] == [20, days_lasting(water, Issue(20, PRACTICE, DRY))]
    assert lasts(busy)[0] == lasts(busy)[1]
    assert left(busy, 8) == [day.left for day in plan(water, Issue(6, PRACTICE, DRY), DAYS_SHOWN)]
    assert left(busy, 9) == [day.left for day in plan(water, Issue(20, PRACTICE, DRY), DAYS_SHOWN)]


def test_the_card_agrees_with_the_plan_of_the_audit(opened: Callable[..., Played], busy_rows: Rows) -> None:
    from tests.workbooks import ON, Workbook
    from workbook_tools.checks import Options
    from workbook_tools.checks.context import open_audit
    from workbook_tools.planning.rations import Ask, ration_plan
    from workbook_tools.reading import RawBook, read_raw

    rows = {**busy_rows, "inventory": [dict(line) for line in busy_rows["inventory"]]}
    rows["inventory"] += [
        {
            "place": "Lifeboat 1",
            "item": "fresh water",
            "quantity": 50,
            "content": 500,
            "content_unit": "mL",
            "expires": date(2026, 11, 24),
        },
        {
            "place": "Lifeboat 1",
            "item": "fresh water",
            "quantity": 8,
            "content": 500,
            "content_unit": "mL",
            "expires": date(2026, 11, 25),
        },
        {"place": "Lifeboat 1", "item": "fresh water in a tank", "quantity": 12, "unit": "L"},
        {
            "place": "Lifeboat 1",
            "item": "fresh water",
            "quantity": 9,
            "content": 1,
            "content_unit": "L",
            "condition": "defective",
            "expires": date(2029, 1, 1),
        },
    ]
    book = Workbook(rows["ship"][0], {key: lines for key, lines in rows.items() if key != "ship"})
    wanted = ration_plan(open_audit(read_raw(RawBook("x", book.grids())), Options(ON)), Ask())
    played = opened(rows)
    for entry in wanted.crafts:
        card(played, entry.craft.name)
        shown = lasts(played)
        assert played.cell(RATIONS, STORE_ROW + 1, 3) == (
            pytest.approx(entry.water.sure) if entry.water.known else "not known"
        )
        for case, row in ((entry.cases[0], shown[1]), (entry.cases[1], shown[2])):
            if case.persons and entry.water.known:
                assert row[0] == case.persons
                assert row[1] == pytest.approx(case.lasting, abs=0.005)
                if case.food_a_day is not None:
                    assert row[2] == pytest.approx(case.food_a_day, abs=0.51)


def test_a_raft_without_a_certificate_in_date_is_not_known_and_not_nothing(
    opened: Callable[..., Played], busy_rows: Rows
) -> None:
    craft = [dict(line) for line in busy_rows["craft"]]
    raft = next(line for line in craft if line["name"] == "Raft P")
    raft["serviced"] = date(2025, 1, 1)
    book = card(opened({**busy_rows, "craft": craft}), "Raft P")
    assert book.cell(RATIONS, STORE_ROW + 1, 3) == "not known"
    assert [row[1] for row in lasts(book)] == ["not known"] * 3
    assert left(book) == [""] * DAYS_SHOWN
    card(book, "Raft P", water=30, persons=20)
    assert lasts(book)[0][:2] == [20, days_lasting(30, Issue(20, PRACTICE, DRY))]


def test_the_parts_of_a_day_make_the_whole(busy: Played) -> None:
    card(busy, "Lifeboat 1", litres=0.6)
    assert [busy.cell(RATIONS, TABLE_ROW + 2, column) for column in (2, 3, 4, 5)] == [0.6, 200, 200, 200]
    assert busy.cell(RATIONS, TABLE_ROW + 1, 2) == "injured only"
