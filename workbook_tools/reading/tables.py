"""Reads the sheets of a book: the headings of each are found and every cell below them is typed."""

from functools import cache
from pathlib import Path
from typing import Any

from workbook_tools.catalogue import normalise
from workbook_tools.catalogue.near import Words
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.findings import Finding
from workbook_tools.reading.address import address
from workbook_tools.reading.book import Book, Row, Table
from workbook_tools.reading.cells import as_text, is_wearer_size, quoted, shortened
from workbook_tools.reading.form import read_form
from workbook_tools.reading.headings import HEADER_ROWS, find_header
from workbook_tools.reading.lines import Filled, is_blank, is_no_line, without_notes
from workbook_tools.reading.load import RawBook, UnreadableBook, load
from workbook_tools.reading.plain_rows import Columns, PlainRows
from workbook_tools.reading.rows import type_into
from workbook_tools.reading.sheets import (
    choose,
    choose_renamed,
    find_renamed,
    report_choice,
    report_not_read,
    report_unread,
)
from workbook_tools.reading.subjects import lot_name, record_finding, row_subject

__all__ = ["HEADER_ROWS", "lot_name", "read_book", "read_raw", "record_finding", "row_subject"]


def read_book(path: Path, month_first_day: bool = False) -> Book:
    """Read a workbook into typed tables. Raises UnreadableBook."""
    return read_raw(load(path), month_first_day)


def read_raw(raw: RawBook, month_first_day: bool = False) -> Book:
    """Type the cells of an opened workbook. Raises UnreadableBook when a sheet or heading it needs is missing."""
    book = Book(raw.path, {}, month_first_day=month_first_day)
    handled: set[str] = set()
    book.own = raw.own
    renamed = find_renamed(raw)
    handled |= renamed.keys()
    for sheet in SHEETS:
        choice = choose(raw, sheet) or choose_renamed(sheet, renamed)
        if choice is None:
            if sheet.required:
                seen = ", ".join(repr(other) for other in raw.sheets) or "none"
                raise UnreadableBook(
                    f"no sheet named {sheet.name!r} (sheets found: {seen}): name it so and check again"
                )
            continue
        handled |= {choice.name, *(name for name, _ in choice.left_out)}
        report_choice(choice, sheet, book)
        if choice.of_another:
            continue
        name = choice.name
        reader = read_form if sheet.layout == "form" else _read_table
        table = reader(sheet, raw, name, book)
        if table is not None:
            book.tables[sheet.key] = table
    report_unread(raw, handled, book)
    _report_dotted(raw, book)
    return book


def _report_dotted(raw: RawBook, book: Book) -> None:
    """Name the cells whose formulas were saved with dotted names of our functions."""
    for name, places in raw.dotted.items():
        more = f" and in {len(places) - 1} more cells" if len(places) > 1 else ""
        book.findings.append(
            Finding(
                code="WB24",
                rule="record.wb24",
                grade="note",
                priority="plan",
                sheet=name,
                cell=address(*places[0]),
                subject=f"sheet {name}",
                message=f"a cell function is written with a dot here{more}: Excel does not know it and shows #NAME?",
                remedy="in Excel, replace 'LSA.' by 'LSA_' and 'FFA.' by 'FFA_' in the formulas",
            )
        )


def _read_table(sheet: Sheet, raw: RawBook, name: str, book: Book) -> Table | None:
    grid = raw.sheets[name]
    header = find_header(sheet, grid)
    if header is None:
        if not sheet.required:
            if any(cell not in ("", None) for line in grid for cell in line):
                report_not_read(sheet, name, "it has no heading line that we know", book)
            return None
        wanted = ", ".join(column.heading for column in sheet.columns if column.required)
        raise UnreadableBook(
            f"sheet {name!r} has no heading line in its first {HEADER_ROWS} rows: it needs at least {wanted}"
        )
    number, columns, twice = header
    missing = [column for column in sheet.columns if column.required and column.key not in columns]
    if missing:
        wanted = ", ".join(repr(column.heading) for column in missing)
        if not sheet.required:
            report_not_read(sheet, name, f"it has no column headed {wanted}", book)
            return None
        raise UnreadableBook(f"sheet {name!r}, row {number + 1}: no column headed {wanted}")
    table = Table(sheet, name, columns, [], number)
    _report_headings(table, grid[number], twice, book)
    table.rows = _Lines(table, raw, book).rows()
    return table


class _Lines:
    """The lines below the headings of a table, to be typed."""

    def __init__(self, table: Table, raw: RawBook, book: Book) -> None:
        self.table, self.book = table, book
        self.grid, self.errors = raw.sheets[table.name], raw.errors.get(table.name, {})
        self.known = sorted(
            ((index, table.sheet.column(key)) for key, index in table.columns.items()), key=lambda entry: entry[0]
        )
        self.carried = _carried_down(table, raw)
        self.sizes = _size_heading(table, self.grid[table.header_row])

    def rows(self) -> list[Row]:
        """Type them: column by column where that can be, else line by line."""
        ordered = sorted(self.known, key=lambda entry: _naming_order(entry[1]))
        columns = Columns(self.table.sheet, ordered, self.book.month_first_day)
        odd = {row for row, _ in self.errors} | set(self.carried)
        plain = PlainRows(columns, self.grid, self.table.header_row, odd)
        if plain.end_full():
            return plain.rows(self._row_of, self._type_one)
        numbers = range(self.table.header_row + 1, len(self.grid))
        lines = [(number, filled) for number in numbers if (filled := self._filled(number))]
        return [self._row(number, filled) for number, filled in without_notes(self.table.sheet, lines)]

    def _row_of(self, number: int) -> Row | None:
        """The typed row of a line; None where the line is none."""
        filled = self._filled(number)
        return self._row(number, filled) if filled else None

    def _filled(self, number: int) -> Filled:
        """The filled cells of a line under known headings; none where the line is none."""
        line, errors = self.grid[number], self.errors
        filled = [
            (column, line[index], errors.get((number, index)))
            for index, column in self.known
            if index < len(line) and ((line[index] != "" and not is_blank(line[index])) or (number, index) in errors)
        ]
        if not filled or is_no_line(self.table.sheet, line, filled):
            return []
        here = {column.key for column, _, _ in filled}
        return filled + [
            (column, cell, None) for column, cell in self.carried.get(number, ()) if column.key not in here
        ]

    def _row(self, number: int, filled: Filled) -> Row:
        row = Row(number, {})
        for column, cell, error in sorted(filled, key=lambda entry: _naming_order(entry[0])):
            self._type_one(row, column, cell, error)
        return row

    def _type_one(self, row: Row, column: Column, cell: Any, error: str | None = None) -> None:
        if column is self.sizes and not error and is_wearer_size(cell) and row.get("wearer_size") is None:
            column = self.table.sheet.column("wearer_size")
        type_into(row, column, cell, error, self.table, self.book)


def _size_heading(table: Table, line: list[Any]) -> Column | None:
    """The column of contents where it is headed 'Size': there a suit has its wearer's size."""
    index = table.columns.get("content")
    return table.sheet.column("content") if index is not None and normalise(as_text(line[index])) == "size" else None


# Columns that say where the thing of a line is: a cell merged over several lines is the place of all of them.
_PLACES = ("place", "subject", "appliance", "craft")


def _carried_down(table: Table, raw: RawBook) -> dict[int, list[tuple[Column, Any]]]:
    """By row: the values of the place cells that are merged from a row above into it."""
    grid = raw.sheets[table.name]
    columns = {table.columns[key]: table.sheet.column(key) for key in _PLACES if key in table.columns}
    carried: dict[int, list[tuple[Column, Any]]] = {}
    for (top, left), (bottom, _) in raw.merged.get(table.name, ()):
        if left in columns and table.header_row < top < len(grid) and left < len(grid[top]):
            value = grid[top][left]
            for number in range(top + 1, min(bottom + 1, len(grid))):
                if not is_blank(value):
                    carried.setdefault(number, []).append((columns[left], value))
    return carried


def _naming_order(column: Column) -> int:
    """What names a line is typed first, so that a finding on it has the same subject whatever the order of columns.

    A unit comes before the quantity: '90 L' in the quantity is compared with it.
    """
    return _ORDER.get(column.kind, len(_ORDER))


_ORDER = {"text": 0, "item": 0, "date": 1, "expiry": 1, "made": 1, "unit": 2}


# So many columns of the ship's own are named one by one; those beyond are counted.
_NAMED_COLUMNS = 100


@cache
def _heading_words(sheet_key: str) -> Words:
    return Words(next(entry for entry in SHEETS if entry.key == sheet_key).headings)


def _report_headings(table: Table, line: list[Any], twice: list[tuple[int, Column]], book: Book) -> None:
    for index, column in twice:
        cell = address(table.header_row, index)
        first = address(table.header_row, table.columns[column.key])
        book.findings.append(
            record_finding(
                "WB12",
                "query",
                table,
                cell,
                f"{quoted(as_text(line[index]))} heads the column {column.heading!r} a second time; {first} is read, "
                "this one is not",
                "keep one of the two columns",
                f"heading {column.heading}",
            )
        )
    known = {*table.columns.values(), *(index for index, _ in twice)}
    unknown = [
        (index, cell)
        for index, cell in enumerate(line)
        if index not in known and isinstance(cell, str) and not is_blank(cell)
    ]
    for index, cell in unknown[:_NAMED_COLUMNS]:
        near = _heading_words(table.sheet.key).close(normalise(shortened(cell)), cutoff=0.8)
        hint = f"; did you mean {table.sheet.headings[near[0]].heading!r}?" if near else ""
        book.findings.append(
            record_finding(
                "WB13",
                "note",
                table,
                address(table.header_row, index),
                f"column {quoted(as_text(cell))} is none of this sheet's: it is not read{hint}",
                "rename the heading if it should be read; otherwise nothing",
                f"heading {as_text(cell)}",
            )
        )
    if left_out := unknown[_NAMED_COLUMNS:]:
        book.findings.append(
            record_finding(
                "WB13",
                "note",
                table,
                address(table.header_row, left_out[0][0]),
                f"{len(left_out)} more columns are none of this sheet's, from {quoted(as_text(left_out[0][1]))} on: "
                "they are not read, nor named one by one",
                "rename the headings that should be read; otherwise nothing",
                "more headings",
            )
        )
