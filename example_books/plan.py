"""What a book of the example fleet holds, before it is a file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from workbook_tools.columns import Sheet, sheet

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")

Line = dict[str, Any]  # column key (or a heading of the ship's own) -> what somebody typed

# A line that stands for the headings printed a second time, as long lists have them on every page.
HEADINGS_AGAIN: Line = {"headings": "again"}


# The sheets and columns of a book, in the template's order. A ship need not keep every column there is; and what is
# written here stays where it is when the template gains another.
USUAL: dict[str, tuple[str, ...]] = {
    "ship": (
        "name", "imo_number", "flag", "company", "ship_type", "gross_tonnage", "length_m", "keel_laid", "voyage",
        "persons_certified", "persons_on_board", "rule_set", "record_date", "kept_by",
    ),
    "craft": (
        "name", "kind", "construction", "side", "purpose", "persons", "pack", "stowage_height_m", "sart_stowed",
        "transferable", "mass_kg", "drop_tested_higher", "self_bailing", "painter_m", "serial", "certificate",
        "serviced", "service_granted_until", "earliest_content", "remarks",
    ),
    "crew": (
        "number", "rank", "name", "craft", "duty", "certificate", "certificate_expires", "joined", "remarks",
    ),
    "inventory": (
        "place", "item", "asked", "quantity", "unit", "content", "content_unit", "batch", "made", "expires",
        "condition", "remarks",
    ),
    "servicing": (
        "appliance", "service", "done", "done_by", "certificate", "next_due",
    ),
    "routine": ("day", "task", "subject", "result", "present", "by", "remarks"),
    "fire": (
        "number", "kind", "agent", "size", "quantity", "place", "rechargeable", "made", "serviced", "discharged",
        "pressure_tested", "condition", "remarks",
    ),
    "defects": ("subject", "fitting", "wrong", "since", "by", "closed", "remarks"),
    "follow_up": ("finding", "order", "port", "expected", "reported_to", "interim", "closed", "remarks"),
    "ports": (
        "port", "arrival", "departure", "stores", "pyrotechnics", "liferaft_station", "exchange_raft",
        "extinguisher_service", "boat_provider", "radio_service", "lead_days", "raft_days",
    ),
    "certificates": ("certificate", "number", "issued", "until", "place"),
    "record_of_equipment": ("entry", "figure", "remarks"),
    "exemptions": ("rule", "subject", "authority", "reference", "until", "condition"),
}  # fmt: skip

# Sheets that a book has only where it has lines for them.
MAY_BE_ABSENT = ("servicing", "routine", "fire", "defects", "follow_up", "ports", "certificates", "record_of_equipment")

# Columns that a book has only where one of its lines fills them: they stand before the remarks, on the Ship form at
# the end.
WHERE_FILLED: dict[str, tuple[str, ...]] = {
    "ship": (
        "passengers", "children", "infants", "passengers_certified", "watch_stations", "voyage_under_24h",
        "warm_routes", "far_stem_or_stern", "toxic_cargo", "low_flash_cargo", "dangerous_goods", "recharging_plant",
        "fire_zones", "passenger_length_m", "departed", "next_departure", "voyage_ends", "anniversary",
        "deadline_counting", "spare_charge_counting", "head_count",
    ),
    "craft": ("person_mass_kg", "made", "hooks_compliant", "fall_preventers", "fire_protected", "air_support"),
    "crew": (
        "refreshed", "medical_expires", "muster_duty", "substitute_for", "enters_spaces", "size",
    ),
    "inventory": ("wearer_size", "side"),
    "servicing": ("firm", "interval", "granted_until", "grant_reference", "serial", "remarks"),
    "fire": ("serial",),
    "ports": ("remarks",),
    "certificates": ("remarks",),
}  # fmt: skip


@dataclass(frozen=True)
class Formula:
    """A cell with a formula, and the value that it shows."""

    text: str
    shows: float | str | date


@dataclass(frozen=True)
class Layout:
    """How a book differs from the template: names and order of sheets, lines at the top, columns, headings.

    sheets: key and name of each sheet in the order of the tabs; empty: the usual ones under the template's names.
    top: lines above the headings; None: title and help as in the template.
    columns: keys of a sheet's columns in order, where they are not the usual ones; a key that is none of the
    contract's is a heading of the ship's own.
    headings: other headings, by sheet key and column key.
    """

    sheets: tuple[tuple[str, str], ...] = ()
    top: tuple[str, ...] | None = None
    columns: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    headings: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def heading(self, sheet_key: str, column: str) -> str:
        """The heading as written: the contract's, another one it goes by, or the ship's own."""
        other = self.headings.get((sheet_key, column))
        if other is not None:
            return other
        contract = sheet(sheet_key)
        known = {entry.key: entry.title for entry in contract.columns}
        return known.get(column, column)

    def top_lines(self, contract: Sheet) -> tuple[str, ...]:
        """The lines above the headings: title and help."""
        if self.top is not None:
            return self.top
        return (contract.name, f"{contract.help} A star: must be filled.")


@dataclass(frozen=True)
class Plan:
    """One book: its file name, the answers of the Ship sheet, and the lines of every table."""

    file: str
    about: str
    ship: Line
    craft: list[Line]
    crew: list[Line]
    inventory: list[Line]
    exemptions: list[Line] = field(default_factory=list)
    servicing: list[Line] = field(default_factory=list)
    routine: list[Line] = field(default_factory=list)
    fire: list[Line] = field(default_factory=list)
    defects: list[Line] = field(default_factory=list)
    follow_up: list[Line] = field(default_factory=list)
    ports: list[Line] = field(default_factory=list)
    certificates: list[Line] = field(default_factory=list)
    record_of_equipment: list[Line] = field(default_factory=list)
    own_sheets: Mapping[str, list[list[Any]]] = field(default_factory=dict)  # sheets of the ship's own: rows of cells
    layout: Layout = field(default_factory=Layout)

    def lines(self, sheet_key: str) -> list[Line]:
        """The lines of a table; the Ship form as one line."""
        if sheet_key == "ship":
            return [self.ship]
        lines: list[Line] = getattr(self, sheet_key)
        return lines

    def sheet_names(self) -> dict[str, str]:
        """Sheet keys in the order of the tabs, with the names on them."""
        if self.layout.sheets:
            return dict(self.layout.sheets)
        return {key: sheet(key).name for key in USUAL if key not in MAY_BE_ABSENT or self.lines(key)}

    def column_keys(self, contract: Sheet) -> tuple[str, ...]:
        """The columns of a sheet, or the labels of a form, in the order written."""
        if contract.key in self.layout.columns:
            return self.layout.columns[contract.key]
        usual = USUAL[contract.key]
        filled = tuple(
            key
            for key in WHERE_FILLED.get(contract.key, ())
            if any(line.get(key) is not None for line in self.lines(contract.key))
        )
        return (*usual[:-1], *filled, usual[-1]) if usual[-1] == "remarks" else (*usual, *filled)


def lot(place: str, item: str, quantity: Any, **rest: Any) -> Line:
    """One line of the Inventory."""
    return {"place": place, "item": item, "quantity": quantity, **rest}


def written(text: str, *keys: str) -> list[Line]:
    """Lines written as a table, cells parted by |; an empty cell, or one missing at the end of a line, is empty.

    A day (2026-11-25) becomes a date and a whole number a number, but in columns whose name ends in * (which is left
    out): these stay as typed.
    """
    lines = []
    for row in filter(None, (row.strip() for row in text.splitlines())):
        cells = [cell.strip() for cell in row.split("|")]
        if len(cells) > len(keys):
            raise ValueError(f"more cells than columns: {row}")
        lines.append({key.rstrip("*"): _cell(key, cell) for key, cell in zip(keys, cells, strict=False) if cell})
    return lines


def _cell(key: str, text: str) -> Any:
    if key.endswith("*"):
        return text
    if text.isdecimal():
        return int(text)
    return date.fromisoformat(text) if _DAY.fullmatch(text) else text


def crew_list(text: str) -> list[Line]:
    """A crew list written as a table: number | rank | name | craft | duty | certificate | valid until | joined."""
    return written(text, "number*", "rank", "name", "craft", "duty", "certificate", "certificate_expires", "joined")


def papers(crew: list[Line], text: str) -> None:
    """Add to a crew list, by number: number | medical until | training evidence | muster duty | substitute for | size.

    A number that is not in the list is a mistake: KeyError.
    """
    by_number = {line["number"]: line for line in crew if "number" in line}
    columns = ("number*", "medical_expires", "refreshed", "muster_duty", "substitute_for*", "size")
    for line in written(text, *columns):
        by_number[line["number"]].update(line)


def services(text: str) -> list[Line]:
    """Servicing lines written as a table: appliance | service | last done | by | certificate | next due."""
    return written(text, "appliance", "service", "done", "done_by", "certificate*", "next_due")


def appliances(text: str) -> list[Line]:
    """Fire appliances: number | kind | type | size | quantity | place | rechargeable | made | serviced | discharged
    | pressure-tested | condition | remarks."""
    return written(
        text, "number*", "kind", "agent", "size", "quantity", "place", "rechargeable", "made", "serviced", "discharged",
        "pressure_tested", "condition", "remarks",
    )  # fmt: skip


def port_calls(text: str) -> list[Line]:
    """Planned calls: port | arrival | departure | offers | lead time | days of a raft ashore.

    offers: words, each of which puts an x into its column (stores flares rafts exchange fire boats radio).
    """
    lines = written(text, "port", "arrival", "departure", "offers", "lead_days", "raft_days")
    for line in lines:
        line.update({_OFFERS[word]: "x" for word in line.pop("offers", "").split()})
    return lines


_OFFERS = {
    "stores": "stores",
    "flares": "pyrotechnics",
    "rafts": "liferaft_station",
    "exchange": "exchange_raft",
    "fire": "extinguisher_service",
    "boats": "boat_provider",
    "radio": "radio_service",
}


def held(task: str, days: str, **rest: Any) -> list[Line]:
    """A line of the Routine sheet for each of some days, written one after another: '2026-09-10 2026-12-10'."""
    return [{"day": date.fromisoformat(day), "task": task, "result": "satisfactory", **rest} for day in days.split()]


def weekly(task: str, first: date, last: date, **rest: Any) -> list[Line]:
    """A line of the Routine sheet for the same weekday of every week, from a first day to a last."""
    days = [first + timedelta(days=number) for number in range(0, (last - first).days + 1, 7)]
    return [{"day": day, "task": task, "result": "satisfactory", **rest} for day in days]


def by_day(*lists: list[Line]) -> list[Line]:
    """The lines of the Routine sheet as they were entered: day after day."""
    return sorted((line for lines in lists for line in lines), key=lambda line: line["day"])
