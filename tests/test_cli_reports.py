"""The options of `davitbook check` that make reports of a fleet."""

from __future__ import annotations

import json
import os
import re
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.reports.fleet.fleets import HOSTILE, hostile_book, saved
from tests.reports.fleet.test_workbook import lines
from tests.workbooks import ON, Workbook, clean
from workbook_tools.cli import main

DAY = ("--on", ON.isoformat())


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, ["check", *map(str, arguments), *DAY])


def faulty(name: str = "Orrin Vale", number: str = "3100019") -> Workbook:
    book = clean()
    book.ship.update(name=name, imo_number=number)
    book.lot("bucket")["quantity"] = 1
    return book


@pytest.fixture
def returns(tmp_path: Path) -> Path:
    folder = tmp_path / "returns"
    saved(folder, clean(), faulty("Kestrel Sound", "3100021"))
    (folder / "broken.xlsx").write_text("no workbook")
    return folder


def test_reports_and_lists_are_written_beside_the_usual_answer(returns: Path, tmp_path: Path) -> None:
    before = {path: path.read_bytes() for path in returns.iterdir()}
    xlsx, html, lists = tmp_path / "fleet.xlsx", tmp_path / "fleet.html", tmp_path / "lists"
    result = run(returns, "--report", xlsx, "--report", html, "--followups", lists)
    assert result.exit_code == 3
    assert [line["Workbook"] for line in lines(xlsx.read_bytes(), "Summary")] == [
        "broken.xlsx",
        "book-1.xlsx",
        "book-0.xlsx",
    ]
    assert html.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert sorted(path.name for path in lists.iterdir()) == [
        f"Kestrel-Sound_IMO3100021_{ON}.xlsx",
        f"not-read_broken_{ON}.xlsx",
    ]
    for target in (xlsx, html, lists):
        assert str(target) in result.stderr
    assert {path: path.read_bytes() for path in returns.iterdir()} == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["fleet.html", "fleet.xlsx", "lists", "returns"]


def test_with_a_report_the_list_of_ships_alone_is_printed_unless_more_is_asked(returns: Path, tmp_path: Path) -> None:
    brief = run(returns, "--report", tmp_path / "fleet.xlsx").stdout
    assert "3 books, worst first" in brief
    assert "Kestrel Sound" in brief
    assert "bucket" not in brief
    assert "master decide" in brief
    full = run(returns, "--report", tmp_path / "fleet.xlsx", "--format", "text").stdout
    assert "bucket" in full


def test_links_lead_from_the_report_to_the_books(returns: Path, tmp_path: Path) -> None:
    out = tmp_path / "reports"
    out.mkdir()
    run(returns, "--report", out / "fleet.html")
    assert '"href":"../returns/book-1.xlsx"' in (out / "fleet.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["{returns}", "--report", "fleet.pdf"], "must end in .xlsx or .html"),
        (["{returns}", "--report", "{returns}/fleet.xlsx"], "would take it for a ship's workbook"),
        (["{returns}/*.xlsx", "--report", "{returns}/fleet.xlsx"], "would take it for a ship's workbook"),
        (["{returns}", "--followups", "{returns}/lists"], "would take it for a ship's workbook"),
        (["{returns}/book-0.xlsx", "--report", "{returns}/book-0.xlsx"], "is one of the books to check"),
        (["{returns}", "--report", "a.xlsx", "--report", "a.xlsx"], "names one file twice"),
        (["{returns}", "--report", "{returns}"], "is a directory"),
        (["{returns}", "--report", "{returns}/nowhere/fleet.xlsx.html"], "cannot write"),
    ],
)
def test_wrong_usage_is_told_and_writes_nothing(returns: Path, arguments: list[str], said: str) -> None:
    before = {path: path.read_bytes() for path in returns.iterdir()}
    result = run(*(argument.format(returns=returns) for argument in arguments))
    assert result.exit_code == 2
    assert said in " ".join(result.stderr.split())
    assert "Traceback" not in result.output
    assert {path: path.read_bytes() for path in returns.iterdir()} == before


@pytest.mark.parametrize("names", [False, True])
def test_names_stand_in_every_output_only_where_they_are_asked_for(tmp_path: Path, names: bool) -> None:
    book = clean()
    book.find("crew", number="7").update(name="Ferrant Quill", medical_expires=ON.replace(day=1))
    (path,) = saved(tmp_path / "returns", book)
    html, lists = tmp_path / "fleet.html", tmp_path / "lists"
    asked = ["--names"] if names else []
    text = run(path, "--report", html, "--followups", lists, *asked).stdout
    document = json.loads(run(path, "--format", "json", *asked).stdout)
    assert ("Ferrant Quill" in text) is names
    assert ("Ferrant Quill" in html.read_text(encoding="utf-8")) is names
    assert ("Ferrant Quill" in json.dumps(document)) is names
    (found,) = lists.iterdir()
    assert ("Ferrant Quill" in str(lines(found.read_bytes(), "To correct"))) is names


def test_hostile_books_go_through_as_text(tmp_path: Path) -> None:
    saved(tmp_path / "returns", *map(hostile_book, HOSTILE))
    xlsx, html = tmp_path / "fleet.xlsx", tmp_path / "fleet.html"
    result = run(tmp_path / "returns", "--report", xlsx, "--report", html)
    assert result.exit_code in (1, 3)
    assert len(lines(xlsx.read_bytes(), "Summary")) == len(HOSTILE)
    page = html.read_text(encoding="utf-8")
    assert len(re.findall(r"<script[ >]", page)) == 2
    assert "<img" not in page


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="names of files are text there")
def test_a_file_whose_name_is_no_text_is_reported_like_any_other(tmp_path: Path) -> None:
    folder = tmp_path / "returns"
    (path,) = saved(folder, faulty(""))
    path.rename(folder / os.fsdecode(b"caf\xe9.xlsx"))
    result = run(
        folder, "--report", tmp_path / "a.xlsx", "--report", tmp_path / "a.html", "--followups", tmp_path / "l"
    )
    assert result.exit_code in (1, 3)  # whether or not the reader can open it, it is reported and linked
    assert "caf%E9.xlsx" in (tmp_path / "a.html").read_text(encoding="utf-8")
    assert len(list((tmp_path / "l").iterdir())) == 1
