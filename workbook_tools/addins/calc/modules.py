"""Which modules and tables of this package the cell functions need: found by walking the imports."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

PACKAGE = "workbook_tools"


def needed_files(root: Path, start: str) -> list[Path]:
    """Every file that `import start` may read, sorted: modules, the packages around them, and those packages' CSVs.

    root: the folder of the package. Imports inside functions count too.
    """
    files: set[Path] = set()
    waiting = [start]
    while waiting:
        path = _source(root, waiting.pop())
        if path is None or path in files:
            continue
        files.add(path)
        if path.name == "__init__.py" and path.parent != root:
            files.update(path.parent.rglob("*.csv"))
        waiting += _imports(path)
    return sorted(files)


def _source(root: Path, module: str) -> Path | None:
    """The file of a module of this package, or None where the name is no module."""
    base = root.joinpath(*module.split(".")[1:])
    for path in (base / "__init__.py", base.with_suffix(".py")):
        if path.is_file():
            return path
    return None


def _imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names = [node.module, *(f"{node.module}.{alias.name}" for alias in node.names)]
        for name in names:
            if name.split(".")[0] == PACKAGE:
                yield from _with_parents(name)


def _with_parents(name: str) -> Iterator[str]:
    parts = name.split(".")
    for length in range(1, len(parts) + 1):
        yield ".".join(parts[:length])
