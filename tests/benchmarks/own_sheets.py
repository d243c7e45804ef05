"""What it costs to compare what a living workbook shows with the audit, and how that grows with the craft.

    python -m tests.benchmarks.own_sheets

Books with the room of the template and 4, 8 and 16 craft are built; processor time is measured, the least of ten runs:
of reading Status, Required and Coverage, of comparing (asked for the day of the book, and for another), of the whole
check; and of the whole check of the same record without calculated sheets, as a baseline. Asserts nothing.
"""

from __future__ import annotations

import tempfile
import time
import zipfile
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from tests.workbooks import ON, Workbook, clean
from workbook_tools.book import build
from workbook_tools.checks import Options, audit_book
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.own_answers import differences
from workbook_tools.reading import read_book
from workbook_tools.reading.own_sheets import find_own, read_own
from workbook_tools.reading.zipped import sheet_parts

CRAFT = (4, 8, 16)
RUNS = 10


def record(craft: int) -> Workbook:
    """A clean record with so many craft: further rafts beside the four of the ship."""
    book = clean()
    raft = book.find("craft", name="Raft P")
    for number in range(craft - len(book.rows["craft"])):
        book.add("craft", **{**raft, "name": f"Raft X{number + 1}", "serial": f"X{number + 1}", "certificate": ""})
    return book


def least_ms(work: Callable[[], object]) -> float:
    """Milliseconds of processor, the least of several runs after a first one."""
    work()
    best = float("inf")
    for _ in range(RUNS):
        begin = time.process_time()
        work()
        best = min(best, time.process_time() - begin)
    return best * 1000


def read_own_sheets(path: Path) -> None:
    """The reading of the calculated sheets alone, with what finds them."""
    with zipfile.ZipFile(path) as archive:
        sheets = dict(sheet_parts(archive))
        own = find_own(archive, sheets)
        if own is not None:
            read_own(archive, sheets, own)


def measure(book: Workbook, folder: Path) -> None:
    """Print the figures of one record."""
    living, plain = folder / "living.xlsx", book.save(folder / "plain.xlsx")
    living.write_bytes(build("", on=ON, rows={**book.rows, "ship": [book.ship]}))
    same, other = Options(ON), Options(ON + timedelta(days=60))
    audit, later = (audit_in_full(read_book(living), options)[0] for options in (same, other))
    own = audit.book.own
    assert own is not None
    assert own.required is not None
    reading, none = least_ms(lambda: read_own_sheets(living)), least_ms(lambda: read_own_sheets(plain))
    comparing, anew = least_ms(lambda: differences(audit, own)), least_ms(lambda: differences(later, own))
    whole, baseline = (least_ms(lambda path=path: audit_book(read_book(path), same)) for path in (living, plain))  # type: ignore[misc]
    print(
        f"{len(book.rows['craft']):3} craft, {len(own.required.lines):4} lines shown: reading {reading:5.1f} ms "
        f"(book without: {none:.1f}), comparing {comparing:4.1f} ms, asked for another day {anew:4.1f} ms; whole check "
        f"{whole:5.1f} ms, of the record alone {baseline:5.1f} ms: {whole / baseline:.2f} of it"
    )


def main() -> None:
    """Measure each number of craft."""
    for craft in CRAFT:
        with tempfile.TemporaryDirectory() as folder:
            measure(record(craft), Path(folder))


if __name__ == "__main__":
    main()
