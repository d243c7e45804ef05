"""Everything in words: '500 ml x 72', '2 nos', '4 pcs exp 03/27', two lots in one cell."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Lifeboat 1")
    put(page, "A1", [["ITEM", "HOW MANY (QTY)", "NOTES"]])
    put(
        page,
        "A2",
        [
            ["Fresh water", "500 ml x 72, exp 06/2029", None],
            ["Food ration", "24 packs exp 05/2028", None],
            ["Hand flares", "4 exp 03/27, 2 exp 08/28", None],
            ["Smoke signals", "2 nos", "orange"],
            ["Buckets", "2 nos", None],
            ["Boat hook", "2 nos.", None],
            ["Painter", "2 pcs", "25 m each"],
            ["Thermal protective aids", "3 nos", None],
            ["Torch", "1 no", None],
            ["Heliograph", "one", None],
        ],
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Lifeboat 1", "A1"): "inventory.item",
        ("Lifeboat 1", "B1"): "inventory.quantity",
        ("Lifeboat 1", "C1"): "inventory.remarks",
    },
    items={
        "Fresh water": "fresh water",
        "Food ration": "food ration",
        "Hand flares": "hand flare",
        "Smoke signals": "buoyant smoke signal",
        "Buckets": "bucket",
        "Boat hook": "boat-hook",
        "Painter": "painter",
        "Thermal protective aids": "thermal protective aid",
        "Torch": "waterproof torch",
        "Heliograph": "signalling mirror",
    },
    lots=[
        ("Lifeboat 1", "fresh water", 72, D(2029, 6, 30)),
        ("Lifeboat 1", "food ration", 24, D(2028, 5, 31)),
        ("Lifeboat 1", "hand flare", 4, D(2027, 3, 31)),
        ("Lifeboat 1", "hand flare", 2, D(2028, 8, 31)),
        ("Lifeboat 1", "buoyant smoke signal", 2, None),
        ("Lifeboat 1", "bucket", 2, None),
        ("Lifeboat 1", "boat-hook", 2, None),
        ("Lifeboat 1", "painter", 2, None),
        ("Lifeboat 1", "thermal protective aid", 3, None),
        ("Lifeboat 1", "waterproof torch", 1, None),
        ("Lifeboat 1", "signalling mirror", None, None),
    ],
    craft=[("Lifeboat 1", "lifeboat")],
)
