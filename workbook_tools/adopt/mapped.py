"""Reads a foreign workbook by its mapping straight into typed tables, so that it can be audited as it stands.

The findings name the cells of their workbook: a line of ours may come from any sheet of theirs.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from workbook_tools.adopt.carry import Carried, Undecided, carry
from workbook_tools.adopt.drafts import Record
from workbook_tools.adopt.locate import LayoutChanged
from workbook_tools.adopt.mapping import Mapping
from workbook_tools.adopt.source import Place, Source, open_source, where
from workbook_tools.columns import SHEETS, Sheet
from workbook_tools.reading import Book, Row, Table, UnreadableBook
from workbook_tools.reading.cells import type_interval
from workbook_tools.reading.subjects import record_finding, row_subject

_DATES = ("date", "expiry", "made")


@dataclass(slots=True)
class TheirTable(Table):
    """A table of ours made of their cells: a cell's address names their sheet as well, 'LB1!C7'."""

    cells: dict[tuple[int, str], Place] = field(default_factory=dict)
    first_cell: Place = ("", 0, 0)

    def cell(self, row: Row | None, key: str) -> str:
        """Their cell of a value; where it has none of its own, the first cell of its line."""
        if row is None:
            return where(self.first_cell)
        place = self.cells.get((row.number, key))
        if place is None:
            place = next((at for (number, _), at in self.cells.items() if number == row.number), self.first_cell)
        return where(place)


def book_from_map(path: Path, mapping: Mapping, month_first_day: bool | None = None) -> Book:
    """A foreign workbook as typed tables. month_first_day: None, as the mapping says.

    Raises UnreadableBook when the file cannot be read, is no longer laid out as mapped (each change named), or its
    mapping leaves something undecided.
    """
    return book_of_source(open_source(path), mapping, month_first_day)


def book_of_source(source: Source, mapping: Mapping, month_first_day: bool | None = None) -> Book:
    """An opened workbook as typed tables; as book_from_map."""
    if month_first_day is not None:
        mapping = replace(mapping, month_expiry="first" if month_first_day else "last")
    try:
        carried = carry(source, mapping)
    except LayoutChanged as error:
        raise UnreadableBook(
            f"its layout is not that of the mapping: {error}; make the mapping anew with davitbook adopt, or edit it"
        ) from error
    except Undecided as error:
        raise UnreadableBook(f"the mapping leaves undecided: {error}; decide it in the mapping file") from error
    book = Book(source.path, {}, month_first_day=mapping.month_expiry == "first")
    for contract in SHEETS:
        records = [carried.ship] if contract.layout == "form" else carried.rows.get(contract.key, [])
        if (records and (contract.layout == "table" or carried.ship.values)) or contract.required:
            book.tables[contract.key] = _table(book, contract, records)
    book.month_only = sum("of its month is assumed" in fate.how for fate in carried.fates)
    _note(book, carried)
    return book


def _table(book: Book, contract: Sheet, records: list[Record]) -> TheirTable:
    keys = list(dict.fromkeys(key for record in records for key in (*record.values, *record.unclear)))
    keys += [column.key for column in contract.columns if column.required and column.key not in keys]
    table = TheirTable(contract, contract.name, {key: index for index, key in enumerate(keys)}, [])
    if contract.layout == "form":
        table.form_cells = dict.fromkeys(keys, (0, 0))
    for number, record in enumerate(records):
        row = Row(number, {key: _typed(contract, key, value) for key, value in record.values.items()})
        table.rows.append(row)
        for key, place in record.places.items():
            table.cells[number, key] = place
            table.first_cell = table.first_cell if table.first_cell[0] else place
        for key, (text, problem) in record.unclear.items():
            row.unclear[key] = text
            _report(book, table, row, key, problem)
    return table


def _typed(contract: Sheet, key: str, value: Any) -> Any:
    return type_interval(value).value if contract.column(key).kind == "interval" else value


def _report(book: Book, table: TheirTable, row: Row, key: str, problem: str) -> None:
    column = table.sheet.column(key)
    code = "WB01" if problem.startswith("the cell ") else "WB03" if column.kind in _DATES else "WB02"
    remedy = "write it so that it can be read in one way only"
    if code == "WB03":
        remedy = "write the date as YYYY-MM-DD, or give the column a date_order in the mapping"
    message = f"{column.heading}: {problem}"
    found = record_finding(code, "query", table, table.cell(row, key), message, remedy, row_subject(row, table))
    book.findings.append(found)


def _note(book: Book, carried: Carried) -> None:
    """What is new since the mapping was made, each as a note of its own."""
    for note in carried.notes:
        table = Table(SHEETS[0], "mapping", {}, [])
        remedy = "look whether it is read rightly; put it into the mapping, or make the mapping anew"
        book.findings.append(record_finding("WB13", "note", table, "A1", f"by the mapping: {note}", remedy, note))
