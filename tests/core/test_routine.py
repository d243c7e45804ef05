"""Attendance, deadlines and who has missed drills."""

from datetime import date

import pytest

from workbook_tools.core import routine
from workbook_tools.core.interval import Interval
from workbook_tools.core.routine import Attendance, Drill, DrillRecord, Person, Standing, parse_attendance

MONTH = Interval(months=1)
ON = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("1-3, 12", "1 2 3 12"),
        ("1 to 3; 12", "1 2 3 12"),
        ("1\u20133 & 12", "1 2 3 12"),  # an en dash
        ("01, 02 and 3.", "1 2 3"),
        ("Crew nos. 4, 7", "4 7"),
        ("#4 #7", "4 7"),
        ("E3, 7a", "e3 7a"),
        ("C/O, 4", "c/o 4"),
        ("5", "5"),
    ],
)
def test_reads_the_numbers_listed(text: str, numbers: str) -> None:
    found = parse_attendance(text, frozenset({"c/o"}))
    assert found is not None
    assert not found.everyone
    assert found.numbers == set(numbers.split())


@pytest.mark.parametrize(
    ("text", "but"),
    [
        ("all", ""),
        ("All hands", ""),
        ("all crew (12)", ""),
        ("Everyone.", ""),
        ("all except 4, 7", "4 7"),
        ("all but 4-6", "4 5 6"),
        ("all crew, except 4", "4"),
        ("all (except 4 and 7)", "4 7"),
    ],
)
def test_reads_everyone_and_those_excepted(text: str, but: str) -> None:
    found = parse_attendance(text)
    assert found is not None
    assert found.everyone
    assert found.numbers == set(but.split())


@pytest.mark.parametrize(
    "text", ["", "deck crew", "all deck crew", "8-1", "1-2026", "12 persons", "2026-01-08", "all except the cook", "1,"]
)
def test_reads_nothing_that_needs_a_guess(text: str) -> None:
    assert parse_attendance(text) is None


def test_a_bare_number_may_be_a_count_of_heads() -> None:
    assert [bool(found and found.may_be_a_count) for found in map(parse_attendance, ("12", "1, 12", "all", "e3"))] == [
        True,
        False,
        False,
        False,
    ]


def test_a_person_without_number_is_only_in_all() -> None:
    assert Attendance(True).includes(None)
    assert Attendance(True, frozenset({"4"})).includes(None) is None
    assert Attendance(False, frozenset({"4"})).includes(None) is None


@pytest.mark.parametrize(
    ("last", "same_month", "due"),
    [
        (date(2027, 1, 31), False, date(2027, 2, 28)),
        (date(2026, 10, 25), False, ON),
        (date(2026, 10, 1), True, date(2026, 11, 30)),
    ],
)
def test_the_last_day_in_time(last: date, same_month: bool, due: date) -> None:
    assert routine.deadline(last, MONTH, same_month) == due


def test_an_interval_in_days_has_no_calendar_month() -> None:
    assert routine.deadline(date(2026, 11, 1), Interval(days=7), same_month=True) == date(2026, 11, 8)


@pytest.mark.parametrize(("days", "warn", "lead"), [(7, 90, 1), (30, 90, 7), (92, 90, 23), (92, 10, 10), (7, 0, 0)])
def test_the_lead_is_a_share_of_the_interval_and_never_more_than_the_warning(days: int, warn: int, lead: int) -> None:
    start = date(2026, 1, 1)
    assert routine.lead_days(start, date.fromordinal(start.toordinal() + days), 25, warn) == lead


def _record(*drills: tuple[date | None, str]) -> DrillRecord:
    return DrillRecord.of(Drill(day, parse_attendance(text) if text else None) for day, text in drills)


OLD = (date(2026, 7, 1), "all")
NUMBER_7 = Person("7", date(2026, 6, 1))


@pytest.mark.parametrize(
    ("person", "drills", "state"),
    [
        (NUMBER_7, [(date(2026, 10, 25), "all")], "ok"),  # the last day of the month
        (NUMBER_7, [(date(2026, 10, 24), "all")], "late"),
        (NUMBER_7, [(date(2026, 11, 20), "1-6"), OLD], "late"),
        (NUMBER_7, [(date(2026, 11, 20), "1-6")], "unknown"),  # what was held before the record began is not known
        (NUMBER_7, [(date(2026, 11, 20), ""), OLD], "unknown"),
        (NUMBER_7, [(None, "all"), OLD], "unknown"),
        (Person("7", date(2026, 10, 25)), [(date(2026, 11, 20), "1-6"), OLD], "ok"),  # joined a month ago
        (Person("7", date(2026, 10, 24)), [(date(2026, 11, 20), "1-6"), OLD], "late"),
        (Person("7", date(2026, 11, 21)), [(date(2026, 11, 20), "7"), OLD], "ok"),
        (Person("7", None), [(date(2026, 11, 20), "all"), OLD], "unknown"),  # on board then?
        (Person("7", None), [(date(2026, 11, 20), "7"), OLD], "ok"),
        (Person(None, date(2026, 6, 1)), [(date(2026, 11, 20), "1-6"), OLD], "unknown"),
    ],
)
def test_how_a_person_stands_to_a_monthly_drill(
    person: Person, drills: list[tuple[date | None, str]], state: str
) -> None:
    found: Standing = routine.standing(person, _record(*drills), ON, MONTH)
    assert found.state == state


@pytest.mark.parametrize(
    ("person", "drills", "had"),
    [
        (NUMBER_7, [(date(2026, 10, 25), "all")], True),
        (NUMBER_7, [(date(2026, 10, 24), "all")], False),
        (NUMBER_7, [(date(2026, 11, 1), "1-6")], None),
        (NUMBER_7, [(date(2026, 11, 1), "1-6"), OLD], False),
        (Person("7", date(2026, 11, 10)), [(date(2026, 11, 1), "1-7")], False),  # another had the number
    ],
)
def test_taking_part_in_the_month_before(
    person: Person, drills: list[tuple[date | None, str]], had: bool | None
) -> None:
    assert routine.took_part(person, _record(*drills), ON, MONTH) is had


def test_exactly_a_quarter_is_not_more_than_a_quarter() -> None:
    persons = [Person(str(number), date(2026, 1, 1)) for number in range(1, 13)]
    everyone, most = _record(OLD, (ON, "all")), _record(OLD, (ON, "4-12"))
    missing = routine.missing_drills(persons, everyone, most, ON, MONTH)
    assert (len(missing.surely), missing.crew) == (3, 12)
    assert not missing.surely_above(25)
    assert routine.missing_drills(persons, everyone, _record(OLD, (ON, "5-12")), ON, MONTH).surely_above(25)
