"""Makes the pictures of the README and docs from what the program prints and writes: python -m tests.docs.pictures."""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from contextlib import chdir
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from click.testing import CliRunner
from playwright.sync_api import Browser
from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

from tests.docs.pages import ROOT, block
from tests.reports.fleet import browser as chromium
from tests.workbooks import ON as DAY
from tests.workbooks import clean
from workbook_tools.book import build as build_book
from workbook_tools.cli import main

IMAGES = ROOT / "docs" / "images"
ON = ("--on", DAY.isoformat())
WIDTH = 82
DOTS_PER_INCH = 110
# Dark words on paper white; the two that carry a grade are orange and blue, as in the reports.
_THEME = TerminalTheme(
    (255, 255, 255),
    (33, 37, 41),
    [(33, 37, 41), (176, 58, 0), (33, 37, 41), (176, 88, 0), (0, 82, 155), (90, 60, 140), (0, 100, 120), (90, 90, 90)],
)
_PAGE = """<!doctype html><meta charset="utf-8"><style>
body {{ margin: 0; background: #fff; display: inline-block; }}
pre {{ margin: 0; padding: 14px 18px; font: 14px/1.4 "DejaVu Sans Mono", monospace; border: 1px solid #c8ccd0; }}
.typed {{ color: #5a5a5a; }}
</style><pre><span class="typed">$ {typed}</span>
{code}</pre>"""


def terminal(browser: Browser, name: str, arguments: Sequence[str], lines: int | None = None) -> None:
    """A picture of what a command prints, colours and all; lines: only so many of it."""
    environment = {key: value for key, value in os.environ.items() if key != "NO_COLOR"}
    output = CliRunner(env=environment).invoke(main, list(arguments), color=True).output
    kept = output.splitlines()
    more = lines is not None and len(kept) > lines
    text = Text.from_ansi("\n".join([*kept[:lines], *(["  ..."] if more else [])]))
    console = Console(record=True, width=WIDTH, file=io.StringIO(), highlight=False)
    console.print(text)
    code = console.export_html(theme=_THEME, inline_styles=True, code_format="{code}")
    typed = " ".join(["davitbook", *(f'"{word}"' if " " in word else word for word in arguments if word not in ON)])
    page = browser.new_page(device_scale_factor=1)
    page.set_content(_PAGE.format(typed=typed, code=code))
    page.locator("body").screenshot(path=IMAGES / f"{name}.png")
    page.close()


@dataclass(frozen=True, slots=True)
class Printed:
    """A picture of a printed page: how its first line begins, and the pixels that are kept from its top left."""

    title: str
    name: str
    wide: int = 1290
    high: int = 640
    dots: int = DOTS_PER_INCH


def sheets(book: Path, pictures: Sequence[Printed], folder: Path) -> None:
    """Pictures of printed pages, by a real LibreOffice."""
    profile = (folder / "profile").as_uri()
    command = ["soffice", f"-env:UserInstallation={profile}", "--headless", "--convert-to", "pdf"]
    subprocess.run([*command, "--outdir", str(folder), str(book)], check=True, capture_output=True)
    printed = folder / f"{book.stem}.pdf"
    done = subprocess.run(["pdftotext", "-layout", str(printed), "-"], check=True, capture_output=True, text=True)
    firsts = [page.strip().split("\n")[0].split("   ")[0].strip() for page in done.stdout.split("\f")]
    for picture in pictures:
        number = next(place for place, first in enumerate(firsts, start=1) if first.startswith(picture.title))
        page = ["-r", str(picture.dots), "-f", str(number), "-l", str(number)]
        part = ["-x", "0", "-y", "0", "-W", str(picture.wide), "-H", str(picture.high)]
        command = ["pdftoppm", "-singlefile", "-png", *page, *part, str(printed), str(IMAGES / picture.name)]
        subprocess.run(command, check=True)


def browsed(browser: Browser, page_file: Path, name: str, wide: int = 1366, high: int = 1060) -> None:
    """A picture of the top of a page in the browser."""
    page = browser.new_page(viewport={"width": wide, "height": high})
    page.goto(page_file.as_uri())
    page.screenshot(path=IMAGES / f"{name}.png")
    page.close()


def _guide(browser: Browser, folder: Path) -> None:
    terminal(browser, "guide-alone", [])
    (folder / "ship.toml").write_text(block(ROOT / "docs" / "guide.md", "toml"), encoding="utf-8")
    made = ["new", "--ship", "Orrin Vale", "--like", "ship.toml", "--out", "new.xlsx"]
    assert CliRunner().invoke(main, made).exit_code == 0
    sheets(folder / "new.xlsx", [Printed("Inventory", "guide-inventory")], folder)
    short = clean()
    short.lot("bucket")["quantity"] = 1
    short.lot("hand flare")["expires"] = date(2026, 12, 31)
    short.rows["ports"] = [
        {"port": "Port Ellery", "arrival": date(2026, 12, 14), "departure": date(2026, 12, 15), "stores": "x"},
        {"port": "Kavorin", "arrival": date(2027, 2, 2), "pyrotechnics": "x", "stores": "x", "liferaft_station": "x"},
    ]
    lines = {"ship": [short.ship], **short.rows}
    marked = {**lines, "inventory": [dict(line) for line in lines["inventory"]]}
    faults: tuple[dict[str, Any], ...] = (
        {"quantity": None},
        {"item": "boat hok"},
        {"condition": "damaged"},
        {"expires": date(2026, 10, 31)},
    )
    for number, changes in enumerate(faults):
        marked["inventory"][number].update(changes)
    (folder / "marked.xlsx").write_bytes(build_book("Orrin Vale", rows=marked, on=DAY))
    sheets(folder / "marked.xlsx", [Printed("Inventory", "workbook-inventory", high=300)], folder)
    (folder / "typed.xlsx").write_bytes(build_book("Orrin Vale", rows=lines, on=DAY))
    upright = {"wide": 661, "dots": 80}
    pages = [
        Printed("Status", "guide-status"),
        Printed("Order dates", "workbook-order", high=330),
        Printed("Charts", "workbook-charts"),
        Printed("Monthly checks", "workbook-monthly", **upright),
        Printed("Ration card", "workbook-ration", **upright),
    ]
    sheets(folder / "typed.xlsx", pages, folder)
    short.save(folder / "orrin-vale.xlsx")
    terminal(browser, "guide-finding", ["check", "orrin-vale.xlsx", *ON], 24)
    clean().save(folder / "orrin-vale.xlsx")
    terminal(browser, "guide-clean", ["check", "orrin-vale.xlsx", *ON], 10)


def _fleet(browser: Browser, folder: Path) -> None:
    returns = folder / "returns"
    returns.mkdir()
    for book in (*(ROOT / "example_books").glob("*.xlsx"), *(ROOT / "example_books").glob("*.ods")):
        shutil.copy(book, returns)
    terminal(browser, "check", ["check", "returns/brannoquay.xlsx", *ON], 40)
    fleet = ["check", "returns", *ON, "--report", "fleet.xlsx", "--report", "fleet.html", "--followups", "to-send"]
    terminal(browser, "guide-fleet", fleet)
    browsed(browser, folder / "fleet.html", "fleet-page")
    sheets(folder / "fleet.xlsx", [Printed("Findings", "fleet-findings", high=520)], folder)
    first = sorted((folder / "to-send").glob("*.xlsx"))[0]
    sheets(first, [Printed("", "fleet-followup", high=460)], folder)


def build() -> None:
    """Every picture but those of the add-in, in a folder of its own."""
    with tempfile.TemporaryDirectory() as name, chdir(name), chromium.running() as browser:
        _guide(browser, Path(name))
        _fleet(browser, Path(name))


if __name__ == "__main__":
    build()
