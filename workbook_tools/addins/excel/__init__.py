"""The cell functions in Excel, through the BSD part of xlwings."""
