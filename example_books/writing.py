"""Writes a plan as an .xlsx file that an officer can open and read: XlsxWriter, the same bytes each time."""

from __future__ import annotations

import io
from datetime import date, datetime
from typing import Any

import xlsxwriter

from example_books.living import LivingPlan, living_bytes
from example_books.plan import HEADINGS_AGAIN, Formula, Line, Plan
from workbook_tools.columns import Column, Sheet, sheet

_SAVED = datetime(2026, 11, 20, 8, 0)
_WIDEST, _REMARKS, _WIDE = 44, 48, 300
_LEAST, _OWN_WIDEST = 14, 120
_DAY_ZERO = date(1899, 12, 30)
_INK, _HEAD, _EDGE, _HELP = "#1B2A41", "#DCE6F1", "#8EA9C8", "#44546A"


def xlsx_bytes(plan: Plan) -> bytes:
    """The book as the bytes of an .xlsx file."""
    if isinstance(plan, LivingPlan):
        return living_bytes(plan)
    memory = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(memory, options) as book:
        _BookWriter(book, plan).write()
    return memory.getvalue()


class _BookWriter:
    def __init__(self, book: Any, plan: Plan) -> None:
        self.book, self.plan = book, plan
        base = {"font_name": "Calibri", "font_size": 11, "font_color": _INK, "valign": "vcenter"}
        boxed = {**base, "border": 1, "border_color": _EDGE}
        day = {"num_format": "yyyy-mm-dd", "align": "left"}
        self.title = book.add_format({**base, "bold": True, "font_size": 16})
        self.help = book.add_format({**base, "italic": True, "font_color": _HELP})
        self.heading = book.add_format({**boxed, "bold": True, "text_wrap": True, "bg_color": _HEAD, "valign": "top"})
        self.text = book.add_format({**base, "align": "left"})
        self.number = book.add_format({**base, "num_format": "General", "align": "right", "indent": 1})
        self.whole = book.add_format({**base, "num_format": "#,##0", "align": "right", "indent": 1})
        self.day = book.add_format({**base, **day})
        self.wrapped = book.add_format({**base, "text_wrap": True})
        self.answer = book.add_format({**boxed, "align": "left"})
        self.answer_day = book.add_format({**boxed, **day})

    def write(self) -> None:
        """Write every sheet, and one that says the ship is invented."""
        ship = self.plan.ship["name"]
        self.book.set_properties(
            {
                "title": f"Life-saving appliances of {ship}",
                "subject": "Example: the ship, her company and everybody on board are invented",
                "created": _SAVED,
            }
        )
        for key, name in self.plan.sheet_names().items():
            page = self.book.add_worksheet(name)
            contract = sheet(key)
            wide = False
            if contract.layout == "form":
                self._form(page, contract)
            else:
                wide = self._table(page, contract)
            self._page(page, ship, across=2 if wide else 1)
        for name, rows in self.plan.own_sheets.items():
            self._own(self.book.add_worksheet(name), rows)
        self._about()

    def _page(self, page: Any, ship: str, across: int = 1) -> None:
        page.set_paper(9)  # A4
        page.set_landscape()
        page.fit_to_pages(across, 0)
        page.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.7)
        page.set_footer(f"&L{ship}&C&A&RPage &P of &N")

    def _top(self, page: Any, contract: Sheet) -> int:
        """Write the lines above the headings; the first free row comes back."""
        lines = self.plan.layout.top_lines(contract)
        for row, text in enumerate(lines):
            page.write_string(row, 0, text, self.title if row == 0 else self.help)
        page.set_row(0, 24)
        return len(lines)

    def _form(self, page: Any, contract: Sheet) -> None:
        page.set_column(0, 0, 34)
        page.set_column(1, 1, 30)
        page.set_column(2, 2, 92)
        first = self._top(page, contract)
        help_texts = {column.key: column.help for column in contract.columns}
        for row, key in enumerate(self.plan.column_keys(contract), start=first):
            page.write_string(row, 0, self.plan.layout.heading(contract.key, key), self.heading)
            value = self.plan.ship.get(key)
            self._cell(page, row, 1, value, self.answer_day if isinstance(value, date) else self.answer)
            page.write_string(row, 2, help_texts.get(key, ""), self.wrapped)
            page.set_row(row, 15.5 * -(-len(help_texts.get(key, "")) // 104) or 15.5)

    def _table(self, page: Any, contract: Sheet) -> bool:
        """Write a table; whether it is too wide to be read on one page comes back."""
        layout = self.plan.layout
        keys = self.plan.column_keys(contract)
        headings = {key: layout.heading(contract.key, key) for key in keys}
        lines = self.plan.lines(contract.key)
        columns = {column.key: column for column in contract.columns}
        first = self._top(page, contract)
        page.set_row(first, 48)
        widths = {key: _width(columns.get(key), key, headings[key], lines) for key in keys}
        for index, key in enumerate(keys):
            page.write_string(first, index, headings[key], self.heading)
            page.set_column(index, index, widths[key])
        for row, line in enumerate(lines, start=first + 1):
            page.set_row(row, _height(headings if line is HEADINGS_AGAIN else line, widths))
            for index, key in enumerate(keys):
                if line is HEADINGS_AGAIN:
                    page.write_string(row, index, headings[key], self.heading)
                else:
                    self._cell(page, row, index, line.get(key), self._format(key, line.get(key)))
        page.autofilter(first, 0, first + max(1, len(lines)), len(keys) - 1)
        page.freeze_panes(first + 1, 1)
        page.repeat_rows(first)
        page.repeat_columns(0)
        return sum(widths.values()) > _WIDE

    def _format(self, key: str, value: Any) -> Any:
        if isinstance(value, date):
            return self.day
        if key == "made" and isinstance(value, int):  # a year: no mark for the thousands
            return self.number
        if isinstance(value, int | float | Formula):
            return self.whole if isinstance(value, int) else self.number
        return self.wrapped if key in ("remarks", "condition") else self.text

    @staticmethod
    def _cell(page: Any, row: int, index: int, value: Any, cell_format: Any) -> None:
        if value is None:
            page.write_blank(row, index, None, cell_format)
        elif isinstance(value, date):
            page.write_datetime(row, index, datetime(value.year, value.month, value.day), cell_format)
        elif isinstance(value, Formula):
            shows = (value.shows - _DAY_ZERO).days if isinstance(value.shows, date) else value.shows
            page.write_formula(row, index, value.text, cell_format, shows)
        elif isinstance(value, str):
            page.write_string(row, index, value, cell_format)
        else:
            page.write_number(row, index, value, cell_format)

    def _own(self, page: Any, rows: list[list[Any]]) -> None:
        for index, column in enumerate(zip(*rows, strict=True)):
            page.set_column(index, index, max(_LEAST, *(min(_OWN_WIDEST, len(_shown(cell)) + 2) for cell in column)))
        for row, cells in enumerate(rows):
            for index, value in enumerate(cells):
                self._cell(page, row, index, value, self._own_format(value) if row else self.heading)
        self._page(page, self.plan.ship["name"])

    def _own_format(self, value: Any) -> Any:
        shown = value.shows if isinstance(value, Formula) else value
        return self.day if isinstance(shown, date) else self.text

    def _about(self) -> None:
        page = self.book.add_worksheet("About this book")
        page.set_column(0, 0, 110)
        page.write_string(0, 0, f"{self.plan.ship['name']}: an example", self.title)
        page.set_row(0, 24)
        page.write_string(2, 0, self.plan.about, self.wrapped)
        page.set_row(2, 16 * (1 + len(self.plan.about) // 100))
        page.write_string(4, 0, "The ship, her company, her ports and everybody on board are invented.", self.wrapped)
        self._page(page, self.plan.ship["name"])


def _height(line: Line, widths: dict[str, float]) -> float:
    """High enough for the cell that is wrapped into most lines."""
    lines = max((-(-len(_shown(line.get(key))) // int(width)) for key, width in widths.items()), default=1)
    return 15.5 * max(1, lines)


def _width(column: Column | None, key: str, heading: str, lines: list[Line]) -> float:
    """Wide enough for the heading's longest word and every cell, up to a limit; remarks are wrapped."""
    least = max(column.width if column else 14, *(len(word) + 2 for word in heading.split()))
    if key == "remarks":
        return _REMARKS
    if key == "condition":
        return least
    longest = max((len(_shown(line.get(key))) for line in lines if line is not HEADINGS_AGAIN), default=0)
    return min(_WIDEST, max(least, longest + 3))


def _shown(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, Formula):
        return str(value.shows)
    if isinstance(value, int | float):
        return f"{value:,}   "
    return str(value)
