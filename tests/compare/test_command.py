"""davitbook compare: what it prints, its exit statuses, and what it must never do."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result

from tests.compare.pairs import two
from tests.workbooks import Workbook, clean
from workbook_tools.cli import main
from workbook_tools.compare import CODES
from workbook_tools.compare.document import SCHEMA
from workbook_tools.core.caution import CAUTION

LATER = date(2031, 6, 30)
OTHER = "3100021"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["compare", *(str(argument) for argument in arguments)])


def flat(result: Result) -> str:
    return " ".join(result.output.split())


def months() -> tuple[Workbook, Workbook]:
    """The pair of tests/compare/pairs, without the lines that the clean ship holds for the winter to come."""
    books = two()
    for book in books:
        day = book.ship["record_date"]
        for key, column in (("routine", "day"), ("servicing", "done")):
            book.rows[key] = [line for line in book.rows[key] if line[column] <= day]
    return books


def save(tmp_path: Path, old: Workbook, new: Workbook, name: str = "a") -> tuple[Path, Path]:
    for folder in ("old", "new"):
        (tmp_path / folder).mkdir(exist_ok=True)
    return old.save(tmp_path / "old" / f"{name}.xlsx"), new.save(tmp_path / "new" / f"{name}.xlsx")


@pytest.fixture
def in_order(tmp_path: Path) -> tuple[Path, Path]:
    return save(tmp_path, *months())


@pytest.fixture
def wrong(tmp_path: Path) -> tuple[Path, Path]:
    old, new = months()
    new.lot("hand flare")["expires"] = LATER
    for book in (old, new):
        book.find("crew", number="3")["name"] = "Ferrant Quill"
    new.find("crew", number="3")["remarks"] = "<script>alert(1)</script>"
    return save(tmp_path, old, new)


def test_0_where_nothing_looks_wrong(in_order: tuple[Path, Path]) -> None:
    result = run(*in_order)
    assert result.exit_code == 0
    assert "NOTHING LOOKS WRONG" in result.output
    assert CAUTION in flat(result)


def test_1_where_something_does_and_it_is_told_with_its_cells(wrong: tuple[Path, Path]) -> None:
    result = run(*wrong)
    assert result.exit_code == 1
    assert "LOOK: 1 thing looks wrong" in result.output
    assert "batch 'H6' had the date 2029-06-30 in the older return (Inventory!L16), 2031-06-30 in this one" in flat(
        result
    )
    assert max(map(len, result.output.splitlines())) <= 80


def test_brief_leaves_out_what_merely_changed(wrong: tuple[Path, Path]) -> None:
    assert "WHAT CHANGED" in run(*wrong).output
    brief = run(*wrong, "--brief")
    assert (brief.exit_code, "WHAT CHANGED" in brief.output, "CP01-" in brief.output) == (1, False, True)


@pytest.mark.parametrize("form", ["text", "json", "html"])
def test_no_output_names_a_person(wrong: tuple[Path, Path], form: str) -> None:
    assert "Quill" not in run(*wrong, "--format", form).output


def test_text_of_a_cell_is_no_markup_in_html(wrong: tuple[Path, Path]) -> None:
    output = run(*wrong, "--format", "html").output
    assert "<script" not in output
    assert "&lt;script&gt;" in output


def test_json_keeps_to_its_schema_and_says_what_the_text_says(wrong: tuple[Path, Path]) -> None:
    report: dict[str, Any] = json.loads(run(*wrong, "--format", "json").output)
    jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text())).validate(report)
    [ship] = report["ships"]
    [step] = ship["steps"]
    assert [finding["code"] for finding in step["findings"]] == ["CP01"]
    assert report["totals"] == {"ships": 1, "query": 1, "note": 0, "changes": len(step["changes"])}
    assert step["new_log_lines"] == {"Routine": len(months()[1].rows["routine"]) - len(months()[0].rows["routine"])}


def test_folders_are_matched_and_what_has_no_partner_is_said(tmp_path: Path) -> None:
    old, new = months()
    save(tmp_path, old, new)
    stray = clean()
    stray.ship.update(name="Sella Marn", imo_number=OTHER)
    stray.save(tmp_path / "new" / "z.xlsx")
    result = run(tmp_path / "old", tmp_path / "new")
    assert result.exit_code == 0
    assert "WITHOUT A PARTNER" in result.output
    assert "Sella Marn (IMO 3100021)" in flat(result)
    report = json.loads(run(tmp_path / "old", tmp_path / "new", "--format", "json").output)
    jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text())).validate(report)
    assert [entry["ship"] for entry in report["alone"]] == ["Sella Marn"]


def test_of_several_ships_each_has_a_verdict(tmp_path: Path) -> None:
    save(tmp_path, *months())
    old, new = months()
    for book in (old, new):
        book.ship.update(name="Sella Marn", imo_number=OTHER)
    save(tmp_path, old, new, "z")
    assert "Verdict" in run(tmp_path / "old", tmp_path / "new").output


def test_a_ship_matched_by_name_is_named_as_such(tmp_path: Path) -> None:
    old, new = months()
    old.ship["imo_number"] = ""
    save(tmp_path, old, new)
    assert "by ship's name, not by IMO number" in flat(run(tmp_path / "old", tmp_path / "new"))


def test_the_same_return_sent_again_is_said(in_order: tuple[Path, Path]) -> None:
    result = run(in_order[0], in_order[0].rename(in_order[0].with_name("b.xlsx")))
    assert result.exit_code == 2  # the first is gone now
    again = in_order[1].with_name("again.xlsx")
    again.write_bytes(in_order[1].read_bytes())
    assert "Nothing changed, not even the record date: the same return sent again." in flat(run(in_order[1], again))


def test_a_third_return_shows_what_stays_open(tmp_path: Path) -> None:
    old, new = months()
    for book in (old, new):
        book.lot("bucket")["quantity"] = 1
    paths = save(tmp_path, old, new)
    assert run(*paths, "--open-for", "3").exit_code == 0
    result = run(*paths)
    assert result.exit_code == 1
    assert "EQ01-boiejv, open in 2 returns in a row, since 2026-10-28" in flat(result)


def test_3_where_a_book_cannot_be_read_and_the_rest_is_told(tmp_path: Path) -> None:
    save(tmp_path, *months())
    (tmp_path / "new" / "broken.xlsx").write_text("no workbook")
    result = run(tmp_path / "old", tmp_path / "new")
    assert result.exit_code == 3
    assert "1 book could not be read" in flat(result)
    assert "WHAT CHANGED" in result.output


def test_3_where_only_the_audit_cannot_read_it(tmp_path: Path) -> None:
    old, new = months()
    paths = save(tmp_path, old, new)
    del new.rows["inventory"]
    new.save(paths[1])
    result = run(*paths)
    assert result.exit_code == 3
    assert "no sheet named 'Inventory'" in flat(result)


def test_1_where_no_ship_could_be_compared(tmp_path: Path) -> None:
    old, new = months()
    new.ship["imo_number"] = OTHER
    save(tmp_path, old, new)
    result = run(tmp_path / "old", tmp_path / "new")
    assert result.exit_code == 1
    assert "NOTHING COMPARED" in result.output


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["{old}"],
        ["{old}", "nowhere.xlsx"],
        ["{old}", "{new}", "--open-for", "1"],
        ["{old}", "{new}", "--on", "25.11.2026"],
        ["{old}", "{new}", "--format", "pdf"],
        ["{old}", "{new}", "--out", "{new}"],
    ],
)
def test_2_for_wrong_usage(in_order: tuple[Path, Path], arguments: list[str]) -> None:
    old, new = in_order
    before = new.read_bytes()
    result = run(*(argument.format(old=old, new=new) for argument in arguments))
    assert result.exit_code == 2
    assert "Error: " in result.output
    assert new.read_bytes() == before


def test_2_for_two_ships(tmp_path: Path) -> None:
    old, new = months()
    new.ship["imo_number"] = OTHER
    result = run(*save(tmp_path, old, new))
    assert result.exit_code == 2
    assert "two ships, nothing to compare" in flat(result)


def test_out_writes_the_file_and_the_books_stay_as_they_were(wrong: tuple[Path, Path], tmp_path: Path) -> None:
    before = [path.read_bytes() for path in wrong]
    out = tmp_path / "page.html"
    assert run(*wrong, "--format", "html", "--out", out).exit_code == 1
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert [path.read_bytes() for path in wrong] == before


@pytest.mark.parametrize("code", sorted(CODES))
def test_rules_explains_every_code_and_lists_it(code: str) -> None:
    runner = CliRunner()
    explained = runner.invoke(main, ["rules", code.lower()])
    assert explained.exit_code == 0
    for part in ("What it checks:", "Why it matters:", "Found:", "Silent:", "What to do:"):
        assert part in explained.output
    assert code in runner.invoke(main, ["rules"]).output


def test_help_keeps_to_80_columns() -> None:
    result = run("--help")
    assert result.exit_code == 0
    assert max(map(len, result.output.splitlines())) <= 80
