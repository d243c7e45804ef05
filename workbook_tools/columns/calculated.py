"""The sheets that the workbook calculates itself. They are never read as a record."""

from collections.abc import Iterable

STATUS, REQUIRED, COVERAGE, DUE, RULES = "Status", "Required", "Coverage", "Due", "Rules"
# Hidden: what the visible ones look up.
LISTS, CRAFT, LOTS, LINES, DATES = "calc lists", "calc craft", "calc lots", "calc lines", "calc dates"
MONTHLY, MUSTER, RATIONS, HANDOVER, ARRIVAL = (
    "Monthly checks",
    "Muster list",
    "Ration card",
    "Handover page",
    "Arrival page",
)
ORDERS = "Order dates"
PAGES = "calc pages"  # hidden: what the printed pages look up

CALCULATED_SHEETS = (
    *(STATUS, REQUIRED, COVERAGE, DUE, RULES),
    *(MONTHLY, MUSTER, RATIONS, HANDOVER, ARRIVAL, ORDERS),
    *(LISTS, CRAFT, LOTS, LINES, DATES, PAGES),
)


def calculated(names: Iterable[str]) -> frozenset[str]:
    """Which of a book's sheets it calculates itself: none in a book that has not our hidden sheets.

    A book of somebody else's may keep its record on a sheet called Status.
    """
    own = set(names)
    return frozenset(own & set(CALCULATED_SHEETS)) if LINES in own else frozenset()
