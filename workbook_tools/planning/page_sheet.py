"""A page as a printable .xlsx: title, verdict and facts, then each table under its heading, on A4. XlsxWriter."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from typing import Any

from workbook_tools.reports.layout import Block, Page

_INK, _BLUE, _ORANGE, _PALE = "#1B2A41", "#0B3A66", "#8A3600", "#DCE6F1"
_NARROW, _WIDE = 11, 46
_ROW = 15.0  # points a line of text
_ACROSS = 128  # characters of a whole page


def as_xlsx(page: Page, sheet: str, more: Callable[[Any], None] | None = None) -> bytes:
    """The page as the bytes of an .xlsx file; every text is text, none becomes a formula.

    more: adds further sheets to the XlsxWriter workbook that it is given.
    """
    import xlsxwriter

    memory = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(memory, options) as book:
        _Sheet(book, book.add_worksheet(sheet), page).write()
        if more is not None:
            more(book)
    return memory.getvalue()


class _Sheet:
    """One sheet on which a page is written from the top down."""

    def __init__(self, book: Any, sheet: Any, page: Page) -> None:
        self.sheet, self.page, self.row = sheet, page, 0
        base = {"font_name": "Calibri", "font_size": 10, "font_color": _INK, "valign": "top", "text_wrap": True}
        self.title = book.add_format({**base, "bold": True, "font_size": 16, "font_color": _BLUE, "text_wrap": False})
        self.verdict = book.add_format({**base, "bold": True, "border": 1})
        self.block = book.add_format(
            {**base, "bold": True, "font_size": 11, "font_color": _BLUE, "bottom": 2, "bottom_color": _BLUE}
        )
        self.heading = book.add_format(
            {**base, "bold": True, "bg_color": _PALE, "border": 1, "border_color": "#8EA9C8"}
        )
        self.cell = book.add_format({**base, "border": 1, "border_color": "#B7C4D6"})
        self.urgent = book.add_format(
            {**base, "border": 1, "border_color": "#B7C4D6", "left": 5, "left_color": _ORANGE, "font_color": _ORANGE}
        )
        self.label = book.add_format({**base, "bold": True})
        self.text = book.add_format(base)
        self.widths = _widths(page.blocks)

    def write(self) -> None:
        """Write it all."""
        for index, width in enumerate(self.widths):
            self.sheet.set_column(index, index, width)
        self._across(self.page.title, self.title, 22)
        self._across(self.page.subtitle, self.label)
        self._across(self.page.verdict, self.verdict)
        for label, value in self.page.facts:
            self.sheet.write_string(self.row, 0, label, self.label)
            self._across(value, self.text, first=1)
        for block in self.page.blocks:
            self._block(block)
        for name in self.page.signatures:
            self.row += 1
            self._across(f"{name}: ______________________    date: ______________", self.text)
        for caution in self.page.cautions:
            self.row += 1
            self._across(caution, self.text)
        self._set_up()

    def _across(self, text: str, form: Any, height: float | None = None, first: int = 0) -> None:
        last = len(self.widths) - 1
        self.sheet.merge_range(self.row, first, self.row, last, "", form)
        self.sheet.write_string(self.row, first, text, form)
        self.sheet.set_row(self.row, height or _height(text, sum(self.widths[first:])))
        self.row += 1

    def _block(self, block: Block) -> None:
        self.row += 1
        self._across(block.heading, self.block)
        if not block.lines:
            self._across(block.nothing, self.text)
            return
        spans = _spans(len(block.columns), len(self.widths))
        self._cells(block.columns, spans, self.heading, self.heading)
        for line in block.lines:
            self._cells(line.cells, spans, self.urgent if line.mark == "urgent" else self.cell, self.cell)

    def _cells(self, cells: Sequence[str], spans: Sequence[tuple[int, int]], first_form: Any, form: Any) -> None:
        height = _ROW
        for number, (text, (first, last)) in enumerate(zip(cells, spans, strict=True)):
            chosen = form if number else first_form
            if last > first:
                self.sheet.merge_range(self.row, first, self.row, last, "", chosen)
            self.sheet.write_string(self.row, first, text, chosen)
            height = max(height, _height(text, sum(self.widths[first : last + 1])))
        self.sheet.set_row(self.row, height)
        self.row += 1

    def _set_up(self) -> None:
        self.sheet.set_paper(9)  # A4
        self.sheet.set_landscape()
        self.sheet.fit_to_pages(1, 0)
        self.sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
        self.sheet.hide_gridlines(2)
        self.sheet.set_footer(f"&L{self.page.subtitle.replace('&', '&&')[:120]}&RPage &P of &N")


def _widths(blocks: Sequence[Block]) -> list[float]:
    """Widths of the columns: the widest block's columns by their longest texts, drawn out to a whole page."""
    most = max(2, *(len(block.columns) for block in blocks))
    found = [float(_NARROW)] * most
    for block in blocks:
        spans = _spans(len(block.columns), most)
        for number, (first, last) in enumerate(spans):
            longest = max(len(block.columns[number]), *(len(line.cells[number]) for line in block.lines), 0)
            each = min(_WIDE, longest + 2) / (last - first + 1)
            for index in range(first, last + 1):
                found[index] = max(found[index], each)
    rest = _ACROSS - sum(found)
    if rest > 0:
        found[-1] += rest
    else:  # narrower columns and more lines rather than print too small to read
        spare = sum(found) - _NARROW * most
        share = max(0.0, _ACROSS - _NARROW * most) / spare if spare else 0.0
        found = [_NARROW + (width - _NARROW) * share for width in found]
    return found


def _spans(columns: int, most: int) -> list[tuple[int, int]]:
    """The first and last column of each cell where a block has fewer columns: its last cell takes the rest."""
    return [(index, index) for index in range(columns - 1)] + [(columns - 1, most - 1)]


def _height(text: str, width: float) -> float:
    return _ROW * max(1, -(-int(len(text) * 0.95) // max(1, int(width))))
