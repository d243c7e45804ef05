"""How fast a fleet is checked, beside merely reading its books and beside a plain script, in one run.

    python -m tests.benchmarks.fleet [BOOKS] [--many N] [--living]

BOOKS (500) different books are built, every tenth saved anew by LibreOffice, and as many with 5 % faulty cells.
--many N checks N books as well (10,000: other names of the same files), for the memory. --living checks full living
workbooks with 2,000 lots as well.

Of each command: books a second by the clock, the start apart; processor time a book, which says the same on a machine
that is busy with other things; and the most memory that all its processes had together (what they share is counted
once). Asserts nothing.
"""

from __future__ import annotations

import argparse
import gc
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psutil

from tests.benchmarks import fleet_books
from tests.workbooks import ON

PROCESSES = 2
FEW = 20  # books of the short run by which the start is told from the work
PLAIN_BOOKS = 40


@dataclass(frozen=True, slots=True)
class Measured:
    """One command over a folder: seconds by the clock, processor seconds, bytes at most."""

    seconds: float
    processor: float
    most_bytes: int


def measure(command: Sequence[str]) -> Measured:
    """Run a command and look at its processes as it goes."""
    begun = time.perf_counter()
    run = psutil.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    processor: dict[int, float] = {}
    most = 0
    while run.poll() is None:
        total = 0
        for process in _family(run):
            try:
                times = process.cpu_times()
                processor[process.pid] = times.user + times.system
                total += process.memory_full_info().pss
            except (psutil.Error, AttributeError):
                continue
        most = max(most, total)
        time.sleep(0.25)  # looking at the memory holds a process up
    return Measured(time.perf_counter() - begun, sum(processor.values()), most)


def _family(run: Any) -> list[Any]:
    try:
        return [run, *run.children(recursive=True)]
    except psutil.Error:
        return []


def check_command(folder: Path, scratch: Path) -> list[str]:
    """The full check of a folder."""
    out = ["--format", "jsonl", "--out", str(scratch / "out.jsonl"), "--on", ON.isoformat(), "--jobs", str(PROCESSES)]
    return [sys.executable, "-m", "workbook_tools", "check", str(folder), *out]


def other_command(what: str, folder: Path) -> list[str]:
    """One of what the check is measured against."""
    return [sys.executable, "-m", "tests.benchmarks.fleet_others", what, str(folder), str(PROCESSES)]


@dataclass(frozen=True, slots=True)
class Rate:
    """Books a second by the clock, milliseconds of processor a book, seconds to start, bytes at most."""

    a_second: float
    processor_ms: float
    start: float
    most_bytes: int

    @property
    def words(self) -> str:
        """The figures for people."""
        return (
            f"{self.a_second:7.1f} books/s   {self.processor_ms:6.1f} ms of processor a book "
            f"({PROCESSES * 1000 / self.processor_ms:6.1f} books/s on {PROCESSES} free cores)   "
            f"start {self.start:4.1f} s   at most {self.most_bytes / 1e6:4.0f} MB"
        )


def rate(command: Callable[[Path], list[str]], folder: Path, few: Path, books: int, few_books: int) -> Rate:
    """Measure a command over a folder and over a small one: the difference is the work."""
    short, long = measure(command(few)), measure(command(folder))
    more = books - few_books
    a_second = more / max(long.seconds - short.seconds, 1e-9)
    processor = 1000 * max(long.processor - short.processor, 1e-9) / more
    return Rate(a_second, processor, short.seconds - few_books / a_second, max(short.most_bytes, long.most_bytes))


def stages(paths: Sequence[Path]) -> dict[str, float]:
    """Milliseconds of processor that each stage of the check takes for a book, in this process."""
    from tests.benchmarks.fleet_others import read_only
    from workbook_tools.checks import Options
    from workbook_tools.checks.audit import audit_read
    from workbook_tools.reading import load, read_raw
    from workbook_tools.reports import parts
    from workbook_tools.schema import validate

    options = Options(ON)
    taken: dict[str, float] = {}

    def timed(name: str, work: Callable[[], list[Any]]) -> list[Any]:
        begun = time.process_time()
        found = work()
        taken[name] = 1000 * (time.process_time() - begun) / len(paths)
        return found

    def once() -> None:
        timed("calamine alone", lambda: [read_only(str(path)) for path in paths])
        raw = timed("opening: looking into the file, and calamine", lambda: [load(path) for path in paths])
        books = timed("typing the cells", lambda: [read_raw(entry) for entry in raw])
        timed("schema, stacked", lambda: [validate(books)])  # type: ignore[func-returns-value]
        results = timed("checks", lambda: [audit_read(book, options)[1] for book in books])
        timed("wording a line of JSON", lambda: [parts.worded(result, "jsonl") for result in results])

    once()  # warms up
    gc.collect()
    gc.disable()  # as in a worker
    once()
    gc.enable()
    return taken


def main(books: int, many: int, living: bool) -> None:
    """Build the books, measure, print."""
    with tempfile.TemporaryDirectory() as text:
        scratch = Path(text)
        kinds = {"clean": 0.0, "5 % faulty": fleet_books.FAULTY_SHARE}
        folders = {name: scratch / f"books-{number}" for number, name in enumerate(kinds)}
        for name, share in kinds.items():
            paths = fleet_books.write_books(folders[name], books, share, office_share=0.1)
            few = scratch / f"{folders[name].name}-few"
            fleet_books.multiply(paths[:FEW], few, FEW)
            plain = scratch / f"{folders[name].name}-plain"
            fleet_books.multiply(paths[:PLAIN_BOOKS], plain, PLAIN_BOOKS)
            kilobytes = sum(path.stat().st_size for path in paths) / len(paths) / 1000
            print(f"{books} books, {name}, {kilobytes:.0f} KB each")
            check = rate(lambda folder: check_command(folder, scratch), folders[name], few, books, FEW)
            read = rate(lambda folder: other_command("read", folder), folders[name], few, books, FEW)
            script = rate(lambda folder: other_command("plain", folder), plain, few, PLAIN_BOOKS, FEW)
            print(f"  calamine read-only  {read.words}")
            print(f"  full check          {check.words}")
            print(f"  plain script        {script.words}")
            print(f"  full check / read-only: {check.a_second / read.a_second:.2f} by the clock, ", end="")
            print(f"{read.processor_ms / check.processor_ms:.2f} by the processor")
            print(f"  full check / plain script: {script.processor_ms / check.processor_ms:.1f} times as fast")
            for stage, taken in stages(paths[:100]).items():
                print(f"    {taken:6.2f} ms  {stage}")
        if many:
            paths = fleet_books.multiply(sorted(folders["clean"].glob("*.xlsx")), scratch / "many", many)
            whole = measure(check_command(scratch / "many", scratch))
            print(f"{many} books: {many / whole.seconds:.1f} books/s, at most {whole.most_bytes / 1e6:.0f} MB")
        if living:
            _living(scratch)


def _living(scratch: Path) -> None:
    from workbook_tools.book import build

    plan = fleet_books.ship(1)
    rows = {**plan.rows, "ship": [plan.ship], "inventory": (plan.rows["inventory"] * 10)[:2000]}
    first = scratch / "living.xlsx"
    first.write_bytes(build(str(plan.ship["name"]), rows=rows))
    few, folder = scratch / "living-few", scratch / "living-books"
    fleet_books.multiply([first], few, FEW)
    fleet_books.multiply([first], folder, 5 * FEW)
    print(f"living workbook with 2,000 lots, {first.stat().st_size / 1000:.0f} KB")
    check = rate(lambda path: check_command(path, scratch), folder, few, 5 * FEW, FEW)
    read = rate(lambda path: other_command("read", path), folder, few, 5 * FEW, FEW)
    print(f"  calamine read-only  {read.words}")
    print(f"  full check          {check.words}")
    print(f"  full check / read-only: {read.processor_ms / check.processor_ms:.2f} by the processor")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("books", nargs="?", type=int, default=500)
    parser.add_argument("--many", type=int, default=0, metavar="N")
    parser.add_argument("--living", action="store_true")
    given = parser.parse_args()
    main(given.books, given.many, given.living)
