"""The workbook we write: in step with the contract, readable by us, by openpyxl and by LibreOffice."""

from __future__ import annotations

import io
import json
import math
from datetime import date
from functools import cache
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from workbook_tools.addins import lambda_names
from workbook_tools.book import TEMPLATE_DAY, Description, DescriptionError, build, read_description
from workbook_tools.book.calculated.lists import answered_here
from workbook_tools.book.calculated.rule_rows import rule_rows, shown_name
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.checks import Options, audit_book
from workbook_tools.cli import main
from workbook_tools.columns import CONTRACT, SHEETS
from workbook_tools.columns.calculated import RULES
from workbook_tools.core.quantity import required
from workbook_tools.reading import read_book
from workbook_tools.rules import load_rule_set, rule_set_names

ROOT = Path(__file__).parents[2]
TEMPLATE = ROOT / "templates" / "ship_workbook.xlsx"
ON = date(2026, 11, 25)

DESCRIPTION = """
[ship]
ship_type = "general cargo ship"
gross_tonnage = 5200
voyages = "international"
keel_laid = 2012-05-03

[[craft]]
name = "Lifeboat 1"
type = "lifeboat"
side = "port"
persons_permitted = 26
stowage_height = 11
self_bailing = "no"

[[craft]]
name = "Raft P"
type = "liferaft"
pack = "A"
persons_permitted = 26
"""


SMALL = {"craft": 4, "inventory": 120, "crew": 20, "routine": 40, "servicing": 20, "fire": 20}


@cache
def plain() -> bytes:
    """A book without a description, with little room: a full one takes its time."""
    return build("Orrin Vale", on=ON, room=SMALL)


def _described(tmp_path: Path, text: str = DESCRIPTION) -> Description:
    path = tmp_path / "ship.toml"
    path.write_text(text)
    return read_description(path)


def test_the_template_is_in_step_with_the_code() -> None:
    assert TEMPLATE.read_bytes() == build("", on=TEMPLATE_DAY), "run: python -m workbook_tools.book"


def test_an_empty_book_reads_without_a_finding(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(plain())
    result = audit_book(read_book(path), Options(ON))
    assert result.ship == "Orrin Vale"
    assert result.findings == []


def test_every_sheet_has_its_headings_and_every_heading_its_help() -> None:
    book = openpyxl.load_workbook(io.BytesIO(plain()))
    for sheet in SHEETS:
        page = book[sheet.name]
        texts = {cell.value for row in page.iter_rows(max_row=40) for cell in row}
        assert {column.title for column in sheet.columns} <= texts
        prompts = {rule.promptTitle for rule in page.data_validations.dataValidation}
        assert {column.heading[:32] for column in sheet.columns} <= prompts


def test_the_rules_sheet_prints_every_line_whole() -> None:
    page = openpyxl.load_workbook(io.BytesIO(plain()))[RULES]
    last = FIRST_ROW + len(rule_rows())
    assert page.print_area.endswith(f"${last}")
    assert page.cell(last, 2).value == rule_rows()[-1][1].key
    assert page["C1"].value is None  # nothing stands below the print range, now or ever
    assert page.page_setup.fitToWidth == 2
    headings = {cell.value: cell.column for cell in page[FIRST_ROW]}
    for row in range(FIRST_ROW + 1, last + 1):
        for heading, characters in (("How sure the figure is", 44), ("Applies where", 44), ("Item", 30)):
            text = str(page.cell(row, headings[heading]).value or "")
            assert page.row_dimensions[row].height >= 15 * math.ceil(len(text) / characters)


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("lifeboat.painters", "painter"),
        ("lifeboat.painter-length", "painter, length"),
        ("liferaft.painter-length", "painter, length"),
        ("liferaft.painter-strength", "painter, strength"),
        ("rescue-boat.sea-anchor-hawser", "sea-anchor, length of hawser"),
        ("liferaft.weak-link-least", "weak link, strength at least"),
        ("liferaft.weak-link-most", "weak link, strength at most"),
        ("liferaft.hydrostatic-release", "hydrostatic release unit"),
        ("liferaft.release-depth", "release depth, at most"),
        ("liferaft.least-persons", "persons, at least"),
        ("lifeboat.most-persons", "persons, at most"),
        ("liferaft.packed-mass", "mass, at most"),
        ("liferaft.a-pack-cargo", "SOLAS A pack"),
        ("lifeboat.fresh-water", "fresh water"),
        ("liferaft-a.food-ration", "food ration"),
    ],
)
def test_a_rule_is_called_by_what_it_asks(key: str, name: str) -> None:
    assert shown_name("solas", load_rule_set("solas").by_key()[key][0]) == name


@pytest.mark.parametrize("name", rule_set_names())
def test_no_two_rules_of_one_craft_have_one_name(name: str) -> None:
    """But where they are rows of one thing by size or by kind of ship, of which one applies."""
    found: dict[tuple[str, str], set[str]] = {}
    for owner, rule in rule_rows():
        if owner == name and answered_here(rule) and rule.evidence != "pack":
            found.setdefault((rule.subject, shown_name(name, rule)), set()).add(rule.key)
    assert [keys for keys in found.values() if len(keys) > 1] == []


def test_a_drop_down_offers_every_choice_and_says_why_it_refuses() -> None:
    book = openpyxl.load_workbook(io.BytesIO(plain()))
    for sheet in SHEETS:
        rules = {rule.promptTitle: rule for rule in book[sheet.name].data_validations.dataValidation}
        for column in sheet.columns:
            if not column.choices:
                continue
            rule = rules[column.heading[:32]]
            target = book.defined_names[str(rule.formula1).lstrip("=")]
            ((_, area),) = target.destinations
            offered = [cell.value for row in book["Lists"][area] for cell in row]
            assert offered == list(column.choices)
            assert rule.error


def test_the_contract_number_is_in_the_documents_properties() -> None:
    book = openpyxl.load_workbook(io.BytesIO(plain()))
    assert book.custom_doc_props["davitbook contract"].value == CONTRACT


def test_the_same_arguments_give_the_same_bytes(tmp_path: Path) -> None:
    description = _described(tmp_path)
    assert build("Orrin Vale", description, ON, room=SMALL) == build("Orrin Vale", description, ON, room=SMALL)


def test_a_ships_name_is_never_a_formula(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(build("=1+1 & Co", room=SMALL))
    assert read_book(path).ship_value("name") == "=1+1 & Co"
    page = openpyxl.load_workbook(path)["Ship"]
    assert {cell.data_type for row in page.iter_rows() for cell in row if cell.value is not None} == {"s"}


def test_a_description_gives_a_checklist_of_what_each_craft_must_carry(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(build("Orrin Vale", _described(tmp_path), ON, room=SMALL))
    rows = read_book(path).rows("inventory")
    asked = {row.get("item"): row.get("asked") for row in rows if row.get("place") == "Lifeboat 1"}
    for rule in load_rule_set("solas").of_subject("lifeboat"):
        if rule.evidence == "inventory":
            assert asked[rule.item] == required(rule, 26)
    assert {row.get("item") for row in rows if row.get("place") == "Raft P"} == {"hydrostatic release unit"}


def test_a_checklist_claims_nothing_until_it_is_counted(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(build("Orrin Vale", _described(tmp_path), ON, room=SMALL))
    result = audit_book(read_book(path), Options(ON))
    described = {rule.key for rule in load_rule_set("solas").rules if rule.evidence.startswith("craft.")}
    passed = {state.rule for state in result.states if state.state == "passed" and "lifeboat." in state.rule}
    assert passed <= described
    assert {finding.code for finding in result.findings} == {"CV02"}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[ship", "not valid TOML"),
        ("[vessel]\nname = 'x'", "unknown part [vessel]"),
        ("[ship]\ngross_tonage = 5", "gross_tonnage"),
        ("[ship]\nship_type = 'bulk'\nvoyages = 'lunar'", "must be one of"),
        ("[[craft]]\nname = 'Lifeboat 1'", "kind is missing"),
        ("[[craft]]\nname = 'A'\ntype = 'lifeboat'\npersons = 'many'", "is no number"),
        ("craft = 3", "a [[craft]] for each craft"),
    ],
)
def test_a_faulty_description_is_named_with_entry_and_remedy(tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(DescriptionError, match=r"ship\.toml") as error:
        _described(tmp_path, text)
    assert says in str(error.value)


def test_new_makes_a_book_and_never_replaces_one_unasked(tmp_path: Path) -> None:
    out = tmp_path / "book.xlsx"
    arguments = ["new", "--ship", "Orrin Vale", "--out", str(out)]
    assert CliRunner().invoke(main, arguments).exit_code == 0
    assert out.read_bytes() == build("Orrin Vale")
    out.write_bytes(b"precious")
    again = CliRunner().invoke(main, arguments)
    assert again.exit_code == 2
    assert "is there already" in again.output
    assert out.read_bytes() == b"precious"


def test_new_like_makes_a_book_that_check_reads(tmp_path: Path) -> None:
    (tmp_path / "ship.toml").write_text(DESCRIPTION)
    out = tmp_path / "book.xlsx"
    made = CliRunner().invoke(main, ["new", "--ship", "X", "--like", str(tmp_path / "ship.toml"), "--out", str(out)])
    assert made.exit_code == 0
    report = json.loads(CliRunner().invoke(main, ["check", str(out), "--on", "2026-11-25", "--format", "json"]).output)
    assert report["books"][0]["states"]["not_evaluated"] > 30


def test_new_with_lambda_gives_the_book_the_names_and_their_data(tmp_path: Path) -> None:
    out = tmp_path / "book.xlsx"
    assert CliRunner().invoke(main, ["new", "--ship", "Orrin Vale", "--lambda", "--out", str(out)]).exit_code == 0
    assert out.read_bytes() == build("Orrin Vale", more_names=lambda_names.write_names)
    held, usual = openpyxl.load_workbook(out), openpyxl.load_workbook(io.BytesIO(plain()))
    assert held.sheetnames == usual.sheetnames
    more = set(held.defined_names) - set(usual.defined_names)
    assert more == {*lambda_names.formulas(), *(column.name for column in lambda_names.columns())}
    for column in lambda_names.columns():
        ((sheet, area),) = held.defined_names[column.name].destinations
        assert sheet == "Lists"
        assert tuple(cell.value for row in held[sheet][area] for cell in row) == column.cells


def test_a_book_without_lambda_has_no_name_of_a_function() -> None:
    assert not {name for name in openpyxl.load_workbook(TEMPLATE).defined_names if name.startswith(("LSA_", "FFA_"))}


def test_the_names_change_nothing_in_the_audit(tmp_path: Path) -> None:
    told = []
    for more_names in (None, lambda_names.write_names):
        path = tmp_path / "book.xlsx"
        path.write_bytes(build("Orrin Vale", _described(tmp_path), ON, more_names, room=SMALL))
        told.append(audit_book(read_book(path), Options(ON)))
    assert told[0] == told[1]
