"""The sheets that are filled in: headings, drop-downs, help, and the lists behind the drop-downs."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from typing import Any

from workbook_tools import catalogue
from workbook_tools.book.description import Values
from workbook_tools.book.formats import PAGE_CHARACTERS, Formats, row_height, set_up_page
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW, HELP_ROW, TITLE_ROW
from workbook_tools.book.marks import LEGEND, needed_width
from workbook_tools.book.validations import validation
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.reading.address import column_letters

# Rows that are ready to be filled: validations and formats reach so far.
ROOM = {
    "craft": 30,
    "crew": 300,
    "inventory": 2000,
    "servicing": 200,
    "routine": 1000,
    "fire": 300,
    "defects": 100,
    "follow_up": 100,
    "ports": 60,
    "certificates": 40,
    "record_of_equipment": 30,
    "exemptions": 60,
}

# Writes more names into a book, and their data onto its sheet of lists: book, sheet, row and column of the first
# heading (counted from 0), format of the headings.
MoreNames = Callable[[Any, Any, int, int, Any], None]


# How the cells of a kind of column are formatted; every other kind is plain.
_FORMAT_OF_KIND = {"date": "date", "expiry": "date", "made": "date", "number": "number", "content": "number"}


class InputSheets:
    """Writes the sheets that are filled in, and the hidden sheet of lists for their drop-downs.

    room: rows made ready for each sheet, by its key; what is not named has the usual room.
    """

    def __init__(
        self, book: Any, formats: Formats, ship: str, more_names: MoreNames | None, room: dict[str, int] | None = None
    ) -> None:
        self.book = book
        self.formats = formats
        self.ship = ship
        self.more_names = more_names
        self.room = {**ROOM, **(room or {})}
        self.lists: dict[str, str] = {}
        self._title = ""

    def lists_sheet(self, page: Any) -> None:
        """The drop-down lists, each a column with a defined name."""
        columns = {f"{entry.key}_{column.key}": column for entry in SHEETS for column in entry.columns}
        entries = {name: column.choices for name, column in columns.items() if column.choices}
        entries["items"] = tuple(catalogue.items())
        page.write(TITLE_ROW, 0, "Lists for the drop-downs: nothing to fill in here", self.formats.title)
        index = 0
        by_choices: dict[tuple[str, ...], str] = {}
        for name, choices in entries.items():
            if choices in by_choices:
                self.lists[name] = by_choices[choices]
                continue
            defined = f"list_{name}"
            page.write(HEADING_ROW, index, name.replace("_", " "), self.formats.optional)
            page.write_column(FIRST_ROW, index, choices, self.formats.plain)
            page.set_column(index, index, max(12, *(len(choice) for choice in choices)) + 2)
            letters = column_letters(index)
            last = FIRST_ROW + len(choices)
            self.book.define_name(defined, f"=Lists!${letters}${FIRST_ROW + 1}:${letters}${last}")
            self.lists[name] = by_choices[choices] = defined
            index += 1
        self.book.define_name("list_craft_names", f"=Craft!$A${FIRST_ROW + 1}:$A${last_row(self.room, 'craft') + 1}")
        if self.more_names is not None:
            self.more_names(self.book, page, HEADING_ROW, index, self.formats.optional)
        set_up_page(page, self.ship, landscape=True)

    def form(self, page: Any, contract: Sheet, values: Values) -> None:
        """Write a form: a label, the answer, and help beside it."""
        formats = self.formats
        page.set_column(0, 0, 27)
        page.set_column(1, 1, 28)
        page.set_column(2, 2, 64)
        page.write(TITLE_ROW, 0, contract.name, formats.title)
        page.write(HELP_ROW, 0, f"{contract.help} A star: must be filled. {LEGEND}", formats.help)
        for row, column in enumerate(contract.columns, start=FIRST_ROW):
            page.write(row, 0, column.title, formats.label_filled if column.required else formats.label)
            cell_format = {"date": formats.value_date, "number": formats.value_count}.get(column.kind, formats.value)
            self._cell(page, row, 1, values.get(column.key), cell_format)
            page.write(row, 2, column.help, formats.help_wrapped)
            page.set_row(row, row_height(column.help, 68))
            self._validation(page, contract, column, row, row, 1)
        page.freeze_panes(FIRST_ROW, 1)
        page.repeat_rows(TITLE_ROW, HELP_ROW)
        self._name_answers(contract)
        self._title = _title(values)
        set_up_page(page, self.ship, landscape=False)

    def _name_answers(self, contract: Sheet) -> None:
        """Names for the answers that the head of every page shows."""
        rows = {column.key: FIRST_ROW + number for number, column in enumerate(contract.columns, start=1)}
        for name, key in (("ship_name", "name"), ("record_date", "record_date")):
            self.book.define_name(name, f"={contract.name}!$B${rows[key]}")

    def table(self, page: Any, contract: Sheet, rows: Sequence[Values]) -> None:
        """Write a table: headings, the rows given, and room for more.

        A real table: spreadsheet programs sort, filter and lengthen it as one, LibreOffice keeps it as a database
        range of the same name. It reaches over all the room, because LibreOffice lengthens none by itself.
        """
        formats = self.formats
        page.write_formula(TITLE_ROW, 0, _TITLE.format(sheet=contract.name), formats.title, contract.name + self._title)
        page.write(HELP_ROW, 0, f"{contract.help} A star: must be filled. {LEGEND}", formats.help)
        last = max(last_row(self.room, contract.key), FIRST_ROW + len(rows) - 1)
        page.set_row(HEADING_ROW, 48)
        page.add_table(HEADING_ROW, 0, last, len(contract.columns) - 1, self._table_options(contract))
        for index, column in enumerate(contract.columns):
            cell_format = self._column_format(column)
            page.set_column(index, index, needed_width(contract, column), cell_format)
            self._validation(page, contract, column, FIRST_ROW, last, index)
            for row, entry in enumerate(rows, start=FIRST_ROW):
                self._cell(page, row, index, entry.get(column.key), cell_format)
        page.freeze_panes(FIRST_ROW, 2 if contract.key == "inventory" else 1)
        for row, entry in enumerate(rows, start=FIRST_ROW):
            page.set_row(row, row_height(str(entry.get("remarks") or ""), 42))
        page.repeat_rows(TITLE_ROW, HEADING_ROW)
        page.repeat_columns(0)
        width = sum(needed_width(contract, column) for column in contract.columns)
        set_up_page(page, self.ship, landscape=True, pages_wide=math.ceil(width / PAGE_CHARACTERS))

    def _column_format(self, column: Column) -> Any:
        if column.key == "remarks":
            return self.formats.wrapped
        return getattr(self.formats, _FORMAT_OF_KIND.get(column.kind, "plain"))

    def _table_options(self, contract: Sheet) -> dict[str, Any]:
        formats = self.formats
        return {
            "name": table_name(contract.key),
            "style": None,
            "banded_rows": False,
            "columns": [
                {
                    "header": column.title,
                    "header_format": formats.filled if column.required else formats.optional,
                    "format": self._column_format(column),
                }
                for column in contract.columns
            ],
        }

    @staticmethod
    def _cell(page: Any, row: int, index: int, value: Any, cell_format: Any) -> None:
        if value is None:
            page.write_blank(row, index, None, cell_format)
        elif isinstance(value, date):
            page.write_datetime(row, index, datetime(value.year, value.month, value.day), cell_format)
        else:
            page.write(row, index, value, cell_format)

    def _validation(self, page: Any, contract: Sheet, column: Column, first: int, last: int, index: int) -> None:
        letters = column_letters(index)
        area = f"${letters}${first + 1}:${letters}${last + 1}"
        rule = validation(contract, column, self.lists, f"{letters}{first + 1}", area)
        page.data_validation(first, index, last, index, rule)


def last_row(room: Mapping[str, int], key: str) -> int:
    """The last row, counted from 0, that is ready to be filled on a sheet."""
    return FIRST_ROW + room[key] - 1


def table_name(key: str) -> str:
    """The name of a sheet's table in formulas: inventory_lines[Quantity *]."""
    return f"{key}_lines"


# The head of every page: sheet, ship and record date. The date is put together by hand: the letters that TEXT wants
# for a year differ from one language of the program to the next.
_TITLE = (
    '="{sheet}"&IF(ship_name="","","   "&ship_name)&IF(ISNUMBER(record_date),"   record of "&YEAR(record_date)&"-"'
    '&RIGHT("0"&MONTH(record_date),2)&"-"&RIGHT("0"&DAY(record_date),2),"")'
)


def _title(values: Values) -> str:
    """What _TITLE shows behind the sheet's name, for programs that never recalculate."""
    name, day = values.get("name"), values.get("record_date")
    shown = f"   {name}" if name else ""
    return shown + (f"   record of {day.isoformat()[:10]}" if isinstance(day, date) else "")
