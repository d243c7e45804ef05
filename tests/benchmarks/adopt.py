"""How much of a foreign workbook is mapped right with no help, and how long a proposal takes as lists grow.

    python -m tests.benchmarks.adopt

Prints shares for the layouts that the matcher was tuned on and for those held out, each name of the list looked up in
the list without it, and medians of a proposal for lists of several lengths beside reading the same file.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path

from tests.adopt.layouts import HELD_OUT, TUNED
from tests.adopt.layouts.layout import Layout
from tests.adopt.measure import measure
from workbook_tools.adopt import KEEP, UNDECIDED, carry, open_source, propose
from workbook_tools.adopt.names import match_name
from workbook_tools.adopt.words import vocabulary

_ITEMS = ("Hand flares", "Para rockets", "Smoke floats", "Sea anchor", "Hatchets", "Bailer", "Compas", "Food rations")


def _shares(name: str, layouts: Mapping[str, Layout], folder: Path) -> None:
    columns: Counter[str] = Counter()
    items: Counter[str] = Counter()
    for key, layout in layouts.items():
        measured = measure(layout, layout.write(folder / f"{key}.xlsx"))
        columns += measured.columns
        items += measured.items
    print(f"{name:<10} {len(layouts)} layouts; columns {dict(columns)}; items {dict(items)}")


def _left_out() -> None:
    names = vocabulary().items
    said: Counter[str] = Counter()
    for name, found in names.items():
        match = match_name(name, {other: entry for other, entry in names.items() if other != name})
        right = found.entry in (match.to, match.suggested)
        applied = match.to not in (KEEP, UNDECIDED)
        kind = "applied" if applied else "asked" if match.to == UNDECIDED else "kept as written"
        said[kind if kind == "kept as written" else f"{kind} {'right' if right else 'wrong'}"] += 1
    print(f"each of {len(names)} names looked up in the list without it: {dict(said)}")


def _long(path: Path, lines: int) -> Path:
    import xlsxwriter

    with xlsxwriter.Workbook(path) as book:
        page = book.add_worksheet("LSA")
        page.write_row(0, 0, ["Location", "Description", "Qty", "Expiry date"])
        for row in range(1, lines + 1):
            page.write_row(row, 0, [f"Lifeboat {row % 4 + 1}", _ITEMS[row % 8], row % 7 + 1, f"{row % 28 + 1}/03/2028"])
    return path


def _median(work: Callable[[], object], rounds: int = 5) -> float:
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    """Print the shares and the times."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        _shares("tuned on", TUNED, folder)
        _shares("held out", HELD_OUT, folder)
        _left_out()
        for lines in (250, 1000, 4000):
            path = _long(folder / f"long{lines}.xlsx", lines)
            source = open_source(path)
            mapping = propose(source)
            read = _median(lambda path=path: open_source(path))  # type: ignore[misc]
            proposed = _median(lambda source=source: propose(source))  # type: ignore[misc]
            carried = _median(lambda source=source, mapping=mapping: carry(source, mapping))  # type: ignore[misc]
            print(
                f"{lines:>5} lines: read {read:.3f} s, propose {proposed:.3f} s ({proposed / read:.1f} x read), "
                f"carry {carried:.3f} s ({carried / read:.1f} x read)"
            )


if __name__ == "__main__":
    main()
