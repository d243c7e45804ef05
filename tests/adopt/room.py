"""A book with little room, which is made faster than one with room for years."""

from workbook_tools.columns import SHEETS

SMALL = {contract.key: 30 for contract in SHEETS if contract.layout == "table"}
