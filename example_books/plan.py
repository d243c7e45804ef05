"""What a book of the example fleet holds, before it is a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from workbook_tools.columns import Sheet, sheet

Line = dict[str, Any]  # column key (or a heading of the ship's own) -> what somebody typed

# A line that stands for the headings printed a second time, as long lists have them on every page.
HEADINGS_AGAIN: Line = {"headings": "again"}


# The sheets and columns that the fleet keeps, in the template's order. A ship need not keep every column there is; and
# what is written here stays where it is when the template gains another.
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
    "exemptions": ("rule", "subject", "authority", "reference", "until", "condition"),
}  # fmt: skip


@dataclass(frozen=True)
class Formula:
    """A cell with a formula, and the value that it shows."""

    text: str
    shows: float | str


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

    def sheet_names(self) -> dict[str, str]:
        """Sheet keys in the order of the tabs, with the names on them."""
        return dict(self.sheets) if self.sheets else {key: sheet(key).name for key in USUAL}

    def column_keys(self, contract: Sheet) -> tuple[str, ...]:
        """The columns of a sheet, or the labels of a form, in the order written."""
        return self.columns.get(contract.key) or USUAL[contract.key]

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
    own_sheets: Mapping[str, list[list[str]]] = field(default_factory=dict)  # sheets of the ship's own: rows of cells
    layout: Layout = field(default_factory=Layout)

    def lines(self, sheet_key: str) -> list[Line]:
        """The lines of a table."""
        tables = {
            "craft": self.craft,
            "crew": self.crew,
            "inventory": self.inventory,
            "exemptions": self.exemptions,
        }
        return tables[sheet_key]


def lot(place: str, item: str, quantity: Any, **rest: Any) -> Line:
    """One line of the Inventory."""
    return {"place": place, "item": item, "quantity": quantity, **rest}


def crew_list(text: str) -> list[Line]:
    """A crew list written as a table: number | rank | name | craft | duty | certificate | valid until | joined.

    Columns left empty, or missing at the end of a line, are empty cells.
    """
    keys = ("number", "rank", "name", "craft", "duty", "certificate", "certificate_expires", "joined")
    crew = []
    for written in filter(None, (row.strip() for row in text.splitlines())):
        cells = [cell.strip() for cell in written.split("|")]
        line: Line = {key: cell for key, cell in zip(keys, cells, strict=False) if cell}
        for key in ("certificate_expires", "joined"):
            if key in line:
                line[key] = date.fromisoformat(line[key])
        crew.append(line)
    return crew
