"""The printable pages of the workbook: made of native formulas, from what stands on the other sheets."""

from __future__ import annotations

from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.printed.arrival import write_arrival
from workbook_tools.book.printed.handover import write_handover
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.monthly import write_monthly
from workbook_tools.book.printed.muster import write_muster
from workbook_tools.book.printed.paper import PaperFormats
from workbook_tools.book.printed.rations import write_rations
from workbook_tools.book.printed.sources import write_sources
from workbook_tools.book.printed.tables import write_fittings, write_policies, write_tasks
from workbook_tools.columns.calculated import ARRIVAL, HANDOVER, MONTHLY, MUSTER, PAGES, RATIONS

# The sheets, in the order in which they stand in the book; the hidden one after them.
PRINTED = (MONTHLY, MUSTER, RATIONS, HANDOVER, ARRIVAL)
HIDDEN = (PAGES,)

__all__ = ["HIDDEN", "PRINTED", "write_pages"]


def write_pages(calc: CalculatedBook) -> None:
    """Write the printed pages; they stand in the book already, empty, and the calculated sheets are written.

    Needs calc.names of the sheets of ship, craft and lots, of Required, and "date asked".
    """
    helpers, formats = HelperSheet(calc), PaperFormats(calc.book)
    write_policies(helpers)
    write_fittings(helpers)
    write_tasks(helpers)
    write_sources(helpers)
    write_monthly(helpers, formats)
    write_muster(helpers, formats)
    write_rations(helpers, formats)
    write_handover(helpers, formats)
    write_arrival(helpers, formats)
    helpers.page.protect("")
    helpers.page.hide()
