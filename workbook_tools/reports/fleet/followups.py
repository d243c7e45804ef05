"""What each ship has to correct, as one workbook a ship to send back.

A workbook and not a page: the ship keeps its record in a spreadsheet already, a link from one workbook to a cell of
another opens there, and the second sheet has the columns of the record's own Follow-up sheet, ids filled in, so that
its lines are copied over as they are.
"""

from __future__ import annotations

import io
import os
import shutil
import tempfile
import unicodedata
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from workbook_tools.checks import Options
from workbook_tools.columns import sheet
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.words import counted
from workbook_tools.findings import BookResult, Finding
from workbook_tools.reports.cautions import cautions_for
from workbook_tools.reports.fleet.links import workbook_link
from workbook_tools.reports.fleet.tables import (
    DEFAULT_FONT,
    Cell,
    Column,
    Link,
    Listing,
    Looks,
    graded,
    height,
    plain,
    set_up_print,
    write_listing,
    write_title,
)
from workbook_tools.reports.text import follow_up_words, verdict

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

_LONGEST_NAME = 120  # bytes of a ship's name in the name of a file; file systems end at 255


def follow_up_list(result: BookResult, options: Options) -> bytes:
    """What one ship has to correct, as an .xlsx file whose links work beside the ship's own workbook."""
    import xlsxwriter

    target = io.BytesIO()
    book = xlsxwriter.Workbook(target, {"in_memory": True, "default_format_properties": DEFAULT_FONT})
    book.set_properties({"title": f"To correct: {plain(result.ship or Path(result.book).name)}", "comments": CAUTION})
    looks = Looks(book)
    if result.readable:
        _to_correct(book, looks, result, options)
        _to_copy(book, looks, result)
    else:
        _not_read(book, looks, result)
    book.close()
    return target.getvalue()


def _who(result: BookResult) -> str:
    number = f", IMO {result.imo_number}" if result.imo_number else ""
    return f"{result.ship or Path(result.book).name}{number}"


def _to_correct(book: Workbook, looks: Looks, result: BookResult, options: Options) -> None:
    names = [Column("Person on that line", 18)] if options.names else []
    columns = [
        *(Column("No", 5, "count"), Column("Priority", 14), Column("Grade", 10), Column("Cell", 22, "link")),
        *(Column("Subject", 16), *names, Column("What is wrong", 44), Column("What to do", 34)),
        *(Column("Paragraph", 18), Column("Finding", 13), Column("Being followed up", 20)),
    ]
    name = Path(result.book).name
    cautions = cautions_for(" ".join(f"{entry.subject} {entry.message} {entry.remedy}" for entry in result.findings))
    words = (
        f"{verdict(result)}. By the record {name} on {options.on}. Keep this file in the folder of that workbook: a "
        "cell is then a link to it. Correct the record, or enter on its Follow-up sheet what is being done (the "
        "second sheet here has the lines to copy), and return the workbook."
    )
    listing = Listing(
        *("To correct", f"{_who(result)}: what to correct", " ".join([words, *cautions])),
        *(columns, "Nothing to correct.", "ToCorrect"),
        frozen_columns=1,
    )

    def lines() -> Iterator[Sequence[Cell]]:
        for number, finding in enumerate([*result.front(), *result.followed_up()], 1):
            person = [finding.person] if options.names else []
            place = Link(f"{finding.sheet}!{finding.cell}", workbook_link(name, finding.sheet, finding.cell))
            yield [
                number,
                finding.priority,
                graded(finding.grade),
                place,
                finding.subject,
                *person,
                finding.message,
                finding.remedy,
                finding.source,
                finding.id,
                follow_up_words(finding),
            ]

    write_listing(book, looks, listing, lines(), len(result.findings), tables=True)


def _to_copy(book: Workbook, looks: Looks, result: BookResult) -> None:
    """The lines for the Follow-up sheet: its own columns, and behind them one for the reader that is not copied."""
    wanted = sheet("follow_up")
    columns = [
        Column(column.title, min(column.width + 2, 18), "day" if column.kind == "date" else "text")
        for column in wanted.columns
    ]
    columns.append(Column("What it is (do not copy)", 56))
    open_ones = [finding for finding in result.front() if finding.id[:3] != "WB3"]  # those are about the sheet itself
    listing = Listing(
        "Follow-up",
        f"{_who(result)}: lines for the sheet {wanted.name} of your workbook",
        "Fill in order or expected day, then copy the lines, without the last column, below those on your own sheet. "
        "Delete lines that are corrected in the record instead.",
        columns,
        "Nothing is open that is not followed up.",
        "LinesToCopy",
        frozen_columns=1,
    )
    blanks: list[Cell] = [None] * (len(wanted.columns) - 1)

    def line(finding: Finding) -> Sequence[Cell]:
        return [finding.id, *blanks, f"{finding.grade}, {finding.priority}: {finding.subject}, {finding.message}"]

    write_listing(book, looks, listing, map(line, open_ones), len(open_ones), tables=True)


def _not_read(book: Workbook, looks: Looks, result: BookResult) -> None:
    width = 110.0
    page = book.add_worksheet("To correct")
    page.set_column(0, 0, width)
    set_up_print(page)
    write_title(page, f"{Path(result.book).name}: could not be read", looks)
    words = (f"What is wrong, and what to do: {result.reason}.", "Nothing in it was audited. Return the workbook anew.")
    for row, text in enumerate((*words, CAUTION), 2):
        page.set_row(row, height([(plain(text), width)]))
        page.write_string(row, 0, plain(text), looks.words)


# ---- names of files ----------------------------------------------------------------------------------------------


def list_name(result: BookResult, day: date, taken: set[str]) -> str:
    """A name of a file that every system takes, from ship and IMO number, unlike those taken; it joins them."""
    if result.readable:
        parts = [_safe(result.ship) or _safe(Path(result.book).stem), _safe(f"IMO{result.imo_number}", 20)]
        stem = "_".join(part for part in parts if part not in ("", "IMO"))
    else:
        stem = f"not-read_{_safe(Path(result.book).stem)}"
    stem = stem or "ship"
    name, number = f"{stem}_{day}.xlsx", 1
    while name.casefold() in taken:
        number += 1
        name = f"{stem}_{day}_{number}.xlsx"
    taken.add(name.casefold())
    return name


def _safe(text: str, longest: int = _LONGEST_NAME) -> str:
    """Letters and digits of any script, everything else as a hyphen; no longer than so many bytes."""
    letters = "".join(letter if letter.isalnum() else "-" for letter in unicodedata.normalize("NFKC", text))
    name = "-".join(filter(None, letters.split("-")))
    while len(name.encode("utf-8", "replace")) > longest:
        name = name[:-1]
    return name.encode("utf-8", "replace").decode().strip("-?")


# ---- a folder of lists -------------------------------------------------------------------------------------------


class FollowUpLists:
    """Writes the lists as results come; they appear in their folder together, when the run is done.

    A book without a finding gets no list. Raises OSError.
    """

    def __init__(self, folder: Path, options: Options) -> None:
        self.folder, self.options = folder, options
        self.written: list[str] = []
        self._taken: set[str] = set()
        folder.parent.mkdir(parents=True, exist_ok=True)
        self._scratch = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", suffix=".part", dir=folder.parent))

    def add(self, result: BookResult) -> None:
        """Write the list of one book, if it has anything to correct."""
        if result.readable and not result.findings:
            return
        name = list_name(result, self.options.on, self._taken)
        (self._scratch / name).write_bytes(follow_up_list(result, self.options))
        self.written.append(name)

    def finish(self) -> str:
        """Put the lists in their folder and say in one line what is there."""
        self.folder.mkdir(exist_ok=True)
        for name in self.written:
            os.replace(self._scratch / name, self.folder / name)
        self.close()
        written = set(self.written)
        found = (path.name for path in self.folder.glob(f"*_{self.options.on}*.xlsx"))
        others = sorted(name for name in found if name not in written)
        stale = f"; of the same day but an earlier run: {', '.join(others)}" if others else ""
        return f"{counted(len(self.written), 'follow-up list')} in {self.folder}{stale}"

    def close(self) -> None:
        """Leave nothing half-made behind."""
        shutil.rmtree(self._scratch, ignore_errors=True)
