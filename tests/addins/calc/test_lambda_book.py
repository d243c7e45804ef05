"""A book made by `davitbook new --lambda`, in Calc, which knows no LAMBDA: with the extension its values are right."""

from __future__ import annotations

import re
import zipfile
from dataclasses import replace
from datetime import date
from html import unescape
from pathlib import Path

import openpyxl
import pytest
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import PatternFill
from openpyxl.workbook.defined_name import DefinedName

from tests.addins.calc.office import Office, convert
from tests.addins.test_lambda import results_in, wrong
from workbook_tools.addins import lambda_names
from workbook_tools.book import Description, build
from workbook_tools.checks import Options, audit_book
from workbook_tools.checks.own_sheets import RULE as OWN_SHEETS
from workbook_tools.findings import BookResult
from workbook_tools.reading import read_book

pytestmark = pytest.mark.office

ON = date(2026, 11, 25)
SHEET = "Own"
CRAFT = [{"name": "Lifeboat 1", "kind": "lifeboat", "side": "port", "persons": 36.0}]
CALLS = [
    ('=LSA_REQUIRED("hand flare","lifeboat",36)', 6),
    ("=LSA_TPA(36)", 4),
    ("=LSA_STATUS(46460,46351)", "in date"),
    ('=LSA_REQUIRED("sponge","rescue boat",6,"","construction=inflated")', 2),  # the names take no option
    ("=FFA_SPARE_CHARGES(11)", 11),
    ("=blankets+1", 5),
]
ANSWERS = [[value] for _, value in CALLS]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The book, as it is made."""
    path = tmp_path / "made" / "book.xlsx"
    path.parent.mkdir()
    path.write_bytes(
        build(
            "Orrin Vale",
            Description({}, CRAFT),
            ON,
            lambda_names.write_names,
            room={"craft": 4, "inventory": 60, "crew": 10},
        )
    )
    return path


@pytest.fixture
def used(book: Path) -> Path:
    """The book with calls by the names that Excel writes: in cells, in a name and in a conditional format."""
    workbook = openpyxl.load_workbook(book)
    workbook.defined_names["blankets"] = DefinedName("blankets", attr_text="LSA_TPA(36)")
    sheet = workbook.create_sheet(SHEET)
    for row, (formula, _) in enumerate(CALLS, start=1):
        sheet.cell(row, 1, formula)
    sheet.conditional_formatting.add("A1:A2", FormulaRule(["LSA_TPA(36)>2"], fill=PatternFill(bgColor="FF0000")))
    path = book.with_name("used.xlsx")
    workbook.save(path)
    return path


def _said(path: Path) -> BookResult:
    """What the audit says, but whether the book's own sheets could be compared: only those of .xlsx are."""
    said = audit_book(read_book(path), Options(ON))
    return replace(said, book="", states=[state for state in said.states if state.rule != OWN_SHEETS])


def _formulas(path: Path) -> dict[str, str]:
    """The LAMBDA names of a book as its file holds them, in small letters."""
    with zipfile.ZipFile(path) as archive:
        text = archive.read("xl/workbook.xml").decode()
    found = re.findall(r'<definedName [^>]*name="(\w+)"[^>]*>(_xlfn\.lambda\(.*?)</definedName>', text, re.IGNORECASE)
    return {name: re.sub(r"\b(true|false)\(\)", r"\1", unescape(formula).lower()) for name, formula in found}


def test_what_is_typed_is_answered_by_the_extension(office: Office, book: Path) -> None:
    typed = [[re.sub(r',(?=(?:[^"]*"[^"]*")*[^"]*$)', ";", formula)] for formula, _ in CALLS[:-1]]
    with office.document(book) as document:
        assert not office.ask("is_modified", document)
        office.ask("formulas", document, "Ship", "H1", typed)
        assert office.ask("read", document, "Ship", f"H1:H{len(typed)}") == ANSWERS[:-1]


def test_what_the_file_holds_is_answered_by_the_extension(office: Office, used: Path) -> None:
    with office.document(used) as document:
        assert not office.ask("is_modified", document)
        assert office.ask("undo_steps", document) == []
        assert office.ask("read", document, SHEET, f"A1:A{len(CALLS)}") == ANSWERS
        assert set(lambda_names.formulas()) <= set(office.ask("names", document))


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_what_calc_saved_without_the_extension_is_right_with_it(
    office: Office, tmp_path: Path, used: Path, kind: str
) -> None:
    with office.document(convert(tmp_path / "bare", used, kind, tmp_path)) as document:
        assert not office.ask("is_modified", document)
        assert office.ask("read", document, SHEET, f"A1:A{len(CALLS)}") == ANSWERS


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_the_book_audits_the_same_when_calc_has_saved_it(tmp_path: Path, book: Path, kind: str) -> None:
    assert _said(convert(tmp_path / "bare", book, kind, tmp_path)) == _said(book)


def test_calc_saves_the_names_as_they_were_but_for_capitals(tmp_path: Path, book: Path) -> None:
    saved = convert(tmp_path / "bare", book, "xlsx", tmp_path)
    assert set(lambda_names.formulas()) == set(_formulas(book))
    assert _formulas(saved) == _formulas(book)
    assert "_xlfn.lambda(" in zipfile.ZipFile(saved).read("xl/workbook.xml").decode()
    assert not wrong(results_in(saved))
