"""Ranks, certificates, muster duties and substitutes of the clean book's twelve persons."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.workbooks import Workbook

# Passenger-only duties are there too, so that a case on a passenger ship finds the muster list in order.
DUTIES = {
    "1": "in command",
    "2": "close doors and valves",
    "3": "equip survival craft",
    "4": "prepare and launch craft",
    "5": "prepare other appliances",
    "6": "muster passengers",
    "7": "fire party",
    "8": "communications",
    "9": "special fire duties",
    "10": "damage control",
    "11": "fire party",
    "12": "none",
}
RANKS = {"1": "master", "2": "third officer", "7": "chief officer", "8": "second officer"}
CERTIFICATED = ("1", "2", "3", "7", "8", "9")


def fill(book: Workbook) -> None:
    """Give everybody papers in date and a duty, and the one in command a substitute."""
    book.ship["head_count"] = "by complement"
    for line in book.rows["crew"]:
        number = line["number"]
        line.update(
            muster_duty=DUTIES[number],
            medical_expires=date(2028, 5, 31),
            refreshed=date(2024, 9, 15),
        )
        line["rank"] = RANKS.get(number, "rating")
        if number in CERTIFICATED:
            line["certificate"] = "Survival craft"
    book.find("crew", number="7").update(certificate_expires=date(2029, 3, 1), substitute_for="1")
