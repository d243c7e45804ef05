"""Writes the workbook: notes, one sheet for each of the contract's, the sheets it calculates itself. XlsxWriter."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from typing import Any

from workbook_tools import __version__
from workbook_tools.book.checklist import ChecklistLine, checklist
from workbook_tools.book.description import Description, Values
from workbook_tools.book.formats import Formats
from workbook_tools.book.inputs import InputSheets, MoreNames
from workbook_tools.book.notes import write_notes
from workbook_tools.columns import CONTRACT, SHEETS
from workbook_tools.findings import CAUTION

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
) -> bytes:
    """A workbook to fill in, as the bytes of an .xlsx file; ship '' leaves the name to be filled in.

    With a description, Ship and Craft are filled and the Inventory lists what each craft must carry by the rules in
    force on a day (default: today). rows fills sheets line by line, by the sheet's key and the columns' keys; for the
    sheets that it names it stands in the place of the description. room: rows made ready for each sheet.
    The same arguments give the same bytes.
    """
    import xlsxwriter

    description = description or Description()
    values: Values = {**description.ship, "name": ship or None}
    lines = checklist(Description(values, description.craft), on or date.today()) if description.craft else []
    filled: dict[str, Sequence[Values]] = {
        "ship": [values],
        "craft": description.craft,
        "inventory": _checklist_rows(lines),
        **(rows or {}),
    }
    memory = io.BytesIO()
    with xlsxwriter.Workbook(
        memory, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    ) as book:
        _write(book, ship, filled, more_names, more_sheets, room)
    return memory.getvalue()


def _checklist_rows(lines: Sequence[ChecklistLine]) -> list[Values]:
    return [
        {"place": line.place, "item": line.item, "asked": line.asked, "unit": line.unit, "remarks": line.remarks}
        for line in lines
    ]


def _write(
    book: Any,
    ship: str,
    filled: Mapping[str, Sequence[Values]],
    more_names: MoreNames | None,
    more_sheets: MoreSheets | None,
    room: dict[str, int] | None,
) -> None:
    """Write every sheet."""
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
    formats = Formats(book)
    inputs = InputSheets(book, formats, ship, more_names, room)
    notes = book.add_worksheet("Notes")
    sheets = {entry.key: book.add_worksheet(entry.name) for entry in SHEETS}
    lists = book.add_worksheet("Lists")
    inputs.lists_sheet(lists)
    lists.hide()
    write_notes(notes, formats, ship)
    for entry in SHEETS:
        if entry.layout == "form":
            inputs.form(sheets[entry.key], entry, next(iter(filled.get(entry.key, ())), {}))
        else:
            inputs.table(sheets[entry.key], entry, filled.get(entry.key, ()))
    if more_sheets is not None:
        more_sheets(book, formats, ship)
    sheets["ship"].activate()
    sheets["ship"].set_first_sheet()
