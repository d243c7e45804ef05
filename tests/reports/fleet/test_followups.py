"""The list that goes back to a ship: what to correct, and lines that its own Follow-up sheet takes as they are."""

from __future__ import annotations

import io
import os
import re
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reports.fleet.fleets import (
    HOSTILE,
    OPTIONS,
    UNREAD,
    example_results,
    finding,
    hostile_book,
    result,
)
from tests.reports.fleet.test_workbook import lines, parts, words_above
from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.columns import sheet
from workbook_tools.core.caution import CAUTION
from workbook_tools.findings import BookResult, FollowUp
from workbook_tools.reports.fleet.followups import FollowUpLists, follow_up_list, list_name

NOT_COPIED = "What it is (do not copy)"


def list_of(one: BookResult, **options: Any) -> bytes:
    return follow_up_list(one, Options(ON, **options))


# ---- what the list says ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("one", [one for one in example_results() if one.findings], ids=lambda one: one.ship)
def test_a_list_holds_every_finding_of_the_ship_worst_first(one: BookResult) -> None:
    found = lines(list_of(one), "To correct")
    assert [line["Finding"] for line in found] == [entry.id for entry in (*one.front(), *one.followed_up())]
    assert [line["Cell"] for line in found] == [
        f"{entry.sheet}!{entry.cell}" for entry in (*one.front(), *one.followed_up())
    ]


def test_a_list_says_from_which_record_who_decides_and_what_is_dangerous() -> None:
    said = words_above(list_of(result("returns/a.xlsx", finding(message="hand flare: 6 asked"))), "To correct")
    assert "a.xlsx on 2026-11-25" in said
    assert CAUTION in said
    assert "Pyrotechnics: expired ones are not for testing" in said


def test_its_links_lead_to_the_workbook_beside_it() -> None:
    data = list_of(result("deep/in/the/office/a b.xlsx", finding()))
    relations = "".join(parts(data, "worksheets/_rels").values())
    assert re.findall(r'Target="([^"]*)" TargetMode="External"', relations) == ["a%20b.xlsx"]


def test_a_book_that_was_not_read_gets_a_list_that_says_why() -> None:
    data = list_of(UNREAD)
    text = "".join(parts(data, "sharedStrings").values())
    assert UNREAD.reason in text
    assert "broken.xlsx" in text
    assert CAUTION in text


@pytest.mark.parametrize("names", [False, True])
def test_persons_are_named_only_where_that_is_asked(names: bool) -> None:
    one = result("a.xlsx", finding(person="Ferrant Quill" if names else ""))
    text = "".join(parts(list_of(one, names=names), "sharedStrings").values())
    assert ("Ferrant Quill" in text) is names


# ---- lines to copy -----------------------------------------------------------------------------------------------


def test_the_lines_to_copy_have_the_columns_of_the_follow_up_sheet_in_their_order() -> None:
    (line,) = lines(list_of(result("a.xlsx", finding())), "Follow-up")
    assert list(line) == [*(column.title for column in sheet("follow_up").columns), NOT_COPIED]


def test_copied_lines_put_every_finding_aside_in_the_next_audit() -> None:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    book.lot("hand flare")["expires"] = date(2026, 11, 1)
    book.find("crew", number="7")["medical_expires"] = date(2026, 11, 1)
    before = book.audit()
    assert len(before.front()) >= 3
    keys = {column.title: column.key for column in sheet("follow_up").columns}
    for line in lines(list_of(before), "Follow-up"):
        copied = {keys[title]: value for title, value in line.items() if title in keys and value != ""}
        book.add("follow_up", **copied, order="R-112", expected=date(2026, 12, 10))
    after = book.audit()
    assert after.front() == []
    assert {entry.id for entry in after.followed_up()} == {entry.id for entry in before.findings}


def test_what_is_followed_up_already_is_not_copied_again() -> None:
    one = result("a.xlsx", finding(), finding(id="EQ01-bbbbbb", follow_up=FollowUp(order="R-1")))
    data = list_of(one)
    assert [line[sheet("follow_up").column("finding").title] for line in lines(data, "Follow-up")] == ["EQ01-aaaaaa"]
    assert [line["Being followed up"] for line in lines(data, "To correct")] == ["", "R-1, no day given"]


# ---- names of files ----------------------------------------------------------------------------------------------


def name_of(ship: str, imo: str = "3100019", taken: set[str] | None = None) -> str:
    return list_name(result(ship=ship, imo_number=imo), ON, set() if taken is None else taken)


@pytest.mark.parametrize(
    ("ship", "imo", "name"),
    [
        ("Orrin Vale", "3100019", "Orrin-Vale_IMO3100019_2026-11-25.xlsx"),
        ("../../etc/passwd", "", "etc-passwd_2026-11-25.xlsx"),
        ('A<>:"/\\|?*B', "", "A-B_2026-11-25.xlsx"),
        ("Ørsta", "", "Ørsta_2026-11-25.xlsx"),
        ("", "", "a_2026-11-25.xlsx"),  # the book's own name stands in
        ("CON", "", "CON_2026-11-25.xlsx"),
    ],
)
def test_a_file_is_named_after_ship_and_imo_number(ship: str, imo: str, name: str) -> None:
    assert name_of(ship, imo) == name


def test_ships_of_one_name_get_lists_of_their_own_even_where_case_does_not_count() -> None:
    taken: set[str] = set()
    names = [name_of(ship, "", taken) for ship in ("Orrin Vale", "ORRIN VALE", "Orrin/Vale")]
    assert len({name.casefold() for name in names}) == 3


@given(st.lists(st.tuples(st.text(), st.text(max_size=40)), max_size=6))
def test_every_name_is_one_that_every_system_takes(ships: list[tuple[str, str]]) -> None:
    # Windows: no < > : " / \ | ? * and no control character; 255 bytes: the usual limit of file systems
    taken: set[str] = set()
    names = [name_of(ship, imo, taken) for ship, imo in ships]
    for name in names:
        assert not re.search(r'[<>:"/\\|?*\x00-\x1f\x7f]', name)
        assert len(name.encode()) <= 255
        assert name.endswith(".xlsx")
        assert not name.startswith((".", "-", "~"))
    assert len({name.casefold() for name in names}) == len(names)


# ---- a folder of lists -------------------------------------------------------------------------------------------


def test_each_ship_with_something_to_correct_gets_one_list(tmp_path: Path) -> None:
    folder = tmp_path / "lists"
    writer = FollowUpLists(folder, OPTIONS)
    for one in example_results():
        writer.add(one)
    assert not folder.exists()
    said = writer.finish()
    with_findings = [one for one in example_results() if one.findings or not one.readable]
    assert len(list(folder.iterdir())) == len(with_findings)
    assert said == f"{len(with_findings)} follow-up lists in {folder}"
    assert [path.name for path in tmp_path.iterdir()] == ["lists"]


def test_a_run_that_ends_early_leaves_nothing(tmp_path: Path) -> None:
    writer = FollowUpLists(tmp_path / "lists", OPTIONS)
    writer.add(result("a.xlsx", finding()))
    writer.close()
    assert list(tmp_path.iterdir()) == []


def test_a_list_of_an_earlier_run_of_the_day_is_named(tmp_path: Path) -> None:
    first = FollowUpLists(tmp_path, OPTIONS)
    first.add(result("a.xlsx", finding()))
    first.finish()
    second = FollowUpLists(tmp_path, OPTIONS)
    second.add(result("a.xlsx"))
    assert "of the same day but an earlier run: Orrin-Vale_IMO3100019_2026-11-25.xlsx" in second.finish()


# ---- nothing runs ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_of_a_book_becomes_a_formula_or_a_link(text: str) -> None:
    one = hostile_book(text).audit(names=True)
    assert any(text.strip() in f"{entry.subject} {entry.message}" for entry in one.findings)
    data = list_of(one, names=True)
    for part in parts(data, r"xl/worksheets/sheet\d+\.xml").values():
        root = ElementTree.fromstring(part)
        assert not [cell for cell in root.iter() if cell.tag.endswith("}f")]
        assert {cell.get("t") for cell in root.iter() if cell.tag.endswith("}c")} <= {"s", None}
    targets = re.findall(r'Target="([^"]*)" TargetMode="External"', "".join(parts(data, "worksheets/_rels").values()))
    assert set(targets) <= {"test.xlsx"}


def test_a_book_whose_name_is_no_text_gets_a_list_without_links(tmp_path: Path) -> None:
    path = os.fsdecode(b"caf\xe9.xlsx")
    data = list_of(result(path, finding(), ship=""))
    assert io.BytesIO(data).read(2) == b"PK"
    assert not parts(data, "worksheets/_rels") or "External" not in "".join(parts(data, "worksheets/_rels").values())
    assert list_name(result(path, ship="", imo_number=""), ON, set()).isascii()
