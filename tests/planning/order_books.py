"""Small books with calls, as the tests of orders and services use them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from tests.workbooks import ON, Line, Workbook, clean
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.context import Audit
from workbook_tools.columns.ports import OFFERS
from workbook_tools.findings import BookResult
from workbook_tools.planning.order import OrderPlan, plan_order
from workbook_tools.planning.servicing import ServicingPlan, plan_servicing
from workbook_tools.reading import RawBook, read_raw

EVERYTHING: dict[str, Any] = dict.fromkeys(OFFERS, "x")


def call(port: str, arrival: date, departure: date | None = None, **values: Any) -> Line:
    """A line of the Ports sheet with a lead time of 7 days, where nothing else is said."""
    return {"port": port, "arrival": arrival, "departure": departure or arrival, "lead_days": 7, **values}


def with_calls(*calls: Line) -> Workbook:
    """The clean book with these calls and no others."""
    book = clean()
    book.rows["ports"] = list(calls)
    return book


def audited(book: Workbook, on: date = ON, **options: Any) -> tuple[Audit, BookResult]:
    """The audit of a book, without a file."""
    return audit_in_full(read_raw(RawBook("test.xlsx", book.grids())), Options(on, **options))


def ordered(book: Workbook, until: date, on: date = ON) -> OrderPlan:
    """The requisition of a book."""
    return plan_order(*audited(book, on), until)


def serviced(book: Workbook, until: date, on: date = ON) -> ServicingPlan:
    """The servicing plan of a book."""
    return plan_servicing(*audited(book, on), until)


def said(plan: OrderPlan) -> list[tuple[str, int, str, str]]:
    """The lines of a requisition: port, pieces, item, place."""
    return [(line.call.port, line.pieces, line.item, line.place) for line in plan.lines]


def days_of(spans: Iterable[tuple[date, date]]) -> set[date]:
    """Every day of some spans, both ends counted."""
    return {
        date.fromordinal(number) for first, last in spans for number in range(first.toordinal(), last.toordinal() + 1)
    }
