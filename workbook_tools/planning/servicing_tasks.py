"""The services that fall due in a period, with the day until which the last one holds and how long a new one would.

Days and rules are the audit's: survey windows, grants, maker's intervals and the way in which the ship counts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from workbook_tools.checks import fire
from workbook_tools.checks.context import Audit
from workbook_tools.checks.raft_service import deadlines, raft_service_rule
from workbook_tools.checks.service_duties import duties, made_of
from workbook_tools.checks.service_duty import Duty
from workbook_tools.checks.service_holding import policy_of, reach
from workbook_tools.columns.suppliers import ON_BOARD, ServiceSupplier, service_suppliers
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import holds_until, months_after
from workbook_tools.rules import Rule

_FIRE_TESTS = ("FF01", "FF02", "FF03")
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """One service of one thing: due is the last day on which it is in time, which may have passed already.

    holds: the last day on which a service done on a day holds. craft: the craft's name where it belongs to one.
    """

    thing: str
    service: str
    rule: str
    paragraph: str
    priority: str
    due: date
    supplier: str
    ashore: bool
    craft: str
    holds: Callable[[date], date]
    sheet: str
    cell: str


@dataclass(frozen=True, slots=True)
class Work:
    """What is to be placed, what the crew does at sea, and what cannot be planned, with the reason."""

    tasks: tuple[Task, ...]
    on_board: tuple[tuple[str, str, date], ...]  # service, thing, due
    not_planned: tuple[tuple[str, str, str], ...]  # service, thing, why


def work(audit: Audit, until: date) -> Work:
    """The services of an audited book that fall due until a day."""
    tasks: list[Task] = []
    on_board: list[tuple[str, str, date]] = []
    not_planned: list[tuple[str, str, str]] = []
    for service, thing, due, why, task in (*_from_duties(audit, until), *_from_fire(audit)):
        supplier = service_suppliers().get(service)
        if why:
            not_planned.append((service, thing, why))
        elif due is not None and due < until:
            if supplier is None:
                not_planned.append((service, thing, "no column of the Ports sheet says who does it"))
            elif supplier.supplier == ON_BOARD:
                on_board.append((service, thing, due))
            else:
                tasks.append(task(due, supplier))
    return Work(tuple(tasks), tuple(on_board), tuple(not_planned))


_Make = Callable[[date, ServiceSupplier], Task]
_Found = tuple[str, str, date | None, str, _Make]


def _from_duties(audit: Audit, until: date) -> Iterator[_Found]:
    for duty in (*deadlines(audit), *duties(audit)):
        if duty.craft is not None and duty.craft.purpose == "extra":
            continue
        due, why = duty.day, ""
        if duty.state == "not_applicable":
            due = _first_asked(audit, duty)
            if due is None or due >= until:
                continue
        elif duty.state == "not_evaluated":
            why = duty.why
        elif duty.fault == "hands":
            due = audit.on - _DAY  # done by those whom the rule does not name: to be done again
        yield duty.rule.item, duty.subject, due, why, _maker_of(audit, duty)


def _first_asked(audit: Audit, duty: Duty) -> date | None:
    """The day up to which a thing is too young for a test that is asked from an age on; None where it is not that."""
    start = policy_of("start", duty.rule)
    made: date | None = duty.craft.row.get("made") if duty.craft is not None else made_of(audit, duty.rule)
    if start is None or made is None:
        return None
    first = months_after(made, int(start.value))
    return first if first >= audit.on else None


def _maker_of(audit: Audit, duty: Duty) -> _Make:
    def make(due: date, supplier: ServiceSupplier) -> Task:
        rule, holding = duty.rule, duty.holding
        sheet, cell = ("craft", "name")
        row = duty.craft.row if duty.craft is not None else None
        if holding is not None:
            sheet, row, cell = holding.sheet, holding.row, holding.column
        elif row is None:
            sheet, cell = "servicing", "service"
        table = audit.book.tables.get(sheet)
        interval = holding.row.get("interval") if holding is not None and holding.sheet == "servicing" else None
        return Task(
            duty.subject,
            rule.item,
            rule.key,
            rule.reference,
            rule.priority,
            due,
            supplier.supplier,
            supplier.ashore,
            duty.craft.name if duty.craft is not None else "",
            _holds(audit, rule, interval),
            table.name if table else "",
            table.cell(row, cell) if table else "",
        )

    return make


def _holds(audit: Audit, rule: Rule, makers: Interval | None) -> Callable[[date], date]:
    """How long a service done on a day holds. Contents renewed at a service last to the next one, as the station must
    see to (A.761(18) as amended)."""
    own = raft_service_rule(audit) if rule.evidence == "contents" else rule
    return lambda done: reach(audit, own or rule, done, makers)[0]


def _from_fire(audit: Audit) -> Iterator[_Found]:
    for verdict in fire.verdicts(audit):
        if verdict.code not in _FIRE_TESTS or verdict.state == "not_applicable":
            continue
        why = verdict.why if verdict.state == "not_evaluated" else ""
        yield verdict.rule.item, verdict.subject, verdict.day, why, _fire_maker(audit, verdict)


_FIRE_WORDS = {"FF01": "extinguisher service", "FF02": "extinguisher discharged", "FF03": "extinguisher pressure test"}


def _fire_maker(audit: Audit, verdict: fire.Verdict) -> _Make:
    def make(due: date, supplier: ServiceSupplier) -> Task:
        rule, table = verdict.rule, audit.book.tables["fire"]
        interval = Interval(months=int(rule.fixed))
        return Task(
            verdict.subject,
            _FIRE_WORDS[verdict.code],
            rule.key,
            rule.reference,
            rule.priority,
            due,
            supplier.supplier,
            False,
            "",
            lambda done: holds_until(done, interval),
            table.name,
            table.cell(verdict.row, verdict.column),
        )

    return make
