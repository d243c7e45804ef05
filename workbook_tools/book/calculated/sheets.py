"""Puts the calculated sheets together: which stand where, and in which order they are written."""

from __future__ import annotations

from workbook_tools.book.calculated.calls import write_calls
from workbook_tools.book.calculated.coverage import COLUMNS as COVERAGE_COLUMNS
from workbook_tools.book.calculated.coverage import heaviest_rows, scenario_rows, write_coverage
from workbook_tools.book.calculated.craft import ALL_COLUMNS as CRAFT_COLUMNS
from workbook_tools.book.calculated.craft import service_rows, write_craft
from workbook_tools.book.calculated.crew import COLUMNS as CREW_COLUMNS
from workbook_tools.book.calculated.crew import write_crew
from workbook_tools.book.calculated.dates import COLUMNS as DUE_COLUMNS
from workbook_tools.book.calculated.dates import date_rows, source_rows, write_dates, write_due
from workbook_tools.book.calculated.grid import announce
from workbook_tools.book.calculated.lines import COLUMNS as LINE_COLUMNS
from workbook_tools.book.calculated.lines import WORDS, line_rows, write_lines
from workbook_tools.book.calculated.lists import write_lists
from workbook_tools.book.calculated.lots import COLUMNS as LOT_COLUMNS
from workbook_tools.book.calculated.lots import SPARE, write_lots
from workbook_tools.book.calculated.orders import order_words, write_order_lines, write_orders
from workbook_tools.book.calculated.required import COLUMNS as REQUIRED_COLUMNS
from workbook_tools.book.calculated.required import write_required
from workbook_tools.book.calculated.rule_rows import write_rule_lists, write_rules
from workbook_tools.book.calculated.ship import gate_rows, write_ship
from workbook_tools.book.calculated.status import announce_status, write_status
from workbook_tools.book.calculated.substitutes import write_substitutes
from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.charts import write_charts
from workbook_tools.columns.calculated import (
    CALLS,
    CHARTS,
    COVERAGE,
    CRAFT,
    CREW,
    DATES,
    DUE,
    LINES,
    LISTS,
    LOTS,
    ORDER_LINES,
    ORDERS,
    REQUIRED,
    RULES,
    SHIP,
    STATUS,
    SUBSTITUTES,
)

BEFORE = (STATUS,)  # stand before the sheets that are filled in
AFTER = (REQUIRED, COVERAGE, DUE, ORDERS, CHARTS)
HIDDEN = (LISTS, SHIP, CREW, CRAFT, LOTS, SUBSTITUTES, LINES, DATES, CALLS, ORDER_LINES)


def write_calculated(calc: CalculatedBook) -> None:
    """Write every calculated sheet; all of them stand in the book already, empty."""
    announce_status(calc)
    lists = calc.sheet(LISTS)
    more = write_lists(calc, lists)
    write_rule_lists(more)
    more.table("gate", ("family", "voyages", "gt", "keel", "reference"), gate_rows())
    more.table("raftservice", ("set", "months", "longest"), service_rows())
    more.table("scenario", ("name",), scenario_rows())
    more.table("heaviest", ("set", "row"), heaviest_rows())
    more.table("datesource", ("sheet", "column"), source_rows())
    more.table("orderwords", ("says",), order_words())
    more.table("words", ("says", "remedy"), WORDS)
    write_rules(calc, calc.sheet(RULES))
    announce(calc, LOTS, "lots", LOT_COLUMNS, calc.room["inventory"] + SPARE)
    announce(calc, CRAFT, "craft", CRAFT_COLUMNS, calc.room["craft"])
    announce(calc, LINES, "lines", LINE_COLUMNS, line_rows(calc.room["craft"]))
    announce(calc, REQUIRED, "required", REQUIRED_COLUMNS, line_rows(calc.room["craft"]))
    announce(calc, CREW, "crew", CREW_COLUMNS, calc.room["crew"])
    announce(calc, COVERAGE, "coverage", COVERAGE_COLUMNS, len(scenario_rows()) + calc.room["craft"])
    announce(calc, DUE, "due", DUE_COLUMNS, date_rows(calc.room))
    write_ship(calc, calc.sheet(SHIP))
    write_crew(calc, calc.sheet(CREW))
    write_craft(calc, calc.sheet(CRAFT))
    write_lots(calc, calc.sheet(LOTS))
    write_substitutes(calc, calc.sheet(SUBSTITUTES))
    write_lines(calc, calc.sheet(LINES))
    write_required(calc, calc.sheet(REQUIRED))
    write_coverage(calc, calc.sheet(COVERAGE))
    write_dates(calc, calc.sheet(DATES))
    write_due(calc, calc.sheet(DUE))
    write_calls(calc, calc.sheet(CALLS))
    write_order_lines(calc, calc.sheet(ORDER_LINES))
    write_orders(calc, calc.sheet(ORDERS))
    write_status(calc, calc.sheet(STATUS))
    write_charts(calc, calc.sheet(CHARTS))
    for name in HIDDEN:
        calc.sheet(name).hide()
