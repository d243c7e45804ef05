"""Deadlines of services against python-dateutil, and the laws of the ways of counting over a hundred years.

Sources: SOLAS III/20.8.1 and 20.9 (12 months, 17 by grant), III/20.4 (5 years), III/20.11 (annual and 5 years);
Norwegian directive SM 4-2015 (a slip within the same calendar month needs no application); resolution A.1104(29) 1.3.2
(window of three months before to three months after the anniversary). Short months follow the corresponding-date rule,
as EDATE: no IMO text says how they count.
"""

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from tests.workbooks import ON, clean
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import (
    DATE_TO_DATE,
    SAME_MONTH,
    counted,
    granted_until,
    holds_until,
    window_until,
)
from workbook_tools.rules import Rule, load_rule_set
from workbook_tools.rules.loader import policies

HUNDRED_YEARS = st.dates(date(1990, 1, 1), date(2090, 12, 31))
MONTHS = st.integers(1, 240)
RULES = load_rule_set("solas")


def _rule(key: str) -> Rule:
    return next(rule for rule in RULES.by_key()[key] if rule.in_force(ON))


# Figures as the paragraphs state them, copied by hand: key, months (days where so marked), longest by grant, paragraph.
STATED = [
    ("service.falls", 60, None, "SOLAS III/20.4"),
    ("service.launching-appliance-annual", 12, None, "SOLAS III/20.11.1.2"),
    ("service.winch-brake-annual", 12, None, "SOLAS III/20.11.1.3"),
    ("service.launching-appliance-five-year", 60, None, "SOLAS III/20.11.1.3"),
    ("service.release-gear-annual", 12, None, "SOLAS III/20.11.2"),
    ("service.release-gear-five-year", 60, None, "SOLAS III/20.11.2"),
    ("service.davit-raft-hook-annual", 12, None, "SOLAS III/20.11.3"),
    ("service.davit-raft-hook-five-year", 60, None, "SOLAS III/20.11.3"),
    ("liferaft.service", 12, 17, "SOLAS III/20.8.1"),
    ("service.inflatable-lifejackets", 12, 17, "SOLAS III/20.8.1"),
    ("service.marine-evacuation-system", 12, 17, "SOLAS III/20.8.1"),
    ("service.marine-evacuation-deployment", 72, None, "SOLAS III/20.8.2"),
    ("service.hydrostatic-release", 12, 17, "SOLAS III/20.9"),
    ("service.hydrostatic-release-disposable", 24, None, "SOLAS III/20.9"),
    ("service.liferaft-gas-inflation", 60, None, "resolution A.761(18) 5.3"),
    ("service.liferaft-additional-pressure", 12, None, "resolution A.761(18) 5.4"),
    ("service.suit-pressure-test", 36, None, "MSC/Circ.1114"),
    ("service.epirb-shore-maintenance", 60, None, "SOLAS IV/15.9.2; MSC.1/Circ.1039/Rev.1"),
    ("service.co2-inspected", 30, None, "MSC.1/Circ.1318 4.1"),
    ("service.co2-contents-passenger", 24, None, "MSC.1/Circ.1318/Rev.1 6.1.1"),
    ("service.co2-control-valves", 60, None, "MSC.1/Circ.1318/Rev.1 7"),
    ("service.co2-cylinders", 120, None, "MSC.1/Circ.1318/Rev.1 6.1.2"),
    ("service.co2-hoses", 120, None, "MSC.1/Circ.1318/Rev.1 6.1.2"),
    ("service.breathing-apparatus-cylinders", 60, None, "MSC.1/Circ.1432 9.4"),
    ("service.foam-analysis", 12, None, "MSC.1/Circ.1312"),
]


@pytest.mark.parametrize(("key", "interval", "longest", "paragraph"), STATED, ids=[row[0] for row in STATED])
def test_a_row_holds_the_interval_its_paragraph_states(
    key: str, interval: float, longest: float | None, paragraph: str
) -> None:
    rule = _rule(key)
    assert (rule.fixed, rule.extended_to) == (interval, longest)
    assert rule.reference.removesuffix("; MSC.402(96)") == paragraph
    assert rule.unit == ("days" if key == "service.co2-inspected" else "months")


def test_annual_and_five_yearly_work_is_for_certified_hands_from_2020_on() -> None:
    # MSC.402(96) 4.2 and 4.3, in force 1 January 2020
    certified = [key for key, interval, _, paragraph in STATED if "III/20.11" in paragraph]
    assert len(certified) == 7
    for key in certified:
        by_day = {
            day: next(rule.done_by for rule in RULES.by_key()[key] if rule.in_force(day))
            for day in (date(2019, 12, 31), date(2020, 1, 1))
        }
        assert by_day == {date(2019, 12, 31): (), date(2020, 1, 1): ("maker", "authorized provider")}


def test_the_survey_window_is_three_months_on_either_side() -> None:
    # A.1104(29) 1.3.2; IV/15.9.1 for the EPIRB
    windows = [policy for key, policy in policies().items() if key.startswith("window.")]
    assert [policy.value for policy in windows] == [3, 3, 3, 3, 3]


@given(HUNDRED_YEARS, MONTHS)
def test_date_to_date_is_the_day_that_dateutil_finds(done: date, months: int) -> None:
    assert counted(done, Interval(months=months), DATE_TO_DATE) == done + relativedelta(months=months)


@given(HUNDRED_YEARS, MONTHS)
def test_the_same_calendar_month_ends_where_dateutil_says_that_month_ends(done: date, months: int) -> None:
    assert counted(done, Interval(months=months), SAME_MONTH) == done + relativedelta(months=months, day=31)


@given(HUNDRED_YEARS, MONTHS)
def test_the_same_calendar_month_is_never_earlier_and_never_past_the_months_end(done: date, months: int) -> None:
    interval = Interval(months=months)
    strict, slipped = counted(done, interval, DATE_TO_DATE), counted(done, interval, SAME_MONTH)
    assert strict <= slipped
    assert (strict.year, strict.month) == (slipped.year, slipped.month)
    assert (slipped - strict).days <= 30


@given(HUNDRED_YEARS, st.integers(0, 800), MONTHS, st.sampled_from([DATE_TO_DATE, SAME_MONTH]))
def test_a_later_service_never_holds_less_long(done: date, days: int, months: int, counting: str) -> None:
    interval = Interval(months=months)
    assert counted(done, interval, counting) <= counted(done + timedelta(days=days), interval, counting)


@given(HUNDRED_YEARS, MONTHS, st.integers(0, 60), st.sampled_from([DATE_TO_DATE, SAME_MONTH]))
def test_a_longer_interval_never_ends_sooner(done: date, months: int, more: int, counting: str) -> None:
    assert counted(done, Interval(months=months), counting) <= counted(done, Interval(months=months + more), counting)


@given(HUNDRED_YEARS, HUNDRED_YEARS)
def test_a_survey_window_gives_between_12_and_18_months(done: date, anniversary: date) -> None:
    # MSC/Circ.955: the window allows up to 18 months between two surveys
    until = window_until(done, 12, anniversary, 3, 3)
    assert done + relativedelta(months=12) <= until <= done + relativedelta(months=18) + timedelta(days=3)


@given(HUNDRED_YEARS, HUNDRED_YEARS)
def test_within_a_window_the_deadline_is_three_months_past_an_anniversary(done: date, anniversary: date) -> None:
    until = window_until(done, 12, anniversary, 3, 3)
    if until > done + relativedelta(months=12):
        surveys = [
            date(until.year + step, anniversary.month, 1) + relativedelta(day=anniversary.day) for step in (-1, 0)
        ]
        assert until in [survey + relativedelta(months=3) for survey in surveys] or anniversary.day > 28


@given(HUNDRED_YEARS, HUNDRED_YEARS)
def test_a_grant_never_reaches_past_seventeen_months_and_never_shortens(done: date, granted: date) -> None:
    due = holds_until(done, Interval(months=12))
    until = granted_until(done, due, granted, 17)
    assert due <= until <= done + relativedelta(months=17)


@pytest.mark.parametrize(
    ("counting", "on", "state"),
    [
        ("date to date", date(2026, 11, 10), "passed"),
        ("date to date", date(2026, 11, 11), "finding"),
        ("same calendar month", date(2026, 11, 30), "passed"),
        ("same calendar month", date(2026, 12, 1), "finding"),
    ],
)
def test_the_ship_sheet_chooses_how_a_rafts_service_is_counted(counting: str, on: date, state: str) -> None:
    book = clean()
    book.ship["deadline_counting"] = counting
    book.find("craft", name="Raft P")["serviced"] = date(2025, 11, 10)
    (found,) = [
        entry for entry in book.audit(on).states if (entry.rule, entry.subject) == ("liferaft.service", "Raft P")
    ]
    assert found.state == state
    if (counting, state) == ("same calendar month", "passed"):
        assert "SM 4-2015" in found.why


def test_the_calendar_month_does_not_stretch_what_no_flag_may_put_off() -> None:
    # III/20.4 knows no extension
    book = clean()
    book.ship["deadline_counting"] = "same calendar month"
    book.find("servicing", appliance="Lifeboat 1", service="falls renewed")["done"] = date(2021, 11, 10)
    assert [finding.code for finding in book.findings()] == ["SV03"]
