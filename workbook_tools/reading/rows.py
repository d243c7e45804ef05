"""Types cells into rows."""

from dataclasses import replace
from typing import Any

from workbook_tools import catalogue
from workbook_tools.columns import Column
from workbook_tools.reading.book import Book, Row, Table
from workbook_tools.reading.cells import EMPTY, Typed, as_text, quoted, shortened, type_cell
from workbook_tools.reading.load import NO_RESULT
from workbook_tools.reading.subjects import record_finding, row_subject


def type_into(row: Row, column: Column, raw: Any, error: str | None, table: Table, book: Book) -> None:
    """Type one cell into a row; what cannot be read becomes None, a finding and a mark on the row."""
    typed = _error(error) if error else type_cell(raw, column, book.month_first_day)
    if typed is EMPTY:
        return
    if typed.unit and column.key == "quantity" and table.sheet.key == "inventory":
        typed = _take_unit(row, typed, as_text(raw))
    if typed.problem:
        code = "WB01" if error else "WB03" if typed.about_date else "WB02"
        row.unclear[column.key] = error or shortened(as_text(raw))
        message = f"{column.heading}: {typed.problem}"
        cell = table.cell(row, column.key)
        book.findings.append(record_finding(code, "query", table, cell, message, typed.remedy, row_subject(row, table)))
        return
    book.month_only += typed.month_only
    if column.kind == "content":
        number, unit = typed.value
        row.values[column.key] = number
        if unit is not None:
            row.values.setdefault("content_unit", unit)
        return
    row.values[column.key] = typed.value


def _error(error: str) -> Typed:
    if error == NO_RESULT:
        return Typed(
            problem="the cell holds a formula without a result",
            remedy="open and save the book once in the spreadsheet program",
        )
    return Typed(problem=f"the cell shows {error}", remedy="mend the formula, or write the value itself")


def _take_unit(row: Row, typed: Typed, text: str) -> Typed:
    """Take over the unit written behind a quantity where the Unit cell is empty; two that differ are no quantity."""
    unit, own = typed.unit or "each", row.get("unit")
    if own is None and "unit" not in row.unclear:
        if unit != "each":  # pieces: whatever unit the item is counted in
            row.values["unit"] = unit
        return typed
    if own not in catalogue.units() or catalogue.convert(1, unit, own) == 1:
        return typed
    return replace(
        typed,
        value=None,
        problem=f"{quoted(text)} and the unit {own!r} beside it say two things",
        remedy="write the number alone, and its unit in the column Unit",
    )
