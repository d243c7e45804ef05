"""davitbook order and davitbook servicing as a user runs them: every form, statuses, messages."""

from __future__ import annotations

import io
import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner, Result

from tests.planning.order_books import EVERYTHING, call, with_calls
from tests.workbooks import ON
from workbook_tools.cli import main
from workbook_tools.core.caution import CAUTION
from workbook_tools.planning.page_sheet import as_xlsx
from workbook_tools.reports.layout import Block, Line, Page

ORDER = ["order", "--on", ON.isoformat(), "--until", "2027-12-31"]
SERVICING = ["servicing", "--on", ON.isoformat(), "--months", "18"]
NAME = "<b>Ellery</b> & Sons"


def run(arguments: list[str], *more: str | Path) -> Result:
    return CliRunner().invoke(main, [*arguments, *map(str, more)])


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Flares that lapse before a call brings new ones, a port with a name that must stay a name."""
    found = with_calls(
        call(NAME, date(2027, 1, 10), stores="x"),
        call("Kellimar", date(2027, 10, 15), date(2027, 10, 16), **EVERYTHING, exchange_raft="x"),
    )
    found.lot("hand flare").update(expires=date(2027, 3, 31))
    found.lot("bucket")["quantity"] = 1
    return found.save(tmp_path / "ship.xlsx")


def flat(result: Result) -> str:
    return " ".join(result.output.split())


def test_the_order_is_grouped_by_port_and_supplier_with_the_day_for_sending_it(book: Path) -> None:
    result = run(ORDER, book)
    assert result.exit_code == 1  # some days stay uncovered
    text = flat(result)
    assert "KELLIMAR, 2027-10-15 TO 2027-10-16: PYROTECHNICS SUPPLIER; SEND THE ORDER BY 2027-10-08" in text
    assert "LSA Code 4.4.8.14" in text
    assert "DEFICIENCIES TO COME" in text
    assert "197 days" in text
    assert "hand flare 36 months (read on a page that restates the rule)" in text
    assert CAUTION in text
    assert "dangerous goods of class 1" in text
    assert max(map(len, result.output.splitlines())) <= 80


def test_the_json_of_an_order_has_every_line_with_its_cells(book: Path) -> None:
    data: dict[str, Any] = json.loads(run(ORDER, book, "--format", "json").output)
    (call_entry,) = [entry for entry in data["calls"] if entry["port"] == "Kellimar"]
    (line,) = call_entry["suppliers"][0]["lines"]
    assert (line["item"], line["pieces"], line["lapses"]) == ("hand flare", 6, "2027-03-31")
    assert line["needs"][0]["cell"].startswith("L")
    lack = next(entry for entry in data["deficiencies"] if entry["item"] == "hand flare")
    assert (lack["from"], lack["until"], lack["days"]) == ("2027-04-01", "2027-10-14", 197)
    assert data["uncovered_days"] == sum(entry["days"] for entry in data["deficiencies"])
    assert data["caution"] == CAUTION


@pytest.mark.parametrize("arguments", [ORDER, SERVICING], ids=["order", "servicing"])
def test_text_of_the_book_is_no_markup_in_html(book: Path, arguments: list[str]) -> None:
    page = run(arguments, book, "--format", "html").output
    assert "<b>" not in page
    assert "&lt;b&gt;Ellery" in page
    assert not re.search(r"<script|src=|href=", page)


@pytest.mark.parametrize("arguments", [ORDER, SERVICING], ids=["order", "servicing"])
def test_the_printable_book_holds_texts_and_no_formula(book: Path, arguments: list[str], tmp_path: Path) -> None:
    out = tmp_path / "plan.xlsx"
    run(arguments, book, "--format", "xlsx", "--out", out)
    (page,) = openpyxl.load_workbook(out).worksheets
    cells = [cell for row in page.iter_rows() for cell in row if cell.value is not None]
    assert {cell.data_type for cell in cells} == {"s"}
    assert any(cell.value == CAUTION for cell in cells)
    assert any(NAME in str(cell.value) for cell in cells)
    assert page.sheet_properties.pageSetUpPr.fitToPage


def test_a_text_that_looks_like_a_formula_stays_a_text() -> None:
    texts = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1")
    page = Page("=1+1", "@x", "+2", [("-3", "=4")], [Block("=5", texts, [Line(texts)], "")], ["=6"])
    sheet = openpyxl.load_workbook(io.BytesIO(as_xlsx(page, "Order"))).active
    assert sheet is not None
    assert {cell.data_type for row in sheet.iter_rows() for cell in row if cell.value is not None} == {"s"}


def test_the_printable_book_needs_a_file(book: Path) -> None:
    result = run(ORDER, book, "--format", "xlsx")
    assert result.exit_code == 2
    assert "--format xlsx needs --out" in result.output


def test_the_book_itself_is_never_written_to(book: Path) -> None:
    before = book.read_bytes()
    assert run(ORDER, book, "--out", book).exit_code == 2
    assert book.read_bytes() == before


def test_an_end_before_the_day_asked_is_wrong_usage(book: Path) -> None:
    result = run(["order", "--on", "2027-01-01", "--until", "2026-12-31"], book)
    assert result.exit_code == 2
    assert "lies before the day asked" in result.output


def test_a_book_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    bad = tmp_path / "bad.xlsx"
    bad.write_text("no book")
    for arguments in (ORDER, SERVICING):
        result = run(arguments, bad)
        assert result.exit_code == 3
        assert "Traceback" not in result.output


@pytest.mark.parametrize("arguments", [ORDER, SERVICING], ids=["order", "servicing"])
def test_a_book_without_a_ports_sheet_says_what_to_enter(arguments: list[str], tmp_path: Path) -> None:
    found = with_calls()
    del found.rows["ports"]
    found.lot("hand flare").update(expires=date(2027, 3, 31))
    result = run(arguments, found.save(tmp_path / "ship.xlsx"))
    assert result.exit_code == 1
    assert "the book has no Ports sheet: enter the calls there" in flat(result)


def test_the_servicing_plan_names_calls_services_and_rafts(book: Path) -> None:
    result = run(SERVICING, book)
    text = flat(result)
    assert result.exit_code == 0
    assert "Every service on record in force on every day" in text
    assert "KELLIMAR, 2027-10-15 TO 2027-10-16: APPROVED LIFERAFT SERVICING STATION" in text
    assert "RAFTS ASHORE" in text
    assert "exchanged" in text
    assert "Release gear and launching appliances" in text
    assert max(map(len, result.output.splitlines())) <= 80


def test_the_json_of_a_servicing_plan_has_every_service_with_its_days(book: Path) -> None:
    data: dict[str, Any] = json.loads(run(SERVICING, book, "--format", "json").output)
    jobs = [job for entry in data["calls"] for job in entry["services"]]
    rafts = [job for job in jobs if job["service"] == "liferaft service"]
    assert [(job["thing"], job["was_due"], job["done"]) for job in rafts] == [
        ("Raft P", "2027-10-20", "2027-10-15"),
        ("Raft S", "2027-10-20", "2027-10-15"),
    ]
    assert {entry["how"] for entry in data["rafts_ashore"]} == {"exchanged"}
    assert data["gaps"] == []


def test_no_name_of_a_person_stands_in_a_plan(tmp_path: Path) -> None:
    found = with_calls(call("Kellimar", date(2027, 1, 10), **EVERYTHING, remarks="agent: Solveig Marrant"))
    found.rows["crew"][0]["name"] = "Solveig Marrant"
    found.lot("bucket")["quantity"] = 1
    found.lot("hand flare").update(expires=date(2027, 3, 31))
    found.add("inventory", place="Cabin of Solveig Marrant", item="hand flare", quantity=6, expires=date(2029, 1, 1))
    suits = found.find("servicing", service="immersion suit pressure test")
    suits.update(appliance="Suit of Solveig Marrant", done=date(2025, 1, 1))
    path = found.save(tmp_path / "ship.xlsx")
    for arguments in (ORDER, SERVICING):
        for form in ("text", "json", "html"):
            assert "Marrant" not in run(arguments, path, "--format", form).output
