"""Tells a living workbook, one that calculates sheets of its own, and which of its sheets goes by another name now.

Formulas reach cells by defined names, and these follow a sheet that is renamed: they tell which it was.
"""

from __future__ import annotations

import html
import re
from collections.abc import Collection, Mapping
from typing import Any

from workbook_tools.catalogue import normalise
from workbook_tools.columns import SHEETS
from workbook_tools.columns.calculated import (
    ARRIVAL,
    CALCULATED_SHEETS,
    CALLS,
    CHARTS,
    COVERAGE,
    CRAFT,
    CREW,
    DATES,
    DUE,
    HANDOVER,
    LINES,
    LISTS,
    LOTS,
    MONTHLY,
    MUSTER,
    ORDER_LINES,
    PAGES,
    RATIONS,
    REQUIRED,
    RULES,
    SHIP,
    STATUS,
    SUBSTITUTES,
)

# One defined name for each calculated sheet that has any; the input sheets have theirs by their keys.
TELLING = {
    "date_asked": STATUS,
    "required_says": REQUIRED,
    "coverage_says": COVERAGE,
    "due_day": DUE,
    "charted_name": CHARTS,
    "rules_ev": RULES,
    "lists_choice_text": LISTS,
    "ship_asked": SHIP,
    "crew_listed": CREW,
    "craft_counts": CRAFT,
    "lots_date": LOTS,
    "subs_fact": SUBSTITUTES,
    "lines_asked": LINES,
    "dates_day": DATES,
    "calls_at": CALLS,
    "orders_key": ORDER_LINES,
    "page_arrival_c1": PAGES,
    "list_craft_kind": "Lists",
}
# How the first cell of a printed page begins; the first cell of every other sheet is its name.
TITLES = {
    MONTHLY: "Monthly checks",
    MUSTER: "Muster list",
    RATIONS: "Ration card",
    HANDOVER: "Handover of",
    ARRIVAL: "Arrival page",
}
_NEEDED = ("date_asked", "required_says", "lines_asked")
_NAME = re.compile(r"<(?:\w+:)?definedName\b([^>]*)>([^<]*)<")
_CALLED = re.compile(r"""(?<![\w:])name\s*=\s*["']([^"']*)["']""")


def defined_names(book: bytes) -> dict[str, str]:
    """What each name stands for, of those that hold in the whole workbook: date_asked -> Status!$B$3.

    book: the XML of the part that lists sheets and names.
    """
    found: dict[str, str] = {}
    for attributes, reference in _NAME.findall(book.decode("utf-8", "replace")):
        called = _CALLED.search(attributes)
        if called and "localSheetId" not in attributes:
            found[called[1]] = html.unescape(reference)
    return found


def is_living(sheets: Collection[str], book: bytes) -> bool:
    """Whether a workbook calculates sheets of its own: it has our hidden sheet, or the names that our formulas need."""
    return LINES in sheets or all(b'"%s"' % name.encode() in book for name in _NEEDED)


def sheet_of(reference: str) -> str:
    """The sheet that a reference names; '' where it names none, or one that is gone."""
    sheet, mark, _ = reference.rpartition("!")
    if not mark or sheet.startswith(("#", "[")):
        return ""
    return sheet[1:-1].replace("''", "'") if sheet.startswith("'") else sheet


def renamed(sheets: Collection[str], names: Mapping[str, str]) -> dict[str, str]:
    """Sheets that go by another name than we gave them: the name now -> the name it should have."""
    wanted = dict(TELLING)
    for defined in names:
        if defined.startswith("in_"):
            name = next((entry.name for entry in SHEETS if defined.startswith(f"in_{entry.key}_")), None)
            if name is not None:
                wanted[defined] = name
    ours = {*CALCULATED_SHEETS, *(entry.name for entry in SHEETS), "Lists", "Notes"}
    found: dict[str, str] = {}
    for defined, should in wanted.items():
        now = sheet_of(names.get(defined, ""))
        if now in sheets and now not in ours:
            found[now] = should
    return found


def renamed_by_title(cells: Mapping[str, list[list[Any]]], there: Collection[str]) -> dict[str, str]:
    """The same of sheets that no name points at: they are told by the title in their first cell.

    cells: the sheets that may be meant, with their cells; there: the names of all sheets of the workbook.
    """
    titles = {title: name for name, title in TITLES.items()}
    titles |= {name: name for name in (*(entry.name for entry in SHEETS), STATUS, REQUIRED, COVERAGE, DUE, RULES)}
    known = {normalise(name) for name in there}
    missing = {title: name for title, name in titles.items() if normalise(name) not in known}
    found: dict[str, str] = {}
    for now, grid in cells.items():
        first = grid[0][0] if grid and grid[0] else ""
        for title, name in missing.items() if isinstance(first, str) else ():
            if _is_title(first, title, name) and name not in found.values():
                found[now] = name
    return found


def _is_title(first: str, title: str, name: str) -> bool:
    """A printed page's title goes on in words of its own; an input sheet's only with the ship, set apart by spaces."""
    rest = first.removeprefix(title)
    return rest != first and (not rest or rest.startswith("   ") or (name in TITLES and not rest[0].isalnum()))


def is_known_otherwise(now: str, should: str) -> bool:
    """Whether a sheet is found under the name it has now as well: in other capitals, or by one of its other names."""
    others = next((entry.other_names for entry in SHEETS if entry.name == should), ())
    return normalise(now) in {normalise(name) for name in (should, *others)}
