"""A fault planted anywhere in a clean book is found at its cell and nothing else appears, whatever the layout."""

from __future__ import annotations

import random
from datetime import date, timedelta
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.workbooks import ON, Line, Workbook, clean
from workbook_tools.columns import sheet

# kind of fault -> (sheet, whether a line is suited, column, value to plant, code expected)
_COUNTED = ("bucket", "hatchet", "tin-opener", "hand flare", "rocket parachute flare", "food ration", "boat-hook")


def _in_a_craft(book: Workbook, lot: Line) -> bool:
    return any(craft["name"] == lot["place"] for craft in book.rows["craft"])


def _plant(book: Workbook, kind: str, pick: random.Random) -> tuple[Line, str, str, str]:
    """Plant one fault; returns the line, sheet key, column and the code that must name it."""
    lots = book.rows["inventory"]
    if kind == "expired":
        line = pick.choice([lot for lot in lots if lot.get("expires")])
        line["expires"] = ON - timedelta(days=pick.randint(1, 2000))
        return line, "inventory", "expires", "EX01" if _in_a_craft(book, line) else "SH11"
    if kind == "short":
        line = pick.choice([lot for lot in lots if lot["item"] in _COUNTED])
        line["quantity"] -= 1
        return line, "inventory", "quantity", "EQ01" if _in_a_craft(book, line) else "SH10"
    if kind == "ambiguous date":
        line = pick.choice([lot for lot in lots if lot.get("expires")])
        line["expires"] = f"{pick.randint(1, 6):02}/{pick.randint(7, 12):02}/2029"
        return line, "inventory", "expires", "WB03"
    if kind == "negative":
        line = pick.choice(lots)
        line["quantity"] = -pick.randint(0, 9)
        return line, "inventory", "quantity", "WB06"
    if kind == "text quantity":
        line = pick.choice(lots)
        line["quantity"] = f"{pick.randint(1, 9)} or so"
        return line, "inventory", "quantity", "WB02"
    if kind == "no date":
        line = pick.choice([lot for lot in lots if lot.get("expires")])
        line["expires"] = ""
        return line, "inventory", "expires", "WB15"
    if kind == "misspelt place":
        line = pick.choice([lot for lot in lots if lot["place"].startswith("Lifeboat")])
        line["place"] = line["place"].replace("boat", "baot")
        return line, "inventory", "place", "WB08"
    if kind == "raft service":
        line = pick.choice(book.rows["craft"][2:])
        line["serviced"] = ON - timedelta(days=pick.randint(367, 900))
        return line, "craft", "serviced", "SV01"
    line = pick.choice(book.rows["craft"][2:])
    line["mass_kg"] = pick.randint(186, 900)
    return line, "craft", "mass_kg", "EQ04"


KINDS = (
    "expired",
    "short",
    "ambiguous date",
    "negative",
    "text quantity",
    "no date",
    "misspelt place",
    "raft service",
    "mass",
)


def _lay_out(book: Workbook, pick: random.Random) -> None:
    """Title rows above the headings, columns in any order, lines in any order with empty lines between them."""
    book.title_rows = pick.randint(0, 9)
    for key in ("craft", "crew", "inventory"):
        order = [column.key for column in sheet(key).columns]
        pick.shuffle(order)
        book.columns[key] = order
        lines: list[dict[str, Any]] = []
        pick.shuffle(book.rows[key])
        for line in book.rows[key]:
            lines += [{} for _ in range(pick.choice([0, 0, 0, 1, 2]))]
            lines.append(line)
        book.rows[key] = lines


@given(st.sampled_from(KINDS), st.integers(0, 2**32))
@settings(max_examples=250, deadline=None)
def test_a_planted_fault_is_found_at_its_cell_and_nothing_else_appears(kind: str, seed: int) -> None:
    pick = random.Random(seed)
    book = clean()
    line, key, column, code = _plant(book, kind, pick)
    _lay_out(book, pick)
    found = [(finding.code, finding.sheet, finding.cell) for finding in book.findings()]
    # an expired light with smoke leaves two rules unmet: as a light and as a smoke signal
    assert set(found) == {(code, sheet(key).name, book.cell(key, line, column))}


@given(st.integers(0, 2**32), st.dates(date(2026, 11, 1), date(2027, 6, 1)))
@settings(max_examples=60, deadline=None)
def test_a_clean_book_stays_clean_however_it_is_laid_out(seed: int, on: date) -> None:
    book = clean()
    _lay_out(book, random.Random(seed))
    assert book.findings(on, warn_days=0) == []
