"""Boats and groups as bands between the lines, ditto marks, a running number, a maker that we have no column for."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("LSA")
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    put(page, "A2", [["Sl. No.", "Particulars", "Maker", "ROB", "Unit", "Date of Expiry"]])
    put(
        page,
        "A3",
        [
            ["LIFEBOAT 1"],
            ["PYROTECHNICS"],
            [1, "Hand held flares", "Brannock", 6, "pcs", D(2027, 12, 31)],
            [2, "Rocket parachute flares", '"', 4, "pcs", '"'],
            ["PROVISIONS"],
            [3, "Food rations", "Ellbay", 48, "packs", D(2028, 6, 30)],
            [4, "Water rations", "Ellbay", 288, "sachets", D(2028, 8, 31)],
            ["LIFEBOAT 2"],
            [5, "Hand held flares", "Brannock", 6, "pcs", D(2028, 4, 30)],
            [6, "Food rations", "Ellbay", 48, "packs", D(2028, 6, 30)],
            ["BRIDGE"],
            [7, "Rocket parachute flares", "Brannock", 12, "pcs", D(2027, 2, 28)],
            [8, "SART", "Ondra", 1, "pc", None],
        ],
        day,
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("LSA", "A2"): "none",
        ("LSA", "B2"): "inventory.item",
        ("LSA", "C2"): "none",
        ("LSA", "D2"): "inventory.quantity",
        ("LSA", "E2"): "inventory.unit",
        ("LSA", "F2"): "inventory.expires",
    },
    items={
        "Hand held flares": "hand flare",
        "Rocket parachute flares": "rocket parachute flare",
        "Food rations": "food ration",
        "Water rations": "fresh water",
        "SART": "survival-craft SART",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, D(2027, 12, 31)),
        ("Lifeboat 1", "rocket parachute flare", 4, D(2027, 12, 31)),
        ("Lifeboat 1", "food ration", 48, D(2028, 6, 30)),
        ("Lifeboat 1", "fresh water", 288, D(2028, 8, 31)),
        ("Lifeboat 2", "hand flare", 6, D(2028, 4, 30)),
        ("Lifeboat 2", "food ration", 48, D(2028, 6, 30)),
        ("BRIDGE", "rocket parachute flare", 12, D(2027, 2, 28)),
        ("BRIDGE", "survival-craft SART", 1, None),
    ],
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
