"""Seconds for the requisition and the servicing plan of a large ship, and how they grow.

python -m tests.benchmarks.order

Each size is audited once and planned from that audit, whose seconds in the same run are the baseline. The full size
is 30 craft, 200 crew, 2,000 lots and 40 calls over two years; one in three lots lapses within them.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import timedelta
from random import Random
from typing import Any, TypeVar

from tests.planning.order_books import audited, call
from tests.workbooks import BOAT, ON, Workbook, clean
from workbook_tools.columns.ports import OFFERS
from workbook_tools.planning.order import plan_order
from workbook_tools.planning.servicing import plan_servicing

T = TypeVar("T")
CRAFT, CREW, LOTS, CALLS = 30, 200, 2000, 40
PERIOD, FIVE_YEARS = 730, 1826  # days
SHARE_LAPSING = 1 / 3
_LOTS_OF_ONE = 4  # what a boat must carry lies in so many lots, so that nearly each that lapses leaves it short


def large(craft: int, crew: int, lots: int, calls: int, seed: int = 1) -> Workbook:
    """A ship with so many craft (half boats, half rafts), persons, lots and calls."""
    pick = Random(seed)
    book = clean()
    boat, raft = dict(book.rows["craft"][0]), dict(book.rows["craft"][2])
    book.rows["craft"] = []
    for number in range(craft):
        side = "port" if number % 2 else "starboard"
        serviced = ON - timedelta(days=pick.randint(5, 330))
        named = {"name": f"Craft {number}", "side": side, "persons": 2 * crew // craft, "serial": f"K-{number}"}
        more = {} if number % 2 == 0 else {"serviced": serviced, "certificate": f"S-{number}"}
        book.rows["craft"].append((boat if number % 2 == 0 else raft) | named | more)
    book.ship.update(persons_on_board=crew, persons_certified=crew)
    book.rows["crew"] = [{"number": str(number), "rank": "rating", "joined": ON} for number in range(crew)]
    kept = [line for line in book.rows["inventory"] if not str(line["place"]).startswith(("Lifeboat", "Raft"))]
    book.rows["inventory"] = [*kept, *_lots(pick, craft, lots - len(kept))]
    book.rows["servicing"] = _services(pick, craft)
    book.rows["ports"] = []
    day = ON + timedelta(days=10)
    for number in range(calls):
        offers: dict[str, Any] = {name: "x" for name in OFFERS if pick.random() < 0.5}
        stay = timedelta(days=pick.randint(0, 3))
        exchange = pick.choice(("", "x"))
        book.rows["ports"].append(call(f"Port {number % 7}", day, day + stay, exchange_raft=exchange, **offers))
        day += timedelta(days=max(4, PERIOD // (calls + 1)))
    return book


def _lots(pick: Random, craft: int, count: int) -> list[dict[str, Any]]:
    """The gear of the boats in small lots, each with a date of its own, until there are so many."""
    found: list[dict[str, Any]] = []
    while len(found) < count:
        for number in range(0, craft, 2):
            for item, quantity, rest in BOAT:
                line = {"place": f"Craft {number}", "item": item, "quantity": quantity, **rest}
                if "expires" in line:
                    within = pick.random() < SHARE_LAPSING
                    days = pick.randint(20, PERIOD) if within else pick.randint(PERIOD + 1, 3 * PERIOD)
                    line.update(expires=ON + timedelta(days=days), quantity=-(-quantity // _LOTS_OF_ONE))
                found.append(line)
    return found[:count]


def _services(pick: Random, craft: int) -> list[dict[str, Any]]:
    services = (
        ("falls renewed", 1700),
        ("launching appliance annual examination", 330),
        ("winch brake annual test", 330),
        ("launching appliance five-year test", 1700),
        ("release gear annual examination", 330),
        ("release gear five-year overhaul", 1700),
    )
    return [
        {
            "appliance": f"Craft {number}",
            "service": service,
            "done": ON - timedelta(days=pick.randint(5, longest)),
            "done_by": "maker",
        }
        for number in range(0, craft, 2)
        for service, longest in services
    ]


def _timed(work: Callable[..., T], *arguments: Any) -> tuple[float, T]:
    begun = time.perf_counter()
    result = work(*arguments)
    return time.perf_counter() - begun, result


_HEADINGS = (
    "craft",
    "lots",
    "calls",
    "audit",
    "order",
    "lines",
    "at",
    "5 years",
    "lines",
    "at",
    "services",
    "jobs",
    "at",
)


def _row(factor: float) -> list[str]:
    """Sizes, seconds and what was planned, at a part of the full size."""
    craft, lots, calls = max(4, round(CRAFT * factor)), round(LOTS * factor), max(5, round(CALLS * factor))
    spent, (audit, result) = _timed(audited, large(craft, round(CREW * factor), lots, calls))
    found = [f"{craft}", f"{lots}", f"{calls}", f"{spent:.2f}"]
    for days in (PERIOD, FIVE_YEARS):
        seconds, order = _timed(plan_order, audit, result, ON + timedelta(days=days))
        found += [f"{seconds:.2f}", f"{len(order.lines)}", f"{len(order.calls)}"]
    seconds, plan = _timed(plan_servicing, audit, result, ON + timedelta(days=PERIOD))
    return [*found, f"{seconds:.2f}", f"{len(plan.jobs)}", f"{len(plan.calls)}"]


def main() -> None:
    """Print the figures, from an eighth of the full size to the double: seconds, then lines or jobs, then calls."""
    _row(0.125)  # loads what is loaded once
    print("".join(f"{heading:>9}" for heading in _HEADINGS))
    for factor in (0.125, 0.25, 0.5, 1, 2):
        print("".join(f"{cell:>9}" for cell in _row(factor)), flush=True)


if __name__ == "__main__":
    main()
