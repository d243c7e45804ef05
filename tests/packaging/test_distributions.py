"""A wheel and an sdist: whole, and at work in an environment that holds nothing but what they declare.

No network is asked. The declared dependencies, and what these declare in turn, are linked from the environment of the
tests into a new one; whatever else is installed there cannot be imported from it.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import venv
import zipfile
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement

from tests.packaging.imports import plain

ROOT = Path(__file__).parents[2]
SOURCE = ("workbook_tools", "pyproject.toml", "README.md", "LICENSE")
NO_SOURCE = shutil.ignore_patterns("__pycache__", "*.pyc", ".*_cache", "*.egg-info")
EXAMPLE = ROOT / "example_books" / "thornuve.xlsx"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with the wheel and the sdist, built from a copy; the wheel is built from the sdist."""
    copy = tmp_path_factory.mktemp("source")
    for name in SOURCE:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, copy / name, ignore=NO_SOURCE)
        else:
            shutil.copy(ROOT / name, copy / name)
    out = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(out), str(copy)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return out


def _wheel(built: Path) -> Path:
    return next(built.glob("*.whl"))


def _data_files() -> set[str]:
    """Every file of the package that is no Python: tables, schemas, pages."""
    found = (path for path in (ROOT / "workbook_tools").rglob("*") if path.is_file())
    names = {path.relative_to(ROOT).as_posix() for path in found if path.suffix not in (".py", ".pyc")}
    return {name for name in names if "_cache/" not in name}


def _modules() -> set[str]:
    return {path.relative_to(ROOT).as_posix() for path in (ROOT / "workbook_tools").rglob("*.py")}


def test_the_wheel_holds_every_table_and_page_of_the_package(built: Path) -> None:
    names = set(zipfile.ZipFile(_wheel(built)).namelist())
    assert len(_data_files()) > 30
    assert _data_files() - names == set()
    assert _modules() - names == set()


def test_the_wheel_holds_neither_tests_nor_what_is_built(built: Path) -> None:
    names = zipfile.ZipFile(_wheel(built)).namelist()
    assert {name.split("/")[0] for name in names if ".dist-info" not in name} == {"workbook_tools"}
    assert not [name for name in names if "cache" in name or name.endswith(".pyc")]


def test_the_sdist_holds_all_that_the_wheel_is_made_from(built: Path) -> None:
    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    assert (_data_files() | _modules() | {"pyproject.toml", "README.md", "LICENSE"}) - names == set()


# ---- a new environment


def _closure() -> set[str]:
    """The distributions that davitbook always needs, and those that they need in turn, as this system asks."""
    found: set[str] = set()
    waiting = [Requirement(text) for text in metadata.requires("davitbook") or []]
    while waiting:
        requirement = waiting.pop()
        if requirement.marker is not None and not requirement.marker.evaluate({"extra": ""}):
            continue
        name = plain(requirement.name)
        further = [Requirement(text) for text in metadata.requires(requirement.name) or []]
        asked = [one for one in further if one.marker is None or _asked(one, requirement.extras)]
        if name not in found:
            found.add(name)
            waiting += [Requirement(re.split(r";", str(one), maxsplit=1)[0]) for one in asked]
    return found


def _asked(requirement: Requirement, extras: set[str]) -> bool:
    assert requirement.marker is not None
    return any(requirement.marker.evaluate({"extra": extra}) for extra in ({""} | extras))


def _link(name: str, site: Path) -> None:
    """Put a distribution of this environment into another one, as links."""
    distribution = metadata.distribution(name)
    tops = {file.parts[0] for file in distribution.files or [] if file.parts[0] not in ("..", "__pycache__")}
    for top in tops:
        source, target = Path(str(distribution.locate_file(top))), site / top
        if not target.exists() and source.exists():
            target.symlink_to(source, target_is_directory=source.is_dir())


class Clean:
    """An environment with davitbook from the wheel and its declared dependencies, and a folder to work in."""

    def __init__(self, folder: Path, wheel: Path) -> None:
        venv.create(folder / "env", with_pip=False)
        scripts = folder / "env" / ("Scripts" if os.name == "nt" else "bin")
        self.python, self.davitbook, self.folder = scripts / "python", scripts / "davitbook", folder
        site = next((folder / "env").rglob("site-packages"))
        for name in _closure():
            _link(name, site)
        pip = [sys.executable, "-m", "pip", "--python", str(self.python), "install", "--no-deps", "--no-index"]
        done = subprocess.run([*pip, str(wheel)], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr

    def run(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        """The command, with nothing of the surroundings in its way of finding modules."""
        kept = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "VIRTUAL_ENV"))}
        command = [str(self.davitbook), *arguments]
        return subprocess.run(command, cwd=self.folder, env=kept, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def clean(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Clean:
    if os.name == "nt":
        pytest.skip("links need rights on Windows that a test does not have")
    return Clean(tmp_path_factory.mktemp("clean"), _wheel(built))


def test_what_is_not_declared_cannot_be_imported_there(clean: Clean) -> None:
    undeclared = ("pytest", "hypothesis", "xlwings", "pyarrow")
    code = f"import importlib.util; print([name for name in {undeclared} if importlib.util.find_spec(name)])"
    done = subprocess.run([str(clean.python), "-I", "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_help_and_the_name_alone(clean: Clean) -> None:
    assert "davitbook check book.xlsx" in clean.run().stdout
    assert clean.run("--help").returncode == 0


def test_a_new_book_is_made_and_audited(clean: Clean) -> None:
    made = clean.run("new", "--ship", "Orrin Vale", "--out", "book.xlsx")
    assert made.returncode == 0, made.stderr
    done = clean.run("check", "book.xlsx", "--format", "json")
    assert done.returncode in (0, 1), done.stderr
    assert json.loads(done.stdout)["books"][0]["ship"] == "Orrin Vale"


def test_an_example_is_audited_as_it_is_here(clean: Clean) -> None:
    arguments = ("check", str(EXAMPLE), "--on", "2026-11-25", "--format", "json")
    there = clean.run(*arguments)
    assert there.returncode == 1, there.stderr
    here = subprocess.run(
        [sys.executable, "-m", "workbook_tools", *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert json.loads(there.stdout) == json.loads(here.stdout)


@pytest.mark.parametrize(
    "arguments",
    [
        ("rules", "EQ01"),
        ("rules", "items"),
        ("addin", "calc", "--out", "addin"),
        ("order", str(EXAMPLE), "--until", "2027-12-31", "--on", "2026-11-25"),
        ("muster", str(EXAMPLE), "--on", "2026-11-25"),
        ("ration", str(EXAMPLE), "--on", "2026-11-25"),
        ("calendar", str(EXAMPLE), "--out", "due.ics", "--on", "2026-11-25"),
        ("handover", str(EXAMPLE), "--to", "2027-02-28"),
        ("adopt", str(EXAMPLE), "--no-input", "--map", "own.toml"),
        ("check", str(EXAMPLE), "--report", "fleet.html", "--report", "fleet.xlsx", "--followups", "to-send"),
        ("doctor",),
    ],
    ids=lambda arguments: arguments[0],
)
def test_each_command_works_there(arguments: tuple[str, ...], clean: Clean) -> None:
    done = clean.run(*arguments)
    assert done.returncode in (0, 1), done.stderr
    assert "Traceback" not in done.stderr
    assert "not installed, and this needs it" not in done.stderr


@pytest.mark.parametrize(
    ("arguments", "extra"),
    [(("check", str(EXAMPLE), "--archive", "kept"), "archive"), (("addin", "excel", "--out", "addin"), "excel")],
    ids=["archive", "excel"],
)
def test_what_needs_an_extra_says_which(arguments: tuple[str, ...], extra: str, clean: Clean) -> None:
    done = clean.run(*arguments)
    assert done.returncode == 2
    assert f'pip install "davitbook[{extra}]"' in " ".join(done.stderr.split())
