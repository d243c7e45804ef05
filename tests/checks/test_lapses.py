"""What lapses when, as it stands on record; and the names of persons, where they are asked for."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.workbooks import ON, Workbook, clean
from workbook_tools.findings import LAPSE_KINDS, Lapse


def lapses(book: Workbook, **options: Any) -> list[Lapse]:
    return book.audit(lapses=True, **options).lapses


def of(kind: str, found: list[Lapse]) -> list[Lapse]:
    return [lapse for lapse in found if lapse.kind == kind]


def test_they_are_gathered_only_when_asked_for() -> None:
    assert clean().audit().lapses == []
    assert lapses(clean())


def test_every_one_has_a_known_kind_a_day_and_the_cell_that_shows_it() -> None:
    book = clean()
    found = lapses(book)
    assert {lapse.kind for lapse in found} <= set(LAPSE_KINDS)
    assert [lapse.day for lapse in found] == sorted(lapse.day for lapse in found)
    line = book.lot("hand flare")
    (flare,) = [lapse for lapse in found if "hand flare" in lapse.what and lapse.where == "Lifeboat 1"]
    assert (flare.day, flare.sheet, flare.cell) == (
        line["expires"],
        "Inventory",
        book.cell("inventory", line, "expires"),
    )


@pytest.mark.parametrize(("condition", "listed"), [("in use", True), ("awaiting landing", False), (None, True)])
def test_what_is_not_fit_for_use_lapses_no_more(condition: str | None, listed: bool) -> None:
    book = clean()
    book.add("inventory", place="Store", item="hand flare", quantity=3, expires=date(2027, 1, 1), condition=condition)
    assert any(lapse.where == "Store" for lapse in lapses(book)) is listed


def service(book: Workbook, done: date, due: date) -> str:
    line = book.add("servicing", appliance="Kettle", service="winch brake annual test", done=done, next_due=due)
    return book.cell("servicing", line, "next_due")


def test_a_service_that_was_done_again_lapses_by_its_last_line_alone() -> None:
    book = clean()
    service(book, date(2025, 1, 10), date(2027, 1, 10))
    last = service(book, date(2026, 10, 10), date(2027, 10, 10))
    cells = [lapse.cell for lapse in of("services", lapses(book)) if lapse.where == "Kettle"]
    assert cells == [last]


def test_a_service_entered_for_a_day_to_come_overtakes_nothing() -> None:
    book = clean()
    first = service(book, date(2025, 1, 10), date(2027, 1, 10))
    service(book, ON.replace(year=2027), date(2028, 10, 10))
    assert first in [lapse.cell for lapse in of("services", lapses(book)) if lapse.where == "Kettle"]


def test_a_raft_lapses_with_its_service_and_its_contents() -> None:
    rafts = of("rafts", lapses(clean()))
    assert {lapse.where for lapse in rafts} == {"Raft P", "Raft S"}
    assert date(2028, 4, 30) in {lapse.day for lapse in rafts}


# ---- names -------------------------------------------------------------------------------------------------------


def crewed() -> Workbook:
    book = clean()
    for line in book.rows["crew"]:
        line["name"] = f"Ferrant Quill{line['number']}"
    book.find("crew", number="7")["medical_expires"] = date(2026, 11, 1)
    book.find("crew", number="8")["medical_expires"] = date(2027, 1, 1)
    book.lot("bucket")["quantity"] = 1
    return book


def test_nobody_is_named_unless_asked_for() -> None:
    result = crewed().audit(lapses=True)
    assert result.findings
    assert "Quill" not in repr(result)


def test_a_finding_on_a_line_of_the_crew_sheet_names_who_stands_there() -> None:
    result = crewed().audit(names=True, lapses=True)
    named = {(entry.sheet, entry.person) for entry in result.findings}
    assert ("Crew", "Ferrant Quill7") in named
    assert {person for sheet, person in named if sheet != "Crew"} == {""}
    assert all("Quill" not in entry.message + entry.subject for entry in result.findings)
    assert {lapse.person for lapse in of("crew", result.lapses)} >= {"Ferrant Quill7", "Ferrant Quill8"}


def test_a_finding_on_the_heading_of_the_crew_sheet_names_nobody() -> None:
    book = crewed()
    book.headings["crew", "size"] = "Crew number"
    on_heading = [entry for entry in book.audit(names=True).findings if entry.sheet == "Crew" and entry.cell[1:] == "1"]
    assert on_heading
    assert all(entry.person == "" for entry in on_heading)
