"""`davitbook doctor`: what it finds, what it makes of it, and its exit status."""

from __future__ import annotations

import json
import shutil
import sys
from importlib import metadata
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from click.testing import CliRunner, Result

from workbook_tools import __version__
from workbook_tools.cli import doctor_facts, doctor_programs, installed, main
from workbook_tools.rules import load_rule_set, rule_set_names


def _run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["doctor", *arguments])


def _facts(*arguments: str) -> dict[str, dict[str, str]]:
    return {fact["name"]: fact for fact in json.loads(_run("--format", "json", *arguments).output)["facts"]}


def test_here_everything_that_an_audit_needs_works() -> None:
    result = _run("--format", "json")
    content = json.loads(result.output)
    assert content["works"], content["facts"]
    assert result.exit_code == 0
    tried = [fact["name"] for fact in content["facts"] if fact["section"] == "Tried just now"]
    assert tried == ["make and audit a book", "solve a plan", "make the Calc extension"]


def test_the_quick_look_tries_nothing() -> None:
    result = _run("--quick")
    assert result.exit_code == 0
    assert "Tried just now" not in result.output
    assert result.output.endswith("All that an audit needs is here.\n")


def test_every_dependency_that_is_declared_is_named_with_its_version() -> None:
    seen = _facts("--quick")
    for need in installed.needs():
        assert need.name in seen
        assert metadata.version(need.name) in seen[need.name]["seen"]


def test_the_editions_of_the_rules_are_named() -> None:
    seen = _facts("--quick")
    for name in rule_set_names():
        assert load_rule_set(name).edition in seen[name]["seen"]
        assert " read on a page that restates the rule" in seen[name]["seen"]


def test_no_line_is_wider_than_a_terminal_but_for_a_path() -> None:
    lines = [line for line in _run("--quick").output.splitlines() if "/" not in line]
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize(
    ("found", "state", "word"), [(None, "fault", "not installed"), ("1.0", "fault", "but"), ("99", "ok", "99")]
)
def test_a_dependency_that_is_missing_or_too_old_is_a_fault(
    found: str | None, state: str, word: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(doctor_facts, "needs", lambda: [installed.Need("pandas", ">=2.2", found, "")])
    seen, result = _facts("--quick"), _run("--quick")
    assert seen["pandas"]["state"] == state
    assert word in seen["pandas"]["seen"]
    assert result.exit_code == (1 if state == "fault" else 0)


def test_an_extra_that_is_missing_is_no_fault_and_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor_facts, "needs", lambda: [installed.Need("pyarrow", ">=16", None, "archive")])
    seen, result = _facts("--quick"), _run("--quick")
    assert seen["pyarrow"]["state"] == "missing"
    assert seen["pyarrow"]["remedy"] == 'pip install "davitbook[archive]"'
    assert result.exit_code == 0


def test_a_trial_that_fails_is_a_fault_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> bytes:
        raise OSError("the disk is full")

    monkeypatch.setattr("workbook_tools.book.build", fail)
    result = _run()
    assert result.exit_code == 1
    assert "the disk is full" in result.output
    assert "1 of these stand" in result.output or "in the way of an audit" in result.output


def test_run_from_a_folder_it_says_that_nothing_is_declared(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(installed, "DISTRIBUTION", "davitbook-that-was-never-installed")
    assert installed.needs() == []
    assert _facts("--quick")["installation"]["state"] == "note"


@pytest.mark.parametrize(
    ("module", "remedy"),
    [
        ("xlsxwriter", "pip install --force-reinstall davitbook"),
        ("python_calamine", "pip install --force-reinstall davitbook"),
        ("pyarrow.parquet", 'pip install "davitbook[archive]"'),
        ("nothing_of_ours", None),
    ],
)
def test_what_to_install_follows_from_the_module(module: str, remedy: str | None) -> None:
    assert installed.remedy_for(module) == remedy


# ---- LibreOffice


def test_libreoffice_on_the_path_is_found_with_its_version() -> None:
    if shutil.which("soffice") is None:
        pytest.skip("no LibreOffice on the path")
    office = doctor_programs.find_office()
    assert office is not None
    assert office.numbers >= (7, 0)


def test_without_libreoffice_it_is_missing_and_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor_programs, "_office_programs", lambda: iter(()))
    assert doctor_programs.find_office() is None
    seen = _facts("--quick")
    assert seen["LibreOffice"]["state"] == "missing"
    assert "Calc extension" not in seen


@pytest.mark.parametrize(
    ("version", "python", "state", "word"),
    [
        ("7.4.7.2", "", "ok", "7.4.7.2"),
        ("6.4.1", "", "note", "tried from 7.4 on"),
        ("24.8.1", "3.9.19", "note", "Python is 3.11 or later"),
        ("25.2.0", "3.11.11", "ok", "with Python 3.11.11"),
        ("", "", "ok", "no version told"),
    ],
)
def test_a_libreoffice_that_cannot_run_the_functions_is_said_to_be_one(
    version: str, python: str, state: str, word: str
) -> None:
    fact = doctor_facts._office(doctor_programs.Office(Path("soffice"), version, python))
    assert fact.state == state
    assert word in f"{fact.seen}. {fact.remedy}"


def test_the_python_that_libreoffice_brings_is_read_off_its_folder(tmp_path: Path) -> None:
    (tmp_path / "program" / "python-core-3.9.19").mkdir(parents=True)
    program = tmp_path / "program" / "soffice"
    program.touch()
    assert doctor_programs._office_python(program) == "3.9.19"


@pytest.mark.parametrize(
    ("version", "state"), [(None, "missing"), (__version__, "ok"), ("0.0.9", "note")], ids=["none", "same", "older"]
)
def test_the_extension_in_a_profile_is_found_with_its_version(
    version: str | None, state: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if version is not None:
        folder = tmp_path / "uno_packages" / "cache" / "uno_packages" / "lu1.tmp_" / "davitbook.oxt"
        folder.mkdir(parents=True)
        (folder / "description.xml").write_text(f'<description><version value="{version}"/></description>')
    monkeypatch.setattr(doctor_programs, "office_profiles", lambda: [tmp_path])
    monkeypatch.setattr(doctor_programs, "shared_packages", lambda office: tmp_path / "shared")
    assert doctor_facts._extension(doctor_programs.Office(Path("soffice"), "7.4", "")).state == state


@pytest.mark.office
def test_the_extension_that_libreoffice_itself_installed_is_found(tmp_path: Path) -> None:
    from tests.addins.calc.office import running
    from workbook_tools.addins.calc import build

    extension = build(tmp_path / "made")
    assert doctor_programs.extension_version([tmp_path / "profile" / "user"]) is None
    with running(tmp_path / "profile") as office:
        office.ask("install", str(extension))
    assert doctor_programs.extension_version([tmp_path / "profile" / "user"]) == __version__


# ---- Excel, by a stand-in for the registry of Windows


class _Registry(SimpleNamespace):
    """winreg with one value, or with none."""

    HKEY_CLASSES_ROOT = object()

    def OpenKey(self, root: object, path: str) -> Any:
        from contextlib import nullcontext

        if self.value is None:
            raise FileNotFoundError(path)
        return nullcontext(path)

    def QueryValueEx(self, key: str, name: str | None) -> tuple[str, int]:
        return self.value, 1


@pytest.mark.parametrize(
    ("value", "state", "word"), [("Excel.Application.16", "ok", "version 16"), (None, "missing", "registry")]
)
def test_excel_is_looked_up_in_the_registry_of_windows(
    value: str | None, state: str, word: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setitem(sys.modules, "winreg", _Registry(value=value))
    monkeypatch.setattr(doctor_programs, "on_windows", lambda: True)
    monkeypatch.setenv("APPDATA", str(tmp_path))
    fact = next(iter(doctor_facts._excel()))
    assert (fact.name, fact.state) == ("Excel", state)
    assert word in fact.seen


def test_the_excel_addin_is_found_in_excels_own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("APPDATA", str(tmp_path))
    assert doctor_programs.excel_addin() is None
    folder = tmp_path / "Microsoft" / "AddIns"
    folder.mkdir(parents=True)
    (folder / "davitbook.xlam").touch()
    assert doctor_programs.excel_addin() == folder / "davitbook.xlam"


def test_off_windows_excel_is_not_looked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor_programs, "on_windows", lambda: False)
    assert [fact.state for fact in doctor_facts._excel()] == ["note"]
