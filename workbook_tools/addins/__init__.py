"""Thin bindings of the cell functions to the spreadsheet programs."""
