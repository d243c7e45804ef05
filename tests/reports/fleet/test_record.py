"""The record of a fleet counts what the audits say, and gives it back worst first."""

from __future__ import annotations

import json
import random
from collections import Counter
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reports.fleet.fleets import OPTIONS, UNREAD, example_results, finding, record_of, result
from workbook_tools.checks import CODES, Options
from workbook_tools.findings import GRADES, Finding, FollowUp, Lapse
from workbook_tools.reports import as_json
from workbook_tools.reports.fleet.record import CHECKED, vessel
from workbook_tools.rules.model import PRIORITIES


def test_totals_are_those_of_the_json_report() -> None:
    results = example_results()
    record = record_of(*results)
    assert record.totals() == json.loads(as_json(results, OPTIONS.on, ""))["totals"]
    assert record.books == len(results)
    assert record.unread_count() == 1


def test_each_ship_has_the_counts_of_its_audit() -> None:
    results = {one.book: one for one in example_results()}
    ships = list(record_of(*results.values()).ships())
    assert {ship.path for ship in ships} == set(results)
    for ship in ships:
        audit = results[ship.path]
        assert ship.grades == audit.grade_counts()
        assert ship.states == audit.state_counts()
        assert ship.followed_up == len(audit.followed_up())
        assert {key: count for key, count in ship.families.items() if count} == Counter(
            one.code[:2] for one in audit.findings
        )
        assert sum(ship.actions.values()) == ship.grades["action"]


def test_every_finding_comes_back_once() -> None:
    results = example_results()
    lines = Counter((line.path, line.id, line.message) for line in record_of(*results).findings())
    assert lines == Counter((one.book, entry.id, entry.message) for one in results for entry in one.findings)


def test_a_book_that_is_not_read_stands_first_then_who_must_act_before_sailing() -> None:
    later = finding(priority="at next port")
    record = record_of(result("clean.xlsx"), result("later.xlsx", *[later] * 5), result("now.xlsx", finding()), UNREAD)
    assert [ship.path for ship in record.ships()] == [UNREAD.book, "now.xlsx", "later.xlsx", "clean.xlsx"]
    assert [ship.rank for ship in record.ships()] == [1, 2, 3, 4]


_FINDINGS = st.builds(
    finding,
    grade=st.sampled_from(GRADES),
    priority=st.sampled_from(PRIORITIES),
    code=st.sampled_from(["CV03", "EQ01", "WB03"]),
    subject=st.sampled_from(["Raft P", "Lifeboat 1"]),
    follow_up=st.sampled_from([None, FollowUp(order="R-1"), FollowUp(order="R-2", past=True)]),
)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(_FINDINGS, max_size=5), max_size=5))
def test_findings_stand_worst_first_and_those_being_followed_up_last(fleet: list[list[Finding]]) -> None:
    with record_of(*(result(f"{number}.xlsx", *book) for number, book in enumerate(fleet))) as record:
        lines = list(record.findings())
    keys = [
        (line.followed_up, PRIORITIES.index(line.priority), line.code != "CV03", GRADES.index(line.grade), line.rank)
        for line in lines
    ]
    assert keys == sorted(keys)
    assert len(lines) == sum(map(len, fleet))


def test_the_order_of_ships_does_not_depend_on_the_order_of_books_where_they_differ() -> None:
    books = [result(f"{number}.xlsx", *[finding()] * number) for number in range(6)]
    wanted = [ship.path for ship in record_of(*books).ships()]
    random.Random(1).shuffle(books)
    assert [ship.path for ship in record_of(*books).ships()] == wanted


# ---- what lapses -------------------------------------------------------------------------------------------------


def _lapse(day: date) -> Lapse:
    return Lapse(day, "stores", "6 x hand flare", "Lifeboat 1", "Inventory", "F5")


@pytest.mark.parametrize(
    ("day", "listed", "later"),
    [
        (date(2026, 11, 24), 0, 0),  # lapsed already: a finding says so
        (date(2026, 11, 25), 1, 0),  # its last good day is the day asked
        (date(2027, 11, 30), 1, 0),  # the last day of the month twelve months ahead
        (date(2027, 12, 1), 0, 1),
    ],
)
def test_lapses_are_listed_from_the_day_asked_to_the_end_of_the_twelfth_month(
    day: date, listed: int, later: int
) -> None:
    record = record_of(result(lapses=[_lapse(day)]))
    assert (record.lapse_count(), record.later_lapses) == (listed, later)


def test_months_follow_one_another_and_the_counts_of_lapses_add_up() -> None:
    record = record_of(*example_results())
    months = record.months()
    assert (months[0], months[-1], len(months)) == ("2026-11", "2027-11", 13)
    assert {month for month, _ in record.lapses_by_month()} <= set(months)
    assert sum(record.lapses_by_month().values()) == record.lapse_count() == len(list(record.lapses()))


def test_the_end_of_the_calendar_is_no_fault() -> None:
    with record_of(result(), options=Options(date(9999, 6, 1), lapses=True)) as record:
        assert record.months()[-1] == "9999-12"


# ---- the same fault on many ships --------------------------------------------------------------------------------


def test_a_fault_is_repeated_where_two_ships_have_it() -> None:
    record = record_of(result("a.xlsx", finding()), result("b.xlsx", finding(), imo_number="3100021", ship="Other"))
    (line,) = record.repeated()
    assert (line.code, line.rule, line.ship_count, line.finding_count) == ("EQ01", "lifeboat.buckets", 2, 2)
    assert set(line.ships) == {"Orrin Vale", "Other"}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({}, {"rule": "lifeboat.hatchets"}),  # another lack
        ({"grade": "note"}, {"grade": "note"}),  # no fault
    ],
)
def test_what_differs_or_is_no_fault_is_not_repeated(one: dict[str, str], other: dict[str, str]) -> None:
    record = record_of(result("a.xlsx", finding(**one)), result("b.xlsx", finding(**other), imo_number="3100021"))
    assert list(record.repeated()) == []


def test_two_books_of_one_ship_are_one_ship() -> None:
    record = record_of(result("a.xlsx", finding()), result("b.xlsx", finding()))
    assert list(record.repeated()) == []
    assert list(record.twice()) == [("3100019", ("a.xlsx", "b.xlsx"))]


def test_other_serial_numbers_and_batches_make_the_same_fault_and_no_new_one() -> None:
    texts = ("Raft P, serial 1: service lapsed", "Raft P, serial 2: service lapsed")
    books = (result(f"{text}.xlsx", finding(message=text), imo_number=f"310{i}019") for i, text in enumerate(texts))
    (line,) = record_of(*books).repeated()
    assert line.ship_count == 2


@pytest.mark.parametrize(
    ("text", "number"), [("3100019", "3100019"), ("IMO 310 0019", "3100019"), ("", ""), ("unknown", ""), ("310", "")]
)
def test_an_imo_number_is_its_seven_digits(text: str, number: str) -> None:
    assert vessel(text) == number


def test_families_are_those_of_which_a_check_makes_findings() -> None:
    assert "CP" not in CHECKED
    assert set(CHECKED) == {code[:2] for code in CODES}
    totals = record_of(*example_results()).family_totals()
    assert list(totals) == list(CHECKED)
    assert sum(sum(grades.values()) for grades in totals.values()) == sum(
        len(one.findings) for one in example_results()
    )
