"""Odrunsel, general cargo ship of 98 m: two boats under davits, one of them also the rescue boat."""

from datetime import date

from example_books.plan import Line, Plan, crew_list, lot
from example_books.stores import hydrostatic_release, lifeboat_stores

SHIP: Line = {
    "name": "Odrunsel",
    "imo_number": "IMO 3124077",
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "multipurpose ship",
    "gross_tonnage": 5180,
    "length_m": 98,
    "keel_laid": date(1998, 7, 1),  # the first day of the period of force
    "voyage": "worldwide",
    "persons_certified": 20,
    "persons_on_board": 18,
    "rule_set": "solas",
    "record_date": date(2026, 11, 18),
    "kept_by": "Second officer",
}

BOAT: Line = {
    "construction": "totally enclosed",
    "purpose": "required",
    "persons": 20,
    "stowage_height_m": 11,
    "self_bailing": "no",
}
RAFT: Line = {
    "kind": "Throw-over liferaft",
    "construction": "inflatable",
    "persons": 20,
    "pack": "SOLAS A",
    "stowage_height_m": 9.5,
    "sart_stowed": "n",
    "transferable": "Y",
    "drop_tested_higher": "no",
    "painter_m": 25,
    "serviced": date(2026, 9, 28),
    "earliest_content": date(2028, 5, 31),
}

CRAFT: list[Line] = [
    {"name": "Lifeboat 1", "kind": "Lifeboat / rescue boat", "side": "STBD", "serial": "Q-LB-1201", **BOAT}
    | {"sart_stowed": "no", "remarks": "also the rescue boat; radar reflector on board"},
    {"name": "Lifeboat 2", "kind": "lifeboat", "side": "PS", "serial": "Q-LB-1202", **BOAT}
    | {"sart_stowed": "yes", "remarks": "the SART stands in the place of the radar reflector"},
    {"name": "Raft S", "side": "STBD", "mass_kg": 172, "serial": "Q-LR-3301", "certificate": "KS-26-1811", **RAFT},
    {"name": "Raft P", "side": "PS", "mass_kg": 185, "serial": "Q-LR-3302", "certificate": "KS-26-1812", **RAFT},
]

CREW = crew_list("""
1  | Master             | Sunniva Raldt     | lifeboat 1 | PIC               | Master         |            | 2026-08-04
2  | Chief officer      | Pavlo Zhurenko    | Lifeboat 2 | Coxswain          | Survival craft |            | 2026-06-19
3  | Second officer     | Mirele Aumont     | Lifeboat 1 | deputy            | Survival craft |            | 2026-08-04
4  | Third officer      | Gethin Prowse     | Lifeboat 2 | second in command | Survival craft |            | 2026-10-07
5  | Chief engineer     | Ferenc Barkoly    | Lifeboat 1 | engine operator   | Survival craft |            | 2026-04-25
6  | Second engineer    | Isko Marandan     | Lifeboat 2 | motorman          | Survival craft | 2028-02-29 | 2026-06-19
7  | Third engineer     | Duarte Lisso      | Lifeboat 1 | member            | Survival craft |            | 2026-10-07
8  | Bosun              | Amado Quiringan   | Lifeboat 1 | radio             | Survival craft |            | 2026-02-12
9  | Able seaman        | Reno Batalang     | Lifeboat 2 | VHF               |                |            | 2026-02-12
10 | Able seaman        | Kofi Ansabele     | Lifeboat 1 | member            |                |            | 2026-06-19
11 | Able seaman        | Vidar Holsen      | Lifeboat 2 | member            |                |            | 2026-06-19
12 | Ordinary seaman    | Tiago Ferrelo     | Lifeboat 1 | member            |                |            | 2026-10-07
13 | Ordinary seaman    | Maksym Olshan     | Lifeboat 2 | member            |                |            | 2026-10-07
14 | Oiler              | Jasper Ilagun     | Lifeboat 1 | member            |                |            | 2026-02-12
15 | Oiler              | Bohdan Kravets    | Lifeboat 2 | member            |                |            | 2026-06-19
16 | Cook               | Rosauro Lampit    | Lifeboat 1 | member            |                |            | 2026-04-25
17 | Messman            | Idris Okonlo      | Lifeboat 2 | member            |                |            | 2026-08-04
18 | Engine cadet       | Lotte Brandsma    | Lifeboat 2 | member            |                |            | 2026-10-07
T1 | Service technician | Yann Keravel      |            |                   |                |            | 2026-11-17
""")
CREW[-1]["remarks"] = "on board alongside only: no craft assigned"

FLARES, RATIONS, MEDICINES = date(2028, 2, 29), date(2028, 12, 31), date(2028, 6, 30)

INVENTORY: list[Line] = [
    *lifeboat_stores(
        "LIFEBOAT 1", 20, painter_m=25, aids=2, flares=FLARES, rations=RATIONS, medicines=MEDICINES,
        without=("fishing tackle", "food ration", "hand flare"),  # fishing tackle: see Exemptions
    ),
    lot("Lifeboat 1", "buoyant towing line", 1, content=200, content_unit="ft", remarks="61 m"),
    # numbers typed as text, each with one reading only
    lot("Lifeboat 1", "Hand Flares", "6", unit="pcs", batch="HF-2286", made=date(2025, 5, 1), expires="29/02/2028"),
    lot("Lifeboat 1", "lifeboat rations", 20, unit="packs", content="10 000 kJ", batch="F-087", expires=RATIONS),
    *lifeboat_stores(
        "Lifeboat 2", 20, painter_m=25, aids=2, flares=FLARES, rations=RATIONS, medicines=MEDICINES,
        without=("fresh water", "radar reflector"),
    ),
    # 20 persons: 20 L in sachets; 40 L more come from the desalinator, which makes as much in two days
    lot("Lifeboat 2", "water sachets", 40, content=500, content_unit="ml", batch="W-311", expires=RATIONS),
    lot("Lifeboat 2", "hand-operated watermaker", 1, content=40, content_unit="L", batch="Q-RO-77",
        remarks="40 L in two days, by the maker's test sheet"),
    lot("Lifeboat 2", "SART", 1, batch="Q-SR-5120", remarks="bracket beside the hatch"),
    lot("Lifeboat 2", "SART battery", 1, batch="Q-SR-5120", made=date(2025, 8, 1), expires=date(2030, 8, 31)),
    hydrostatic_release("Raft S", date(2028, 8, 31), "HR-69020"),
    hydrostatic_release("Raft P", date(2028, 8, 31), "HR-69021"),
    lot("Wheelhouse", "GMDSS VHF", 3),
    lot("Wheelhouse", "emergency VHF battery", 3, batch="Q-VB-310", expires=date(2029, 7, 31)),
    lot("Ashore at Kellimar", "waterproof torch", 1, condition="in service ashore"),
]  # fmt: skip

EXEMPTIONS: list[Line] = [
    {
        "rule": "LSA Code 4.4.8.26",
        "subject": "Lifeboat 1",
        "authority": "Vessary Maritime Office",
        "reference": "VMO/EX/2026/0114",
        "until": date(2028, 6, 30),
        "condition": "Waiver by LSA Code 4.4.8.32 for the fishing tackle of the rescue lifeboat; only on voyages where "
        "help is never more than a few days away.",
    },
    {
        # it ran out, and the food is on board again: an old line that harms nobody
        "rule": "lifeboat.food-ration",
        "authority": "Vessary Maritime Office",
        "reference": "VMO/EX/2025/0077",
        "until": date(2025, 12, 31),
        "condition": "No longer needed.",
    },
]

PLAN = Plan(
    file="odrunsel.xlsx",
    about="A clean record. Part of the water of Lifeboat 2 is made by a hand-operated desalinator, her SART stands for "
    "the radar reflector, and the fishing tackle of Lifeboat 1 is waived by the Administration. Names are written as "
    "people write them: LIFEBOAT 1, STBD, PIC, pcs.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
    exemptions=EXEMPTIONS,
)
