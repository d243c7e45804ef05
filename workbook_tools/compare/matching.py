"""Brings the lines of two returns together by what they are, not by where they stand."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from workbook_tools.compare.identity import KEYS, MEANT_BY_EMPTY, Key, folded, order
from workbook_tools.reading import Row, Table


@dataclass(frozen=True, slots=True, eq=False)
class Pair:
    """One line in the older return and in the newer."""

    old: Row
    new: Row


@dataclass(slots=True)
class Matched:
    """The lines of a sheet in two returns: those in both, and those in one only."""

    pairs: list[Pair] = field(default_factory=list)
    gone: list[Row] = field(default_factory=list)
    new: list[Row] = field(default_factory=list)


def shared_columns(old: Table, new: Table) -> list[str]:
    """Keys of the columns that both tables keep, in the contract's order."""
    kept = _kept(old) & _kept(new)
    return [column.key for column in old.sheet.columns if column.key in kept]


def columns_of_one(old: Table, new: Table) -> list[str]:
    """Keys of the columns that only one of the two tables keeps, in the contract's order."""
    kept = _kept(old) ^ _kept(new)
    return [column.key for column in old.sheet.columns if column.key in kept]


def _kept(table: Table) -> set[str]:
    return set(table.form_cells) if table.sheet.layout == "form" else set(table.columns)


def contents(sheet: str, row: Row, columns: Sequence[str]) -> tuple[Any, ...]:
    """What a line says in these columns, ready to be compared."""
    return tuple(said(sheet, row, column) for column in columns)


def said(sheet: str, row: Row, column: str) -> Any:
    """What a cell says, ready to be compared: an empty cell is the choice that it means."""
    value = folded(row, column)
    return MEANT_BY_EMPTY.get((sheet, column)) if value is None else value


def match(old: Table, new: Table) -> Matched:
    """Pair the lines of one sheet in two returns. Each line is paired once; where it stands does not matter.

    Lines that say the same come first, so that what did not change is never taken for a change. Then each key of the
    sheet, the surest first, pairs what it can among the lines left.
    """
    sheet = old.sheet.key
    if old.sheet.layout == "form":
        return Matched([Pair(old.rows[0], new.rows[0])] if old.rows and new.rows else [])
    columns = shared_columns(old, new)
    keys: tuple[Key, ...] = (lambda row: contents(sheet, row, columns), *KEYS.get(sheet, ()))
    found = Matched()
    left, right = list(old.rows), list(new.rows)
    for key in keys:
        left, right = _pair(left, right, key, found.pairs)
    found.gone, found.new = left, right
    found.pairs.sort(key=lambda pair: pair.new.number)
    return found


def _pair(old: list[Row], new: list[Row], key: Key, pairs: list[Pair]) -> tuple[list[Row], list[Row]]:
    """Pair the lines of one key, the oldest dates first; the lines left on both sides come back."""
    waiting: dict[tuple[Any, ...], list[Row]] = defaultdict(list)
    for row in sorted(new, key=order):
        name = key(row)
        if name is not None:
            waiting[name].append(row)
    taken: set[int] = set()
    left: list[Row] = []
    for row in sorted(old, key=order):
        name = key(row)
        partners = waiting.get(name) if name is not None else None
        if partners:
            partner = partners.pop(0)
            taken.add(id(partner))
            pairs.append(Pair(row, partner))
        else:
            left.append(row)
    return (
        sorted(left, key=lambda row: row.number),
        [row for row in new if id(row) not in taken],
    )
