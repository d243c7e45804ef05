"""How long a cell function takes in Calc, beside a native formula in the same run. Prints; asserts nothing.

    python -m tests.benchmarks.calc_functions

Each figure is the median of several hard recalculations of one sheet of 10,000 cells, less the time of the same sheet
with nothing but the arguments' own cells.
"""

from __future__ import annotations

import statistics
import tempfile
from collections.abc import Callable
from pathlib import Path

import xlsxwriter

from tests.addins.calc.office import Office, running
from workbook_tools.addins.calc import build

CELLS = 10_000
TIMES = 7
WHOLE_COLUMN_TIMES = 3

# What is written in each row; {row} is the row's own number. Column A holds persons, B dates.
SINGLE = {
    "native: =MAX(2,ROUNDUP(A1/10,0))": "=MAX(2,ROUNDUP(A{row}/10,0))",
    "native: =IF(B1<46351,...)": '=IF(B{row}<46351,"expired",IF(B{row}-46351<=30,"due","in date"))',
    "LSA_TPA(A1)": "=LSA_TPA(A{row})",
    'LSA_REQUIRED("hand flare","lifeboat",A1)': '=LSA_REQUIRED("hand flare","lifeboat",A{row})',
    "LSA_STATUS(B1,46351)": "=LSA_STATUS(B{row},46351)",
}
ARRAY = {
    "native: {=CEILING(A1:A10000/10,1)}": "=CEILING(A1:A10000/10,1)",
    "{=LSA_TPA(A1:A10000)}": "=LSA_TPA(A1:A10000)",
    '{=LSA_REQUIRED("hand flare","lifeboat",A1:A10000)}': '=LSA_REQUIRED("hand flare","lifeboat",A1:A10000)',
    "{=LSA_STATUS(B1:B10000,46351)}": "=LSA_STATUS(B1:B10000,46351)",
}


def _book(path: Path, write: Callable[[xlsxwriter.worksheet.Worksheet], None]) -> None:
    with xlsxwriter.Workbook(str(path)) as workbook:
        sheet = workbook.add_worksheet("Sheet1")
        sheet.write_column(0, 0, [number % 150 + 1 for number in range(CELLS)])
        sheet.write_column(0, 1, [46_000 + number % 800 for number in range(CELLS)])
        write(sheet)


def _singles(formula: str) -> Callable[[xlsxwriter.worksheet.Worksheet], None]:
    def write(sheet: xlsxwriter.worksheet.Worksheet) -> None:
        for row in range(CELLS):
            sheet.write_formula(row, 2, formula.format(row=row + 1), None, 0)

    return write


def _array(formula: str) -> Callable[[xlsxwriter.worksheet.Worksheet], None]:
    return lambda sheet: sheet.write_array_formula(0, 2, CELLS - 1, 2, f"{{{formula}}}", None, 0)


def _one(formula: str) -> Callable[[xlsxwriter.worksheet.Worksheet], None]:
    return lambda sheet: sheet.write_formula(0, 2, formula, None, 0)


def _seconds(
    office: Office, folder: Path, write: Callable[[xlsxwriter.worksheet.Worksheet], None], times: int
) -> float:
    path = folder / "book.xlsx"
    _book(path, write)
    with office.document(path) as document:
        office.ask("recalculate", document, 1)  # rules are read on the first call
        seconds: list[float] = office.ask("recalculate", document, times)
    return statistics.median(seconds)


def main() -> None:
    """Install the extension in a profile of its own, measure and print."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with running(folder / "profile") as office:
            office.ask("install", str(build(folder)))
        with running(folder / "profile") as office:
            empty = _seconds(office, folder, lambda sheet: None, TIMES)
            print(f"{CELLS:,} formulas in single cells")
            for title, formula in SINGLE.items():
                _tell(title, _seconds(office, folder, _singles(formula), TIMES) - empty)
            print(f"one array formula over {CELLS:,} cells")
            for title, formula in ARRAY.items():
                _tell(title, _seconds(office, folder, _array(formula), TIMES) - empty)
            seconds = _seconds(office, folder, _one("=LSA_COVER_PCT(25,A:A)"), WHOLE_COLUMN_TIMES) - empty
            print(f"one formula over a whole column: LSA_COVER_PCT(25,A:A)  {seconds:.2f} s")


def _tell(title: str, seconds: float) -> None:
    print(f"    {title:<52} {seconds * 1e3:8.1f} ms  {seconds / CELLS * 1e6:6.2f} us each")


if __name__ == "__main__":
    main()
