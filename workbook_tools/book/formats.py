"""Fonts, colours and page set-up that every sheet of the workbook shares."""

from __future__ import annotations

from typing import Any

INK, FILLED, OPTIONAL, PAPER = "#1B2A41", "#1F4E79", "#DCE6F1", "#FFFFFF"
# Blue and orange, told apart by the colour-blind and in grey print; a word or symbol always stands beside them.
ATTENTION, NOTICE, GOOD, QUIET = "#F4B183", "#FFE2C2", "#CFE2F3", "#EDEDED"
# Characters across an A4 page in landscape that still print large enough to read.
PAGE_CHARACTERS = 260


class Formats:
    """The cell formats of one workbook, made once."""

    def __init__(self, book: Any) -> None:
        base = {"font_name": "Calibri", "font_size": 11, "font_color": INK, "valign": "vcenter"}
        add = book.add_format
        self.title = add({**base, "bold": True, "font_size": 16})
        self.help = add({**base, "italic": True, "font_color": "#44546A"})
        self.help_wrapped = add({**base, "italic": True, "font_color": "#44546A", "text_wrap": True})
        heading = {**base, "bold": True, "text_wrap": True, "border": 1, "border_color": "#8EA9C8", "valign": "top"}
        self.filled = add({**heading, "bg_color": FILLED, "font_color": PAPER})
        self.optional = add({**heading, "bg_color": OPTIONAL})
        self.label = add({**base, "border": 1, "border_color": "#8EA9C8", "bg_color": OPTIONAL})
        self.label_filled = add(
            {**base, "bold": True, "border": 1, "border_color": "#8EA9C8", "bg_color": FILLED, "font_color": PAPER}
        )
        boxed = {**base, "border": 1, "border_color": "#8EA9C8", "align": "left"}
        self.value = add(boxed)
        self.value_date = add({**boxed, "num_format": "yyyy-mm-dd"})
        # General: with #,##0.## Excel shows a stop behind every whole number
        self.value_count = add({**boxed, "num_format": "General"})
        self.text = add({**base, "num_format": "@"})
        self.plain = add(base)
        self.date = add({**base, "num_format": "yyyy-mm-dd", "align": "left"})
        self.number = add({**base, "num_format": "General", "align": "right", "indent": 1})
        self.boxed_wrapped = add({**boxed, "text_wrap": True, "valign": "top"})
        self.open_date = add({**boxed, "num_format": "yyyy-mm-dd", "locked": False, "bg_color": "#FFFFE0"})
        self.verdict = add({**boxed, "bold": True, "font_size": 14, "text_wrap": True})
        self.heading = add({**base, "bold": True, "font_size": 13})
        self.attention = add({"bg_color": ATTENTION, "bold": True})
        self.notice = add({"bg_color": NOTICE})
        self.unseen = add({"num_format": ";;;"})
        self.wrapped = add({**base, "text_wrap": True, "valign": "top"})
        self.wrapped_middle = add({**base, "text_wrap": True})
        self.bold = add({**base, "bold": True, "valign": "top"})
        self.section = add({**base, "bold": True, "bottom": 1, "bottom_color": FILLED, "font_color": FILLED})


def set_up_page(page: Any, ship: str, landscape: bool, pages_wide: int = 1) -> None:
    """A4 with margins, the ship at the foot, page numbers, and no grid on the screen."""
    page.set_paper(9)  # A4
    if landscape:
        page.set_landscape()
    page.fit_to_pages(pages_wide, 0)
    page.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.7)
    page.set_footer("&L" + ship.replace("&", "&&") + "&C&A&RPage &P of &N")
    page.hide_gridlines(1)


def row_height(text: str, characters: int) -> float:
    """Height in points of a row whose wrapped text has so many characters to a line."""
    return 15.5 * max(1, -(-len(text) // characters))
