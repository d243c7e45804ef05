"""Lines of the record that cannot be right together (WB19 to WB23), and dates of every sheet that WB11 looks at."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Trip, add, at, change, quiet
from tests.workbooks import ON, Workbook

LATER = date(2027, 12, 31)  # after every line of the clean book


def two_crafts(first: str, second: str) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        book.find("craft", name="Raft P")["serial"] = first
        line = book.find("craft", name="Raft S")
        line["serial"] = second
        return at(book, "craft", line, "serial")

    return edit


def lines(item: str, *batches: str, **values: Any) -> Trip:
    """One line of an item for each number; it points at the last one's number."""

    def edit(book: Workbook) -> tuple[str, str]:
        for batch in batches:
            line = book.add("inventory", place="Cabins", item=item, quantity=1, batch=batch)
        line.update(values)
        return at(book, "inventory", line, "batch")

    return edit


def recorded(day: date, edit: Trip) -> Trip:
    """An edit of a book whose record date is a day."""

    def run(book: Workbook) -> tuple[str, str]:
        book.ship["record_date"] = day
        return edit(book)

    return run


def old_record(edit: Trip) -> Trip:
    """A record date of October, and an edit; the finding points at the record date."""

    def run(book: Workbook) -> tuple[str, str]:
        book.ship["record_date"] = date(2026, 10, 31)
        edit(book)
        return at(book, "ship", None, "record_date")

    return run


def settled(book: Workbook) -> None:
    """A record date before the day asked, and nothing but the first of the month's drill after it."""
    for key, columns in {"craft": ["serviced"], "crew": ["joined", "refreshed"], "servicing": ["done"]}.items():
        for line in book.rows[key]:
            line.update(dict.fromkeys(columns, ""))
    book.rows["fire"] = []
    book.ship["record_date"] = date(2026, 10, 31)


def drill_after_the_record(book: Workbook) -> None:
    settled(book)
    book.add("routine", day=date(2026, 11, 8), task="abandon ship drill")


def relief_after_the_day(book: Workbook) -> None:
    settled(book)
    book.add("crew", number="R1", rank="master", joined=date(2026, 12, 1))


def battery_of_the_epirb(book: Workbook) -> None:
    book.add("inventory", place="Bridge wing", item="EPIRB", quantity=1, batch="E-9")
    book.add("inventory", place="Bridge wing", item="EPIRB battery", quantity=1, batch="E-9", expires=date(2029, 1, 1))


def raft(**values: Any) -> Trip:
    return change("craft", {"name": "Raft P"}, **values)


MADE_2026 = {"serviced": date(2026, 2, 28), "made": date(2026, 3, 1)}
DEFECT: dict[str, Any] = {"subject": "Lifeboat 1", "fitting": "limit switches"}
CERTIFICATE: dict[str, Any] = {"certificate": "Test certificate of the davits"}
FALLS: dict[str, Any] = {"appliance": "Galley lift", "service": "falls renewed"}

CASES: Cases = {
    "WB19": (
        [
            two_crafts("L-4711", "l 4711"),
            lines("immersion suit", "S-1", "S-1"),
            lines("EPIRB", "E-9", "E-9", place="Monkey island"),
        ],
        [
            quiet(two_crafts("L-4711", "L-4712")),
            quiet(two_crafts("n/a", "N/A")),
            quiet(lines("immersion suit", "S-1", "S-2")),
            quiet(lines("immersion suit", "B-21", "B-21", "B-21")),
            quiet(lines("immersion suit", "B-21", "B-21", quantity=6)),
            quiet(lines("EPIRB", "E-9", "E-9", condition="ashore")),
            quiet(lines("whistle", "W-1", "W-1")),
            battery_of_the_epirb,
        ],
    ),
    "WB20": (
        [
            change("craft", {"name": "Raft P"}, **MADE_2026),
            add("certificates", "until", **CERTIFICATE, issued=date(2027, 2, 1), until=date(2027, 1, 31)),
            add("defects", "closed", **DEFECT, since=date(2026, 11, 2), closed=date(2026, 11, 1)),
            change("ship", {}, voyage_ends=date(2026, 11, 19), departed=date(2026, 11, 20)),
        ],
        [
            quiet(raft(made="10/2026")),
            quiet(raft(made=date(2026, 10, 20))),
            quiet(add("certificates", "until", **CERTIFICATE, issued=date(2025, 2, 1))),
            quiet(add("defects", "closed", **DEFECT, since=date(2026, 11, 2), closed=date(2026, 11, 2))),
            quiet(change("ship", {}, voyage_ends=date(2026, 11, 20), departed=date(2026, 11, 20))),
        ],
    ),
    "WB21": (
        [recorded(LATER, raft(serviced=date(2028, 1, 1)))],
        [
            quiet(recorded(LATER, add("servicing", "done", **FALLS, done=LATER))),
            quiet(add("servicing", "done", **FALLS, done=LATER)),
            quiet(recorded(LATER, change("crew", {"number": "5"}, joined=date(2028, 1, 1)))),
        ],
    ),
    "WB22": (
        [
            old_record(change("crew", {"number": "5"}, joined=date(2026, 11, 1))),
            old_record(raft(serviced=date(2026, 11, 1))),
        ],
        [
            settled,
            drill_after_the_record,
            relief_after_the_day,
            quiet(recorded(ON, change("crew", {"number": "5"}, joined=ON))),
        ],
    ),
    "WB23": (
        [recorded(LATER, change("crew", {"number": "5"}, medical_expires=date(2030, 1, 1)))],
        [
            quiet(recorded(LATER, change("crew", {"number": "5"}, medical_expires=date(2029, 12, 31)))),
            quiet(change("crew", {"number": "5"}, medical_expires=date(2030, 1, 1))),
        ],
    ),
}

# With a record date, lines of later days in the clean book are told as well; who has just joined is to be trained.
FOLLOWS: dict[str, set[str]] = {"WB22": {"WB21", "RT06"}}
