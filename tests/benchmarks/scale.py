"""What 100,000 returns a month ask of machines and disks: a cluster beside one machine, and the archive's size.

    python -m tests.benchmarks.scale [BOOKS]

BOOKS (400) different books are built and checked on this machine with two workers, then by a cluster on this machine
of one worker process with two threads; then with an archive; then compared with the same books of a month later.
Printed: books a second by the clock, processor time a book and its ratio to one machine's in the same run, bytes a book
of each output, and how the most memory of the command on a cluster grows to four times the books (by other names).
Asserts nothing.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

import psutil

from tests.benchmarks import fleet_books
from tests.benchmarks.fleet import measure
from tests.workbooks import ON


@dataclass(frozen=True, slots=True)
class Rate:
    """Books a second by the clock, and milliseconds of processor a book, the start of the processes included."""

    a_second: float
    processor_ms: float

    @property
    def words(self) -> str:
        """The figures for people."""
        return f"{self.a_second:6.1f} books/s, {self.processor_ms:5.1f} ms of processor a book"

    def against(self, other: Rate) -> str:
        """The processor time as a ratio."""
        return f"{self.processor_ms / other.processor_ms:.2f} of the first's processor time"


def build(folder: Path, count: int, later: bool) -> None:
    """Different books with some faulty cells; later: of the month after, one lot in each renewed."""
    folder.mkdir()
    for number in range(count):
        book = fleet_books.ship(number, faulty=0.01)
        digits = f"{310000 + number:06}"
        check = sum(int(digit) * weight for digit, weight in zip(digits, range(7, 1, -1), strict=True)) % 10
        book.ship.update(imo_number=f"{digits}{check}", record_date=ON + timedelta(days=28) if later else ON)
        if later:
            book.rows["inventory"][40]["quantity"] = 1
        book.save(folder / f"{number:05}.xlsx")


def timed(*arguments: str | Path) -> tuple[float, int]:
    """Seconds by the clock of a davitbook command, and the most memory of its own process in bytes."""
    code = (
        "import resource, sys; from workbook_tools.cli import main\n"
        "try: main(sys.argv[1:])\n"
        "finally: print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024, file=sys.stderr)"
    )
    began = time.perf_counter()
    command = [sys.executable, "-c", code, *map(str, arguments)]
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, check=False)
    if done.returncode not in (0, 1, 3):
        raise SystemExit(done.stderr)
    return time.perf_counter() - began, int(done.stderr.splitlines()[-1])


def on_this_machine(folder: Path, count: int, more: list[str | Path]) -> Rate:
    """Check a folder with two workers."""
    asked = ["check", folder, "--on", ON.isoformat(), "--jobs", "2", "--format", "jsonl", *more]
    found = measure([sys.executable, "-m", "workbook_tools", *map(str, asked)])
    return Rate(count / found.seconds, 1000 * found.processor / count)


def on_a_cluster(folder: Path, fourfold: Path, count: int) -> tuple[Rate, int, int]:
    """Check a folder by a cluster of two threads; the command's memory for its books, and for four times as many."""
    import distributed

    start: Any = distributed.LocalCluster
    with start(n_workers=1, threads_per_worker=2, dashboard_address=None) as cluster:
        asked = ["--on", ON.isoformat(), "--format", "jsonl", "--cluster", cluster.scheduler_address]
        before = _processor()
        seconds, few = timed("check", folder, *asked)
        rate = Rate(count / seconds, 1000 * (_processor() - before) / count)
        _, many = timed("check", fourfold, *asked)
        return rate, few, many


def _processor() -> float:
    """Processor seconds of this process's children, those that have ended among them."""
    ended = os.times()
    total = ended.children_user + ended.children_system
    for process in psutil.Process().children(recursive=True):
        with suppress(psutil.Error):
            times = process.cpu_times()
            total += times.user + times.system + times.children_user + times.children_system
    return total


def size(folder: Path, pattern: str) -> int:
    """Bytes of the files of a pattern."""
    return sum(path.stat().st_size for path in folder.rglob(pattern))


def main() -> None:
    """Build, run and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("books", nargs="?", type=int, default=400)
    count = parser.parse_args().books
    with tempfile.TemporaryDirectory() as name:
        here = Path(name)
        build(here / "returns", count, later=False)
        build(here / "later", count, later=True)
        fourfold = here / "fourfold"
        fourfold.mkdir()
        for path in (here / "returns").iterdir():
            for again in range(4):
                os.link(path, fourfold / f"{again}-{path.name}")
        print(f"{count} books of {size(here / 'returns', '*') / count / 1000:.1f} KB; cores: {os.cpu_count()}")
        alone = on_this_machine(here / "returns", count, [])
        print(f"this machine, 2 workers:       {alone.words}")
        clustered, few, many = on_a_cluster(here / "returns", fourfold, count)
        print(f"a cluster of 2 threads here:   {clustered.words}, {clustered.against(alone)}")
        print(f"its command's memory: {few / 1e6:.0f} MB for {count} books, {many / 1e6:.0f} MB for {4 * count}")
        archived = on_this_machine(here / "returns", count, ["--archive", here / "archive"])
        print(f"this machine, with an archive: {archived.words}, {archived.against(alone)}")
        for table in ("books", "findings", "lots"):
            print(f"archive, {table}: {size(here / 'archive', f'{table}.parquet') / count:8.0f} bytes a book")
        lines = here / "all.jsonl"
        timed("check", here / "returns", "--on", ON.isoformat(), "--format", "jsonl", "--out", lines)
        print(f"JSON lines: {lines.stat().st_size / count:8.0f} bytes a book")
        seconds, memory = timed("compare", here / "returns", here / "later", "--jobs", "2", "--brief")
        print(f"compare, 2 processes: {count / seconds:.1f} ships/s, {memory / 1e6:.0f} MB in the command")


if __name__ == "__main__":
    main()
