"""The sheets that are filled in: tables, drop-downs, validations, page set-up, and what LibreOffice keeps of them."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import openpyxl
import pytest
from openpyxl.formula import Tokenizer

from tests.addins.calc.office import convert
from tests.book.bench import ROOM, Line, Opened, Probe, by_ironcalc, filled, in_file, probed
from tests.book.office_profile import recalculating
from workbook_tools import catalogue
from workbook_tools.book.inputs import table_name
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW, HELP_ROW, TITLE_ROW
from workbook_tools.book.marks import needed_width
from workbook_tools.book.notes import rule_edition, sections
from workbook_tools.book.validations import CRAFT_NAMES, MOST_TEXT, MOST_TITLE, validation
from workbook_tools.columns import SHEETS, Column, Sheet, sheet
from workbook_tools.core.imo_number import imo_number_ok
from workbook_tools.core.interval import parse_interval
from workbook_tools.reading import read_book

TABLES = [entry for entry in SHEETS if entry.layout == "table"]
ROWS: dict[str, list[Line]] = {
    "ship": [{"name": "Orrin Vale", "record_date": date(2026, 11, 20)}],
    "craft": [{"name": "Lifeboat 1", "kind": "lifeboat"}],
    "inventory": [
        {"place": "Lifeboat 1", "item": "hand flare", "quantity": 6, "expires": date(2028, 6, 30)},
        {"place": "Lifeboat 1", "item": "compass", "quantity": 1},
    ],
}


@pytest.fixture(scope="module")
def written() -> bytes:
    return filled(ROWS)


@pytest.fixture(scope="module")
def opened(written: bytes) -> Any:
    return openpyxl.load_workbook(io.BytesIO(written))


# --- tables


@pytest.mark.parametrize("contract", TABLES, ids=lambda entry: entry.key)
def test_each_input_sheet_is_one_real_table_over_all_its_room(opened: Any, contract: Sheet) -> None:
    page = opened[contract.name]
    (table,) = page.tables.values()
    assert table.displayName == table_name(contract.key)
    first, last = table.ref.split(":")
    assert first == f"A{HEADING_ROW + 1}"
    assert last.endswith(str(FIRST_ROW + ROOM[contract.key]))
    assert table.autoFilter.ref == table.ref
    assert not (table.tableStyleInfo and table.tableStyleInfo.name)
    # Excel repairs a book whose table names a column otherwise than its heading cell
    headings = [cell.value for cell in page[HEADING_ROW + 1]][: len(contract.columns)]
    assert [column.name for column in table.tableColumns] == headings == [entry.title for entry in contract.columns]
    assert len({heading.casefold() for heading in headings}) == len(headings)


def test_no_table_has_the_name_of_a_defined_name(opened: Any) -> None:
    tables = {table.displayName.casefold() for page in opened for table in page.tables.values()}
    assert not tables & {name.casefold() for name in opened.defined_names}


def test_every_name_is_defined_once(written: bytes) -> None:
    text = zipfile.ZipFile(io.BytesIO(written)).read("xl/workbook.xml")
    names = [
        (entry.get("name", "").casefold(), entry.get("localSheetId"))
        for entry in ElementTree.fromstring(text).iter()
        if entry.tag.endswith("definedName")
    ]
    assert len(set(names)) == len(names)


def test_input_sheets_are_not_protected(opened: Any) -> None:
    assert [entry.name for entry in SHEETS if opened[entry.name].protection.sheet] == []


# --- validations: the formulas, in two engines, against the readers of the same cells

SAMPLES: list[tuple[str, str, Any, bool]] = [
    *(("ship", "imo_number", number, imo_number_ok(number)) for number in ("9999993", "9999994", "1234567", "1234560")),
    ("ship", "imo_number", "IMO 9999993", True),
    ("ship", "imo_number", 9999993, True),
    ("ship", "imo_number", 999993, False),
    ("ship", "gross_tonnage", 0, False),
    ("ship", "gross_tonnage", 0.5, True),
    ("ship", "gross_tonnage", 500_000, True),
    ("ship", "gross_tonnage", 500_001, False),
    ("ship", "gross_tonnage", "many", False),
    *(("servicing", "interval", text, _reads) for text, _reads in (("12M", True), ("5y", True), (" 2 W ", True))),
    *(("servicing", "interval", text, True) for text in ("12 months", "30D", "1 year", "90 days")),
    *(("servicing", "interval", text, False) for text in ("12", "M", "five years ago", 12)),
    ("inventory", "expires", date(2028, 6, 30), True),
    ("inventory", "expires", "06/2028", True),
    ("inventory", "expires", 2028, False),
    ("inventory", "content", 500, True),
    ("inventory", "content", "500 mL", True),
    ("inventory", "content", 0, False),
    ("inventory", "quantity", 0, False),
    ("inventory", "quantity", 1, True),
    ("inventory", "quantity", "one", False),
    ("fire", "made", 2019, True),
    ("fire", "made", date(2019, 5, 1), True),
    ("fire", "made", 19, False),
    ("fire", "made", 45_000_000, False),
    ("craft", "name", "Lifeboat 1", True),
    *(("craft", "name", name, False) for name in ("Boat*", "Boat ?", "Boat~1")),
    ("crew", "number", 7, True),
    ("craft", "painter_m", 0, False),
]


def _answer(samples: Sequence[tuple[str, str, Any]], work_out: Callable[[bytes, list[Probe]], dict[Probe, Any]]) -> Any:
    """What the custom validation of each sample's column says, each sample in a line of its own."""
    rows: dict[str, list[Line]] = {}
    places = []
    for key, column, value in samples:
        lines = rows.setdefault(key, [])
        places.append((key, len(lines), column))
        lines.append({column: value})
    book, probes = probed(rows, max(map(len, rows.values())))
    shown = {(p.sheet, p.line, p.column): v for p, v in work_out(book, probes).items() if p.mark is None}
    return [shown[place] for place in places]


def _accepts(value: Any) -> bool:
    return value in (True, 1) and not isinstance(value, str)  # an error refuses


FORM = [sample for sample in SAMPLES if sample[0] == "ship"]
LISTED = [sample for sample in SAMPLES if sample[0] != "ship"]


@pytest.fixture(scope="module")
def form(tmp_path_factory: pytest.TempPathFactory) -> tuple[Opened, dict[str, Probe]]:
    """The Ship form in ironcalc, and the probe of each of its custom validations."""
    book, probes = probed({}, 1)
    opened = Opened(book, tmp_path_factory.mktemp("form"))
    return opened, {probe.column: probe for probe in probes if probe.sheet == "ship" and probe.mark is None}


@pytest.mark.parametrize(("_key", "column", "value", "good"), FORM)
def test_the_form_accepts_what_the_reader_accepts(
    _key: str, column: str, value: Any, good: bool, form: tuple[Opened, dict[str, Probe]]
) -> None:
    opened, probes = form
    row = FIRST_ROW + [entry.key for entry in sheet("ship").columns].index(column)
    opened.type("Ship", row, 1, value)
    opened.work_out()
    assert _accepts(opened.shows(probes[column])) is good


def test_tables_accept_what_fits_and_refuse_the_rest_in_ironcalc(tmp_path: Path) -> None:
    alone = [sample for sample in LISTED if (sample[0], sample[1]) not in _UNIQUE]  # ironcalc trims no range
    shown = _answer([s[:3] for s in alone], lambda book, probes: by_ironcalc(book, tmp_path, probes))
    assert [s for s, value in zip(alone, shown, strict=True) if _accepts(value) is not s[3]] == []


_UNIQUE = {(entry.key, column.key) for entry in SHEETS for column in entry.columns if column.unique}


def _calc(tmp_path: Path) -> Callable[[bytes, list[Probe]], dict[Probe, Any]]:
    def work_out(book: bytes, probes: list[Probe]) -> dict[Probe, Any]:
        source = tmp_path / "probed.xlsx"
        source.write_bytes(book)
        return in_file(convert(recalculating(tmp_path), source, "xlsx", tmp_path / "saved"), probes)

    return work_out


@pytest.mark.office
def test_tables_accept_what_fits_and_refuse_the_rest_in_calc(tmp_path: Path) -> None:
    twice = [
        ("crew", "number", "12", False),
        ("crew", "number", " 12 ", False),
        ("craft", "name", "Raft P", False),
        ("craft", "name", "raft p", False),
        ("fire", "number", "FE 1", True),
        ("fire", "number", "FE 10", True),
    ]
    samples = [*LISTED, *twice]
    shown = _answer([s[:3] for s in samples], _calc(tmp_path))
    assert [s for s, value in zip(samples, shown, strict=True) if _accepts(value) is not s[3]] == []


def test_an_interval_that_is_accepted_is_read() -> None:
    for _, column, text, good in SAMPLES:
        if column == "interval" and good:
            parse_interval(text)


def _all_rules() -> list[tuple[Sheet, Column, dict[str, Any]]]:
    names = {f"{entry.key}_{column.key}": "list_x" for entry in SHEETS for column in entry.columns}
    return [
        (entry, column, validation(entry, column, names, "A4", "$A$4:$A$27"))
        for entry in SHEETS
        for column in entry.columns
    ]


def test_help_and_refusals_are_never_cut_short() -> None:
    for entry, column, rule in _all_rules():
        assert column.help in rule["input_message"]
        assert len(rule["input_message"]) <= MOST_TEXT, (entry.key, column.key)
        assert len(rule.get("error_message", "")) <= MOST_TEXT
        assert len(rule["input_title"]) <= MOST_TITLE
        assert len(rule.get("error_title", "")) <= MOST_TITLE


def test_whatever_is_refused_is_told_why() -> None:
    for entry, column, rule in _all_rules():
        if rule["validate"] != "any":
            assert rule["error_title"], (entry.key, column.key)
            assert rule["error_message"]


def test_every_kind_of_cell_but_free_text_is_validated() -> None:
    free = {column.kind for entry, column, rule in _all_rules() if rule["validate"] == "any"}
    assert free == {"text"}


def test_a_validation_is_written_as_old_programs_read_it() -> None:
    """Excel refuses constants in braces, up to 2007 other sheets, and more than 255 letters."""
    for _, _, rule in _all_rules():
        formula = str(rule.get("value", rule.get("source", "")))
        assert len(formula) <= 255
        assert not re.search(r"[{}!]", formula)


def test_items_units_and_craft_are_offered_from_the_catalogue_and_the_craft_sheet(opened: Any) -> None:
    ((title, area),) = opened.defined_names["list_items"].destinations
    assert [cell.value for row in opened[title][area] for cell in row] == list(catalogue.items())
    ((title, area),) = opened.defined_names["list_craft_names"].destinations
    assert (title, area) == ("Craft", f"$A${FIRST_ROW + 1}:$A${FIRST_ROW + ROOM['craft']}")
    for key, column in CRAFT_NAMES:
        rules = opened[sheet(key).name].data_validations.dataValidation
        (rule,) = [entry for entry in rules if entry.promptTitle == sheet(key).column(column).heading]
        assert rule.formula1 == "list_craft_names"
        assert rule.errorStyle == "information"  # other places may stand there too


# --- formulas of formats and validations use what Excel 2010 and Calc 7.4 both have

_KNOWN = {
    *("AND", "OR", "NOT", "IF", "IFERROR", "ISERROR", "ISNUMBER", "ISTEXT", "INDEX", "MATCH", "SUMPRODUCT", "SUMIFS"),
    *("COUNTIF", "COUNTIFS", "COUNTA", "FIND", "LEFT", "RIGHT", "MID", "LEN", "TRIM", "UPPER", "VALUE", "SUBSTITUTE"),
    *("ROW", "DATE"),
}


def test_formats_and_validations_use_only_functions_that_both_programs_have(opened: Any) -> None:
    used = set()
    for entry in SHEETS:
        page = opened[entry.name]
        formulas = [rule.formula[0] for area in page.conditional_formatting for rule in area.rules]
        formulas += [str(rule.formula1) for rule in page.data_validations.dataValidation if rule.type == "custom"]
        for formula in formulas:
            used |= {token.value.rstrip("(") for token in Tokenizer(f"={formula}").items if token.subtype == "OPEN"}
            assert "!" not in formula  # other sheets by name only
    assert used - {"", "("} <= _KNOWN


# --- looks of the page


@pytest.mark.parametrize("contract", SHEETS, ids=lambda entry: entry.key)
def test_each_input_sheet_prints_on_a4_with_its_head_on_every_page(opened: Any, contract: Sheet) -> None:
    page = opened[contract.name]
    assert page.page_setup.paperSize == "9" or page.page_setup.paperSize == 9
    last = HELP_ROW if contract.layout == "form" else HEADING_ROW
    assert page.print_title_rows == f"${TITLE_ROW + 1}:${last + 1}"
    assert "&P" in str(page.oddFooter.right.text)
    assert page.freeze_panes
    assert page.page_setup.orientation == ("portrait" if contract.layout == "form" else "landscape")


def test_the_head_of_a_page_names_ship_and_record_date_by_formula(written: bytes, tmp_path: Path) -> None:
    page = openpyxl.load_workbook(io.BytesIO(written))["Inventory"]
    assert str(page["A1"].value).startswith("=")
    stored = openpyxl.load_workbook(io.BytesIO(written), data_only=True)["Inventory"]
    assert stored["A1"].value == "Inventory   Orrin Vale   record of 2026-11-20"


@pytest.mark.office
def test_calc_works_out_the_same_head(written: bytes, tmp_path: Path) -> None:
    source = tmp_path / "book.xlsx"
    source.write_bytes(written)
    saved = openpyxl.load_workbook(convert(recalculating(tmp_path), source, "xlsx", tmp_path / "out"), data_only=True)
    assert saved["Inventory"]["A1"].value == "Inventory   Orrin Vale   record of 2026-11-20"


def test_what_an_officer_needs_of_the_inventory_fits_a_small_screen() -> None:
    """At 1366 pixels, 1330 beside the row numbers, a character of Calibri 11 has 7 and a column 5 more."""
    pixels = 0
    for column in sheet("inventory").columns:
        pixels += 7 * needed_width(sheet("inventory"), column) + 5
        if column.key == "expires":
            break
    assert pixels <= 1366 - 36


def test_a_line_of_help_fits_a_small_screen() -> None:
    """Slanted Calibri 11 takes some 5.7 pixels a letter; 1330 are beside the row numbers."""
    from workbook_tools.book.marks import LEGEND

    for contract in SHEETS:
        assert len(f"{contract.help} A star: must be filled. {LEGEND}") * 5.7 <= 1330, contract.name


# --- notes and properties


def test_the_notes_name_every_rule_set_with_its_edition_and_the_cautions() -> None:
    text = " ".join(f"{label} {words}" for _, notes in sections() for label, words in notes)
    for words in ("edition 2026-11", "edition 2022-12", "Expired pyrotechnics", "CO2:", "Required", "awaiting landing"):
        assert words in text
    assert {heading for heading, _ in sections()} >= {"How to fill in", "What counts", "What is assumed", "Cautions"}


def test_the_edition_of_the_rules_is_among_the_properties(opened: Any) -> None:
    assert opened.custom_doc_props["davitbook rules"].value == rule_edition()


# --- LibreOffice saves it: what is kept


@pytest.fixture(scope="module")
def saved(written: bytes, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Path]:
    """The book as LibreOffice saves it, as .xlsx and by way of .ods."""
    folder = tmp_path_factory.mktemp("saved")
    source = folder / "book.xlsx"
    source.write_bytes(written)
    profile = recalculating(folder)
    return convert(profile, source, "xlsx", folder / "xlsx"), convert(profile, source, "ods", folder / "ods")


@pytest.mark.office
def test_libreoffice_keeps_tables_filters_validations_formats_and_names(saved: Any, opened: Any) -> None:
    """Frozen rows are left out: they belong to the view on the screen, which a conversion without a screen has not."""
    kept = openpyxl.load_workbook(saved[0])
    for contract in TABLES:
        page, before = kept[contract.name], opened[contract.name]
        (table,) = page.tables.values()
        (own,) = before.tables.values()
        assert (table.displayName, table.ref, table.autoFilter.ref) == (own.displayName, own.ref, own.ref)
        assert [column.name for column in table.tableColumns] == [column.title for column in contract.columns]
        assert _validated(page) == _validated(before)
        assert _formatted(page) == _formatted(before)
        assert page.print_title_rows == before.print_title_rows
    assert set(opened.defined_names) <= set(kept.defined_names)


def _validated(page: Any) -> set[tuple[str, str]]:
    return {(rule.promptTitle, str(rule.sqref)) for rule in page.data_validations.dataValidation}


def _formatted(page: Any) -> set[tuple[str, str]]:
    """Cells, and number format of each conditional format, in one spelling."""
    return {
        (str(area.sqref), re.sub(r"\\", "", rule.dxf.numFmt.formatCode) if rule.dxf.numFmt else "")
        for area in page.conditional_formatting
        for rule in area.rules
    }


@pytest.mark.office
def test_what_libreoffice_saved_reads_the_same(saved: Any, written: bytes, tmp_path: Path) -> None:
    source = tmp_path / "book.xlsx"
    source.write_bytes(written)
    wanted = {key: [row.values for row in read_book(source).rows(key)] for key in ROWS}
    for path in saved:
        assert {key: [row.values for row in read_book(path).rows(key)] for key in ROWS} == wanted


@pytest.mark.office
def test_an_open_document_keeps_ranges_filters_and_validations(saved: Any) -> None:
    content = zipfile.ZipFile(saved[1]).read("content.xml").decode()
    for contract in TABLES:
        assert re.search(
            rf'database-range table:name="{table_name(contract.key)}"[^>]*display-filter-buttons="true"', content
        )
    assert content.count("<table:content-validation ") >= sum(len(entry.columns) for entry in SHEETS) / 2
