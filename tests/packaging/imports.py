"""Which modules from outside the package imports, and which distributions bring them."""

from __future__ import annotations

import ast
import sys
from importlib import metadata
from pathlib import Path

import workbook_tools

PACKAGE = Path(workbook_tools.__file__).parent
# These run inside LibreOffice, whose Python brings uno; the extension puts davitbook_bridge beside them.
IN_OFFICE = PACKAGE / "addins" / "calc" / "office"


def imported() -> dict[str, set[str]]:
    """Each outside module by its first name, with the files of the package that import it."""
    found: dict[str, set[str]] = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        if IN_OFFICE in path.parents:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names: list[str] = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                names = [node.module]
            for name in {name.partition(".")[0] for name in names}:
                if name not in sys.stdlib_module_names and name != "workbook_tools":
                    found.setdefault(name, set()).add(str(path.relative_to(PACKAGE)))
    return found


def distributions(module: str) -> set[str]:
    """The distributions that bring a module, by their plain names."""
    return {plain(name) for name in metadata.packages_distributions().get(module, [])}


def plain(name: str) -> str:
    """A distribution's name as it is compared: small letters, hyphens."""
    return name.lower().replace("_", "-").replace(".", "-")
