"""Finds the line of headings, and what each of them names."""

from typing import Any

from workbook_tools.catalogue import normalise
from workbook_tools.columns import Column, Sheet
from workbook_tools.reading.load import Grid

# Headings are looked for in this many rows from the top.
HEADER_ROWS = 60


def heading(cell: Any, sheet: Sheet) -> Column | None:
    """The column a heading cell names, the star and what stands in brackets apart."""
    return exact_heading(cell, sheet) or heading_before_bracket(cell, sheet)


def exact_heading(cell: Any, sheet: Sheet) -> Column | None:
    """The column that a cell names in full, but for a star behind it."""
    if not isinstance(cell, str) or not cell.strip():
        return None
    return sheet.headings.get(normalise(cell.strip().rstrip("*")))


def heading_before_bracket(cell: Any, sheet: Sheet) -> Column | None:
    """'Quantity (pcs)' is Quantity; but 'Quantity (pcs)' beside a plain 'Quantity' is a column of their own."""
    if not isinstance(cell, str) or "(" not in cell:
        return None
    return sheet.headings.get(normalise(cell.split("(", 1)[0]))


def find_header(sheet: Sheet, grid: Grid) -> tuple[int, dict[str, int], list[tuple[int, Column]]] | None:
    """Row and columns of the heading line that names most columns, and headings that stand twice."""
    best: tuple[int, dict[str, int], list[tuple[int, Column]]] | None = None
    most = 1  # two columns at least must be named
    for number, line in enumerate(grid[:HEADER_ROWS]):
        if len(line) - line.count("") <= most or sum(1 for cell in line if isinstance(cell, str) and cell) <= most:
            continue  # it cannot name more
        columns, twice = columns_of(line, sheet)
        if len(columns) > most:
            best, most = (number, columns, twice), len(columns)
            if most == len(sheet.columns):
                break  # no line can name more
    return best


# Lines of headings met before, by the sheet's identity, which is kept: most ships head their columns alike.
_MOST_REMEMBERED = 500
_Named = tuple[dict[str, int], list[tuple[int, Column]]]
_remembered: dict[tuple[int, tuple[str, ...]], tuple[Sheet, _Named]] = {}


def columns_of(line: list[Any], sheet: Sheet) -> tuple[dict[str, int], list[tuple[int, Column]]]:
    """Column keys and indexes that a line of headings gives, and the headings that stand twice. Exact ones go first."""
    if not {str}.issuperset(map(type, line)) or sum(map(len, line)) > 2_000:
        return _columns_of(line, sheet)
    key = (id(sheet), tuple(line))
    met = _remembered.get(key)
    if met is None:
        if len(_remembered) >= _MOST_REMEMBERED:
            _remembered.clear()
        met = _remembered[key] = (sheet, _columns_of(line, sheet))
    columns, twice = met[1]
    return dict(columns), list(twice)


def _columns_of(line: list[Any], sheet: Sheet) -> _Named:
    columns: dict[str, int] = {}
    twice: list[tuple[int, Column]] = []
    for index, cell in enumerate(line):
        column = exact_heading(cell, sheet) if cell else None
        if column is not None and columns.setdefault(column.key, index) != index:
            twice.append((index, column))
    for index, cell in enumerate(line):
        if isinstance(cell, str) and "(" in cell and index not in columns.values():
            column = heading_before_bracket(cell, sheet)
            if column is not None and exact_heading(cell, sheet) is None:
                columns.setdefault(column.key, index)
    return columns, twice
