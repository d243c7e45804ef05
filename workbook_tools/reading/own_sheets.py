"""Reads what a returned workbook shows in the sheets that it calculates itself: cached values, and where formulas are.

Nothing here says what is right; see checks/own_sheets.py. What cannot be read is said in `why_not`, never raised: the
record on the input sheets is audited all the same.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from xml.etree import ElementTree

from workbook_tools.columns.calculated import CALCULATED_SHEETS, COVERAGE, REQUIRED, STATUS
from workbook_tools.reading.address import split
from workbook_tools.reading.hidden_rows import hidden_rows
from workbook_tools.reading.limits import MOST_INDEX_BYTES, UnreadableBook
from workbook_tools.reading.own_cells import EMPTY, Cell, Line, SharedTexts, SheetXml, UnusualXml, Value
from workbook_tools.reading.own_names import defined_names, is_living, renamed, sheet_of
from workbook_tools.reading.zipped import unpacked

MOST_OWN_BYTES = 20_000_000  # a calculated sheet with room for 30 craft has less than 2,000,000

# Headings of the columns that are compared, by the keys of book/calculated.
REQUIRED_HEADINGS = {
    "Craft": "craft",
    "Item": "item",
    "Asked": "asked",
    "Carried, in date": "carried",
    "Short": "missing",
    "Earliest expiry": "earliest",
    "Enough until": "until",
    "Says": "says",
    "Rule": "rule",
}
COVERAGE_HEADINGS = {
    "What is lost": "scenario",
    "Persons on board": "persons",
    "Places left": "places",
    "Left out": "left_out",
    "Says": "says",
}
# Lines of the Status sheet: what formulas cannot read, and what stands below the rows that they read.
UNREAD, BEYOND = "lines not read", ("lines too far down", "beyond room")  # books made earlier have the second
COUNT_HEADING = "Count"
VERDICT_BELOW = 3  # the verdict stands so many rows below the day asked, in the first column
_DAY_ZERO = date(1899, 12, 30)
_FIRST_DAY, _LAST_DAY = 36_000, 80_000  # as numbers: days of 1998 to 2119
_1904 = re.compile(rb"""\bdate1904\s*=\s*["'](?:1|true)["']""")


@dataclass(frozen=True, slots=True)
class TypedOver:
    """A cell that should hold a formula: where, under which heading, and what was typed ('' where it was cleared)."""

    row: int
    column: int
    heading: str
    typed: str


@dataclass(slots=True)
class Block:
    """The lines of one calculated sheet, each with its row; columns by the keys of the headings."""

    sheet: str  # as the sheet is called in this book
    columns: dict[str, int]
    headings: dict[str, str]
    lines: list[tuple[int, dict[str, Value]]] = field(default_factory=list)
    next_row: int = 0  # where a further line would stand


@dataclass(slots=True)
class OwnSheets:
    """What a living workbook shows in its calculated sheets. why_not: why that cannot be compared; '' where it can.

    renamed: sheets by the name they have now, with the one they should have. hidden: rows hidden by hand, by sheet.
    unread, beyond: cells that formulas cannot read and lines below the rows that they read, as Status counts them.
    names: defined names of the whole workbook, with what each stands for.
    """

    why_not: str = ""
    other_format: bool = False  # whether that is so because no formula of such a file is read
    day: date | None = None
    unread: float = 0
    beyond: float = 0
    required: Block | None = None
    coverage: Block | None = None
    typed_over: dict[str, list[TypedOver]] = field(default_factory=dict)
    renamed: dict[str, str] = field(default_factory=dict)
    hidden: dict[str, list[int]] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    days_from_1904: bool = False

    def calculated(self, sheets: Mapping[str, str]) -> frozenset[str]:
        """Which of the book's sheets it calculates itself, by the names they have now."""
        under_other_names = {now for now, should in self.renamed.items() if should in CALCULATED_SHEETS}
        return frozenset(set(sheets) & set(CALCULATED_SHEETS) | under_other_names)

    def look_for_hidden_rows(self, archive: zipfile.ZipFile, sheet: str, part: str, data: bytes) -> None:
        """Note the rows of a sheet that are hidden by hand."""
        if rows := hidden_rows(archive, part, data):
            self.hidden[sheet] = rows


def find_own(archive: zipfile.ZipFile, sheets: Mapping[str, str]) -> OwnSheets | None:
    """What tells a living workbook; None for any other. sheets: their names with the parts that hold them."""
    book = unpacked(archive, "xl/workbook.xml", MOST_INDEX_BYTES)
    if not is_living(sheets, book):
        return None
    names = defined_names(book)
    return OwnSheets(renamed=renamed(sheets, names), names=names, days_from_1904=_1904.search(book) is not None)


def not_looked_at(ending: str) -> OwnSheets:
    """What is said of a living workbook in a format whose formulas are not read."""
    why_not = f"the formulas of a {ending.lower()} file are not read: save it as .xlsx for that"
    return OwnSheets(why_not=why_not, other_format=True)


def read_own(archive: zipfile.ZipFile, sheets: Mapping[str, str], own: OwnSheets) -> None:
    """Read Status, Required and Coverage into `own`."""
    try:
        own.why_not = _Reader(archive, sheets, own).read()
    except UnusualXml as error:
        own.why_not = str(error)
    except UnreadableBook as error:
        own.why_not = f"a calculated sheet is not read: {error}"
    except (zipfile.BadZipFile, zlib.error, ElementTree.ParseError, KeyError, ValueError, EOFError):
        own.why_not = "a calculated sheet is damaged: save the book anew in the spreadsheet program"


class _Reader:
    def __init__(self, archive: zipfile.ZipFile, sheets: Mapping[str, str], own: OwnSheets) -> None:
        self.archive, self.sheets, self.own = archive, sheets, own
        part = "xl/sharedStrings.xml"
        there = part in archive.namelist()
        self.texts = SharedTexts(unpacked(archive, part, MOST_OWN_BYTES) if there else b"")

    def read(self) -> str:
        """Read the sheets; why they cannot be compared comes back, '' where they can."""
        own = self.own
        asked = own.names.get("date_asked", "")
        place = split(asked.rpartition("!")[2].replace("$", ""))
        if place is None or sheet_of(asked) not in self.sheets:
            return f"the sheet {STATUS} with the day asked is not there"
        if own.days_from_1904:
            return "the book counts its days from 1904"
        self._status(sheet_of(asked), *place)
        if own.day is None:
            return (
                "its formulas have no stored results: open the book in the spreadsheet program, let it recalculate, "
                "save it"
            )
        if own.beyond > 0:
            return "lines stand below the rows that its formulas read: move them up"
        own.required = self._block("required_craft", REQUIRED_HEADINGS, until_blank=True)
        own.coverage = self._block("coverage_scenario", COVERAGE_HEADINGS, until_blank=False)
        missing = [name for name, found in ((REQUIRED, own.required), (COVERAGE, own.coverage)) if found is None]
        return f"the sheet {' or '.join(missing)}, or a column of it, is not there" if missing else ""

    def _xml(self, sheet: str) -> SheetXml:
        return SheetXml(unpacked(self.archive, self.sheets[sheet], MOST_OWN_BYTES), self.texts)

    def _status(self, sheet: str, row: int, column: int) -> None:
        lines = {number: line for number, line, _ in self._xml(sheet).rows()}
        asked = lines.get(row, {}).get(column, EMPTY)
        if isinstance(asked.value, float) and _FIRST_DAY <= asked.value <= _LAST_DAY:
            self.own.day = _DAY_ZERO + timedelta(days=int(asked.value))
        counts = dict(_counts(lines, column))
        self.own.unread = _number(counts.get(UNREAD, (0, EMPTY))[1])
        self.own.beyond = max(_number(counts.get(label, (0, EMPTY))[1]) for label in BEYOND)
        formulas = [(row, column, "Day asked", asked)]
        formulas += [(at, column, label, found) for label, (at, found) in counts.items()]
        verdict = lines.get(row + VERDICT_BELOW, {}).get(0, EMPTY)
        formulas.append((row + VERDICT_BELOW, 0, "the verdict", verdict))
        over = [TypedOver(at, place, label, _typed(found)) for at, place, label, found in formulas if not found.formula]
        if over:
            self.own.typed_over[sheet] = over

    def _block(self, defined: str, headings: Mapping[str, str], until_blank: bool) -> Block | None:
        """The lines of a sheet, found by the name of their first column; None where it is not as we wrote it."""
        reference = self.own.names.get(defined, "")
        first, _, last = reference.rpartition("!")[2].replace("$", "").partition(":")
        begin, end = split(first), split(last)
        sheet = sheet_of(reference)
        if begin is None or end is None or sheet not in self.sheets:
            return None
        rows = self._xml(sheet)
        walk = rows.rows(begin[0] - 1)
        heading_row = next(walk, None)
        if heading_row is None or heading_row[0] != begin[0] - 1:
            return None
        titles = {column: cell.value for column, cell in heading_row[1].items() if isinstance(cell.value, str)}
        columns = {headings[title]: column for column, title in reversed(titles.items()) if title in headings}
        if len(columns) < len(headings):
            return None
        block = Block(sheet, columns, {key: title for title, key in headings.items()}, next_row=begin[0])
        over: list[TypedOver] = []
        for number, line, place in walk:
            if number > end[0]:
                break
            over += _typed_over(number, line, titles)
            name = line.get(begin[1], EMPTY)
            if name.value not in ("", None):
                shown = {key: line.get(column, EMPTY).value for key, column in columns.items()}
                block.lines.append((number, shown))
                block.next_row = number + 1
            elif until_blank and name.formula and rows.all_formulas_after(place):
                break
        if over:
            self.own.typed_over[sheet] = over
        return block


def _counts(lines: Mapping[int, Line], column: int) -> Iterator[tuple[str, tuple[int, Cell]]]:
    """The counts of the Status sheet by their labels, from the line that heads them to the next empty one."""
    head = next((number for number, line in lines.items() if line.get(0, EMPTY).value == COUNT_HEADING), None)
    number = -1 if head is None else head + 1
    while label := lines.get(number, {}).get(0, EMPTY).value:
        yield str(label), (number, lines[number].get(column, EMPTY))
        number += 1


def _typed_over(number: int, line: Line, titles: Mapping[int, Value]) -> Iterator[TypedOver]:
    """The cells of a row that hold no formula. A row without any formula and without anything typed is none of ours."""
    here = [(column, title, line.get(column, EMPTY)) for column, title in titles.items() if title]
    bare = [entry for entry in here if not entry[2].formula]
    if not bare or (len(bare) == len(here) and all(cell.value in ("", None) for _, _, cell in bare)):
        return
    for column, title, cell in bare:
        yield TypedOver(number, column, str(title), _typed(cell))


def _typed(cell: Cell) -> str:
    if cell.value is None:
        return ""
    return f"{cell.value:.15g}" if isinstance(cell.value, float) else cell.value


def _number(cell: Cell) -> float:
    return cell.value if isinstance(cell.value, float) else 0
