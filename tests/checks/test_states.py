"""Every rule ends in one state for every subject, and each state says why."""

from __future__ import annotations

from datetime import date

import pytest

from tests.workbooks import FAR, ON, Workbook, clean
from workbook_tools.findings import State
from workbook_tools.rules import load_rule_set


def _state(book: Workbook, rule: str, subject: str = "Lifeboat 1", on: date = ON) -> State:
    states = [state for state in book.audit(on).states if (state.rule, state.subject) == (rule, subject)]
    assert len(states) == 1, states
    return states[0]


def test_no_pair_of_rule_and_subject_is_counted_twice() -> None:
    pairs = [(state.rule, state.subject) for state in clean().audit().states]
    assert len(pairs) == len(set(pairs))


def test_every_state_but_a_finding_says_why() -> None:
    book = clean()
    book.lot("bucket").update(quantity="")
    book.lot("whistle").update(quantity=0)
    for state in book.audit().states:
        assert state.why or state.state in ("finding", "passed"), state


@pytest.mark.parametrize(
    ("values", "why"),
    [
        ({"voyage": "domestic"}, "voyages: domestic"),
        ({"gross_tonnage": 499}, "gross tonnage 499"),
        ({"keel_laid": date(1998, 6, 30)}, "keel laid 1998-06-30"),
    ],
)
def test_outside_the_chapter_no_rule_applies_and_the_reason_is_given(values: dict[str, object], why: str) -> None:
    book = clean()
    book.ship.update(values)
    book.rows["inventory"] = []
    result = book.audit()
    main = [state for state in result.states if state.rule.startswith(("lifeboat.", "capacity.davit", "fire."))]
    assert {state.state for state in main} == {"not_applicable"}
    assert all(why in state.why for state in main)
    assert [finding.code for finding in result.findings] == []


def test_a_figure_of_another_rule_is_counted_with_it() -> None:
    state = _state(clean(), "fire.hoses-length", "ship")
    assert (state.state, state.why) == ("not_applicable", "counted with fire.hoses")


def test_more_persons_than_certified_is_told_of_every_ship() -> None:
    book = clean()
    book.ship.update(gross_tonnage=400, persons_on_board=60, persons_certified=20)
    assert "CV03" in {finding.code for finding in book.findings()}


@pytest.mark.parametrize(("tonnage", "state"), [(299, "not_applicable"), (300, "passed")])
def test_the_radio_chapter_begins_at_300_gross_tonnage(tonnage: float, state: str) -> None:
    book = clean()
    book.ship["gross_tonnage"] = tonnage
    assert _state(book, "distress.epirb", "ship").state == state


@pytest.mark.parametrize(("tonnage", "state"), [(499.99, "not_applicable"), (500, "passed")])
def test_the_chapter_begins_at_500_gross_tonnage_for_cargo_ships(tonnage: float, state: str) -> None:
    book = clean()
    book.ship["gross_tonnage"] = tonnage
    assert _state(book, "lifeboat.whistle").state == state


@pytest.mark.parametrize(("keel", "state"), [(date(1998, 6, 30), "not_applicable"), (date(1998, 7, 1), "passed")])
def test_the_chapter_begins_with_keels_of_july_1998(keel: date, state: str) -> None:
    book = clean()
    book.ship["keel_laid"] = keel
    assert _state(book, "lifeboat.whistle").state == state


def test_a_passenger_ship_of_any_size_is_inside() -> None:
    book = clean()
    book.ship.update(ship_type="passenger ship", gross_tonnage=300)
    assert _state(book, "lifeboat.whistle").state == "passed"


def test_without_the_ships_data_the_rules_are_applied_and_the_assumption_is_named() -> None:
    book = clean()
    book.ship = {"name": "Orrin Vale"}
    result = book.audit()
    assert any("taken as one to which the rules apply" in text for text in result.assumptions)
    assert _state(book, "lifeboat.whistle").state == "passed"
    assert _state(book, "application", "ship").state == "not_evaluated"


def test_what_is_not_counted_yet_is_not_evaluated() -> None:
    book = clean()
    book.lot("whistle").update(asked=1, quantity="")
    state = _state(book, "lifeboat.whistle")
    assert state.state == "not_evaluated"
    assert "is not counted yet" in state.why


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("quantity", "about 6"),
        ("expires", "12/03/2029"),
        ("expires", ""),
        ("condition", "fairly good"),
        ("unit", "boxen"),
    ],
)
def test_a_cell_that_cannot_be_read_makes_no_shortage(column: str, value: str) -> None:
    book = clean()
    book.lot("hand flare")[column] = value
    assert _state(book, "lifeboat.hand-flares").state == "not_evaluated"
    assert "EQ01" not in {finding.code for finding in book.findings()}


def test_enough_without_the_doubtful_lot_is_enough() -> None:
    book = clean()
    book.add("inventory", place="Lifeboat 1", item="hand flare", quantity=3, expires="12/03/2029")
    assert _state(book, "lifeboat.hand-flares").state == "passed"


def test_short_even_with_the_doubtful_lot_is_short() -> None:
    book = clean()
    book.lot("hand flare")["quantity"] = 2
    book.add("inventory", place="Lifeboat 1", item="hand flare", quantity=3, expires="12/03/2029")
    assert _state(book, "lifeboat.hand-flares").state == "finding"


def test_a_lot_in_a_misspelt_place_makes_no_shortage() -> None:
    book = clean()
    book.lot("hand flare")["place"] = "Lifebaot 1"
    assert _state(book, "lifeboat.hand-flares").state == "not_evaluated"


def test_a_sealed_raft_with_a_valid_certificate_passes_by_evidence() -> None:
    state = _state(clean(), "liferaft-a.hand-flares", "Raft P")
    assert (state.state, state.why) == ("passed", "by evidence: certificate S-11 of 2026-10-20")


@pytest.mark.parametrize(("column", "why"), [("certificate", "number"), ("serviced", "date")])
def test_a_sealed_raft_without_a_certificate_is_not_evaluated_for_one_reason(column: str, why: str) -> None:
    book = clean()
    book.find("craft", name="Raft P")[column] = ""
    states = [
        state for state in book.audit().states if state.rule.startswith("liferaft-a.") and state.subject == "Raft P"
    ]
    assert {state.state for state in states} == {"not_evaluated"}
    assert len({state.why for state in states}) == 1
    assert why in states[0].why
    assert not book.findings()


def test_only_the_dated_contents_wait_for_the_earliest_date() -> None:
    book = clean()
    book.find("craft", name="Raft P")["earliest_content"] = ""
    assert _state(book, "liferaft-a.hand-flares", "Raft P").state == "not_evaluated"
    assert _state(book, "liferaft-a.paddles", "Raft P").state == "passed"


def test_a_raft_without_pack_is_one_line() -> None:
    book = clean()
    book.find("craft", name="Raft P")["pack"] = ""
    assert _state(book, "liferaft.pack-contents", "Raft P").state == "not_evaluated"
    assert not book.findings()


@pytest.mark.parametrize("purpose", ["remote", "required"])
def test_a_remote_raft_is_asked_for_no_hydrostatic_release(purpose: str) -> None:
    book = clean()
    raft = book.find("craft", name="Raft P")
    book.add("craft", **{**raft, "name": "Raft F", "purpose": purpose, "side": "port"})
    book.add("inventory", place="Raft F", item="painter", quantity=1)
    expected = "not_applicable" if purpose == "remote" else "finding"
    assert _state(book, "liferaft.hydrostatic-release", "Raft F").state == expected


def test_a_remote_raft_never_counts_towards_the_places() -> None:
    book = clean()
    book.find("craft", name="Raft S").update(purpose="remote", side="port")
    book.find("craft", name="Raft P").update(persons=11)
    assert _state(book, "capacity.davit-rafts-transferable", "ship").state == "finding"


def test_an_extra_craft_only_informs() -> None:
    book = clean()
    book.find("craft", name="Raft P")["purpose"] = "extra"
    book.find("craft", name="Raft P")["mass_kg"] = 300
    assert [(finding.code, finding.grade) for finding in book.findings() if finding.subject == "Raft P"] == [
        ("EQ04", "note")
    ]


def test_a_boat_that_is_also_the_rescue_boat_carries_the_larger_quantity_once() -> None:
    book = clean()
    lot = book.lot("thermal protective aid", "Lifeboat 2")
    lot["quantity"] = 1
    found = [finding for finding in book.findings() if finding.subject == "Lifeboat 2"]
    assert [(finding.code, finding.required) for finding in found] == [("EQ01", 2)]
    assert _state(book, "rescue-boat.thermal-protective-aids", "Lifeboat 2").state == "not_applicable"


def test_the_rescue_boats_own_items_are_asked_of_it() -> None:
    book = clean()
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "buoyant towing line"]
    assert _state(book, "rescue-boat.towing-line", "Lifeboat 2").state == "finding"


def test_a_sart_waives_the_lifeboats_reflector_and_not_the_rescue_boats() -> None:
    book = clean()
    for name in ("Lifeboat 1", "Lifeboat 2"):
        book.find("craft", name=name)["sart_stowed"] = "yes"
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "radar reflector"]
    assert _state(book, "lifeboat.radar-reflector").state == "passed"
    assert [finding.rule for finding in book.findings()] == ["rescue-boat.radar-reflector"]


@pytest.mark.parametrize(
    ("reference", "until", "state"),
    [("X 1", FAR, "exempt"), ("X 1", ON, "exempt"), ("X 1", date(2026, 11, 24), "finding"), ("", FAR, "finding")],
)
def test_an_exemption_holds_with_a_reference_until_its_last_day(reference: str, until: date, state: str) -> None:
    book = clean()
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "food ration"]
    book.add("exemptions", rule="LSA Code 4.4.8.12", authority="Flag", reference=reference, until=until)
    assert _state(book, "lifeboat.food-ration").state == state


def test_an_exemption_of_one_craft_leaves_the_other_alone() -> None:
    book = clean()
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "fishing tackle"]
    book.add("exemptions", rule="lifeboat.fishing-tackle", subject="lifeboat 1", reference="X 1", until=FAR)
    assert _state(book, "lifeboat.fishing-tackle", "Lifeboat 1").state == "exempt"
    assert _state(book, "lifeboat.fishing-tackle", "Lifeboat 2").state == "finding"


def test_the_ship_sheet_chooses_the_rule_set_and_the_option_overrides_it() -> None:
    book = clean()
    book.ship["rule_set"] = "us"
    assert book.audit().rules == "us"
    assert book.audit(rule_set="solas").rules == "solas"


def test_a_row_of_2022_is_asked_from_its_first_day() -> None:
    book = clean()
    book.ship["rule_set"] = "us"
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] != "jack-knife"]
    assert _state(book, "us-lifeboat.knife", on=date(2022, 12, 13)).state == "not_applicable"
    assert _state(book, "us-lifeboat.knife", on=date(2022, 12, 14)).state == "finding"


@pytest.mark.parametrize("warn", [0, 30, 365])
def test_the_warning_days_can_be_set_for_everything(warn: int) -> None:
    book = clean()
    book.lot("hand flare")["expires"] = date(2027, 2, 1)  # 68 days ahead
    codes = {finding.code for finding in book.findings(warn_days=warn)}
    assert ("EX03" in codes) == (warn >= 68)


def test_no_rule_is_left_without_a_state() -> None:
    told = {state.rule for state in clean().audit().states}
    by_craft = {"liferaft-b", "craft", "rescue-boat", "lifeboat", "liferaft", "liferaft-a"}
    silent = {rule.key for rule in load_rule_set("solas").rules if rule.subject not in by_craft} - told
    assert silent == set()


def test_a_wider_task_passes_a_narrower_one_and_never_starts_its_finding() -> None:
    book = clean()
    lines = book.rows["routine"]
    book.rows["routine"] = [line for line in lines if line["task"] not in ("general alarm test", "abandon ship drill")]
    drill = book.add("routine", day=date(2026, 11, 20), task="abandon ship drill", present="all")
    assert _state(book, "routine.alarm", "ship").state == "passed"
    drill["day"] = date(2026, 11, 10)
    state = _state(book, "routine.alarm", "ship")
    assert state.state == "not_evaluated"
    assert "no general alarm test is recorded" in state.why
    book.add("routine", day=date(2026, 11, 1), task="general alarm test")
    assert _state(book, "routine.alarm", "ship").state == "finding"


@pytest.mark.parametrize(("persons", "state"), [(150, "passed"), (151, "finding")])
def test_a_lifeboat_is_for_150_persons_at_most(persons: int, state: str) -> None:
    # LSA Code 4.4.2, from memory
    book = clean()
    book.find("craft", name="Lifeboat 1")["persons"] = persons
    assert _state(book, "lifeboat.most-persons").state == state


@pytest.mark.parametrize(("voyage", "state"), [("international", "finding"), ("short international", "not_applicable")])
def test_a_us_ship_has_b_packs_on_short_international_voyages_only(voyage: str, state: str) -> None:
    # the columns of the table of 46 CFR 199.175
    book = clean()
    book.ship.update(rule_set="us", voyage=voyage)
    book.find("craft", name="Raft P")["pack"] = "B"
    assert _state(book, "us-liferaft.a-pack", "Raft P").state == state


def test_a_grant_without_its_letter_leaves_a_rafts_service_open() -> None:
    book = clean()
    raft = book.find("craft", name="Raft P")
    raft.update(serviced=date(2025, 10, 20), service_granted_until=date(2027, 3, 1))
    assert _state(book, "liferaft.service", "Raft P").state == "not_evaluated"
    line = {"appliance": "Raft P", "service": "liferaft serviced", "done": date(2025, 10, 20)}
    book.add("servicing", **line, done_by="servicing station", granted_until=date(2027, 3, 1), grant_reference="L 7")
    assert _state(book, "liferaft.service", "Raft P").state == "passed"
