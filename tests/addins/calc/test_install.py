"""The ways to install, and what becomes of a book that passed a Calc without the extension."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from tests.addins.calc.office import Office, convert, need_office, running

pytestmark = pytest.mark.office

NOBODY = 65_534
SHEET = "Sheet1"


def _book(path: Path) -> Path:
    with xlsxwriter.Workbook(str(path)) as workbook:
        sheet = workbook.add_worksheet(SHEET)
        sheet.write_formula("A1", "=LSA_TPA(36)", None, 0)
        sheet.write_array_formula("A2:A3", "{=LSA_TPA({6;300})}", None, 0)
    return path


@pytest.fixture(name="folder")
def _folder() -> Iterator[Path]:
    """A folder that a plain user may write to: unopkg refuses to install for root."""
    with tempfile.TemporaryDirectory() as name:
        if os.geteuid() == 0:
            os.chown(name, NOBODY, NOBODY)
        yield Path(name)


def _as_plain_user(command: list[str], home: Path) -> None:
    plain: dict[str, Any] = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.geteuid() == 0 else {}
    environment = os.environ | {"HOME": str(home)}
    run = subprocess.run(
        command, cwd=home, env=environment, capture_output=True, text=True, timeout=120, check=False, **plain
    )
    assert run.returncode == 0, run.stdout + run.stderr


def test_unopkg_installs_it_for_a_plain_user(extension: Path, folder: Path) -> None:
    program = need_office()
    for source in (extension, _book(folder / "made.xlsx")):
        copy = folder / f"copy{source.suffix}"
        shutil.copyfile(source, copy)
        copy.chmod(0o644)
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    unopkg = shutil.which("unopkg") or str(Path(program).resolve().with_name("unopkg"))
    _as_plain_user([unopkg, "add", profile, "copy.oxt"], folder)
    _as_plain_user([program, profile, "--headless", "--convert-to", "csv", "copy.xlsx"], folder)
    assert (folder / "copy.csv").read_text(encoding="utf-8").split() == ["4", "2", "30"]


def test_installing_a_second_time_replaces_the_first(extension: Path, tmp_path: Path) -> None:
    with running(tmp_path / "profile") as office:
        office.ask("install", str(extension))
        office.ask("install", str(extension))
        assert office.ask("installed") == ["org.davitbook.calc", "davitbook cell functions"]


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_a_book_that_passed_a_calc_without_the_extension_is_right_again(
    office: Office, tmp_path: Path, kind: str
) -> None:
    saved = convert(tmp_path / "bare profile", _book(tmp_path / "book.xlsx"), kind, tmp_path / "saved")
    with office.document(saved) as document:
        assert office.ask("read", document, SHEET, "A1:A3") == [[4], [2], [30]]
        assert not office.ask("is_modified", document)


def test_an_office_with_an_older_python_refuses_it_and_says_why(extension: Path, tmp_path: Path) -> None:
    # the same extension asking for a Python that nobody has yet
    demanding = tmp_path / "demanding.oxt"
    with zipfile.ZipFile(extension) as source, zipfile.ZipFile(demanding, "w") as target:
        for name in source.namelist():
            data = source.read(name)
            target.writestr(name, data.replace(b"< (3, 11)", b"< (9, 9)") if name == "component.py" else data)
    with running(tmp_path / "profile") as office:
        refusal = office.refused("install", str(demanding))
    assert "davitbook needs a LibreOffice whose Python is 3.11 or later" in refusal
