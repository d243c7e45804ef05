"""davitbook adopt and check --map, as a user meets them."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.adopt.layouts import LAYOUTS
from workbook_tools.cli import main
from workbook_tools.reading import read_book


def _run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    for name in ("long_list", "office_register", "stacked", "spanish"):
        LAYOUTS[name].write(tmp_path / f"{name}.xlsx")
    return tmp_path


def test_a_list_of_ones_own_becomes_a_book_in_two_steps(folder: Path) -> None:
    before = (folder / "long_list.xlsx").read_bytes()
    made = _run("adopt", "long_list.xlsx", "--no-input")
    assert made.exit_code == 0, made.output
    assert "Next: davitbook adopt long_list.xlsx --map long_list.map.toml --out BOOK.xlsx" in made.output
    done = _run("adopt", "long_list.xlsx", "--map", "long_list.map.toml", "--out", "book.xlsx")
    assert done.exit_code == 0, done.output
    assert "each on its sheet 'Not carried over' with the reason" in done.output
    assert len(read_book(folder / "book.xlsx").rows("inventory")) == 9
    assert (folder / "long_list.xlsx").read_bytes() == before


def test_the_kept_mapping_audits_the_list_as_it_stands(folder: Path) -> None:
    _run("adopt", "long_list.xlsx", "--no-input")
    result = _run("check", "--map", "long_list.map.toml", "long_list.xlsx", "--on", "2026-11-25")
    assert result.exit_code == 1, result.output
    assert "LSA Inventory!" in result.output


def test_what_is_undecided_is_said_and_ends_with_1(folder: Path) -> None:
    result = _run("adopt", "office_register.xlsx", "--no-input")
    assert result.exit_code == 1
    assert "Undecided (" in result.output
    assert "column 'Where stowed' of 'Register 2026': perhaps Stowed at" in result.output
    assert (folder / "office_register.map.toml").exists()


def test_a_mapping_with_open_questions_makes_no_book(folder: Path) -> None:
    _run("adopt", "office_register.xlsx", "--no-input")
    result = _run("adopt", "office_register.xlsx", "--map", "office_register.map.toml", "--out", "book.xlsx")
    assert result.exit_code == 1
    assert "leaves undecided" in result.output
    assert 'where it says "?", or run davitbook adopt office_register.xlsx --map office_register.map.toml' in (
        result.output.replace("\n", " ")
    )
    assert not (folder / "book.xlsx").exists()
    assert _run("check", "--map", "office_register.map.toml", "office_register.xlsx").exit_code == 2


def test_a_changed_layout_ends_with_3_and_names_the_cell(folder: Path) -> None:
    _run("adopt", "long_list.xlsx", "--no-input")
    result = _run("adopt", "stacked.xlsx", "--map", "long_list.map.toml", "--out", "book.xlsx")
    assert result.exit_code == 3
    assert "there is no sheet 'LSA Inventory' any more" in result.output
    checked = _run("check", "--map", "long_list.map.toml", "stacked.xlsx")
    assert checked.exit_code == 3
    assert "its layout is not that of the mapping" in checked.output


def test_a_mapping_that_is_there_is_not_overwritten_unasked(folder: Path) -> None:
    _run("adopt", "long_list.xlsx", "--no-input")
    (folder / "long_list.map.toml").write_text(
        (folder / "long_list.map.toml").read_text(encoding="utf-8").replace('to = "batch"', 'to = "none"'),
        encoding="utf-8",
    )
    result = _run("adopt", "long_list.xlsx", "--no-input")
    assert "is there already" in result.output
    assert 'to = "batch"' not in (folder / "long_list.map.toml").read_text(encoding="utf-8")
    _run("adopt", "long_list.xlsx", "--no-input", "--force")
    assert 'to = "batch"' in (folder / "long_list.map.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["long_list.xlsx", "--out", "book.xlsx"], "--out needs the mapping"),
        (["long_list.xlsx", "--map", "m.toml", "--out", "book.ods"], "the name must end in .xlsx"),
        (["long_list.xlsx", "--map", "m.txt"], "the name must end in .toml"),
        (["long_list.xlsx", "--map", "bad.toml", "--out", "book.xlsx"], "not valid TOML"),
        (["long_list.xlsx", "--map", "bad.toml", "--out", "long_list.xlsx"], "it is never written to"),
        (["gone.xlsx"], "does not exist"),
    ],
)
def test_wrong_usage_says_what_to_do(folder: Path, arguments: list[str], said: str) -> None:
    (folder / "bad.toml").write_text("this is no mapping", encoding="utf-8")
    result = _run("adopt", *arguments)
    assert result.exit_code == 2
    assert said in result.output.replace("\n", " ")


@pytest.mark.parametrize("option", [["--resume"], ["--cluster", "tcp://127.0.0.1:1"]])
def test_a_mapping_goes_with_no_option_that_would_leave_it_out(folder: Path, option: list[str]) -> None:
    _run("adopt", "long_list.xlsx", "--no-input")
    result = _run("check", "--map", "long_list.map.toml", "long_list.xlsx", *option)
    assert result.exit_code == 2
    assert "--map goes with neither" in result.output


def test_a_file_that_is_no_workbook_ends_with_3(folder: Path) -> None:
    (folder / "broken.xlsx").write_text("no workbook")
    result = _run("adopt", "broken.xlsx", "--no-input")
    assert result.exit_code == 3
    assert "NOT READ" in result.output


def _talk(folder: Path, *arguments: str, typed: str) -> str:
    """Run the command on a terminal and type answers; what it printed."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "workbook_tools", "adopt", *arguments]
    with subprocess.Popen(command, cwd=folder, stdin=theirs, stdout=subprocess.PIPE, stderr=subprocess.STDOUT) as run:
        os.close(theirs)
        os.write(ours, typed.encode())
        said = run.communicate(timeout=120)[0].decode()
    os.close(ours)
    return said


def test_on_a_terminal_it_asks_and_an_empty_answer_takes_the_proposal(folder: Path) -> None:
    said = _talk(folder, "office_register.xlsx", typed="\n" * 20)
    assert "holds: Stbd lifeboat | Stbd lifeboat" in said
    assert "[Stowed at]" in said
    assert "Undecided" not in said
    made = _run("adopt", "office_register.xlsx", "--map", "office_register.map.toml", "--out", "book.xlsx")
    assert made.exit_code == 0, made.output
    assert len(read_book(folder / "book.xlsx").rows("inventory")) == 9


def test_an_answer_that_is_none_is_asked_again_and_end_of_input_keeps_what_was_said(folder: Path) -> None:
    said = _talk(folder, "office_register.xlsx", typed="nonsense\nStowed at\n\x04")
    assert "'nonsense' is none of these" in said
    assert "Stopped: what was not answered stays undecided." in said
    text = (folder / "office_register.map.toml").read_text(encoding="utf-8")
    assert 'evidence = "decided by a person' in text
    assert 'to = "?"' in text
