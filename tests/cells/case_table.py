"""The one table of cases: every route (the neutral layer, Calc, Excel's call path, LAMBDA names) runs the same rows.

cases.csv holds, line by line: function, arguments (JSON; a range is a list of row lists, null a blank cell), expected
(JSON: a number, a text, or a list of row lists for a table), error (the kind the cell must show; expected is then
empty), source. In a table that came of a range, a cell that cannot be answered is the text of its error. Numbers agree
when they differ by no more than TOLERANCE of the larger.
"""

from __future__ import annotations

import csv
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
FILE = HERE / "cases.csv"
COLUMNS = ("function", "arguments", "expected", "error", "source")
TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Case:
    """One call, and the value or the kind of error it must give."""

    function: str
    arguments: tuple[Any, ...]  # scalars, and ranges as tuples of row tuples
    expected: Any  # float, str or table; None where an error is expected
    error: str  # '' or '#VALUE!', '#N/A', '#NUM!'
    source: str

    @property
    def name(self) -> str:
        """The call as it is written in a cell, for messages."""
        return f"{self.function}({'; '.join(map(repr, self.arguments))})"


def frozen(value: Any) -> Any:
    """Lists as tuples, whole numbers as floats: as the hosts hand values over."""
    if isinstance(value, list):
        return tuple(frozen(part) for part in value)
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


@cache
def cases() -> tuple[Case, ...]:
    """Every case, in the order of the file."""
    with FILE.open(encoding="utf-8", newline="") as file:
        return tuple(_case(row) for row in csv.DictReader(file))


def _case(row: dict[str, str]) -> Case:
    expected = frozen(json.loads(row["expected"])) if row["expected"] else None
    return Case(row["function"], frozen(json.loads(row["arguments"])), expected, row["error"], row["source"])


def agrees(got: Any, expected: Any) -> bool:
    """Whether a value is the one expected: the same shape, the same texts, numbers within TOLERANCE."""
    if isinstance(expected, tuple):
        return (
            isinstance(got, tuple)
            and len(got) == len(expected)
            and all(agrees(a, b) for a, b in zip(got, expected, strict=True))
        )
    if isinstance(expected, float):
        if isinstance(got, bool) or not isinstance(got, int | float):
            return False
        return abs(got - expected) <= TOLERANCE * max(1.0, abs(expected))
    return isinstance(got, str) and str(got) == expected
