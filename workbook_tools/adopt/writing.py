"""Writes the book of ours, with the sheets that account for every cell of theirs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import Any

from workbook_tools.adopt.carry import Carried
from workbook_tools.adopt.drafts import Record
from workbook_tools.adopt.fates import Fate
from workbook_tools.book.description import Values
from workbook_tools.book.formats import Formats, row_height, set_up_page
from workbook_tools.book.template import build
from workbook_tools.columns import sheet
from workbook_tools.core.caution import CAUTION
from workbook_tools.reading.address import address
from workbook_tools.reading.cells import shortened

LEFT_SHEET = "Not carried over"
HOW_SHEET = "How it was read"
HEADING_ROW = 6
# A cell is quoted no longer than this; its address says where the whole of it stands.
_QUOTED = 1_000


def build_book(carried: Carried, source_name: str, on: date | None = None, room: dict[str, int] | None = None) -> bytes:
    """A book of ours with what was carried over, and two sheets: what was not, and what was read out of a text.

    on: the day whose answers the calculated sheets show at first (default: today). room: as of book.template.build.
    """
    rows: dict[str, Sequence[Values]] = {
        key: [_in_cells(key, record) for record in records] for key, records in carried.rows.items()
    }
    rows["ship"] = [_in_cells("ship", carried.ship)]

    def more_sheets(book: Any, formats: Formats, ship: str) -> None:
        _left(book.add_worksheet(LEFT_SHEET), formats, ship, carried, source_name)
        _how(book.add_worksheet(HOW_SHEET), formats, ship, carried, source_name)

    return build(str(carried.ship.values.get("name") or ""), on=on, rows=rows, more_sheets=more_sheets, room=room)


def _in_cells(key: str, record: Record) -> Values:
    """The values of a line as the book's cells hold them."""
    contract = sheet(key)
    return {name: value for name, value in record.values.items() if any(one.key == name for one in contract.columns)}


def summary(carried: Carried) -> str:
    """How many filled cells there are, and what became of them."""
    every, left = len(carried.fates), len(carried.left)
    return f"{every} filled cells: {every - left} carried over, {left} not"


def _head(page: Any, formats: Formats, title: str, lines: Sequence[str]) -> None:
    page.write(0, 0, title, formats.title)
    for row, line in enumerate(lines, start=1):
        page.write_string(row, 0, line, formats.help)


def _left(page: Any, formats: Formats, ship: str, carried: Carried, source_name: str) -> None:
    why = Counter(fate.why for fate in carried.left)
    lines = [
        f"From {source_name}: {summary(carried)}. Each cell that is not in this book stands below, with the reason.",
        "Comments on cells, pictures and charts of the source are not read. A cell with spaces alone is empty.",
        "To carry over more, change the mapping file and adopt again.",
        CAUTION,
    ]
    _head(page, formats, LEFT_SHEET, lines)
    _table(page, formats, ("Sheet", "Cell", "What stands there", "Why it is not carried over"), (16, 8, 52, 84))
    for row, fate in enumerate(carried.left, start=HEADING_ROW + 1):
        _line(page, formats, row, fate, fate.why)
    last = HEADING_ROW + max(1, len(carried.left))
    page.autofilter(HEADING_ROW, 0, last, 3)
    if not why:
        page.write_string(HEADING_ROW + 1, 0, "Every cell was carried over.", formats.plain)
    _finish(page, ship)


def _how(page: Any, formats: Formats, ship: str, carried: Carried, source_name: str) -> None:
    told = [fate for fate in carried.fates if fate.carried and fate.how and fate.how != "a heading"]
    lines = [
        f"From {source_name}: the cells that were not simply copied, and how each was read. Look them over.",
        *carried.notes[:2],
        *([f"and {len(carried.notes) - 2} more notes: adopt prints them all"] if len(carried.notes) > 2 else []),
    ]
    _head(page, formats, HOW_SHEET, lines)
    _table(page, formats, ("Sheet", "Cell", "What stands there", "How it was read"), (16, 8, 52, 84))
    for row, fate in enumerate(told, start=HEADING_ROW + 1):
        where = ", ".join(_where_to(target) for target in fate.targets)
        _line(page, formats, row, fate, f"{where}: {fate.how}")
    page.autofilter(HEADING_ROW, 0, HEADING_ROW + max(1, len(told)), 3)
    _finish(page, ship)


def _where_to(target: str) -> str:
    """A column of ours as the reader knows it: 'Inventory, Quantity'."""
    key, _, name = target.partition(".")
    contract = sheet(key)
    return f"{contract.name}, {contract.column(name).heading}"


def _table(page: Any, formats: Formats, headings: Sequence[str], widths: Sequence[int]) -> None:
    for column, (heading, width) in enumerate(zip(headings, widths, strict=True)):
        page.set_column(column, column, width)
        page.write(HEADING_ROW, column, heading, formats.optional)


def _line(page: Any, formats: Formats, row: int, fate: Fate, words: str) -> None:
    name, line, column = fate.place
    text = shortened(fate.text, _QUOTED)
    page.write_string(row, 0, name, formats.wrapped)
    page.write_string(row, 1, address(line, column), formats.wrapped)
    page.write_string(row, 2, text, formats.wrapped)
    page.write_string(row, 3, words, formats.wrapped)
    page.set_row(row, max(row_height(text, 54), row_height(words, 88), row_height(name, 15)))


def _finish(page: Any, ship: str) -> None:
    page.freeze_panes(HEADING_ROW + 1, 0)
    page.repeat_rows(HEADING_ROW)
    set_up_page(page, ship, landscape=True)
