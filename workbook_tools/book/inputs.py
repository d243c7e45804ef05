"""The sheets that are filled in: headings, drop-downs, help, and the lists behind the drop-downs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime
from typing import Any

from workbook_tools import catalogue
from workbook_tools.book.description import Values
from workbook_tools.book.formats import PAGE_CHARACTERS, Formats, row_height, set_up_page
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.reading.address import column_letters

# Rows that are ready to be filled: validations and formats reach so far.
ROOM = {
    "craft": 40,
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
TITLE_ROW, HELP_ROW, HEADING_ROW, FIRST_ROW = 0, 1, 2, 3

# Columns that name a craft: their drop-down shows the names of the Craft sheet, and other words are accepted.
_CRAFT_NAMES = {
    ("crew", "craft"),
    ("inventory", "place"),
    ("servicing", "appliance"),
    ("routine", "subject"),
    ("defects", "subject"),
    ("exemptions", "subject"),
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
        last = FIRST_ROW + self.room["craft"]
        self.book.define_name("list_craft_names", f"=Craft!$A${FIRST_ROW + 1}:$A${last}")
        if self.more_names is not None:
            self.more_names(self.book, page, HEADING_ROW, index, self.formats.optional)
        set_up_page(page, self.ship, landscape=True)

    def form(self, page: Any, contract: Sheet, values: Values) -> None:
        """Write a form: a label, the answer, and help beside it."""
        formats = self.formats
        page.set_column(0, 0, 26)
        page.set_column(1, 1, 34)
        page.set_column(2, 2, 70)
        page.write(TITLE_ROW, 0, contract.name, formats.title)
        page.write(HELP_ROW, 0, f"{contract.help} A star: must be filled.", formats.help)
        for row, column in enumerate(contract.columns, start=FIRST_ROW):
            page.write(row, 0, column.title, formats.label_filled if column.required else formats.label)
            cell_format = {"date": formats.value_date, "number": formats.value_count}.get(column.kind, formats.value)
            self._cell(page, row, 1, values.get(column.key), cell_format)
            page.write(row, 2, column.help, formats.help_wrapped)
            page.set_row(row, row_height(column.help, 76))
            self._validation(page, contract, column, row, row, 1)
        set_up_page(page, self.ship, landscape=False)

    def table(self, page: Any, contract: Sheet, rows: Sequence[Values]) -> None:
        """Write a table: headings, the rows given, and room for more."""
        formats = self.formats
        page.write(TITLE_ROW, 0, contract.name, formats.title)
        page.write(HELP_ROW, 0, f"{contract.help} A star: must be filled. Click a cell for help.", formats.help)
        last = FIRST_ROW + max(self.room[contract.key], len(rows)) - 1
        page.set_row(HEADING_ROW, 48)
        for index, column in enumerate(contract.columns):
            cell_format = getattr(formats, _FORMAT_OF_KIND.get(column.kind, "plain"))
            if column.key == "remarks":
                cell_format = formats.wrapped
            page.set_column(index, index, column.width, cell_format)
            page.write(HEADING_ROW, index, column.title, formats.filled if column.required else formats.optional)
            self._validation(page, contract, column, FIRST_ROW, last, index)
            for row, entry in enumerate(rows, start=FIRST_ROW):
                self._cell(page, row, index, entry.get(column.key), cell_format)
        page.autofilter(HEADING_ROW, 0, last, len(contract.columns) - 1)
        page.freeze_panes(FIRST_ROW, 2 if contract.key == "inventory" else 1)
        for row, entry in enumerate(rows, start=FIRST_ROW):
            page.set_row(row, row_height(str(entry.get("remarks") or ""), 42))
        page.repeat_rows(HEADING_ROW)
        page.repeat_columns(0)
        width = sum(column.width for column in contract.columns)
        set_up_page(page, self.ship, landscape=True, pages_wide=max(1, round(width / PAGE_CHARACTERS)))

    @staticmethod
    def _cell(page: Any, row: int, index: int, value: Any, cell_format: Any) -> None:
        if value is None:
            page.write_blank(row, index, None, cell_format)
        elif isinstance(value, date):
            page.write_datetime(row, index, datetime(value.year, value.month, value.day), cell_format)
        else:
            page.write(row, index, value, cell_format)

    def _validation(self, page: Any, contract: Sheet, column: Column, first: int, last: int, index: int) -> None:
        rule = _validation_rule(contract, column, self.lists)
        rule["input_title"] = column.heading[:32]
        rule["input_message"] = _input_message(column)
        page.data_validation(first, index, last, index, rule)


def _input_message(column: Column) -> str:
    text = column.help
    if column.kind == "expiry":
        text += " Where only a month is marked, type its last day: a spreadsheet turns 03/2027 into 1 March."
    if column.kind in ("date", "made"):
        text += " Type it as 2026-11-25."
    return text[:255]


def _validation_rule(contract: Sheet, column: Column, lists: dict[str, str]) -> dict[str, Any]:
    """What a cell accepts, and what it says when it refuses."""
    if (contract.key, column.key) in _CRAFT_NAMES:
        return {
            "validate": "list",
            "source": "=list_craft_names",
            "error_type": "information",
            "error_title": "Not on the Craft sheet",
            "error_message": "No craft of this name stands on the Craft sheet. A place on board may stand here too.",
        }
    if column.kind == "item":
        return {
            "validate": "list",
            "source": "=list_items",
            "error_type": "information",
            "error_title": "Not in the list of items",
            "error_message": "Other names are read too, as far as they are known. The list has the trade names.",
        }
    if column.kind == "unit":
        return {
            "validate": "list",
            "source": f"={lists[f'{contract.key}_{column.key}']}",
            "error_title": "Unknown unit",
            "error_message": "Choose a unit from the list.",
        }
    if column.choices:
        return {
            "validate": "list",
            "source": f"={lists[f'{contract.key}_{column.key}']}",
            "error_title": "Not in the list",
            "error_message": "Choose one of the words in the list, so that the rules can be applied.",
        }
    if column.kind in ("number", "whole"):
        return _number_rule(column)
    if column.kind == "date":
        return {
            "validate": "date",
            "criteria": "between",
            "minimum": date(1950, 1, 1),
            "maximum": date(2100, 12, 31),
            "error_title": "Not a date",
            "error_message": "Type the date as 2026-11-25.",
        }
    return {"validate": "any"}


def _number_rule(column: Column) -> dict[str, Any]:
    kind = "integer" if column.kind == "whole" else "decimal"
    least = column.minimum if column.minimum is not None else column.above or 0
    most = column.maximum if column.maximum is not None else 1_000_000
    return {
        "validate": kind,
        "criteria": "between",
        "minimum": int(least) if kind == "integer" else least,
        "maximum": int(most) if kind == "integer" else most,
        "error_title": "Not a number that fits",
        "error_message": f"Type a number{' above' if column.above is not None else ' from'} {least:g} to {most:,.0f}, "
        "without words.",
    }
