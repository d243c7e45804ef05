"""Brannoquay, product tanker: a record of the ship's own making, older than the template, with nine faults."""

from datetime import date

from example_books.plan import Layout, Line, Plan, crew_list, lot
from example_books.stores import hydrostatic_release, inflated_rescue_boat_stores, lifeboat_stores

SHIP: Line = {
    "name": "Brannoquay",
    "imo_number": "IMO 3388403",
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "product tanker",
    "gross_tonnage": 11240,
    "length_m": 143,
    "keel_laid": date(2006, 1, 30),
    "voyage": "unrestricted",
    "persons_certified": 21,
    "persons_on_board": 16,
    "rule_set": "SOLAS 74",
    "record_date": date(2026, 11, 14),
    "low_flash_cargo": "yes",
}

BOAT: Line = {
    "kind": "TELB",
    "construction": "fully enclosed",
    "persons": 21,
    "stowage_height_m": 13,
    "sart_stowed": "no",
    "self_bailing": "no",
}
RAFT: Line = {
    "kind": "life raft",
    "construction": "inflatable",
    "purpose": "required",
    "persons": 20,
    "pack": "SOLAS A pack",
    "stowage_height_m": 11,
    "sart_stowed": "no",
    "transferable": "yes",
    "mass_kg": 171,
    "drop_tested_higher": "no",
    "painter_m": 24,
    "earliest_content": date(2028, 3, 31),
}

CRAFT: list[Line] = [
    {"name": "No. 1 boat", "side": "SB", **BOAT, "fire_protected": "yes"},
    {"name": "No. 2 boat", "side": "P", **BOAT, "fire_protected": "no"},  # CV09: cargo of a flash point below 60 C
    {"name": "MOB boat", "side": "P", "kind": "rescueboat", "construction": "rigid inflatable", "persons": 6}
    | {"stowage_height_m": 12, "sart_stowed": "no", "self_bailing": "yes"},
    {"name": "Raft SB", "side": "SB", "certificate": "KS-26-1750", **RAFT, "serviced": date(2026, 9, 15)},
    # SV01: it went ashore in November last year, and not since
    {"name": "Raft P", "side": "P", "certificate": "KS-25-2301", **RAFT, "serviced": date(2025, 11, 4)},
]

CREW = crew_list("""
1  | Master          | Evander Quist    | No. 1 boat | commander | Master         |  | 2026-09-26
2  | Chief officer   | Beatrix Olander  | No. 2 boat | crew      | Survival craft |  | 2026-06-11
3  | Second officer  | Marijn Dekhuis   | No. 1 boat | commander   | Survival craft |  | 2026-09-26
4  | Third officer   | Calixto Bermejal | No. 2 boat | deputy    | Survival craft |  | 2026-08-07
5  | Chief engineer  | Ondrej Havlas    | No. 1 boat | engineer  | Survival craft |  | 2026-06-11
6  | Second engineer | Prosper Adjanoun | No. 2 boat | engineer  | Survival craft |  | 2026-08-07
7  | Third engineer  | Leif Tormund     | No. 1 boat | crew      | Survival craft |  | 2026-06-11
8  | Pumpman         | Rizal Montenego  | No. 2 boat | crew      |                |  | 2026-04-20
9  | Bosun           | Efren Catindig   | No. 1 boat | crew      |                |  | 2026-04-20
10 | Able seaman     | Sixto Ballesco  | No. 2 boat | crew      |                |  | 2026-04-20
11 | Able seaman     | Timur Asanbek    | No. 1 boat | crew      |                |  | 2026-08-07
12 | Able seaman     | Uriah Penhallon  | No. 2 boat | crew      |                |  | 2026-08-07
13 | Oiler           | Danilo Ybarde    | No. 1 boat | crew      |                |  | 2026-04-20
14 | Oiler           | Mircea Balanut   | No. 2 boat | crew      |                |  | 2026-08-07
15 | Cook            | Fidel Aragones   | No. 1 boat | crew      |                |  | 2026-06-11
16 | Messman         | Knut Eidervik    |            | crew      |                |  | 2026-09-26
""")
# CR02: nobody commands No. 2 boat; CR18 and CR05: two command No. 1 boat, and there is no deputy; CR04: the messman has
# no boat
CREW[1]["substitute_for"] = "1"
CREW[3]["substitute_for"] = "21"  # CR14: there is no 21

FLARES, RATIONS, MEDICINES = date(2028, 4, 30), date(2029, 1, 31), date(2028, 8, 31)

INVENTORY: list[Line] = [
    *lifeboat_stores("No. 1 boat", 21, painter_m=28, aids=3, flares=FLARES, rations=RATIONS, medicines=MEDICINES),
    *lifeboat_stores(
        "No. 2 boat", 21, painter_m=28, aids=3, flares=FLARES, rations=RATIONS, medicines=MEDICINES,
        without=("fresh water", "rocket parachute flare"),
    ),
    # EQ01: 60 L for 21 persons
    lot("No. 2 boat", "emergency water", 120, unit="pouches", content="500 mL", batch="W-311", expires=RATIONS),
    # EX01: in the boat since 2023
    lot("No. 2 boat", "parachute rocket", 4, batch="RP-3306", made=date(2023, 8, 1), expires=date(2026, 7, 31)),
    *inflated_rescue_boat_stores("MOB boat", medicines=MEDICINES),
    hydrostatic_release("Raft SB", date(2028, 8, 31), "HR-69355"),
    hydrostatic_release("Raft P", date(2028, 8, 31), "HR-69356"),
    lot("Wheelhouse", "line thrower", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
]  # fmt: skip
for signal in INVENTORY:
    if signal["item"] in ("rocket parachute flare", "hand flare", "buoyant smoke signal", "parachute rocket"):
        signal["Supplier"] = "Hollin Chandlery, Port Ostrell"  # WB13: a column of the ship's own

LAYOUT = Layout(
    sheets=(
        ("inventory", "LSA inventory"),
        ("crew", "Crew list"),
        ("craft", "Boats and rafts"),
        ("ship", "Vessel particulars"),
    ),
    top=(
        "M/T BRANNOQUAY",
        "Record of life-saving appliances, form Q-14 of the company, third edition",
        "To be gone through every month by the third officer and shown to the master",
        "",
    ),
    columns={
        "ship": (
            "imo_number", "name", "ship_type", "flag", "company", "length_m", "gross_tonnage", "persons_on_board",
            "persons_certified", "keel_laid", "voyage", "rule_set", "record_date", "low_flash_cargo",
        ),
        "craft": (
            "side", "name", "persons", "kind", "construction", "stowage_height_m", "self_bailing", "sart_stowed",
            "pack", "serviced", "certificate", "earliest_content", "painter_m", "mass_kg", "transferable",
            "drop_tested_higher", "purpose", "fire_protected",
        ),
        "crew": ("rank", "name", "number", "duty", "craft", "certificate", "joined", "substitute_for"),
        "inventory": (
            "item", "quantity", "unit", "content", "content_unit", "expires", "place", "made", "batch", "Supplier",
            "condition", "remarks",
        ),
    },
    headings={
        ("ship", "name"): "Vessel name",
        ("ship", "imo_number"): "IMO no",
        ("ship", "length_m"): "LOA",
        ("ship", "gross_tonnage"): "GT",
        ("ship", "persons_on_board"): "POB",
        ("ship", "keel_laid"): "Keel laying date",
        ("ship", "voyage"): "Trading area",
        ("craft", "name"): "Boat",
        ("craft", "side"): "Ship's side",
        ("craft", "persons"): "Capacity",
        ("craft", "kind"): "Craft type",
        ("craft", "construction"): "Hull",
        ("craft", "stowage_height_m"): "Height above waterline",
        ("craft", "serviced"): "Last service",
        ("craft", "certificate"): "Cert no",
        ("craft", "earliest_content"): "Pack expiry",
        ("craft", "painter_m"): "Painter length",
        ("craft", "mass_kg"): "Weight",
        ("crew", "rank"): "Rating",
        ("crew", "number"): "Muster no",
        ("crew", "craft"): "Boat station",
        ("crew", "duty"): "Boat duty",
        ("crew", "joined"): "Signed on",
        ("crew", "substitute_for"): "Deputy for",
        ("inventory", "item"): "Description",
        ("inventory", "quantity"): "QTY",
        ("inventory", "unit"): "UoM",
        ("inventory", "content"): "Size",
        ("inventory", "expires"): "Exp. date",
        ("inventory", "place"): "Location",
        ("inventory", "made"): "Mfg date",
        ("inventory", "batch"): "Batch no",
        ("inventory", "condition"): "State",
    },
)  # fmt: skip

PLAN = Plan(
    file="brannoquay.xlsx",
    about="A form of the company's own: other sheet names in another order, lines above the headings, columns shuffled "
    "and renamed, a column that the audit does not read. Nine things are wrong on board.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
    layout=LAYOUT,
)
