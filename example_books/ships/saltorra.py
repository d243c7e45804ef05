"""Saltorra, passenger ship on short international voyages: boats on both sides, rafts with B packs, rescue boats."""

from datetime import date

from example_books.plan import Line, Plan, crew_list, lot
from example_books.stores import (
    hydrostatic_release,
    inflated_rescue_boat_stores,
    lifeboat_stores,
    rigid_rescue_boat_stores,
)

SHIP: Line = {
    "name": "Saltorra",
    "imo_number": "3210462",
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "ferry",
    "gross_tonnage": 3920,
    "length_m": 88,
    "keel_laid": date(2013, 2, 18),
    "voyage": "short international",
    "persons_certified": 120,
    "persons_on_board": 54,
    "rule_set": "solas",
    "record_date": date(2026, 11, 23),
    "kept_by": "Safety officer",
}

BOAT: Line = {
    "kind": "lifeboat",
    "construction": "partially enclosed",
    "purpose": "required",
    "persons": 27,
    "stowage_height_m": 10,
    "sart_stowed": "no",
    "self_bailing": "yes",
}
RAFT: Line = {
    "construction": "inflatable",
    "purpose": "required",
    "persons": 25,
    "pack": "B",
    "stowage_height_m": 9,
    "sart_stowed": "no",
    "transferable": "no",
    "drop_tested_higher": "no",
    "painter_m": 22,
    "serviced": date(2026, 10, 12),
    "earliest_content": date(2028, 6, 30),
}

CRAFT: list[Line] = [
    {"name": "Boat 1", "side": "starboard", "serial": "Q-LB-2701", **BOAT},
    {"name": "Boat 2", "side": "port", "serial": "Q-LB-2702", **BOAT},
    {"name": "Raft 1", "kind": "DLR", "side": "starboard", "mass_kg": 231, "serial": "Q-LR-5501", **RAFT}
    | {"certificate": "KS-26-1960"},
    {"name": "Raft 2", "kind": "DLR", "side": "port", "mass_kg": 231, "serial": "Q-LR-5502", **RAFT}
    | {"certificate": "KS-26-1961"},
    {"name": "Raft 3", "kind": "liferaft", "side": "starboard", "mass_kg": 176, "serial": "Q-LR-5503", **RAFT}
    | {"certificate": "KS-26-1962", "transferable": "yes"},
    {"name": "Raft 4", "kind": "liferaft", "side": "port", "mass_kg": 176, "serial": "Q-LR-5504", **RAFT}
    | {"certificate": "KS-26-1963", "transferable": "yes"},
    {
        "name": "Fast rescue boat",
        "kind": "FRB",
        "construction": "RIB",
        "side": "starboard",
        "persons": 9,
        "stowage_height_m": 8,
        "sart_stowed": "no",
        "self_bailing": "yes",
        "serial": "Q-FR-0031",
    },
    {
        "name": "Rescue boat",
        "kind": "rescue boat",
        "construction": "rigid",
        "side": "port",
        "persons": 6,
        "stowage_height_m": 8,
        "sart_stowed": "no",
        "self_bailing": "no",
        "serial": "Q-RB-0311",
    },
]

CREW = [
    *crew_list("""
1  | Master           | Leonie Marchetta | Boat 1 | person in charge  | Master         |            | 2026-10-12
2  | Chief officer    | Viktor Soldahl   | Boat 2 | person in charge  | Survival craft |            | 2026-08-30
3  | Second officer   | Amina Torrelle   | Boat 1 | second in command | Survival craft |            | 2026-10-12
4  | Third officer    | Corin Tregelly   | Boat 2 | second in command | Survival craft |            | 2026-09-14
5  | Chief engineer   | Zoltan Revesh    | Boat 1 | engine operator   | Survival craft |            | 2026-08-30
6  | Second engineer  | Birgit Aasland   | Boat 2 | engine operator   | Survival craft |            | 2026-10-12
7  | Electrician      | Paulin Desmarre  | Boat 1 | radio             | Survival craft | 2029-09-30 | 2026-09-14
8  | Bosun            | Henk Oosterdam   | Boat 2 | radio             | Survival craft |            | 2026-08-30
9  | Able seaman      | Matti Rautala    | Boat 1 | member            |                |            | 2026-08-30
10 | Able seaman      | Elio Scarpanto   | Boat 2 | member            |                |            | 2026-08-30
11 | Able seaman      | Dragan Ilikov    | Boat 1 | member            |                |            | 2026-10-12
12 | Motorman         | Ayo Balinge      | Boat 2 | member            |                |            | 2026-10-12
13 | Purser           | Celestine Obrin  | Boat 1 | member            |                |            | 2026-09-14
14 | Cook             | Marguerite Tolan | Boat 2 | member            |                |            | 2026-09-14
15 | Cook's assistant | Ebbe Lindskar    | Boat 1 | member            |                |            | 2026-09-14
16 | Steward          | Nadira Koval     | Boat 2 | member            |                |            | 2026-08-30
17 | Steward          | Jo Pemberlin     | Boat 1 | member            |                |            | 2026-08-30
18 | Cabin attendant  | Sakari Nuotio    | Boat 2 | member            |                |            | 2026-10-12
"""),
    # passengers are counted, not named: P1 to P18 in Boat 1, P19 to P36 in Boat 2, which makes both boats just full
    *(
        {"number": f"P{number}", "rank": "passenger", "craft": "Boat 1" if number <= 18 else "Boat 2", "duty": "member"}
        for number in range(1, 37)
    ),
]

MEDICINES = date(2028, 9, 30)


def _boat(place: str) -> list[Line]:
    """A boat for 27: self-bailing, so without a pump; food marked in kilocalories, water in litres."""
    return [
        *lifeboat_stores(
            place, 27, painter_m=22, aids=3, flares=date(2028, 3, 31), rations=date(2029, 2, 28), medicines=MEDICINES,
            without=("manual bailing pump", "food ration", "fresh water"),
        ),
        lot(place, "emergency food", 54, unit="packs", content=1200, content_unit="kcal", batch="F-091",
            expires=date(2029, 2, 28), remarks="two packs a person"),
        lot(place, "drinking water", 81, unit="L", batch="W-320", expires=date(2029, 2, 28),
            remarks="162 sachets of half a litre"),
    ]  # fmt: skip


INVENTORY: list[Line] = [
    *_boat("Boat 1"),
    *_boat("Boat 2"),
    *inflated_rescue_boat_stores("Fast rescue boat", medicines=MEDICINES),
    *rigid_rescue_boat_stores("Rescue boat", medicines=MEDICINES),
    hydrostatic_release("Raft 3", date(2028, 9, 30), "HR-70330"),
    hydrostatic_release("Raft 4", date(2028, 9, 30), "HR-70331"),
    lot("Bridge", "line-throwing rocket", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
    lot("Bridge", "rocket parachute flare", 12, batch="RP-4410", made=date(2025, 5, 1), expires=date(2028, 4, 30)),
    lot("Muster station 1", "adult lifejacket", 70),
    lot("Muster station 2", "adult lifejacket", 70),
    lot("Safety store", "blankets", 30),
]

PLAN = Plan(
    file="saltorra.xlsx",
    about="A clean record of a passenger ship on short international voyages: her rafts carry B packs, which no cargo "
    "ship may have. Both boats are exactly full; food is marked in kilocalories; passengers have numbers and no names.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
)
