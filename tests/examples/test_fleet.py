"""The example fleet shows what its manifest says: nothing is missing, nothing is extra."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from example_books.build import FLEET, HERE, cells, write_xlsx
from example_books.writing import xlsx_bytes
from tests.examples.fleet import BOOKS, CLEAN, DAYS, FIELDS, MANIFEST, as_entry, audited, expected
from workbook_tools.checks import CODES
from workbook_tools.cli import main
from workbook_tools.columns import SHEETS
from workbook_tools.core.imo_number import imo_number_ok
from workbook_tools.fleet.run import find_books
from workbook_tools.reading import read_book
from workbook_tools.rules import load_rule_set

# Codes that no book of the fleet can show, and why. None: every code can be planted.
NOT_SHOWN: dict[str, str] = {}

# Clean books with lines on every sheet.
COMPLETE = ("marrowick-fell.xlsx", "odrunsel.xlsx", "saltorra.xlsx")

# Rules that a faulty book breaks and no clean one passes: none of the clean ships is a tanker, a passenger ship under
# 500 gross tonnage, or a passenger ship on long international voyages.
ONLY_BROKEN = (
    "capacity.fire-protection",
    "capacity.marshalling",
    "capacity.small-passenger-largest-loss",
    "capacity.small-passenger-rafts",
)

PLANS = {plan.file: plan for plan in FLEET}


@pytest.mark.parametrize("day", DAYS, ids=str)
@pytest.mark.parametrize("name", BOOKS)
def test_a_book_shows_what_the_manifest_says_and_no_more(name: str, day: date) -> None:
    left = list(audited(day)[name].findings)
    missing = []
    for entry in expected(name, day):
        met = next((finding for finding in left if entry.is_met_by(finding)), None)
        if met is None:
            missing.append(str(entry))
        else:
            left.remove(met)
    assert not missing, f"{name} on {day} does not show:\n" + "\n".join(missing)
    assert not left, f"{name} on {day} shows what the manifest does not say:\n\n" + "\n\n".join(
        as_entry(finding, day) for finding in left
    )


@pytest.mark.parametrize("day", DAYS, ids=str)
@pytest.mark.parametrize("name", CLEAN)
def test_a_clean_book_is_silent_and_leaves_little_out(name: str, day: date) -> None:
    result = audited(day)[name]
    assert result.findings == []
    counts = result.state_counts()
    left_out = [(state.rule, state.subject, state.why) for state in result.states if state.state == "not_evaluated"]
    assert counts["not_evaluated"] <= BOOKS[name]["not_evaluated_at_most"], left_out
    assert counts["passed"] > 100


def test_the_manifest_names_every_book_there_is() -> None:
    assert sorted(BOOKS) == sorted(path.name for path in find_books([str(HERE)])) == sorted(PLANS)


def test_half_of_the_fleet_at_least_is_clean() -> None:
    assert len(CLEAN) >= len(BOOKS) / 2


def test_every_finding_of_the_manifest_says_why_it_is_there() -> None:
    for name, book in BOOKS.items():
        for entry in book.get("finding", []):
            assert set(entry) <= {"on", "why", *FIELDS}, (name, entry)
            assert {"on", "why", "code", "grade", "sheet", "cell"} <= set(entry), (name, entry)
            assert entry["on"] == "any" or set(entry["on"]) < set(MANIFEST["days"]), (name, entry)


def test_every_code_is_shown_by_some_book() -> None:
    shown = {entry["code"] for book in BOOKS.values() for entry in book.get("finding", [])}
    assert shown | set(NOT_SHOWN) == set(CODES), "plant it in example_books/ships and enter it in manifest.toml"
    assert not shown & set(NOT_SHOWN)


def test_every_grade_of_a_code_is_one_that_the_code_says_it_has() -> None:
    for book in BOOKS.values():
        for entry in book.get("finding", []):
            assert entry["grade"] in CODES[entry["code"]].grades, entry


@pytest.mark.parametrize(("name", "least"), [("thornuve.xlsx", 70), ("veshmoor.xlsx", 60)])
def test_a_book_of_faults_holds_faults_of_many_kinds(name: str, least: int) -> None:
    faults = expected(name, DAYS[0])
    kinds = {(entry.said["code"], entry.said.get("rule"), entry.said["why"]) for entry in faults}
    assert len(kinds) == len(faults) >= least


@pytest.mark.parametrize("name", COMPLETE)
def test_a_complete_record_leaves_very_little_out(name: str) -> None:
    assert name in CLEAN
    assert BOOKS[name]["not_evaluated_at_most"] < 25
    book = read_book(HERE / name)
    assert {sheet.key for sheet in SHEETS if sheet.key != "exemptions"} <= set(book.tables)
    assert any(row.get("closed") for row in book.rows("defects"))
    assert any(row.get("closed") for row in book.rows("follow_up"))


def test_every_check_has_something_to_pass_on_a_complete_record() -> None:
    """Each rule that a book of the fleet breaks is passed by a clean one, where a clean one is of that kind of ship."""
    passed = {state.rule for name in CLEAN for state in audited(DAYS[0])[name].states if state.state == "passed"}
    broken = {
        entry["rule"]
        for book in BOOKS.values()
        for entry in book.get("finding", [])
        if not entry.get("rule", "record.").startswith(("record.", "expiry."))
    }
    assert broken - passed <= set(ONLY_BROKEN), sorted(broken - passed)


def test_an_exemption_in_force_stands_in_the_place_of_the_finding() -> None:
    states = audited(DAYS[0])["odrunsel.xlsx"].states
    exempt = [(state.rule, state.subject) for state in states if state.state == "exempt"]
    assert exempt == [("lifeboat.fishing-tackle", "Lifeboat 1")]


def test_both_rule_sets_are_sailed_under() -> None:
    assert {load_rule_set(result.rules).key for result in audited(DAYS[0]).values()} == {"solas", "us"}


@pytest.mark.parametrize("name", BOOKS)
def test_the_book_is_what_the_builder_writes(name: str, tmp_path: Path) -> None:
    assert cells(HERE / name) == cells(write_xlsx(PLANS[name], tmp_path)), "run: python -m example_books.build"


@pytest.mark.parametrize("name", BOOKS)
def test_the_builder_writes_the_same_bytes_each_time(name: str) -> None:
    assert xlsx_bytes(PLANS[name]) == xlsx_bytes(PLANS[name])


@pytest.mark.parametrize("name", BOOKS)
def test_no_ship_can_be_taken_for_a_real_one(name: str) -> None:
    book = read_book(HERE / name)
    number = book.ship_value("imo_number")
    assert number.startswith("3"), "from memory: no ship has a number of this range"
    assert imo_number_ok(number) == (name != "thornuve.xlsx")
    assert "(invented)" in book.ship_value("company")


@pytest.mark.parametrize("name", BOOKS)
def test_no_name_of_a_person_stands_in_a_finding(name: str) -> None:
    names = [row.get("name") for row in read_book(HERE / name).rows("crew") if row.get("name")]
    for day in DAYS:
        for finding in audited(day)[name].findings:
            said = f"{finding.subject} {finding.message} {finding.remedy}"
            assert not [person for person in names if person in said], finding


def test_the_command_asks_for_action_and_reads_every_book() -> None:
    done = CliRunner().invoke(main, ["check", str(HERE), "--on", DAYS[0].isoformat()])
    assert done.exit_code == 1, done.output
    assert "NOT READ" not in done.output
    for plan in FLEET:
        assert plan.ship["name"] in done.output
