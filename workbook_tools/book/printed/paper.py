"""What every printed page has: its formats, the ship and the day at its head, the caution, A4 set-up, fixed pages."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from workbook_tools.book.calculated.grid import resolve
from workbook_tools.book.calculated.words import day_text, iso
from workbook_tools.book.calculated.writer import CalculatedBook, cell
from workbook_tools.book.formats import ATTENTION, FILLED, INK, NOTICE, OPTIONAL, set_up_page
from workbook_tools.book.printed.flow import HEADING, SOON, WORST
from workbook_tools.book.printed.helper_sheet import own_names
from workbook_tools.core.caution import CAUTION

TITLE_ROW, SHIP_ROW = 0, 1
LINE_HEIGHT = 14.5  # points
SHEET_HEIGHT = 748  # points between the margins of an A4 sheet
_LETTERS_A_WIDTH = 0.95  # letters of our size to a column's width, where a wider font must stand in for ours
_GREY = "#8EA9C8"
_THOUSANDS = "[>=1000]#,##0;General"  # #,##0.## alone would leave a stop behind every whole number
_FONT = {"font_name": "Calibri", "font_size": 9.5, "font_color": INK, "valign": "vcenter"}


class PaperFormats:
    """The formats of the printed pages, made once a book."""

    def __init__(self, book: Any) -> None:
        add, boxed = book.add_format, {**_FONT, "border": 1, "border_color": _GREY}
        self.title = add({**_FONT, "bold": True, "font_size": 15})
        self.ship = add({**_FONT, "bold": True, "font_size": 11, "shrink": True})
        self.plain = add({**_FONT, "shrink": True})
        self.wrapped = add({**_FONT, "text_wrap": True, "valign": "top"})
        self.help = add({**_FONT, "italic": True, "font_color": "#44546A", "text_wrap": True, "valign": "top"})
        self.warning = add({**_FONT, "bold": True, "shrink": True})
        self.heading = add({**_FONT, "bold": True, "bg_color": OPTIONAL, "border": 1, "border_color": _GREY})
        self.wrapped_heading = add(
            {**_FONT, "bold": True, "bg_color": OPTIONAL, "border": 1, "border_color": _GREY, "text_wrap": True}
        )
        self.line = add({**boxed, "shrink": True})
        self.figure = add({**boxed, "shrink": True, "align": "right", "num_format": _THOUSANDS})
        self.amount = add({**boxed, "shrink": True, "num_format": _THOUSANDS})  # a figure, or words on the left
        self.unit = add({**boxed, "shrink": True, "align": "left", "indent": 1})
        self.mark = add({**_FONT, "bold": True, "align": "center"})
        self.box = add({**boxed, "align": "center"})
        self.blank = add({**boxed, "locked": False, "shrink": True})
        self.choice = add(
            {**_FONT, "bold": True, "locked": False, "shrink": True, "align": "left", "bg_color": NOTICE}
            | {"border": 2, "border_color": FILLED}
        )
        self.choice_label = add({**_FONT, "bold": True, "align": "right"})
        self.signature = add({**_FONT, "bottom": 1, "bottom_color": INK, "locked": False})
        self.of_heading = add({"bold": True, "bg_color": OPTIONAL})
        self.of_worst = add({"bold": True, "bg_color": ATTENTION})
        self.of_soon = add({"bg_color": NOTICE})


class Paper:
    """One printed page of the workbook: `widths` in characters, the first column for the mark before a line."""

    def __init__(self, calc: CalculatedBook, formats: PaperFormats, name: str, widths: Sequence[float]) -> None:
        self.calc, self.formats, self.name = calc, formats, name
        self.page = calc.sheet(name)
        self.last_column = len(widths) - 1
        self._characters = sum(widths) * _LETTERS_A_WIDTH
        for column, width in enumerate(widths):
            self.page.set_column(column, column, width, formats.plain)

    def head(self, title: str) -> None:
        """Title, ship's name, IMO number, the day asked and that of the record, repeated on every sheet of paper."""
        page, calc = self.page, self.calc
        page.set_row(TITLE_ROW, 22)
        page.write(TITLE_ROW, 0, title, self.formats.title)
        self.formula_across(
            SHIP_ROW,
            0,
            self.last_column,
            'IF({ship.name}="","Ship without a name",TRIM({ship.name}&""))&IF({ship.imo_number}="","",'
            '", IMO "&TRIM(SUBSTITUTE(UPPER({ship.imo_number}&""),"IMO","")))&", for "&'
            + iso("[date asked]")
            + '&IF({ship.record_date}="",", no record date",", by the record of "&'
            + day_text("{ship.record_date}")
            + ")",
            self.formats.ship,
        )
        page.repeat_rows(TITLE_ROW, SHIP_ROW)
        page.freeze_panes(SHIP_ROW + 1, 0)
        set_up_page(page, calc.ship, landscape=False)

    def choose(self, row: int, column: int, label: str, rule: dict[str, Any], label_column: int | None = None) -> str:
        """A cell to choose in, with its label before it; the place of the cell."""
        self.page.write(row, column - 1 if label_column is None else label_column, label, self.formats.choice_label)
        self.page.write_blank(row, column, None, self.formats.choice)
        self.page.data_validation(row, column, row, column, rule)
        return cell(self.name, row, column)

    def choose_across(self, row: int, first: int, last: int, label: str, rule: dict[str, Any]) -> str:
        """A wider cell to choose in; the place of the cell."""
        self.page.merge_range(row, first, row, last, None, self.formats.choice)
        return self.choose(row, first, label, rule)

    def write(self, row: int, column: int, words: str, cell_format: Any = None) -> None:
        """Fixed words in one cell."""
        self.page.write_string(row, column, words, cell_format or self.formats.plain)

    def across(self, row: int, first: int, last: int, words: str, cell_format: Any = None) -> None:
        """Fixed words over most of the page, in a row that is high enough for them."""
        self.page.merge_range(row, first, row, last, words, cell_format or self.formats.wrapped)
        self.page.set_row(row, self.height(words))

    def height(self, words: str) -> float:
        """Points that words take over the whole width of the page."""
        return LINE_HEIGHT * max(1, math.ceil(len(words) / self._characters))

    def formula(self, row: int, column: int, formula: str, cell_format: Any = None) -> None:
        """A formula in one cell, its names replaced by places."""
        self.calc.formula(
            self.page, row, column, resolve(self.calc, own_names(self.calc, formula)), cell_format or self.formats.plain
        )

    def formula_across(self, row: int, first: int, last: int, formula: str, cell_format: Any = None) -> None:
        """A formula over several columns."""
        cell_format = cell_format or self.formats.plain
        self.page.merge_range(row, first, row, last, "", cell_format)
        self.formula(row, first, formula, cell_format)

    def flow(
        self,
        name: str,
        first_row: int,
        rows: int,
        columns: int,
        after: int = 0,
        blanks: Sequence[Any] = (),
        looks: Mapping[int, Any] | None = None,
    ) -> None:
        """The lines of a flow: mark, the columns, and blank cells to write in.

        after: lines of the flow that stand above these already. blanks: format of each cell to write in. looks: formats
        of columns that are not plain lines.
        """
        looks = looks or {}
        for number in range(1, rows + 1):
            row, place = first_row + number - 1, f"INDEX([{name}.place],{after + number})"
            self.page.set_row(row, LINE_HEIGHT)
            self.formula(row, 0, f'IF({place}="","",INDEX([{name}.mark],{place}))', self.formats.mark)
            for column in range(1, columns + 1):
                self.formula(
                    row,
                    column,
                    f'IF({place}="","",INDEX([{name}.c{column}],{place}))',
                    looks.get(column, self.formats.line),
                )
            for column, cell_format in enumerate(blanks, start=columns + 1):
                self.page.write_blank(row, column, None, cell_format)
        formats = self.formats
        for mark, cell_format in ((HEADING, formats.of_heading), (WORST, formats.of_worst), (SOON, formats.of_soon)):
            self.page.conditional_format(
                first_row,
                0,
                first_row + rows - 1,
                self.last_column if mark == HEADING else columns,
                {"type": "formula", "criteria": f'=$A{first_row + 1}="{mark}"', "format": cell_format},
            )

    def headings(self, row: int, words: Sequence[str], lines: int = 1) -> None:
        """The heading row of a list, of so many lines of text; it stands above the list on each sheet of paper."""
        for column, heading in enumerate(words, start=1):
            self.write(row, column, heading, self.formats.heading if lines == 1 else self.formats.wrapped_heading)
        self.page.set_row(row, lines * LINE_HEIGHT)

    def finish(self, last_row: int, breaks: Sequence[int], more_cautions: Sequence[str] = ()) -> None:
        """The cautions in the last rows, the print area to them, the pages' ends, and protection.

        breaks: rows that begin a new sheet of paper. A program that ignores them where a page is fitted to the paper's
        width breaks at the same rows, as long as the rows before fill SHEET_HEIGHT, nearly.
        """
        for offset, words in enumerate((*more_cautions, CAUTION)):
            self.across(last_row + offset, 0, self.last_column, words, self.formats.help)
        self.page.print_area(0, 0, last_row + len(more_cautions), self.last_column)
        self.page.fit_to_pages(1, 0)
        self.page.set_h_pagebreaks(list(breaks))
        self.page.center_horizontally()
        self.calc.protect(self.page)


def craft_choice() -> dict[str, Any]:
    """The drop-down of the crafts' names."""
    return {
        "validate": "list",
        "source": "=list_craft_names",
        "ignore_blank": True,
        "input_title": "Which craft",
        "input_message": "Choose the craft, print, choose the next: one print for each craft. Empty: the first craft "
        "of the Craft sheet.",
        "error_title": "No such craft",
        "error_message": "Choose a name from the list: the names of the Craft sheet.",
    }


def part_choice() -> dict[str, Any]:
    """Which part of a long list."""
    return {
        "validate": "integer",
        "criteria": "between",
        "minimum": 1,
        "maximum": 99,
        "input_title": "Part",
        "input_message": "A list longer than these pages has several parts: print part 1, type 2 here, print again.",
        "error_title": "No such part",
        "error_message": "Type the number of the part: 1, 2, 3 ...",
    }
