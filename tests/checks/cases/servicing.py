"""Services: rafts, boats and every other appliance with a line on the Servicing sheet."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Trip, at, change, quiet
from tests.workbooks import Workbook

Edit = Callable[[Workbook], Any]
FALLS, DAVIT, DAVIT_TEST = (
    "falls renewed",
    "launching appliance annual examination",
    "launching appliance five-year test",
)
HOOKS, OVERHAUL = "release gear annual examination", "release gear five-year overhaul"


def line(service: str, column: str, appliance: str = "Lifeboat 1", **values: Any) -> Trip:
    """An edit of a line of the clean book's Servicing sheet that points at one of its columns."""

    def edit(book: Workbook) -> tuple[str, str]:
        found = book.find("servicing", appliance=appliance, service=service)
        found.update(values)
        return at(book, "servicing", found, column)

    return edit


def _raft(**values: Any) -> Trip:
    return change("craft", {"name": "Raft P"}, **values)


def _raft_lapsed_with_a_line(**values: Any) -> Trip:
    """Raft P lapsed by its own line on the Craft sheet, and another service on the Servicing sheet."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.find("craft", name="Raft P")["serviced"] = date(2025, 6, 1)
        added = {"appliance": "raft p", "service": "liferaft serviced", "done_by": "servicing station", **values}
        found = book.add("servicing", **{"certificate": "S-91", "done": date(2026, 8, 1), **added})
        column = "done_by" if added["done_by"] != "servicing station" else "done"
        return at(book, "servicing", found, column)

    return edit


def _same_month(serviced: date) -> Edit:
    def edit(book: Workbook) -> tuple[str, str]:
        book.ship["deadline_counting"] = "same calendar month"
        return _raft(serviced=serviced)(book)

    return edit


def _put_off(**values: Any) -> Trip:
    """Raft P put off on the Craft sheet, and the same service on the Servicing sheet."""

    def edit(book: Workbook) -> tuple[str, str]:
        done = date(2025, 11, 20)
        line = {"appliance": "Raft P", "service": "liferaft serviced", "done_by": "servicing station", "done": done}
        book.add("servicing", **line, **values)
        return _raft(service_granted_until=date(2027, 3, 1), serviced=done)(book)

    return edit


def _lifejackets(column: str, **values: Any) -> Trip:
    return line("inflatable lifejackets serviced", column, "Lifejackets 1-6", **values)


def _ship_line(service: str, **values: Any) -> Trip:
    """An edit of the first line of a service that only one appliance has."""

    def edit(book: Workbook) -> tuple[str, str]:
        found = book.find("servicing", service=service)
        found.update(values)
        return at(book, "servicing", found, next(iter(values)))

    return edit


def _co2_last_inspected(day: date) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        lines = book.rows["servicing"]
        book.rows["servicing"] = [entry for entry in lines if entry["service"] != "CO2 system inspected"]
        found = book.add("servicing", appliance="CO2 system", service="CO2 system inspected", done=day)
        return at(book, "servicing", found, "done")

    return edit


def _without_line(service: str) -> Edit:
    def edit(book: Workbook) -> None:
        book.rows["servicing"] = [entry for entry in book.rows["servicing"] if entry["service"] != service]

    return edit


def _without_sheet(book: Workbook) -> None:
    del book.rows["servicing"]


def _in_window(done: date) -> Edit:
    """Surveys have their anniversary on 20 December: from 20 September on an examination is the one of that day."""

    def edit(book: Workbook) -> None:
        book.ship["anniversary"] = date(2021, 12, 20)
        line(DAVIT, "done", done=done)(book)

    return edit


def _without_anniversary(done: date) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        del book.ship["anniversary"]
        return line(DAVIT, "done", done=done)(book)

    return edit


def _passenger_ship(edit: Edit) -> Edit:
    def run(book: Workbook) -> Any:
        book.ship.update(ship_type="passenger ship", voyage="short international")
        return edit(book)

    return run


def _another_line(service: str, appliance: str = "Lifeboat 1", **values: Any) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        return at(book, "servicing", book.add("servicing", appliance=appliance, service=service, **values), "done")

    return edit


def _overdue_beside(**values: Any) -> Edit:
    """The falls of Lifeboat 1 are over five years old, beside another line that may be theirs."""

    def edit(book: Workbook) -> None:
        line(FALLS, "done", done=date(2021, 3, 1))(book)
        book.add("servicing", **{"appliance": "Lifeboat 1", "service": FALLS, "done": date(2026, 3, 1), **values})

    return edit


def _release(fitted: date, expires: object) -> Trip:
    """A disposable hydrostatic release of Raft P: its day of fitting, and the date on its Inventory line."""

    def edit(book: Workbook) -> tuple[str, str]:
        lot = book.find("inventory", item="hydrostatic release unit", place="Raft P")
        lot["expires"] = expires
        return _another_line("hydrostatic release fitted", "Raft P", done=fitted)(book)

    return edit


def _old_raft(made: date, done: date) -> Trip:
    """A raft of an age with its last additional pressure test."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.find("craft", name="Raft P")["made"] = made
        return _another_line("liferaft additional pressure test", "Raft P", done=done, done_by="servicing station")(
            book
        )

    return edit


def _air_bottles(done: date) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        book.find("craft", name="Lifeboat 1")["air_support"] = "yes"
        return _another_line("lifeboat air bottles pressure-tested", done=done)(book)

    return edit


def _suit(made: date, done: date) -> Trip:
    """Suit 1 of the Servicing sheet as a lot of the Inventory, so that its age is known."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.add("inventory", place="Safety locker", item="immersion suit", quantity=1, batch="SUIT 1", made=made)
        book.rows["inventory"][-1]["condition"] = "spare"
        return line("immersion suit pressure test", "done", "Suit 1", done=done)(book)

    return edit


def _by_station(book: Workbook) -> tuple[str, str]:
    """An extended service under a grant, with the reference of the letter."""
    return _lifejackets("done", done=date(2025, 10, 15), granted_until=date(2027, 3, 10), grant_reference="L 7")(book)


def _misspelt(book: Workbook) -> tuple[str, str]:
    found = book.find("servicing", appliance="Lifeboat 1", service=FALLS)
    found["appliance"] = "Lifebaot 1"
    return at(book, "servicing", found, "appliance")


def _hooks_of_a_raft(book: Workbook) -> tuple[str, str]:
    found = book.add("servicing", appliance="Raft P", service=HOOKS, done=date(2026, 10, 20))
    return at(book, "servicing", found, "service")


def _raft_service_of_a_boat(book: Workbook) -> tuple[str, str]:
    found = book.add("servicing", appliance="Lifeboat 2", service="liferaft serviced", done=date(2026, 10, 20))
    return at(book, "servicing", found, "service")


CASES: Cases = {
    "SV01": (
        [
            _raft(serviced=date(2025, 11, 24)),
            _raft(serviced=date(2026, 2, 23)),
            _raft(serviced=date(2025, 6, 1), service_granted_until=date(2026, 11, 1)),
            _raft_lapsed_with_a_line(done=date(2025, 11, 24)),
            _same_month(date(2025, 10, 31)),
        ],
        [
            quiet(_raft(serviced=date(2025, 11, 24), service_granted_until=date(2027, 3, 1))),
            quiet(_raft(serviced=date(2026, 2, 24))),
            quiet(_raft_lapsed_with_a_line()),
            quiet(_raft(serviced="")),
            quiet(_raft_lapsed_with_a_line(done="12/03/2026")),
        ],
    ),
    "SV02": (
        [_raft(earliest_content=date(2026, 9, 30))],
        [quiet(_raft(earliest_content=date(2027, 2, 24))), quiet(_raft(earliest_content=""))],
    ),
    "SV03": (
        [
            line(FALLS, "done", done=date(2021, 11, 24)),
            line(FALLS, "done", done=date(2022, 2, 23)),
            line(FALLS, "done", done=date(2024, 11, 24), interval="2Y"),
            line(DAVIT, "done", done=date(2025, 6, 30)),
            line(OVERHAUL, "done", done=date(2021, 10, 1)),
            _ship_line("EPIRB shore maintenance", done=date(2021, 11, 24)),
            _co2_last_inspected(date(2026, 10, 25)),
            _co2_last_inspected(date(2026, 11, 2)),
            _ship_line("CO2 contents checked", done=date(2023, 8, 24)),
            _lifejackets("done", done=date(2025, 6, 1), granted_until=date(2026, 11, 1), grant_reference="L 7"),
            _release(date(2024, 11, 24), ""),
            _old_raft(date(2016, 11, 24), date(2025, 11, 24)),
            _air_bottles(date(2021, 11, 24)),
            _without_anniversary(date(2025, 5, 24)),
        ],
        [
            quiet(line(FALLS, "done", done=date(2022, 2, 24))),
            quiet(_in_window(date(2025, 9, 20))),
            quiet(line(FALLS, "done", done="12/03/2021")),
            quiet(line(FALLS, "done", done="")),
            quiet(line(FALLS, "done", done=date(2027, 1, 5))),
            _without_line(FALLS),
            _without_sheet,
            _overdue_beside(),
            _overdue_beside(appliance="Lifebaot 1"),
            _overdue_beside(appliance="Davit, port"),
            _overdue_beside(done="12/03/2026"),
            _overdue_beside(service="falls renwed"),
            quiet(_without_anniversary(date(2025, 6, 1))),
            quiet(_co2_last_inspected(date(2026, 11, 3))),
            quiet(_ship_line("CO2 contents checked", done=date(2024, 9, 1))),
            quiet(_passenger_ship(_ship_line("CO2 contents checked", done=date(2024, 11, 24)))),
            quiet(_by_station),
            quiet(_release(date(2024, 11, 24), date(2028, 9, 30))),
            quiet(_old_raft(date(2016, 11, 25), date(2025, 11, 24))),
            quiet(_air_bottles(date(2022, 2, 24))),
        ],
    ),
    "SV04": (
        [
            line(DAVIT, "done_by", done_by="crew"),
            line(OVERHAUL, "done_by", done_by="Competent person"),
            _raft_lapsed_with_a_line(done_by="crew"),
        ],
        [
            quiet(line(DAVIT_TEST, "done_by", done=date(2019, 12, 31), done_by="crew")),
            quiet(line(DAVIT, "done_by", done_by="")),
            quiet(line(FALLS, "done_by", done_by="crew")),
            quiet(_another_line(DAVIT, done=date(2026, 11, 1), done_by="crew")),
        ],
    ),
    "SV05": (
        [_misspelt],
        [
            quiet(change("servicing", {"appliance": "Lifeboat 1", "service": FALLS}, appliance="LIFEBOAT 1")),
            quiet(_another_line("EPIRB annual test", "EPIRB, bridge", done=date(2026, 11, 1))),
            quiet(change("craft", {"name": "Raft S"}, name="Raft P")),
        ],
    ),
    "SV06": (
        [
            line(FALLS, "next_due", next_due=date(2031, 5, 10)),
            line(FALLS, "next_due", next_due=date(2024, 5, 1)),
            _lifejackets("next_due", next_due=date(2028, 3, 20)),
            line(DAVIT, "next_due", next_due=date(2028, 3, 1)),
        ],
        [
            quiet(line(FALLS, "next_due", next_due=date(2029, 5, 10))),
            quiet(line(FALLS, "next_due", next_due=date(2029, 5, 9))),
            quiet(line(FALLS, "next_due", next_due=date(2029, 5, 31))),
            quiet(line(FALLS, "next_due", next_due=date(2028, 5, 10), interval="4Y")),
            quiet(line(DAVIT, "next_due", next_due=date(2028, 2, 5))),
            quiet(line(FALLS, "next_due", next_due="12/03/2031")),
        ],
    ),
    "SV07": (
        [
            _lifejackets("granted_until", done=date(2025, 9, 1), granted_until=date(2027, 1, 15)),
            _raft(service_granted_until=date(2028, 2, 20)),
            _put_off(granted_until=date(2027, 3, 1)),
        ],
        [
            quiet(_put_off(granted_until=date(2027, 3, 1), grant_reference="L 7")),
            quiet(_raft(service_granted_until=date(2027, 10, 20))),  # no later than the service falls due anyway
            quiet(_raft(serviced=date(2025, 6, 1), service_granted_until=date(2026, 11, 1))),  # SV01 says it
            quiet(_by_station),
            quiet(_lifejackets("granted_until", granted_until=date(2027, 10, 20))),
        ],
    ),
    "SV08": (
        [
            _lifejackets("granted_until", granted_until=date(2028, 3, 21), grant_reference="L 7"),
            line(FALLS, "granted_until", granted_until=date(2029, 8, 1), grant_reference="L 7"),
            _raft(service_granted_until=date(2028, 3, 21)),
        ],
        [
            quiet(_lifejackets("granted_until", granted_until=date(2028, 3, 20), grant_reference="L 7")),
            quiet(_raft(service_granted_until=date(2028, 3, 20))),
        ],
    ),
    "SV09": (
        [line(FALLS, "interval", interval="6Y"), line(DAVIT, "interval", interval="18M")],
        [quiet(line(FALLS, "interval", interval="60M")), quiet(line(FALLS, "interval", interval="4Y"))],
    ),
    "SV10": (
        [_hooks_of_a_raft, _raft_service_of_a_boat],
        [
            quiet(change("craft", {"name": "Lifeboat 1"}, kind="free-fall lifeboat")),
            quiet(_another_line("hydrostatic release serviced", "Raft P", done=date(2026, 9, 1))),
        ],
    ),
    "SV11": (
        [_suit(date(2014, 5, 1), date(2024, 5, 10))],
        [
            quiet(_suit(date(2014, 5, 1), date(2024, 11, 25))),
            quiet(_suit(date(2016, 11, 25), date(2024, 5, 10))),
            quiet(line("immersion suit pressure test", "done", "Suit 1", done=date(2024, 5, 10))),
        ],
    ),
}


# A grant that does not count leaves the service overdue; a release whose date is not on the Inventory is a query there.
FOLLOWS: dict[str, set[str]] = {"SV07": {"SV03"}, "SV08": {"SV07"}, "SV03": {"WB15"}}
