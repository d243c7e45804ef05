"""Certificates of the ship that have run out."""

from __future__ import annotations

from datetime import date, timedelta

from tests.checks.cases.common import Cases, add, quiet
from tests.workbooks import ON, Workbook

NAME = "Safety Equipment Certificate"
DAY = timedelta(days=1)


def with_a_newer_one(book: Workbook) -> None:
    book.add("certificates", certificate=NAME, until=ON - DAY)
    book.add("certificates", certificate="Safety equipment certificate", until=date(2031, 4, 5))


def with_one_whose_day_is_not_clear(book: Workbook) -> None:
    book.add("certificates", certificate=NAME, until=ON - DAY)
    book.add("certificates", certificate=NAME)


CASES: Cases = {
    "SH22": (
        [
            add("certificates", "until", certificate=NAME, until=ON - DAY),
            add("certificates", "until", certificate=NAME, until=ON),
            add("certificates", "until", certificate=NAME, issued=date(2021, 11, 30), until=ON + 5 * DAY),
        ],
        [
            with_a_newer_one,
            with_one_whose_day_is_not_clear,
            quiet(add("certificates", "until", certificate=NAME, until=date(2031, 4, 5))),
            quiet(add("certificates", "until", certificate=NAME)),
            quiet(add("certificates", "until", certificate=NAME, issued=ON, until=ON - DAY)),
        ],
    ),
}
