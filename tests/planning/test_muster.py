"""The muster list proposed for a book: how the record is read, what is said of it, and the page."""

from __future__ import annotations

import itertools
from datetime import date, timedelta
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planning.books import SHIPS, audited, example
from tests.planning.muster_problems import displaced_faults, faults, random_muster
from tests.workbooks import ON, Workbook, clean
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.cli import main
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.muster import CHARGE, NO, PERHAPS, SURE, List, Muster, is_engine_hand
from workbook_tools.planning.muster import NothingToPropose, Proposal, propose
from workbook_tools.planning.muster_page import muster_page
from workbook_tools.planning.muster_program import best_list
from workbook_tools.planning.muster_substitutes import IN_COMMAND, Stand, stand_ins
from workbook_tools.reading import RawBook, read_raw

VOYAGE_ENDS = ON + timedelta(days=60)


def person(book: Workbook, number: str) -> dict[str, object]:
    return book.find("crew", number=number)


def proposed(book: Workbook, until: date | None = None) -> Proposal:
    return propose(audited(book), until)


def at(proposal: Proposal, number: str) -> int:
    return next(place for place, found in enumerate(proposal.persons) if found.row.get("number") == number)


def test_a_list_in_order_is_left_as_it_is() -> None:
    found = proposed(clean())
    assert found.complete
    assert (found.score.moved, found.score.duties) == (0, 0)
    assert found.found.craft == tuple(hand.craft for hand in found.muster.hands)


@pytest.mark.parametrize("ship", SHIPS)
def test_every_constraint_holds_on_the_example_ships(ship: str) -> None:
    found = propose(example(ship)[0])
    assert faults(found.muster, found.found) == []
    for side, other in (("port", "starboard"), ("starboard", "port")):
        assert displaced_faults(found.muster, found.found, other, found.lost[side]) == []
    assert found.score.order <= found.present.order


def test_the_faults_that_the_audit_finds_are_put_right_where_that_can_be() -> None:
    """One too many in a boat (CR01), nobody in charge (CR02), the cook in charge (CR07), no craft (CR04)."""
    book = clean()
    for number in ("1", "2", "3", "4", "5", "6"):
        person(book, number)["craft"] = "Lifeboat 2"
    book.find("craft", name="Lifeboat 2")["persons"] = 11
    person(book, "7").update(rank="cook", certificate="none")
    person(book, "12")["craft"] = ""
    found = proposed(book)
    assert found.complete
    assert max(len(found.found.in_craft(number)) for number in (0, 1)) <= 11
    assert found.found.role[at(found, "7")] != CHARGE
    assert None not in found.found.craft


@pytest.mark.parametrize(
    ("change", "leads"),
    [
        ({"rank": "chief officer", "certificate": ""}, SURE),
        ({"rank": "chief officer", "certificate_expires": VOYAGE_ENDS - timedelta(days=1)}, PERHAPS),
        ({"rank": "rating", "certificate": "Survival craft", "certificate_expires": ""}, SURE),
        ({"rank": "rating", "certificate": "Survival craft", "certificate_expires": VOYAGE_ENDS}, SURE),
        (
            {"rank": "rating", "certificate": "Survival craft", "certificate_expires": VOYAGE_ENDS - timedelta(days=1)},
            NO,
        ),
        ({"rank": "rating", "certificate": "none"}, NO),
        ({"rank": "rating", "certificate": ""}, PERHAPS),
        ({"rank": "rating", "certificate": "Survival craft", "certificate_expires": "12/03/2027"}, PERHAPS),
    ],
)
def test_who_is_shown_to_be_qualified_to_the_end_of_the_voyage(change: dict[str, object], leads: str) -> None:
    """Source: SOLAS III/10.3; STCW A-VI/2: one with a date must last to the end of the voyage."""
    book = clean()
    book.ship["voyage_ends"] = VOYAGE_ENDS
    line = person(book, "4")
    line.update({"certificate": "", "certificate_expires": ""} | change)
    found = proposed(book)
    assert found.until == VOYAGE_ENDS
    assert found.muster.hands[at(found, "4")].leads == leads


def test_until_is_asked_then_the_voyage_then_the_next_call_then_the_day_asked() -> None:
    book = clean()
    book.rows["ports"] = []
    assert proposed(book).until == ON
    book.add("ports", port="Port Ellery", arrival=ON + timedelta(days=20))
    book.add("ports", port="Port Ellery", arrival=ON + timedelta(days=9))
    assert proposed(book).until == ON + timedelta(days=9)
    book.ship["voyage_ends"] = VOYAGE_ENDS
    assert proposed(book).until == VOYAGE_ENDS
    assert proposed(book, date(2030, 1, 1)).until == date(2030, 1, 1)


def test_whoever_s_medical_ends_on_the_way_hands_the_duty_on() -> None:
    book = clean()
    book.ship["voyage_ends"] = VOYAGE_ENDS
    person(book, "3")["medical_expires"] = VOYAGE_ENDS - timedelta(days=1)
    found = proposed(book)
    assert found.found.role[at(found, "3")] == ""
    assert found.complete


def test_persons_without_a_line_get_a_place() -> None:
    book = clean()
    book.ship["persons_on_board"] = 19
    found = proposed(book)
    assert found.muster.unlisted == 7
    assert sum(found.found.unlisted) == 7


def test_remote_and_extra_craft_take_nobody() -> None:
    book = clean()
    for name, purpose in (("Raft P", "remote"), ("Raft S", "extra")):
        book.find("craft", name=name)["purpose"] = purpose
    assert [craft.name for craft in proposed(book).crafts] == ["Lifeboat 1", "Lifeboat 2"]


def test_a_rescue_boat_s_crew_keeps_it_and_has_a_place_and_no_key_duty() -> None:
    book = clean()
    book.add("craft", name="Rescue boat", kind="rescue boat", side="port", persons=6)
    person(book, "2").update(craft="Rescue boat", duty="person in charge")
    found = proposed(book)
    number = at(found, "2")
    assert found.beside == {number: "Rescue boat"}
    assert found.found.craft[number] is not None
    assert found.found.role[number] == ""
    audit, result = audit_in_full(read_raw(RawBook("test.xlsx", book.grids())), Options(ON))
    page = muster_page(audit, result, found)
    facts = dict(page.facts)
    assert facts["Rescue boat crew"].endswith("2, third officer: mans Rescue boat; a place, and no duty, here")
    assert "Papers valid to" in facts
    changes = [cell for block in page.blocks for line in block.lines for cell in line.cells]
    assert any("mans Rescue boat; place here" in cell for cell in changes)


def test_a_technician_whose_remarks_say_why_goes_to_none_and_is_told() -> None:
    book = clean()
    book.add("crew", number="T1", rank="Service technician", remarks="on board alongside only")
    assert any("T1" in text for text in proposed(book).left_out)


def test_a_book_without_persons_or_craft_says_what_to_enter() -> None:
    book = clean()
    book.rows["crew"] = []
    with pytest.raises(NothingToPropose, match="Crew sheet"):
        proposed(book)
    book = clean()
    for line in book.rows["craft"]:
        line["persons"] = ""
    with pytest.raises(NothingToPropose, match=r"Craft!.*: enter Persons permitted for each lifeboat and liferaft"):
        proposed(book)


@pytest.mark.parametrize(("rank", "engine"), [("2nd Engineer", True), ("ETO", True), ("Oiler", True), ("cook", False)])
def test_who_is_of_the_engine_department(rank: str, engine: bool) -> None:
    assert is_engine_hand(rank) is engine


# ---- substitutes -------------------------------------------------------------------------------------------------


def _worth(stands: list[Stand], free: int) -> tuple[int, int]:
    return sum(stand.substitute is None for stand in stands), sum(not stand.kept for stand in stands)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 5), st.integers(1, 3))
def test_no_choice_of_substitutes_leaves_fewer_without_or_keeps_more(seed: int, persons: int, crafts: int) -> None:
    """Source: every choice there is, counted through."""
    muster = random_muster(seed, persons, crafts, (2, 4))
    found = best_list(muster)
    commanders, present = [seed % persons], {(seed % persons, (seed + 1) % persons)}
    stands = stand_ins(muster, found, commanders, present, [False] * persons)
    assert all(_may(muster, found, stand, commanders) for stand in stands)
    chosen = [stand.substitute for stand in stands if stand.substitute is not None]
    assert len(set(chosen)) == len(chosen)
    best = (len(stands), len(stands))
    for choice in itertools.product([None, *range(persons)], repeat=len(stands)):
        given_ = [
            Stand(stand.key, stand.role, other, other is not None and (stand.key, other) in present)
            for stand, other in zip(stands, choice, strict=True)
        ]
        named = [other for other in choice if other is not None]
        if len(set(named)) == len(named) and all(_may(muster, found, stand, commanders) for stand in given_):
            best = min(best, _worth(given_, persons))
    assert _worth(stands, persons) == best


def _may(muster: Muster, found: List, stand: Stand, commanders: list[int]) -> bool:
    """Whether a substitute may stand in: free, fit, qualified, not the same person, not key in the same emergency."""
    other = stand.substitute
    if other is None:
        return True
    hand = muster.hands[other]
    able = hand.free and hand.leads != NO and hand.fit != NO
    same_role = other in commanders or (stand.role != IN_COMMAND and found.role[other] == CHARGE)
    return able and other != stand.key and not same_role


# ---- the page and the command ------------------------------------------------------------------------------------


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["muster", *arguments])


def cells(book: Workbook, until: date | None = None) -> list[tuple[str, ...]]:
    """The lines of all tables of the page."""
    audit, result = audit_in_full(read_raw(RawBook("test.xlsx", book.grids())), Options(ON))
    page = muster_page(audit, result, propose(audit, until))
    return [line.cells for block in page.blocks for line in block.lines]


def named() -> Workbook:
    book = clean()
    for line in book.rows["crew"]:
        line["name"] = f"Ferrant Quill{line['number']}"
    return book


def test_names_are_printed_only_where_they_are_asked_for(tmp_path: Path) -> None:
    path = str(named().save(tmp_path / "book.xlsx"))
    without, within = run(path), run(path, "--names")
    assert without.exit_code == within.exit_code == 0
    assert "Ferrant" not in without.output
    assert "--names" in without.output
    assert all(f"Quill{number}" in within.output for number in range(1, 13))


def test_what_cannot_be_met_is_told_with_who_is_missing_and_ends_with_status_1(tmp_path: Path) -> None:
    book = named()
    for line in book.rows["crew"]:
        line.update(rank="cook", certificate="none", certificate_expires="")
    person(book, "7").update(rank="rating", certificate="Survival craft", certificate_expires=ON + timedelta(days=3))
    until = date(2026, 12, 24)
    done = run(str(book.save(tmp_path / "book.xlsx")), "--on", "2026-11-25", "--until", f"{until}")
    assert done.exit_code == 1
    assert "ACTION REQUIRED" in done.output
    assert CAUTION in " ".join(done.output.split())
    told = [line for line in cells(book, until) if "no deck officer or certificated person" in line[1]]
    assert [line[0] for line in told] == ["Lifeboat 1", "Lifeboat 2"]
    assert all("0 qualified persons for 2 manned craft" in line[2] for line in told)
    assert all("papers end before 2026-12-24: crew number 7" in line[2] for line in told)
    assert {line[3] for line in told} == {"SOLAS III/10.3; flag's number by complement"}


def test_persons_beyond_the_places_are_named() -> None:
    book = clean()
    for line in book.rows["craft"]:
        line["persons"] = 2
    found = {line[:2]: line[2] for line in cells(book)}
    assert found["ship", "no place (4)"].startswith("12 persons, 8 places: crew number ")
    lost = found["port side lost", "a place for everybody"]
    assert lost == "6 without a place: 6 places left in 3 craft"


def test_what_is_not_recorded_is_not_evaluated_and_no_fault() -> None:
    book = clean()
    for line in book.rows["crew"]:
        line.update(rank="rating", certificate="", certificate_expires="")
    book.ship["head_count"] = "not asked"
    told = [line for line in cells(book) if line[1].startswith("not evaluated: that the person in charge")]
    assert [line[0] for line in told] == ["Lifeboat 1", "Lifeboat 2"]
    assert proposed(book).complete


def test_changes_are_marked_by_a_word_and_fit_the_width(tmp_path: Path) -> None:
    book = clean()
    person(book, "12")["craft"] = ""
    person(book, "6")["craft"] = "Lifebaot 1"
    done = run(str(book.save(tmp_path / "book.xlsx")))
    changes = {line[-1] for line in cells(book)}
    assert {"NEW here (had no craft)", "NEW here ('Lifebaot 1' is no craft here)"} <= changes
    assert max(map(len, done.output.splitlines())) <= 80


def test_the_sheet_holds_text_and_no_formula(tmp_path: Path) -> None:
    book = named()
    person(book, "5").update(rank="=1+1", name="=cmd|' /C calc'!A0")
    out = tmp_path / "muster.xlsx"
    path = str(book.save(tmp_path / "book.xlsx"))
    assert run(path, "--names", "--format", "xlsx", "--out", str(out)).exit_code in (0, 1)
    cells = [cell for row in openpyxl.load_workbook(out)["Muster list"].iter_rows() for cell in row]
    assert {cell.data_type for cell in cells if cell.value is not None} == {"s"}
    assert any("Ferrant Quill7" in str(cell.value) for cell in cells)


@pytest.mark.parametrize("arguments", [["--until", "2026-01-01", "--on", "2026-11-25"], ["--format", "xlsx"]])
def test_wrong_usage_is_told(tmp_path: Path, arguments: list[str]) -> None:
    assert run(str(clean().save(tmp_path / "book.xlsx")), *arguments).exit_code == 2


def test_an_empty_crew_sheet_is_wrong_usage_with_a_remedy(tmp_path: Path) -> None:
    book = clean()
    book.rows["crew"] = []
    done = run(str(book.save(tmp_path / "book.xlsx")))
    assert done.exit_code == 2
    assert "enter who is on board" in done.output
