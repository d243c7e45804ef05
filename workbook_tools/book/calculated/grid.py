"""A block of formulas, one row like the next: each column declared once by a formula that names other columns.

In a formula `[key]` is the cell of that column in the same row, `[key:]` the whole column of this block; where no
column has the key, it is a place that another sheet has made known under that name. `[key^]` is the cell above.
`{sheet.column}` is what stands in that column of an input sheet in the formula's own row, `{ship.column}` an answer
of the Ship sheet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from workbook_tools.book.calculated.writer import CalculatedBook, block, cell, quoted
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.columns import sheet
from workbook_tools.reading.address import column_letters

_MARK = re.compile(r"\[([^\]:^]+)([:^]?)\]|\{(\w+)\.(\w+)\}")
_ROW, _ABOVE = "\0", "\1"  # stand for the formula's own row and the row above until the formula is written


@dataclass(frozen=True, slots=True)
class Figured:
    """One column of a block. width None: as it is."""

    key: str
    heading: str
    formula: str
    width: float = 10
    format: str = "plain"


@cache
def _input_columns(key: str) -> dict[str, int]:
    return {column.key: index for index, column in enumerate(sheet(key).columns)}


def _input_place(calc: CalculatedBook, key: str, column: str) -> str:
    """What stands in a cell of an input sheet, by the defined name of its column or cell."""
    contract, name = sheet(key), f"in.{key}.{column}"
    if contract.layout == "form":
        calc.names[name] = cell(contract.name, FIRST_ROW + _input_columns(key)[column], 1)
        return calc.short(name)
    calc.names[name] = input_column(key, column)
    return f"INDEX({calc.short(name)},ROW())"


def input_column(key: str, column: str) -> str:
    """A whole column of an input sheet."""
    letters = column_letters(_input_columns(key)[column])
    return f"{quoted(sheet(key).name)}!${letters}:${letters}"


_REACH = 10_000  # rows that are looked at where a whole column would be slow: five times the room of the longest sheet


def input_reach(key: str, column: str) -> str:
    """A column of an input sheet as far as anybody types."""
    letters = column_letters(_input_columns(key)[column])
    return f"{quoted(sheet(key).name)}!${letters}$1:${letters}${_REACH}"


def number_read(key: str, column: str) -> str:
    """The number in a cell of an input sheet; '' where there is none within the bounds of its column."""
    declared = sheet(key).column(column)
    here = f"{{{key}.{column}}}"
    bounds = [f"{here}>{declared.above:g}"] if declared.above is not None else []
    bounds += [f"{here}>={declared.minimum:g}"] if declared.minimum is not None else []
    bounds += [f"{here}<={declared.maximum:.0f}"] if declared.maximum is not None else []
    inside = f'IF(AND({",".join(bounds)}),{here},"")' if bounds else here
    return f'IF(ISNUMBER({here}),{inside},"")'


def place_names(formula: str, calc: CalculatedBook, columns: dict[str, int], own: Callable[[int], str]) -> str:
    """A formula with its names replaced by places; the formula's own row still stands as a mark."""

    def replace(match: re.Match[str]) -> str:
        if match[3]:
            return _input_place(calc, match[3], match[4])
        name, suffix = match[1], match[2]
        if name not in columns:
            return calc.short(name)
        if suffix == ":":
            return own(columns[name])
        return f"${column_letters(columns[name])}{_ABOVE if suffix == '^' else _ROW}"

    return _MARK.sub(replace, formula)


def announce(
    calc: CalculatedBook, title: str, name: str, columns: Sequence[Figured], rows: int, first: int = FIRST_ROW
) -> None:
    """Make the columns of a block known as name.key before it is written, for those written earlier."""
    for index, column in enumerate(columns):
        calc.names[f"{name}.{column.key}"] = block(title, index, first, first + rows - 1)


def write_grid(
    calc: CalculatedBook,
    page: Any,
    name: str,
    columns: Sequence[Figured],
    first: int,
    rows: int,
    heading_row: int | None = None,
) -> None:
    """Write the block from row `first` on, and make its columns known as name.key. Rows are counted from 0."""
    places = {column.key: index for index, column in enumerate(columns)}
    last = first + rows - 1
    title = page.get_name()
    announce(calc, title, name, columns, rows, first)
    for index, column in enumerate(columns):
        cell_format = getattr(calc.formats, column.format)
        if heading_row is not None:
            page.write(heading_row, index, column.heading, calc.formats.optional)
        page.set_column(index, index, column.width, cell_format)
        formula = place_names(column.formula, calc, places, lambda place: _own_block(place, first, last))
        calc.column(
            page, first, last, index, formula.replace(_ROW, str(first + 1)).replace(_ABOVE, str(first)), cell_format
        )


def _own_block(column: int, first: int, last: int) -> str:
    letters = column_letters(column)
    return f"${letters}${first + 1}:${letters}${last + 1}"


def resolve(calc: CalculatedBook, formula: str) -> str:
    """A single formula with its names replaced by places."""
    return place_names(formula, calc, {}, lambda _: "")
