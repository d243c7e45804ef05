"""xlwings' own server object, over stand-ins for the COM modules of Windows, for the tests of this folder."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module

import pytest

from tests.addins.excel.excel import Excel
from workbook_tools.addins.excel.standins import ExcelWorkbook, xlwings_over_standins


@pytest.fixture(scope="module")
def excel() -> Iterator[Excel]:
    """What Excel's VBA talks to."""
    with xlwings_over_standins():
        server = import_module("xlwings.com_server").XLPython()
        yield Excel(server, ExcelWorkbook("book.xlsx"))
