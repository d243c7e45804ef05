"""Where services are placed: by hand, against trying everything on small books, every constraint on large ones."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import product
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planning.order_books import EVERYTHING, audited, call, days_of, serviced, with_calls
from tests.workbooks import ON, Line, Workbook
from workbook_tools.planning.servicing import EXCHANGED, FETCHED, IN_STAY, ServicingPlan, Visit
from workbook_tools.planning.servicing_capacity import Capacity

UNTIL = date(2028, 5, 25)  # 18 months
DUE = date(2027, 10, 20)  # of the rafts of the clean book
STATION: dict[str, Any] = {"liferaft_station": "x"}


def rafts_only(*calls: Line) -> Workbook:
    """The clean book with nothing to service but its two rafts, whose contents last."""
    book = with_calls(*calls)
    book.rows["servicing"] = []
    book.rows["fire"] = []
    for raft in book.rows["craft"][2:]:
        raft["earliest_content"] = date(2030, 1, 1)
    return book


def visits(plan: ServicingPlan) -> list[tuple[str, str, str]]:
    """Raft, port and how of each visit."""
    return [(visit.raft, visit.call.port, visit.how) for visit in plan.visits]


# ---- by hand -------------------------------------------------------------------------------------------------------


def test_a_raft_is_exchanged_at_the_last_call_before_it_is_due() -> None:
    early = call("Port Ellery", date(2027, 6, 1), **STATION, exchange_raft="x")
    late = call("Kellimar", date(2027, 10, 20), **STATION, exchange_raft="x")
    plan = serviced(rafts_only(early, late), UNTIL)
    assert visits(plan) == [("Raft P", "Kellimar", EXCHANGED), ("Raft S", "Kellimar", EXCHANGED)]
    assert plan.gaps == ()


def test_rafts_that_may_not_both_be_away_go_ashore_one_after_the_other() -> None:
    stay = call("Kellimar", date(2027, 10, 1), date(2027, 10, 6), **STATION, raft_days=2)
    plan = serviced(rafts_only(stay), UNTIL)
    assert plan.gaps == ()
    first, second = sorted(visit.ashore or (ON, ON) for visit in plan.visits)
    assert first[1] < second[0]


def test_where_the_stay_is_too_short_for_both_the_constraint_is_named() -> None:
    stay = call("Kellimar", date(2027, 10, 1), date(2027, 10, 3), **STATION, raft_days=2)
    plan = serviced(rafts_only(stay), UNTIL)
    (gap,) = plan.gaps
    assert gap.stretch.first == DUE + timedelta(days=1)
    assert gap.task.service == "liferaft service"
    assert "capacity: Kellimar, 2027-10-01 to 2027-10-03" in gap.why
    assert "SOLAS III/31.1.1.2" in gap.why


def test_the_second_raft_counts_and_a_raft_is_fetched_when_the_ship_comes_back() -> None:
    first = call("Kellimar", date(2027, 9, 1), **STATION, raft_days=5)
    second = call("Kellimar", date(2027, 9, 20), **STATION, raft_days=5)
    third = call("Kellimar", date(2027, 10, 10), **STATION, raft_days=5)
    plan = serviced(rafts_only(first, second, third), UNTIL)
    assert plan.gaps == ()
    assert [visit.how for visit in plan.visits] == [FETCHED, FETCHED]
    spans = sorted(visit.ashore or (ON, ON) for visit in plan.visits)
    assert spans == [(date(2027, 9, 1), date(2027, 9, 19)), (date(2027, 9, 20), date(2027, 10, 9))]


def test_a_raft_that_the_rules_do_not_let_go_is_named_with_the_rule() -> None:
    stay = call("Kellimar", date(2027, 10, 1), date(2027, 10, 9), **STATION, raft_days=2)
    book = rafts_only(stay)
    for raft in book.rows["craft"][2:]:
        raft["transferable"] = "no"
    plan = serviced(book, UNTIL)
    assert plan.visits == ()
    assert {gap.task.thing for gap in plan.gaps} == {"Raft P", "Raft S"}
    assert all("no exchange raft there" in gap.why and "SOLAS III/31.1.1" in gap.why for gap in plan.gaps)


def test_persons_that_are_not_recorded_let_no_raft_go() -> None:
    stay = call("Kellimar", date(2027, 10, 1), date(2027, 10, 9), **STATION, raft_days=2)
    book = rafts_only(stay)
    book.ship["persons_on_board"] = ""
    book.rows["crew"] = []
    plan = serviced(book, UNTIL)
    assert plan.visits == ()
    assert all("persons on board is not recorded" in gap.why for gap in plan.gaps)


def test_yearly_work_is_done_within_the_survey_window() -> None:
    book = with_calls(
        call("Port Ellery", date(2027, 4, 1), **EVERYTHING, exchange_raft="x"),
        call("Kellimar", date(2027, 10, 15), **EVERYTHING, exchange_raft="x"),
    )
    plan = serviced(book, UNTIL)
    annual = [job for job in plan.jobs if job.task.service == "launching appliance annual examination"]
    assert {(job.call.port, job.done) for job in annual} == {("Kellimar", date(2027, 10, 15))}
    assert plan.gaps == ()


def test_what_is_overdue_is_placed_at_the_first_call() -> None:
    book = rafts_only(
        call("Kellimar", date(2027, 1, 5), **STATION, exchange_raft="x"),
        call("Tarn Haven", date(2027, 12, 20), **STATION, exchange_raft="x"),
    )
    for raft in book.rows["craft"][2:]:
        raft["serviced"] = date(2025, 11, 1)
    plan = serviced(book, UNTIL)
    assert [visit.call.port for visit in plan.visits[:2]] == ["Kellimar", "Kellimar"]
    assert {(gap.stretch.first, gap.stretch.last) for gap in plan.gaps} == {(ON, date(2027, 1, 4))}


def test_a_service_that_is_not_on_record_is_told_and_not_planned() -> None:
    book = with_calls(call("Kellimar", date(2027, 10, 15), **EVERYTHING, exchange_raft="x"))
    book.rows["servicing"] = [line for line in book.rows["servicing"] if line["service"] != "falls renewed"]
    plan = serviced(book, UNTIL)
    told = {service for service, _, _ in plan.work.not_planned}
    assert told == {"falls renewed"}


def test_a_test_that_a_raft_grows_into_is_planned() -> None:
    book = rafts_only(call("Kellimar", date(2027, 10, 15), **STATION, exchange_raft="x"))
    for raft in book.rows["craft"][2:]:
        raft["made"] = date(2022, 12, 1)  # asked from an age of five years on
    plan = serviced(book, UNTIL)
    inflation = [job for job in plan.jobs if job.task.service == "liferaft gas inflation test"]
    assert {(job.was_due, job.done) for job in inflation} == {(date(2027, 12, 1), date(2027, 10, 15))}


# ---- against trying everything -------------------------------------------------------------------------------------

_ARRIVALS = st.integers(100, 520).map(lambda number: ON + timedelta(days=number))


@st.composite
def _small(draw: st.DrawFn) -> Workbook:
    calls = []
    for arrival in sorted(draw(st.sets(_ARRIVALS, min_size=1, max_size=3))):
        stay = timedelta(days=draw(st.sampled_from((0, 2, 5))))
        exchange = draw(st.sampled_from(("", "x")))
        days = draw(st.sampled_from((1, 2, 20)))
        port = draw(st.sampled_from(("Kellimar", "Port Ellery")))
        calls.append(call(port, arrival, arrival + stay, **STATION, exchange_raft=exchange, raft_days=days))
    book = rafts_only(*calls)
    for raft in book.rows["craft"][2:]:
        raft["transferable"] = draw(st.sampled_from(("yes", "yes", "no")))
        raft["serviced"] = date(2026, 5, 1) + timedelta(days=draw(st.integers(0, 190)))
    return book


def _ways(plan: ServicingPlan, raft: str) -> Iterator[Visit]:
    """Every way of servicing a raft at the calls of a plan, from the definition and without the rules on places."""
    calls = plan.schedule.calls
    for entry in calls:
        if entry.exchange_raft:
            yield Visit(raft, entry, entry.ready, EXCHANGED)
            continue
        away = timedelta(days=entry.raft_days)
        if entry.ready + away <= entry.departure:
            for turn in range(2):
                landed = entry.ready + turn * (away + timedelta(days=1))
                if landed + away <= entry.departure:
                    yield Visit(raft, entry, landed, IN_STAY, None, (landed, landed + away))
            continue
        for later in calls:
            if later.port == entry.port and later.arrival >= entry.ready + away:
                yield Visit(raft, entry, entry.ready, FETCHED, later, (entry.ready, later.arrival - timedelta(days=1)))
                break


def _judged(book: Workbook, plan: ServicingPlan) -> tuple[int, int]:
    """The least (days without a service, calls) of every set of visits that the rules on places allow."""
    capacity = Capacity(audited(book)[0])
    tasks = {task.thing: task for task in plan.work.tasks}
    ways = {raft: list(_ways(plan, raft)) for raft in tasks}
    flat = [visit for own in ways.values() for visit in own]
    best = (10**9, 10**9)
    for chosen in product((False, True), repeat=len(flat)):
        picked = [visit for visit, taken in zip(flat, chosen, strict=True) if taken]
        if not _possible(picked, capacity):
            continue
        days = 0
        for raft, task in tasks.items():
            held = days_of([(ON, task.due)]) if task.due >= ON else set()
            own = [visit for visit in picked if visit.raft == raft]
            held |= days_of((visit.landed, task.holds(visit.landed)) for visit in own)
            days += len(days_of([(ON, plan.until)]) - held)
        calls = {visit.call for visit in picked} | {visit.fetched for visit in picked if visit.fetched}
        best = min(best, (days, len(calls)))
    return best


def _possible(picked: list[Visit], capacity: Capacity) -> bool:
    for number, one in enumerate(picked):
        for other in picked[number + 1 :]:
            if one.raft == other.raft and (
                one.call == other.call or one.away_on(other.landed) or other.away_on(one.landed)
            ):
                return False
    return all(
        not capacity.why_not({visit.raft for visit in picked if visit.away_on(day)})
        for day in days_of(visit.ashore for visit in picked if visit.ashore)
    )


@given(_small())
@settings(max_examples=40, deadline=None)
def test_no_other_set_of_visits_leaves_fewer_days_or_as_many_with_fewer_calls(book: Workbook) -> None:
    plan = serviced(book, UNTIL)
    assert (plan.uncovered_days, len(plan.calls)) == _judged(book, plan)


# ---- every constraint on large ones --------------------------------------------------------------------------------


def _large(seed: int) -> Workbook:
    """A ship with twelve rafts of two kinds beside her boats, and fifteen calls of every sort."""
    pick = Random(seed)
    calls = []
    day = ON + timedelta(days=20)
    for number in range(15):
        stay = pick.choice((0, 1, 3, 6))
        offers: dict[str, Any] = {name: "x" for name in EVERYTHING if pick.random() < 0.6}
        calls.append(
            call(
                f"Port {number % 5}",
                day,
                day + timedelta(days=stay),
                **offers,
                exchange_raft=pick.choice(("", "", "x")),
                raft_days=pick.choice((1, 2, 10)),
            )
        )
        day += timedelta(days=stay + pick.randint(10, 50))
    book = with_calls(*calls)
    book.ship["persons_on_board"] = book.ship["persons_certified"] = 20
    patterns = [dict(raft) for raft in book.rows["craft"][2:]]
    del book.rows["craft"][2:]
    for number in range(12):
        raft = dict(patterns[number % 2])
        raft.update(
            name=f"Raft {number}",
            persons=pick.choice((6, 10)),
            certificate=f"S-{number}",
            serviced=ON - timedelta(days=pick.randint(5, 330)),
            earliest_content=ON + timedelta(days=pick.randint(200, 900)),
            made=date(pick.choice((2015, 2019, 2022, 2024)), 3, 1),
        )
        book.rows["craft"].append(raft)
    return book


@pytest.mark.parametrize("seed", range(4))
def test_a_large_plan_keeps_every_constraint(seed: int) -> None:
    book = _large(seed)
    plan = serviced(book, ON + timedelta(days=720))
    capacity = Capacity(audited(book)[0])
    assert plan.visits
    for job in plan.jobs:
        assert job.task.supplier in job.call.offers
        assert job.call.ready <= job.done <= job.call.departure
        assert (job.visit is not None) == job.task.ashore
    for day in days_of(visit.ashore for visit in plan.visits if visit.ashore):
        away = [visit.raft for visit in plan.visits if visit.away_on(day)]
        assert len(away) == len(set(away))
        assert capacity.why_not(away) == ""
        assert sum(craft["persons"] for craft in book.rows["craft"] if craft["name"] not in away) >= 20
    for task in plan.work.tasks:
        held = days_of([(ON, task.due)]) if task.due >= ON else set()
        held |= days_of((job.done, job.holds) for job in plan.jobs if job.task is task)
        gaps = days_of((gap.stretch.first, gap.stretch.last) for gap in plan.gaps if gap.task is task)
        assert days_of([(ON, plan.until)]) - held == gaps, (task.service, task.thing)
    assert sum(gap.stretch.days for gap in plan.gaps) == plan.uncovered_days
    assert all(gap.why for gap in plan.gaps)
