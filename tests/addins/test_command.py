"""The addin command: what it writes and what it says when it cannot."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from workbook_tools.cli import main

WRITTEN = {"calc": "davitbook.oxt", "excel": "davitbook_functions.bas", "lambda": "davitbook-functions.xlsx"}


@pytest.mark.parametrize(("program", "file"), WRITTEN.items())
def test_an_addin_is_written_into_a_new_folder(program: str, file: str, tmp_path: Path) -> None:
    out = tmp_path / "new" / "folder"
    result = CliRunner().invoke(main, ["addin", program, "--out", str(out)])
    assert result.exit_code == 0, result.output
    assert result.output.endswith(": written\n")
    assert (out / file).is_file()


@pytest.mark.parametrize("program", WRITTEN)
def test_a_folder_that_cannot_be_made_is_wrong_usage(program: str, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    result = CliRunner().invoke(main, ["addin", program, "--out", str(tmp_path / "file" / "folder")])
    assert result.exit_code == 2
    assert "cannot write to" in result.output


def test_without_xlwings_excel_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing() -> None:
        raise ImportError("No module named 'xlwings'")

    monkeypatch.setattr("workbook_tools.addins.excel.package.contents", missing)
    result = CliRunner().invoke(main, ["addin", "excel", "--out", str(tmp_path)])
    assert result.exit_code == 2
    assert 'pip install "davitbook[excel]"' in result.output


def test_help_names_the_three_programs() -> None:
    result = CliRunner().invoke(main, ["addin", "--help"])
    assert result.exit_code == 0
    assert all(f"davitbook addin {program}" in result.output for program in WRITTEN)
