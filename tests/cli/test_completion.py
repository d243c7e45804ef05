"""The scripts that make a shell complete, and what they propose."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from workbook_tools.cli import main


def _proposals(line: str, shell: str = "bash") -> list[str]:
    """What the command answers to a shell that asks how a line may go on."""
    words = line.split(" ")
    variables = {"COMP_WORDS": line, "COMP_CWORD": str(len(words) - 1), "_DAVITBOOK_COMPLETE": f"{shell}_complete"}
    done = subprocess.run(
        [sys.executable, "-c", "from workbook_tools.cli import main; main(prog_name='davitbook')"],
        env={**os.environ, **variables},
        capture_output=True,
        text=True,
        check=False,
    )
    return [proposal.partition(",")[2] for proposal in done.stdout.splitlines()]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_gets_its_script(shell: str) -> None:
    result = CliRunner().invoke(main, ["completion", shell])
    assert result.exit_code == 0
    assert f"_DAVITBOOK_COMPLETE={shell}_complete" in result.output


def test_a_shell_that_is_not_known_is_wrong_usage() -> None:
    assert CliRunner().invoke(main, ["completion", "cmd"]).exit_code == 2


@pytest.mark.skipif(shutil.which("bash") is None, reason="this system has no bash")
def test_bash_takes_the_script(tmp_path: Path) -> None:
    script = tmp_path / "complete.bash"
    script.write_text(CliRunner().invoke(main, ["completion", "bash"]).output)
    command = ["bash", "-c", f". '{script}' && complete -p davitbook"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert "davitbook" in done.stdout


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("davitbook ha", ["handover"]),
        ("davitbook rules eq0", ["EQ01", "EQ02", "EQ03", "EQ04", "EQ05"]),
        ("davitbook rules lifeboat.fresh", ["lifeboat.fresh-water"]),
        ("davitbook check --mo", ["--month-expiry"]),
        ("davitbook completion z", ["zsh"]),
    ],
)
def test_a_line_is_completed(line: str, expected: list[str]) -> None:
    assert _proposals(line) == expected
