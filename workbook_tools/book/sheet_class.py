"""Sheets on which formulas are written as they stand."""

from __future__ import annotations

from typing import Any


def plain_sheet() -> Any:
    """XlsxWriter's sheet without its search of every formula for functions younger than Excel 2010.

    We use none, and the search takes thirty regular expressions a formula: nine tenths of the time of a book of 40,000
    formulas.
    """
    from xlsxwriter.worksheet import Worksheet

    return type("PlainSheet", (Worksheet,), {"_prepare_formula": _as_written})


def _as_written(_: Any, formula: str, expand_future_functions: bool = False) -> str:
    return formula.removeprefix("=")
