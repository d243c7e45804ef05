"""Drills and routine against outside sources: the published intervals, a day-by-day simulation, and dateutil's months.

The table of intervals was copied by hand from notes on SOLAS III/19, III/20, III/30, V/26, II-1/19-1 and
MSC.1/Circ.1432, not from the rules. How sure each is stands beside it; the steering gear, muster and instruction rows
are from memory or secondary. That a person who missed EITHER drill counts towards the 25 % is a reading of III/19.3.2.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.checks.cases.routine import ago, keep
from tests.workbooks import ON, Workbook, clean
from workbook_tools.core.interval import Interval
from workbook_tools.core.routine import Attendance, Drill, DrillRecord, Person, deadline, missing_drills
from workbook_tools.findings import State
from workbook_tools.rules import load_rule_set

# key, figure, unit, paragraph, surest status that the source allows
TABLE = (
    ("weekly-inspection", 7, "days", "III/20.6.1", "confirmed"),
    ("engine-run", 7, "days", "III/20.6.2", "confirmed"),
    ("boats-moved", 7, "days", "III/20.6.3", "confirmed"),
    ("alarm", 7, "days", "III/20.6.4", "confirmed"),
    ("boats-turned-out", 1, "months", "III/20.7.1", "confirmed"),
    ("monthly-inspection", 1, "months", "III/20.7.2", "confirmed"),
    ("fire-weekly", 7, "days", "Circ.1432 4", "secondary"),
    ("fire-monthly", 1, "months", "Circ.1432 5", "memory"),
    ("fire-quarterly", 3, "months", "Circ.1432 6", "secondary"),
    ("fire-annual", 12, "months", "Circ.1432 7", "confirmed"),
    ("abandon-drill", 1, "months", "III/19.3.2", "confirmed"),
    ("fire-drill", 1, "months", "III/19.3.2", "confirmed"),
    ("drill-after-departure", 24, "h", "III/19.3.2", "memory"),
    ("enclosed-space-drill", 2, "months", "III/19.3.3", "confirmed"),
    ("passenger-abandon-drill", 7, "days", "III/30.2", "confirmed"),
    ("passenger-fire-drill", 7, "days", "III/30.2", "confirmed"),
    ("damage-control-drill", 3, "months", "II-1/19-1", "secondary"),  # the figure: dromon.com circular C17052
    ("lifeboat-launch", 3, "months", "III/19.3.4.3", "confirmed"),
    ("free-fall-boarding", 3, "months", "III/19.3.4.4", "secondary"),  # also the text of MSC.1/Circ.1207
    ("free-fall-launch", 6, "months", "III/19.3.4.4", "secondary"),
    ("rescue-boat-launch", 3, "months", "III/19.3.4.6", "memory"),
    ("davit-raft-training", 4, "months", "III/19.4.3", "confirmed"),
    ("joining-training", 14, "days", "III/19.4.1", "confirmed"),
    ("instruction", 2, "months", "III/19.4.2", "memory"),
    ("steering-drill", 3, "months", "V/26.4", "confirmed"),
    ("steering-gear-test", 12, "h", "V/26.1", "secondary"),
    ("steering-gear-weekly", 7, "days", "V/26.5", "secondary"),
    ("passenger-muster", 1, "days", "III/19.2", "confirmed"),  # before or at once: a day either side
)
SURENESS = ("derived", "memory", "secondary", "confirmed")
RULES = load_rule_set("solas").by_key()


@pytest.mark.parametrize(("key", "figure", "unit", "paragraph", "status"), TABLE)
def test_the_interval_is_the_published_one(key: str, figure: float, unit: str, paragraph: str, status: str) -> None:
    (rule,) = [rule for rule in RULES[f"routine.{key}"] if rule.in_force(ON)]
    assert (rule.fixed, rule.unit) == (figure, unit)
    assert paragraph in rule.reference
    assert SURENESS.index(rule.status) <= SURENESS.index(status)


def test_no_routine_rule_is_outside_the_table() -> None:
    assert {key for key in RULES if key.startswith("routine.")} == {f"routine.{line[0]}" for line in TABLE}


def test_the_share_of_the_crew_is_25_percent() -> None:
    assert [rule.percent for rule in RULES["routine.drill-after-departure"]] == [25]  # III/19.3.2


@pytest.mark.parametrize(
    ("key", "first"),
    [
        ("routine.enclosed-space-drill", date(2015, 1, 1)),  # MSC.350(92)
        ("routine.damage-control-drill", date(2020, 1, 1)),  # MSC.421(98)
    ],
)
def test_later_drills_are_asked_from_their_first_day_of_force(key: str, first: date) -> None:
    (rule,) = RULES[key]
    assert rule.in_force(first)
    assert not rule.in_force(first - timedelta(days=1))


@given(st.dates(date(2000, 1, 1), date(2060, 12, 31)), st.integers(1, 12))
def test_months_are_counted_as_dateutil_counts_them(last: date, months: int) -> None:
    assert deadline(last, Interval(months=months)) == last + relativedelta(months=months)


@given(st.dates(date(2000, 1, 1), date(2060, 12, 31)), st.integers(1, 12))
def test_the_same_calendar_month_ends_on_dateutils_last_day(last: date, months: int) -> None:
    assert deadline(last, Interval(months=months), same_month=True) == last + relativedelta(months=months, day=31)


# A literal reading of III/19.3.2, day by day ------------------------------------------------------------------

START = date(2026, 1, 1)
_DAYS = st.integers(0, 120)
_CREW = st.lists(st.integers(-300, 120), min_size=1, max_size=12)
_DRILLS = st.lists(st.tuples(_DAYS, st.sets(st.integers(0, 11))), max_size=8)


def _simulate(joined: list[int], drills: dict[str, list[tuple[int, set[int]]]], departure: int) -> tuple[int, int]:
    """Walk through the days of the month before departure, ticking off who took part in what on board."""
    leaves = START + timedelta(days=departure)
    ticked: dict[str, set[int]] = {"abandon": set(), "fire": set()}
    day = leaves
    while day + relativedelta(months=1) >= leaves:
        for kind, held in drills.items():
            for when, present in held:
                if START + timedelta(days=when) == day:
                    ticked[kind] |= {who for who in present if who < len(joined) and joined[who] <= when}
        day -= timedelta(days=1)
    aboard = [who for who in range(len(joined)) if joined[who] <= departure]
    return sum(who not in ticked["abandon"] or who not in ticked["fire"] for who in aboard), len(aboard)


def _record(held: list[tuple[int, set[int]]]) -> DrillRecord:
    old = Drill(START - timedelta(days=200), Attendance(False, frozenset({"x"})))  # the record reaches back far enough
    return DrillRecord.of(
        [
            old,
            *(
                Drill(START + timedelta(days=when), Attendance(False, frozenset(str(who) for who in present)))
                for when, present in held
            ),
        ]
    )


@given(_CREW, _DRILLS, _DRILLS, _DAYS)
@settings(max_examples=300, deadline=None)
def test_who_missed_a_drill_agrees_with_a_simulation_day_by_day(
    joined: list[int], abandon: list[tuple[int, set[int]]], fire: list[tuple[int, set[int]]], departure: int
) -> None:
    persons = [Person(str(who), START + timedelta(days=when)) for who, when in enumerate(joined)]
    leaves = START + timedelta(days=departure)
    found = missing_drills(persons, _record(abandon), _record(fire), leaves, Interval(months=1))
    missed, aboard = _simulate(joined, {"abandon": abandon, "fire": fire}, departure)
    assert (len(found.surely), len(found.possibly), found.crew) == (missed, missed, aboard)
    assert found.surely_above(25) == (4 * missed > aboard)


@given(_CREW, _DRILLS, _DRILLS, _DAYS, st.data())
@settings(max_examples=100, deadline=None)
def test_what_is_not_recorded_never_makes_anyone_surely_missing(
    joined: list[int],
    abandon: list[tuple[int, set[int]]],
    fire: list[tuple[int, set[int]]],
    departure: int,
    data: st.DataObject,
) -> None:
    """Blanking attendance or dates of joining may move persons from sure to possible, never the other way."""
    leaves, month = START + timedelta(days=departure), Interval(months=1)
    persons = [Person(str(who), START + timedelta(days=when)) for who, when in enumerate(joined)]
    full = missing_drills(persons, _record(abandon), _record(fire), leaves, month)
    blank = data.draw(st.sets(st.integers(0, 8)))
    record = _record(abandon)
    hidden = DrillRecord.of(
        Drill(drill.day, None) if number in blank else drill for number, drill in enumerate(record.drills)
    )
    found = missing_drills(persons, hidden, _record(fire), leaves, month)
    assert set(found.surely) <= set(full.surely)
    assert set(found.possibly) >= set(full.surely)


# The whole audit, for ships that the cases do not hold ---------------------------------------------------------


def _state(book: Workbook, rule: str, subject: str = "ship", on: date = ON) -> State:
    (found,) = [state for state in book.audit(on).states if (state.rule, state.subject) == (rule, subject)]
    return found


def _codes(book: Workbook, rule: str) -> list[tuple[str, str]]:
    return [(finding.code, finding.grade) for finding in book.findings() if finding.rule == rule]


@pytest.mark.parametrize(
    ("day", "state"), [(date(2026, 5, 24), "finding"), (date(2026, 5, 25), "passed"), (None, "not_evaluated")]
)
def test_a_free_fall_boat_is_launched_or_simulated_every_six_months(day: date | None, state: str) -> None:
    book = clean()
    book.find("craft", name="Lifeboat 1")["kind"] = "free-fall lifeboat"
    if day:
        book.add("routine", day=day, task="simulated launch", subject="Lifeboat 1")
    assert _state(book, "routine.free-fall-launch", "Lifeboat 1").state == state
    assert _state(book, "routine.lifeboat-launch", "Lifeboat 1").state == "not_applicable"
    assert _state(book, "routine.boats-moved", "Lifeboat 1").state == "not_applicable"


def test_a_launch_is_a_boarding_drill_as_well() -> None:
    book = clean()
    book.find("craft", name="Lifeboat 1")["kind"] = "free-fall lifeboat"
    book.add("routine", day=ago(30), task="free-fall launch", subject="Lifeboat 1")
    assert _state(book, "routine.free-fall-boarding", "Lifeboat 1").state == "passed"


@pytest.mark.parametrize(("day", "state"), [(date(2026, 8, 24), "finding"), (date(2026, 8, 25), "passed")])
def test_a_rescue_boat_is_launched_every_three_months_in_all_cases(day: date, state: str) -> None:
    book = clean()
    book.find("craft", name="Lifeboat 2")["kind"] = "rescue boat"
    book.add("routine", day=day, task="rescue boat launched")
    assert _state(book, "routine.rescue-boat-launch", "Lifeboat 2").state == state


@pytest.mark.parametrize(("day", "state"), [(ago(8), "finding"), (ago(7), "passed")])
def test_a_passenger_ship_drills_every_week(day: date, state: str) -> None:
    book = clean()
    book.ship["ship_type"] = "passenger ship"
    keep(book, "fire drill", until=day - timedelta(days=1))
    book.add("routine", day=day, task="fire drill", present="all")
    assert _state(book, "routine.passenger-fire-drill").state == state


@pytest.mark.parametrize(("days", "state"), [((40,), "finding"), ((40, 4), "passed"), ((), "not_evaluated")])
def test_passengers_are_mustered_on_departure(days: tuple[int, ...], state: str) -> None:
    book = clean()
    book.ship["ship_type"] = "passenger ship"
    for number in days:
        book.add("routine", day=ago(number), task="passenger muster")
    assert _state(book, "routine.passenger-muster").state == state
    assert _codes(book, "routine.passenger-muster") == ([("RT07", "action")] if state == "finding" else [])


@pytest.mark.parametrize(("days", "state"), [(7, "finding"), (6, "passed"), (4, "passed"), (3, "not_evaluated")])
def test_a_muster_counts_from_the_day_before_departure_to_the_day_after(days: int, state: str) -> None:
    book = clean()
    book.ship["ship_type"] = "passenger ship"  # departed five days ago
    book.add("routine", day=ago(days), task="passenger muster")
    assert _state(book, "routine.passenger-muster").state == state
    assert all("24 h" not in finding.message for finding in book.findings() if finding.code == "RT07")


@pytest.mark.parametrize(("under", "state"), [("yes", "not_applicable"), ("", "not_evaluated"), ("no", "finding")])
def test_a_ferry_on_short_voyages_musters_otherwise(under: str, state: str) -> None:
    book = clean()
    book.ship.update(ship_type="passenger ship", voyage_under_24h=under)
    book.add("routine", day=ago(40), task="passenger muster")
    assert _state(book, "routine.passenger-muster").state == state


def test_the_calendar_month_option_of_the_ship_sheet_is_named_and_followed() -> None:
    book = clean()
    keep(book, "boats turned out", "lifeboat launched", until=date(2026, 10, 1))
    book.add("routine", day=date(2026, 10, 1), task="boats turned out")
    book.add("routine", day=date(2026, 9, 15), task="lifeboat launched")
    assert _state(book, "routine.boats-turned-out", "Lifeboat 1").state == "finding"
    book.ship["deadline_counting"] = "same calendar month"
    assert _state(book, "routine.boats-turned-out", "Lifeboat 1").state == "passed"
    (said,) = {
        finding.message
        for finding in book.findings()
        if finding.rule == "routine.boats-turned-out" and finding.subject == "Lifeboat 1"
    }
    assert "calendar month" in said


def test_without_a_routine_sheet_nothing_is_late() -> None:
    book = clean()
    del book.rows["routine"]
    assert _state(book, "routine.fire-drill").state == "not_evaluated"
    assert not [finding for finding in book.findings() if finding.code.startswith("RT")]


def test_without_attendance_only_the_persons_are_not_evaluated() -> None:
    book = clean()
    for line in book.rows["routine"]:
        line.pop("present", None)
    assert _state(book, "routine.fire-drill").state == "not_evaluated"
    assert _state(book, "routine.drill-after-departure").state == "not_evaluated"
    assert _state(book, "routine.passenger-fire-drill").state == "not_applicable"
    assert not [finding for finding in book.findings() if finding.code.startswith("RT")]


def test_a_day_that_cannot_be_read_blocks_the_verdict_with_its_cell() -> None:
    book = clean()
    keep(book, "steering drill", until=date(2026, 8, 1))
    book.add("routine", day=date(2026, 8, 1), task="steering drill")
    line = book.add("routine", day="10/11/2026", task="steering drill")
    state = _state(book, "routine.steering-drill")
    assert (state.state, f"Routine!{book.cell('routine', line, 'day')}" in state.why) == ("not_evaluated", True)


def test_an_equivalent_that_the_flag_accepts_is_an_exemption() -> None:
    book = clean()
    keep(book, "fire drill", until=ago(40))
    book.add("routine", day=ago(40), task="fire drill", present="all")
    book.add("exemptions", rule="routine.fire-drill", authority="Flag", reference="X 1", until=date(2027, 1, 1))
    assert _state(book, "routine.fire-drill").state == "exempt"


def test_no_message_holds_a_name() -> None:
    book = clean()
    for entry in book.rows["crew"]:
        entry["name"] = "Somebody Known"
    keep(book, "fire drill", until=date(2020, 1, 1))
    for number in (3, 40, 50):
        book.add("routine", day=ago(number), task="fire drill", present="1 to 5")
    said = [finding.message for finding in book.findings() if finding.code == "RT04"]
    assert said
    assert not any("Somebody" in message for message in said)
