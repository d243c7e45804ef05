"""Makes docs/images/calc-functions.png: the sheet of examples as a real Calc prints it, with the extension installed.

python -m tests.addins.calc.picture
"""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path

from tests.addins.calc.office import convert, running
from workbook_tools.addins.calc import build
from workbook_tools.addins.calc.example import example_sheet

PICTURE = Path(__file__).parents[3] / "docs" / "images" / "calc-functions.png"
DOTS_PER_INCH = 130


def main() -> None:
    """Install the extension in a profile of its own, print the sheet and make a picture of the page."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with running(folder / "profile") as office:
            office.ask("install", str(build(folder)))
        book = folder / "functions.xlsx"
        example_sheet(book)
        page = convert(folder / "profile", book, "pdf", folder)
        picture = PICTURE.with_suffix("")
        command = ["pdftoppm", "-singlefile", "-png", "-r", str(DOTS_PER_INCH), str(page), str(picture)]
        subprocess.run(command, check=True)


if __name__ == "__main__":
    main()
