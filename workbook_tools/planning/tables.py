"""The tables of planning: how long a new lot lasts, who supplies what, who does which service."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from workbook_tools import catalogue
from workbook_tools.columns.ports import OFFERS
from workbook_tools.rules.model import STATUSES
from workbook_tools.strictcsv import read

_FOLDER = Path(__file__).parent
ON_BOARD = "on board"  # what the crew does at sea


@dataclass(frozen=True, slots=True)
class Life:
    """How many months a new lot of an item is taken to last from the day it comes on board."""

    item: str
    months: int
    reference: str
    status: str
    note: str


@dataclass(frozen=True, slots=True)
class ServiceSupplier:
    """Who does a service, and whether the thing goes ashore for it."""

    supplier: str
    ashore: bool


@cache
def lives() -> dict[str, Life]:
    """The life of a new lot by item; an item without a date has none."""
    found: dict[str, Life] = {}
    for line in read(_FOLDER / "lives.csv", ("item", "months", "reference", "status", "note")):
        item = line.choice("item", tuple(catalogue.items()))
        months = line.number_or_none("months")
        if months is None or months < 1 or item in found:
            raise line.error("months is missing, or the item stands here a second time")
        status = line.choice("status", STATUSES)
        found[item] = Life(item, int(months), line.text("reference"), status, line.cells["note"])
    return found


@cache
def _suppliers() -> dict[str, str]:
    lines = read(_FOLDER / "suppliers.csv", ("group", "supplier", "note"))
    return {line.text("group"): line.choice("supplier", OFFERS) for line in lines}


def supplier_of(item: str) -> str:
    """Who supplies an item of the catalogue: a column of the Ports sheet."""
    suppliers = _suppliers()
    return suppliers.get(catalogue.items()[item].group, suppliers["*"])


@cache
def service_suppliers() -> dict[str, ServiceSupplier]:
    """Who does each service, by the item of its rule."""
    found = {}
    for line in read(_FOLDER / "service_suppliers.csv", ("service", "supplier", "ashore", "note")):
        supplier = line.choice("supplier", (*OFFERS, ON_BOARD))
        found[line.text("service")] = ServiceSupplier(supplier, line.choice("ashore", ("yes", "no")) == "yes")
    return found
