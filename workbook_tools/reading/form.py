"""Reads a form: a value beside each label, or below it where the labels stand in a row."""

from typing import Any

from workbook_tools.columns import Column, Sheet
from workbook_tools.reading.book import Book, Row, Table
from workbook_tools.reading.headings import heading
from workbook_tools.reading.lines import is_blank
from workbook_tools.reading.load import Grid, RawBook
from workbook_tools.reading.rows import type_into

# A value stands in the cell beside its label, or so many cells further where a form has merged or empty columns.
_FURTHEST_VALUE = 3

# Labels of a form: the cells that hold them, with what each asks.
Labels = dict[tuple[int, int], Column]


def read_form(sheet: Sheet, raw: RawBook, name: str, book: Book) -> Table | None:
    """Read the answers of a form into one row; None when it has no label that we know."""
    grid, errors = raw.sheets[name], raw.errors.get(name, {})
    table = Table(sheet, name, {}, [])
    row = Row(0, {})
    labels = find_labels(sheet, grid)
    down, right = _where_values_stand(grid, labels)
    for (number, index), column in labels.items():
        if row.get(column.key) is not None or column.key in row.unclear:
            continue
        at = (number + down, index + right)
        table.form_cells[column.key] = at
        value = None if at in labels else _cell(grid, *at)
        type_into(row, column, value, errors.get(at), table, book)
    if not table.form_cells:
        return None
    table.rows.append(row)
    return table


def find_labels(sheet: Sheet, grid: Grid) -> Labels:
    """The labels of a form. An answer may read like one: 'IMO' beside 'Rule set' is the answer."""
    labels: Labels = {}
    for number, line in enumerate(grid):
        for index, cell in enumerate(line):
            column = heading(cell, sheet)
            if column is None:
                continue
            asks = next(
                (labels[number, at] for at in _left_of(index) if not is_blank(line[at]) and (number, at) in labels),
                None,
            )
            if asks is None or asks is column or not asks.choices or asks.names.find(cell) is None:
                labels[number, index] = column
    return labels


def _left_of(index: int) -> range:
    return range(index - 1, max(-1, index - 1 - _FURTHEST_VALUE), -1)


def _where_values_stand(grid: Grid, labels: Labels) -> tuple[int, int]:
    """How far below and right of their labels the values stand.

    The nearest column in which any label has something that is no label; the row below where none has and several
    labels stand in one row; else the cell beside.
    """
    for distance in range(1, _FURTHEST_VALUE + 1):
        if any(_has_value(grid, labels, (number, index), (number, index + distance)) for number, index in labels):
            return 0, distance
    in_rows = [number for number, _ in labels]
    if any(
        in_rows.count(number) > 1 and _has_value(grid, labels, (number, index), (number + 1, index))
        for number, index in labels
    ):
        return 1, 0
    return 0, 1


def _has_value(grid: Grid, labels: Labels, label: tuple[int, int], at: tuple[int, int]) -> bool:
    """Whether a cell answers a label. Our own help beside it is no answer: a form may have none at all yet."""
    cell = _cell(grid, *at)
    return at not in labels and not is_blank(cell) and cell != labels[label].help


def _cell(grid: Grid, number: int, index: int) -> Any:
    return grid[number][index] if number < len(grid) and index < len(grid[number]) else None
