"""Compares what the Required sheet shows with what the core says, line by line and column by column."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from datetime import date
from typing import Any

from tests.book.calculated.desk import Rows, book_of
from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.required import COLUMNS
from workbook_tools.book.inputs import FIRST_ROW
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.context import Audit
from workbook_tools.checks.required_lines import RequiredLine, required_lines
from workbook_tools.columns.calculated import SEE_CHECK
from workbook_tools.reading.cells import as_text

Shown = dict[str, Any]
KEYS = [column.key for column in COLUMNS]


def shown_lines(value: Callable[[str, int, int], Any]) -> dict[tuple[str, str], Shown]:
    """The lines of the Required sheet, by craft and rule; value(sheet, row, column) is what a cell shows."""
    found: dict[tuple[str, str], Shown] = {}
    for row in range(FIRST_ROW, FIRST_ROW + 10_000):
        line = {key: value("Required", row, index) for index, key in enumerate(KEYS)}
        if not line["craft"]:
            break
        found[(fold(line["craft"]), line["key"])] = line
    return found


def fold(name: str) -> str:
    """A craft's name as both sides write it."""
    return " ".join(as_text(name).replace("-", " ").split()).casefold()


def audit_of(rows: Rows, on: date) -> Audit:
    """The lines as the core audits them."""
    return audit_in_full(book_of(rows), Options(on))[0]


def differences(rows: Rows, on: date, shown: dict[tuple[str, str], Shown], unread: Collection[str]) -> Iterator[str]:
    """What differs. "See check" is right only for the craft of which something cannot be read."""
    truth = {(fold(line.craft), line.rule): line for line in required_lines(audit_of(rows, on))}
    for key in sorted(truth.keys() | shown.keys()):
        blind = key[0] in unread or "*" in unread
        line, cells = truth.get(key), shown.get(key)
        if cells is not None and cells["says"] == SEE_CHECK:
            if not blind:
                yield f"{key}: see check, and nothing is unreadable"
        elif line is None or cells is None:
            if not blind:
                yield f"{key}: the core says {line.says if line else 'not applicable'}, the sheet {cells and cells['says']}"
        else:
            yield from (f"{key}: {found}" for found in _cells(line, cells, blind))


def _cells(line: RequiredLine, cells: Shown, blind: bool) -> Iterator[str]:
    if line.says != cells["says"]:
        yield f"the core says {line.says}, the sheet {cells['says']}"
    for name, right in (("asked", line.asked), ("carried", line.carried), ("missing", line.missing)):
        there = cells[name] or None
        if (right or None) is None and there is None:
            continue
        if right is None or abs((there or 0) - right) > 1e-6 * max(1, abs(right)):
            yield f"{name} {right} by the core, {there} on the sheet"
    if cells["lapses"] != "see check" and (serial(line.until) if line.until else "") != cells["lapses"]:
        yield f"enough until {line.until} by the core, {cells['lapses']} on the sheet"
    if not blind and (serial(line.earliest) if line.earliest else "") != cells["earliest"]:
        yield f"earliest expiry {line.earliest} by the core, {cells['earliest']} on the sheet"
