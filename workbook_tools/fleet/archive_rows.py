"""What an archive keeps of a book: its tables, declared once, and their rows made from an audit. Loads no pyarrow.

The rows are made where the book is audited, in the worker: the command only writes them down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit
from workbook_tools.checks.followup import name_remover
from workbook_tools.findings import GRADES, STATES, BookResult, Finding
from workbook_tools.reading import Row
from workbook_tools.reading.cells import as_text

Cells = list[Any]
Rows = dict[str, list[Cells]]
Nameless = Callable[[str], str]

# How sinks name the function that makes the rows in the worker.
EXTRACT = "workbook_tools.fleet.archive_rows:extract"


@dataclass(frozen=True, slots=True)
class Field:
    """One column of a table. kind: text, whole, number, yes/no, day or time (UTC)."""

    name: str
    kind: str
    help: str


# First in every table; filled when a run is whole, the same in all its rows.
OF_THE_RUN = (
    Field("run", "text", "name of the run: the day asked, and twelve letters and digits made of what it found"),
    Field("day", "day", "the day asked"),
    Field("archived_at", "time", "when the run was archived"),
)
# Next in every table.
OF_THE_BOOK = (
    Field("imo_number", "text", "the ship's IMO number as in the book; empty where it gives none"),
    Field("ship", "text", "the ship's name as in the book"),
    Field("book", "text", "the file, as the run was given it"),
)
TABLES: dict[str, tuple[Field, ...]] = {
    "books": (
        Field("readable", "yes/no", "whether the book could be read"),
        Field("reason", "text", "why not"),
        Field("rules", "text", "the rule set it was audited by"),
        Field("record_date", "day", "the day on which its record was last gone through, as the Ship sheet says"),
        Field("persons_on_board", "whole", "persons on board"),
        Field("persons_certified", "whole", "persons the ship is certified for"),
        *(Field(grade, "whole", f"findings of the grade {grade}") for grade in GRADES),
        Field("followed_up", "whole", "findings that are being followed up"),
        *(Field(f"rules_{state}", "whole", f"rules that ended as {state.replace('_', ' ')}") for state in STATES),
    ),
    "findings": (
        Field("id", "text", "the finding's id, the same when rows move: one fault over many runs has one id"),
        Field("code", "text", "what was found: davitbook rules CODE explains it"),
        Field("rule", "text", "key of the rule"),
        Field("grade", "text", "action, due, query or note"),
        Field("priority", "text", "before sailing, within 14 days, at next port or plan"),
        Field("sheet", "text", "sheet"),
        Field("cell", "text", "cell"),
        Field("subject", "text", "craft, lot, crew number or ship"),
        Field("message", "text", "what is there and what is asked"),
        Field("remedy", "text", "what to do"),
        Field("source", "text", "paragraph"),
        Field("required", "number", "quantity asked"),
        Field("carried", "number", "quantity there"),
        Field("unit", "text", "unit of both"),
        Field("followed_up", "yes/no", "whether it is being followed up, its day not passed"),
        Field("follow_up_order", "text", "order on the Follow-up sheet"),
        Field("follow_up_port", "text", "port on the Follow-up sheet"),
        Field("follow_up_expected", "day", "day by which it is expected to be right"),
    ),
    "lots": (
        Field("sheet", "text", "sheet"),
        Field("row", "whole", "line of the sheet, as on the screen"),
        Field("place", "text", "where it is stowed"),
        Field("item", "text", "trade name of the list, or what the cell says where the list does not know it"),
        Field("known_item", "yes/no", "whether the list knows it"),
        Field("quantity", "number", "how many"),
        Field("unit", "text", "unit; empty: the item's usual one"),
        Field("content", "number", "what one piece holds or measures"),
        Field("content_unit", "text", "unit of the content"),
        Field("wearer_size", "text", "wearer's size"),
        Field("side", "text", "ship's side"),
        Field("batch", "text", "batch or serial number"),
        Field("made", "day", "date of making"),
        Field("expires", "day", "last good day"),
        Field("condition", "text", "condition; empty: in use"),
    ),
}


def extract(audit: Audit, result: BookResult) -> Rows:
    """The rows of one audited book, table by table, each in the order of OF_THE_BOOK and then TABLES. No names."""
    record_date = audit.book.ship_value("record_date")
    own = [result.imo_number, result.ship, result.book]
    nameless = cache(name_remover(audit.book))  # most cells say what others say
    return {
        "books": [[*own, *_book(result, record_date)]],
        "findings": [[*own, *_finding(finding, nameless)] for finding in result.findings],
        "lots": [[*own, *cells] for cells in _lots(audit, nameless)],
    }


def of_unreadable(book: str, reason: str) -> Rows:
    """The row of a book that could not be read."""
    result = BookResult(book, readable=False, reason=reason)
    row = ["", "", book, *_book(result, None)]
    first = len(OF_THE_BOOK) + [entry.name for entry in TABLES["books"]].index("persons_on_board")
    return {"books": [row[:first] + [None] * (len(row) - first)], "findings": [], "lots": []}


def _book(result: BookResult, record_date: date | None) -> Iterator[Any]:
    yield from (result.readable, result.reason or None, result.rules or None, record_date)
    yield from (result.persons.on_board, result.persons.certified)
    yield from result.grade_counts().values()
    yield len(result.followed_up())
    yield from result.state_counts().values()


def _finding(finding: Finding, nameless: Nameless) -> Iterator[Any]:
    for name in ("id", "code", "rule", "grade", "priority", "sheet", "cell"):
        yield getattr(finding, name)
    for name in ("subject", "message", "remedy"):
        yield nameless(getattr(finding, name))
    yield from (finding.source or None, finding.required, finding.carried, finding.unit or None, finding.followed_up)
    follow_up = finding.follow_up
    if follow_up is None:
        yield from (None, None, None)
    else:
        yield from (nameless(follow_up.order) or None, nameless(follow_up.port) or None, follow_up.expected)


def _lots(audit: Audit, nameless: Nameless) -> Iterator[Cells]:
    """The lines of the Inventory sheet; a cell that is empty or cannot be read is None. Remarks are left out."""
    table = audit.book.tables.get("inventory")
    if table is None:
        return

    def text(row: Row, key: str) -> str | None:
        value = row.get(key)
        return None if value is None else nameless(as_text(value))

    for row in table.rows:
        item = text(row, "item")
        known = catalogue.item_names().find(item) if item is not None else None
        yield [
            *(table.name, row.number + 1, text(row, "place"), known or item, known is not None),
            *(row.get("quantity"), text(row, "unit"), row.get("content"), text(row, "content_unit")),
            *(text(row, key) for key in ("wearer_size", "side", "batch")),
            *(row.get("made"), row.get("expires"), text(row, "condition")),
        ]
