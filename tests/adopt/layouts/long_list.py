"""One long list with a title block above it, as a chief officer keeps it: every boat in one column."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date
ROWS = [
    ["1", "Lifeboat 1", "Hand flares", 6, 6, D(2028, 3, 31), "HF-2291", "ok"],
    ["2", "Lifeboat 1", "Parachute rockets", 4, 4, D(2028, 3, 31), "PR-118", None],
    ["3", "Lifeboat 1", "Buoyant smoke signals", 2, 2, D(2027, 9, 30), "SM-40", None],
    ["4", "Lifeboat 1", "Buckets", 2, 2, None, None, None],
    ["5", "Lifeboat 1", "Boat hooks", 2, 1, None, None, "one landed for repair"],
    ["6", "Lifeboat 2", "Hand flares", 6, 6, D(2027, 11, 30), "HF-2180", None],
    ["7", "Lifeboat 2", "Parachute rockets", 4, 4, D(2027, 11, 30), "PR-101", None],
    ["8", "Lifeboat 2", "First aid kit", 1, 1, D(2027, 5, 31), None, None],
    ["9", "Bridge", "Line throwing apparatus", 1, 1, D(2029, 1, 31), "LT-7", None],
]


def draw(book: Any) -> None:
    page = book.add_worksheet("LSA Inventory")
    day = book.add_format({"num_format": "dd/mm/yyyy"})
    put(page, "A1", [["M/V TARNBECK"], ["Life-saving appliances - inventory"]])
    put(page, "A4", [["Vessel:", "Tarnbeck", None, "IMO No:", 3100124.0], ["Flag:", "Vesperland"]])
    heads = ["S/N", "Location", "Description", "Qty Required", "Qty on Board", "Expiry Date", "Batch No.", "Remarks"]
    put(page, "A7", [heads])
    put(page, "A8", ROWS, day)
    put(page, "A18", [["Checked by 3rd Officer on the first of each month"]])


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("LSA Inventory", "A7"): "none",
        ("LSA Inventory", "B7"): "inventory.place",
        ("LSA Inventory", "C7"): "inventory.item",
        ("LSA Inventory", "D7"): "inventory.asked",
        ("LSA Inventory", "E7"): "inventory.quantity",
        ("LSA Inventory", "F7"): "inventory.expires",
        ("LSA Inventory", "G7"): "inventory.batch",
        ("LSA Inventory", "H7"): "inventory.remarks",
    },
    items={
        "Hand flares": "hand flare",
        "Parachute rockets": "rocket parachute flare",
        "Buoyant smoke signals": "buoyant smoke signal",
        "Buckets": "bucket",
        "Boat hooks": "boat-hook",
        "First aid kit": "first-aid outfit",
        "Line throwing apparatus": "line-throwing appliance",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, D(2028, 3, 31)),
        ("Lifeboat 1", "rocket parachute flare", 4, D(2028, 3, 31)),
        ("Lifeboat 1", "buoyant smoke signal", 2, D(2027, 9, 30)),
        ("Lifeboat 1", "bucket", 2, None),
        ("Lifeboat 1", "boat-hook", 1, None),
        ("Lifeboat 2", "hand flare", 6, D(2027, 11, 30)),
        ("Lifeboat 2", "rocket parachute flare", 4, D(2027, 11, 30)),
        ("Lifeboat 2", "first-aid outfit", 1, D(2027, 5, 31)),
        ("Bridge", "line-throwing appliance", 1, D(2029, 1, 31)),
    ],
    ship={"name": "Tarnbeck", "imo_number": "3100124", "flag": "Vesperland"},
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
