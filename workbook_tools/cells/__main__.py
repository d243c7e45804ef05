"""Writes docs/functions.md anew."""

from pathlib import Path

from workbook_tools.cells.page import page

PAGE = Path(__file__).parents[2] / "docs" / "functions.md"

if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
