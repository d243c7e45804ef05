"""What is ordered, for which call, and what is not: by hand for single cases, by the audit itself for random ones."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import combinations
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.checks.cases.followup import BUCKET
from tests.planning.order_books import EVERYTHING, audited, call, days_of, ordered, said, with_calls
from tests.workbooks import ON, Workbook
from workbook_tools.planning.calls import Call
from workbook_tools.planning.order import OrderPlan, on_board
from workbook_tools.planning.order_report import as_dict, as_page

LAPSE = date(2027, 3, 31)
UNTIL = date(2027, 12, 31)
EARLY = call("Port Ellery", date(2027, 1, 10), date(2027, 1, 12), **EVERYTHING)
LATE = call("Kellimar", date(2027, 3, 20), date(2027, 3, 22), **EVERYTHING)
TOO_LATE = call("Tarn Haven", date(2027, 4, 20), date(2027, 4, 21), **EVERYTHING)


def flares(book: Workbook, expires: date = LAPSE, quantity: float = 6) -> Workbook:
    """The hand flares of Lifeboat 1 with another date and number."""
    book.lot("hand flare").update(expires=expires, quantity=quantity)
    return book


# ---- what is ordered -----------------------------------------------------------------------------------------------


def test_a_lot_that_lapses_is_replaced_at_the_last_call_in_time() -> None:
    plan = ordered(flares(with_calls(EARLY, LATE, TOO_LATE)), UNTIL)
    assert said(plan) == [("Kellimar", 6, "hand flare", "Lifeboat 1")]
    assert plan.deficiencies == ()
    assert (plan.lines[0].lapses, plan.lines[0].given_up) == (LAPSE, 11)


def test_the_last_good_day_is_in_time_and_the_next_is_not() -> None:
    for arrival, uncovered in ((date(2027, 4, 1), 0), (date(2027, 4, 2), 1)):
        plan = ordered(flares(with_calls(call("Kellimar", arrival, **EVERYTHING))), UNTIL)
        assert plan.uncovered_days == uncovered


def test_nothing_is_ordered_while_enough_is_left() -> None:
    book = flares(with_calls(EARLY))
    book.add("inventory", place="Lifeboat 1", item="hand flare", quantity=6, expires=date(2029, 1, 1))
    assert ordered(book, UNTIL).needs == ()


def test_only_what_is_missing_is_ordered() -> None:
    book = flares(with_calls(EARLY))
    book.add("inventory", place="Lifeboat 1", item="hand flare", quantity=4, expires=date(2029, 1, 1))
    assert said(ordered(book, UNTIL)) == [("Port Ellery", 2, "hand flare", "Lifeboat 1")]


def test_what_is_short_already_comes_with_the_first_call() -> None:
    book = with_calls(EARLY, LATE)
    book.lot("bucket")["quantity"] = 1
    plan = ordered(book, UNTIL)
    assert said(plan) == [("Port Ellery", 1, "bucket", "Lifeboat 1")]
    (lack,) = plan.deficiencies
    assert (lack.stretch.first, lack.stretch.last) == (ON, date(2027, 1, 9))


def test_packs_are_whole_and_follow_the_lot_on_record() -> None:
    book = with_calls(EARLY)
    book.lot("fresh water").update(quantity=11, unit="pack", content=5.5, content_unit="L", expires=LAPSE)
    (line,) = ordered(book, UNTIL).lines
    assert (line.pieces, line.amount) == (11, 60.5)  # 60 L are asked: ten packs would be 55 L


def test_water_that_a_desalinator_makes_is_not_ordered() -> None:
    book = with_calls(EARLY)
    book.lot("fresh water").update(expires=LAPSE)
    book.add(
        "inventory",
        place="Lifeboat 1",
        item="manual reverse-osmosis desalinator",
        quantity=1,
        content=40,
        content_unit="L",
    )
    (line,) = ordered(book, UNTIL).lines
    assert line.amount == 20  # of 60 L two thirds may be made (LSA Code 4.4.8.9)


def test_a_line_that_cannot_be_read_orders_nothing() -> None:
    book = flares(with_calls(EARLY))
    book.lot("hand flare")["expires"] = "05/07/2027"
    assert ordered(book, UNTIL).needs == ()


def test_what_an_exemption_covers_is_not_ordered_while_it_holds() -> None:
    book = with_calls(EARLY, LATE)
    book.lot("fishing tackle")["condition"] = "defective"
    line = book.add("exemptions", rule="lifeboat.fishing-tackle", subject="Lifeboat 1", reference="VMO/1", until=UNTIL)
    assert ordered(book, UNTIL).needs == ()
    line["until"] = date(2027, 3, 25)
    (need,) = ordered(book, UNTIL).needs
    assert need.stretches[0].first == date(2027, 3, 26)


def test_one_appliance_serves_both_rules_that_count_it() -> None:
    book = with_calls(EARLY)
    book.rows["inventory"] = [line for line in book.rows["inventory"] if "line-throwing" not in line["item"]]
    book.add("inventory", place="Bridge", item="line-throwing appliance", quantity=4, expires=LAPSE)
    plan = ordered(book, UNTIL)
    assert said(plan) == [("Port Ellery", 4, "line-throwing appliance", "Bridge")]
    assert {need.rule for need in plan.lines[0].needs} == {"line-throwing.projectiles", "line-throwing.lines"}


def test_a_dated_lot_that_no_rule_counts_is_replaced_one_for_one() -> None:
    book = with_calls(EARLY)
    book.add("inventory", place="Monkey island", item="SART battery", quantity=2, expires=LAPSE)
    (line,) = ordered(book, UNTIL).lines
    assert (line.pieces, line.item, line.needs[0].counted) == (2, "SART battery", False)


def test_the_craft_carried_as_extra_are_left_out() -> None:
    book = flares(with_calls(EARLY))
    book.find("craft", name="Lifeboat 1")["purpose"] = "extra"
    assert not [need for need in ordered(book, UNTIL).needs if need.subject == "Lifeboat 1"]


# ---- calls ---------------------------------------------------------------------------------------------------------


def test_a_call_without_the_supplier_brings_nothing() -> None:
    bare = call("Port Ellery", date(2027, 1, 10), stores="x", pyrotechnics="no")
    plan = ordered(flares(with_calls(bare, TOO_LATE)), UNTIL)
    assert said(plan) == [("Tarn Haven", 6, "hand flare", "Lifeboat 1")]
    (lack,) = plan.deficiencies
    assert lack.stretch.days == 19
    assert lack.why.startswith("pyrotechnics supplier: not recorded at Port Ellery")


def test_an_order_that_can_no_longer_be_sent_in_time_comes_too_late_for_its_call() -> None:
    soon = call("Port Ellery", date(2026, 12, 1), date(2026, 12, 2), **EVERYTHING) | {"lead_days": 30}
    plan = ordered(flares(with_calls(soon, TOO_LATE)), UNTIL)
    assert said(plan)[0][0] == "Tarn Haven"
    assert "would have had to be sent by 2026-11-01" in plan.schedule.left_out[0]


def test_a_long_stay_takes_what_comes_during_it() -> None:
    dock = call("Tarn Haven", date(2026, 11, 20), date(2026, 12, 20), **EVERYTHING) | {"lead_days": 14}
    book = with_calls(dock)
    book.lot("bucket")["quantity"] = 1
    plan = ordered(book, UNTIL)
    assert plan.lines[0].call.ready == date(2026, 12, 9)
    assert plan.deficiencies[0].stretch.last == date(2026, 12, 8)


def test_fewer_calls_go_before_less_life_thrown_away() -> None:
    book = flares(with_calls(EARLY, LATE))
    book.lot("food ration")["expires"] = date(2027, 2, 1)
    assert {line.call.port for line in ordered(book, UNTIL).lines} == {"Port Ellery"}


def test_a_new_lot_that_lapses_in_the_period_is_ordered_again() -> None:
    book = with_calls(EARLY, call("Kellimar", date(2028, 11, 1), **EVERYTHING))
    for name in ("Raft P", "Raft S"):
        book.find("inventory", place=name)["expires"] = LAPSE
    plan = ordered(book, date(2029, 3, 1))
    own = [line for line in plan.lines if line.item == "hydrostatic release unit"]  # two years by maker
    assert [(line.call.port, line.place) for line in own] == [
        ("Port Ellery", "Raft P"),
        ("Port Ellery", "Raft S"),
        ("Kellimar", "Raft P"),
        ("Kellimar", "Raft S"),
    ]


# ---- what cannot be met --------------------------------------------------------------------------------------------


def test_what_lapses_with_no_call_is_a_deficiency_with_its_days_and_what_is_open() -> None:
    book = flares(with_calls(TOO_LATE))
    book.add("inventory", place="Pyrotechnics locker", item="hand flare", quantity=6, expires=UNTIL)
    (lack,) = ordered(book, UNTIL).deficiencies
    assert (lack.stretch.first, lack.stretch.days) == (date(2027, 4, 1), 19)
    assert any(option.startswith("move 6 hand flare from Pyrotechnics locker") for option in lack.options)
    assert any("only the Administration can say" in option for option in lack.options)


def test_no_waiver_is_made_up() -> None:
    book = with_calls()
    for item in ("fishing tackle", "hand flare"):
        book.lot(item)["condition"] = "defective"
    plan = ordered(book, UNTIL)
    assert {lack.need.item for lack in plan.deficiencies} == {"fishing tackle", "hand flare"}
    for lack in plan.deficiencies:
        words = " ".join(lack.options)
        assert "may sail without" not in words
        assert ("Administration alone" in words) == bool(lack.need.waivable not in ("", "no"))


def test_bridge_rockets_that_a_rule_counts_there_are_no_spares_of_a_boat() -> None:
    book = with_calls()
    book.lot("rocket parachute flare")["condition"] = "defective"
    (lack,) = ordered(book, UNTIL).deficiencies
    assert not [option for option in lack.options if option.startswith("move")]


def test_what_is_ordered_already_says_so() -> None:
    book = with_calls(EARLY)
    book.lot("bucket")["quantity"] = 1
    book.add("follow_up", finding=BUCKET, order="R-112", port="Port Ellery", expected=date(2027, 1, 12))
    plan = ordered(book, UNTIL)
    assert plan.findings["lifeboat.buckets", "Lifeboat 1"].followed_up
    (line,) = as_dict(plan)["calls"][0]["suppliers"][0]["lines"]
    assert line["needs"][0]["finding"] == BUCKET
    assert line["needs"][0]["ordered_already"] == "R-112"
    (said_so,) = as_page(plan).blocks[0].lines
    assert "ORDERED ALREADY: R-112, expected 2027-01-12" in said_so.cells[-1]


# ---- by the audit itself -------------------------------------------------------------------------------------------

_ITEMS = (
    *("hand flare", "rocket parachute flare", "fresh water", "food ration", "first-aid outfit", "lifejacket light"),
    *("lifebuoy light", "lifebuoy light and smoke", "VHF primary battery", "line-throwing rocket"),
    "hydrostatic release unit",
)
_DAYS = st.integers(10, 380).map(lambda number: ON + timedelta(days=number))


@st.composite
def _books(draw: st.DrawFn) -> Workbook:
    """The clean book with some dates brought forward and a few calls, each with some suppliers."""
    book = with_calls()
    for _ in range(draw(st.integers(1, 4))):
        lots = [line for line in book.rows["inventory"] if line["item"] in _ITEMS]
        draw(st.sampled_from(lots))["expires"] = draw(_DAYS)
    for arrival in sorted(draw(st.sets(_DAYS, max_size=4))):
        offers: dict[str, Any] = dict.fromkeys(draw(st.sets(st.sampled_from(("stores", "pyrotechnics")))), "x")
        book.rows["ports"].append(call(f"Port {arrival}", arrival, **offers))
    return book


def _supplied(book: Workbook, plan: OrderPlan, day: date) -> Workbook:
    """The book with what the plan has brought on board by a day."""
    for line in plan.lines:
        if line.call.ready <= day:
            piece, until = line.needs[0].piece, on_board(line.item, line.call)
            book.add(
                "inventory",
                place=line.place,
                item=line.item,
                quantity=line.pieces,
                unit=piece.unit,
                content=piece.content or "",
                content_unit=piece.content_unit or "",
                expires=until if until < date.max else "",
            )
    return book


@given(_books(), st.lists(st.integers(0, 400), min_size=3, max_size=3))
@settings(max_examples=25, deadline=None)
def test_with_the_orders_on_board_the_audit_is_short_on_the_days_that_are_named_and_no_others(
    book: Workbook, numbers: list[int]
) -> None:
    plan = ordered(book, ON + timedelta(days=400))
    ends = [lack.stretch.last + timedelta(days=step) for lack in plan.deficiencies for step in (0, 1)][:2]
    lines = list(book.rows["inventory"])
    for day in {*(ON + timedelta(days=number) for number in numbers), *(end for end in ends if end <= plan.until)}:
        book.rows["inventory"] = list(lines)
        _, result = audited(_supplied(book, plan, day), day)
        short = {
            (finding.rule, finding.subject)
            for finding in result.findings
            if finding.code in ("EQ01", "EX01", "SH10", "SH11")
        }
        named = {
            (lack.need.rule, lack.need.subject)
            for lack in plan.deficiencies
            if lack.stretch.first <= day <= lack.stretch.last
        }
        assert short == named, day


def _uncovered(plan: OrderPlan, calls: tuple[Call, ...]) -> int:
    """Days uncovered when everything is bought at these calls, counted day by day."""
    total = 0
    for need in plan.needs:
        own = [(call.ready, on_board(need.item, call)) for call in calls if need.supplier in call.offers]
        lacking = days_of((stretch.first, stretch.last) for stretch in need.stretches)
        total += len(lacking - days_of((first, min(last, plan.until)) for first, last in own))
    return total


@given(_books())
@settings(max_examples=40, deadline=None)
def test_no_other_choice_of_calls_leaves_fewer_days_uncovered_or_as_many_with_fewer_calls(book: Workbook) -> None:
    plan = ordered(book, ON + timedelta(days=900))
    every = plan.schedule.calls
    subsets = (chosen for size in range(len(every) + 1) for chosen in combinations(every, size))
    best = min((_uncovered(plan, chosen), len(chosen)) for chosen in subsets)
    assert (plan.uncovered_days, len(plan.calls)) == best
    assert sum(lack.stretch.days for lack in plan.deficiencies) == plan.uncovered_days
