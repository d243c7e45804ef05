"""Writes the workbook: one sheet for each of the contract's, with headings, drop-downs and help. XlsxWriter."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from workbook_tools import __version__, catalogue
from workbook_tools.book.checklist import ChecklistLine, checklist
from workbook_tools.book.description import Description, Values
from workbook_tools.columns import CONTRACT, SHEETS, Column, Sheet
from workbook_tools.findings import CAUTION
from workbook_tools.rules.loader import lead_time_words

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
    "certificates": 40,
    "record_of_equipment": 30,
    "exemptions": 60,
}
TITLE_ROW, HELP_ROW, HEADING_ROW, FIRST_ROW = 0, 1, 2, 3
# Characters across an A4 page in landscape that still print large enough to read.
_PAGE_CHARACTERS = 210
_INK, _FILLED, _OPTIONAL, _PAPER = "#1B2A41", "#1F4E79", "#DCE6F1", "#FFFFFF"

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


def build(
    ship: str,
    description: Description | None = None,
    on: date | None = None,
    more_names: MoreNames | None = None,
) -> bytes:
    """A workbook to fill in, as the bytes of an .xlsx file; ship '' leaves the name to be filled in.

    With a description, Ship and Craft are filled and the Inventory lists what each craft must carry by the rules in
    force on a day (default: today). The same arguments give the same bytes.
    """
    import xlsxwriter

    description = description or Description()
    values: Values = {**description.ship, "name": ship or None}
    lines = checklist(Description(values, description.craft), on or date.today()) if description.craft else []
    memory = io.BytesIO()
    with xlsxwriter.Workbook(
        memory, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    ) as book:
        _Writer(book, ship, more_names).write(values, description.craft, lines)
    return memory.getvalue()


class _Writer:
    """Writes the sheets of one book."""

    def __init__(self, book: Any, ship: str, more_names: MoreNames | None) -> None:
        self.book = book
        self.ship = ship
        self.more_names = more_names
        base = {"font_name": "Calibri", "font_size": 11, "font_color": _INK, "valign": "vcenter"}
        add = book.add_format
        self.title = add({**base, "bold": True, "font_size": 16})
        self.help = add({**base, "italic": True, "font_color": "#44546A"})
        self.help_wrapped = add({**base, "italic": True, "font_color": "#44546A", "text_wrap": True})
        heading = {**base, "bold": True, "text_wrap": True, "border": 1, "border_color": "#8EA9C8", "valign": "top"}
        self.filled = add({**heading, "bg_color": _FILLED, "font_color": _PAPER})
        self.optional = add({**heading, "bg_color": _OPTIONAL})
        self.label = add({**base, "border": 1, "border_color": "#8EA9C8", "bg_color": _OPTIONAL})
        self.label_filled = add(
            {**base, "bold": True, "border": 1, "border_color": "#8EA9C8", "bg_color": _FILLED, "font_color": _PAPER}
        )
        boxed = {**base, "border": 1, "border_color": "#8EA9C8", "align": "left"}
        self.value = add(boxed)
        self.value_date = add({**boxed, "num_format": "yyyy-mm-dd"})
        self.value_count = add({**boxed, "num_format": "#,##0.##"})
        self.text = add({**base, "num_format": "@"})
        self.plain = add(base)
        self.date = add({**base, "num_format": "yyyy-mm-dd", "align": "left"})
        self.number = add({**base, "num_format": "#,##0.##"})
        self.wrapped = add({**base, "text_wrap": True, "valign": "top"})
        self.bold = add({**base, "bold": True, "valign": "top"})
        self.lists: dict[str, str] = {}

    def write(self, ship: Values, craft: list[Values], lines: list[ChecklistLine]) -> None:
        """Write every sheet."""
        self.book.set_properties(
            {
                "title": f"Life-saving appliances of {self.ship or 'a ship'}",
                "subject": "Record of life-saving and fire-fighting appliances",
                "comments": CAUTION,
                "created": datetime(2026, 1, 1),
            }
        )
        self.book.set_custom_property("davitbook contract", CONTRACT)
        self.book.set_custom_property("davitbook version", __version__)
        notes = self.book.add_worksheet("Notes")
        sheets = {entry.key: self.book.add_worksheet(entry.name) for entry in SHEETS}
        lists = self.book.add_worksheet("Lists")
        self._lists(lists)
        lists.hide()
        self._notes(notes)
        rows: dict[str, list[Values]] = {
            "craft": craft,
            "inventory": [
                {
                    "place": line.place,
                    "item": line.item,
                    "asked": line.asked,
                    "unit": line.unit,
                    "remarks": line.remarks,
                }
                for line in lines
            ],
        }
        for entry in SHEETS:
            if entry.layout == "form":
                self._form(sheets[entry.key], entry, ship)
            else:
                self._table(sheets[entry.key], entry, rows.get(entry.key, []))
        sheets["ship"].activate()
        sheets["ship"].set_first_sheet()

    def _page(self, page: Any, landscape: bool, pages_wide: int = 1) -> None:
        page.set_paper(9)  # A4
        if landscape:
            page.set_landscape()
        page.fit_to_pages(pages_wide, 0)
        page.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.7)
        page.set_footer("&L" + self.ship.replace("&", "&&") + "&C&A&RPage &P of &N")
        page.hide_gridlines(1)

    def _lists(self, page: Any) -> None:
        """The drop-down lists, each a column with a defined name."""
        columns = {f"{entry.key}_{column.key}": column for entry in SHEETS for column in entry.columns}
        entries = {name: column.choices for name, column in columns.items() if column.choices}
        entries["items"] = tuple(catalogue.items())
        page.write(TITLE_ROW, 0, "Lists for the drop-downs: nothing to fill in here", self.title)
        index = 0
        by_choices: dict[tuple[str, ...], str] = {}
        for name, choices in entries.items():
            if choices in by_choices:
                self.lists[name] = by_choices[choices]
                continue
            defined = f"list_{name}"
            page.write(HEADING_ROW, index, name.replace("_", " "), self.optional)
            page.write_column(FIRST_ROW, index, choices, self.plain)
            page.set_column(index, index, max(12, *(len(choice) for choice in choices)) + 2)
            letters = _letters(index)
            last = FIRST_ROW + len(choices)
            self.book.define_name(defined, f"=Lists!${letters}${FIRST_ROW + 1}:${letters}${last}")
            self.lists[name] = by_choices[choices] = defined
            index += 1
        last = FIRST_ROW + ROOM["craft"]
        self.book.define_name("list_craft_names", f"=Craft!$A${FIRST_ROW + 1}:$A${last}")
        if self.more_names is not None:
            self.more_names(self.book, page, HEADING_ROW, index, self.optional)
        self._page(page, landscape=True)

    def _form(self, page: Any, contract: Sheet, values: Values) -> None:
        page.set_column(0, 0, 26)
        page.set_column(1, 1, 34)
        page.set_column(2, 2, 70)
        page.write(TITLE_ROW, 0, contract.name, self.title)
        page.write(HELP_ROW, 0, f"{contract.help} A star: must be filled.", self.help)
        for row, column in enumerate(contract.columns, start=FIRST_ROW):
            page.write(row, 0, column.title, self.label_filled if column.required else self.label)
            cell_format = {"date": self.value_date, "number": self.value_count}.get(column.kind, self.value)
            self._cell(page, row, 1, values.get(column.key), cell_format)
            page.write(row, 2, column.help, self.help_wrapped)
            page.set_row(row, _row_height(column.help, 76))
            self._validation(page, contract, column, row, row, 1)
        self._page(page, landscape=False)

    def _table(self, page: Any, contract: Sheet, rows: list[Values]) -> None:
        page.write(TITLE_ROW, 0, contract.name, self.title)
        page.write(HELP_ROW, 0, f"{contract.help} A star: must be filled. Click a cell for help.", self.help)
        last = FIRST_ROW + max(ROOM[contract.key], len(rows)) - 1
        page.set_row(HEADING_ROW, 48)
        for index, column in enumerate(contract.columns):
            formats = {"date": self.date, "expiry": self.date, "made": self.date, "number": self.number}
            cell_format = formats.get(column.kind, self.number if column.kind == "content" else self.plain)
            if column.key == "remarks":
                cell_format = self.wrapped
            page.set_column(index, index, column.width, cell_format)
            page.write(HEADING_ROW, index, column.title, self.filled if column.required else self.optional)
            self._validation(page, contract, column, FIRST_ROW, last, index)
            for row, entry in enumerate(rows, start=FIRST_ROW):
                self._cell(page, row, index, entry.get(column.key), cell_format)
        page.autofilter(HEADING_ROW, 0, last, len(contract.columns) - 1)
        page.freeze_panes(FIRST_ROW, 2 if contract.key == "inventory" else 1)
        for row, entry in enumerate(rows, start=FIRST_ROW):
            page.set_row(row, _row_height(str(entry.get("remarks") or ""), 42))
        page.repeat_rows(HEADING_ROW)
        page.repeat_columns(0)
        width = sum(column.width for column in contract.columns)
        self._page(page, landscape=True, pages_wide=max(1, round(width / _PAGE_CHARACTERS)))

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

    def _notes(self, page: Any) -> None:
        page.set_column(0, 0, 24)
        page.set_column(1, 1, 92)
        page.write(TITLE_ROW, 0, "Notes", self.title)
        for row, (label, text) in enumerate(_notes(), start=FIRST_ROW):
            page.write(row, 0, label, self.bold)
            page.write(row, 1, text, self.wrapped)
            page.set_row(row, _row_height(text, 88))
        self._page(page, landscape=False)


def _row_height(text: str, characters: int) -> float:
    """Height in points of a row whose wrapped text has so many characters to a line."""
    return 15.5 * max(1, -(-len(text) // characters))


def _letters(index: int) -> str:
    from workbook_tools.reading.address import column_letters

    return column_letters(index)


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


def _notes() -> list[tuple[str, str]]:
    leads = lead_time_words()
    return [
        (
            "How to fill in",
            "Ship first, then Craft, then the others. Headings with a star must be filled; the rest helps.",
        ),
        ("Inventory", "One line for each lot: the same item with the same date in one place. Count what is there."),
        ("What counts", "Only what is in date and whose condition is empty, 'in use' or 'spare'."),
        ("Liferafts", "A raft is sealed: its service certificate and earliest dated content show what is inside."),
        ("Remote raft", "A raft with purpose 'remote' never counts towards the places for persons."),
        ("Month and year", "An expiry given as month and year is read as the last day of that month (an assumption)."),
        ("Lead times", f"Days before its date at which a thing is called due: {leads}."),
        ("Not recorded", "What is left empty is 'not evaluated', never a fault."),
        ("Exemptions", "A waiver counts with the authority's reference and its last day."),
        (
            "Pyrotechnics",
            "Expired flares are not for testing: keep them apart, marked 'awaiting landing', until landed.",
        ),
        (
            "Release gear",
            "Hooks, falls and releases are worked on only by those certified for them, by the maker's manual.",
        ),
        (
            "Audit",
            "davitbook check names each cell to mend, the paragraph and the remedy. It never writes to this file.",
        ),
        ("Who decides", CAUTION),
        ("This book", f"Contract {CONTRACT}; sheets may be re-ordered, columns moved, columns of your own added."),
    ]
