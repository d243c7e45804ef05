"""Iskenby Reach, container ship: a record kept in LibreOffice, with three faults."""

from datetime import date

from example_books.plan import Formula, Line, Plan, crew_list, lot
from example_books.stores import hydrostatic_release, lifeboat_stores, rigid_rescue_boat_stores

SHIP: Line = {
    "name": "Iskenby Reach",
    "imo_number": "3309586",
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "container ship",
    "gross_tonnage": 15320,
    "length_m": 158,
    "keel_laid": date(2017, 9, 11),
    "voyage": "international",
    "persons_certified": 22,
    "persons_on_board": 17,
    "rule_set": "solas",
    "record_date": date(2026, 11, 21),
    "kept_by": "Third officer",
}

BOAT: Line = {
    "kind": "lifeboat",
    "construction": "totally enclosed",
    "purpose": "required",
    "persons": 22,
    "stowage_height_m": 15,
    "sart_stowed": "no",
    "self_bailing": "no",
}
RAFT: Line = {
    "kind": "liferaft",
    "construction": "inflatable",
    "purpose": "required",
    "persons": 25,
    "pack": "A",
    "stowage_height_m": 14,
    "sart_stowed": "no",
    "transferable": "yes",
    "mass_kg": 181,
    "drop_tested_higher": "no",
    "painter_m": 26,
    "serviced": date(2026, 9, 22),
}

CRAFT: list[Line] = [
    {"name": "Lifeboat 1", "side": "starboard", "serial": "Q-LB-2201", **BOAT},
    {"name": "Lifeboat 2", "side": "port", "serial": "Q-LB-2202", **BOAT},
    {
        "name": "Rescue boat",
        "kind": "rescue boat",
        "construction": "rigid",
        "side": "starboard",
        "purpose": "required",
        "persons": 6,
        "stowage_height_m": 13,
        "sart_stowed": "no",
        "self_bailing": "no",
        "serial": "Q-RB-0190",
    },
    # SV02: the date was meant to be 2028, or nobody looked
    {"name": "Raft S", "side": "starboard", "serial": "Q-LR-5820", "certificate": "KS-26-1790", **RAFT}
    | {"earliest_content": date(2027, 1, 20)},
    {"name": "Raft P", "side": "port", "serial": "Q-LR-5821", "certificate": "KS-26-1791", **RAFT}
    | {"earliest_content": date(2028, 5, 31)},
    {"name": "Forward raft", "serial": "Q-LR-0702", "certificate": "KS-26-1792", **RAFT}
    | {"purpose": "remote", "persons": 6, "mass_kg": 80, "stowage_height_m": 12, "transferable": "no"}
    | {"earliest_content": date(2028, 5, 31)},
]

CREW = crew_list("""
1  | Master          | Thandiwe Morrel   | Lifeboat 1 | person in charge  | Master         |            | 2026-09-05
2  | Chief officer   | Karsten Uhlen     | Lifeboat 2 | person in charge  | Survival craft |            | 2026-07-21
3  | Second officer  | Iulia Stavrescu   | Lifeboat 1 | second in command | Survival craft |            | 2026-09-05
4  | Third officer   | Donal Keaveney    | Lifeboat 2 | second in command | Survival craft |            | 2026-10-16
5  | Chief engineer  | Mikkel Strandby   | Lifeboat 1 | engine operator   | Survival craft |            | 2026-05-13
6  | Second engineer | Vasco Pereiros    | Lifeboat 2 | engine operator   | Survival craft | 2028-08-31 | 2026-07-21
7  | Third engineer  | Ardit Kolosha     | Lifeboat 1 | member            | Survival craft |            | 2026-10-16
8  | Electrician     | Yusuf Karadere    | Lifeboat 2 | member            | Survival craft |            | 2026-07-21
9  | Bosun           | Romulo Estabaya   | Lifeboat 1 | radio             |                |            | 2026-03-02
10 | Able seaman     | Gil Dumalaon      | Lifeboat 2 | radio             |                |            | 2026-03-02
11 | Able seaman     | Andrey Sokolik    | Lifeboat 1 | member            |                |            | 2026-05-13
12 | Able seaman     | Cedric Amouzou    | Lifeboat 2 | member            |                |            | 2026-05-13
13 | Ordinary seaman | Joel Tabangcora   | Lifeboat 1 | member            |                |            | 2026-10-16
14 | Oiler           | Filip Novotra     | Lifeboat 2 | member            |                |            | 2026-03-02
15 | Oiler           | Marvin Calubay    | Lifeboat 1 | member            |                |            | 2026-05-13
16 | Cook            | Ireneo Salonga    | Lifeboat 2 | member            |                |            | 2026-07-21
17 | Deck cadet      | Signe Bjorkvall   | Lifeboat 1 | member            |                |            | 2026-10-16
""")

FLARES, RATIONS, MEDICINES = date(2028, 3, 31), date(2029, 2, 28), date(2028, 9, 30)

INVENTORY: list[Line] = [
    *lifeboat_stores(
        "Lifeboat 1", 22, painter_m=32, aids=3, flares=FLARES, rations=RATIONS, medicines=MEDICINES,
        without=("food ration",),
    ),
    lot("Lifeboat 1", "food ration", Formula("=2*11", 22), unit="pack", content=10000, content_unit="kJ",
        batch="F-087", expires="02/2029", remarks="two boxes of eleven"),
    *lifeboat_stores(
        "Lifeboat 2", 22, painter_m=32, aids=3, flares=FLARES, rations=RATIONS, medicines=MEDICINES,
        without=("hand flare",),
    ),
    lot("Lifeboat 2", "hand flare", 5, batch="HF-2286", made=date(2025, 5, 1), expires=FLARES),  # EQ01: six are asked
    *rigid_rescue_boat_stores("Rescue boat", medicines=MEDICINES),
    hydrostatic_release("Raft S", date(2028, 8, 31), "HR-69400"),
    hydrostatic_release("Raft P", date(2028, 8, 31), "HR-69401"),
    lot("Bridge", "line-throwing rocket", 4, batch="LT-300", expires="04/05/2028"),  # WB03: May or April
    lot("Bridge", "rocket parachute flare", 12, batch="RP-4410", made=date(2025, 5, 1), expires=date(2028, 4, 30)),
    lot("Forecastle store", "lifejacket", 2, remarks="for the forward raft"),
]  # fmt: skip

PLAN = Plan(
    file="iskenby-reach.ods",
    about="A record kept in LibreOffice Calc: five hand flares where six are asked, a raft whose contents run out long "
    "before its next service, and a date that can be read in two ways.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
)
