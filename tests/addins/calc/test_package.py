"""The extension as a file: what is in it, that nothing it needs is missing, and that its bytes are always the same."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.cells.case_table import cases
from workbook_tools import __version__
from workbook_tools.addins.calc import build
from workbook_tools.addins.calc.idl import idl
from workbook_tools.addins.calc.office.bridge import takes_dates
from workbook_tools.cells import FUNCTIONS

# One call of each function that is in the table of cases, so that modules and tables read on first use are wanted too.
_FIRST_CALLS = {case.function: list(case.arguments) for case in reversed(cases()) if not case.error}
_ALONE = """
import json, sys
sys.path.insert(0, sys.argv[1])
import workbook_tools
assert workbook_tools.__file__.startswith(sys.argv[1]), workbook_tools.__file__
import davitbook_bridge
from workbook_tools.cells import FUNCTIONS
for name, arguments in json.loads(sys.argv[2]).items():
    given = [tuple(map(tuple, value)) if isinstance(value, list) else value for value in arguments]
    print(name, davitbook_bridge.call(FUNCTIONS[name], given))
"""


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Every file of the extension by its name."""
    with zipfile.ZipFile(build(tmp_path_factory.mktemp("built"))) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_two_builds_have_the_same_bytes(tmp_path: Path) -> None:
    first = build(tmp_path / "first")
    second = build(tmp_path / "new" / "folder")
    assert first.name == "davitbook.oxt"
    assert first.read_bytes() == second.read_bytes()


def test_a_build_leaves_nothing_but_the_extension(tmp_path: Path) -> None:
    build(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["davitbook.oxt"]


def test_no_file_tells_when_or_by_whom_it_was_built(tmp_path: Path) -> None:
    with zipfile.ZipFile(build(tmp_path)) as archive:
        entries = archive.infolist()
    assert {entry.date_time for entry in entries} == {(1980, 1, 1, 0, 0, 0)}
    assert {(entry.create_system, entry.external_attr) for entry in entries} == {(3, 0o100644 << 16)}


def test_the_manifest_names_files_that_are_there(files: dict[str, bytes]) -> None:
    named = re.findall(r'full-path="([^"]+)"', files["META-INF/manifest.xml"].decode())
    assert named
    assert set(named) <= set(files)


@pytest.mark.parametrize("name", ["META-INF/manifest.xml", "description.xml", "jobs.xcu"])
def test_xml_is_well_formed(files: dict[str, bytes], name: str) -> None:
    ElementTree.fromstring(files[name])


def test_the_version_is_that_of_the_package(files: dict[str, bytes]) -> None:
    assert f'<version value="{__version__}"/>' in files["description.xml"].decode()


def test_the_cell_functions_run_from_the_extension_alone(files: dict[str, bytes], tmp_path: Path) -> None:
    for name, data in files.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(data)
    # -I and -S: no site-packages, so no installed davitbook and none of its dependencies
    run = subprocess.run(
        [sys.executable, "-I", "-S", "-c", _ALONE, str(tmp_path / "pythonpath"), json.dumps(_FIRST_CALLS)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert "nan" not in run.stdout, run.stdout
    assert run.stdout.count("\n") == len(_FIRST_CALLS)


def test_it_carries_only_what_the_cell_functions_need(files: dict[str, bytes]) -> None:
    parts = {name.split("/")[2] for name in files if name.startswith("pythonpath/workbook_tools/")}
    assert parts == {"__init__.py", "strictcsv.py", "catalogue", "rules", "core", "cells"}


def test_every_function_is_a_method_with_all_its_arguments() -> None:
    text = idl(FUNCTIONS)
    for name, function in FUNCTIONS.items():
        method = name.partition("_")[2]
        found = re.search(rf"any {method}\((.*)\);", text)
        assert found, name
        parameters = found[1].split(", ")
        assert len(parameters) == len(function.arguments) + takes_dates(function)


def test_every_name_can_be_a_method_of_the_interface_language() -> None:
    for name in FUNCTIONS:
        assert re.fullmatch(r"(LSA|FFA)(_[A-Z][A-Z0-9]*)+", name), name
