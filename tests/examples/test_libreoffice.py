"""LibreOffice opens and saves every example book, and the audit says the same of it before and after."""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from example_books.build import HERE, cells, save_with_libreoffice, write_xlsx
from tests.examples.fleet import BOOKS, DAYS, audit, audited
from tests.examples.test_fleet import PLANS
from workbook_tools.findings import BookResult

pytestmark = pytest.mark.office

# Code, rule, grade, subject, message, sheet and cell of a finding.
Said = tuple[str, str, str, str, str, str, str]


@pytest.fixture(scope="module", params=["xlsx", "ods"])
def saved(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Every book as LibreOffice saves it, by the name of the book it was. Fails where LibreOffice is missing."""
    folder = tmp_path_factory.mktemp(str(request.param))
    paths = save_with_libreoffice([HERE / name for name in BOOKS], str(request.param), folder)
    return dict(zip(BOOKS, paths, strict=True))


# WB24 is about how a formula is written in .xlsx; LibreOffice writes formulas anew. WB25 to WB28 are about what a
# living workbook shows in its own sheets: LibreOffice recalculates these, and of .ods they are not evaluated.
REWRITTEN = {"WB24", "WB25", "WB26", "WB27", "WB28"}
OWN_SHEETS = "record.own-sheets"


def _said(result: BookResult) -> Counter[Said]:
    """What is said of a book."""
    return Counter(
        (entry.code, entry.rule, entry.grade, entry.subject, entry.message, entry.sheet, entry.cell)
        for entry in result.findings
        if entry.code not in REWRITTEN
    )


def _states(result: BookResult) -> Counter[str]:
    return Counter(state.state for state in result.states if state.rule != OWN_SHEETS)


@pytest.mark.parametrize("day", DAYS, ids=str)
def test_the_audit_says_the_same_after_libreoffice_has_saved_the_book(saved: dict[str, Path], day: date) -> None:
    for name, result in zip(BOOKS, audit(list(saved.values()), day), strict=True):
        before, after = _said(audited(day)[name]), _said(result)
        assert after == before, f"{name}: lost {before - after}, new {after - before}"
        assert _states(result) == _states(audited(day)[name])
        assert result.assumptions == audited(day)[name].assumptions


def test_the_ods_book_is_what_libreoffice_makes_of_the_builders(tmp_path: Path) -> None:
    books = [name for name in BOOKS if name.endswith(".ods")]
    assert books
    written = [write_xlsx(PLANS[name], tmp_path) for name in books]
    for name, path in zip(books, save_with_libreoffice(written, "ods", tmp_path / "saved"), strict=True):
        assert cells(path) == cells(HERE / name)
