"""Every kind of service of the clean ship, each in time from November 2026 to June 2027."""

from __future__ import annotations

from datetime import date, timedelta

from tests.workbooks import Workbook

LAST = date(2026, 10, 20)
FIVE_YEARLY = date(2024, 5, 10)
BOATS = ("Lifeboat 1", "Lifeboat 2")
OF_A_BOAT = (
    ("falls renewed", FIVE_YEARLY, "crew"),
    ("launching appliance annual examination", LAST, "authorized provider"),
    ("winch brake annual test", LAST, "authorized provider"),
    ("launching appliance five-year test", FIVE_YEARLY, "authorized provider"),
    ("release gear annual examination", LAST, "maker"),
    ("release gear five-year overhaul", FIVE_YEARLY, "maker"),
)
OF_THE_SHIP = (
    ("Lifejackets 1-6", "inflatable lifejackets serviced", LAST, "servicing station"),
    ("Evacuation system", "marine evacuation system serviced", LAST, "servicing station"),
    ("Evacuation system", "marine evacuation system deployed", FIVE_YEARLY, "servicing station"),
    ("Suit 1", "immersion suit pressure test", date(2025, 5, 10), "competent person"),
    ("EPIRB", "EPIRB annual test", LAST, "competent person"),
    ("EPIRB", "EPIRB shore maintenance", FIVE_YEARLY, "servicing station"),
    ("CO2 system", "CO2 system annual inspection", LAST, "competent person"),
    ("CO2 system", "CO2 contents checked", LAST, "competent person"),
    ("CO2 system", "CO2 control valves inspected", FIVE_YEARLY, "competent person"),
    ("CO2 system", "CO2 cylinders pressure-tested", date(2022, 5, 10), "competent person"),
    ("CO2 system", "CO2 flexible hoses renewed", date(2022, 5, 10), "competent person"),
    ("Paint store gas", "fixed gas cylinders pressure-tested", date(2022, 5, 10), "competent person"),
    ("Dry powder", "dry powder system serviced", LAST, "competent person"),
    ("Fire hoses", "fire hoses tested", LAST, "crew"),
    ("Fire pumps", "fire pumps flow-tested", LAST, "crew"),
    ("BA 1-4", "breathing apparatus serviced", LAST, "competent person"),
    ("BA cylinders", "breathing apparatus cylinders pressure-tested", FIVE_YEARLY, "competent person"),
    ("Foam", "foam concentrate analysed", LAST, "competent person"),
    ("Detection", "fire detection annual test", LAST, "crew"),
    ("Sprinkler", "sprinkler heads tested", LAST, "competent person"),
)


def fill(book: Workbook) -> None:
    """Add the lines, the anniversary of the surveys, and what tells whether a rule applies."""
    book.ship.setdefault("anniversary", date(2020, 11, 5))
    for line in book.rows["craft"]:
        if line["kind"] == "liferaft":
            line.setdefault("made", date(2024, 3, 1))
        else:
            line.setdefault("air_support", "no")
    for boat in BOATS:
        for service, done, by in OF_A_BOAT:
            book.add("servicing", appliance=boat, service=service, done=done, done_by=by, certificate="D-7")
    for appliance, service, done, by in OF_THE_SHIP:
        book.add("servicing", appliance=appliance, service=service, done=done, done_by=by)
    for raft in ("Raft P", "Raft S"):
        test = "liferaft gas inflation test"
        book.add("servicing", appliance=raft, service=test, done=FIVE_YEARLY, done_by="servicing station")
    # The look every thirty days; entries after the day asked are no evidence and do no harm.
    for number in range(10):
        day = LAST + timedelta(days=25 * number)
        book.add("servicing", appliance="CO2 system", service="CO2 system inspected", done=day, done_by="crew")
