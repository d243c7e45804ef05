"""The lines of our Craft sheet: lines of the same craft are one, and a craft that is only named gets a line."""

from __future__ import annotations

from workbook_tools.adopt.convert import shown
from workbook_tools.adopt.drafts import Record
from workbook_tools.adopt.fates import Account
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import PlaceMap
from workbook_tools.adopt.source import Place

# Where a craft is named: sheet and column.
_NAMED_IN = (("inventory", "place"), ("crew", "craft"), ("servicing", "appliance"))


def craft_lines(rows: dict[str, list[Record]], places: list[PlaceMap], account: Account) -> list[Record]:
    """One line for each craft."""
    merged: dict[str, Record] = {}
    for record in rows.get("craft", []):
        _merge(merged.setdefault(fold(str(record.values.get("name", ""))), Record()), record, account)
    named = _first_named(rows)
    for place in places:
        name = fold(place.match.to)
        if place.kind and (name in named or name in merged):
            record = merged.setdefault(name, Record({"name": place.match.to}))
            if name in named:
                record.places.setdefault("name", named[name])
            record.values.setdefault("kind", place.kind)
            if place.side:
                record.values.setdefault("side", place.side)
    return list(merged.values())


def _first_named(rows: dict[str, list[Record]]) -> dict[str, Place]:
    """The cell that names each craft or place first; of a whole table's craft the first cell of its first line."""
    found: dict[str, Place] = {}
    for key, column in _NAMED_IN:
        for record in rows.get(key, []):
            place = record.places.get(column) or next(iter(record.places.values()), None)
            if place is not None and column in record.values:
                found.setdefault(fold(str(record.values[column])), place)
    return found


def _merge(into: Record, record: Record, account: Account) -> None:
    """Add a line to the craft's line; where they differ the first one stands and the other's cell is listed."""
    for key, value in record.values.items():
        if key not in into.values or into.values[key] == value:
            into.values.setdefault(key, value)
            if key in record.places and into.places.setdefault(key, record.places[key]) != record.places[key]:
                account.carry(record.places[key], f"craft.{key}", "said again")
        elif key == "remarks":
            into.values[key] = f"{into.values[key]}; {value}"
        elif key in record.places:
            name, said = into.values.get("name"), shown(into.values[key])
            account.take_back(record.places[key], f"craft.{key}", f"another line of {name} says {said}")
    into.unclear |= record.unclear
