"""The folder for Excel, and what of xlwings it may use."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import workbook_tools
from workbook_tools.addins.excel.package import build
from workbook_tools.addins.excel.standins import xlwings_over_standins
from workbook_tools.core.caution import CAUTION

ROOT = Path(workbook_tools.__file__).parents[1]
SOURCES = [path for folder in ("workbook_tools", "example_books", "tests") for path in (ROOT / folder).rglob("*.py")]
PAID = ("xlwings.server", "xlwings.pro", "xlwings.rest")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder, freshly built."""
    return build(tmp_path_factory.mktemp("excel") / "new")


def _named(path: Path) -> set[str]:
    """Every module that a file imports, by statement or by name."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.update({node.module, *(f"{node.module}.{alias.name}" for alias in node.names)})
        elif isinstance(node, ast.Call) and getattr(node.func, "id", "") in ("import_module", "__import__"):
            found.update(str(part.value) for part in node.args if isinstance(part, ast.Constant))
    return found


def test_no_paid_part_of_xlwings_is_imported_anywhere() -> None:
    assert len(SOURCES) > 50
    for path in SOURCES:
        assert not [name for name in _named(path) if name.startswith(PAID)], path.name


def test_only_the_module_for_excel_and_the_standins_name_xlwings() -> None:
    own = {path.name for path in SOURCES if "xlwings" in _named(path) and path.is_relative_to(ROOT / "workbook_tools")}
    assert own == {"udfs.py", "standins.py"}


def test_the_folder_holds_module_vba_settings_and_page(folder: Path) -> None:
    files = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert {"README.md", "davitbook_functions.bas", "myaddin.conf"} <= files
    assert {"workbook_tools/addins/excel/udfs.py", "workbook_tools/rules/solas/lifeboat.csv"} <= files
    assert not [name for name in files if "standins" in name or "checks/" in name or name.endswith(".pyc")]


def test_the_same_folder_comes_out_twice(folder: Path, tmp_path: Path) -> None:
    again = build(tmp_path)
    for path in folder.rglob("*"):
        if path.is_file():
            assert (again / path.relative_to(folder)).read_bytes() == path.read_bytes()


def test_the_module_works_with_nothing_else_installed(folder: Path) -> None:
    code = (
        "import sys, types\n"
        f"sys.path.insert(0, {str(folder)!r})\n"
        "fake = types.ModuleType('xlwings')\n"
        "fake.func = fake.arg = lambda *a, **k: (lambda f: f)\n"
        "sys.modules['xlwings'] = fake\n"
        "import workbook_tools.addins.excel.udfs as udfs\n"
        "assert udfs.__file__.startswith(sys.path[0])\n"
        "print(udfs.LSA_REQUIRED([['hand flare']], [['lifeboat']], [[36.0]]), udfs.LSA_TPA([[6.0], [21.0]]))"
    )
    done = subprocess.run([sys.executable, "-I", "-S", "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "6.0 [[2.0], [3.0]]"


def test_the_page_says_how_far_it_was_tried_and_what_to_do_when_macros_are_blocked(folder: Path) -> None:
    page = (folder / "README.md").read_text(encoding="utf-8")
    assert "They have not been run inside Excel." in page
    for words in (
        CAUTION,
        "Trusted Locations",
        "cmd.exe is blocked",
        "Macros are blocked for good",
        "No developer mode",
    ):
        assert words in page


def test_the_settings_name_our_module_and_never_the_workbooks_folder(folder: Path) -> None:
    settings = (folder / "myaddin.conf").read_text(encoding="utf-8")
    assert '"UDF_MODULES","workbook_tools.addins.excel.udfs"' in settings
    assert '"ADD_WORKBOOK_TO_PYTHONPATH","False"' in settings


def test_the_standins_leave_the_interpreter_as_it_was() -> None:
    import ctypes

    before = (sys.platform, set(sys.modules), hasattr(ctypes, "windll"), ctypes.PyDLL)
    with xlwings_over_standins():
        assert "win32com.client" in sys.modules
    left = set(sys.modules) - before[1]
    assert (sys.platform, hasattr(ctypes, "windll"), ctypes.PyDLL) == (before[0], before[2], before[3])
    assert not [name for name in left if name.startswith(("xlwings", "win32", "pythoncom", "pywintypes"))]
