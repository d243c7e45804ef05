"""Who supplies what, and who does which service: the offers of a call, as the Ports sheet names them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from workbook_tools import catalogue
from workbook_tools.columns.ports import OFFERS
from workbook_tools.strictcsv import read

_FOLDER = Path(__file__).parent
ON_BOARD = "on board"  # what the crew does at sea

# What a supplier is called in a plan.
SUPPLIER_WORDS = {
    "stores": "ship's stores",
    "pyrotechnics": "pyrotechnics supplier",
    "liferaft_station": "approved liferaft servicing station",
    "extinguisher_service": "extinguisher and fire service",
    "boat_provider": "authorized service provider for boats",
    "radio_service": "radio service",
}


def offer_number(offer: str) -> int:
    """The number of an offer, counted from 1 in the order of OFFERS. Raises ValueError for what is none."""
    return OFFERS.index(offer) + 1


@dataclass(frozen=True, slots=True)
class ServiceSupplier:
    """Who does a service, and whether the thing goes ashore for it."""

    supplier: str
    ashore: bool


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
