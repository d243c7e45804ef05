"""A Spanish list whose dates prove nothing: 05/06/2028 must be listed, not guessed. Saved by LibreOffice as .ods."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Inventario")
    put(page, "A1", [["BUQUE:", "Peñaverde"], ["Nº IMO:", 3100148.0]])
    put(page, "A4", [["Ubicación", "Descripción", "Cantidad", "Fecha de caducidad", "Observaciones"]])
    put(
        page,
        "A5",
        [
            ["Bote salvavidas 1", "Bengalas de mano", 6, "05/06/2028", None],
            ["Bote salvavidas 1", "Cohetes con paracaídas", 4, "05/06/2028", None],
            ["Bote salvavidas 1", "Señales fumígenas flotantes", 2, "dic 2027", None],
            ["Bote salvavidas 1", "Agua dulce", 90, "01/02/2029", "bolsas de 500 ml"],
            ["Bote salvavidas 2", "Botiquín", 1, "04/03/2027", None],
            ["Bote salvavidas 2", "Ancla flotante", 1, None, None],
            ["Puente", "Cohetes con paracaídas", 12, "09/09/2028", None],
        ],
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Inventario", "A4"): "inventory.place",
        ("Inventario", "B4"): "inventory.item",
        ("Inventario", "C4"): "inventory.quantity",
        ("Inventario", "D4"): "inventory.expires",
        ("Inventario", "E4"): "inventory.remarks",
    },
    items={
        "Bengalas de mano": "hand flare",
        "Cohetes con paracaídas": "rocket parachute flare",
        "Señales fumígenas flotantes": "buoyant smoke signal",
        "Agua dulce": "fresh water",
        "Botiquín": "first-aid outfit",
        "Ancla flotante": "sea-anchor",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, None),
        ("Lifeboat 1", "rocket parachute flare", 4, None),
        ("Lifeboat 1", "buoyant smoke signal", 2, D(2027, 12, 31)),
        ("Lifeboat 1", "fresh water", 90, None),
        ("Lifeboat 2", "first-aid outfit", 1, None),
        ("Lifeboat 2", "sea-anchor", 1, None),
        ("Bridge", "rocket parachute flare", 12, D(2028, 9, 9)),
    ],
    saved_as="ods",
    by_libreoffice=True,
    ship={"name": "Peñaverde", "imo_number": "3100148"},
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
