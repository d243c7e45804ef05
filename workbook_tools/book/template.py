"""Writes the workbook: notes, one sheet for each of the contract's, the sheets it calculates itself. XlsxWriter."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from workbook_tools import __version__
from workbook_tools.book.calculated.engine import results
from workbook_tools.book.calculated.sheets import AFTER, BEFORE, HIDDEN, write_calculated
from workbook_tools.book.calculated.status import DATE_ASKED
from workbook_tools.book.calculated.writer import CalculatedBook, Place, Value
from workbook_tools.book.checklist import ChecklistLine, checklist
from workbook_tools.book.description import Description, Values
from workbook_tools.book.formats import Formats
from workbook_tools.book.inputs import InputSheets, MoreNames
from workbook_tools.book.looks import write_looks
from workbook_tools.book.notes import rule_edition, write_notes
from workbook_tools.book.printed import HIDDEN as PAGE_HELPERS
from workbook_tools.book.printed import PRINTED, write_pages
from workbook_tools.columns import CONTRACT, SHEETS
from workbook_tools.columns.calculated import RULES
from workbook_tools.core.caution import CAUTION

# The day whose answers the stored template shows; the same day makes the same bytes.
TEMPLATE_DAY = date(2026, 11, 25)

# Writes further sheets into a book, after ours: book, formats, the ship's name.
MoreSheets = Callable[[Any, Formats, str], None]


def build(
    ship: str,
    description: Description | None = None,
    on: date | None = None,
    more_names: MoreNames | None = None,
    rows: Mapping[str, Sequence[Values]] | None = None,
    more_sheets: MoreSheets | None = None,
    room: dict[str, int] | None = None,
    printed: bool = True,
) -> bytes:
    """A workbook to fill in, as the bytes of an .xlsx file; ship '' leaves the name to be filled in.

    With a description, Ship and Craft are filled and the Inventory lists what each craft must carry by the rules in
    force on a day (default: today). rows fills sheets line by line, by the sheet's key and the columns' keys; for the
    sheets that it names it stands in the place of the description. room: rows made ready for each sheet. printed: with
    the pages for printing, which take as long to work out as all else.
    The same arguments give the same bytes.
    """
    description = description or Description()
    values: Values = {**description.ship, "name": ship or None}
    lines = checklist(Description(values, description.craft), on or date.today()) if description.craft else []
    filled: dict[str, Sequence[Values]] = {
        "ship": [values],
        "craft": description.craft,
        "inventory": _checklist_rows(lines),
        **(rows or {}),
    }
    day = on or date.today()
    parts = _Parts(ship, filled, more_names, more_sheets, room, printed)
    # first without values, for the engine to work them out; then with what every formula shows on the day
    empty, formulas = _written(parts, {})
    return _written(parts, results(empty, formulas, DATE_ASKED, day))[0]


@dataclass(frozen=True)
class _Parts:
    """What a book is made of."""

    ship: str
    filled: Mapping[str, Sequence[Values]]
    more_names: MoreNames | None
    more_sheets: MoreSheets | None
    room: dict[str, int] | None
    printed: bool


def _written(parts: _Parts, values: Mapping[Place, Value]) -> tuple[bytes, list[Place]]:
    """The book as bytes, and where its formulas stand."""
    import xlsxwriter

    from workbook_tools.book.sheet_class import PlainSheet  # loads the same library

    memory = io.BytesIO()
    with xlsxwriter.Workbook(
        memory, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    ) as book:
        book.worksheet_class = PlainSheet
        formulas = _write(book, parts, values)
    return memory.getvalue(), formulas


def _checklist_rows(lines: Sequence[ChecklistLine]) -> list[Values]:
    return [
        {"place": line.place, "item": line.item, "asked": line.asked, "unit": line.unit, "remarks": line.remarks}
        for line in lines
    ]


def _write(book: Any, parts: _Parts, values: Mapping[Place, Value]) -> list[Place]:
    """Write every sheet, and say where the formulas stand."""
    ship, filled = parts.ship, parts.filled
    book.set_properties(
        {
            "title": f"Life-saving appliances of {ship or 'a ship'}",
            "subject": "Record of life-saving and fire-fighting appliances",
            "comments": CAUTION,
            "created": datetime(2026, 1, 1),
        }
    )
    book.set_custom_property("davitbook contract", CONTRACT)
    book.set_custom_property("davitbook version", __version__)
    book.set_custom_property("davitbook rules", rule_edition())
    formats = Formats(book)
    inputs = InputSheets(book, formats, ship, parts.more_names, parts.room)
    calc = CalculatedBook(book, formats, ship, inputs.room, values)
    for name in BEFORE:
        book.add_worksheet(name)
    notes = book.add_worksheet("Notes")
    sheets = {entry.key: book.add_worksheet(entry.name) for entry in SHEETS}
    for name in (*AFTER, *(PRINTED if parts.printed else ()), RULES):
        book.add_worksheet(name)
    lists = book.add_worksheet("Lists")
    for name in (*HIDDEN, *(PAGE_HELPERS if parts.printed else ())):
        book.add_worksheet(name)
    inputs.lists_sheet(lists)
    lists.hide()
    write_notes(notes, formats, ship)
    for entry in SHEETS:
        if entry.layout == "form":
            inputs.form(sheets[entry.key], entry, next(iter(filled.get(entry.key, ())), {}))
        else:
            inputs.table(sheets[entry.key], entry, filled.get(entry.key, ()))
    write_calculated(calc)
    if parts.printed:
        write_pages(calc)
    write_looks(calc)
    if parts.more_sheets is not None:
        parts.more_sheets(book, formats, ship)
    sheets["ship"].activate()
    sheets["ship"].set_first_sheet()
    return calc.formulas
