"""The sheets that the workbook calculates itself, by native formulas that look up generated tables."""
