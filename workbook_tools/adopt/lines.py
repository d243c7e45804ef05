"""Tells the lines of a foreign table from what stands between and under them: sections, totals, notes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from workbook_tools.adopt.days import looks_like_date
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.measures import amount_of
from workbook_tools.adopt.names import knows_item
from workbook_tools.adopt.places import craft_in_title, is_place
from workbook_tools.adopt.source import Page
from workbook_tools.adopt.words import vocabulary

LINE, SECTION, HEADINGS, TOTAL, NOTE = "line", "section", "headings", "total", "note"


@dataclass(frozen=True, slots=True)
class Area:
    """Where the body of a table lies: rows from first to last, columns from left to right; all count from 0."""

    first: int
    last: int
    left: int
    right: int


@dataclass(frozen=True, slots=True)
class Part:
    """A row of a body and what it is; cells are its filled columns."""

    row: int
    role: str
    cells: tuple[int, ...]


def parts(page: Page, area: Area, headings: Mapping[int, tuple[str, ...]]) -> list[Part]:
    """The rows of a body that hold anything, each with its role. headings: what stands above each column."""
    rows = [
        (row, tuple(page.columns_filled(row, area.left, area.right)))
        for row in range(area.first, min(area.last, len(page.grid) - 1) + 1)
    ]
    things = _things(page, rows)
    last = _last_line(page, rows, things)
    found: list[Part] = []
    for row, cells in rows:
        if cells:
            alone = len(cells) == 1 and _is_section(page, row, cells[0], things)
            role = _role(page, row, cells, headings, row > last, alone)
            if role == LINE and things is not None and things not in cells and _adds_up(page, row, cells, found):
                role = TOTAL
            found.append(Part(row, role, cells))
    return found


def _adds_up(page: Page, row: int, cells: tuple[int, ...], above: list[Part]) -> bool:
    """Whether a row that names nothing holds the sum of the lines above it: a total, in whatever language."""
    lines = [part.row for part in above if part.role == LINE]
    for column in cells:
        amount = _amount(page.value(row, column))
        added = [number for line in lines if (number := _amount(page.value(line, column))) is not None]
        if amount is not None and len(added) >= 2 and amount == sum(added):
            return True
    return False


def _amount(value: object) -> float | None:
    if isinstance(value, float | int) and not isinstance(value, bool):
        return float(value)
    told = amount_of(value.strip()) if isinstance(value, str) and len(value) < 40 else None
    return told.quantity if told else None


def names_place(text: str) -> bool:
    """Whether the heading of a section says where the lines below it are."""
    return craft_in_title(text) is not None or is_place(text)


def _things(page: Page, rows: list[tuple[int, tuple[int, ...]]]) -> int | None:
    """The column that names the things of a table: the one with most known items. None where there is none."""
    known = Counter(
        column for row, cells in rows if len(cells) >= 2 for column in cells if knows_item(page.text(row, column))
    )
    return known.most_common(1)[0][0] if known else None


def _last_line(page: Page, rows: list[tuple[int, tuple[int, ...]]], things: int | None) -> int:
    """The last row that is a line: of two cells or more, and below an empty row only with a figure or a known item."""
    last, gap = -1, False
    for row, cells in rows:
        if not cells:
            gap = True
        elif len(cells) >= 2 and not is_total(page, row, cells) and (not gap or _says_something(page, row, cells)):
            last, gap = row, False
        elif len(cells) == 1 and not gap and knows_item(page.text(row, cells[0])) and cells[0] == things:
            last = row
        elif len(cells) == 1 and _is_section(page, row, cells[0], things):
            gap = False  # lines may follow: an empty row stood above the next section
    return last


def _says_something(page: Page, row: int, cells: tuple[int, ...]) -> bool:
    values = [page.value(row, column) for column in cells]
    if any(isinstance(value, float | int) or looks_like_date(value) for value in values):
        return not any(isinstance(value, str) and value.strip().endswith(":") for value in values)
    return any(isinstance(value, str) and knows_item(value) for value in values)


def _role(
    page: Page, row: int, cells: tuple[int, ...], headings: Mapping[int, tuple[str, ...]], after: bool, alone: bool
) -> str:
    if _are_headings(page, row, cells, headings):
        return HEADINGS
    if is_total(page, row, cells):
        return TOTAL
    if after:
        return NOTE
    return SECTION if alone else LINE


def _are_headings(page: Page, row: int, cells: tuple[int, ...], headings: Mapping[int, tuple[str, ...]]) -> bool:
    texts = [(column, fold(page.text(row, column))) for column in cells]
    same = [text and text in [fold(part) for part in headings.get(column, ())] for column, text in texts]
    return len(cells) >= 2 and all(same)


def is_total(page: Page, row: int, cells: tuple[int, ...]) -> bool:
    """Whether a row is a total: its first cell says so, and more of the same is no name of a thing."""
    text = page.text(row, cells[0])
    words = fold(text).split()
    if not words or len(text) > 60 or knows_item(text):
        return False
    totals = vocabulary().plain["total"]
    if " ".join(words) in totals:
        return True
    return words[0] in totals and words[1:2] not in (["flooding"], ["enclosed"]) and words[0] != "gesamt"


def _is_section(page: Page, row: int, column: int, things: int | None) -> bool:
    """Whether a single cell in its row heads the lines below it: a craft, a place, or words set off from the lines."""
    text = page.text(row, column)
    if not text or (knows_item(text) and column == things):
        return False
    if names_place(text):
        return True
    area = page.merged_at(row, column)
    wide = area is not None and area[3] > area[1]
    return wide or text.endswith(":") or (text.isupper() and len(text) > 3)
