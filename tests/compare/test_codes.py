"""Every suspicion has a pair of returns that trips it, at the cell it must name, and look-alikes that stay silent."""

from __future__ import annotations

import pytest

from tests.compare.cases import CASES, NOT_COMPARED
from tests.compare.pairs import step, suspicions, two
from workbook_tools.checks import CODES as AUDIT_CODES
from workbook_tools.checks.registry import Code
from workbook_tools.compare import CODES
from workbook_tools.compare.registry import describe

# CP06 looks at more than two returns: tests/compare/test_open_findings.py
OF_A_SERIES = {"CP06"}

TRIPS = [(code, trip) for code, (trips, _) in CASES.items() for trip in trips]
SILENT = [(code, silent) for code, (_, silents) in CASES.items() for silent in silents]


def test_every_code_has_its_cases() -> None:
    assert set(CASES) == set(CODES) - OF_A_SERIES
    assert all(trips and silents for trips, silents in CASES.values())


def test_the_codes_are_not_those_of_the_audit() -> None:
    assert not set(CODES) & set(AUDIT_CODES)
    assert {code[:2] for code in CODES} == {"CP"}


@pytest.mark.parametrize("taken", [("CP01", "another"), ("EQ01", "another"), ("CP99", "expiry-moved"), ("ZZ01", "new")])
def test_a_code_or_name_that_is_taken_or_of_no_family_is_refused(taken: tuple[str, str]) -> None:
    with pytest.raises(ValueError, match=r"taken|no such family"):
        describe(Code(*taken, ("query",), "", "", "", "", ""))


def test_a_ship_in_order_shows_nothing() -> None:
    made = step(*two())
    assert suspicions(made) == []
    assert not made.left_out


@pytest.mark.parametrize(("code", "trip"), TRIPS, ids=lambda value: getattr(value, "__name__", value))
def test_trips_at_the_cell_it_names_and_nothing_else_does(code: str, trip) -> None:  # type: ignore[no-untyped-def]
    old, new = two()
    sheet, cell = trip(old, new)
    found = suspicions(step(old, new))
    assert [(finding.code, finding.sheet, finding.cell) for finding in found] == [(code, sheet, cell)]
    assert found[0].grade in CODES[code].grades


@pytest.mark.parametrize(("code", "silent"), SILENT, ids=lambda value: getattr(value, "__name__", value))
def test_the_look_alike_stays_silent(code: str, silent) -> None:  # type: ignore[no-untyped-def]
    old, new = two()
    silent(old, new)
    made = step(old, new)
    assert suspicions(made) == []
    said = NOT_COMPARED.get(silent)
    assert [text for text in made.left_out if said is not None and said in text] == list(made.left_out)
    assert bool(made.left_out) == (said is not None)


def test_a_copied_return_is_a_note_where_no_routine_is_kept() -> None:
    grades = []
    for trip in CASES["CP04"][0]:
        old, new = two()
        trip(old, new)
        grades += [finding.grade for finding in suspicions(step(old, new))]
    assert grades == ["query", "query", "note"]
