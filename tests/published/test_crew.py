"""Manning, papers and muster list against what is printed outside, stated here by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from tests.workbooks import ON, Line, Workbook, clean
from workbook_tools.findings import State
from workbook_tools.rules import load_rule_set

# Certificated persons for each lifeboat by its complement: Panama MMC-68, as a secondary page restates it; the same
# bands as the convention of 1929: below 41 persons two, 41 to 61 three, 62 to 85 four, above 85 five.
COMPLEMENT = [(1, 2), (40, 2), (41, 3), (61, 3), (62, 4), (85, 4), (86, 5), (150, 5)]


def _state(book: Workbook, rule: str, subject: str, on: date = ON) -> State:
    found = [state for state in book.audit(on, warn_days=0).states if (state.rule, state.subject) == (rule, subject)]
    assert len(found) == 1, found
    return found[0]


def _boat_of(persons: int, certificated: int) -> Workbook:
    """A book whose Lifeboat 1 takes so many persons, so many of them with a certificate, the others without."""
    book = clean()
    book.find("craft", name="Lifeboat 1")["persons"] = persons
    book.rows["crew"] = [line for line in book.rows["crew"] if line["craft"] != "Lifeboat 1"]
    for number in range(persons):
        certificate = "Survival craft" if number < certificated else "none"
        book.add("crew", number=str(100 + number), craft="Lifeboat 1", duty="member", certificate=certificate)
    book.ship["persons_on_board"] = len(book.rows["crew"])
    return book


@pytest.mark.parametrize(("persons", "asked"), COMPLEMENT)
def test_certificated_persons_by_complement(persons: int, asked: int) -> None:
    rule = "crew.certificated-by-complement"
    if asked <= persons:
        assert _state(_boat_of(persons, asked), rule, "Lifeboat 1").state == "passed"
    book = _boat_of(persons, min(persons, asked - 1))
    assert _state(book, rule, "Lifeboat 1").state == "finding"
    (told,) = [finding for finding in book.findings() if finding.code == "CR11"]
    assert told.required == asked


def test_the_convention_itself_asks_no_number() -> None:
    # SOLAS III/10: "sufficient"; the number is a flag's (the Ship sheet says whether it is asked)
    book = _boat_of(90, 0)
    book.ship["head_count"] = "not asked"
    assert _state(book, "crew.certificated-by-complement", "Lifeboat 1").state == "not_applicable"


def _person(**values: object) -> Workbook:
    book = clean()
    book.find("crew", number="5").update(values)
    return book


# Five-yearly evidence: STCW A-VI/1 and A-VI/2. The last good day is the one that dateutil finds.
@given(st.dates(date(2019, 1, 1), date(2026, 11, 25)))
def test_training_evidence_holds_to_the_day_that_dateutil_finds(done: date) -> None:
    last_day = done + relativedelta(years=5)
    state = _state(_person(refreshed=done), "crew.training-evidence", "crew number 5")
    assert state.state == ("passed" if last_day >= ON else "finding")


@pytest.mark.parametrize("done", [date(2020, 2, 29), date(2021, 11, 25), date(2021, 12, 31)])
def test_training_evidence_of_a_day_holds_to_that_day_and_no_longer(done: date) -> None:
    last_day = done + relativedelta(years=5)
    book = _person(refreshed=done)
    book.find("crew", number="5")["joined"] = date(2024, 1, 1)
    rule = "crew.training-evidence"
    assert _state(book, rule, "crew number 5", last_day).state == "passed"
    assert _state(book, rule, "crew number 5", last_day + timedelta(days=1)).state == "finding"


# MLC A1.2.9: at sea it holds to the next port with a doctor, three months at most; counted as dateutil counts.
@pytest.mark.parametrize("last_day", [date(2026, 11, 25), date(2026, 11, 30), date(2026, 12, 31)])
def test_a_medical_certificate_that_lapses_at_sea_holds_three_months_at_most(last_day: date) -> None:
    book = _person(medical_expires=last_day)
    book.ship["departed"] = date(2026, 11, 20)
    limit = last_day + relativedelta(months=3)
    told = [finding.grade for finding in book.findings(limit) if finding.code == "CR09"]
    later = [finding.grade for finding in book.findings(limit + timedelta(days=1)) if finding.code == "CR09"]
    assert (told, later) == (["due"], ["action"])


# STCW I/9 and MLC A1.2: two years; years of leap days as dateutil counts them.
@pytest.mark.parametrize("issued", [date(2026, 11, 25), date(2028, 2, 29)])
def test_a_medical_certificate_lasts_two_years_at_most(issued: date) -> None:
    last_day = issued + relativedelta(years=2)
    book = _person(medical_expires=last_day)
    book.ship["record_date"] = issued
    assert "WB23" not in {finding.code for finding in book.findings(issued)}
    book.find("crew", number="5")["medical_expires"] = last_day + timedelta(days=1)
    assert "WB23" in {finding.code for finding in book.findings(issued)}


# SOLAS III/37.3.1 to .8, in the order of the text; passenger ships' damage control from 1 January 2020 (MSC.421(98)).
DUTIES = {
    "SOLAS III/37.3.1": "close doors and valves",
    "SOLAS III/37.3.2": "equip survival craft",
    "SOLAS III/37.3.3": "prepare and launch craft",
    "SOLAS III/37.3.4": "prepare other appliances",
    "SOLAS III/37.3.5": "muster passengers",
    "SOLAS III/37.3.6": "communications",
    "SOLAS III/37.3.7": "fire party",
    "SOLAS III/37.3.8": "special fire duties",
}


def test_the_muster_list_asks_the_eight_duties_of_the_paragraph() -> None:
    rules = [rule for rule in load_rule_set("solas").rules if rule.reference.startswith("SOLAS III/37.3.")]
    assert {rule.reference: rule.item for rule in rules} == DUTIES


@pytest.mark.parametrize(
    ("day", "ship_type", "state"),
    [
        (date(2019, 12, 31), "passenger ship", "not_applicable"),
        (date(2020, 1, 1), "passenger ship", "finding"),
        (ON, "general cargo ship", "not_applicable"),
        (ON, "", "not_evaluated"),
    ],
)
def test_damage_control_is_asked_of_passenger_ships_from_2020(day: date, ship_type: str, state: str) -> None:
    book = clean()
    book.ship["ship_type"] = ship_type
    for line in book.rows["crew"]:
        line["joined"] = date(2019, 6, 1)
    book.find("crew", number="10")["muster_duty"] = "none"
    assert _state(book, "crew.muster-damage-control", "ship", day).state == state


def test_cargo_ships_muster_no_passengers() -> None:
    book = clean()
    book.find("crew", number="6")["muster_duty"] = "none"
    assert _state(book, "crew.muster-passengers", "ship").state == "not_applicable"
    book.ship["ship_type"] = "passenger ship"
    assert _state(book, "crew.muster-passengers", "ship").state == "finding"


# 46 CFR 199.100, read in its text of 2015: one in charge, a second in each lifeboat, one for each engine; an able
# seaman may be in charge. SOLAS III/10.3 names deck officers and certificated persons only.
@pytest.mark.parametrize(("rule_set", "state"), [("solas", "finding"), ("us", "passed")])
def test_an_able_seaman_may_be_in_charge_under_the_federal_rules(rule_set: str, state: str) -> None:
    book = clean()
    book.ship["rule_set"] = rule_set
    book.find("crew", number="1").update(rank="Able seaman", certificate="none")
    prefix = "us-" if rule_set == "us" else ""
    assert _state(book, f"{prefix}crew.charge-qualified", "Lifeboat 1").state == state


@pytest.mark.parametrize("prefix", ["", "us-"])
@pytest.mark.parametrize(
    ("kind", "second", "engine"),
    [
        ("lifeboat", True, True),
        ("free-fall lifeboat", True, True),
        ("lifeboat and rescue boat", True, True),
        ("rescue boat", False, True),
        ("fast rescue boat", False, True),
        ("liferaft", False, False),
        ("davit-launched liferaft", False, False),
    ],
)
def test_which_craft_are_asked_a_second_and_an_engine_hand(prefix: str, kind: str, second: bool, engine: bool) -> None:
    rules = {rule.key: rule for rule in load_rule_set("us" if prefix else "solas").rules}
    facts: Line = {"kind": kind}
    assert rules[f"{prefix}crew.second-in-command"].condition.holds(facts)[0] is second
    assert rules[f"{prefix}crew.engine-operator"].condition.holds(facts)[0] is engine


def test_only_the_federal_second_in_command_may_be_waived() -> None:
    # 46 CFR 199.610(a) note 4: lifeboats under 40 persons off ocean routes
    for name in ("solas", "us"):
        waivable = {
            rule.key: rule.waivable for rule in load_rule_set(name).rules if "crew." in rule.key and rule.waivable
        }
        assert waivable == ({} if name == "solas" else {"us-crew.second-in-command": "46 CFR 199.610(a) note 4"})


# A whole empty column, a missing sheet and a missing line are no faults (the house's own principle, no source).
@pytest.mark.parametrize("column", ["craft", "duty", "certificate", "medical_expires", "refreshed", "muster_duty"])
def test_an_empty_column_makes_no_finding(column: str) -> None:
    book = clean()
    for line in book.rows["crew"]:
        line[column] = ""
    if column == "craft":
        for line in book.rows["crew"]:
            line["duty"] = ""
    assert [finding for finding in book.findings() if finding.code.startswith("CR")] == []


def test_a_book_without_a_crew_sheet_is_not_evaluated_once_for_each_rule() -> None:
    book = clean()
    del book.rows["crew"]
    result = book.audit()
    assert [finding for finding in result.findings if finding.code.startswith("CR")] == []
    states = [state for state in result.states if state.rule.startswith("crew.") and state.state == "not_evaluated"]
    assert states
    assert all(state.why for state in states)
