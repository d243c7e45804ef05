"""Calls a cell function as a host does: blanks, errors and ranges are dealt with here, for every function alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from workbook_tools.cells.registry import (
    ERROR_TEXTS,
    FUNCTIONS,
    NOT_AVAILABLE,
    VALUE_ERROR,
    Argument,
    CellError,
    ErrorCell,
    Function,
    Range,
    Scalar,
    Table,
    Value,
)

WHOLE_COLUMN_ROWS = 65_536  # a range so tall is a whole column, and is cut at its last filled row
WHOLE_ROW_COLUMNS = 1_024
TAKEN_WHOLE = ("numbers", "texts")

Given = Scalar | Range | Sequence[object]


def evaluate(name: str, args: Sequence[Given]) -> Value | Table:
    """The value of one call, as a spreadsheet hands its arguments over (see the registry's interface).

    Raises CellError with the error that the cell must show, and nothing else.
    """
    function = FUNCTIONS.get(name)
    if function is None:
        raise CellError(NOT_AVAILABLE, f"there is no function {name!r}")
    return run(function, args)


def run(function: Function, args: Sequence[Given]) -> Value | Table:
    """The value of one call of a function."""
    for value in args:
        if isinstance(value, tuple | list):
            return _run_with_ranges(function, args)
    return _single(function, args)


def _single(function: Function, args: Sequence[Given]) -> Value | Table:
    """One call without spreading: an error in an argument passes through, a blank one gives blank."""
    arguments = function.arguments
    if len(args) > len(arguments):
        raise CellError(VALUE_ERROR, f"{function.name} takes {len(arguments)} arguments")
    blank = len(args) < _needed(function)
    if blank and not args:
        raise CellError(VALUE_ERROR, f"{function.name} needs {_needed(function)} arguments")
    ready: list[Given] = []
    for value, argument in zip(args, arguments, strict=False):
        kind = type(value)
        if kind is float or kind is int:
            empty = argument.zero_is_blank and value == 0
        elif isinstance(value, str):
            if value in ERROR_TEXTS:
                raise CellError(ERROR_TEXTS[value], f"{argument.name} is an error")
            empty = not value or value.isspace()
        elif isinstance(value, tuple):
            empty = _all_blank(value, argument)
        else:
            empty = value is None
        if empty:
            value = None
            blank = blank or not argument.optional
        ready.append(value)
    if blank:
        return ""
    try:
        return function.call(*ready)
    except CellError:
        raise
    except Exception as error:  # a cell shows an error, never a traceback
        raise CellError(VALUE_ERROR, f"{function.name}: {error}") from error


def _needed(function: Function) -> int:
    needed = _NEEDED.get(function.name)
    if needed is None:
        needed = _NEEDED[function.name] = sum(not argument.optional for argument in function.arguments)
    return needed


_NEEDED: dict[str, int] = {}


def _blank(value: object) -> bool:
    return value is None or (isinstance(value, str) and not value.strip())


def _all_blank(grid: Range, argument: Argument) -> bool:
    """Whether a range taken whole holds nothing. Raises the error that one of its cells shows."""
    empty = True
    for row in grid:
        for cell in row:
            if isinstance(cell, str) and cell in ERROR_TEXTS:
                raise CellError(ERROR_TEXTS[cell], f"{argument.name} holds an error")
            empty = empty and _blank(cell)
    return empty


def _run_with_ranges(function: Function, args: Sequence[Given]) -> Value | Table:
    if len(args) > len(function.arguments):
        raise CellError(VALUE_ERROR, f"{function.name} takes {len(function.arguments)} arguments")
    ready: list[Given] = list(args)
    spreading: dict[int, Range] = {}
    whole: dict[int, Range] = {}
    for number, value in enumerate(args):
        if not isinstance(value, tuple | list):
            continue
        taken_whole = function.arguments[number].kind in TAKEN_WHOLE
        (whole if taken_whole else spreading)[number] = as_grid(value)
    for number, grid in _cut(whole).items():
        ready[number] = grid
    if not spreading:
        return _single(function, ready)
    if function.result == "table":
        for number, grid in spreading.items():
            ready[number] = _only_cell(grid, function.arguments[number])
        return _single(function, ready)
    return _spread(function, ready, _cut(spreading))


def as_grid(value: Sequence[object]) -> Range:
    """A range as a tuple of row tuples of one width; a flat sequence is one row."""
    if not value:
        return ((None,),)
    given: Any = value if isinstance(value[0], tuple | list) else (value,)
    rows: list[tuple[Scalar, ...]] = [tuple(row) for row in given]
    width = max(1, max(map(len, rows)))
    return tuple(row if len(row) == width else row + (None,) * (width - len(row)) for row in rows)


def _cut(grids: Mapping[int, Range]) -> dict[int, Range]:
    """Cut whole columns and rows at the last cell that is filled in any of the ranges."""
    if not grids:
        return {}
    height = max(len(grid) for grid in grids.values())
    width = max(len(grid[0]) for grid in grids.values())
    if height >= WHOLE_COLUMN_ROWS:
        height = max(1, max(_last_row(grid) for grid in grids.values() if len(grid) > 1))
    if width >= WHOLE_ROW_COLUMNS:
        width = max(1, max(_last_column(grid) for grid in grids.values() if len(grid[0]) > 1))
    return {
        number: grid if len(grid) <= height and len(grid[0]) <= width else tuple(row[:width] for row in grid[:height])
        for number, grid in grids.items()
    }


def _last_row(grid: Range) -> int:
    for number in range(len(grid), 0, -1):
        if not all(_blank(cell) for cell in grid[number - 1]):
            return number
    return 0


def _last_column(grid: Range) -> int:
    return max(
        (number + 1 for row in grid for number in range(len(row) - 1, -1, -1) if not _blank(row[number])), default=0
    )


def _only_cell(grid: Range, argument: Argument) -> Scalar:
    if len(grid) != 1 or len(grid[0]) != 1:
        raise CellError(VALUE_ERROR, f"{argument.name} takes one cell: the answer is a table already")
    return grid[0][0]


def _spread(function: Function, args: list[Given], grids: Mapping[int, Range]) -> Table:
    """The table of a call over ranges. A range of one row or column serves every row or column of the others."""
    height = max(len(grid) for grid in grids.values())
    width = max(len(grid[0]) for grid in grids.values())
    return tuple(tuple(_cell(function, args, grids, row, column) for column in range(width)) for row in range(height))


def _cell(function: Function, args: list[Given], grids: Mapping[int, Range], row: int, column: int) -> Value:
    for number, grid in grids.items():
        own_row, own_column = row if len(grid) > 1 else 0, column if len(grid[0]) > 1 else 0
        if own_row >= len(grid) or own_column >= len(grid[0]):
            return ErrorCell(NOT_AVAILABLE, "the ranges differ in size")
        args[number] = grid[own_row][own_column]
    try:
        value = _single(function, args)
    except CellError as error:
        return ErrorCell(error.kind, error.why)
    return ErrorCell(VALUE_ERROR, "no table in a table") if isinstance(value, tuple) else value
