"""Pellavine, refrigerated cargo ship of 62.4 m: rafts only, two on each side, and an inflated boat."""

from datetime import date

from example_books.plan import Line, Plan, crew_list, lot
from example_books.stores import hydrostatic_release, inflated_rescue_boat_stores

SHIP: Line = {
    "name": "Pellavine",
    "imo_number": 3155820,
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "refrigerated cargo ship",
    "gross_tonnage": 1480,
    "length_m": 62.4,
    "keel_laid": date(2015, 10, 5),
    "voyage": "international",
    "persons_certified": 10,
    "persons_on_board": 9,
    "rule_set": "solas",
    "record_date": date(2026, 11, 22),
    "kept_by": "Chief officer",
}

RAFTS = ("Raft P1", "Raft P2", "Raft S1", "Raft S2")
RAFT: Line = {
    "kind": "liferaft",
    "construction": "inflatable",
    "purpose": "required",
    "persons": 10,
    "pack": "A",
    "stowage_height_m": 5.5,
    "sart_stowed": "no",
    "transferable": "no",
    "mass_kg": 142,
    "drop_tested_higher": "no",
    "painter_m": 16,
    "person_mass_kg": 82.5,
}

CRAFT: list[Line] = [
    {"name": "Raft P1", "side": "port", "serial": "Q-LR-4081", "certificate": "KS-26-2002", **RAFT}
    | {"serviced": date(2026, 10, 2), "earliest_content": "2028-04"}
    | {"remarks": "on the bridge deck, behind rails: it cannot be carried across"},
    {"name": "Raft P2", "side": "port", "serial": "Q-LR-4083", "certificate": "KS-26-2003", **RAFT}
    | {"serviced": date(2026, 10, 2), "earliest_content": "2028-04"},
    {
        "name": "Raft S1",
        "side": "starboard",
        "serial": "Q-LR-4082",
        "certificate": "KS-26-0347",
        **RAFT,
        "serviced": date(2026, 2, 10),
        "service_granted_until": date(2027, 7, 10),
        "earliest_content": date(2028, 1, 31),
        "remarks": "service due 2027-02-10; put off in writing, see Servicing",
    },
    {"name": "Raft S2", "side": "starboard", "serial": "Q-LR-4084", "certificate": "KS-26-2004", **RAFT}
    | {"serviced": date(2026, 10, 2), "earliest_content": "2028-04"},
    {
        "name": "Rescue boat",
        "kind": "MOB boat",
        "construction": "inflated",
        "side": "starboard",
        "persons": 6,
        "stowage_height_m": 5,
        "sart_stowed": "no",
        "self_bailing": "yes",
        "serial": "Q-RB-0204",
    },
]

CREW = crew_list("""
1 | Master          | Ottilie Braesch  | Raft S1 | person in charge  | Master         |  | 2026-09-30
2 | Chief officer   | Nils Ekvall      | Raft P1 | person in charge  | Survival craft |  | 2026-07-14
3 | Second officer  | Rosalind Achebu  | Raft S1 | second in command | Survival craft |  | 2026-09-30
4 | Chief engineer  | Goran Trifko     | Raft P1 | second in command | Survival craft |  | 2026-05-06
5 | Second engineer | Hideo Marunaka   | Raft S1 | member            | Survival craft |  | 2026-07-14
6 | Able seaman     | Edgardo Siapno   | Raft P1 | member            |                |  | 2026-03-11
7 | Able seaman     | Simeon Barrow    | Raft S1 | member            |                |  | 2026-03-11
8 | Able seaman     | Wies Ouwendal    | Raft P1 | member            |                |  | 2026-07-14
9 | Cook            | Crisanto Malubay | Raft P1 | member            |                |  | 2026-05-06
""")

INVENTORY: list[Line] = [
    *inflated_rescue_boat_stores("Rescue boat", medicines=date(2028, 10, 31)),
    # one lot, four places
    *(hydrostatic_release(raft, date(2028, 10, 31), "HR-71440") for raft in RAFTS),
    lot("Bridge", "line-throwing rocket", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
    lot("Bridge", "rocket parachute flare", 12, batch="RP-4410", made=date(2025, 5, 1), expires=date(2028, 4, 30)),
    lot("Bridge", "survival-craft SART", 1, side="port", batch="Q-SR-5144"),
    lot("Bridge", "survival-craft SART", 1, side="starboard", batch="Q-SR-5145"),
    lot("Monkey island", "EPIRB", 1, batch="Q-EP-2207"),
    lot("Monkey island", "EPIRB battery", 1, batch="Q-EP-2207", expires=date(2031, 3, 31)),
    lot("Cabins", "immersion suit", 9),
    lot("Muster station", "lifejacket", 12, remarks="three of them for the watch"),
]

SERVICING: list[Line] = [
    {"appliance": "Raft S1", "service": "liferaft serviced", "done": date(2026, 2, 10), "done_by": "servicing station"}
    | {"certificate": "KS-26-0347", "granted_until": date(2027, 7, 10), "grant_reference": "VMO/SV/2026/0031"}
    | {"remarks": "no station on the route"},
]

PLAN = Plan(
    file="pellavine.xlsx",
    about="A clean record of a ship without lifeboats. The rafts cannot be carried across: those of each side take "
    "more than half as many again as there are on board, and one of them alone takes everyone. The service of one has "
    "been put off in writing by the Administration.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
    servicing=SERVICING,
)
