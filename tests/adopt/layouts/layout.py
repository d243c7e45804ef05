"""What a foreign layout is, and how it is saved."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from workbook_tools.reading.address import split

# place, item, quantity, last good day (None: not told or not readable)
Lot = tuple[str, str, float | None, date | None]


@dataclass(frozen=True)
class Layout:
    """A foreign workbook and its truth.

    columns: sheet and cell of each heading -> 'inventory.item', or 'none'. items: their word -> our item.
    lots: every lot of it. saved_as other than xlsx: LibreOffice saves it so.
    """

    about: str
    draw: Callable[[Any], None]
    columns: dict[tuple[str, str], str]
    items: dict[str, str] = field(default_factory=dict)
    lots: Sequence[Lot] = ()
    saved_as: str = "xlsx"
    by_libreoffice: bool = False
    held_out: bool = False
    ship: dict[str, Any] = field(default_factory=dict)
    craft: Sequence[tuple[str, str]] = ()  # name, kind
    counts: dict[str, int] = field(default_factory=dict)  # sheet of ours -> lines

    def write(self, path: Path) -> Path:
        """Write it as .xlsx, whatever it is saved as in the end."""
        import xlsxwriter

        with xlsxwriter.Workbook(path, {"default_date_format": "dd/mm/yyyy", "strings_to_urls": False}) as book:
            self.draw(book)
        return path


def put(page: Any, cell: str, lines: Sequence[Sequence[Any]], style: Any = None) -> None:
    """Write lines of cells from a cell on; None leaves a cell empty. style: of dates and texts."""
    row, column = split(cell) or (0, 0)
    for down, line in enumerate(lines):
        for right, value in enumerate(line):
            if value is None:
                continue
            if isinstance(value, date):
                page.write_datetime(row + down, column + right, value, style)
            elif isinstance(value, str):
                page.write_string(row + down, column + right, value, style)
            else:
                page.write_number(row + down, column + right, value)


def convert(paths: Sequence[Path], form: str, folder: Path) -> list[Path]:
    """Save books by LibreOffice in another form. Fails the test where LibreOffice is missing."""
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        pytest.fail("LibreOffice Calc (soffice) is not installed: the README's test command installs it", pytrace=False)
    folder.mkdir(parents=True, exist_ok=True)
    profile = folder / "profile"
    run = subprocess.run(
        [
            program,
            f"-env:UserInstallation={profile.as_uri()}",
            "--headless",
            "--norestore",
            "--convert-to",
            form,
            "--outdir",
            str(folder),
            *(str(path) for path in paths),
        ],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    saved = [folder / f"{path.stem}.{form}" for path in paths]
    missing = [path.name for path in saved if not path.exists()]
    if missing:
        pytest.fail(f"soffice wrote no {', '.join(missing)}\n{run.stdout}\n{run.stderr}", pytrace=False)
    return saved
