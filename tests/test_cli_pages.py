"""The printed pages, the company's file and the follow-ups as the command shows them."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from tests.checks.cases.followup import BUCKET, YESTERDAY
from tests.workbooks import ON, Workbook, clean
from workbook_tools.cli import main
from workbook_tools.reports.json import SCHEMA

DAY = ["--on", ON.isoformat()]


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


def flat(result: Result) -> str:
    return " ".join(result.output.split())


@pytest.fixture
def good(tmp_path: Path) -> Path:
    return clean().save(tmp_path / "good.xlsx")


@pytest.fixture
def fleet(tmp_path: Path) -> Path:
    path = tmp_path / "fleet.toml"
    path.write_text(
        'name = "Fleet instruction 12"\n[[rule]]\ntightens = "lifeboat.fresh-water"\nper_person = 4\n'
        'reference = "FI 12.3"\n'
    )
    return path


def followed(tmp_path: Path, expected: date | None, more: bool = False) -> Path:
    book: Workbook = clean()
    book.lot("bucket")["quantity"] = 1
    if more:
        book.lot("hatchet")["quantity"] = 1
    line = book.add("follow_up", finding=BUCKET, order="R-112", port="Vigo", reported_to="class")
    if expected is not None:
        line["expected"] = expected
    return book.save(tmp_path / "followed.xlsx")


# ---- follow-ups --------------------------------------------------------------------------------------------------


def test_what_is_followed_up_leaves_the_front_and_stays_action_required(tmp_path: Path) -> None:
    result = run("check", followed(tmp_path, ON), *DAY)
    assert result.exit_code == 1
    assert "ACTION REQUIRED, all of it being followed up already; 1 being followed up" in flat(result)
    front, _, aside = result.output.partition("BEING FOLLOWED UP")
    assert BUCKET not in front
    assert (
        f"{BUCKET} action, at next port: Lifeboat 1, bucket: 2 asked, 1 carried [R-112, at Vigo, by {ON}"
        in " ".join(aside.split())
    )


def test_others_are_counted_at_the_front_and_it_beside_them(tmp_path: Path) -> None:
    result = run("check", followed(tmp_path, None, more=True), *DAY)
    assert "ACTION REQUIRED: 1 at next port; 1 more being followed up" in flat(result)
    assert "no day given" in result.output


def test_past_its_day_it_comes_back_to_the_front(tmp_path: Path) -> None:
    result = run("check", followed(tmp_path, YESTERDAY), *DAY)
    assert "BEING FOLLOWED UP" not in result.output
    assert f"was expected to be right on {YESTERDAY} (R-112)" in flat(result)
    assert "ACTION REQUIRED: 1 at next port" in flat(result)


@pytest.mark.parametrize(("expected", "past"), [(ON, False), (YESTERDAY, True)])
def test_json_carries_the_follow_up_and_counts_the_finding(tmp_path: Path, expected: date, past: bool) -> None:
    report = json.loads(run("check", followed(tmp_path, expected), *DAY, "--format", "json").output)
    [finding] = report["books"][0]["findings"]
    assert finding["follow_up"] == {
        "order": "R-112",
        "port": "Vigo",
        "expected": expected.isoformat(),
        "reported_to": "class",
        "interim": "",
        "past": past,
    }
    assert report["totals"]["action"] == 1
    jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text())).validate(report)


@pytest.mark.parametrize("values", [{}, {"expected": "12/03/2027", "order": "R-1"}, {"order": "R-1", "closed": "soon"}])
def test_a_line_without_order_and_day_or_with_an_unclear_day_puts_nothing_aside(values: dict[str, object]) -> None:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    book.add("follow_up", finding=BUCKET, **values)
    [finding] = [entry for entry in book.findings() if entry.code == "EQ01"]
    assert finding.follow_up is None


def test_several_books_show_what_is_followed_up_beside_the_counts(tmp_path: Path, good: Path) -> None:
    followed(tmp_path, ON)
    assert "(1 of these being followed up)" in flat(run("check", tmp_path, *DAY))


def test_the_ids_of_other_findings_do_not_move_with_follow_ups(tmp_path: Path) -> None:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    before = {finding.id for finding in book.findings()}
    book.add("follow_up", finding="EQ01-nothing", order="R-1")
    assert before <= {finding.id for finding in book.findings()}


def test_a_name_written_into_a_remark_is_replaced_by_the_crew_number(tmp_path: Path) -> None:
    book = clean()
    book.find("crew", number="3")["name"] = "Ferrant Quill"
    book.find("crew", number="4")["name"] = "Bosun"
    book.lot("bucket")["quantity"] = 1
    book.add("defects", subject="Lifeboat 1", fitting="limit switches", wrong="stuck, ferrant quill says", since=ON)
    book.add("follow_up", finding=BUCKET, order="R-1", interim="Ferrant Quill's own, the bosun has it")
    output = flat(run("check", book.save(tmp_path / "names.xlsx"), *DAY))
    assert "Quill" not in output
    assert "quill" not in output
    assert "meanwhile: crew number 3's own, the bosun has it" in output


# ---- the company's file ------------------------------------------------------------------------------------------


def test_the_company_s_rules_are_named_in_text_and_json(good: Path, fleet: Path) -> None:
    result = run("check", good, *DAY, "--company", fleet)
    assert result.exit_code == 1
    assert "Company rules: Fleet instruction 12" in flat(result)
    assert "By: LSA Code 4.4.8.9; company rule: FI 12.3" in flat(result)
    report = json.loads(run("check", good, *DAY, "--company", fleet, "--format", "json").output)
    assert report["company"] == {"name": "Fleet instruction 12", "file": str(fleet), "looser": []}
    jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text())).validate(report)


def test_without_a_company_s_file_json_says_null(good: Path) -> None:
    assert json.loads(run("check", good, *DAY, "--format", "json").output)["company"] is None


def test_a_looser_figure_is_wrong_usage_or_named_in_every_output(good: Path, fleet: Path) -> None:
    text = fleet.read_text().replace("per_person = 4", "per_person = 2")
    fleet.write_text(text)
    result = run("check", good, *DAY, "--company", fleet)
    assert result.exit_code == 2
    assert "looser than the published rule" in flat(result)
    fleet.write_text(text + 'administration_reference = "MN 4/2026"\n')
    assert "LOOSER than published: lifeboat.fresh-water" in flat(run("check", good, *DAY, "--company", fleet))
    assert "MN 4/2026" in run("arrival", good, *DAY, "--company", fleet).output


@pytest.mark.parametrize("command", [["check"], ["arrival"], ["handover", "--to", "2027-02-28"]])
def test_a_faulty_company_s_file_is_wrong_usage_everywhere(good: Path, tmp_path: Path, command: list[str]) -> None:
    (tmp_path / "bad.toml").write_text("name = 3")
    result = run(*command, good, "--company", tmp_path / "bad.toml")
    assert result.exit_code == 2
    assert "bad.toml: name must be text" in flat(result)


# ---- pages -------------------------------------------------------------------------------------------------------


def test_handover_and_arrival_print_a_page(good: Path) -> None:
    relief = run("handover", good, "--from", ON.isoformat(), "--to", "2027-02-28")
    inspector = run("arrival", good, *DAY)
    assert (relief.exit_code, inspector.exit_code) == (0, 0)
    assert "HANDOVER OF LIFE-SAVING" in relief.output
    assert "ARRIVAL PAGE: FOR THE INSPECTOR'S VISIT" in inspector.output


def test_html_goes_to_a_file_and_the_book_stays_as_it_was(good: Path, tmp_path: Path) -> None:
    before, out = good.read_bytes(), tmp_path / "page.html"
    result = run("handover", good, "--to", "2030-02-28", "--format", "html", "--out", out)
    assert (result.exit_code, result.output) == (0, "")
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert good.read_bytes() == before
    assert run("arrival", good, "--out", good).exit_code == 2
    assert good.read_bytes() == before


def test_a_page_of_one_day_is_a_page(good: Path) -> None:
    assert run("handover", good, "--from", ON.isoformat(), "--to", ON.isoformat()).exit_code == 0


@pytest.mark.parametrize(
    "arguments",
    [
        ["handover"],
        ["handover", "{book}"],
        ["handover", "{book}", "--from", ON.isoformat(), "--to", (ON - timedelta(days=1)).isoformat()],
        ["handover", "nowhere.xlsx", "--to", "2027-02-28"],
        ["arrival", "{book}", "--on", "25.11.2026"],
        ["arrival", "{book}", "--format", "pdf"],
        ["arrival", "{book}", "--rules", "mars"],
    ],
)
def test_2_for_wrong_usage(good: Path, arguments: list[str]) -> None:
    result = run(*(argument.format(book=good) for argument in arguments))
    assert result.exit_code == 2
    assert "Error: " in result.output


def test_3_for_a_book_that_cannot_be_read(tmp_path: Path) -> None:
    broken = tmp_path / "broken.xlsx"
    broken.write_text("no workbook")
    result = run("arrival", broken)
    assert result.exit_code == 3
    assert "NOT READ" in result.output


@pytest.mark.parametrize("command", ["handover", "arrival", "check"])
def test_help_keeps_to_80_columns(command: str) -> None:
    result = run(command, "--help")
    assert result.exit_code == 0
    assert max(map(len, result.output.splitlines())) <= 80
