"""Small fleets for the tests of the reports: the example fleet, and books whose every text is hostile."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

from example_books.build import HERE
from tests.checks.cases.followup import BUCKET
from tests.workbooks import ON, Workbook, clean
from workbook_tools.checks import Options
from workbook_tools.findings import BookResult, Finding, Lapse
from workbook_tools.fleet import check_paths, find_books
from workbook_tools.reports.fleet.record import FleetRecord

OPTIONS = Options(ON, lapses=True)
UNREAD = BookResult("returns/broken.xlsx", readable=False, reason="the file is empty")

# What a spreadsheet or a browser might run if it were written carelessly.
HOSTILE = (
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)",
    "+1",
    "-1",
    "\t=1+1",
    "\r=1+1",
    "<script>window.hacked = 1</script>",
    "<img src=x onerror=window.hacked=2>",
    "</script><script>window.hacked = 3</script>",
    "\"' onmouseover='window.hacked=4' x='",
    "{=1+1}",
    "http://example.invalid/",
    "_x0041_",
    "]]>&amp;<!--",
    "${window.hacked=5}$title",
)


@cache
def example_results() -> tuple[BookResult, ...]:
    """The example fleet as audited, with what lapses, and one book that could not be read."""
    return (*check_paths(find_books([str(HERE)]), OPTIONS), UNREAD)


def record_of(*results: BookResult, options: Options = OPTIONS) -> FleetRecord:
    """A record that holds results."""
    record = FleetRecord(options)
    for result in results:
        record.add(result)
    return record


def finding(**other: object) -> Finding:
    """A finding like any other, with what a test asks of it."""
    made = Finding(
        code="EQ01",
        rule="lifeboat.buckets",
        grade="action",
        priority="before sailing",
        sheet="Inventory",
        cell="C5",
        subject="Lifeboat 1",
        message="bucket: 2 asked, 1 carried",
        remedy="put 1 more in",
        source="LSA Code 4.4.8.5",
        id="EQ01-aaaaaa",
    )
    return replace(made, **other)  # type: ignore[arg-type]


def result(book: str = "a.xlsx", *findings: Finding, **other: object) -> BookResult:
    """A book with findings."""
    made = BookResult(book, ship="Orrin Vale", imo_number="3100019", rules="solas", findings=list(findings))
    return replace(made, **other)  # type: ignore[arg-type]


def hostile_results() -> list[BookResult]:
    """Each hostile text in every place of a result that can hold text from a book."""
    made = []
    for number, text in enumerate(HOSTILE):
        said = dict.fromkeys(("rule", "sheet", "subject", "message", "remedy", "source", "person"), text)
        made.append(
            result(
                f"returns/{number}.xlsx",
                finding(**said, id=f"EQ01-aaaaa{'abcdefghijklmnopqrstuvwxyz'[number]}"),
                ship=text,
                imo_number=text,
                assumptions=[text],
                lapses=[Lapse(date(2026, 12, 1), "stores", text, text, text, "F5", text)],
            )
        )
        made.append(BookResult(f"returns/{number}-unread.xlsx", readable=False, reason=text))
    return made


def hostile_book(text: str) -> Workbook:
    """A book that an officer of ill will filled in: the text stands as ship, craft, item, place and remark."""
    book = clean()
    book.ship["name"] = text
    book.rows["craft"][0]["name"] = text
    book.lot("bucket", "Lifeboat 2")["quantity"] = 1
    book.add("inventory", place=text, item=text, quantity=1, remarks=text, batch=text, expires=date(2026, 12, 24))
    book.add("follow_up", finding=BUCKET, order=text, port=text, expected=date(2026, 12, 24), interim=text)
    book.find("crew", number="7").update(name=text, medical_expires=ON.replace(day=1), remarks=text)
    return book


def saved(folder: Path, *books: Workbook) -> list[Path]:
    """Books as files."""
    folder.mkdir(parents=True, exist_ok=True)
    return [book.save(folder / f"book-{number}.xlsx") for number, book in enumerate(books)]
