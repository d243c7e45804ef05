"""The fleet's audit as a workbook: Summary, Findings, Due, Due list, Repeated, Not read, Assumptions and sources.

Works nothing out. Small fleets get tables of the spreadsheet's own; past LARGEST_TABLES lines the rows are written one
by one to disk, so that the memory stays flat, and a filter stands over the heading instead.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from workbook_tools.core.caution import CAUTION
from workbook_tools.core.words import counted
from workbook_tools.findings import GRADES, LAPSE_KINDS
from workbook_tools.reports.fleet.links import relative, workbook_link
from workbook_tools.reports.fleet.record import CHECKED, FleetRecord
from workbook_tools.reports.fleet.tables import (
    DEFAULT_FONT,
    HEADING_ROW,
    MOST_LINKS,
    MOST_ROWS,
    Cell,
    Column,
    Link,
    Listing,
    Looks,
    Marked,
    graded,
    height,
    plain,
    set_up_print,
    write_across,
    write_listing,
    write_title,
)
from workbook_tools.reports.fleet.words import (
    FOLLOWED_UP,
    basis,
    headline,
    lapses_words,
    sources,
    verdict_look,
)

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

_LINKS_OF_LARGE = 20_000  # links of a sheet of a large fleet: each stays in memory until the end
_CHART_ROWS = 24  # rows of the usual height that the chart covers
LARGEST_TABLES = 50_000  # lines of all sheets together up to which the whole workbook is made in memory


def fleet_workbook(record: FleetRecord, folder: Path, most_rows: int = MOST_ROWS) -> bytes:
    """The audit of a fleet as an .xlsx file, whose links work from a folder.

    most_rows: of a sheet; what does not fit is left out, and the sheet says how much.
    """
    import xlsxwriter

    tables = record.finding_count() + record.lapse_count() + record.books <= LARGEST_TABLES
    target = io.BytesIO()
    how = {"in_memory": True} if tables else {"constant_memory": True}
    book = xlsxwriter.Workbook(target, {**how, "default_format_properties": DEFAULT_FONT})
    book.set_properties({"title": "Fleet audit", "comments": CAUTION})
    writer = _Report(record, folder, book, tables, most_rows)
    writer.summary()
    writer.findings()
    writer.due()
    writer.due_list()
    writer.repeated()
    writer.unreadable()
    writer.sources()
    book.close()
    return target.getvalue()


class _Report:
    """Writes the sheets of one workbook."""

    def __init__(self, record: FleetRecord, folder: Path, book: Workbook, tables: bool, most_rows: int) -> None:
        self.record, self.folder, self.book, self.tables, self.most_rows = record, folder, book, tables, most_rows
        self.looks = Looks(book)
        self._ways: dict[str, str] = {}

    def _list(self, listing: Listing, lines: Iterator[Sequence[Cell]], count: int) -> Worksheet:
        listing.room = self.most_rows
        listing.most_links = MOST_LINKS if self.tables else _LINKS_OF_LARGE
        return write_listing(self.book, self.looks, listing, lines, count, self.tables)

    def _way(self, path: str) -> str:
        if path not in self._ways:
            self._ways.clear()  # lines of one book mostly follow one another: the last one is enough
            self._ways[path] = relative(path, self.folder)
        return self._ways[path]

    def _cell_link(self, path: str, sheet: str, cell: str) -> Link:
        return Link(f"{sheet}!{cell}", workbook_link(self._way(path), sheet, cell))

    def _book_link(self, path: str) -> Link:
        return Link(Path(path).name, workbook_link(self._way(path)))

    # ---- Summary -----------------------------------------------------------------------------------------------

    def summary(self) -> None:
        columns = [
            *(Column("Place", 6, "count"), Column("Ship", 22, "strong"), Column("IMO number", 11)),
            Column("Verdict", 40),
            *(Column(grade, 6.5, "count", upright=True) for grade in GRADES),
            Column(FOLLOWED_UP, 6.5, "count", upright=True),
            *(Column(f"{key}  {words}", 6.5, "count", upright=True) for key, words in CHECKED.items()),
            *(Column(word, 6.5, "count", upright=True) for word in ("rules passed", "rules not evaluated")),
            *(Column("Rules", 8), Column("Workbook", 28, "link", printed=False)),
        ]
        listing = Listing(
            "Summary",
            f"Fleet audit: ships, worst first, on {self.record.options.on}",
            headline(self.record) + " Findings of each family; !! where an action is required among them.",
            columns,
            "No book was checked.",
            "Ships",
            frozen_columns=2,
        )
        self._list(listing, self._ships(), self.record.books)

    def _ships(self) -> Iterator[Sequence[Cell]]:
        for ship in self.record.ships():
            counts: list[Cell] = [
                Marked(ship.grades["action"], "urgent-count" if ship.grades["action"] else "count"),
                *(ship.grades[grade] for grade in GRADES[1:]),
                ship.followed_up,
                *(
                    Marked(ship.families[key], "urgent-count" if ship.actions[key] else "count")
                    for key in ship.families
                ),
                *(ship.states["passed"], ship.states["not_evaluated"]),
            ]
            yield [
                *(ship.rank, ship.title, ship.imo_number, Marked(ship.verdict, verdict_look(ship))),
                *(counts if ship.readable else [None] * len(counts)),
                *(ship.rules, self._book_link(ship.path)),
            ]

    # ---- Findings ----------------------------------------------------------------------------------------------

    def findings(self) -> None:
        names = [Column("Person on that line", 18)] if self.record.options.names else []
        columns = [
            *(Column("No", 7, "count"), Column("Ship", 18, "strong"), Column("Priority", 14), Column("Grade", 10)),
            *(Column("Cell", 22, "link"), Column("Subject", 18), *names, Column("What is wrong", 48)),
            *(Column("What to do", 36), Column("Paragraph", 20), Column("Finding", 13)),
            *(Column("Being followed up", 26, printed=False), Column("Rule", 26, printed=False)),
            Column("Workbook", 26, printed=False),
        ]
        count = self.record.finding_count()
        listing = Listing(
            "Findings",
            "Findings, worst first",
            headline(self.record)
            + " The cell is a link: it opens the ship's workbook there, while this file and the books stay in place.",
            columns,
            "No finding in any book that could be read.",
            "Findings",
            frozen_columns=2,
        )
        self._list(listing, self._finding_lines(), count)

    def _finding_lines(self) -> Iterator[Sequence[Cell]]:
        for number, line in enumerate(self.record.findings(), 1):
            person = [line.person] if self.record.options.names else []
            yield [
                number,
                line.ship,
                line.priority,
                graded(line.grade),
                self._cell_link(line.path, line.sheet, line.cell),
                line.subject,
                *person,
                line.message,
                line.remedy,
                line.source,
                line.id,
                line.follow_up,
                line.rule,
                Path(line.path).name,
            ]

    # ---- Due ---------------------------------------------------------------------------------------------------

    def due(self) -> None:
        """What lapses in each month, by kind, as figures and as the spreadsheet's own chart."""
        months, by_month = self.record.months(), self.record.lapses_by_month()
        kinds = list(LAPSE_KINDS)
        columns = [
            *(Column("Month", 12), *(Column(words, 12, "count") for words in LAPSE_KINDS.values())),
            Column("in all", 10, "count"),
        ]
        listing = Listing(
            *("Due", "What lapses when, across the fleet", lapses_words(self.record)),
            *(columns, "Nothing on record lapses.", "Months"),
            rows_below=_CHART_ROWS,
        )
        lines: list[Sequence[Cell]] = []
        for month in months:
            counts = [by_month.get((month, kind), 0) for kind in kinds]
            lines.append([month, *counts, sum(counts)])
        sheet = self._list(listing, iter(lines), len(lines))
        sheet.fit_to_pages(1, 1)  # the chart is not cut by the end of a page
        self._chart(sheet, len(lines), list(LAPSE_KINDS.values()))

    def _chart(self, sheet: Worksheet, months: int, kinds: Sequence[str]) -> None:
        chart = self.book.add_chart({"type": "column", "subtype": "stacked"})
        first, last = HEADING_ROW + 1, HEADING_ROW + months
        for index, _ in enumerate(kinds, 1):
            chart.add_series(
                {
                    "name": ["Due", HEADING_ROW, index],
                    "categories": ["Due", first, 0, last, 0],
                    "values": ["Due", first, index, last, index],
                    "gap": 40,
                    **_FILLS[index - 1],
                }
            )
        chart.set_title({"name": "What lapses in each month", "name_font": {"size": 13}, "overlay": False})
        chart.set_x_axis({"name": "Month", "num_font": {"rotation": -45}})
        chart.set_y_axis({"name": "Number", "major_gridlines": {"visible": True, "line": {"color": "#CCCCCC"}}})
        chart.set_legend({"position": "bottom"})
        chart.set_size({"width": 680, "height": 400})
        chart.show_hidden_data()
        place = {"description": "Stacked columns: how many things of each kind lapse in each month; figures above"}
        sheet.insert_chart(last + 2, 0, chart, place)

    def due_list(self) -> None:
        names = [Column("Person on that line", 18)] if self.record.options.names else []
        columns = [
            *(Column("Last day", 12, "day"), Column("Days left", 9, "count"), Column("Ship", 20, "strong")),
            *(Column("Kind", 18), Column("What", 40), Column("Where", 24), *names),
            *(Column("Cell", 22, "link"), Column("Workbook", 28, printed=False)),
        ]
        count = self.record.lapse_count()
        listing = Listing(
            "Due list",
            "What lapses, nearest first",
            lapses_words(self.record),
            columns,
            "Nothing on record lapses in these days.",
            "DueList",
            frozen_columns=3,
        )
        self._list(listing, self._lapse_lines(), count)

    def _lapse_lines(self) -> Iterator[Sequence[Cell]]:
        for line in self.record.lapses():
            person = [line.person] if self.record.options.names else []
            yield [
                date.fromisoformat(line.day),
                line.days_left,
                line.ship,
                LAPSE_KINDS[line.kind],
                line.what,
                line.where,
                *person,
                self._cell_link(line.path, line.sheet, line.cell),
                Path(line.path).name,
            ]

    # ---- Repeated, Not read ------------------------------------------------------------------------------------

    def repeated(self) -> None:
        columns = [
            *(Column("Ships", 8, "count"), Column("Findings", 9, "count"), Column("Worst grade", 11)),
            *(Column("Code", 8), Column("Fault", 22, "strong"), Column("Paragraph", 20), Column("For example", 42)),
            *(Column("What to do", 32), Column("Ships, worst first", 36), Column("Rule", 30, printed=False)),
        ]
        lines = list(self.record.repeated())
        read = self.record.books - self.record.unread_count()
        listing = Listing(
            "Repeated",
            "The same fault on several ships",
            f"Of {counted(read, 'book')} read. A fault is a code with its rule: serial numbers and batches are no part "
            "of it, so rafts exchanged and batches renewed make no alarm.",
            columns,
            "No fault stands on more than one ship.",
            "Repeated",
            frozen_columns=2,
        )

        def cells() -> Iterator[Sequence[Cell]]:
            for line in lines:
                others = line.ship_count - len(line.ships)
                named = ", ".join(line.ships) + (f" and {counted(others, 'other')}" if others > 0 else "")
                yield [
                    line.ship_count,
                    line.finding_count,
                    graded(line.grade),
                    line.code,
                    line.name,
                    line.source,
                    line.example,
                    line.remedy,
                    named,
                    line.rule,
                ]

        self._list(listing, cells(), len(lines))

    def unreadable(self) -> None:
        count = self.record.unread_count()
        listing = Listing(
            "Not read",
            "Books that could not be read",
            f"{counted(count, 'book')} of {self.record.books:,} not read: nothing is known of these ships."
            if count
            else "Every book could be read.",
            [Column("Workbook", 34, "link"), Column("Why, and what to do", 90), Column("Folder", 50)],
            "None.",
            "NotRead",
        )

        def cells() -> Iterator[Sequence[Cell]]:
            for ship in self.record.ships(readable=False):
                yield [self._book_link(ship.path), ship.reason, str(Path(ship.path).parent)]

        self._list(listing, cells(), count)

    # ---- Assumptions and sources -------------------------------------------------------------------------------

    def sources(self) -> None:
        """What the report rests on, then each rule that a finding cites: two blocks, the second a table."""
        sheet = self.book.add_worksheet("Assumptions and sources")
        set_up_print(sheet)
        for index, width in enumerate(_SOURCE_WIDTHS):
            sheet.set_column(index, index, width)
        write_title(sheet, "Assumptions and sources", self.looks)
        write_across(sheet, 2, (0, 5), CAUTION, sum(_SOURCE_WIDTHS), self.looks.caution)
        row = self._basis(sheet, HEADING_ROW)
        self._cited(sheet, row + 2)

    def _basis(self, sheet: Worksheet, row: int) -> int:
        looks, width = self.looks, sum(_SOURCE_WIDTHS[1:5])
        sheet.write_string(row, 0, "About", looks.heading)
        write_across(sheet, row, (1, 4), "What", width, looks.heading)
        sheet.write_string(row, 5, "Books", looks.heading)
        for entry in basis(self.record):
            row += 1
            write_across(sheet, row, (1, 4), entry.words, width, looks.named["text"])
            sheet.write_string(row, 0, entry.about, looks.named["strong"])
            sheet.write_string(row, 5, f"{entry.books:,}" if entry.books else "all", looks.named["text"])
        return row

    def _cited(self, sheet: Worksheet, row: int) -> None:
        headings = ("Rule set", "Rule", "Paragraph", "How sure the figure is", "Compared on", "Findings")
        for index, heading in enumerate(headings):
            sheet.write_string(row, index, heading, self.looks.heading)
        for source in sources(self.record):
            row += 1
            words = (source.rule_set, source.rule, source.paragraph, source.status, source.compared_on)
            sheet.set_row(row, height(zip(words, _SOURCE_WIDTHS, strict=False)))
            for index, text in enumerate(words):
                sheet.write_string(row, index, plain(text), self.looks.named["text"])
            sheet.write_number(row, len(words), source.findings, self.looks.named["count"])


_SOURCE_WIDTHS = (24.0, 34.0, 40.0, 44.0, 22.0, 10.0)

# Solid and hatched in turn, so that a grey print tells the kinds apart.
_EDGE = {"border": {"color": "#333333"}}
_FILLS = (
    {"fill": {"color": "#B34700"}, **_EDGE},
    {"pattern": {"pattern": "dark_upward_diagonal", "fg_color": "#15548A", "bg_color": "#FFFFFF"}, **_EDGE},
    {"fill": {"color": "#8FBBE0"}, **_EDGE},
    {"pattern": {"pattern": "dark_horizontal", "fg_color": "#333333", "bg_color": "#FFFFFF"}, **_EDGE},
    {"fill": {"color": "#0B3A66"}, **_EDGE},
    {"pattern": {"pattern": "dark_downward_diagonal", "fg_color": "#B34700", "bg_color": "#FFFFFF"}, **_EDGE},
)
