"""Finds the tables of a mapping again in a workbook: moved rows are followed, a changed layout is named."""

from __future__ import annotations

from dataclasses import dataclass, replace

from workbook_tools.adopt.blocks import headings_of
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import NONE, AnswerMap, Fixed, Mapping, TableMap
from workbook_tools.adopt.source import Page, Source
from workbook_tools.reading.address import address, column_letters, split


class LayoutChanged(Exception):
    """A workbook that is no longer laid out as its mapping says; each text names sheet, cell and what changed."""

    def __init__(self, changes: list[str]) -> None:
        super().__init__("; ".join(changes))
        self.changes = changes


@dataclass
class Located:
    """The tables and answers of a mapping where they stand now, and what has moved or is new."""

    tables: list[TableMap]
    answers: list[AnswerMap]
    notes: list[str]


def locate(source: Source, mapping: Mapping) -> Located:
    """Where everything stands now. Raises LayoutChanged when a heading, a title or a sheet is not what it was."""
    changes: list[str] = []
    notes: list[str] = []
    tables = [
        found for table in mapping.tables if (found := _table(source, mapping, table, changes, notes)) is not None
    ]
    answers = [_answer(source, answer, changes, notes) for answer in mapping.answers]
    if changes:
        raise LayoutChanged(changes)
    known = {table.sheet for table in mapping.tables} | {answer.sheet for answer in mapping.answers}
    for name in source.pages:
        if name not in known and any(place[0] == name for place in source.filled()):
            notes.append(f"sheet {name!r} is in no table of the mapping: none of its cells is carried over")
    return Located(tables, [answer for answer in answers if answer is not None], notes)


def _table(source: Source, mapping: Mapping, table: TableMap, changes: list[str], notes: list[str]) -> TableMap | None:
    page = source.pages.get(table.sheet)
    if page is None:
        seen = ", ".join(repr(name) for name in source.pages)
        changes.append(f"there is no sheet {table.sheet!r} any more (sheets: {seen})")
        return None
    if _heads(page, table, table.first_heading):
        shift = 0
    else:
        like = [other for other in mapping.tables if other.sheet == table.sheet and _same_headings(other, table)]
        rows = [row for row in range(len(page.grid)) if _heads(page, table, row)]
        if not rows or (len(like) > 1 and len(rows) != len(like)):
            if table.match.to != NONE:
                changes.append(_what_changed(page, table))
            return None
        row = rows[like.index(table)] if len(rows) == len(like) else rows[0]
        shift = row - table.first_heading
        notes.append(f"sheet {table.sheet!r}: the headings of row {table.first_heading + 1} stand in row {row + 1} now")
    moved = replace(table, first_heading=table.first_heading + shift, last_heading=table.last_heading + shift)
    moved.fixed = [_moved(fixed, shift) for fixed in table.fixed]
    for fixed in moved.fixed:
        there = page.text(*(split(fixed.cell) or (0, 0))) if fixed.cell else table.sheet
        if fixed.text and fold(there) != fold(fixed.text) and table.match.to != NONE:
            changes.append(f"{table.sheet}!{fixed.cell}: {fixed.text!r} stood here, now {there!r}")
    _name_new_columns(page, moved, notes)
    return moved


def _moved(fixed: Fixed, shift: int) -> Fixed:
    place = split(fixed.cell) if fixed.cell else None
    return replace(fixed, cell=address(place[0] + shift, place[1])) if place else fixed


def _same_headings(one: TableMap, other: TableMap) -> bool:
    return [(column.index, fold(column.heading)) for column in one.columns] == [
        (column.index, fold(column.heading)) for column in other.columns
    ]


def _here(page: Page, table: TableMap, row: int) -> dict[int, str]:
    last = row + table.last_heading - table.first_heading
    return headings_of(page, row, last, [column.index for column in table.columns])


def _heads(page: Page, table: TableMap, row: int) -> bool:
    if row >= len(page.grid):
        return False
    here = _here(page, table, row)
    return all(fold(here[column.index]) == fold(column.heading) for column in table.columns)


def _what_changed(page: Page, table: TableMap) -> str:
    here = _here(page, table, table.first_heading) if table.first_heading < len(page.grid) else {}
    row = table.first_heading
    for column in table.columns:
        now = here.get(column.index, "")
        if fold(now) != fold(column.heading):
            elsewhere = [
                column_letters(index)
                for index in range(len(page.grid[row]) if row < len(page.grid) else 0)
                if column.heading and fold(page.text(row, index)) == fold(column.heading)
            ]
            moved = f" (it stands in column {elsewhere[0]} now)" if elsewhere else ""
            return (
                f"{table.sheet}!{address(row, column.index)}: the heading {column.heading!r} stood here, "
                f"now {now!r}{moved}"
            )
    return f"sheet {table.sheet!r}: the headings of row {row + 1} are not found"


def _name_new_columns(page: Page, table: TableMap, notes: list[str]) -> None:
    new = page.text(table.last_heading, table.last_column + 1)
    if new:
        cell = address(table.last_heading, table.last_column + 1)
        notes.append(f"{table.sheet}!{cell}: the column {new!r} is not in the mapping; its cells are not carried over")


def _answer(source: Source, answer: AnswerMap, changes: list[str], notes: list[str]) -> AnswerMap | None:
    page = source.pages.get(answer.sheet)
    label, value = split(answer.label_cell), split(answer.value_cell)
    if page is None or label is None or value is None:
        if answer.match.to != NONE:
            changes.append(f"the label {answer.label!r} of sheet {answer.sheet!r} is not found")
        return None
    if _labels(page, *label, answer.label):
        return answer
    found = [
        (row, at)
        for row in range(len(page.grid))
        for at in page.columns_filled(row)
        if _labels(page, row, at, answer.label)
    ]
    if len(found) != 1:
        if answer.match.to != NONE:
            changes.append(f"{answer.sheet}!{answer.label_cell}: the label {answer.label!r} stood here")
        return None
    row, at = found[0]
    notes.append(f"sheet {answer.sheet!r}: the label {answer.label!r} stands in {address(row, at)} now")
    moved = address(row + value[0] - label[0], at + value[1] - label[1])
    return replace(answer, label_cell=address(row, at), value_cell=moved)


def _labels(page: Page, row: int, column: int, label: str) -> bool:
    return fold(page.text(row, column).partition(":")[0]) == fold(label)
