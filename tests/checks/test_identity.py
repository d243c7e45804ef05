"""A finding's id names the same fault when the book is sorted or lines are inserted."""

from datetime import date

from tests.workbooks import Workbook, clean
from workbook_tools.findings import Finding


def _faulty() -> Workbook:
    book = clean()
    book.lot("whistle", "Lifeboat 2")["quantity"] = 0
    book.lot("hand flare")["expires"] = date(2026, 1, 31)
    book.lot("bucket")["quantity"] = 1
    for batch in ("A", "B", ""):
        book.add("inventory", place="Bridge", item="hand flare", quantity=1, expires=date(2025, 1, 31), batch=batch)
    return book


def _ids(findings: list[Finding]) -> set[str]:
    return {finding.id for finding in findings}


def test_ids_are_unique() -> None:
    findings = _faulty().findings()
    assert len(_ids(findings)) == len(findings) > 4


def test_ids_stay_when_rows_move() -> None:
    before = _faulty().findings()
    book = _faulty()
    book.title_rows = 3
    book.rows["inventory"].reverse()
    after = book.findings()
    assert _ids(before) == _ids(after)
    assert {finding.cell for finding in before} != {finding.cell for finding in after}


def test_taking_a_lot_out_leaves_the_others_their_ids() -> None:
    def ids(*days: date) -> dict[str, str]:
        book = clean()
        for day in days:
            book.add("inventory", place="Lifeboat 1", item="hand flare", quantity=2, expires=day)
        return {finding.message: finding.id for finding in book.findings()}

    both = ids(date(2025, 1, 31), date(2025, 6, 30))
    assert len(set(both.values())) == 2
    assert ids(date(2025, 6, 30), date(2025, 1, 31)) == both
    assert ids(date(2025, 6, 30)).items() <= both.items()


def test_findings_come_worst_first() -> None:
    priorities = [finding.priority for finding in _faulty().findings()]
    assert priorities == sorted(priorities, key=["before sailing", "within 14 days", "at next port", "plan"].index)
