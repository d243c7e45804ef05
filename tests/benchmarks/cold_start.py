"""How long a cold `davitbook check` of one book takes, beside importing pandas and pandera in the same run.

    python -m tests.benchmarks.cold_start [ROUNDS]

Prints medians in seconds and the ratio; asserts nothing, for machines differ and are noisy.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.workbooks import clean


def _seconds(command: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True)
    return time.perf_counter() - start


def main(rounds: int) -> None:
    """Time each command in turn, so that a slow spell of the machine falls on all of them."""
    with tempfile.TemporaryDirectory() as folder:
        book = clean().save(Path(folder) / "book.xlsx")
        module = [sys.executable, "-m", "workbook_tools"]
        commands = {
            "python -c pass": [sys.executable, "-c", "pass"],
            "import pandas, pandera": [sys.executable, "-c", "import pandas, pandera.pandas"],
            "davitbook --help": [*module, "--help"],
            "davitbook check, one book": [*module, "check", str(book), "--on", "2026-11-25"],
        }
        times: dict[str, list[float]] = {name: [] for name in commands}
        for _ in range(rounds + 1):
            for name, command in commands.items():
                times[name].append(_seconds(command))
    medians = {name: statistics.median(values[1:]) for name, values in times.items()}  # the first round warms up
    for name, median in medians.items():
        print(f"{name:<28} {median:7.3f} s")
    ratio = medians["davitbook check, one book"] / medians["import pandas, pandera"]
    print(f"{'check / import':<28} {ratio:7.2f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 7)
