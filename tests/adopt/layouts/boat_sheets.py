"""One sheet for each boat, short text dates 'exp 03/27', a total at the bottom. Saved by LibreOffice as .xls."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date
HEADS = ["Item", "Nos", "Remarks"]
PORT = [
    ["Red hand flares", 6, "exp 03/27"],
    ["Para rockets", 4, "exp 03/27"],
    ["Smoke floats", 2, "exp 12/26"],
    ["Sea anchor", 1, None],
    ["Hatchets", 2, None],
    ["Bailer", 1, None],
]
STBD = [
    ["Red hand flares", 6, "exp 07/28"],
    ["Para rockets", 4, "exp 07/28"],
    ["Smoke floats", 2, "exp 07/28"],
    ["Sea anchor", 1, "new hawser 05/2026"],
    ["Hatchets", 2, None],
]


def draw(book: Any) -> None:
    for name, rows in (("LB1 PORT", PORT), ("LB2 STBD", STBD)):
        page = book.add_worksheet(name)
        put(page, "B2", [[f"LIFEBOAT INVENTORY - {name}"]])
        put(page, "B4", [HEADS])
        put(page, "B5", rows)
        end = 5 + len(rows)
        put(page, f"B{end}", [["Total pieces", sum(row[1] for row in rows)]])


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        (name, cell): ours
        for name in ("LB1 PORT", "LB2 STBD")
        for cell, ours in (("B4", "inventory.item"), ("C4", "inventory.quantity"), ("D4", "inventory.remarks"))
    },
    items={
        "Red hand flares": "hand flare",
        "Para rockets": "rocket parachute flare",
        "Smoke floats": "buoyant smoke signal",
        "Sea anchor": "sea-anchor",
        "Hatchets": "hatchet",
        "Bailer": "buoyant bailer",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, D(2027, 3, 31)),
        ("Lifeboat 1", "rocket parachute flare", 4, D(2027, 3, 31)),
        ("Lifeboat 1", "buoyant smoke signal", 2, D(2026, 12, 31)),
        ("Lifeboat 1", "sea-anchor", 1, None),
        ("Lifeboat 1", "hatchet", 2, None),
        ("Lifeboat 1", "buoyant bailer", 1, None),
        ("Lifeboat 2", "hand flare", 6, D(2028, 7, 31)),
        ("Lifeboat 2", "rocket parachute flare", 4, D(2028, 7, 31)),
        ("Lifeboat 2", "buoyant smoke signal", 2, D(2028, 7, 31)),
        ("Lifeboat 2", "sea-anchor", 1, None),
        ("Lifeboat 2", "hatchet", 2, None),
    ],
    saved_as="xls",
    by_libreoffice=True,
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
