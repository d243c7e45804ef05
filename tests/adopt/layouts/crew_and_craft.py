"""Ship's particulars as a form, a table of survival craft and a crew list, on three sheets."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    day = book.add_format({"num_format": "dd.mm.yyyy"})
    ship = book.add_worksheet("Particulars")
    put(
        ship,
        "B2",
        [
            ["SHIP'S PARTICULARS"],
            ["Name of vessel", None, "Quernsay"],
            ["IMO number", None, 3100150.0],
            ["Flag", None, "Vesperland"],
            ["Gross tonnage", None, 8410.0],
            ["Type of vessel", None, "bulk carrier"],
            ["Call sign", None, "V5QQ"],
        ],
    )
    craft = book.add_worksheet("LSA craft")
    heads = ["Boat No.", "Type", "Side", "Capacity (persons)", "Serial No.", "Last service"]
    put(craft, "A1", [["LIFEBOATS AND LIFERAFTS"], heads])
    put(
        craft,
        "A3",
        [
            ["Lifeboat 1", "Totally enclosed lifeboat", "Stbd", 25, "TE-4401", D(2026, 3, 14)],
            ["Lifeboat 2", "Lifeboat/rescue boat", "Port", 25, "TE-4402", D(2026, 3, 14)],
            ["Liferaft 1", "Inflatable liferaft", "Stbd", 25, "R-90211", D(2026, 8, 2)],
            ["Liferaft 2", "Inflatable liferaft", "Port", 25, "R-90212", D(2026, 8, 2)],
        ],
        day,
    )
    crew = book.add_worksheet("Crew list")
    put(crew, "A1", [["No.", "Rank", "Full name", "Lifeboat", "Date joined"]])
    put(
        crew,
        "A2",
        [
            [1, "Master", "Aldo Ferrant", "Lifeboat 1", D(2026, 5, 2)],
            [2, "Chief Officer", "Bram Osten", "Lifeboat 2", D(2026, 7, 11)],
            [3, "Second Officer", "Cyra Lund", "Lifeboat 1", D(2026, 7, 11)],
            [4, "Chief Engineer", "Dov Harrel", "Lifeboat 2", D(2026, 6, 20)],
            [5, "AB", "Eddo Marsh", "Lifeboat 1", D(2026, 9, 1)],
        ],
        day,
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("LSA craft", "A2"): "craft.name",
        ("LSA craft", "B2"): "craft.kind",
        ("LSA craft", "C2"): "craft.side",
        ("LSA craft", "D2"): "craft.persons",
        ("LSA craft", "E2"): "craft.serial",
        ("LSA craft", "F2"): "craft.serviced",
        ("Crew list", "A1"): "crew.number",
        ("Crew list", "B1"): "crew.rank",
        ("Crew list", "C1"): "crew.name",
        ("Crew list", "D1"): "crew.craft",
        ("Crew list", "E1"): "crew.joined",
    },
    ship={
        "name": "Quernsay",
        "imo_number": "3100150",
        "flag": "Vesperland",
        "gross_tonnage": 8410.0,
        "ship_type": "bulk carrier",
    },
    craft=[
        ("Lifeboat 1", "lifeboat"),
        ("Lifeboat 2", "lifeboat and rescue boat"),
        ("Liferaft 1", "liferaft"),
        ("Liferaft 2", "liferaft"),
    ],
    counts={"craft": 4, "crew": 5},
)
