"""The workbook contract: every sheet and column, declared once. Standard library only.

From it come the pandera schema, the template's headings and drop-downs, header matching and the data dictionary.
"""

from workbook_tools.columns.calculated import CALCULATED_SHEETS, calculated
from workbook_tools.columns.model import CONTRACT, Column, Sheet
from workbook_tools.columns.sheets import SHEETS, sheet

__all__ = ["CALCULATED_SHEETS", "CONTRACT", "SHEETS", "Column", "Sheet", "calculated", "sheet"]
