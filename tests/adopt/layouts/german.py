"""A German list: Soll and Ist, dates as 31.03.2028 in text, months in words. Saved by LibreOffice as .xlsx."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Rettungsmittel")
    put(page, "A1", [["Schiff:", "Hallersand"], ["IMO-Nummer:", 3100136.0], ["Stand:", "31.10.2026"]])
    heads = ["Lfd. Nr.", "Standort", "Bezeichnung", "Soll", "Ist", "Ablaufdatum", "Bemerkungen"]
    put(page, "A5", [heads])
    put(
        page,
        "A6",
        [
            [1, "Rettungsboot 1", "Handfackeln rot", 6, 6, "31.03.2028", None],
            [2, "Rettungsboot 1", "Fallschirmraketen", 4, 4, "30.04.2028", None],
            [3, "Rettungsboot 1", "Rauchsignal, schwimmfähig", 2, 2, "Okt 2027", None],
            [4, "Rettungsboot 1", "Trinkwasser", 120, 120, "05.06.2029", "Beutel 500 ml"],
            [5, "Rettungsboot 2", "Notrationen", 40, 38, "01.12.2028", "2 Stück fehlen"],
            [6, "Rettungsboot 2", "Treibanker", 1, 1, None, None],
            [7, "Rettungsboot 2", "Eimer", 2, 2, None, None],
            [8, "Brücke", "Fallschirmraketen", 12, 12, "Mär 2028", None],
        ],
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Rettungsmittel", "A5"): "none",
        ("Rettungsmittel", "B5"): "inventory.place",
        ("Rettungsmittel", "C5"): "inventory.item",
        ("Rettungsmittel", "D5"): "inventory.asked",
        ("Rettungsmittel", "E5"): "inventory.quantity",
        ("Rettungsmittel", "F5"): "inventory.expires",
        ("Rettungsmittel", "G5"): "inventory.remarks",
    },
    items={
        "Handfackeln rot": "hand flare",
        "Fallschirmraketen": "rocket parachute flare",
        "Rauchsignal, schwimmfähig": "buoyant smoke signal",
        "Trinkwasser": "fresh water",
        "Notrationen": "food ration",
        "Treibanker": "sea-anchor",
        "Eimer": "bucket",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, D(2028, 3, 31)),
        ("Lifeboat 1", "rocket parachute flare", 4, D(2028, 4, 30)),
        ("Lifeboat 1", "buoyant smoke signal", 2, D(2027, 10, 31)),
        ("Lifeboat 1", "fresh water", 120, D(2029, 6, 5)),
        ("Lifeboat 2", "food ration", 38, D(2028, 12, 1)),
        ("Lifeboat 2", "sea-anchor", 1, None),
        ("Lifeboat 2", "bucket", 2, None),
        ("Bridge", "rocket parachute flare", 12, D(2028, 3, 31)),
    ],
    saved_as="xlsx",
    by_libreoffice=True,
    ship={"name": "Hallersand", "imo_number": "3100136", "record_date": D(2026, 10, 31)},
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
