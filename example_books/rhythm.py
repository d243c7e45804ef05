"""What comes round on every ship of the fleet, and the days on which it was done. No interval is taken from the rules.

The books are kept from August 2026 to the first of March 2027: an audit of an earlier day does not look at later lines.
"""

from __future__ import annotations

from datetime import date

from example_books.plan import Line, by_day, held, weekly

# Sundays from the first of August 2026 to the last of February 2027, and the tenth of each month.
FIRST, LAST = date(2026, 8, 2), date(2027, 2, 28)
TENTHS = "2026-08-10 2026-09-10 2026-10-10 2026-11-10 2026-12-10 2027-01-10 2027-02-10"
EVERY_OTHER_MONTH = "2026-08-20 2026-10-20 2026-12-18 2027-02-12"
# The tenth and the twenty-fourth: drills twice a month.
DRILLS = (
    "2026-08-10 2026-08-24 2026-09-10 2026-09-24 2026-10-10 2026-10-24 2026-11-10 2026-11-24 2026-12-10 2026-12-24 "
    "2027-01-10 2027-01-24 2027-02-10 2027-02-24"
)


def inspections_and_tests(*, by: str = "Third officer", engineer: str = "Second engineer") -> list[Line]:
    """The weekly and monthly rounds, and the fittings of the ship tried."""
    return by_day(
        weekly("weekly inspection", FIRST, LAST, by=by),
        weekly("engine run", FIRST, LAST, by=engineer),
        weekly("general alarm test", FIRST, LAST, by=by),
        weekly("fire weekly inspection", FIRST, LAST, by=by),
        weekly("emergency generator run", FIRST, LAST, by=engineer),
        held("monthly inspection", TENTHS, by=by),
        held("fire monthly inspection", TENTHS, by=by),
        held("emergency lights tried", TENTHS, by="Electrician"),
        held("suits inspected", TENTHS, by=by),
        held("SART inspected", TENTHS, by=by),
        held("instruction in appliances", TENTHS, by=by),
        held("fire quarterly inspection", "2026-08-30 2026-10-20 2027-01-10", by="Chief officer"),
        held("fire annual inspection", "2026-09-18", by="Chief officer", remarks="with the firm's technician"),
        held("quick-closing valves tried", "2026-08-20 2026-12-18", by=engineer),
        held("remote stops tried", "2026-08-20 2026-12-18", by=engineer),
        held("steering drill", "2026-08-20 2026-10-20 2027-01-10", by="Master"),
    )


def drills(*, present: str = "all") -> list[Line]:
    """Drills of a cargo ship."""
    return by_day(
        held("abandon ship drill", DRILLS, present=present, by="Master"),
        held("fire drill", DRILLS, present=present, by="Chief officer"),
        held("enclosed space drill", EVERY_OTHER_MONTH, present=present, by="Chief officer"),
    )
