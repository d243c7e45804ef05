"""The planned calls of the Ports sheet: what can be had there, and from which day on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit
from workbook_tools.columns import sheet
from workbook_tools.columns.ports import OFFERS
from workbook_tools.core.servicing import days_after
from workbook_tools.reading import Row
from workbook_tools.rules.loader import policies


@dataclass(frozen=True, slots=True)
class Call:
    """One call: what is ordered for it comes on board from `ready` until departure.

    ready is the day of arrival, or a later day of the stay where the lead time is longer than what is left until
    arrival. send_by: the last day for sending an order; it lies before the day asked where the order must go at once.
    """

    number: int  # in the order of arrival, counted from 0
    port: str
    arrival: date
    departure: date
    ready: date
    send_by: date
    offers: frozenset[str]
    exchange_raft: bool
    lead_days: int
    raft_days: int
    cell: str  # of the arrival: Ports!B5

    def words(self) -> str:
        """'Port Ellery, 2027-01-14 to 2027-01-16'."""
        days = f"{self.arrival}" if self.departure == self.arrival else f"{self.arrival} to {self.departure}"
        return f"{self.port}, {days}"


@dataclass(frozen=True, slots=True)
class Schedule:
    """The calls that can be planned with, those that cannot (with the reason), and what was assumed."""

    calls: tuple[Call, ...]
    left_out: tuple[str, ...]
    assumed: tuple[str, ...]
    kept: bool  # whether the book has a Ports sheet


def schedule(audit: Audit, until: date) -> Schedule:
    """The calls of a book from the day asked until a last day, in the order of arrival."""
    found: list[tuple[date, Row]] = []
    left_out: list[str] = []
    for row in audit.book.rows("ports"):
        arrival, departure, port = row.get("arrival"), row.get("departure"), row.get("port")
        why = ""
        if port is None or arrival is None:
            why = "port or arrival cannot be read"
        elif "departure" in row.unclear:
            why = "departure cannot be read"
        elif departure is not None and departure < arrival:
            why = "departure lies before arrival"
        if why:
            left_out.append(f"{audit.where('ports', row, 'port')}: {why}")
        elif (departure or arrival) >= audit.on and arrival <= until:
            found.append((arrival, row))
    found.sort(key=lambda entry: entry[0])
    calls: list[Call] = []
    assumed: dict[str, None] = {}
    for arrival, row in found:
        call = _call(audit, row, arrival, len(calls), assumed)
        if call.ready > call.departure:
            left_out.append(
                f"{call.words()} ({call.cell}): an order needs {call.lead_days} days; it would have had to be sent by "
                f"{call.send_by}"
            )
        else:
            calls.append(call)
    return Schedule(tuple(calls), tuple(left_out), tuple(assumed), "ports" in audit.book.tables)


def _call(audit: Audit, row: Row, arrival: date, number: int, assumed: dict[str, None]) -> Call:
    departure = row.get("departure") or arrival
    lead = _days(row, "lead_days", "planning.lead-time", "no lead time is given", assumed)
    station = row.get("liferaft_station") == "yes"
    raft_days = _days(row, "raft_days", "planning.raft-days", "no days of a raft ashore are given", assumed, station)
    return Call(
        number,
        row.get("port"),
        arrival,
        departure,
        max(arrival, days_after(audit.on, lead)),
        days_after(arrival, -lead),
        frozenset(offer for offer in OFFERS if row.get(offer) == "yes"),
        row.get("exchange_raft") == "yes",
        lead,
        raft_days,
        audit.where("ports", row, "arrival"),
    )


def _days(row: Row, key: str, policy: str, missing: str, assumed: dict[str, None], matters: bool = True) -> int:
    """Days of a column, or our own figure where the cell is empty."""
    value = row.get(key)
    if value is not None:
        return int(value)
    figure = int(policies()[policy].value)
    if matters:
        heading = sheet("ports").column(key).heading.lower()
        assumed[f"where {missing}, {heading} is taken as {figure} days (our choice: {policy})"] = None
    return figure


def last_in_time(calls: Iterable[Call], supplier: str, first: date) -> Call | None:
    """The last call at which a supplier has it on board by the first day on which it lacks; None: none is in time."""
    able = [call for call in calls if supplier in call.offers and call.ready <= first]
    return max(able, key=lambda call: (call.ready, call.number), default=None)


def same_port(one: Call, other: Call) -> bool:
    """Whether two calls are at the same port."""
    return catalogue.normalise(one.port) == catalogue.normalise(other.port)
