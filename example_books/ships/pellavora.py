"""Pellavora, sister of Pellavine: a living workbook that came back with something done to it."""

from functools import partial

from example_books.living import LivingPlan, hide_rows, put, rename
from example_books.plan import Line
from example_books.ships import pellandre, pellavine

SHIP: Line = {**pellavine.SHIP, "name": "Pellavora", "imo_number": "3467120"}

PLAN = LivingPlan(
    file="pellavora.xlsx",
    about="A living workbook that came back from the ship: a program put a line right and nothing recalculated, "
    "somebody typed over a formula, hid a line and renamed a sheet.",
    ship=SHIP,
    craft=pellandre.CRAFT,
    crew=pellandre.CREW,
    inventory=pellavine.INVENTORY,
    servicing=pellavine.SERVICING,
    room=pellandre.ROOM,
    done_to_it=(
        partial(put, sheet="Status", cell="B4", value=46351),  # 2026-11-25 asked, whenever the book is opened
        partial(put, sheet="Inventory", cell="D5", value=2),  # WB25: a second bailer
        partial(put, sheet="Required", cell="D7", value=20),  # WB26
        lambda book: hide_rows(book, "Crew", 12),  # WB27: the cook
        partial(rename, sheet="Crew", now="All hands"),  # WB28
    ),
)
