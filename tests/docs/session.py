"""The commands of a page, run as a reader would: in their order, in one folder with the files that it names."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from tests.adopt.layouts import LAYOUTS
from tests.docs.pages import ROOT, block, blocks
from tests.workbooks import Workbook, clean

WRITTEN = 2026  # the year in which the pages were written: their days are moved on with the calendar
_EXAMPLES = ROOT / "example_books"

# Commands that are not run, by how they begin, and why.
NOT_RUN = {
    ".dev/": "makes the environment that the tests run in, or runs the tests themselves",
    ".ci/": "runs the tests themselves",
    ".venv/bin/python -m": "writes into the project's own folder; its result is compared by a test of its own",
    "pip install": "asks a package index; tests/packaging installs the wheel without one",
    "pip wheel": "asks a package index; tests/packaging builds the wheel without one",
    "davitbook-env/bin/pip": "asks a package index for the dependencies; tests/packaging installs without one",
    "davitbook-env/bin/davitbook": "needs the environment above; tests/packaging runs it in one of its own",
    "python3 -m venv": "makes the environment of the lines that follow it, which ask a package index",
    "python3.11 -m venv": "makes the environment of the lines that follow it, which ask a package index",
    "brew ": "macOS only",
    "unopkg ": "changes the user's own LibreOffice; tests/addins/calc installs into a profile of its own",
    "dask ": "starts a cluster; tests/fleet/test_cluster.py has one of its own",
    "davitbook check /share/": "needs a cluster; tests/fleet/test_cluster.py has one of its own",
}


def _return(day: date) -> Workbook:
    book = clean()
    book.ship["record_date"] = day
    return book


def _returns(folder: Path) -> None:
    """Four months of returns of two ships."""
    last = date.today().replace(day=1)
    for name in ("2026-11", "2026-10", "2026-09", "2026-08"):
        month = folder / "returns" / name
        month.mkdir(parents=True)
        _return(last).save(month / "orrin-vale.xlsx")
        shutil.copy(_EXAMPLES / "brannoquay.xlsx", month)
        last = (last - timedelta(days=1)).replace(day=1)


def _one_of_each_ship(folder: Path) -> None:
    """Returns of one month: one book for each ship."""
    (folder / "returns").mkdir()
    for name in ("brannoquay.xlsx", "marrowick-fell.xlsx"):
        shutil.copy(_EXAMPLES / name, folder / "returns")


# What stands for the names of files on the pages.
FILES: dict[str, Callable[[Path], object]] = {
    "book.xlsx": lambda folder: shutil.copy(_EXAMPLES / "marrowick-fell.xlsx", folder / "book.xlsx"),
    "orrin-vale.xlsx": lambda folder: clean().save(folder / "orrin-vale.xlsx"),
    "theirs.xlsx": lambda folder: LAYOUTS["long_list"].write(folder / "theirs.xlsx"),
    "october.xlsx": lambda folder: _return(date(WRITTEN, 10, 28)).save(folder / "october.xlsx"),
    "november.xlsx": lambda folder: _return(date(WRITTEN, 11, 25)).save(folder / "november.xlsx"),
    "ship.toml": lambda folder: (folder / "ship.toml").write_text(block(ROOT / "docs" / "guide.md", "toml"), "utf-8"),
    "example_books": lambda folder: shutil.copytree(_EXAMPLES, folder / "example_books"),
    "returns": _returns,
}


# What stands for a name on a page that means something else by it.
FILES_OF_PAGE = {"docs/planning.md": {"returns": _one_of_each_ship}}

# What the reader does by hand after a command of a page.
BY_HAND = {
    # the book is filled in, and put right by what the first audit said
    ("docs/guide.md", "davitbook rules lifeboat.buckets"): FILES["orrin-vale.xlsx"],
}


def lines(page: Path) -> list[str]:
    """The commands of a page's shell blocks, without what is said beside them."""
    found = (line.strip() for body in blocks(page, "sh") for line in body.splitlines())
    return [re.sub(r"\s+# .*$", "", line) for line in found if line and not line.startswith("#")]


def reason_not_run(line: str) -> str | None:
    """Why a command is not run; None where it is."""
    return next((reason for beginning, reason in NOT_RUN.items() if line.startswith(beginning)), None)


class Session:
    """A folder with files that a page names, and a shell in which davitbook is found."""

    def __init__(self, folder: Path, page: str, commands: list[str]) -> None:
        self.folder = folder
        scripts = Path(sys.executable).parent
        self.environment = {**os.environ, "HOME": str(folder), "PATH": f"{scripts}{os.pathsep}{os.environ['PATH']}"}
        text = "\n".join(commands)
        for name, make in {**FILES, **FILES_OF_PAGE.get(page, {})}.items():
            if re.search(rf"(?<![\w.-]){re.escape(name)}(?![\w.-])", text):
                make(folder)

    def run(self, line: str) -> subprocess.CompletedProcess[str]:
        """One command, its days moved on with the calendar; a file that it is to make new is taken out of its way."""
        made = re.search(r"--out (\S+\.xlsx)", line)
        if made and line.startswith(("davitbook new", "davitbook adopt")):
            (self.folder / made[1]).unlink(missing_ok=True)
        command = ["sh", "-c", in_time(line, date.today())]
        return subprocess.run(
            command,
            cwd=self.folder,
            env=self.environment,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
        )


def in_time(line: str, today: date) -> str:
    """A command whose days lie as far from today's year as they lay from the year in which the page was written."""
    years = max(0, today.year - WRITTEN)
    return re.sub(r"\b(20\d\d)(?=-\d\d-\d\d\b)", lambda found: str(int(found[1]) + years), line)
