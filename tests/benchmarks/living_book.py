"""How long LibreOffice Calc takes to open and recalculate the living workbook, and how that grows.

Run: python -m tests.benchmarks.living_book. Prints seconds of the wall clock for books of a quarter, half and all the
room (30 craft, 200 crew, 2,000 lots, 1,000 routine entries), beside a book with the same lines and no calculated
sheet opened in the same office.
"""

from __future__ import annotations

import tempfile
import time
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl

from tests.addins.calc.office import Office, running
from workbook_tools.book import build

ON = date(2026, 11, 25)
FULL = {"craft": 30, "inventory": 2000, "crew": 200, "routine": 1000}
KINDS = ("lifeboat", "liferaft", "rescue boat", "lifeboat and rescue boat")
ITEMS = ("hand flare", "compass", "whistle", "bucket", "boat-hook", "rocket parachute flare", "fresh water")


def rows(share: float) -> dict[str, list[dict[str, Any]]]:
    """Lines that fill a share of the room."""
    count = {key: max(1, int(number * share)) for key, number in FULL.items()}
    return {
        "ship": [{"name": "Orrin Vale", "ship_type": "passenger ship", "voyage": "international"}],
        "craft": [
            {"name": f"Craft {number}", "kind": KINDS[number % 4], "persons": 30, "pack": "A", "stowage_height_m": 11}
            for number in range(count["craft"])
        ],
        "inventory": [
            {
                "place": f"Craft {number % count['craft']}",
                "item": ITEMS[number % len(ITEMS)],
                "quantity": number % 9 + 1,
                "expires": date(2026 + number % 3, 1 + number % 12, 15),
            }
            for number in range(count["inventory"])
        ],
        "crew": [
            {"number": number, "rank": "rating", "craft": f"Craft {number % count['craft']}"}
            for number in range(count["crew"])
        ],
        "routine": [
            {"task": "weekly inspection", "done": date(2026, 1 + number % 11, 1 + number % 28), "subject": "Craft 0"}
            for number in range(count["routine"])
        ],
    }


def _without_formulas(book: Path) -> Path:
    """The same book without the sheets that it calculates."""
    from workbook_tools.columns import CALCULATED_SHEETS

    plain = book.with_name(f"plain-{book.name}")
    content = openpyxl.load_workbook(book)
    for name in CALCULATED_SHEETS:
        if name in content.sheetnames:
            del content[name]
    content.save(plain)
    return plain


def _timed(office: Office, book: Path) -> tuple[float, float]:
    start = time.perf_counter()
    number = office.ask("open", str(book), False)
    opened = time.perf_counter() - start
    again = min(office.ask("recalculate", number, 2))
    office.ask("close", number)
    return opened, again


def main() -> None:
    """Print the figures."""
    print("share  lots   made s   KB     open s   recalculate s   open without formulas s")
    with tempfile.TemporaryDirectory() as folder, running(Path(folder) / "profile") as office:
        for share in (0.25, 0.5, 1.0):
            room = {key: max(4, int(number * share)) for key, number in FULL.items()}
            book = Path(folder) / f"book{int(share * 100)}.xlsx"
            start = time.process_time()
            book.write_bytes(build("Orrin Vale", on=ON, rows=rows(share), room=room))
            made = time.process_time() - start
            opened, again = _timed(office, book)
            plain, _ = _timed(office, _without_formulas(book))
            kilobytes = book.stat().st_size // 1000
            print(
                f"{share:>5}  {room['inventory']:>4}  {made:>7.1f}  {kilobytes:>5}  {opened:>7.1f}"
                f"  {again:>14.2f}  {plain:>23.1f}"
            )


if __name__ == "__main__":
    main()
