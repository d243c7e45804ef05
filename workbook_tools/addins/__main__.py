"""python -m workbook_tools.addins: writes the template for Excel 365, from a checkout of the project."""

from pathlib import Path

from workbook_tools.addins.lambda_names import write_names
from workbook_tools.book import TEMPLATE_DAY, build

TEMPLATE = Path(__file__).parents[2] / "templates" / "ship_workbook_excel365.xlsx"


def excel365_template() -> bytes:
    """The workbook with the cell functions as LAMBDA names: for Excel 365 only, see docs/functions.md."""
    return build("", on=TEMPLATE_DAY, more_names=write_names)


if __name__ == "__main__":
    TEMPLATE.write_bytes(excel365_template())
