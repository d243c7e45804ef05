"""The module that Excel loads through xlwings: every cell function under its own name."""

from importlib import import_module

from workbook_tools.addins.excel.binding import bind

globals().update(bind(import_module("xlwings")))
