"""Two tables side by side with an empty column between them, and an empty column inside each."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Boats")
    day = book.add_format({"num_format": "mmm-yy"})
    put(page, "A1", [["PORT LIFEBOAT", None, None, None, None, "STARBOARD LIFEBOAT"]])
    put(page, "A2", [["Article", "No. of", "Valid until", None, None, "Article", "No. of", "Valid until"]])
    put(
        page,
        "A3",
        [
            ["Hand flares", 6, D(2028, 5, 31), None, None, "Hand flares", 6, D(2027, 8, 31)],
            ["Smoke signals", 2, D(2028, 5, 31), None, None, "Smoke signals", 2, D(2027, 8, 31)],
            ["Food rations", 60, D(2029, 1, 31), None, None, "Food rations", 60, D(2029, 2, 28)],
            ["Fishing tackle", 1, None, None, None, "Fishing tackle", 1, None],
            [None, None, None, None, None, "Radar reflector", 1, None],
        ],
        day,
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Boats", f"{letter}2"): ours
        for letters, ours in (("AF", "inventory.item"), ("BG", "inventory.quantity"), ("CH", "inventory.expires"))
        for letter in letters
    },
    items={
        "Hand flares": "hand flare",
        "Smoke signals": "buoyant smoke signal",
        "Food rations": "food ration",
        "Fishing tackle": "fishing tackle",
        "Radar reflector": "radar reflector",
    },
    lots=[
        ("Lifeboat Port", "hand flare", 6, D(2028, 5, 31)),
        ("Lifeboat Port", "buoyant smoke signal", 2, D(2028, 5, 31)),
        ("Lifeboat Port", "food ration", 60, D(2029, 1, 31)),
        ("Lifeboat Port", "fishing tackle", 1, None),
        ("Lifeboat Starboard", "hand flare", 6, D(2027, 8, 31)),
        ("Lifeboat Starboard", "buoyant smoke signal", 2, D(2027, 8, 31)),
        ("Lifeboat Starboard", "food ration", 60, D(2029, 2, 28)),
        ("Lifeboat Starboard", "fishing tackle", 1, None),
        ("Lifeboat Starboard", "radar reflector", 1, None),
    ],
    craft=[("Lifeboat Port", "lifeboat"), ("Lifeboat Starboard", "lifeboat")],
)
