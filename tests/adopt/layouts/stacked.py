"""Several tables under each other on one sheet, each with a title and the headings again; text dates day first."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date
HEADS = ["Equipment", "Quantity", "Exp. Date", "Condition"]


def draw(book: Any) -> None:
    page = book.add_worksheet("Sheet1")
    put(page, "A1", [["SURVIVAL CRAFT EQUIPMENT CHECK"]])
    put(page, "A3", [["LIFEBOAT NO. 1 (STARBOARD)"], HEADS])
    put(
        page,
        "A5",
        [
            ["Hand flare", 6, "25/03/2028", "Good"],
            ["Rocket parachute flare", 4, "05/03/2028", "Good"],
            ["Drinking water", 90, "11/10/2029", "Good"],
            ["Whistle", 1, None, "Good"],
        ],
    )
    put(page, "A10", [["LIFEBOAT NO. 2 (PORT)"], HEADS])
    put(
        page,
        "A12",
        [
            ["Hand flare", 6, "30/06/2027", "Good"],
            ["Rocket parachute flare", 4, "01/07/2027", "Damaged"],
            ["Compas", 1, None, "Good"],
        ],
    )
    put(page, "A16", [["RESCUE BOAT"], HEADS])
    put(page, "A18", [["Towing line", 1, None, "Good"], ["First aid kit", 1, "14/02/2027", "Good"]])


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Sheet1", f"{letter}{row}"): ours
        for row in (4, 11, 17)
        for letter, ours in (
            ("A", "inventory.item"),
            ("B", "inventory.quantity"),
            ("C", "inventory.expires"),
            ("D", "inventory.condition"),
        )
    },
    items={
        "Hand flare": "hand flare",
        "Rocket parachute flare": "rocket parachute flare",
        "Drinking water": "fresh water",
        "Whistle": "whistle",
        "Compas": "compass",
        "Towing line": "buoyant towing line",
        "First aid kit": "first-aid outfit",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, D(2028, 3, 25)),
        ("Lifeboat 1", "rocket parachute flare", 4, D(2028, 3, 5)),
        ("Lifeboat 1", "fresh water", 90, D(2029, 10, 11)),
        ("Lifeboat 1", "whistle", 1, None),
        ("Lifeboat 2", "hand flare", 6, D(2027, 6, 30)),
        ("Lifeboat 2", "rocket parachute flare", 4, D(2027, 7, 1)),
        ("Lifeboat 2", "compass", 1, None),
        ("Rescue boat", "buoyant towing line", 1, None),
        ("Rescue boat", "first-aid outfit", 1, D(2027, 2, 14)),
    ],
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat"), ("Rescue boat", "rescue boat")],
)
