"""The calculated sheets of a living workbook are read whatever program wrote them, and never bring a book down."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from example_books.living import put, rename, with_part, with_sheet
from tests.living_book import small
from tests.workbooks import ON, clean
from workbook_tools.book.calculated.coverage import COLUMNS as COVERAGE
from workbook_tools.book.calculated.required import COLUMNS as REQUIRED
from workbook_tools.book.calculated.status import COUNTS, DATE_ASKED, VERDICT
from workbook_tools.columns import SHEETS
from workbook_tools.reading import RawBook, load, read_raw
from workbook_tools.reading import own_sheets as own_module
from workbook_tools.reading.own_cells import Cell, SharedTexts, SheetXml, UnusualXml
from workbook_tools.reading.own_names import TELLING, TITLES, defined_names, renamed_by_title, sheet_of
from workbook_tools.reading.own_sheets import (
    BEYOND,
    COVERAGE_HEADINGS,
    REQUIRED_HEADINGS,
    UNREAD,
    VERDICT_BELOW,
    OwnSheets,
)

Edit = Callable[[bytes], bytes]


def _loaded(book: bytes, folder: Path) -> RawBook:
    path = folder / "book.xlsx"
    path.write_bytes(book)
    return load(path)


def _own(book: bytes, folder: Path) -> OwnSheets:
    own = _loaded(book, folder).own
    assert own is not None
    return own


# ---- the book as we write it --------------------------------------------------------------------------------------


def test_the_headings_looked_for_are_those_that_are_written() -> None:
    assert set(REQUIRED_HEADINGS) <= {column.heading for column in REQUIRED}
    assert set(COVERAGE_HEADINGS) <= {column.heading for column in COVERAGE}
    assert {UNREAD, BEYOND[0]} <= {name for name, _, _ in COUNTS}
    assert VERDICT[1] - DATE_ASKED[1] == VERDICT_BELOW
    assert VERDICT[2] == 0


def test_a_name_points_at_each_sheet_that_names_tell(tmp_path: Path) -> None:
    own = _own(small(printed=True), tmp_path)
    assert {name: sheet_of(own.names.get(name, "")) for name in TELLING} == TELLING
    assert own.renamed == {}


def test_each_printed_page_is_told_by_its_title(tmp_path: Path) -> None:
    book = small(printed=True)
    for number, name in enumerate(TITLES):
        book = rename(book, name, f"Page {number}")
    read = read_raw(_loaded(book, tmp_path))
    assert read.own is not None
    assert read.own.renamed == {f"Page {number}": name for number, name in enumerate(TITLES)}
    assert read.sheets_not_read == []


def test_day_lines_and_places_are_read(tmp_path: Path) -> None:
    own = _own(small(), tmp_path)
    assert (own.why_not, own.day, own.unread, own.beyond) == ("", ON, 0, 0)
    assert own.required is not None
    assert own.coverage is not None
    row, first = own.required.lines[0]
    assert (row, first["craft"], first["item"], first["asked"], first["rule"]) == (
        *(3, "Lifeboat 1", "buoyant oars", 1.0),
        "lifeboat.oars",
    )
    assert [cells["scenario"] for _, cells in own.coverage.lines][:2] == ["all craft usable", "port side lost"]
    assert (own.typed_over, own.hidden) == ({}, {})


def test_a_book_without_calculated_sheets_has_none(tmp_path: Path) -> None:
    assert load(clean().save(tmp_path / "plain.xlsx")).own is None


def test_a_sheet_called_status_makes_no_living_workbook(tmp_path: Path) -> None:
    assert read_raw(RawBook("x.xlsx", {**clean().grids(), "Status": [["Day asked", "today"]]})).own is None


# ---- the forms in which programs store cells ----------------------------------------------------------------------

TEXTS = SharedTexts(
    b'<sst><si><t>Craft</t></si><si><r><t xml:space="preserve">Ra</t></r><r><t>ft &amp; boat</t></r></si></sst>'
)


@pytest.mark.parametrize(
    ("xml", "cell"),
    [
        ('<c r="B2" s="4"><f t="shared" si="2"/><v>2.0</v></c>', Cell(2.0, True)),
        ('<c r="B2" t="str"><f>A1&amp;""</f><v>a &lt; b</v></c>', Cell("a < b", True)),
        ('<c r="B2" s="19" t="n"><f aca="false">IF(A1=0,&quot;&quot;,1)</f><v>1</v></c>', Cell(1.0, True)),
        ('<c r="B2" t="str"><f aca="false">A1</f><v></v></c>', Cell("", True)),
        ('<c r="B2" s="1" t="s"><v>1</v></c>', Cell("Raft & boat", False)),
        ('<c r="B2" t="s"><v>99</v></c>', Cell("", False)),
        ('<c r="B2" t="inlineStr"><is><t>typed</t></is></c>', Cell("typed", False)),
        ('<c r="B2" t="b"><v>1</v></c>', Cell("TRUE", False)),
        ('<c r="B2" t="e"><f>1/0</f><v>#DIV/0!</v></c>', Cell("#DIV/0!", True)),
        ('<c r="B2" s="3"/>', Cell(None, False)),
        ("<c s='3' r='B2'><v>7</v></c>", Cell(7.0, False)),
        ('<c t="str" r="B2" cm="1"><f t="array" ref="B2">A1</f><v>x</v></c>', Cell("x", True)),
        ('<c r="B2"><v>1e3</v></c>', Cell(1000.0, False)),
    ],
)
def test_a_cell_is_read_in_whatever_form_it_is_stored(xml: str, cell: Cell) -> None:
    for before in ("", "<c r='A2'><v>1</v></c>"):  # the usual form, and one that is gone through piece by piece
        data = f'<worksheet><sheetData><row r="1"/><row r="2">{before}{xml}</row></sheetData></worksheet>'
        ((number, line, _),) = SheetXml(data.encode(), TEXTS).rows()
        assert (number, line[1]) == (1, cell)


def test_a_namespace_prefix_changes_nothing() -> None:
    cell = '<x:row r="3"><x:c r="C3"><x:v>5</x:v></x:c></x:row>'
    data = f'<x:worksheet xmlns:x="m"><x:sheetData>{cell}</x:sheetData></x:worksheet>'
    assert next(SheetXml(data.encode(), TEXTS).rows())[:2] == (2, {2: Cell(5.0, False)})


def test_cells_without_an_address_stand_side_by_side() -> None:
    cells = b"<row><c><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row>"
    data = b"<worksheet><sheetData>" + cells + b"</sheetData></worksheet>"
    rows = [(number, line) for number, line, _ in SheetXml(data, TEXTS).rows()]
    assert rows == [(0, {0: Cell(1.0, False), 1: Cell(2.0, False)}), (1, {0: Cell(3.0, False)})]


def test_what_no_program_writes_is_refused() -> None:
    with pytest.raises(UnusualXml):
        SheetXml(b"<worksheet><!-- --><sheetData/></worksheet>", TEXTS)


def test_names_of_one_sheet_only_are_none_of_the_workbooks() -> None:
    book = (
        b'<definedNames><definedName name="date_asked">Status!$B$3</definedName>'
        b'<definedName localSheetId="2" name="lines_asked">Copy!$A$1</definedName>'
        b"<definedName function=\"false\" name=\"in_ship_name\">'The &amp; ship''s'!$B$4</definedName>"
        b"</definedNames>"
    )
    names = defined_names(book)
    assert names == {"date_asked": "Status!$B$3", "in_ship_name": "'The & ship''s'!$B$4"}
    assert sheet_of(names["in_ship_name"]) == "The & ship's"
    assert (sheet_of("#REF!$B$4"), sheet_of("12")) == ("", "")


@pytest.mark.parametrize(
    ("title", "should"),
    [
        ("Crew", "Crew"),
        ("Crew   Orrin Vale   record of 2026-11-25", "Crew"),
        ("Muster list (SOLAS III/8 and III/37)", "Muster list"),
        ("Crew of the boats", None),
        ("Required reading", None),
        (12.0, None),
        ("", None),
    ],
)
def test_a_sheet_is_told_by_the_title_in_its_first_cell(title: object, should: str | None) -> None:
    found = renamed_by_title({"X": [[title]]}, {"X", "Ship", "Craft"})
    assert found == ({"X": should} if should else {})


def test_a_sheet_that_is_there_is_not_looked_for() -> None:
    assert renamed_by_title({"X": [["Crew"]]}, {"X", "Crew"}) == {}


@pytest.mark.parametrize("entry", [entry for entry in SHEETS if entry.key != "ship"], ids=lambda entry: entry.key)
def test_each_input_sheet_is_found_under_another_name(tmp_path: Path, entry: object) -> None:
    name = entry.name  # type: ignore[attr-defined]
    book = read_raw(_loaded(rename(small(), name, "Something else"), tmp_path))
    assert book.own is not None
    assert book.own.renamed == {"Something else": name}
    table = book.tables.get(entry.key)  # type: ignore[attr-defined]
    assert table is not None
    assert table.name == "Something else"


# ---- what cannot be compared is said, and the record is read all the same -----------------------------------------


def _day_gone(book: bytes) -> bytes:
    return with_sheet(book, "Status", lambda xml: re.sub(r'(<c r="B3"[^>]*><f>[^<]*</f>)<v>[^<]*</v>', r"\1", xml))


def _with_comment(book: bytes) -> bytes:
    return with_sheet(book, "Coverage", lambda xml: xml + "<!-- -->")


def _headings_changed(book: bytes) -> bytes:
    return put(book, "Required", "D3", "On board")


@pytest.mark.parametrize(
    ("edit", "why"),
    [
        (_day_gone, "no stored results"),
        (_with_comment, "no spreadsheet program writes"),
        (_headings_changed, "the sheet Required, or a column of it"),
        (
            lambda book: with_part(
                book, "xl/workbook.xml", lambda xml: xml.replace("<workbookPr ", '<workbookPr date1904="1" ')
            ),
            "counts its days from 1904",
        ),
        (
            lambda book: with_sheet(
                book, "Required", lambda xml: xml.replace("?>", '?><!DOCTYPE a [<!ENTITY b "c">]>', 1)
            ),
            "defines entities",
        ),
        (
            lambda book: with_part(book, "xl/workbook.xml", lambda xml: xml.replace(">Coverage!$A$4:$A$9<", ">#REF!<")),
            "the sheet Coverage",
        ),
        (lambda book: put(book, "Status", "B21", 4), "below the rows that its formulas read"),
        (
            lambda book: put(put(book, "Status", "B21", 4), "Status", "A21", "beyond room"),  # a book made earlier
            "below the rows that its formulas read",
        ),
    ],
)
def test_why_it_cannot_be_compared_is_said(tmp_path: Path, edit: Edit, why: str) -> None:
    raw = _loaded(edit(small()), tmp_path)
    assert raw.own is not None
    assert why in raw.own.why_not
    assert read_raw(raw).rows("inventory")


def test_a_calculated_sheet_too_large_to_be_one_of_ours_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(own_module, "MOST_OWN_BYTES", 10_000)
    assert "unpacks to" in _own(small(), tmp_path).why_not


def test_a_day_beyond_all_days_is_none(tmp_path: Path) -> None:
    assert _own(put(small(), "Status", "B3", 10**9), tmp_path).day is None
