"""The first minutes: the name typed alone, help in groups, slips, and what is not installed."""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from workbook_tools.cli import main
from workbook_tools.cli.group import GROUPS, OTHER_WORDS


def _run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def test_the_name_alone_says_what_to_do_next_and_is_no_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    result = _run()
    assert result.exit_code == 0
    for word in ("Begin", "Check", "Plan", "Office", "davitbook --help", "davitbook doctor"):
        assert word in result.output
    assert len(result.output.splitlines()) <= 14
    assert max(map(len, result.output.splitlines())) <= 80


def test_the_day_that_is_proposed_lies_ahead() -> None:
    assert f"--until {date.today().year + 1}-12-31" in _run().output


def test_every_command_that_the_name_alone_proposes_is_there() -> None:
    proposed = set(re.findall(r"davitbook ([a-z]+)", _run().output))
    assert proposed - {"new"} <= set(main.commands)
    assert "check" in proposed


def test_a_workbook_that_lies_here_is_pointed_at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "orrin vale.xlsx").touch()
    (tmp_path / "~$orrin vale.xlsx").touch()
    assert 'davitbook check "orrin vale.xlsx"' in _run().output


def test_of_many_workbooks_the_folder_is_pointed_at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("a.xlsx", "b.ods"):
        (tmp_path / name).touch()
    assert "Here lie 2 workbooks: davitbook check ." in _run().output


def test_help_shows_every_command_in_one_group() -> None:
    output = _run("--help").output
    for name in main.commands:
        assert len(re.findall(rf"^  {name}  ", output, re.MULTILINE)) == 1, name
    assert all(f"{title}:" in output for title, _ in GROUPS)


def test_a_command_in_no_group_is_shown_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(main.commands, "stow", click.Command("stow", help="Stow it."))
    assert re.search(r"^  stow +Stow it\.", _run("--help").output, re.MULTILINE)


def test_the_groups_name_no_command_that_is_gone() -> None:
    assert {name for _, names in GROUPS for name in names} <= set(main.commands)
    assert set(OTHER_WORDS.values()) - {"--version"} <= set(main.commands)
    assert not set(OTHER_WORDS) & set(main.commands)


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        ("chekc", "did you mean davitbook check?"),
        ("Check", "did you mean davitbook check?"),
        ("audit", "did you mean davitbook check?"),
        ("import", "did you mean davitbook adopt?"),
        ("version", "did you mean davitbook --version?"),
        ("my book.xlsx", 'To audit it: davitbook check "my book.xlsx"'),
        ("zzzz", "davitbook --help lists them"),
    ],
)
def test_a_slip_is_answered_with_what_to_type(typed: str, answer: str) -> None:
    result = _run(typed)
    assert result.exit_code == 2
    assert answer in result.output


def test_a_folder_in_the_place_of_a_command_is_to_be_audited(tmp_path: Path) -> None:
    assert f"davitbook check {tmp_path}" in _run(str(tmp_path)).output


def test_a_mistyped_file_is_answered_with_the_one_beside_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "orrin-vale.xlsx").touch()
    result = _run("check", "orin-vale.xlsx")
    assert result.exit_code == 2
    assert "did you mean orrin-vale.xlsx?" in result.output


def _without(module: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, in which a module cannot be imported."""
    code = f"import sys; sys.modules[{module!r}] = None; sys.argv[0] = 'davitbook'\n"
    code += "from workbook_tools.cli import main; main()"
    return subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=False)


@pytest.mark.parametrize(
    ("module", "arguments", "remedy"),
    [
        ("xlsxwriter", ["new", "--ship", "X", "--out", "x.xlsx"], "pip install --force-reinstall davitbook"),
        ("pyarrow", ["check", "x.xlsx", "--archive", "kept"], 'pip install "davitbook[archive]"'),
        ("distributed", ["check", "x.xlsx", "--cluster", "tcp://nowhere:1"], 'pip install "davitbook[cluster]"'),
    ],
)
def test_what_is_not_installed_is_named_with_its_remedy(
    module: str, arguments: list[str], remedy: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "x.xlsx").touch()
    if arguments[0] == "new":
        (tmp_path / "x.xlsx").unlink()
    done = _without(module, *arguments)
    assert done.returncode == 2
    assert remedy in " ".join(done.stderr.split())
    assert "Traceback" not in done.stderr


def _failing() -> None:
    raise LookupError("no such davit")


def test_a_fault_of_our_own_ends_in_a_line_and_no_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("DAVITBOOK_TRACEBACK", raising=False)
    monkeypatch.setitem(main.commands, "fail", click.Command("fail", callback=_failing))
    result = _run("fail")
    assert result.exit_code == 70
    assert "LookupError at test_first_run.py:" in result.output
    assert "No workbook was changed" in result.output


def test_the_whole_trace_of_a_fault_is_there_for_who_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DAVITBOOK_TRACEBACK", "1")
    monkeypatch.setitem(main.commands, "fail", click.Command("fail", callback=_failing))
    assert isinstance(_run("fail").exception, LookupError)
