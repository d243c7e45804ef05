"""Held out: a company's register with headings of its own, slips of the pen, days given by month."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Register 2026")
    day = book.add_format({"num_format": "d-mmm-yyyy"})
    put(page, "C2", [["Safety equipment register"], ["Ship's name", "Ostravale", "Flag state", "Vesperland"]])
    heads = [
        "Where stowed",
        "Equipment name",
        "Minimum no.",
        "Actual no. found",
        "Expiery date",
        "Maker's batch",
        "Comments / action",
    ]
    put(page, "C6", [heads])
    put(
        page,
        "C7",
        [
            ["Stbd lifeboat", "Hand flaers", 6, 6, D(2028, 10, 1), "Q77", None],
            ["Stbd lifeboat", "Parachute rokets", 4, 4, D(2028, 10, 1), "Q12", None],
            ["Stbd lifeboat", "Orange smoke float", 2, 2, D(2027, 6, 1), "S3", None],
            ["Port lifeboat", "Hand flares (red)", 6, 5, D(2028, 10, 1), "Q77", "one used in training"],
            ["Port lifeboat", "Drinking water 500 ml sachets", 90, 90, D(2029, 2, 1), None, None],
            ["Port lifeboat", "Emergency food rations", 30, 30, D(2028, 12, 1), None, None],
            ["Wheelhouse", "Line thrower", 1, 1, D(2029, 7, 1), None, None],
            ["Wheelhouse", "GMDSS handheld VHF", 3, 3, None, None, None],
            ["Wheelhouse", "Clock", 1, 1, None, None, None],
        ],
        day,
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    held_out=True,
    columns={
        ("Register 2026", "C6"): "inventory.place",
        ("Register 2026", "D6"): "inventory.item",
        ("Register 2026", "E6"): "inventory.asked",
        ("Register 2026", "F6"): "inventory.quantity",
        ("Register 2026", "G6"): "inventory.expires",
        ("Register 2026", "H6"): "inventory.batch",
        ("Register 2026", "I6"): "inventory.remarks",
    },
    items={
        "Hand flaers": "hand flare",
        "Parachute rokets": "rocket parachute flare",
        "Orange smoke float": "buoyant smoke signal",
        "Hand flares (red)": "hand flare",
        "Drinking water 500 ml sachets": "fresh water",
        "Emergency food rations": "food ration",
        "Line thrower": "line-throwing appliance",
        "GMDSS handheld VHF": "survival-craft two-way VHF",
        "Clock": "keep",
    },
    lots=[
        ("Lifeboat Starboard", "hand flare", 6, D(2028, 10, 1)),
        ("Lifeboat Starboard", "rocket parachute flare", 4, D(2028, 10, 1)),
        ("Lifeboat Starboard", "buoyant smoke signal", 2, D(2027, 6, 1)),
        ("Lifeboat Port", "hand flare", 5, D(2028, 10, 1)),
        ("Lifeboat Port", "fresh water", 90, D(2029, 2, 1)),
        ("Lifeboat Port", "food ration", 30, D(2028, 12, 1)),
        ("Wheelhouse", "line-throwing appliance", 1, D(2029, 7, 1)),
        ("Wheelhouse", "survival-craft two-way VHF", 3, None),
        ("Wheelhouse", "Clock", 1, None),
    ],
    ship={"name": "Ostravale", "flag": "Vesperland"},
    craft=[("Lifeboat Port", "lifeboat"), ("Lifeboat Starboard", "lifeboat")],
)
