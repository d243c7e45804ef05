"""A small invented ship as plain rows, and ways to change one thing in it."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from tests import parts
from workbook_tools.checks import Options, audit_book
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.findings import BookResult, Finding
from workbook_tools.reading import RawBook, read_raw
from workbook_tools.reading.address import address
from workbook_tools.reading.own_sheets import OwnSheets

ON = date(2026, 11, 25)
Line = dict[str, Any]


@dataclass
class Workbook:
    """The rows of each sheet by column key; `columns` is the order in which they are written."""

    ship: Line
    rows: dict[str, list[Line]]
    columns: dict[str, list[str]] = field(default_factory=dict)
    title_rows: int = 0
    errors: dict[str, dict[tuple[int, int], str]] = field(default_factory=dict)
    headings: dict[tuple[str, str], str] = field(default_factory=dict)
    dotted: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    own: OwnSheets | None = None  # what it shows in sheets that it calculates itself

    def order(self, key: str) -> list[str]:
        """Column keys of a sheet in the order written."""
        return self.columns.get(key) or [column.key for column in sheet(key).columns]

    def find(self, key: str, **wanted: Any) -> Line:
        """The first line of a sheet with these values."""
        return next(line for line in self.rows[key] if all(line.get(name) == value for name, value in wanted.items()))

    def lot(self, item: str, place: str = "Lifeboat 1") -> Line:
        """The first lot of an item in a place."""
        return self.find("inventory", item=item, place=place)

    def add(self, key: str, **values: Any) -> Line:
        """Append a line to a sheet."""
        self.rows[key].append(values)
        return values

    def cell(self, key: str, line: Line | None, column: str) -> str:
        """Address of a line's cell as it will be written; None: of the heading."""
        if key == "ship":
            return address(list(self.ship).index(column) + self.title_rows, 1)
        numbers = [number for number, other in enumerate(self.rows[key]) if other is line]
        row = self.title_rows if line is None else self.title_rows + 1 + numbers[0]
        return address(row, self.order(key).index(column))

    def grids(self) -> dict[str, list[list[Any]]]:
        """The sheets as rows of cells."""
        above: list[list[Any]] = [["Record kept on board"]] * self.title_rows
        form = [[sheet("ship").column(key).title, value] for key, value in self.ship.items()]
        found = {"Ship": [*above, *form]}
        for entry in SHEETS:
            if entry.key in self.rows:
                order = self.order(entry.key)
                heading = [self.headings.get((entry.key, key), entry.column(key).title) for key in order]
                body = [[line.get(key, "") for key in order] for line in self.rows[entry.key]]
                found[entry.name] = [*above, heading, *body]
        return found

    def audit(self, on: date = ON, **options: Any) -> BookResult:
        """Audit the workbook without a file."""
        raw = RawBook("test.xlsx", self.grids(), errors=self.errors, dotted=self.dotted, own=self.own)
        chosen = Options(on, **options)
        return audit_book(read_raw(raw, chosen.month_first_day), chosen)

    def findings(self, on: date = ON, **options: Any) -> list[Finding]:
        """The findings of an audit."""
        return self.audit(on, **options).findings

    def save(self, path: Path) -> Path:
        """Write the workbook as .xlsx."""
        import xlsxwriter

        with xlsxwriter.Workbook(path) as book:
            day = book.add_format({"num_format": "yyyy-mm-dd"})
            for name, grid in self.grids().items():
                page = book.add_worksheet(name)
                for row, cells in enumerate(grid):
                    for column, value in enumerate(cells):
                        if isinstance(value, date):
                            page.write_datetime(row, column, value, day)
                        elif value != "":
                            page.write(row, column, value)
        return path


FAR = date(2029, 6, 30)

# What lies in a lifeboat for 20 persons, stated by hand: item, quantity and what else its line says.
BOAT: tuple[tuple[str, float, Line], ...] = (
    ("buoyant oars", 1, {}),
    ("boat-hook", 2, {}),
    ("buoyant bailer", 1, {}),
    ("bucket", 2, {}),
    ("survival manual", 1, {}),
    ("compass", 1, {}),
    ("sea-anchor", 1, {"content": 12, "content_unit": "m"}),
    ("painter", 2, {"content": 25, "content_unit": "m"}),
    ("hatchet", 2, {}),
    ("fresh water", 120, {"content": 500, "content_unit": "mL", "expires": FAR}),
    ("dipper", 1, {}),
    ("drinking vessel", 1, {}),
    ("food ration", 20, {"content": 10000, "content_unit": "kJ", "expires": FAR}),
    ("rocket parachute flare", 4, {"expires": FAR}),
    ("hand flare", 6, {"expires": FAR, "batch": "H6"}),
    ("buoyant smoke signal", 2, {"expires": FAR}),
    ("waterproof torch", 1, {}),
    ("torch battery set", 1, {}),
    ("torch bulb", 1, {}),
    ("signalling mirror", 1, {}),
    ("life-saving signals card", 1, {}),
    ("whistle", 1, {}),
    ("first-aid outfit", 1, {"expires": FAR}),
    ("anti-seasickness medicine", 20, {"expires": FAR}),
    ("seasickness bag", 20, {}),
    ("jack-knife", 1, {}),
    ("tin-opener", 3, {}),
    ("rescue quoit", 2, {"content": 30, "content_unit": "m"}),
    ("manual bailing pump", 1, {}),
    ("fishing tackle", 1, {}),
    ("engine tools", 1, {}),
    ("portable fire extinguisher", 1, {}),
    ("searchlight", 1, {}),
    ("radar reflector", 1, {}),
    ("thermal protective aid", 2, {}),
)


def boat_lots(place: str) -> list[Line]:
    """The lots of one lifeboat."""
    return [{"place": place, "item": item, "quantity": quantity, **rest} for item, quantity, rest in BOAT]


def clean() -> Workbook:
    """A cargo ship of 98 m, in order in every respect: craft and crew, and what each module of tests/parts fills in."""
    book = _craft_and_crew()
    for module in sorted(module.name for module in pkgutil.iter_modules(parts.__path__)):
        importlib.import_module(f"tests.parts.{module}").fill(book)
    return book


def _craft_and_crew() -> Workbook:
    """Two davit boats, one of them the rescue boat, two rafts that can be moved, and twelve persons."""
    boat = {"persons": 20, "stowage_height_m": 12, "self_bailing": "no", "construction": "totally enclosed"}
    raft = {
        "kind": "liferaft",
        "construction": "inflatable",
        "persons": 20,
        "pack": "A",
        "stowage_height_m": 10,
        "transferable": "yes",
        "mass_kg": 150,
        "drop_tested_higher": "no",
        "painter_m": 30,
        "serviced": date(2026, 10, 20),
        "earliest_content": date(2028, 4, 30),
    }
    releases = [
        {"place": name, "item": "hydrostatic release unit", "quantity": 1, "expires": date(2028, 9, 30)}
        for name in ("Raft P", "Raft S")
    ]
    towing = {"place": "Lifeboat 2", "item": "buoyant towing line", "quantity": 1, "content": 60, "content_unit": "m"}
    crew = []
    for number in range(1, 13):
        first = number <= 6
        duty = {1: "person in charge", 2: "second in command", 3: "engine operator"}.get(
            number if first else number - 6
        )
        crew.append(
            {
                "number": str(number),
                "rank": "rating",
                "craft": "Lifeboat 1" if first else "Lifeboat 2",
                "duty": duty or "member",
                "joined": date(2026, 6, 1),
            }
        )
    return Workbook(
        ship={
            "name": "Orrin Vale",
            "imo_number": "3100019",
            "ship_type": "general cargo ship",
            "gross_tonnage": 5200,
            "length_m": 98,
            "keel_laid": date(2012, 5, 3),
            "voyage": "international",
            "persons_certified": 20,
            "persons_on_board": 12,
            "rule_set": "solas",
        },
        rows={
            "craft": [
                {"name": "Lifeboat 1", "kind": "lifeboat", "side": "port", **boat},
                {"name": "Lifeboat 2", "kind": "lifeboat and rescue boat", "side": "starboard", **boat},
                {"name": "Raft P", "side": "port", "certificate": "S-11", **raft},
                {"name": "Raft S", "side": "starboard", "certificate": "S-12", **raft},
            ],
            "crew": crew,
            "inventory": [*boat_lots("Lifeboat 1"), *boat_lots("Lifeboat 2"), towing, *releases],
            **{entry.key: [] for entry in SHEETS if entry.key not in ("ship", "craft", "crew", "inventory")},
        },
    )
