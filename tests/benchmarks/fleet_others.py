"""What the fleet's check is measured against: merely reading the books, and the plain script most people would write.

    python -m tests.benchmarks.fleet_others read|plain FOLDER PROCESSES

Prints nothing: the time is taken from outside.
"""

from __future__ import annotations

import sys
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from pathlib import Path
from typing import Any

from workbook_tools.columns import SHEETS


def read_only(path: str) -> int:
    """Read every cell of a book with calamine."""
    import python_calamine

    with python_calamine.CalamineWorkbook.from_path(path) as book:
        return sum(len(book.get_sheet_by_name(name).to_python(skip_empty_area=False)) for name in book.sheet_names)


@cache
def _plain_schema(sheet_key: str) -> Any:
    import pandera.pandas as pa

    kinds: dict[str, Any] = {"number": float, "whole": float, "date": "datetime64[ns]", "expiry": "datetime64[ns]"}
    sheet = next(entry for entry in SHEETS if entry.key == sheet_key)
    columns = {
        column.title: pa.Column(
            kinds.get(column.kind, str),
            checks=[pa.Check.isin(column.choices)] if column.choices else [],
            nullable=True,
            required=False,
        )
        for column in sheet.columns
    }
    return pa.DataFrameSchema(columns, coerce=True)


def plain(path: str) -> int:
    """pandas.read_excel, and one pandera schema a sheet that coerces: failures gathered, no address, no rule."""
    import pandas as pd
    import pandera.errors

    failures = 0
    for name, frame in pd.read_excel(path, sheet_name=None).items():
        sheet = next((entry for entry in SHEETS if entry.name == name), None)
        if sheet is not None and sheet.layout == "table":
            try:
                _plain_schema(sheet.key).validate(frame, lazy=True)
            except pandera.errors.SchemaErrors as errors:
                failures += len(errors.failure_cases)
    return failures


def main(what: str, folder: str, processes: int) -> None:
    """Do one of the two over a folder."""
    work = {"read": read_only, "plain": plain}[what]
    paths = sorted(map(str, Path(folder).glob("*.xlsx")))
    with ProcessPoolExecutor(processes) as pool:
        list(pool.map(work, paths, chunksize=10))


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))
