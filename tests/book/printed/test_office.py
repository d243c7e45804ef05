"""The printed pages in LibreOffice: the same figures as in the other engine, and sheets of paper that are all used."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from tests.addins.calc.office import Office, convert, running
from tests.book.printed.bench import WRONG, Played, Rows, written
from tests.workbooks import ON
from workbook_tools.book.calculated.engine import serial
from workbook_tools.book.calculated.status import DATE_ASKED, OTHER_DAY
from workbook_tools.book.printed import PRINTED
from workbook_tools.core.rations import Issue, plan
from workbook_tools.reading.address import address

pytestmark = pytest.mark.office

ROWS, COLUMNS = 112, 11


@pytest.fixture(scope="module")
def book(busy_rows: Rows, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("office") / "book.xlsx"
    path.write_bytes(written(busy_rows)[0])
    return path


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    with running(tmp_path_factory.mktemp("profile")) as started:
        yield started


def _shown(office: Office, number: int, name: str) -> list[list[Any]]:
    rows = office.ask("read", number, name, f"A1:{address(ROWS - 1, COLUMNS - 1)}")
    assert isinstance(rows, list)
    return rows


def test_every_page_shows_what_the_other_engine_shows(
    office: Office, book: Path, busy_rows: Rows, tmp_path: Path
) -> None:
    busy = Played(written(busy_rows)[0], tmp_path, ON)  # one into which no other test has typed
    with office.document(book) as number:
        day = address(*DATE_ASKED[1:])
        office.ask("fill", number, OTHER_DAY[0], address(*OTHER_DAY[1:]), [[serial(ON)]])
        office.ask("recalculate", number, 1)
        assert office.ask("read", number, DATE_ASKED[0], day) == [[serial(ON)]]
        for name in PRINTED:
            shown = _shown(office, number, name)
            wanted = busy.block(name, range(ROWS), range(COLUMNS))
            assert not any(cell == WRONG for row in shown for cell in row)
            for row, (ours, theirs) in enumerate(zip(shown, wanted, strict=True)):
                for column, (one, other) in enumerate(zip(ours, theirs, strict=True)):
                    assert one == (pytest.approx(other) if isinstance(other, float) else other), address(row, column)


def test_the_ration_card_agrees_with_the_core(office: Office, book: Path) -> None:
    with office.document(book) as number:
        for litres, persons, each, injured in ((37.5, 25, 0.5, 0), (90, 7, 0.75, 2), (1, 5, 0.5, 4)):
            office.ask("fill", number, "Ration card", "F5", [[persons], [each], [injured], [litres]])
            office.ask("recalculate", number, 1)
            left = [row[0] for row in office.ask("read", number, "Ration card", "H20:H49")]
            days = plan(litres, Issue(persons, each, 1, injured), 30)
            assert left == [pytest.approx(day.left, abs=0.005 + 1e-9) for day in days]


_PRINT_RANGE = re.compile(r'<definedName name="_xlnm.Print_Area" localSheetId="(\d+)"[^<]*</definedName>')


def _without(others: set[str], match: re.Match[str]) -> str:
    return "" if match[1] in others else match[0]


def _only(source: Path, target: Path, kept: tuple[str, ...]) -> None:
    """The book with every other sheet hidden and without a print range, so that only these print."""

    def hidden(match: re.Match[str]) -> str:
        plain = match[0].replace(' state="hidden"', "")
        name = re.search('name="([^"]*)"', plain)
        return plain if name and name[1] in kept else plain.replace("<sheet ", '<sheet state="hidden" ')

    with zipfile.ZipFile(source) as book, zipfile.ZipFile(target, "w") as shown:
        for part in book.namelist():
            data = book.read(part)
            if part == "xl/workbook.xml":
                text = re.sub(r"<sheet [^>]*/>", hidden, data.decode())
                names = re.findall(r'<sheet [^>]*?name="([^"]*)"', text)
                others = {str(index) for index, name in enumerate(names) if name not in kept}
                text = _PRINT_RANGE.sub(partial(_without, others), text)
                view = f'<workbookView activeTab="{names.index(kept[0])}"/>'
                data = re.sub(r"<workbookView[^>]*/>", view, text).encode()
            shown.writestr(part, data)


def test_every_page_prints_on_two_sheets_of_paper(book: Path, tmp_path: Path) -> None:
    _only(book, tmp_path / "pages.xlsx", PRINTED)
    printed = convert(tmp_path / "profile", tmp_path / "pages.xlsx", "pdf", tmp_path).read_bytes()
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 2 * len(PRINTED)
