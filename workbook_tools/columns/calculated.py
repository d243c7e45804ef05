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
CHARTS = "Charts"
SHIP, SUBSTITUTES, CREW = "calc ship", "calc substitutes", "calc crew"
CALLS, ORDER_LINES = "calc calls", "calc orders"
PAGES = "calc pages"  # hidden: what the printed pages look up

# What a line of Required says: a sign and a word, so that no colour is needed.
ENOUGH, BY_CERTIFICATE, LAPSES, EXPIRED, SHORT, SEE_CHECK, OPEN = (
    "● enough",
    "● by certificate",
    "▲ lapses",
    "■ EXPIRED",
    "■ SHORT",
    "◇ see check",
    "○ not evaluated",
)

# What a line of Coverage and of Due says.
EVERYONE, LEFT_OUT = "● a place for everyone", "■ PERSONS LEFT OUT"
PAST, DUE_SOON, IN_DATE = "■ past", "▲ due", "● in date"

# What a line of Order dates says.
SHORT_NOW, NO_CALL_SERVICE, NO_CALL_LOT = "■ short now", "■ no call in time", "▲ no call in time"
SEND_AT_ONCE, SEND_SOON, SEND_LATER = "▲ send at once", "▲ send soon", "● time left"

CALCULATED_SHEETS = (
    *(STATUS, REQUIRED, COVERAGE, DUE, ORDERS, CHARTS, RULES),
    *(MONTHLY, MUSTER, RATIONS, HANDOVER, ARRIVAL),
    *(LISTS, SHIP, CREW, CRAFT, LOTS, SUBSTITUTES, LINES, DATES, CALLS, ORDER_LINES, PAGES),
)


def calculated(names: Iterable[str]) -> frozenset[str]:
    """Which of a book's sheets it calculates itself: none in a book that has not our hidden sheets.

    A book of somebody else's may keep its record on a sheet called Status.
    """
    own = set(names)
    return frozenset(own & set(CALCULATED_SHEETS)) if LINES in own else frozenset()
