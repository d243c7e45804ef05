"""A sheet that uses each cell function once, with the value expected beside it: the functions' own first examples."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from example_books.plan import Formula
from workbook_tools.cells import FUNCTIONS

SHEET = "Functions"
HEADINGS = ("What is asked", "Formula", "Value", "Expected")
_DAY_ZERO = date(1899, 12, 30)


def rows() -> list[list[Any]]:
    """The headings, and a line for each function."""
    lines: list[list[Any]] = [list(HEADINGS)]
    for function in FUNCTIONS.values():
        text, value = function.examples[0]
        shown: Any = _DAY_ZERO + timedelta(days=int(value)) if function.result == "date" else value
        lines.append([function.help, text, Formula(text, shown), shown])
    return lines
