"""A returned workbook that shows something else than the audit is told; one that shows what is true is not."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from example_books.living import hide_rows, parts_of, put, rename, show, with_part, with_sheet
from tests.addins.calc.office import convert
from tests.book.calculated.desk import Desk, book_of
from tests.book.calculated.generate import ROOM, generate
from tests.book.office_profile import recalculating
from tests.living_book import audited, own_findings, small
from tests.workbooks import ON
from workbook_tools.book import Description, build
from workbook_tools.book.calculated.coverage import COLUMNS as COVERAGE
from workbook_tools.book.calculated.required import COLUMNS as REQUIRED
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.own_answers import differences
from workbook_tools.columns.calculated import SEE_CHECK
from workbook_tools.reading.own_sheets import BEYOND, COVERAGE_HEADINGS, REQUIRED_HEADINGS, Block, OwnSheets

Edit = Callable[[bytes], bytes]
LATER = ON + timedelta(days=3650)


def _said(book: bytes, folder: Path, on: date = ON) -> list[tuple[str, str, str]]:
    return [(finding.code, finding.sheet, finding.cell) for finding in own_findings(book, folder, on)]


def _message(book: bytes, folder: Path, code: str) -> str:
    (message,) = [finding.message for finding in own_findings(book, folder) if finding.code == code]
    return message


# ---- nothing is said of what is true ------------------------------------------------------------------------------


@pytest.mark.parametrize("on", [ON, LATER], ids=["that day", "ten years later"])
def test_a_book_just_made_is_silent_whatever_day_is_asked(tmp_path: Path, on: date) -> None:
    assert _said(small(), tmp_path, on) == []


@pytest.mark.parametrize("options", [{"warn_days": 3000}, {"rule_set": "us"}], ids=["longer warning", "other rules"])
def test_what_the_command_asks_for_is_not_held_against_the_book(tmp_path: Path, options: dict[str, Any]) -> None:
    (tmp_path / "book.xlsx").write_bytes(small())
    from workbook_tools.reading import read_book

    audit = audit_in_full(read_book(tmp_path / "book.xlsx"), Options(ON, **options))[0]
    assert audit.book.own is not None
    assert not any(differences(audit, audit.book.own).values())


def test_a_template_that_nobody_has_filled_in_is_silent(tmp_path: Path) -> None:
    assert _said(build("", Description(), on=ON, room=ROOM), tmp_path) == []


# ---- stale and overwritten ----------------------------------------------------------------------------------------


def test_a_line_changed_by_a_program_leaves_what_the_book_shows_stale(tmp_path: Path) -> None:
    """Buckets: 2 asked, 2 carried; the line now says 1, and no spreadsheet program has opened the book since."""
    book = put(small(), "Inventory", "D7", 1)
    assert _said(book, tmp_path) == [("WB25", "Required", "D7")]
    message = _message(book, tmp_path, "WB25")
    assert message.startswith("3 cells do not show what the audit says for 2026-11-25, the day on the Status sheet: ")
    assert "D7 (Carried, in date, Lifeboat 1, bucket) shows 2 and should show 1" in message
    assert "I7 (Says, Lifeboat 1, bucket) shows '● enough' and should show '■ SHORT'" in message


def test_many_stale_cells_of_a_sheet_are_one_finding_with_their_number(tmp_path: Path) -> None:
    book = put(small(), "Craft", "F4", 60)  # persons permitted
    (coverage, required) = own_findings(book, tmp_path)
    assert (required.code, required.sheet, coverage.sheet) == ("WB25", "Required", "Coverage")
    assert required.message.startswith("15 cells do not show what the audit says")
    assert "; and 12 more. " in required.message


@pytest.mark.parametrize(
    ("sheet", "cell", "value"),
    [
        ("Required", "C8", 3),
        ("Required", "D8", 3),
        ("Required", "E8", 1),
        ("Required", "G13", 46_000),
        ("Required", "H13", 46_400),
        ("Required", "I8", "■ SHORT"),
        ("Required", "A8", "Lifeboat 7"),
        ("Required", "L8", "lifeboat.no-such-rule"),
        ("Coverage", "B4", 13),
        ("Coverage", "C5", 1),
        ("Coverage", "D6", 2),
        ("Coverage", "F7", "○ not evaluated"),
    ],
)
def test_each_cell_that_is_compared_is_missed_when_it_is_wrong(
    tmp_path: Path, sheet: str, cell: str, value: float | str
) -> None:
    found = own_findings(show(small(), sheet, cell, value), tmp_path)
    assert [(finding.code, finding.sheet) for finding in found] == [("WB25", sheet)]
    assert f"{cell} (" in found[0].message or found[0].cell[1:] == cell[1:]


def test_the_formula_that_shows_it_may_stand_anywhere(tmp_path: Path) -> None:
    """The day asked is another than the one for which everything below was worked out."""
    book = show(small(), "Status", "B3", float((LATER - date(1899, 12, 30)).days))
    (finding,) = own_findings(book, tmp_path)
    assert (finding.code, finding.sheet) == ("WB25", "Required")
    assert str(LATER) in finding.message


def test_see_check_is_never_wrong(tmp_path: Path) -> None:
    assert _said(show(small(), "Required", "I8", "◇ see check"), tmp_path) == []
    assert _said(show(small(), "Required", "H8", "see check"), tmp_path) == []


@pytest.mark.parametrize(
    ("sheet", "cell", "now"), [("Required", "A8", "Lifeboat-1"), ("Coverage", "A8", "Lifeboat-1 lost")]
)
def test_a_craft_shown_in_another_spelling_is_the_same_craft(tmp_path: Path, sheet: str, cell: str, now: str) -> None:
    """Books made earlier show 'Free fall boat' where the Craft sheet has 'Free-fall boat'."""
    assert _said(show(small(), sheet, cell, now), tmp_path) == []


def test_a_figure_a_hair_off_is_the_same_figure(tmp_path: Path) -> None:
    assert _said(show(small(), "Required", "D7", 2.0000000000000004), tmp_path) == []


# ---- typed over ---------------------------------------------------------------------------------------------------


def test_a_figure_typed_over_a_formula_is_named_with_what_was_typed(tmp_path: Path) -> None:
    book = put(small(), "Required", "D8", 7)
    assert _said(book, tmp_path) == [("WB26", "Required", "D8")]
    assert "D8 (Carried, in date): '7' was typed over it" in _message(book, tmp_path, "WB26")


@pytest.mark.parametrize(
    ("sheet", "cell", "value"),
    [
        ("Required", "J8", "ask the mate"),
        ("Required", "I8", ""),
        ("Coverage", "C5", 40),
        ("Status", "B3", 46351),
        ("Status", "A6", "● all well"),
        ("Status", "B9", 0),
    ],
)
def test_whatever_stands_in_the_place_of_a_formula_is_found(
    tmp_path: Path, sheet: str, cell: str, value: float | str
) -> None:
    assert _said(put(small(), sheet, cell, value), tmp_path) == [("WB26", sheet, cell)]


def test_a_word_typed_below_the_last_line_that_shows_something_is_found(tmp_path: Path) -> None:
    assert _said(put(small(), "Required", "B70", "spare"), tmp_path) == [("WB26", "Required", "B70")]


def test_a_day_asked_in_the_cell_meant_for_it_is_no_fault(tmp_path: Path) -> None:
    assert _said(put(small(), "Status", "B4", 46351), tmp_path) == []


def test_an_empty_row_put_in_among_the_lines_is_no_fault(tmp_path: Path) -> None:
    book = with_sheet(
        small(), "Required", lambda xml: xml.replace('<row r="60" ', '<row r="60" s="1"/><row r="60" ', 1)
    )
    assert _said(book, tmp_path) == []


# ---- hidden rows --------------------------------------------------------------------------------------------------


def test_rows_hidden_by_hand_are_named_and_counted_all_the_same(tmp_path: Path) -> None:
    book = hide_rows(small(), "Inventory", 6, 7, 8, 12)
    assert _said(book, tmp_path) == [("WB27", "Inventory", "A6")]
    assert _message(book, tmp_path, "WB27").startswith("rows 6 to 8, 12 are hidden and hold lines of the record: read")


def test_a_hidden_answer_of_the_ship_is_named(tmp_path: Path) -> None:
    assert _said(hide_rows(small(), "Ship", 4), tmp_path) == [("WB27", "Ship", "A4")]


def _filtered(book: bytes) -> bytes:
    """The table of the Inventory with an active filter, as spreadsheet programs store it."""
    part = next(part for part in _tables(book) if b"inventory_lines" in _tables(book)[part])
    filter_ = '<filterColumn colId="1"><filters><filter val="bucket"/></filters></filterColumn></autoFilter>'
    return with_part(
        hide_rows(book, "Inventory", 6, 8, 9),
        part,
        lambda xml: xml.replace(_auto_filter(xml), _auto_filter(xml).replace("/>", ">") + filter_),
    )


def _auto_filter(xml: str) -> str:
    begin = xml.index("<autoFilter")
    return xml[begin : xml.index("/>", begin) + 2]


def _tables(book: bytes) -> dict[str, bytes]:
    import io
    import zipfile

    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        return {name: archive.read(name) for name in archive.namelist() if name.startswith("xl/tables/")}


@pytest.mark.parametrize(
    "edit",
    [
        _filtered,
        lambda book: with_sheet(
            book, "Inventory", lambda xml: xml.replace("</sheetData>", '<row r="45" hidden="1"/></sheetData>')
        ),
        lambda book: hide_rows(book, "Inventory", 6, more='hidden="1" outlineLevel="1"'),
        lambda book: hide_rows(book, "Inventory", 6, more='hidden="0"'),
        lambda book: hide_rows(book, "Required", 6),
    ],
    ids=["left out by a filter", "empty", "folded group", "not hidden", "a calculated sheet"],
)
def test_a_row_hidden_for_a_reason_is_no_fault(tmp_path: Path, edit: Edit) -> None:
    assert _said(edit(small()), tmp_path) == []


def test_a_row_that_a_filter_leaves_out_is_read(tmp_path: Path) -> None:
    whole, filtered = audited(small(), tmp_path), audited(_filtered(small()), tmp_path)
    assert filtered.state_counts() == whole.state_counts()
    assert filtered.findings == whole.findings


def test_a_row_of_no_height_is_hidden(tmp_path: Path) -> None:
    book = with_sheet(
        small(), "Inventory", lambda xml: xml.replace('<row r="6" ', '<row r="6" ht="0" customHeight="1" ')
    )
    assert _said(book, tmp_path) == [("WB27", "Inventory", "A6")]


# ---- renamed sheets -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sheet", "now", "grade"),
    [
        ("Craft", "What floats", "query"),
        ("Ship", "My vessel's data", "query"),
        ("Inventory", "Locker list", "query"),
        ("Fire", "Red things", "query"),
        ("Craft", "Boats", "note"),
        ("Required", "Equipment", "query"),
        ("Status", "Overview", "query"),
        ("Coverage", "Places", "query"),
        ("calc lines", "secret", "query"),
    ],
)
def test_a_sheet_renamed_is_told_and_the_audit_is_the_same(tmp_path: Path, sheet: str, now: str, grade: str) -> None:
    result = audited(rename(small(), sheet, now), tmp_path)
    told = [finding for finding in result.findings if finding.code == "WB28"]
    assert [(finding.sheet, finding.cell, finding.grade) for finding in told] == [(now, "A1", grade)]
    assert sheet in told[0].message
    whole = audited(small(), tmp_path)
    rest = [(finding.code, finding.cell) for finding in result.findings if finding.code != "WB28"]
    assert rest == [(finding.code, finding.cell) for finding in whole.findings]
    assert result.state_counts() == whole.state_counts()
    assert result.assumptions == whole.assumptions


def test_a_sheet_of_the_officers_own_is_no_renamed_one(tmp_path: Path) -> None:
    book = small()
    assert "Notes" in parts_of(book)
    assert _said(rename(book, "Notes", "How to"), tmp_path) == []


def test_other_capitals_are_the_same_name(tmp_path: Path) -> None:
    assert _said(rename(small(), "Craft", "CRAFT"), tmp_path) == []


def test_two_faults_are_told_side_by_side(tmp_path: Path) -> None:
    book = rename(hide_rows(put(small(), "Inventory", "D7", 1), "Inventory", 7), "Inventory", "Stores aboard")
    assert sorted(_said(book, tmp_path)) == [
        ("WB25", "Required", "D7"),
        ("WB27", "Stores aboard", "A7"),
        ("WB28", "Stores aboard", "A1"),
    ]


# ---- real programs ------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def profile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A LibreOffice that works everything out anew."""
    return recalculating(tmp_path_factory.mktemp("office"))


def _saved(book: bytes, profile: Path, folder: Path, kind: str = "xlsx") -> Path:
    source = folder / "before" / "returned.xlsx"
    source.parent.mkdir()
    source.write_bytes(book)
    return convert(profile, source, kind, folder)


@pytest.mark.office
def test_libreoffice_makes_a_stale_book_true_again(tmp_path: Path, profile: Path) -> None:
    stale = put(put(small(), "Inventory", "D7", 1), "Status", "B4", 46351)
    assert [code for code, _, _ in _said(stale, tmp_path)] == ["WB25"]
    assert _said(_saved(stale, profile, tmp_path).read_bytes(), tmp_path) == []


@pytest.mark.office
def test_what_was_typed_hidden_and_renamed_is_found_in_what_libreoffice_saves(tmp_path: Path, profile: Path) -> None:
    book = put(hide_rows(rename(small(), "Crew", "All hands"), "Inventory", 6, 7), "Required", "D8", 7)
    saved = _saved(put(book, "Status", "B4", 46351), profile, tmp_path).read_bytes()
    assert sorted(_said(saved, tmp_path)) == [
        ("WB26", "Required", "D8"),
        ("WB27", "Inventory", "A6"),
        ("WB28", "All hands", "A1"),
    ]


@pytest.mark.office
def test_what_a_filter_leaves_out_is_no_fault_in_what_libreoffice_saves(tmp_path: Path, profile: Path) -> None:
    saved = _saved(put(_filtered(small()), "Status", "B4", 46351), profile, tmp_path).read_bytes()
    assert _said(saved, tmp_path) == []


@pytest.mark.office
@pytest.mark.parametrize("kind", ["ods", "xls"])
def test_in_other_formats_it_is_not_evaluated(tmp_path: Path, profile: Path, kind: str) -> None:
    stale = put(small(), "Inventory", "D7", 1)
    saved = _saved(stale, profile, tmp_path, kind)
    result = audited(saved.read_bytes(), tmp_path, ending=f".{kind}")
    assert not [finding for finding in result.findings if finding.code in ("WB25", "WB26", "WB27", "WB28")]
    (state,) = [state for state in result.states if state.rule == "record.own-sheets"]
    assert (state.state, state.subject) == ("not_evaluated", "workbook")
    assert f"the formulas of a .{kind} file are not read" in state.why


def test_a_book_saved_by_openpyxl_has_no_results_and_is_not_evaluated(tmp_path: Path) -> None:
    import openpyxl

    (tmp_path / "book.xlsx").write_bytes(small())
    openpyxl.load_workbook(tmp_path / "book.xlsx").save(tmp_path / "saved.xlsx")
    result = audited((tmp_path / "saved.xlsx").read_bytes(), tmp_path)
    assert [finding.code for finding in result.findings if finding.code in ("WB25", "WB26", "WB28")] == []
    (state,) = [state for state in result.states if state.rule == "record.own-sheets"]
    assert "no stored results" in state.why


# ---- no false alarm, whatever the ship ----------------------------------------------------------------------------

CASES = 8  # five seconds each


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """A workbook in a spreadsheet engine, into which ships are typed."""
    file = tmp_path_factory.mktemp("desk") / "book.xlsx"
    file.write_bytes(build("", on=ON, room=ROOM))
    return Desk(file)


def _as_shown(desk: Desk, on: date) -> OwnSheets:
    """The desk's sheets as they would be read from a file."""
    counts = {desk.value("Status", row, 0): desk.value("Status", row, 1) for row in range(8, 21)}
    own = OwnSheets(day=on, unread=counts["lines not read"], beyond=counts[BEYOND[0]])
    own.required = _block(desk, "Required", REQUIRED_HEADINGS, [column.heading for column in REQUIRED], 400)
    own.coverage = _block(
        desk, "Coverage", COVERAGE_HEADINGS, [column.heading for column in COVERAGE], 4 + ROOM["craft"]
    )
    return own


def _block(desk: Desk, sheet: str, headings: dict[str, str], all_headings: list[str], rows: int) -> Block:
    columns = {key: all_headings.index(title) for title, key in headings.items()}
    block = Block(sheet, columns, {key: title for title, key in headings.items()})
    for row in range(FIRST_ROW, FIRST_ROW + rows):
        cells = {key: desk.value(sheet, row, column) for key, column in columns.items()}
        if not next(iter(cells.values())):
            break
        block.lines.append((row, cells))
    return block


def test_generated_ships_raise_no_false_alarm(desk: Desk) -> None:
    alarms, blind = [], 0
    for seed in range(9_000, 9_000 + CASES):
        case = generate(seed)
        desk.fill(case.rows, case.on)
        own = _as_shown(desk, case.on)
        audit = audit_in_full(book_of(case.rows), Options(ON))[0]
        found = differences(audit, own)
        blind += own.unread > 0
        alarms += [f"{seed}: {entry}" for entries in found.values() for entry in entries]
    assert alarms == []
    assert blind < CASES / 2, "most ships must be compared in full"


def test_one_wrong_figure_on_a_generated_ship_is_found_out(desk: Desk) -> None:
    """The same books, with one more asked on a line that can be read: that cell differs, and no other."""
    tried = 0
    for seed in range(9_000, 9_000 + CASES // 2):
        case = generate(seed)
        desk.fill(case.rows, case.on)
        own = _as_shown(desk, case.on)
        assert own.required is not None
        readable = [line for line in own.required.lines if line[1]["asked"] and line[1]["says"] != SEE_CHECK]
        if not readable:
            continue
        row, cells = readable[len(readable) // 2]
        cells["asked"] = float(cells["asked"] or 0) + 1
        found = differences(audit_in_full(book_of(case.rows), Options(ON))[0], own)["Required"]
        assert [(entry.row, entry.column) for entry in found] == [(row, own.required.columns["asked"])], seed
        tried += 1
    assert tried > 0
