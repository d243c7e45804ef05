"""Places merged over their lines, an empty column, the headings again for the next page, notes and signatures."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Stores")
    day = book.add_format({"num_format": "mm/yyyy"})
    heads = ["Stowed at", "Item", None, "Q'ty", "Expires", "Lot No", "Inspected by"]
    put(page, "B3", [heads])
    page.merge_range("B4:B6", "Lifeboat 1")
    put(
        page,
        "C4",
        [
            ["Hand flares", None, 3, D(2027, 4, 30), "A1", "3/O"],
            ["Hand flares", None, 3, D(2028, 4, 30), "A2", "3/O"],
            ["Smoke signals", None, 2, D(2028, 1, 31), "B7", "3/O"],
        ],
        day,
    )
    put(page, "B7", [heads])
    page.merge_range("B8:B9", "Lifeboat 2")
    put(
        page,
        "C8",
        [
            ["Hand flares", None, 6, D(2028, 4, 30), "A2", "3/O"],
            ["Immersion suits", None, 2, None, "#N/A?", None],
        ],
        day,
    )
    put(page, "B10", [["Engine control room", "Immersion suits", None, 3, None, None, "2/E"]])
    put(page, "B11", [["TOTAL", None, None, 19]])
    put(page, "B13", [["Note: suits of the control room are checked by the engineers."]])
    put(page, "B15", [["Chief Officer:", None, None, None, "Master:"]])


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Stores", "B3"): "inventory.place",
        ("Stores", "C3"): "inventory.item",
        ("Stores", "E3"): "inventory.quantity",
        ("Stores", "F3"): "inventory.expires",
        ("Stores", "G3"): "inventory.batch",
        ("Stores", "H3"): "none",
    },
    items={"Hand flares": "hand flare", "Smoke signals": "buoyant smoke signal", "Immersion suits": "immersion suit"},
    lots=[
        ("Lifeboat 1", "hand flare", 3, D(2027, 4, 30)),
        ("Lifeboat 1", "hand flare", 3, D(2028, 4, 30)),
        ("Lifeboat 1", "buoyant smoke signal", 2, D(2028, 1, 31)),
        ("Lifeboat 2", "hand flare", 6, D(2028, 4, 30)),
        ("Lifeboat 2", "immersion suit", 2, None),
        ("Engine control room", "immersion suit", 3, None),
    ],
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
