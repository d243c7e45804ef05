"""python -m workbook_tools."""

from workbook_tools.cli import main

main()
