"""The fire appliances of the clean ship: a dry cargo ship of 98 m and 5,200 gross tonnage."""

from __future__ import annotations

from datetime import date

from tests.workbooks import Workbook

SERVICED = date(2026, 10, 20)
EXTINGUISHERS = (
    {"number": "FE 1-8", "agent": "foam", "size": "9 L", "quantity": 8, "rechargeable": "yes", "made": 2023},
    {"number": "FE 9-12", "agent": "powder", "size": "6 kg", "quantity": 4, "rechargeable": "yes", "made": 2020},
    {"number": "FE 13-15", "agent": "CO2", "size": "5 kg", "quantity": 3, "rechargeable": "no", "made": 2023},
)
SPARE = {"number": "FE 16-18", "agent": "CO2", "size": "5 kg", "quantity": 3, "rechargeable": "no", "made": 2023}
OTHERS = (
    ("fire-fighter's outfit", 2),
    ("breathing apparatus spare cylinder", 4),
    ("EEBD", 2),
    ("EEBD spare", 1),
    ("EEBD in machinery space", 3),
    ("fire hose", 5),
    ("fire hose spare", 1),
    ("engine room fire hose", 2),
    ("nozzle", 7),
    ("international shore connection", 1),
    ("fire-fighter radio", 2),
    ("atmosphere-testing instrument", 1),
    ("fire control plan", 2),
)


def fill(book: Workbook) -> None:
    """Add the appliances, and what tells whether a rule applies."""
    book.ship.setdefault("dangerous_goods", "no")
    book.ship.setdefault("recharging_plant", "no")
    tests = {"serviced": SERVICED, "discharged": date(2024, 5, 10), "pressure_tested": date(2023, 5, 10)}
    for line in EXTINGUISHERS:
        book.add("fire", kind="portable extinguisher", **line, **tests)
    book.add("fire", kind="portable extinguisher", **SPARE, **tests, condition="spare")
    book.add("fire", kind="spare charge", agent="foam", size="9 L", quantity=8)
    book.add("fire", kind="spare charge", agent="powder", size="6 kg", quantity=4)
    for kind, quantity in OTHERS:
        book.add("fire", kind=kind, quantity=quantity)
    book.add("fire", kind="foam concentrate", quantity=1, made=2022, remarks="PFOS-free by declaration")
