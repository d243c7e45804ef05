"""Every dated thing of a book: the days are those of the audit, and each has a name of its own that stays."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from tests.planning.books import SHIPS, audited, example
from tests.workbooks import ON, Workbook, clean
from workbook_tools.checks.lapses import lapses
from workbook_tools.core.stock import FIT_CONDITIONS
from workbook_tools.planning.deadlines import KINDS, Deadline, deadlines

FAR_AHEAD = 3660


def of(book: Workbook, **wanted: object) -> list[Deadline]:
    return [entry for entry in deadlines(audited(book)) if all(getattr(entry, key) == wanted[key] for key in wanted)]


@pytest.mark.parametrize("ship", SHIPS)
def test_every_due_finding_of_the_audit_has_its_deadline_at_the_same_cell(ship: str) -> None:
    audit, result = example(ship, warn_days=FAR_AHEAD)
    known = {(entry.sheet, entry.cell, entry.day) for entry in deadlines(audit)}
    told = [
        (finding, date.fromisoformat(found[1]))
        for finding in result.findings
        if finding.grade == "due"
        and (found := re.search(r"\bon (\d{4}-\d{2}-\d{2}), (?:in \d|today)", finding.message))
    ]
    assert told
    for finding, day in told:
        assert any(entry[2] == day for entry in known), finding
        if finding.code != "RT04":  # told at a person's line; the deadline stands at the drill's
            assert (finding.sheet, finding.cell, day) in known, finding


@pytest.mark.parametrize("ship", SHIPS)
def test_every_overdue_service_and_routine_of_the_audit_is_overdue_here(ship: str) -> None:
    audit, result = example(ship)
    overdue = {(entry.rule, entry.subject) for entry in deadlines(audit) if entry.days_left < 0}
    for finding in result.findings:
        if finding.grade == "action" and finding.code in ("SV01", "SV02", "SV03", "RT01", "RT02", "RT03", "FF01"):
            assert (finding.rule, finding.subject) in overdue, finding


@pytest.mark.parametrize("ship", SHIPS)
def test_what_the_printed_pages_list_as_lapsing_is_among_them_on_the_same_day(ship: str) -> None:
    audit, _ = example(ship)
    known = {(entry.sheet, entry.cell, entry.day) for entry in deadlines(audit)}
    # a day as written stands beside the audit's own on a page; here the audit's alone
    listed = [lapse for lapse in lapses(audit) if not lapse.what.endswith("(as written)")]
    assert [lapse for lapse in listed if (lapse.sheet, lapse.cell, lapse.day) not in known] == []


@pytest.mark.parametrize("ship", SHIPS)
def test_each_has_an_identity_of_its_own_and_a_known_kind(ship: str) -> None:
    found = deadlines(example(ship)[0])
    assert len({entry.identity for entry in found}) == len(found) > 10
    assert {entry.kind for entry in found} <= set(KINDS)
    assert [entry.day for entry in found] == sorted(entry.day for entry in found)


def test_identities_stay_when_lines_are_moved() -> None:
    before = {entry.identity: (entry.day, entry.thing) for entry in deadlines(audited(clean()))}
    book = clean()
    book.title_rows = 3
    for rows in book.rows.values():
        rows.reverse()
    assert {entry.identity: (entry.day, entry.thing) for entry in deadlines(audited(book))} == before


def test_a_lot_with_a_batch_keeps_its_identity_when_its_date_is_corrected() -> None:
    book = clean()
    before = of(book, thing="6 x hand flare, batch H6")
    book.lot("hand flare")["expires"] = date(2028, 1, 31)
    after = [entry for entry in deadlines(audited(book)) if entry.identity == before[0].identity]
    assert [entry.day for entry in after] == [date(2028, 1, 31)]


def test_what_was_done_again_moves_its_deadline_and_keeps_its_identity() -> None:
    book = clean()
    early = {entry.identity: entry.day for entry in of(book, kind="routine")}
    book.add("routine", day=ON, task="weekly inspection")
    late = {entry.identity: entry.day for entry in of(book, kind="routine")}
    assert early.keys() == late.keys()
    assert late[("rule", "routine.weekly-inspection", "ship")] == ON + timedelta(days=7)


@pytest.mark.parametrize("condition", ["defective", "awaiting landing", "ashore"])
def test_a_lot_that_is_not_fit_has_no_deadline(condition: str) -> None:
    assert condition not in FIT_CONDITIONS
    book = clean()
    count = len(of(book, kind="expiry"))
    book.lot("hand flare")["condition"] = condition
    assert len(of(book, kind="expiry")) == count - 1


def test_a_lot_says_whether_its_rule_is_unmet_without_it() -> None:
    book = clean()
    day = date(2027, 5, 31)
    book.lot("hand flare")["expires"] = day
    book.lot("whistle")["expires"] = day
    book.add("inventory", place="Lifeboat 1", item="whistle", quantity=1, expires=date(2028, 5, 31))
    short = {entry.lot.lot.item: entry.leaves_short for entry in of(book, day=day) if entry.lot}
    assert short == {"hand flare": True, "whistle": False}


def test_two_lots_alike_are_told_apart() -> None:
    book = clean()
    for _ in range(2):
        book.add("inventory", place="Lifeboat 1", item="hand flare", quantity=1, expires=date(2028, 2, 28))
    assert len({entry.identity for entry in of(book, day=date(2028, 2, 28))}) == 2


def test_papers_exemptions_certificates_and_open_follow_ups_are_among_them() -> None:
    book = clean()
    day = ON + timedelta(days=40)
    book.find("crew", number="7")["medical_expires"] = day
    book.add("certificates", certificate="Radio Certificate", until=day)
    book.add("exemptions", rule="lifeboat.fishing-tackle", authority="Flag", reference="MN 12", until=day)
    book.add("follow_up", finding="EQ01-aaaaab", order="R-7", port="Vigo", expected=day)
    found = {(entry.kind, entry.thing, entry.subject) for entry in of(book, day=day)}
    assert found == {
        ("papers", "medical certificate", "crew number 7"),
        ("certificate", "Radio Certificate", "ship"),
        ("exemption", "exemption of lifeboat.fishing-tackle", "every craft"),
        ("follow-up", "follow-up of EQ01-aaaaab (R-7)", "Vigo"),
    }


def test_no_name_of_a_person_stands_in_any_deadline() -> None:
    book = clean()
    book.find("crew", number="7")["name"] = "Ferrant Quillmoor"
    book.add("follow_up", finding="EQ01-aaaaab", order="asked Ferrant Quillmoor", expected=ON)
    text = repr([(entry.thing, entry.subject) for entry in deadlines(audited(book))])
    assert "Quillmoor" not in text
    assert "crew number 7" in text


def test_a_cell_that_cannot_be_read_makes_no_deadline() -> None:
    book = clean()
    count = len(of(book))
    book.lot("hand flare")["expires"] = "12/03/2027"
    assert len(of(book)) == count - 1
