"""Quillane, passenger ship of 41 m and 460 gross tonnage: rafts in the place of boats, and too few to port."""

from datetime import date

from example_books.plan import Line, Plan, crew_list, lot
from example_books.stores import hydrostatic_release, rigid_rescue_boat_stores

SHIP: Line = {
    "name": "Quillane",
    "imo_number": "3455012",
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "passenger ship",
    "gross_tonnage": 460,
    "length_m": 41,
    "keel_laid": date(2014, 3, 10),
    "voyage": "international",
    "persons_certified": 50,
    "persons_on_board": 50,
    "rule_set": "solas",
    "record_date": date(2026, 11, 24),
    "kept_by": "Mate",
    "passengers": 44,  # CV03: the certificate says 40
    "passengers_certified": 40,
}

RAFT: Line = {
    "kind": "liferaft",
    "construction": "inflatable",
    "purpose": "required",
    "persons": 8,  # CV10: seven of them for fifty persons, and one boat to marshal them
    "pack": "A",
    "stowage_height_m": 4.5,
    "sart_stowed": "no",
    "transferable": "no",
    "mass_kg": 96,
    "drop_tested_higher": "no",
    "painter_m": 15,
    "serviced": date(2026, 10, 30),
    "earliest_content": date(2028, 5, 31),
}
# CV01: places for 56 to port, 75 are asked of rafts that cannot be moved; CV04: 48 where one is lost
PORT = ("Raft P1", "Raft P2", "Raft P3", "Raft P4", "Raft P5", "Raft P6", "Raft P7")
STARBOARD = (
    "Raft S1", "Raft S2", "Raft S3", "Raft S4", "Raft S5", "Raft S6", "Raft S7", "Raft S8", "Raft S9", "Raft S10",
)  # fmt: skip

CRAFT: list[Line] = [
    {
        "name": "Rescue boat",
        "kind": "rescue boat",
        "construction": "rigid",
        "side": "starboard",
        "purpose": "required",
        "persons": 6,
        "stowage_height_m": 4,
        "sart_stowed": "no",
        "self_bailing": "no",
    },
    *({"name": name, "side": "port", "certificate": f"KS-26-20{name[-2:]}", **RAFT} for name in PORT),
    *({"name": name, "side": "starboard", "certificate": f"KS-26-20{name[5:]}", **RAFT} for name in STARBOARD),
]

# CR02 and CR06: two members in the rescue boat, and nobody to lead it or to run its engine
CREW = crew_list("""
1 | Master   | Corrie Falkenrath | Raft S1     | person in charge  | Master         | | 2026-06-15
2 | Mate     | Luca Brindani     | Raft P1     | person in charge  | Survival craft | | 2026-06-15
3 | Engineer | Hamish Torquil    | Raft S1     | second in command | Survival craft | | 2026-06-15
4 | Deckhand | Mio Takahara      | Rescue boat | member            |                | | 2026-06-15
5 | Deckhand | Saul Winterbourne | Rescue boat | member            |                | | 2026-06-15
6 | Steward  | Ama Dankwah       | Raft P1     | second in command | Survival craft | | 2026-06-15
""")

INVENTORY: list[Line] = [
    *rigid_rescue_boat_stores("Rescue boat", medicines=date(2028, 8, 31)),
    *(hydrostatic_release(raft, date(2028, 10, 31), "HR-71600") for raft in (*PORT, *STARBOARD)),
    lot("Bridge", "line-throwing rocket", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
    lot("Muster station", "adult lifejacket", 53),  # SH10: one for each, and one in twenty of the passengers more
    lot("Muster station", "child lifejacket", 5),
]

# RT32: there is no ninth raft to port
DEFECTS: list[Line] = [
    {"subject": "Raft P9", "fitting": "cradle", "wrong": "strap frayed", "since": date(2026, 11, 20), "by": "Mate"}
]

PLAN = Plan(
    file="quillane.xlsx",
    about="A small passenger ship with rafts in the place of lifeboats. The figures were copied from her sister, which "
    "has rafts for ten persons: too few places to port, too many rafts for one boat to marshal.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
    defects=DEFECTS,
)
