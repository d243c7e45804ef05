"""Compares what the Required sheet shows with what the core says, line by line and column by column."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from datetime import date, timedelta
from typing import Any

from tests.book.calculated.desk import Rows, book_of
from workbook_tools import catalogue
from workbook_tools.book.calculated.coverage import COLUMNS as COVERAGE
from workbook_tools.book.calculated.dates import COLUMNS as DUE
from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.orders import COLUMNS as ORDER
from workbook_tools.book.calculated.required import COLUMNS
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.context import Audit
from workbook_tools.checks.coverage import scenarios
from workbook_tools.checks.required_lines import RequiredLine, required_lines
from workbook_tools.columns import sheet
from workbook_tools.columns.calculated import (
    DUE_SOON,
    EVERYONE,
    IN_DATE,
    LEFT_OUT,
    NO_CALL_LOT,
    NO_CALL_SERVICE,
    OPEN,
    ORDERS,
    PAST,
    REQUIRED,
    SEE_CHECK,
    SEND_AT_ONCE,
    SEND_LATER,
    SEND_SOON,
    SHORT_NOW,
)
from workbook_tools.columns.suppliers import supplier_of
from workbook_tools.core.expiry import status
from workbook_tools.planning.calls import Call, last_in_time, schedule
from workbook_tools.planning.deadlines import Deadline, deadlines
from workbook_tools.reading.address import column_letters
from workbook_tools.reading.cells import as_text
from workbook_tools.rules import warning_days

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
    truth = dict(_written(audit))
    for entry in deadlines(audit):
        if entry.kind in ("expiry", "papers") or (entry.sheet, entry.kind) == ("Craft", "service"):
            truth[(entry.sheet, _lower(entry.cell))] = (serial(entry.day), _WORDS[entry.status])
    truth = {place: entry for place, entry in truth.items() if not f"{place[0]} {place[1]}".startswith(_REFRESHED)}
    for place in sorted(truth.keys() | shown.keys()):
        # a raft's dates stand there whether a rule of the set asks for them or not
        if truth.get(place) != shown.get(place) and not (place[0] == "Craft" and (unread or place not in truth)):
            yield f"{place}: {truth.get(place)} by the core, {shown.get(place)} on the sheet"


# Sheets of which each day that stands in a column is shown as it stands there, with the group of its lead time.
_AS_WRITTEN = (
    ("servicing", "next_due", "servicing"),
    ("certificates", "until", "servicing"),
    ("exemptions", "until", "servicing"),
    ("follow_up", "expected", "*"),
)


def _written(audit: Audit) -> Iterator[tuple[tuple[str, str], tuple[float, str]]]:
    for key, column, group in _AS_WRITTEN:
        for row in audit.book.rows(key):
            day = row.get(column)
            if day is not None and not (key == "follow_up" and (row.get("closed") or "closed" in row.unclear)):
                says = _WORDS[status(day, audit.on, audit.warn_days(group))]
                place = sheet(key).name, _lower(audit.book.tables[key].cell(row, column))
                yield place, (serial(day), says)


def _lower(cell: str) -> str:
    """A cell in the workbook: here a table has its headings in the first row, there they stand in the third."""
    letters, number = cell.rstrip("0123456789"), int(cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
    return f"{letters}{number + FIRST_ROW - 1}"


def order_differences(audit: Audit, value: Value, unread: Collection[str]) -> Iterator[str]:
    """What differs on the Order dates sheet: what a line says, its call, and when the order must be sent."""
    shown, keys = {}, [column.key for column in ORDER]
    for row in range(FIRST_ROW, FIRST_ROW + 400):
        line = {key: value(ORDERS, row, index) for index, key in enumerate(keys)}
        if not line["says"]:
            break
        place = line["place"]
        if place.startswith(f"{REQUIRED}!A"):
            number = int(place.removeprefix(f"{REQUIRED}!A")) - 1
            place = f"{fold(line['where'])}: {value('Required', number, KEYS.index('key'))}"
        shown[place] = (line["says"], line["port"], line["arrival"], line["send"])
    truth = {}
    calls = schedule(audit, date.max).calls
    for required in required_lines(audit):
        item = audit.rule_set.by_key()[required.rule][0].item
        if required.missing and item in catalogue.items():
            call = _next_call(calls, supplier_of(item))
            truth[f"{fold(required.craft)}: {required.rule}"] = (SHORT_NOW, *_call_cells(call, audit.on))
    for entry in deadlines(audit):
        if entry.kind != "expiry" and (entry.sheet, entry.kind) != ("Craft", "service"):
            continue
        supplier = _supplier(audit, entry)
        if audit.on <= entry.day > _last_departure(audit):
            continue
        in_time = last_in_time(calls, supplier, entry.day + timedelta(days=1))
        call = in_time or _next_call(calls, supplier)
        if in_time is None:
            says = NO_CALL_LOT if entry.sheet == "Inventory" else NO_CALL_SERVICE
        else:
            left = (in_time.send_by - audit.on).days
            says = SEND_AT_ONCE if left <= 0 else SEND_SOON if left <= warning_days("*").value else SEND_LATER
        truth[f"{entry.sheet}!{_lower(entry.cell)}"] = (says, *_call_cells(call, audit.on))
    for place in sorted(truth.keys() | shown.keys()):
        # as on the Due sheet; what the Servicing sheet says is a line of its own
        if truth.get(place) != shown.get(place) and not (
            place.startswith("Servicing!")
            or (place.startswith("Craft!") and place not in truth)
            or place.partition(":")[0] in unread
            or ("*" in unread and not place.startswith("Inventory!"))
        ):
            yield f"{place}: order {truth.get(place)} by the core, {shown.get(place)} on the sheet"


def _supplier(audit: Audit, entry: Deadline) -> str:
    if entry.sheet != "Inventory":
        return "liferaft_station"
    if entry.lot is not None:
        return supplier_of(entry.lot.lot.item)
    return "stores"  # of a lot that is not clear


def _next_call(calls: Sequence[Call], supplier: str) -> Call | None:
    able = [call for call in calls if supplier in call.offers]
    return min(able, key=lambda call: (call.ready, call.number), default=None)


def _call_cells(call: Call | None, on: date) -> tuple[Any, Any, Any]:
    if call is None:
        return "", "", ""
    return call.port, serial(call.arrival), max(serial(on), serial(call.send_by))


def _last_departure(audit: Audit) -> date:
    """The departure of the last call that is planned, whether something can be ordered for it or not."""
    days = [
        (row.get("departure") or row.get("arrival"), row.get("arrival"))
        for row in audit.book.rows("ports")
        if row.get("arrival") and row.get("port") and "departure" not in row.unclear
    ]
    return max((leaves for leaves, arrival in days if leaves >= max(arrival, audit.on)), default=date.min)


def all_differences(rows: Rows, on: date, value: Value, unread: Collection[str]) -> list[str]:
    """What differs on the three sheets, the lines audited once."""
    audit = audit_of(rows, on)
    return [
        *differences(audit, shown_lines(value), unread),
        *coverage_differences(audit, value, unread),
        *due_differences(audit, value, unread),
        *order_differences(audit, value, unread),
    ]
