"""Every day on record after which something holds no more: dated stores, services, certificates, exemptions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from workbook_tools.checks.context import Audit
from workbook_tools.checks.followup import name_remover
from workbook_tools.checks.raft_service import deadlines
from workbook_tools.checks.service_duties import duties
from workbook_tools.core.stock import FIT_CONDITIONS
from workbook_tools.findings import Lapse
from workbook_tools.reading import Row


def lapses(audit: Audit) -> Iterator[Lapse]:
    """The days of one book, in no order, past days among them. Persons stand there by crew number or rank.

    A line of the Servicing sheet that a later one of the same service and appliance has overtaken lapses no more.
    """
    nameless = name_remover(audit.book)
    for lapse in (*_lots(audit), *_rafts(audit), *_services(audit), *_papers(audit), *_crew(audit)):
        yield replace(lapse, what=nameless(lapse.what), where=nameless(lapse.where))


def _lapse(audit: Audit, day: date, kind: str, what: str, where: str, sheet: str, row: Row, column: str) -> Lapse:
    table = audit.book.tables[sheet]
    return Lapse(day, kind, what, where, table.name, table.cell(row, column))


def _said(row: Row, key: str) -> str:
    value = row.get(key)
    return str(value) if value is not None else "-"


def _lots(audit: Audit) -> Iterator[Lapse]:
    for row in audit.book.rows("inventory"):
        day = row.get("expires")
        if day is not None and (row.get("condition") or "in use") in FIT_CONDITIONS:
            yield _lapse(audit, day, "stores", _lot(row), _said(row, "place"), "inventory", row, "expires")


def _lot(row: Row) -> str:
    quantity, unit, batch = row.get("quantity"), row.get("unit"), row.get("batch")
    amount = f"{quantity:g} {unit or ''}".strip() + " x " if quantity is not None else ""
    return f"{amount}{_said(row, 'item')}" + (f", batch {batch}" if batch else "")


def _rafts(audit: Audit) -> Iterator[Lapse]:
    for duty in deadlines(audit):
        if duty.day is not None and duty.craft is not None:
            column = "serviced" if duty.rule.evidence == "service" else "earliest_content"
            yield _lapse(audit, duty.day, "rafts", duty.rule.item, duty.craft.name, "craft", duty.craft.row, column)


def due_days(audit: Audit) -> dict[int, date]:
    """The day until which each line of the Servicing sheet holds, as the audit counts it, by the row's identity."""
    found: dict[int, date] = {}
    for duty in duties(audit):
        if duty.holding is not None and duty.day is not None:
            row = id(duty.holding.row)
            found[row] = min(duty.day, found.get(row, duty.day))
    return found


def _services(audit: Audit) -> Iterator[Lapse]:
    due, overtaken = due_days(audit), _overtaken(audit)
    for row in audit.book.rows("servicing"):
        service, appliance = _said(row, "service"), _said(row, "appliance")
        day, written = due.get(id(row)), row.get("next_due")
        if day is not None:
            yield _lapse(audit, day, "services", service, appliance, "servicing", row, "done")
        if written is not None and written != day and id(row) not in overtaken:
            what = f"{service} (as written)"
            yield _lapse(audit, written, "services", what, appliance, "servicing", row, "next_due")


def _overtaken(audit: Audit) -> set[int]:
    """The lines of a service that was done again later on the same appliance, and not after the day asked."""
    latest: dict[tuple[str, str], Row] = {}
    overtaken: set[int] = set()
    for row in audit.book.rows("servicing"):
        service, appliance, done = row.get("service"), row.get("appliance"), row.get("done")
        if service is None or appliance is None or done is None or done > audit.on:
            continue
        key = (service, appliance.casefold())
        other = latest.get(key)
        if other is not None:
            overtaken.add(id(other if other.get("done") <= done else row))
        if other is None or other.get("done") <= done:
            latest[key] = row
    return overtaken


def _papers(audit: Audit) -> Iterator[Lapse]:
    for row in audit.book.rows("certificates"):
        if (day := row.get("until")) is not None:
            what, place = _said(row, "certificate"), _said(row, "place")
            yield _lapse(audit, day, "certificates", what, place, "certificates", row, "until")
    for row in audit.book.rows("exemptions"):
        if (day := row.get("until")) is not None:
            what, where = f"exemption of {_said(row, 'rule')}", row.get("subject") or "every craft"
            yield _lapse(audit, day, "exemptions", what, where, "exemptions", row, "until")


def _crew(audit: Audit) -> Iterator[Lapse]:
    for row in audit.book.rows("crew"):
        person = f"crew number {row.get('number')}" if row.get("number") else row.get("rank") or "a person on board"
        for column, what in (("certificate_expires", "certificate"), ("medical_expires", "medical certificate")):
            if (day := row.get(column)) is not None:
                lapse = _lapse(audit, day, "crew", what, person, "crew", row, column)
                yield replace(lapse, person=str(row.get("name") or "")) if audit.options.names else lapse
