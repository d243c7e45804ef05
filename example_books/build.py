"""Builds the example fleet: python -m example_books.build [FOLDER]

The .xlsx books come out the same byte for byte. The .ods book is saved by LibreOffice, which writes the time of saving
into it: in a folder that has one already, it is replaced only where a cell has changed. Delete it first where its looks
have changed.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Any

from example_books.plan import Plan
from example_books.ships import (
    brannoquay,
    ellerhaven_point,
    iskenby_reach,
    marrowick_fell,
    odrunsel,
    pellandre,
    pellavine,
    pellavora,
    quillane,
    saltorra,
    thornuve,
    veshmoor,
)
from example_books.writing import xlsx_bytes

HERE = Path(__file__).parent

FLEET: tuple[Plan, ...] = (
    marrowick_fell.PLAN,
    odrunsel.PLAN,
    pellavine.PLAN,
    saltorra.PLAN,
    ellerhaven_point.PLAN,
    pellandre.PLAN,
    iskenby_reach.PLAN,
    brannoquay.PLAN,
    quillane.PLAN,
    pellavora.PLAN,
    thornuve.PLAN,
    veshmoor.PLAN,
)

Cells = dict[str, list[list[Any]]]


def build(folder: Path) -> list[Path]:
    """Write every book into a folder. Returns their paths. Raises RuntimeError where LibreOffice is missing."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for plan in FLEET:
        path = folder / plan.file
        paths.append(path)
        if path.suffix == ".xlsx":
            path.write_bytes(xlsx_bytes(plan))
            continue
        with tempfile.TemporaryDirectory() as scratch:
            saved = save_with_libreoffice([write_xlsx(plan, Path(scratch))], path.suffix[1:], Path(scratch) / "out")[0]
            if not path.exists() or cells(path) != cells(saved):
                shutil.copyfile(saved, path)
    return paths


def write_xlsx(plan: Plan, folder: Path) -> Path:
    """Write a plan as .xlsx, whatever its own file name ends in."""
    path = folder / Path(plan.file).with_suffix(".xlsx")
    path.write_bytes(xlsx_bytes(plan))
    return path


def save_with_libreoffice(books: list[Path], extension: str, folder: Path) -> list[Path]:
    """Have LibreOffice open books and save them with another extension, all in one run and under a fresh profile.

    Raises RuntimeError when LibreOffice is not installed or leaves a book out.
    """
    soffice = shutil.which("soffice")
    if soffice is None:
        raise RuntimeError("LibreOffice Calc is not installed: there is no soffice command")
    with tempfile.TemporaryDirectory() as profile:
        done = subprocess.run(
            [
                soffice,
                f"-env:UserInstallation={Path(profile).as_uri()}",
                "--headless",
                "--convert-to",
                extension,
                "--outdir",
                str(folder),
                *map(str, books),
            ],
            capture_output=True,
            text=True,
            timeout=600,
            check=False,
        )
    saved = [folder / book.with_suffix(f".{extension}").name for book in books]
    missing = [path.name for path in saved if not path.exists()]
    if done.returncode or missing:
        raise RuntimeError(
            f"LibreOffice did not save {', '.join(missing) or 'the books'}: {done.stderr or done.stdout}"
        )
    return saved


def cells(path: Path) -> Cells:
    """Every cell of a book by sheet, empty ends of rows and sheets left out, so that two files can be compared."""
    import python_calamine

    with python_calamine.CalamineWorkbook.from_path(str(path)) as book:
        grids = {name: book.get_sheet_by_name(name).to_python(skip_empty_area=False) for name in book.sheet_names}
    return {name: _trimmed([[_plain(cell) for cell in row] for row in grid]) for name, grid in grids.items()}


def _plain(cell: Any) -> Any:
    if isinstance(cell, datetime) and (cell.hour, cell.minute, cell.second) == (0, 0, 0):
        return cell.date()
    return float(cell) if isinstance(cell, int) and not isinstance(cell, bool) else cell


def _trimmed(grid: list[list[Any]]) -> list[list[Any]]:
    for row in grid:
        while row and row[-1] in ("", None):
            row.pop()
    while grid and not grid[-1]:
        grid.pop()
    return grid


if __name__ == "__main__":
    for built in build(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE):
        print(built)
