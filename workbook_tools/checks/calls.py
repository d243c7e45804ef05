"""Whether the planned calls of the Ports sheet can be as they are written (SH20, SH21): each is a query."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from workbook_tools.checks.context import Audit
from workbook_tools.checks.registry import Code, check
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.reading.tables import row_subject


def _query(audit: Audit, code: str, row: Row, column: str, message: str, remedy: str) -> Finding:
    subject = row_subject(row, audit.book.tables["ports"])
    return audit.finding(code, "query", "plan", "ports", row, column, subject, message, remedy)


@check(
    Code(
        "SH20",
        "call-ends-before-it-begins",
        ("query",),
        "a planned call ends on the day it begins or later",
        "orders and services are planned for calls; one that cannot be as written is left out of every plan",
        "arrival on 14 February 2027, departure on 12 February 2027",
        "arrival and departure on one day; no departure written; a call of last year",
        "correct the day that is wrong",
    )
)
def call_ends_before_it_begins(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every call whose departure lies before its arrival."""
    for row in audit.book.rows("ports"):
        arrival, departure = row.get("arrival"), row.get("departure")
        if arrival is not None and departure is not None and departure < arrival:
            yield _query(
                audit,
                "SH20",
                row,
                "departure",
                f"departure {departure} lies before arrival {arrival}; the call is left out of plans",
                "correct the day that is wrong",
            )


@check(
    Code(
        "SH21",
        "calls-overlap",
        ("query",),
        "the ship leaves one port before she comes to the next",
        "of two calls on the same days one does not take place, and what is ordered there does not come on board",
        "one call until 16 February 2027, the next from 15 February 2027",
        "one call until 16 February and the next from 16 February; a call without a departure on another's last day",
        "correct the days, or take out the call that has been dropped",
    )
)
def calls_overlap(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every call that begins before an earlier one has ended."""
    latest: tuple[date, Row] | None = None
    for arrival, departure, row in sorted(_dated(audit), key=lambda call: call[:2]):
        if latest is not None and arrival < latest[0]:
            before = latest[1]
            yield _query(
                audit,
                "SH21",
                row,
                "arrival",
                f"arrival {arrival}, and the ship is in {before.get('port') or 'another port'} until {latest[0]} "
                f"({audit.where('ports', before, 'departure')})",
                "correct the days, or take out the call that has been dropped",
            )
        if latest is None or departure > latest[0]:
            latest = departure, row


def _dated(audit: Audit) -> Iterator[tuple[date, date, Row]]:
    """The calls that can be as written: arrival, departure and line."""
    for row in audit.book.rows("ports"):
        arrival, departure = row.get("arrival"), row.get("departure")
        if arrival is not None and (departure is None or departure >= arrival):
            yield arrival, departure or arrival, row
