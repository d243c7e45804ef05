"""The cell functions in LibreOffice Calc: builds the extension davitbook.oxt."""

from workbook_tools.addins.calc.package import build

__all__ = ["build"]
