"""CP06: what stays open from return to return is named; what is followed up, due, gone in between or undated is not."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tests.checks.cases.followup import BUCKET
from tests.workbooks import ON, Workbook, clean
from workbook_tools.checks import Options
from workbook_tools.compare import compare_ship
from workbook_tools.compare.open_findings import Audited, days_known, finding_stays_open
from workbook_tools.compare.returns import BY_IMO, Series, identify
from workbook_tools.findings import Finding, FollowUp, identified

DAYS = [date(2026, month, 25) for month in (8, 9, 10, 11)]
[SHORT] = identified(
    [
        Finding(
            code="EQ01",
            rule="lifeboat.bucket",
            grade="action",
            priority="at next port",
            sheet="Inventory",
            cell="D9",
            subject="Lifeboat 1",
            message="bucket: 2 asked, 1 carried",
            remedy="bring one on board",
        )
    ]
)


def series(pattern: str) -> list[Audited]:
    """Returns a month apart, oldest first: x a bucket is short, . it is not, u short in a return without a day."""
    found = {"x": {SHORT.id: SHORT}, "u": {SHORT.id: SHORT}, ".": {}}
    return [Audited(None if sign == "u" else day, found[sign]) for sign, day in zip(pattern, DAYS, strict=False)]


# pattern, returns asked for, in how many it was open (0: silent)
PATTERNS = [
    ("xx", 2, 2),
    ("xxx", 2, 3),
    (".xx", 2, 2),
    ("x.xx", 2, 2),
    ("xxxx", 4, 4),
    ("xu", 2, 2),  # the newest return is looked at today, whatever its day
    ("x.", 2, 0),
    (".x", 2, 0),
    ("x.x", 2, 0),
    ("xx", 3, 0),
    ("xx.x", 2, 0),
    ("ux", 2, 0),
    ("uuux", 2, 0),
]


@pytest.mark.parametrize(("pattern", "open_for", "number"), PATTERNS)
def test_a_finding_open_in_so_many_returns_in_a_row_is_named(pattern: str, open_for: int, number: int) -> None:
    found = list(finding_stays_open(series(pattern), open_for))
    assert len(found) == (number > 0)
    if number:
        first = DAYS[len(pattern) - number]
        assert f"{SHORT.id}, open in {number} returns in a row, since {first}: bucket" in found[0].message
        assert (found[0].sheet, found[0].cell) == ("Inventory", "D9")


def test_one_return_sent_twice_is_one() -> None:
    twice = [series("x")[0], series("x")[0]]
    assert len(days_known(twice)) == 1
    assert list(finding_stays_open(twice, 2)) == []


def test_what_is_ordered_is_silent_until_its_day_has_passed() -> None:
    for past in (False, True):
        ordered = replace(SHORT, follow_up=FollowUp(order="R-112", past=past))
        returns = [*series("x"), Audited(DAYS[1], {SHORT.id: ordered})]
        assert len(list(finding_stays_open(returns, 2))) == past


# ---- with books


def compared(tmp_path: Path, books: list[Workbook]) -> list[str]:
    """The ids of what stays open, of returns saved as books."""
    paths = [book.save(tmp_path / f"{number}.xlsx") for number, book in enumerate(books)]
    found = compare_ship(Series(BY_IMO, [identify(path) for path in paths]), Options(ON), 2).findings
    assert {finding.code for finding in found} <= {"CP06"}
    return [finding.message.partition(",")[0] for finding in found]


def of(day: date) -> Workbook:
    """The clean ship as her record stood on a day: nothing is entered that was done later."""
    book = clean()
    book.ship["record_date"] = day
    for key, column in (("routine", "day"), ("servicing", "done")):
        book.rows[key] = [line for line in book.rows[key] if line[column] <= day]
    return book


def short(day: date | None, boat: str = "Lifeboat 1") -> Workbook:
    book = of(day) if day is not None else clean()
    book.lot("bucket", boat)["quantity"] = 1
    return book


def test_a_bucket_short_in_two_returns_is_named_by_its_finding(tmp_path: Path) -> None:
    assert compared(tmp_path, [short(DAYS[2]), short(DAYS[3])]) == [BUCKET]


def test_a_bucket_short_in_another_boat_is_another_finding(tmp_path: Path) -> None:
    assert compared(tmp_path, [short(DAYS[2]), short(DAYS[3], "Lifeboat 2")]) == []


def test_an_order_on_the_follow_up_sheet_keeps_it_silent(tmp_path: Path) -> None:
    book = short(DAYS[3])
    book.add("follow_up", finding=BUCKET, order="R-112", expected=date(2026, 12, 31))
    assert compared(tmp_path, [short(DAYS[2]), book]) == []


def test_what_lapsed_after_the_older_return_was_not_open_in_it(tmp_path: Path) -> None:
    books = []
    for day in DAYS[2:]:
        book = of(day)
        book.lot("hand flare")["expires"] = date(2026, 11, 10)
        books.append(book)
    assert compared(tmp_path, books) == []


def test_what_is_only_due_in_both_is_silent(tmp_path: Path) -> None:
    books = []
    for day in DAYS[2:]:
        book = of(day)
        book.lot("hand flare")["expires"] = date(2026, 12, 10)
        books.append(book)
    assert compared(tmp_path, books) == []


def test_a_return_without_a_day_is_not_compared(tmp_path: Path) -> None:
    assert compared(tmp_path, [short(None), short(DAYS[3])]) == []
