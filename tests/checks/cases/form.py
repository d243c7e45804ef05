"""The Record of Equipment beside the rule and beside what is carried."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Silent, Trip, at, quiet
from tests.workbooks import Workbook


def form(entry: str, figure: int, **ship: Any) -> Trip:
    """A figure of the form on a ship changed so; it points at the figure."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.ship.update(ship)
        book.rows["record_of_equipment"] = [line for line in book.rows["record_of_equipment"] if line["entry"] != entry]
        return at(book, "record_of_equipment", book.add("record_of_equipment", entry=entry, figure=figure), "figure")

    return edit


def bare(book: Workbook, *items: str) -> None:
    """Take every lot of some items out of the book."""
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] not in items]


def with_lots(entry: str, figure: int, item: str, *lots: dict[str, Any]) -> Trip:
    """A figure of the form beside just these lots of its item."""

    def edit(book: Workbook) -> tuple[str, str]:
        bare(book, item)
        for lot in lots:
            book.add("inventory", item=item, **{"place": "Bridge", **lot})
        return form(entry, figure)(book)

    return edit


def _remote_raft(purpose: str) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        raft = {**book.find("craft", name="Raft P"), "name": "Raft F", "purpose": purpose, "persons": 6, "mass_kg": 90}
        book.add("craft", **raft, certificate_no="")
        release = {"place": "Raft F", "item": "hydrostatic release unit", "quantity": 1, "expires": date(2029, 1, 1)}
        book.add("inventory", **release)
        return form("liferafts", 3)(book)

    return edit


def _no_rescue_boat(book: Workbook) -> None:
    """The rule's own finding tells of the boat that is missing."""
    book.find("craft", name="Lifeboat 2")["kind"] = "lifeboat"
    form("rescue boats", 1)(book)


def _persons_not_recorded(book: Workbook) -> None:
    book.find("craft", name="Lifeboat 2")["persons"] = ""
    form("persons in lifeboats", 44)(book)


def _exempt(book: Workbook) -> None:
    book.add("exemptions", rule="capacity.rescue-boats", authority="Flag", reference="X 1", until=date(2029, 1, 1))
    form("rescue boats", 0)(book)


def _one_more(entry: str, item: str) -> Trip:
    """A form that lists one more than the clean book carries, which is as much as the rule asks or more."""

    def edit(book: Workbook) -> tuple[str, str]:
        aboard = sum(
            line["quantity"]
            for line in book.rows["inventory"]
            if line["item"] == item or line["item"].startswith(f"{item} with")
        )
        return form(entry, aboard + 1)(book)

    return edit


def _short_of_the_rule(book: Workbook) -> None:
    """A lifebuoy is missing: the rule's own finding says so, the form needs not."""
    book.find("inventory", item="lifebuoy")["quantity"] -= 1
    form("lifebuoys", 8)(book)


def _ashore(book: Workbook) -> tuple[str, str]:
    """Two lifejackets of those beyond the rule are ashore, and the form lists them."""
    jackets = book.find("inventory", item="lifejacket")
    jackets["quantity"] -= 2
    book.add("inventory", **{**jackets, "quantity": 2, "condition": "ashore"})
    aboard = sum(line["quantity"] for line in book.rows["inventory"] if line["item"] == "lifejacket")
    return form("lifejackets", aboard)(book)


AIDS = "thermal protective aid"
BOATS: tuple[dict[str, Any], ...] = (
    {"place": "Lifeboat 1", "quantity": 2},
    {"place": "Lifeboat 2", "quantity": 2},
)


def _silent(*trips: Trip) -> list[Silent]:
    return [quiet(trip) for trip in trips]


CASES: Cases = {
    "SH30": (
        [
            form("rescue boats", 0),
            form("lifebuoys", 7),
            form("lifejackets", 19),
            form("immersion suits", 19),
            form("two-way VHF", 2),
            form("SART", 1),
            form("rocket parachute flares, bridge", 11),
        ],
        [
            *_silent(
                form("rescue boats", 1),
                form("rescue boats", 2),
                form("rescue boats", 0, ship_type=""),
                form("lifeboats", 1),
                form("lifebuoys", 8),
                form("lifebuoys", 7, length_m=""),
                form("lifejackets", 20),
                form("immersion suits", 20),
                form("immersion suits", 3, ship_type="passenger ship"),
                form("line-throwing appliances", 1),
                form("lifejackets", 19, persons_certified=""),
            ),
            _exempt,
        ],
    ),
    "SH31": (
        [
            form("lifeboats", 3),
            form("rescue boats", 2),
            form("persons in lifeboats", 41),
            form("persons in liferafts", 41),
            _remote_raft("extra"),
            _one_more("lifebuoys", "lifebuoy"),
            _one_more("two-way VHF", "survival-craft two-way VHF"),
            _ashore,
            with_lots(
                "line-throwing appliances", 5, "line-throwing rocket", {"quantity": 4, "expires": date(2029, 1, 1)}
            ),
            with_lots("thermal protective aids", 5, AIDS, *BOATS, {"quantity": 4, "place": "Safety locker"}),
        ],
        [
            *_silent(
                form("lifeboats", 2),
                form("persons in lifeboats", 40),
                _remote_raft("remote"),
                form("SART", 2),
                with_lots("line-throwing appliances", 1, "line-throwing rocket"),
                with_lots("thermal protective aids", 4, AIDS, *BOATS, {"quantity": 4, "place": "Safety locker"}),
                with_lots(
                    "thermal protective aids", 9, AIDS, *BOATS, {"quantity": "about 4", "place": "Safety locker"}
                ),
                with_lots("thermal protective aids", 9, AIDS, *BOATS),
            ),
            _no_rescue_boat,
            _short_of_the_rule,
            _persons_not_recorded,
        ],
    ),
    "SH32": (
        [form("persons provided for", 22), form("persons provided for", 19)],
        _silent(form("persons provided for", 20), form("persons provided for", 22, persons_certified="")),
    ),
}

FOLLOWS: dict[str, set[str]] = {}
