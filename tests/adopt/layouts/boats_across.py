"""Items down, boats across, with merged headings over quantity and date of each. Saved by LibreOffice as .ods."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Pyro & rations")
    bold = book.add_format({"bold": True, "align": "center"})
    day = book.add_format({"num_format": "dd-mmm-yy"})
    page.merge_range("A1:F1", "M.T. ORRELSUND - lifeboat stores", bold)
    page.merge_range("A3:A4", "Item", bold)
    page.merge_range("B3:C3", "No.1 L/Boat (Stbd)", bold)
    page.merge_range("D3:E3", "No.2 L/Boat (Port)", bold)
    page.write("F3", "Remarks")
    put(page, "B4", [["Qty", "Expiry", "Qty", "Expiry"]], bold)
    put(
        page,
        "A5",
        [
            ["Red hand flares", 6, D(2027, 10, 31), 6, D(2028, 2, 29), None],
            ["Rocket parachute signals", 4, D(2027, 10, 31), 4, D(2028, 2, 29), None],
            ["Buoyant smoke", 2, D(2027, 10, 31), 2, D(2028, 2, 29), None],
            ["Seasickness tablets", 40, D(2027, 1, 31), 40, D(2027, 1, 31), "48 h supplies"],
            ["Tow line", 0, None, 1, None, "rescue boat"],
        ],
        day,
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Pyro & rations", "A3"): "inventory.item",
        ("Pyro & rations", "B4"): "inventory.quantity",
        ("Pyro & rations", "C4"): "inventory.expires",
        ("Pyro & rations", "D4"): "inventory.quantity",
        ("Pyro & rations", "E4"): "inventory.expires",
        ("Pyro & rations", "F3"): "inventory.remarks",
    },
    items={
        "Red hand flares": "hand flare",
        "Rocket parachute signals": "rocket parachute flare",
        "Buoyant smoke": "buoyant smoke signal",
        "Seasickness tablets": "anti-seasickness medicine",
        "Tow line": "buoyant towing line",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, D(2027, 10, 31)),
        ("Lifeboat 2", "hand flare", 6, D(2028, 2, 29)),
        ("Lifeboat 1", "rocket parachute flare", 4, D(2027, 10, 31)),
        ("Lifeboat 2", "rocket parachute flare", 4, D(2028, 2, 29)),
        ("Lifeboat 1", "buoyant smoke signal", 2, D(2027, 10, 31)),
        ("Lifeboat 2", "buoyant smoke signal", 2, D(2028, 2, 29)),
        ("Lifeboat 1", "anti-seasickness medicine", 40, D(2027, 1, 31)),
        ("Lifeboat 2", "anti-seasickness medicine", 40, D(2027, 1, 31)),
        ("Lifeboat 2", "buoyant towing line", 1, None),
    ],
    saved_as="ods",
    by_libreoffice=True,
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
