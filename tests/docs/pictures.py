"""Makes the pictures of docs/guide.md from what the program really prints and writes: python -m tests.docs.pictures."""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from contextlib import chdir
from datetime import date
from pathlib import Path

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
HIGH = 640  # pixels kept of a printed page, from its top
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


def sheets(book: Path, pictures: dict[str, str], folder: Path) -> None:
    """Pictures of the first printed page of sheets, by a real LibreOffice; pictures: name of the file by sheet."""
    profile = (folder / "profile").as_uri()
    command = ["soffice", f"-env:UserInstallation={profile}", "--headless", "--convert-to", "pdf"]
    subprocess.run([*command, "--outdir", str(folder), str(book)], check=True, capture_output=True)
    printed = folder / f"{book.stem}.pdf"
    done = subprocess.run(["pdftotext", "-layout", str(printed), "-"], check=True, capture_output=True, text=True)
    firsts = [page.strip().split("\n")[0].split("   ")[0].strip() for page in done.stdout.split("\f")]
    for sheet, name in pictures.items():
        number = str(firsts.index(sheet) + 1)
        options = ["-singlefile", "-png", "-r", str(DOTS_PER_INCH), "-f", number, "-l", number, "-x", "0", "-y", "0"]
        options += ["-W", "1290", "-H", str(HIGH)]
        subprocess.run(["pdftoppm", *options, str(printed), str(IMAGES / name)], check=True)


def build() -> None:
    """Every picture, in a folder of its own."""
    with tempfile.TemporaryDirectory() as name, chdir(name), chromium.running() as browser:
        folder = Path(name)
        terminal(browser, "guide-alone", [])
        (folder / "ship.toml").write_text(block(ROOT / "docs" / "guide.md", "toml"), encoding="utf-8")
        made = ["new", "--ship", "Orrin Vale", "--like", "ship.toml", "--out", "new.xlsx"]
        assert CliRunner().invoke(main, made).exit_code == 0
        sheets(folder / "new.xlsx", {"Inventory": "guide-inventory"}, folder)
        short = clean()
        short.lot("bucket")["quantity"] = 1
        short.lot("hand flare")["expires"] = date(2026, 12, 31)
        lines = {"ship": [short.ship], **short.rows}
        (folder / "typed.xlsx").write_bytes(build_book("Orrin Vale", rows=lines, on=DAY))
        sheets(folder / "typed.xlsx", {"Status": "guide-status"}, folder)
        short.save(folder / "orrin-vale.xlsx")
        terminal(browser, "guide-finding", ["check", "orrin-vale.xlsx", *ON], 24)
        clean().save(folder / "orrin-vale.xlsx")
        terminal(browser, "guide-clean", ["check", "orrin-vale.xlsx", *ON], 10)
        (folder / "returns").mkdir()
        for book in (*(ROOT / "example_books").glob("*.xlsx"), *(ROOT / "example_books").glob("*.ods")):
            shutil.copy(book, folder / "returns")
        fleet = ["check", "returns", *ON, "--report", "fleet.xlsx", "--report", "fleet.html", "--followups", "to-send"]
        terminal(browser, "guide-fleet", fleet)


if __name__ == "__main__":
    build()
