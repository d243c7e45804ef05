"""Marrowick Fell, bulk carrier of 179.5 m: a free-fall boat over the stern, rafts on both sides, one more forward."""

from datetime import date

from example_books.plan import HEADINGS_AGAIN, Formula, Line, Plan, crew_list, lot
from example_books.stores import hydrostatic_release, lifeboat_stores, rigid_rescue_boat_stores

SHIP: Line = {
    "name": "Marrowick Fell",
    "imo_number": "3101001",
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "bulk carrier",
    "gross_tonnage": 24310,
    "length_m": 179.5,
    "keel_laid": date(2009, 3, 17),
    "voyage": "international",
    "persons_certified": 25,
    "persons_on_board": 22,
    "rule_set": "solas",
    "record_date": date(2026, 11, 20),
    "kept_by": "Third officer",
}

SERVICED = date(2026, 10, 20)

CRAFT: list[Line] = [
    {
        "name": "Free-fall boat",
        "kind": "free-fall lifeboat",
        "construction": "totally enclosed",
        "side": "aft",
        "purpose": "required",
        "persons": 25,
        "stowage_height_m": 17.5,
        "sart_stowed": "no",
        "self_bailing": "no",
        "serial": "Q-FF-0417",
        "remarks": "one seat and harness for each of the 25",
    },
    {
        "name": "Rescue boat",
        "kind": "rescue boat",
        "construction": "rigid",
        "side": "starboard",
        "purpose": "required",
        "persons": 6,
        "stowage_height_m": 14,
        "sart_stowed": "no",
        "self_bailing": "yes",
        "serial": "Q-RB-0088",
    },
    {
        "name": "Raft P",
        "kind": "liferaft",
        "construction": "inflatable",
        "side": "port",
        "purpose": "required",
        "persons": 25,
        "pack": "A",
        "stowage_height_m": 13,
        "sart_stowed": "no",
        "transferable": "no",
        "mass_kg": 198,
        "drop_tested_higher": "no",
        "painter_m": 30,
        "serial": "Q-LR-2551",
        "certificate": "KS-26-1907",
        "serviced": SERVICED,
        "earliest_content": date(2028, 3, 31),
        "remarks": "too heavy to carry across, and not meant to be: there is a raft on the other side",
    },
    {
        "name": "Raft S",
        "kind": "davit-launched liferaft",
        "construction": "inflatable",
        "side": "starboard",
        "purpose": "required",
        "persons": 25,
        "pack": "A",
        "stowage_height_m": 13,
        "sart_stowed": "no",
        "transferable": "no",
        "mass_kg": 264,
        "drop_tested_higher": "no",
        "painter_m": 30,
        "serial": "Q-LR-2552",
        "certificate": "KS-26-1908",
        "serviced": SERVICED,
        "earliest_content": "03/2028",
    },
    {
        "name": "Forward raft",
        "kind": "liferaft",
        "construction": "inflatable",
        "purpose": "remote",
        "persons": 6,
        "pack": "A",
        "stowage_height_m": 9,
        "sart_stowed": "no",
        "transferable": "no",
        "mass_kg": 79,
        "drop_tested_higher": "no",
        "painter_m": 20,
        "serial": "Q-LR-0619",
        "certificate": "KS-26-1909",
        "serviced": SERVICED,
        "earliest_content": date(2028, 3, 31),
        "remarks": "lashed by the forecastle store; no release unit, it is cut free by hand",
    },
]

CREW = crew_list("""
1  | Master          | Halvard Terning | Free-fall boat | person in charge  | Master         |            | 2026-07-02
2  | Chief officer   | Ines Corvalho   | Free-fall boat | second in command | Survival craft |            | 2026-09-11
3  | Second officer  | Tomasz Wirek    | Free-fall boat | radio             | Survival craft |            | 2026-06-15
4  | Third officer   | Anouk Dellery   | Free-fall boat | member            | Survival craft |            | 2026-09-11
5  | Chief engineer  | Rado Maslik     | Free-fall boat | engine operator   | Survival craft | 2029-04-30 | 2026-07-02
6  | Second engineer | Jorun Feldt     | Free-fall boat | engine operator   | Survival craft |            | 2026-05-28
7  | Third engineer  | Bastien Orlo    | Free-fall boat | member            | Survival craft |            | 2026-09-11
8  | Electrician     | Milosh Trnko    | Free-fall boat | member            | Survival craft |            | 2026-08-20
9  | Bosun           | Arvid Salmund   | Free-fall boat | member            | Survival craft |            | 2026-03-30
10 | Able seaman     | Pio Magtanong   | Free-fall boat | member            |                |            | 2026-03-30
11 | Able seaman     | Nestor Dalagan  | Free-fall boat | member            |                |            | 2026-03-30
12 | Able seaman     | Ruel Pasibay    | Free-fall boat | member            |                |            | 2026-05-28
13 | Able seaman     | Oluwen Adaro    | Free-fall boat | member            |                |            | 2026-05-28
14 | Ordinary seaman | Kwabe Ansorri   | Free-fall boat | member            |                |            | 2026-09-11
15 | Ordinary seaman | Teodor Vlasin   | Free-fall boat | member            |                |            | 2026-09-11
16 | Fitter          | Dario Pelluzi   | Free-fall boat | member            |                |            | 2026-05-28
17 | Oiler           | Jomar Villaquin | Free-fall boat | member            |                |            | 2026-03-30
18 | Oiler           | Arnel Tugadi    | Free-fall boat | member            |                |            | 2026-03-30
19 | Wiper           | Sander Hoekmeer | Free-fall boat | member            |                |            | 2026-08-20
20 | Cook            | Lito Baranday   | Free-fall boat | member            |                |            | 2026-05-28
21 | Messman         | Emre Saltuk     | Free-fall boat | member            |                |            | 2026-09-11
22 | Deck cadet      | Wanda Ostreich  | Free-fall boat | member            |                |            | 2026-09-11
""")

BOAT = "Free-fall boat"

INVENTORY: list[Line] = [
    # no oars: a free-fall boat carries none
    *lifeboat_stores(
        BOAT, 25, painter_m=36, aids=3, flares=date(2028, 4, 30), rations=date(2029, 1, 31),
        medicines=date(2028, 8, 31), without=("buoyant oars", "fresh water", "hand flare", "seasickness bag"),
    ),
    # 25 persons need 75 L: 60 L in a tank that is part of the boat, 15 L in sachets
    lot(BOAT, "fresh water in a tank", 60, unit="L", remarks="drained and filled 2026-10-02, which is no expiry"),
    lot(BOAT, "fresh water", 30, unit="sachet", content=500, content_unit="mL", batch="W-311", expires="03/2029"),
    # two lots of hand flares: each alone is too few, together they are six
    lot(BOAT, "hand flare", 2, unit="pcs", batch="HF-2190", made="09/2024", expires=date(2027, 9, 30)),
    lot(BOAT, "hand flare", 4, unit="pcs", batch="HF-2286", made="05/2025", expires=date(2028, 4, 30)),
    lot(BOAT, "seasickness bag", Formula("=20+10", 30), remarks="a box of 20 and one of 10"),
    # a third painter, short: kept for mooring alongside, it takes nothing from the two long ones
    lot(BOAT, "painter", 1, content=12, content_unit="m", condition="spare", remarks="for use alongside"),
    HEADINGS_AGAIN,
    *rigid_rescue_boat_stores("Rescue boat", medicines=date(2028, 8, 31)),
    hydrostatic_release("Raft P", date(2028, 9, 30), "HR-70112"),
    # what is no craft's: none of it is asked by a rule of the audit
    lot("Bridge", "line-throwing rocket", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
    lot("Bridge", "rocket parachute flare", 12, batch="RP-4410", made=date(2025, 5, 1), expires=date(2028, 4, 30)),
    lot("Bridge, port wing", "lifebuoy light and smoke", 1, batch="LS-17", expires=date(2028, 6, 30)),
    lot("Bridge, starboard wing", "lifebuoy light and smoke", 1, batch="LS-17", expires=date(2028, 6, 30)),
    lot("Pyrotechnics locker", "hand flare", 6, batch="HF-1702", made=date(2023, 6, 1), expires=date(2026, 6, 30),
        condition="awaiting landing", remarks="out of the boat; to be landed at Port Ostrell"),
    lot("Forecastle store", "lifejacket", 2, remarks="for the forward raft"),
]  # fmt: skip

PLAN = Plan(
    file="marrowick-fell.xlsx",
    about="A clean record. Three readings of a date stand here (a date cell, 03/2029 and 09/2024), two lots that are "
    "enough only together, water partly in a tank, a heavy raft under a davit, and old flares waiting to be landed.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
)
