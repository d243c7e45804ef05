"""Compares what the Required sheet shows with what the core says, line by line and column by column."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from datetime import date
from typing import Any

from tests.book.calculated.desk import Rows, book_of
from workbook_tools.book.calculated.coverage import COLUMNS as COVERAGE
from workbook_tools.book.calculated.dates import COLUMNS as DUE
from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.required import COLUMNS
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.context import Audit
from workbook_tools.checks.coverage import scenarios
from workbook_tools.checks.required_lines import RequiredLine, required_lines
from workbook_tools.columns import sheet
from workbook_tools.columns.calculated import DUE_SOON, EVERYONE, IN_DATE, LEFT_OUT, OPEN, PAST, SEE_CHECK
from workbook_tools.planning.deadlines import deadlines
from workbook_tools.reading.address import column_letters
from workbook_tools.reading.cells import as_text

Shown = dict[str, Any]
Value = Callable[[str, int, int], Any]
_WORDS = {"expired": PAST, "due": DUE_SOON, "in date": IN_DATE}
# A day worked out from the last refresher is not written in the book.
_REFRESHED = "Crew " + column_letters([column.key for column in sheet("crew").columns].index("refreshed"))
KEYS = [column.key for column in COLUMNS]


def shown_lines(value: Value) -> dict[tuple[str, str], Shown]:
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


def differences(audit: Audit, shown: dict[tuple[str, str], Shown], unread: Collection[str]) -> Iterator[str]:
    """What differs. "See check" is right only for the craft of which something cannot be read."""
    truth = {(fold(line.craft), line.rule): line for line in required_lines(audit)}
    for key in sorted(truth.keys() | shown.keys()):
        blind = key[0] in unread or "*" in unread
        line, cells = truth.get(key), shown.get(key)
        if cells is not None and cells["says"] == SEE_CHECK:
            if not blind:
                yield f"{key}: see check, and nothing is unreadable"
        elif line is None or cells is None:
            if not blind:
                yield f"{key}: the core says {line and line.says}, the sheet {cells and cells['says']}"
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


def coverage_differences(audit: Audit, value: Value, unread: Collection[str]) -> Iterator[str]:
    """What differs on the Coverage sheet."""
    truth = {fold(scenario.name): scenario for scenario in scenarios(audit)}
    shown: dict[str, Shown] = {}
    for row in range(FIRST_ROW, FIRST_ROW + 40):
        line = {column.key: value("Coverage", row, index) for index, column in enumerate(COVERAGE)}
        if line["scenario"] and line["says"]:
            shown[fold(line["scenario"])] = line
    if not truth or unread:
        for name, line in shown.items():
            if line["says"] != OPEN and not (unread and name in truth):
                yield f"{name}: the sheet says {line['says']}, the core nothing"
        return
    for name in sorted(truth.keys() | shown.keys()):
        scenario, cells = truth.get(name), shown.get(name)
        if scenario is None or cells is None:
            yield f"{name}: core {scenario}, sheet {cells}"
            continue
        exact = scenario.places.least == scenario.places.most
        says = LEFT_OUT if scenario.left_out else OPEN if scenario.perhaps_left_out else EVERYONE
        right = (scenario.persons, scenario.places.least if exact else "not clear", scenario.left_out, says)
        there = (cells["persons"], cells["places"], cells["left_out"], cells["says"])
        if right != there:
            yield f"{name}: {right} by the core, {there} on the sheet"


def due_differences(audit: Audit, value: Value, unread: Collection[str]) -> Iterator[str]:
    """What differs on the Due sheet. The core knows more dates (services, drills); those that are written count."""
    shown: dict[tuple[str, str], tuple[float, str]] = {}
    before = 0.0
    for row in range(FIRST_ROW, FIRST_ROW + 400):
        line = {column.key: value("Due", row, index) for index, column in enumerate(DUE)}
        if line["day"] == "":
            break
        if line["day"] < before:
            yield f"{line['sheet']} {line['cell']}: out of the order of days"
        before = line["day"]
        if line["left"] != line["day"] - serial(audit.on):
            yield f"{line['sheet']} {line['cell']}: {line['left']} days left"
        shown[(line["sheet"], line["cell"])] = (line["day"], line["says"])
    truth = {}
    for entry in deadlines(audit):
        if entry.kind in ("expiry", "papers", "certificate") or (entry.sheet, entry.kind) == ("Craft", "service"):
            letters, number = entry.cell.rstrip("0123456789"), int(entry.cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
            # here a table has its headings in the first row, in the workbook they stand in the third
            truth[(entry.sheet, f"{letters}{number + FIRST_ROW - 1}")] = (serial(entry.day), _WORDS[entry.status])
    truth = {place: entry for place, entry in truth.items() if not f"{place[0]} {place[1]}".startswith(_REFRESHED)}
    for place in sorted(truth.keys() | shown.keys()):
        # a raft's dates stand there whether a rule of the set asks for them or not
        if truth.get(place) != shown.get(place) and not (place[0] == "Craft" and (unread or place not in truth)):
            yield f"{place}: {truth.get(place)} by the core, {shown.get(place)} on the sheet"


def all_differences(rows: Rows, on: date, value: Value, unread: Collection[str]) -> list[str]:
    """What differs on the three sheets, the lines audited once."""
    audit = audit_of(rows, on)
    return [
        *differences(audit, shown_lines(value), unread),
        *coverage_differences(audit, value, unread),
        *due_differences(audit, value, unread),
    ]
