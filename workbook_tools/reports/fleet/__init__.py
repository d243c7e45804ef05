"""The audit of a fleet as something to act on: a workbook, a page, and a list for each ship."""
