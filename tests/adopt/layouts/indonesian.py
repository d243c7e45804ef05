"""Held out: an Indonesian list by boat, with kadaluarsa dates in text and totals."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Daftar alat")
    put(page, "A1", [["DAFTAR PERLENGKAPAN SEKOCI"], ["Nama Kapal:", "KM Sari Bahtera"]])
    put(page, "A4", [["No", "Nama Barang", "Letak", "Jumlah", "Tgl Kadaluarsa", "Keterangan"]])
    put(
        page,
        "A5",
        [
            [1, "Obor tangan", "Sekoci 1", "6 buah", "31/08/2028", None],
            [2, "Roket payung", "Sekoci 1", "4 buah", "31/08/2028", None],
            [3, "Isyarat asap", "Sekoci 1", "2 buah", "01/12/2027", "oranye"],
            [4, "Air minum", "Sekoci 1", 100, "15/01/2029", None],
            [5, "Makanan darurat", "Sekoci 2", 40, "10/03/2029", None],
            [6, "Kotak P3K", "Sekoci 2", 1, "05/05/2027", None],
            [7, "Ember", "Sekoci 2", "2 buah", None, None],
            [8, "Jangkar apung", "Sekoci 2", "1 buah", None, None],
            [9, "Peluit", "Sekoci 2", "1 buah", None, None],
            ["Jumlah", None, None, 157],
        ],
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    held_out=True,
    columns={
        ("Daftar alat", "A4"): "none",
        ("Daftar alat", "B4"): "inventory.item",
        ("Daftar alat", "C4"): "inventory.place",
        ("Daftar alat", "D4"): "inventory.quantity",
        ("Daftar alat", "E4"): "inventory.expires",
        ("Daftar alat", "F4"): "inventory.remarks",
    },
    items={
        "Obor tangan": "hand flare",
        "Roket payung": "rocket parachute flare",
        "Isyarat asap": "buoyant smoke signal",
        "Air minum": "fresh water",
        "Makanan darurat": "food ration",
        "Kotak P3K": "first-aid outfit",
        "Ember": "bucket",
        "Jangkar apung": "sea-anchor",
        "Peluit": "whistle",
    },
    lots=[
        ("Lifeboat 1", "hand flare", 6, D(2028, 8, 31)),
        ("Lifeboat 1", "rocket parachute flare", 4, D(2028, 8, 31)),
        ("Lifeboat 1", "buoyant smoke signal", 2, D(2027, 12, 1)),
        ("Lifeboat 1", "fresh water", 100, D(2029, 1, 15)),
        ("Lifeboat 2", "food ration", 40, D(2029, 3, 10)),
        ("Lifeboat 2", "first-aid outfit", 1, D(2027, 5, 5)),
        ("Lifeboat 2", "bucket", 2, None),
        ("Lifeboat 2", "sea-anchor", 1, None),
        ("Lifeboat 2", "whistle", 1, None),
    ],
    ship={"name": "KM Sari Bahtera"},
    craft=[("Lifeboat 1", "lifeboat"), ("Lifeboat 2", "lifeboat")],
)
