"""The command: what it prints, writes and answers."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.workbooks import clean
from workbook_tools.checks import CODES
from workbook_tools.cli import main
from workbook_tools.rules import load_rule_set, rule_set_names

ON = ["--on", "2026-11-25"]


def _run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


@pytest.fixture
def good(tmp_path: Path) -> Path:
    return clean().save(tmp_path / "good.xlsx")


@pytest.fixture
def short(tmp_path: Path) -> Path:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    return book.save(tmp_path / "short.xlsx")


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    path = tmp_path / "broken.xlsx"
    path.write_text("no workbook")
    return path


def test_0_when_no_action_is_required(good: Path) -> None:
    assert _run("check", good, *ON).exit_code == 0


def test_1_when_action_is_required(good: Path, short: Path) -> None:
    assert _run("check", good, short, *ON).exit_code == 1


def test_3_when_a_book_cannot_be_read_and_the_rest_is_still_reported(short: Path, broken: Path) -> None:
    result = _run("check", broken, short, *ON)
    assert result.exit_code == 3
    assert "NOT READ" in result.output
    assert "bucket: 2 asked, 1 carried" in result.output


@pytest.mark.parametrize(
    "arguments",
    [
        ["check"],
        ["check", "nowhere.xlsx"],
        ["check", ".", "--on", "25/11/2026"],
        ["check", ".", "--warn", "-1"],
        ["check", ".", "--rules", "mars"],
        ["check", ".", "--format", "pdf"],
        ["rules", "EQ99"],
        ["new", "--out", "book.xlsx"],
        ["new", "--ship", "X", "--out", "book.ods"],
    ],
)
def test_2_for_wrong_usage(tmp_path: Path, arguments: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    clean().save(tmp_path / "good.xlsx")
    result = _run(*arguments)
    assert result.exit_code == 2
    assert "Error: " in result.output


def test_2_for_a_folder_without_books(tmp_path: Path) -> None:
    (tmp_path / "~$lock.xlsx").touch()
    result = _run("check", tmp_path)
    assert result.exit_code == 2
    assert "no workbook" in result.output


def test_a_folder_gives_its_books_in_a_stable_order(tmp_path: Path) -> None:
    for name in ("b/two.xlsx", "a.xlsx", "b/one.xlsx"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        clean().save(tmp_path / name)
    (tmp_path / "notes.txt").touch()
    report = json.loads(_run("check", tmp_path, *ON, "--format", "json").output)
    names = [Path(book["book"]).relative_to(tmp_path).as_posix() for book in report["books"]]
    assert names == ["a.xlsx", "b/one.xlsx", "b/two.xlsx"]


def test_a_book_named_twice_is_checked_once(good: Path) -> None:
    report = json.loads(_run("check", good, good.parent, *ON, "--format", "json").output)
    assert len(report["books"]) == 1


def test_a_pattern_gives_the_books_it_matches(good: Path, short: Path) -> None:
    report = json.loads(_run("check", good.parent / "sh*.xlsx", *ON, "--format", "json").output)
    assert [Path(book["book"]).name for book in report["books"]] == ["short.xlsx"]


def test_many_books_give_what_each_gives_alone(tmp_path: Path) -> None:
    for number in range(5):
        book = clean()
        book.lot(["bucket", "hatchet", "whistle", "tin-opener", "painter"][number])["quantity"] = (
            0 if number == 2 else 1
        )
        book.save(tmp_path / f"{number}.xlsx")
    together = json.loads(_run("check", tmp_path, *ON, "--format", "json").output)["books"]
    for number, book_report in enumerate(together):
        alone = json.loads(_run("check", tmp_path / f"{number}.xlsx", *ON, "--format", "json").output)["books"]
        assert [book_report] == alone


def test_out_writes_the_report_and_prints_nothing(good: Path, tmp_path: Path) -> None:
    out = tmp_path / "report.json"
    result = _run("check", good, *ON, "--format", "json", "--out", out)
    assert (result.exit_code, result.output) == (0, "")
    assert json.loads(out.read_text())["contract"] == 1
    assert sorted(path.name for path in tmp_path.iterdir()) == ["good.xlsx", "report.json"]


def test_out_into_a_folder_that_is_not_there_says_so(good: Path, tmp_path: Path) -> None:
    result = _run("check", good, *ON, "--out", tmp_path / "nowhere" / "report.txt")
    assert result.exit_code == 2
    assert "cannot write" in result.output


def test_out_never_replaces_a_book_that_is_checked(good: Path) -> None:
    before = good.read_bytes()
    assert _run("check", good, *ON, "--out", good).exit_code == 2
    assert good.read_bytes() == before


@pytest.mark.skipif(not Path("/dev/stdout").exists(), reason="this system has no /dev/stdout")
def test_out_to_standard_output_is_written_straight(good: Path) -> None:
    command = [sys.executable, "-m", "workbook_tools", "check", str(good), *ON, "--out", "/dev/stdout"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert "Orrin Vale" in done.stdout


@pytest.mark.parametrize("variables", [{}, {"NO_COLOR": "1"}])
def test_no_colour_where_nobody_sees_it(short: Path, variables: dict[str, str]) -> None:
    command = [sys.executable, "-m", "workbook_tools", "check", str(short), *ON]
    done = subprocess.run(command, capture_output=True, text=True, check=False, env={**os.environ, **variables})
    assert "\x1b" not in done.stdout


def test_no_colour_on_a_terminal_that_asks_for_none(short: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    coloured = CliRunner().invoke(main, ["check", str(short), *ON], color=True).output
    monkeypatch.setenv("NO_COLOR", "1")
    plain = CliRunner().invoke(main, ["check", str(short), *ON], color=True).output
    assert "\x1b" in coloured
    assert "\x1b" not in plain


def test_the_first_day_of_a_month_can_be_chosen(tmp_path: Path) -> None:
    book = clean()
    book.lot("hand flare")["expires"] = "11/2026"
    path = book.save(tmp_path / "book.xlsx")
    assert _run("check", path, *ON).exit_code == 0
    assert "read as the last day of the month" in " ".join(_run("check", path, *ON).output.split())
    assert _run("check", path, *ON, "--month-expiry", "first").exit_code == 1


def test_rules_option_chooses_the_set(good: Path) -> None:
    report = json.loads(_run("check", good, *ON, "--rules", "us", "--format", "json").output)
    assert report["rules"] == "us"
    assert report["books"][0]["rules"] == "us"


@pytest.mark.parametrize("code", sorted(CODES))
def test_rules_explains_every_code(code: str) -> None:
    result = _run("rules", code.lower())
    assert result.exit_code == 0
    for part in ("What it checks:", "Why it matters:", "Found:", "Silent:", "What to do:"):
        assert part in result.output


def test_rules_explains_every_rule_with_its_paragraph() -> None:
    for name in rule_set_names():
        for rule in load_rule_set(name).rules[::7]:
            result = _run("rules", rule.key)
            assert result.exit_code == 0
            assert rule.reference in " ".join(result.output.split())


def test_rules_alone_lists_every_code_and_set() -> None:
    output = _run("rules").output
    assert all(code in output for code in CODES)
    assert all(title in output for title in rule_set_names().values())


def test_rules_proposes_the_nearest_name() -> None:
    assert "did you mean lifeboat.fresh-water?" in _run("rules", "lifeboat.fresh-watr").output


def test_help_is_there_for_every_command() -> None:
    for command in ([], ["check"], ["new"], ["rules"]):
        result = _run(*command, "--help")
        assert result.exit_code == 0
        assert max(map(len, result.output.splitlines())) <= 80
