"""Typed rows with the places they came from."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from workbook_tools.columns import Sheet
from workbook_tools.findings import Finding
from workbook_tools.reading.address import address
from workbook_tools.reading.own_sheets import OwnSheets


@dataclass(slots=True, init=False)
class Row:
    """One line of a table. unclear names the columns whose cell holds something that could not be read."""

    number: int  # row of the sheet, counted from 0
    values: dict[str, Any]
    unclear: dict[str, str]  # column key -> the text that stands there
    get: Callable[[str], Any] = field(compare=False, repr=False)  # the typed value, or None

    def __init__(self, number: int, values: dict[str, Any]) -> None:
        self.number, self.values, self.unclear = number, values, {}
        self.get = values.get  # called thousands of times in a book: a method of ours takes twice as long


@dataclass(slots=True)
class Table:
    """One sheet's typed rows."""

    sheet: Sheet
    name: str  # as the sheet is called in this book
    columns: dict[str, int]  # column key -> index counted from 0
    rows: list[Row]
    header_row: int = 0
    form_cells: dict[str, tuple[int, int]] = field(default_factory=dict)

    def cell(self, row: Row | None, key: str) -> str:
        """Address of a row's cell; where the book has no such column, of the row's first known column."""
        if self.sheet.layout == "form":
            return address(*self.form_cells.get(key, (0, 0)))
        number = self.header_row if row is None else row.number
        index = self.columns.get(key)
        if index is None:
            index = min(self.columns.values(), default=0)
        return address(number, index)


@dataclass(slots=True)
class Book:
    """A workbook as typed tables, with what reading it found."""

    path: str
    tables: dict[str, Table]
    findings: list[Finding] = field(default_factory=list)
    sheets_not_read: list[str] = field(default_factory=list)
    month_only: int = 0
    month_first_day: bool = False
    own: OwnSheets | None = None  # what a living workbook shows in the sheets that it calculates itself

    def rows(self, key: str) -> list[Row]:
        """Rows of a sheet; none when the book has no such sheet."""
        table = self.tables.get(key)
        return table.rows if table else []

    def ship_value(self, key: str) -> Any:
        """One answer of the Ship sheet, or None."""
        rows = self.rows("ship")
        return rows[0].get(key) if rows else None
