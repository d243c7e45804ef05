"""Ranks, papers and substitutes, without a workbook."""

from __future__ import annotations

from datetime import date

import pytest

from workbook_tools.core import crew

ON = date(2026, 11, 25)


@pytest.mark.parametrize(
    "rank",
    ["Master", "CHIEF OFFICER", "Chief Mate", "2nd Officer", "2/O", "C/O", "Third mate", "Additional 3rd Officer"],
)
def test_a_deck_officer_is_known_by_rank(rank: str) -> None:
    assert crew.is_deck_officer(rank)
    assert not crew.is_no_deck_officer(rank)


@pytest.mark.parametrize(
    "rank", ["Bosun", "AB", "A/B", "Able Seaman", "Chief Cook", "2nd Engineer", "Passenger", "O/S"]
)
def test_who_is_surely_no_deck_officer(rank: str) -> None:
    assert crew.is_no_deck_officer(rank)
    assert not crew.is_deck_officer(rank)


@pytest.mark.parametrize(
    "rank", ["", None, "Radio officer", "Leading hand", "Electro-technical officer", "Bosun's mate"]
)
def test_of_other_ranks_nothing_is_said(rank: str | None) -> None:
    assert not crew.is_deck_officer(rank)
    assert not crew.is_no_deck_officer(rank)


def test_an_able_seaman_is_known() -> None:
    assert crew.is_able_seaman("Able Seaman")
    assert not crew.is_able_seaman("Ordinary seaman")


@pytest.mark.parametrize(
    ("text", "word"),
    [("PSCRB 4711", "held"), ("yes", "held"), ("None", "none"), ("no", "none"), ("-", ""), ("n/a", ""), (None, "")],
)
def test_what_a_certificate_cell_says(text: str | None, word: str) -> None:
    assert crew.certificate_word(text) == word


@pytest.mark.parametrize(
    ("last_day", "warn", "voyage_ends", "status"),
    [
        (date(2026, 11, 24), 90, None, crew.LAPSED),
        (ON, 0, None, crew.ENDING),
        (date(2026, 11, 26), 0, None, crew.VALID),
        (date(2027, 2, 23), 90, None, crew.ENDING),
        (date(2027, 2, 24), 90, None, crew.VALID),
        (date(2027, 5, 9), 0, date(2027, 5, 10), crew.ENDING),
        (date(2027, 5, 10), 0, date(2027, 5, 10), crew.VALID),
        (date(2026, 12, 31), 0, date(2026, 11, 24), crew.VALID),  # a voyage that is over says nothing
    ],
)
def test_a_paper_is_good_on_its_last_day(last_day: date, warn: int, voyage_ends: date | None, status: str) -> None:
    assert crew.paper_status(last_day, ON, warn, voyage_ends) == status


# MLC A1.2.9: one that lapses at sea holds to the next port with a doctor, three months at most
@pytest.mark.parametrize(
    ("last_day", "departed", "how"),
    [
        (date(2026, 8, 24), date(2026, 8, 1), crew.TOO_LONG),
        (date(2026, 8, 25), date(2026, 8, 1), crew.AT_SEA),
        (date(2026, 11, 20), date(2026, 11, 20), crew.AT_SEA),
        (date(2026, 11, 19), date(2026, 11, 20), crew.BEFORE_SAILING),
        (date(2026, 11, 19), None, crew.PERHAPS_AT_SEA),
        (date(2026, 11, 19), date(2026, 11, 26), crew.PERHAPS_AT_SEA),
    ],
)
def test_a_medical_certificate_that_ran_out(last_day: date, departed: date | None, how: str) -> None:
    assert crew.lapsed_medical(last_day, ON, departed, 3) == how


@pytest.mark.parametrize(
    ("remarks", "found"),
    [
        ("also communications", True),
        ("Also GMDSS, and fire pump", True),
        ("fire course in May", False),
        ("also relief of the cook", False),
        ("communications", False),
        (None, False),
    ],
)
def test_a_second_duty_is_said_with_also(remarks: str | None, found: bool) -> None:
    assert crew.also_named(remarks, ("communications", "GMDSS")) is found


@pytest.mark.parametrize("text", ["7", "07", "No. 7", "no 7", "Crew number 7", " 7 "])
def test_a_crew_number_is_folded(text: str) -> None:
    assert crew.crew_number(text) == "7"


NUMBERS = {"1": 0, "7": 1, "t1": 2}
RANKS = {"master": 0, "chief officer": 1}


@pytest.mark.parametrize(
    ("text", "found", "lost"),
    [
        ("1", [0], []),
        ("No. 07", [1], []),
        ("T1", [2], []),
        ("Master", [0], []),
        ("1, 7", [0, 1], []),
        ("1 and 7", [0, 1], []),
        ("41", [], ["41"]),
        ("1; 41", [0], ["41"]),
        ("bosun", [], ["bosun"]),
    ],
)
def test_persons_are_found_by_number_or_rank(text: str, found: list[int], lost: list[str]) -> None:
    assert crew.find_persons(text, NUMBERS, RANKS) == (found, lost)


def test_the_nearest_number_is_proposed_where_one_is_near() -> None:
    assert crew.nearest_number("T11", NUMBERS) == "t1"
    assert crew.nearest_number("bosun", NUMBERS) is None


@pytest.mark.parametrize(
    ("text", "key"), [("L-4711", "l4711"), ("S/N 0815", "0815"), ("n/a", ""), ("none", ""), ("-", ""), (None, "")]
)
def test_serial_numbers_are_folded_for_comparing(text: str | None, key: str) -> None:
    assert crew.serial_key(text) == key
