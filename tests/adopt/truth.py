"""Compares a carried workbook with the truth of its layout."""

from __future__ import annotations

from collections import Counter

from tests.adopt.layouts.layout import Layout
from workbook_tools.adopt import Carried


def lots_of(carried: Carried) -> Counter[tuple[object, ...]]:
    """The lots carried over: place, item, quantity, last good day."""
    keys = ("place", "item", "quantity", "expires")
    return Counter(tuple(record.values.get(key) for key in keys) for record in carried.rows.get("inventory", []))


def agrees(carried: Carried, layout: Layout) -> None:
    """Fail where lots, craft, ship or numbers of lines are not those of the truth."""
    assert lots_of(carried) == Counter(tuple(lot) for lot in layout.lots)
    if layout.craft:
        craft = Counter((one.values.get("name"), one.values.get("kind")) for one in carried.rows.get("craft", []))
        assert craft == Counter(layout.craft)
    assert carried.ship.values == layout.ship
    assert {key: len(carried.rows.get(key, [])) for key in layout.counts} == layout.counts
