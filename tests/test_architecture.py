"""Imports point one way, and what cell functions need loads nothing outside the standard library."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import workbook_tools

ROOT = Path(workbook_tools.__file__).parent

# Each part may import from those before it, and from itself.
ORDER = [
    "strictcsv",
    "catalogue",
    "rules",
    "columns",
    "core",
    "cells",
    "findings",
    "reading",
    "schema",
    "checks",
    "handbook",
    "book",
    "reports",
    "output",
    "fleet",
    "compare",
    "planning",
    "adopt",
    "addins",
    "cli",
    "__main__",
]
STANDARD_LIBRARY_ONLY = ["strictcsv", "catalogue", "rules", "columns", "core", "cells", "findings"]


def _part(path: Path) -> str:
    relative = path.relative_to(ROOT)
    return relative.parts[0].removesuffix(".py")


def _imports(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
            if node.module == "workbook_tools":
                found.update(f"workbook_tools.{alias.name}" for alias in node.names)
    return found


MODULES = [path for path in sorted(ROOT.rglob("*.py")) if path != ROOT / "__init__.py"]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_imports_point_one_way(path: Path) -> None:
    own = ORDER.index(_part(path))
    for name in _imports(path):
        if name.startswith("workbook_tools."):
            part = name.split(".")[1]
            if part == "__version__":
                continue
            assert ORDER.index(part) <= own, f"{path.relative_to(ROOT)} imports {name}"


@pytest.mark.parametrize("part", STANDARD_LIBRARY_ONLY)
def test_needs_nothing_outside_the_standard_library(part: str) -> None:
    code = (
        f"import workbook_tools.{part}, sys; "
        "from workbook_tools.rules import load_rule_set; load_rule_set('solas'); "
        "from workbook_tools import catalogue; catalogue.items(); "
        "print('\\n'.join(sorted({name.split('.')[0] for name in sys.modules} - sys.stdlib_module_names)))"
    )
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    ours = {"workbook_tools", "__main__", "__mp_main__"}
    assert {name for name in loaded if not name.startswith(("_", "sitecustomize"))} <= ours


def test_help_loads_neither_pandas_nor_pandera() -> None:
    code = (
        "import sys\nfrom click.testing import CliRunner\nfrom workbook_tools.cli import main\n"
        "assert CliRunner().invoke(main, ['check', '--help']).exit_code == 0\n"
        "print({'pandas', 'pandera', 'python_calamine', 'xlsxwriter'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"
