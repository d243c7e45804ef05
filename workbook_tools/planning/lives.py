"""How long a new lot of an item is taken to last."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from workbook_tools import catalogue
from workbook_tools.rules.model import STATUSES
from workbook_tools.strictcsv import read


@dataclass(frozen=True, slots=True)
class Life:
    """How many months a new lot of an item is taken to last from the day it comes on board."""

    item: str
    months: int
    reference: str
    status: str
    note: str


@cache
def lives() -> dict[str, Life]:
    """The life of a new lot by item; an item without a date has none."""
    found: dict[str, Life] = {}
    path = Path(__file__).with_name("lives.csv")
    for line in read(path, ("item", "months", "reference", "status", "note")):
        item = line.choice("item", tuple(catalogue.items()))
        months = line.number_or_none("months")
        if months is None or months < 1 or item in found:
            raise line.error("months is missing, or the item stands here a second time")
        status = line.choice("status", STATUSES)
        found[item] = Life(item, int(months), line.text("reference"), status, line.cells["note"])
    return found
