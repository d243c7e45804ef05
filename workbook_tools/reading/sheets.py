"""Finds which sheet of a book is which of ours, and says so of every sheet that is not read."""

import difflib
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice

from workbook_tools.catalogue import normalise
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.reading.book import Book, Table
from workbook_tools.reading.cells import as_text, shortened
from workbook_tools.reading.form import find_labels
from workbook_tools.reading.headings import find_header
from workbook_tools.reading.lines import Filled, is_blank, is_no_line
from workbook_tools.reading.load import Grid, RawBook
from workbook_tools.reading.own_names import renamed_by_title
from workbook_tools.reading.subjects import record_finding

# Sheets of the template that hold nothing to read.
_OURS_WITHOUT_DATA = ("Notes", "Lists")

# So many lines without one of our words are no slip of the pen: the sheet is another's.
_LINES_OF_ANOTHER = 3

# A slip of the pen is looked for in so many lines: looking takes its time.
_NEAR_WORDS = 40

# So many columns of ours make a sheet of another name likely to be ours.
_COLUMNS_OF_OURS = 3

# Of a sheet that must have no more than a name: the columns that tell it from any other list.
_TELLING = {"crew": ("rank", "craft"), "certificates": ("issued", "until")}

_FINDING_ID = re.compile(r"[A-Za-z]{2}\d{2}(-\w+)?")

# What a sheet can be read as, the best last.
_UNKNOWN, _OF_ANOTHER, _WITHOUT_LINES, _WITH_LINES = range(4)


@dataclass(frozen=True, slots=True)
class Choice:
    """The sheet to read as one of ours, whether it is another's for all its name, and those left out."""

    name: str
    of_another: bool
    left_out: tuple[tuple[str, int], ...]


def choose(raw: RawBook, sheet: Sheet) -> Choice | None:
    """The sheet of the book that goes by one of a sheet's names, the best first; None when there is none."""
    named = _named(tuple(raw.sheets), (sheet.name, *sheet.other_names))
    if not named:
        return None
    if len(named) == 1 and (sheet.required or _deciding(sheet) is None):
        return Choice(named[0], False, ())
    worth = {name: _worth(sheet, raw.sheets[name]) for name in named}
    best = max(named, key=lambda name: worth[name])
    left_out = tuple((name, worth[name]) for name in worth if name != best)
    return Choice(best, worth[best] == _OF_ANOTHER, left_out)


@lru_cache(maxsize=100)  # most ships' books have sheets of the same names
def _named(there: tuple[str, ...], wanted: tuple[str, ...]) -> tuple[str, ...]:
    """The sheets that go by one of the names wanted, the best first."""
    folded = [(normalise(name), name) for name in there]
    return tuple(name for wish in map(normalise, wanted) for known, name in folded if known == wish)


def find_renamed(raw: RawBook) -> dict[str, str]:
    """Sheets of a living workbook that go by another name now, with the one they should have; also noted in its own."""
    if raw.own is None:
        return {}
    others = {name: grid for name, grid in raw.sheets.items() if name not in raw.own.renamed}
    raw.own.renamed |= renamed_by_title(others, {*raw.sheets, *raw.skipped, *raw.own.renamed.values()})
    return raw.own.renamed


def choose_renamed(sheet: Sheet, renamed: Mapping[str, str]) -> Choice | None:
    """The sheet that was renamed, to be read in its place all the same."""
    now = next((now for now, should in renamed.items() if should == sheet.name), None)
    return None if now is None else Choice(now, False, ())


def _worth(sheet: Sheet, grid: Grid) -> int:
    if sheet.layout == "form":
        labels = find_labels(sheet, grid)
        filled = sum(not is_blank(cell) for line in grid for cell in line)
        return _UNKNOWN if not labels else _WITH_LINES if filled > len(labels) else _WITHOUT_LINES
    header = _header_if_usable(sheet, grid)
    if header is None:
        return _UNKNOWN
    if next(_lines(sheet, grid, header), None) is None:
        return _WITHOUT_LINES
    return _OF_ANOTHER if not sheet.required and _are_of_another(sheet, _lines(sheet, grid, header)) else _WITH_LINES


def _header_if_usable(sheet: Sheet, grid: Grid) -> tuple[int, dict[str, int]] | None:
    """The heading line and the columns that it names, when none that must be there is missing."""
    header = find_header(sheet, grid)
    if header is None or any(column.required and column.key not in header[1] for column in sheet.columns):
        return None
    return header[0], header[1]


def _lines(sheet: Sheet, grid: Grid, header: tuple[int, dict[str, int]]) -> Iterator[Filled]:
    by_index = {index: sheet.column(key) for key, index in header[1].items()}
    for line in islice(grid, header[0] + 1, None):
        filled: Filled = [
            (by_index[index], cell, None) for index, cell in enumerate(line) if index in by_index and not is_blank(cell)
        ]
        if not is_no_line(sheet, line, filled):
            yield filled


def _are_of_another(sheet: Sheet, lines: Iterable[Filled]) -> bool:
    """Whether lines under our headings are of something else: cargo in a Log, the main engine under Maintenance."""
    deciding = _deciding(sheet)
    if deciding is None:
        return False
    words = []
    for line in lines:
        for column, cell, _ in line:
            if column is deciding:
                word = shortened(as_text(cell))
                if deciding.names.find(word) if deciding.choices else _FINDING_ID.fullmatch(word):
                    return False  # one word of ours is enough
                words.append(word)
    if len(words) < _LINES_OF_ANOTHER:
        return False
    return not (deciding.choices and any(deciding.names.nearest(word) for word in words[:_NEAR_WORDS]))


def _deciding(sheet: Sheet) -> Column | None:
    """The column that must hold one of our words, or the id of one of our findings; None where there is none."""
    return next(
        (column for column in sheet.columns if column.required and (column.choices or column.key == "finding")), None
    )


def report_choice(choice: Choice, sheet: Sheet, book: Book) -> None:
    """Say which sheets of a kind are not read: those that are another's, and all but one of our own."""
    if choice.of_another:
        _report_another(sheet, choice.name, book)
    for name, worth in choice.left_out:
        if worth == _OF_ANOTHER:
            _report_another(sheet, name, book)
        elif worth == _WITH_LINES:
            _report(
                sheet,
                name,
                f"sheet {name!r} is not read: {choice.name!r} is read as {sheet.name}, and one sheet of a kind is read",
                f"put the lines of both on one sheet, or rename {name!r} if it is a list of your own",
                book,
                grade="query",
                subject=f"sheet {name}",
            )
        elif worth == _UNKNOWN:
            report_not_read(sheet, name, f"{choice.name!r} is read in its place", book)


def _report_another(sheet: Sheet, name: str, book: Book) -> None:
    deciding = _deciding(sheet) or sheet.columns[0]
    _report(
        sheet,
        name,
        f"sheet {name!r} is not read as {sheet.name}: no line has a word that we know under {deciding.heading}",
        f"if it is yours, give it another name; "
        f"if it is the {sheet.name} sheet, write words of the list there, such as {deciding.example!r}",
        book,
    )


def report_not_read(sheet: Sheet, name: str, why: str, book: Book) -> None:
    """Say that a sheet with one of our names is left out."""
    wanted = ", ".join(column.heading for column in sheet.columns if column.required) or sheet.columns[0].heading
    _report(
        sheet,
        name,
        f"sheet {name!r} is not read as {sheet.name}: {why}",
        f"head its columns as in the template (at least {wanted}), or give a sheet of your own another name",
        book,
    )


def _report(
    sheet: Sheet, name: str, message: str, remedy: str, book: Book, grade: str = "note", subject: str = ""
) -> None:
    table = Table(sheet, name, {}, [])
    book.findings.append(record_finding("WB18", grade, table, "A1", message, remedy, subject or f"sheet {sheet.name}"))


def report_unread(raw: RawBook, handled: set[str], book: Book) -> None:
    """Name the sheets that are not read; say so in a note where the name or the headings are nearly ours."""
    missing = {
        normalise(sheet.name): sheet
        for sheet in SHEETS
        if sheet.key not in book.tables or not book.tables[sheet.key].rows
    }
    for name, grid in raw.sheets.items():
        if name in handled or name in _OURS_WITHOUT_DATA or all(is_blank(cell) for line in grid for cell in line):
            continue
        near = difflib.get_close_matches(normalise(name), missing, n=1, cutoff=0.8)
        copied = next((t for t in book.tables.values() if normalise(name).startswith(normalise(t.name) + " ")), None)
        if near:
            report_not_read(missing[near[0]], name, f"did you mean {missing[near[0]].name!r}?", book)
        elif ours := _by_its_headings(missing.values(), grid):
            _report_headed_like(ours, name, book)
        elif copied:
            report_not_read(copied.sheet, name, f"{copied.name!r} is read in its place", book)
        else:
            book.sheets_not_read.append(name)


def _by_its_headings(missing: Iterable[Sheet], grid: Grid) -> Sheet | None:
    """The sheet of ours that is missing and whose headings these are, with most columns; None when there is none."""
    best: Sheet | None = None
    most = _COLUMNS_OF_OURS - 1
    for sheet in missing:
        header = _header_if_usable(sheet, grid) if sheet.layout == "table" else None
        columns = header[1] if header else {}
        telling = _TELLING.get(sheet.key)
        if header is None or len(columns) <= most or (telling and not any(key in columns for key in telling)):
            continue
        if not _are_of_another(sheet, _lines(sheet, grid, header)):
            best, most = sheet, len(columns)
    return best


def _report_headed_like(sheet: Sheet, name: str, book: Book) -> None:
    table = book.tables.get(sheet.key)
    there = f", and {table.name!r} has no lines" if table else ""
    _report(
        sheet,
        name,
        f"sheet {name!r} is not read, but its headings are those of {sheet.name}{there}: name it so",
        f"put its lines on {table.name!r}"
        if table
        else f"name it {sheet.name}, or leave it if it is a list of your own",
        book,
        subject=f"sheet {name}",
    )
