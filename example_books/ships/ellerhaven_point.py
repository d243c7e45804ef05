"""Ellerhaven Point, container ship under the flag of the United States: the equipment list of 46 CFR 199.175."""

from datetime import date

from example_books.plan import Line, Plan, crew_list, lot

SHIP: Line = {
    "name": "Ellerhaven Point",
    "imo_number": "3342617",
    "flag": "United States",
    "company": "Pallister Sound Navigation (invented)",
    "ship_type": "container ship",
    "gross_tonnage": 18740,
    "length_m": 172,
    "keel_laid": date(2010, 6, 21),
    "voyage": "international",
    "persons_certified": 24,
    "persons_on_board": 21,
    "rule_set": "USCG",
    "record_date": date(2026, 11, 19),
    "kept_by": "Third mate",
    "watch_stations": 5,
    "warm_routes": "no",
    "far_stem_or_stern": "no",
}

BOAT: Line = {
    "kind": "lifeboat",
    "construction": "totally enclosed",
    "purpose": "required",
    "persons": 24,
    "stowage_height_m": 16,
    "sart_stowed": "yes",
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
    "mass_kg": 184,
    "drop_tested_higher": "no",
    "painter_m": 36,
    "serviced": date(2026, 10, 8),
    "earliest_content": date(2028, 7, 31),
}

CRAFT: list[Line] = [
    {"name": "Lifeboat 1", "side": "starboard", "serial": "P-LB-0911", **BOAT},
    {"name": "Lifeboat 2", "side": "port", "serial": "P-LB-0912", **BOAT},
    {
        "name": "Rescue boat",
        "kind": "rescue boat",
        "construction": "rigid-inflated",
        "side": "port",
        "purpose": "required",
        "persons": 6,
        "stowage_height_m": 12,
        "sart_stowed": "yes",
        "self_bailing": "yes",
        "serial": "P-RB-0440",
        "remarks": "the SART stands in the place of the radar reflector: this list allows it, the LSA Code does not",
    },
    {"name": "Raft S", "side": "starboard", "serial": "P-LR-6120", "certificate": "GR-2026-551", **RAFT},
    {"name": "Raft P", "side": "port", "serial": "P-LR-6121", "certificate": "GR-2026-552", **RAFT},
]

CREW = crew_list("""
1  | Master               | Deborah Lindquail | Lifeboat 1 | person in charge  | Master      |            | 2026-09-18
2  | Chief mate           | Harlan Voight     | Lifeboat 2 | person in charge  | Lifeboatman |            | 2026-09-18
3  | Second mate          | Cesar Montalban   | Lifeboat 1 | second in command | Lifeboatman |            | 2026-07-27
4  | Third mate           | Priya Nandakor    | Lifeboat 2 | second in command | Lifeboatman |            | 2026-07-27
5  | Chief engineer       | Walt Jorgensby    | Lifeboat 1 | engine operator   | Lifeboatman |            | 2026-06-03
6  | First asst engineer  | Nils Aldergate    | Lifeboat 2 | engine operator   | Lifeboatman | 2029-01-31 | 2026-09-18
7  | Second asst engineer | Ruth Okparo       | Lifeboat 1 | member            | Lifeboatman |            | 2026-07-27
8  | Third asst engineer  | Duane Merrivale   | Lifeboat 2 | member            | Lifeboatman |            | 2026-09-18
9  | Bosun                | Tavita Lealofi    | Lifeboat 1 | radio             | Lifeboatman |            | 2026-06-03
10 | Able seaman          | Earl Cottingley   | Lifeboat 2 | radio             | Lifeboatman |            | 2026-06-03
11 | Able seaman          | Joaquin Beltane   | Lifeboat 1 | member            | Lifeboatman |            | 2026-07-27
12 | Able seaman          | Odessa Marsh      | Lifeboat 2 | member            | Lifeboatman |            | 2026-07-27
13 | Able seaman          | Kimo Haleaku      | Lifeboat 1 | member            | Lifeboatman |            | 2026-09-18
14 | Able seaman          | Ralph Dunsmore    | Lifeboat 2 | member            | Lifeboatman |            | 2026-09-18
15 | Ordinary seaman      | Tess Colbourne    | Lifeboat 1 | member            |             |            | 2026-09-18
16 | Electrician          | Anton Bielkov     | Lifeboat 2 | member            |             |            | 2026-06-03
17 | Oiler                | Marcus Tillery    | Lifeboat 1 | member            |             |            | 2026-07-27
18 | Wiper                | Ginny Falkner     | Lifeboat 2 | member            |             |            | 2026-07-27
19 | Steward              | Alphonse Rideau   | Lifeboat 1 | member            |             |            | 2026-06-03
20 | Cook                 | Vernon Ashcombe   | Lifeboat 2 | member            |             |            | 2026-06-03
21 | Deck cadet           | Leilani Duarte    | Lifeboat 1 | member            |             |            | 2026-09-18
""")

FLARES, RATIONS, MEDICINES = date(2028, 5, 31), date(2029, 3, 31), date(2028, 11, 30)


def _lifeboat(place: str) -> list[Line]:
    """A lifeboat for 24: names and measures as they are written on this flag's ships."""
    return [
        lot(place, "bailer", 1),
        lot(place, "bilge pump", 1),
        lot(place, "boathook", 2),
        lot(place, "bucket", 2),
        # three openers are asked: two, and the jack-knife on the next line stands for the third
        lot(place, "can opener", 2),
        lot(place, "jackknife", 2, remarks="one of them with the openers"),
        lot(place, "compass", 1),
        lot(place, "dipper", 1),
        lot(place, "drinking cup", 1),
        lot(place, "fire extinguisher", 1),
        lot(place, "first aid kit", 1, batch="PF-31", expires=MEDICINES),
        lot(place, "fishing kit", 1, unit="set"),
        lot(place, "flashlight", 1),
        lot(place, "spare batteries", 1, unit="set"),
        lot(place, "spare bulb", 1),
        lot(place, "hatchet", 2),
        lot(place, "heaving line", 2, content=100, content_unit="ft", remarks="30.5 m"),
        lot(place, "safety knife", 1, remarks="asked since 14 December 2022"),
        lot(place, "boarding ladder", 1),
        lot(place, "signal mirror", 1),
        lot(place, "oars", 1, unit="set"),
        lot(place, "painter", 2, content=18, content_unit="fathoms", remarks="32.9 m"),
        lot(place, "lifeboat rations", 24, unit="pack", content=2400, content_unit="kcal", batch="PR-120",
            expires=RATIONS),
        lot(place, "SART", 1, batch=f"P-SR-0{place[-1]}"),
        lot(place, "rain catcher", 1),
        lot(place, "sea anchor", 1, content=100, content_unit="ft"),
        lot(place, "searchlight", 1),
        lot(place, "sea sickness kit", 24, batch="PK-08", expires=MEDICINES),
        lot(place, "orange smoke signal", 2, batch="PB-77", made=date(2025, 6, 1), expires=FLARES),
        lot(place, "red hand flare", 6, batch="PH-75", made=date(2025, 6, 1), expires=FLARES),
        lot(place, "red parachute rocket", 4, batch="PP-71", made=date(2025, 6, 1), expires=FLARES),
        lot(place, "skates", 1, unit="set"),
        lot(place, "survival instructions", 1),
        lot(place, "table of life-saving signals", 1),
        lot(place, "TPA", 3),
        lot(place, "tool kit", 1, unit="set"),
        # 24 persons: 13 US gallons in the tank are 49.2 L, and 23 L stand beside it in sachets
        lot(place, "water tank", 13, unit="US gal", remarks="built in; flushed and filled 2026-09-18"),
        lot(place, "water packs", 46, unit="sachet", content=0.1321, content_unit="US gal", batch="PW-40",
            expires=RATIONS),
        lot(place, "whistle", 1),
    ]  # fmt: skip


RESCUE_BOAT: list[Line] = [
    lot("Rescue boat", item, quantity, **rest)
    for item, quantity, rest in (
        ("bailer", 1, {}),
        ("boathook", 1, {}),
        ("compass", 1, {}),
        ("fire extinguisher", 1, {}),
        ("first aid kit", 1, {"batch": "PF-31", "expires": MEDICINES}),
        ("flashlight", 1, {}),
        ("spare batteries", 1, {"unit": "set"}),
        ("spare bulb", 1, {}),
        ("heaving line", 2, {"content": 100, "content_unit": "ft"}),
        ("safety knife", 1, {}),
        ("boarding ladder", 1, {}),
        ("paddles", 4, {"remarks": "as the maker specifies"}),
        ("painter", 1, {"content": 14, "content_unit": "fathoms", "remarks": "25.6 m"}),
        ("air pump", 1, {}),
        ("repair kit", 1, {"unit": "set"}),
        ("sea anchor", 1, {"content": 40, "content_unit": "ft"}),
        ("searchlight", 1, {}),
        ("SART", 1, {"batch": "P-SR-03"}),
        ("skates", 1, {"unit": "set"}),
        ("sponges", 2, {}),
        ("TPA", 2, {}),
        ("towline", 1, {"content": 170, "content_unit": "ft", "remarks": "51.8 m"}),
        ("whistle", 1, {}),
    )
]

INVENTORY: list[Line] = [
    *_lifeboat("Lifeboat 1"),
    *_lifeboat("Lifeboat 2"),
    *RESCUE_BOAT,
    lot("Raft S", "hydrostatic release unit", 1, batch="PZ-6001", expires=date(2028, 10, 31)),
    lot("Raft P", "hydrostatic release unit", 1, batch="PZ-6002", expires=date(2028, 10, 31)),
    lot("Bridge", "line throwing appliance", 4, batch="PL-19", made=date(2025, 6, 1), expires=FLARES),
    lot("Bridge", "auxiliary line", 1, content=250, content_unit="fathoms", remarks="457 m"),
    lot("Bridge", "red parachute rocket", 12, batch="PP-71", made=date(2025, 6, 1), expires=FLARES),
    # twelve ring buoys
    lot("Bridge wing, port", "MOB lifebuoy", 1, content=4, content_unit="kg", side="port"),
    lot("Bridge wing, starboard", "MOB lifebuoy", 1, content=4, content_unit="kg", side="starboard"),
    lot("Bridge wings", "MOB light and smoke", 2, batch="PM-14", expires=date(2028, 9, 30)),
    lot("Main deck, port", "life ring with light", 2, side="port"),
    lot("Main deck, starboard", "life ring with light", 2, side="starboard"),
    lot("Main deck", "buoy light", 4, batch="PB-90", expires=date(2029, 4, 30)),
    lot("Main deck, port", "life ring with line", 1, content=120, content_unit="ft", side="port", remarks="36.6 m"),
    lot("Main deck, starboard", "life ring with line", 1, content=120, content_unit="ft", side="starboard"),
    lot("Poop deck", "ring buoy", 2, side="aft"),
    lot("Forward deck", "ring buoy", 2),
    lot("Cabins", "life jacket", 24),
    lot("Bridge", "life jacket", 3),
    lot("Engine control room", "life jacket", 3),
    lot("Cabins", "immersion suit", 24),
    lot("Bridge", "immersion suit", 3),
    lot("Engine control room", "immersion suit", 3),
    lot("Bridge", "SART battery", 3, batch="PY-55", expires=date(2030, 4, 30)),
]

PLAN = Plan(
    file="ellerhaven-point.xlsx",
    about="A clean record under the rule set us (46 CFR part 199). The list differs from the LSA Code: boarding "
    "ladders, rain catchers, seasickness kits, knives since December 2022, and a SART in the place of a rescue boat's "
    "radar reflector. Measures are US gallons, feet, fathoms and kilocalories.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
)
