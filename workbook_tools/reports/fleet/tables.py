"""A sheet of a report: title, what it is, the caution, and a table that filters and prints. Every text is a text."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any

from workbook_tools.core.caution import CAUTION
from workbook_tools.reports.fleet.words import MARKS

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

MOST_ROWS = 1_048_576  # of a sheet, by the file format
MOST_LINKS = 65_530  # of a sheet: Excel refuses a file with more
LONGEST_TEXT = 32_767  # characters of a cell, by the file format
DEFAULT_FONT = {"font_name": "Arial", "font_size": 10}  # widths of columns are counted in its digits
HEADING_ROW = 4  # counted from 0: title, two lines of words and an empty one stand above

# Arial: where it is missing, every spreadsheet has a face of the same widths, so nothing is clipped.
_FONT = {"font_name": "Arial", "font_size": 9, "valign": "top"}
_LETTERS_A_UNIT = 1.2  # letters of that face in one unit of column width, words broken at spaces
_LINE_POINTS, _MOST_POINTS = 12.0, 409.0  # height of a line of text; the highest row that the file format knows
_DARK, _ORANGE, _BLUE = "#0B3A66", "#8A3600", "#15548A"

# Control characters, which no cell can hold as they are and none needs.
_CONTROLS = dict.fromkeys((*range(32), 127), " ")


def plain(text: str) -> str:
    """A text as a cell can hold it: control characters become spaces, and what is too long says that it was cut."""
    if len(text) < LONGEST_TEXT // 2 and text.isprintable():
        return text
    cleaned = text.translate(_CONTROLS)
    units = len(cleaned.encode("utf-16-le", "replace")) // 2
    if units <= LONGEST_TEXT:
        return cleaned.encode("utf-8", "replace").decode()
    return f"{cleaned[: LONGEST_TEXT // 2 - 20]} [... cut here]"


@dataclass(frozen=True, slots=True)
class Link:
    """A text that leads somewhere; target '' leaves the text alone."""

    text: str
    target: str


@dataclass(frozen=True, slots=True)
class Marked:
    """A number or text with a look of its own: the name of a look in Looks."""

    value: str | int
    look: str


Cell = str | int | date | Link | Marked | None


def graded(grade: str) -> Marked:
    """A grade with its sign before the word."""
    return Marked(f"{MARKS[grade]} {grade}".strip(), grade)


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, its width in characters, how its cells look."""

    heading: str
    width: float
    look: str = "text"
    upright: bool = False  # the heading stands on end, so that a column of counts stays narrow
    printed: bool = True  # columns that are not printed stand behind those that are


class Looks:
    """The formats of a report's cells, made once for a workbook."""

    def __init__(self, book: Workbook) -> None:
        def made(**more: Any) -> Format:
            return book.add_format({**_FONT, **more})

        edge = {"bottom": 1, "bottom_color": "#BBBBBB"}
        self.title = made(bold=True, font_size=15, font_color=_DARK)
        self.words = made(font_color="#333333", text_wrap=True)
        self.caution = made(italic=True, font_color="#333333", text_wrap=True)
        heading = {"bold": True, "font_color": "#FFFFFF", "bg_color": _DARK, "text_wrap": True, "border": 1}
        self.heading = made(**heading, border_color="#8EA9C8")
        self.upright = made(**heading, border_color="#8EA9C8", rotation=90, align="center")
        self.named: dict[str, Format] = {
            "text": made(text_wrap=True, **edge),
            "whole": made(**edge),
            "count": made(num_format="#,##0;-#,##0;–", align="center", **edge),
            "day": made(num_format="yyyy-mm-dd", align="left", **edge),
            "link": made(font_color="#0B4F8A", underline=1, text_wrap=True, **edge),
            "strong": made(bold=True, text_wrap=True, **edge),
            # The sign stands in the number's format: the cell stays a number, and says more than its colour.
            "urgent-count": made(num_format='"!! "#,##0', align="center", bold=True, font_color=_ORANGE, **edge),
            "action": made(bold=True, font_color=_ORANGE, bg_color="#FBE6D6", **edge),
            "due": made(bold=True, font_color=_BLUE, bg_color="#DFECF8", **edge),
            "query": made(font_color="#222222", bg_color="#EFEFEF", **edge),
            "note": made(font_color="#444444", **edge),
            "verdict-action": made(bold=True, font_color=_ORANGE, text_wrap=True, **edge),
        }


@dataclass(slots=True)
class Listing:
    """What a sheet says: words is one line under the title; nothing stands in the place of a table without lines."""

    name: str
    title: str
    words: str
    columns: Sequence[Column]
    nothing: str
    table_name: str
    frozen_columns: int = 0
    room: int = MOST_ROWS  # rows that a sheet can hold
    most_links: int = MOST_LINKS
    rows_below: int = 0  # rows that a picture under the table takes
    left_out: list[str] = field(default_factory=list)


def write_listing(
    book: Workbook, looks: Looks, listing: Listing, lines: Iterable[Sequence[Cell]], count: int, tables: bool
) -> Worksheet:
    """Write a sheet with so many lines. tables: a table of the spreadsheet's own; otherwise a filter over the heading.

    Lines that a sheet has no room for are left out; listing.left_out then says how many.
    """
    room = min(count, listing.room - HEADING_ROW - 1)
    if room < count:
        listing.left_out.append(
            f"Sheet {listing.name}: the last {count - room:,} of {count:,} lines are left out; a sheet ends at "
            f"{listing.room:,} rows."
        )
    sheet = book.add_worksheet(listing.name)
    _set_up(sheet, listing)
    last = len(listing.columns) - 1
    write_title(sheet, listing.title, looks)
    if (linked := _linked_lines(listing)) < room:
        listing.left_out.append(f"The first {linked:,} lines carry links.")
    printed = [column.width for column in listing.columns if column.printed]
    words = " ".join([listing.words, *listing.left_out])
    write_across(sheet, 1, (0, len(printed) - 1), words, sum(printed), looks.words)
    write_across(sheet, 2, (0, len(printed) - 1), CAUTION, sum(printed), looks.caution)
    tall = any(column.upright for column in listing.columns)
    sheet.set_row(HEADING_ROW, 96 if tall else 26)
    for index, column in enumerate(listing.columns):
        style = looks.upright if column.upright else looks.heading
        sheet.write_string(HEADING_ROW, index, column.heading, style)
    if not room:
        sheet.write_string(HEADING_ROW + 1, 0, listing.nothing, looks.named["whole"])
        return sheet
    writer = _Writer(sheet, looks, listing)
    for number, line in zip(range(room), lines, strict=False):
        writer.write(HEADING_ROW + 1 + number, line)
    end = HEADING_ROW + room
    if tables:
        headings = [
            {"header": column.heading, "header_format": looks.upright if column.upright else looks.heading}
            for column in listing.columns
        ]
        sheet.add_table(
            *(HEADING_ROW, 0, end, last),
            {"name": listing.table_name, "columns": headings, "style": "Table Style Light 1"},
        )
    else:
        sheet.autofilter(HEADING_ROW, 0, end, last)
    sheet.print_area(0, 0, end + listing.rows_below, len(printed) - 1)
    return sheet


def _linked_lines(listing: Listing) -> int:
    """How many lines have all their links."""
    columns = sum(column.look == "link" for column in listing.columns)
    return listing.most_links // columns if columns else listing.room


def _set_up(sheet: Worksheet, listing: Listing) -> None:
    for index, column in enumerate(listing.columns):
        sheet.set_column(index, index, column.width)
    sheet.freeze_panes(HEADING_ROW + 1, listing.frozen_columns)
    sheet.repeat_rows(HEADING_ROW)
    set_up_print(sheet)


def set_up_print(sheet: Worksheet) -> None:
    """A4 on its side, as many pages high as it takes, the caution at the foot of each."""
    sheet.set_landscape()
    sheet.set_paper(9)  # A4
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
    sheet.set_footer("&L&A&C" + CAUTION.replace("&", "&&") + "&RPage &P of &N")
    sheet.hide_gridlines(2)


def write_title(sheet: Worksheet, title: str, looks: Looks) -> None:
    """Write the title of a sheet in its first row."""
    sheet.set_row(0, 22)
    sheet.write_string(0, 0, plain(title), looks.title)


def write_across(sheet: Worksheet, row: int, columns: tuple[int, int], text: str, width: float, style: Format) -> None:
    """Write a text over several columns, first and last, as high as it needs to be."""
    sheet.set_row(row, height([(plain(text), width)]))
    sheet.merge_range(row, columns[0], row, columns[1], "", style)
    sheet.write_string(row, columns[0], plain(text), style)


def height(texts: Iterable[tuple[str, float]]) -> float:
    """Points that a row needs for texts in columns of given widths. Calc does not fit rows itself when it opens."""
    most = 1
    for text, width in texts:
        if len(text) > width:
            most = max(most, math.ceil(len(text) / max(1.0, width * _LETTERS_A_UNIT)))
    return min(_MOST_POINTS, most * _LINE_POINTS + 3)


class _Writer:
    """Writes the cells of a sheet, each as what it is, and counts its links."""

    def __init__(self, sheet: Worksheet, looks: Looks, listing: Listing) -> None:
        self.sheet, self.looks, self.columns = sheet, looks, listing.columns
        self.links_left = listing.most_links

    def write(self, row: int, line: Sequence[Cell]) -> None:
        texts = [(_text(cell), column.width) for column, cell in zip(self.columns, line, strict=True)]
        points = height(texts)
        if points > _LINE_POINTS + 3:  # one line stands in a row as high as rows are anyway
            self.sheet.set_row(row, points)
        for index, (column, cell) in enumerate(zip(self.columns, line, strict=True)):
            self._cell(row, index, cell, column.look)

    def _cell(self, row: int, index: int, cell: Cell, look: str) -> None:
        if isinstance(cell, Marked):
            self._cell(row, index, cell.value, cell.look)
            return
        style = self.looks.named[look]
        if isinstance(cell, Link):
            self._link(row, index, cell, style)
        elif isinstance(cell, str):
            self.sheet.write_string(row, index, plain(cell), style)
        elif isinstance(cell, date):
            self.sheet.write_datetime(row, index, cell, style)
        elif cell is None:
            self.sheet.write_blank(row, index, None, style)
        else:
            self.sheet.write_number(row, index, cell, style)

    def _link(self, row: int, index: int, link: Link, style: Format) -> None:
        if link.target and self.links_left > 0:
            self.links_left -= 1
            self.sheet.write_url(row, index, link.target, self.looks.named["link"], string=plain(link.text))
        else:
            self.sheet.write_string(row, index, plain(link.text), style)


def _text(cell: Cell) -> str:
    if isinstance(cell, Link):
        return cell.text
    value = cell.value if isinstance(cell, Marked) else cell
    return value if isinstance(value, str) else ""
