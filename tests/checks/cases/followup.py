"""What is being done about a finding: closed too early, gone, misspelt, twice."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from tests.checks.cases.common import Cases, Trip, at, quiet
from tests.workbooks import ON, Workbook
from workbook_tools.findings import identity

# The finding that these follow: one bucket in Lifeboat 1 where two are asked.
BUCKET = identity("EQ01", "lifeboat.buckets", "Lifeboat 1")
GONE = "EQ01-bbbbbb"


def short(book: Workbook) -> None:
    book.lot("bucket")["quantity"] = 1


def follow(column: str, missing: bool = True, **values: Any) -> Trip:
    """A line of the Follow-up sheet, with the fault it follows or without; points at one of its columns."""

    def edit(book: Workbook) -> tuple[str, str]:
        if missing:
            short(book)
        return at(book, "follow_up", book.add("follow_up", **values), column)

    return edit


def _twice(closed: date | None) -> Callable[[Workbook], tuple[str, str]]:
    def edit(book: Workbook) -> tuple[str, str]:
        short(book)
        book.add("follow_up", finding=BUCKET, order="R-1", closed=closed)
        return at(book, "follow_up", book.add("follow_up", finding=BUCKET, order="R-2"), "finding")

    return edit


YESTERDAY, TOMORROW = ON - timedelta(days=1), ON + timedelta(days=1)

CASES: Cases = {
    "WB30": (
        [
            follow("closed", finding=BUCKET, order="R-1", closed=YESTERDAY),
            follow("closed", finding=BUCKET, closed=ON),
            follow("closed", finding=f" {BUCKET.swapcase()} ", closed=YESTERDAY),
        ],
        [
            quiet(follow("closed", finding=BUCKET, order="R-1", closed=TOMORROW)),
            quiet(follow("closed", missing=False, finding=BUCKET, order="R-1", closed=YESTERDAY)),
            quiet(follow("closed", finding=BUCKET, order="R-1", closed="12/03/2026")),
            quiet(_twice(closed=date(2026, 3, 1))),
        ],
    ),
    "WB31": (
        [
            follow("finding", missing=False, finding=BUCKET, order="R-1"),
            follow("finding", finding=GONE, expected=TOMORROW),
            follow("finding", missing=False, finding=BUCKET, closed=TOMORROW),
        ],
        [
            quiet(follow("finding", missing=False, finding=BUCKET, closed=ON)),
            quiet(follow("finding", finding=BUCKET, order="R-1")),
            quiet(follow("finding", missing=False, finding="WB31-aaaaaa")),
        ],
    ),
    "WB32": (
        [
            follow("finding", finding=BUCKET[:-1], order="R-1"),
            follow("finding", missing=False, finding="bucket, Lifeboat 1", order="R-1"),
            follow("finding", missing=False, finding="EQ1-aaaaaa"),
        ],
        [
            quiet(follow("finding", finding=BUCKET.lower(), order="R-1")),
            quiet(follow("finding", finding=BUCKET.replace("-", " - "), order="R-1")),
            quiet(follow("finding", missing=False, finding="last year's bucket", closed=YESTERDAY)),
        ],
    ),
    "WB33": ([_twice(closed=None), _twice(closed=TOMORROW)], [quiet(_twice(closed=YESTERDAY)), short]),
}

# What is followed up stands there as well; a malformed id is of no finding.
FOLLOWS: dict[str, set[str]] = {code: {"EQ01"} for code in CASES}
