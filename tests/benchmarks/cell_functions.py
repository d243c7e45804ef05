"""What a cell function costs: python -m tests.benchmarks.cell_functions.

Import: processor time of `import workbook_tools.cells` over that of a bare interpreter, the least of several runs,
beside `import csv, datetime`. Call: the least of several runs, after a first call that reads the rules.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import timeit

from tests.cells.case_table import cases
from workbook_tools.cells import FUNCTIONS, CellError, evaluate

RUNS = 11
CALLS = 2000


def import_ms(statement: str) -> float:
    """Processor time of a new interpreter that runs a statement, in milliseconds, the least of several runs."""
    times = []
    for _ in range(RUNS):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-c", statement], check=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        times.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return 1000 * min(times)


def call_us(name: str) -> float:
    """Microseconds of one call with scalars (or the ranges that the function takes), the least of several runs."""
    case = next(case for case in cases() if case.function == name and not case.error and case.expected != "")
    timer = timeit.Timer(lambda: evaluate(name, case.arguments))
    return min(timer.repeat(RUNS, CALLS)) / CALLS * 1e6


def element_us() -> float:
    """Microseconds an element of LSA_REQUIRED over a column of 10,000."""
    column = tuple((float(persons % 150 + 1),) for persons in range(10_000))
    timer = timeit.Timer(lambda: evaluate("LSA_REQUIRED", ["hand flare", "lifeboat", column]))
    return min(timer.repeat(3, 1)) / len(column) * 1e6


def main() -> None:
    """Print the figures."""
    bare = import_ms("pass")
    for statement in ("import csv, datetime", "import workbook_tools.cells"):
        print(f"{statement}: {import_ms(statement) - bare:.1f} ms over a bare interpreter")
    first = "from workbook_tools.cells import LSA_REQUIRED as f; f('hand flare', 'lifeboat', 36)"
    print(f"import and first call: {import_ms(first) - bare:.1f} ms over a bare interpreter")
    for name in FUNCTIONS:
        try:
            print(f"{name}: {call_us(name):.2f} us a call")
        except CellError as error:
            print(f"{name}: {error.kind}")
    print(f"LSA_REQUIRED over a column: {element_us():.2f} us an element")


if __name__ == "__main__":
    main()
