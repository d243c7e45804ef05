"""python -m workbook_tools.book: writes the template and the data dictionary anew, from a checkout of the project."""

from pathlib import Path

from workbook_tools.book import TEMPLATE_DAY, build
from workbook_tools.handbook import data_dictionary

ROOT = Path(__file__).parents[2]

if __name__ == "__main__":
    (ROOT / "templates" / "ship_workbook.xlsx").write_bytes(build("", on=TEMPLATE_DAY))
    (ROOT / "docs" / "data-dictionary.md").write_text(data_dictionary(), encoding="utf-8")
