"""Saltorra, passenger ship on short international voyages: boats on both sides, rafts with B packs, rescue boats."""

from datetime import date

from example_books import functions
from example_books.plan import (
    Line,
    Plan,
    appliances,
    by_day,
    crew_list,
    held,
    lot,
    papers,
    port_calls,
    services,
    weekly,
    written,
)
from example_books.rhythm import TENTHS, inspections_and_tests
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
    "record_date": date(2027, 3, 1),
    "kept_by": "Safety officer",
    "passengers": 36,
    "children": 3,
    "infants": 1,
    "voyage_under_24h": "yes",
    "passengers_certified": 100,
    "watch_stations": 5,
    "dangerous_goods": "no",
    "recharging_plant": "no",
    "fire_zones": 3,
    "passenger_length_m": 71,
    "departed": date(2027, 3, 1),
    "anniversary": date(2026, 12, 12),
    "head_count": "not asked",
}

BOAT: Line = {
    "kind": "lifeboat",
    "construction": "partially enclosed",
    "purpose": "required",
    "persons": 27,
    "stowage_height_m": 10,
    "sart_stowed": "no",
    "self_bailing": "yes",
    "person_mass_kg": 75,
    "made": date(2013, 5, 1),
    "hooks_compliant": "yes",
    "fall_preventers": "no",
    "fire_protected": "no",
    "air_support": "no",
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
    "person_mass_kg": 82.5,
    "made": "03/2022",  # the first ones were renewed in 2022: their gas inflation test is still to come
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
        "person_mass_kg": 82.5,
        "made": "2013-06",
        "hooks_compliant": "yes",
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
        "person_mass_kg": 82.5,
        "made": "2013-06",
        "hooks_compliant": "yes",
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

# number | medical until | training evidence | muster duty | substitute for | size
papers(
    CREW,
    """
    1  | 2028-10-08 | 2024-01-17 | in command                |   | L
    2  | 2028-08-25 | 2023-05-29 | fire party                | 1 | L
    3  | 2028-10-07 | 2025-04-02 | communications            |   | M
    4  | 2028-09-10 | 2026-01-23 | prepare and launch craft  |   | M
    5  | 2028-08-26 | 2024-07-30 | special fire duties       |   | XL
    6  | 2028-10-09 | 2025-02-12 | damage control            | 5 | M
    7  | 2028-09-12 | 2023-10-04 | damage control            |   | L
    8  | 2028-08-24 | 2024-11-19 | prepare and launch craft  |   | L
    9  | 2028-08-28 | 2025-09-08 | fire party                |   | M
    10 | 2028-08-29 | 2025-09-08 | fire party                |   | L
    11 | 2028-10-06 | 2026-03-16 | close doors and valves    |   | M
    12 | 2028-10-05 | 2024-05-21 | special fire duties       |   | L
    13 | 2028-09-11 | 2023-12-13 | muster passengers         |   | M
    14 | 2028-09-09 | 2025-06-26 | equip survival craft      |   | L
    15 | 2028-09-13 | 2026-06-02 | equip survival craft      |   | L
    16 | 2028-08-23 | 2024-08-14 | muster passengers         |   | M
    17 | 2028-08-27 | 2024-08-14 | muster passengers         |   | M
    18 | 2028-10-04 | 2026-08-27 | prepare other appliances  |   | L
    """,
)

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
    lot("Bridge", "line-throwing line", 4),
    lot("Bridge", "rocket parachute flare", 12, batch="RP-4410", made=date(2025, 5, 1), expires=date(2028, 4, 30)),
    lot("Bridge", "recovery plan", 1),
    lot("Mess room", "training manual", 2),
    lot("Bridge, port side", "survival-craft SART", 1, side="port", batch="Q-SR-5160"),
    lot("Bridge, starboard side", "survival-craft SART", 1, side="starboard", batch="Q-SR-5161"),
    lot("Bridge", "SART battery", 2, batch="Q-SR-B60", expires=date(2030, 4, 30)),
    lot("Bridge", "survival-craft two-way VHF", 3),
    lot("Bridge", "VHF primary battery", 3, batch="Q-VB-330", expires=date(2030, 2, 28)),
    lot("Fast rescue boat", "hands-free VHF", 1, batch="Q-HF-0212"),
    lot("Monkey island", "EPIRB", 1, batch="Q-EP-2301"),
    lot("Monkey island", "EPIRB battery", 1, batch="Q-EP-2301", expires=date(2030, 10, 31)),
    # fourteen lifebuoys
    lot("Bridge, port wing", "lifebuoy with light and smoke", 1, content=4, content_unit="kg", side="port"),
    lot("Bridge, starboard wing", "lifebuoy with light and smoke", 1, content=4, content_unit="kg", side="starboard"),
    lot("Bridge", "lifebuoy light and smoke", 2, batch="LS-18", expires=date(2028, 9, 30)),
    lot("Promenade deck, port", "lifebuoy with light", 2, side="port"),
    lot("Promenade deck, starboard", "lifebuoy with light", 2, side="starboard"),
    lot("Promenade deck", "lifebuoy light", 4, batch="BL-33", expires=date(2029, 7, 31)),
    lot("Promenade deck, port", "lifebuoy with line", 1, content=32, content_unit="m", side="port"),
    lot("Promenade deck, starboard", "lifebuoy with line", 1, content=32, content_unit="m", side="starboard"),
    lot("Poop deck", "lifebuoy", 2, side="aft"),
    lot("Forward deck", "lifebuoy", 4),
    lot("Muster station 1", "adult lifejacket", 70, wearer_size="universal"),
    lot("Muster station 2", "adult lifejacket", 70, wearer_size="universal"),
    lot("Bridge", "adult lifejacket", 3, wearer_size="universal"),
    lot("Engine control room", "adult lifejacket", 3, wearer_size="universal"),
    lot("Muster station 1", "child lifejacket", 8),
    lot("Muster station 2", "child lifejacket", 8),
    lot("Muster station 1", "infant lifejacket", 3),
    lot("Muster station 2", "infant lifejacket", 3),
    lot("Muster station 1", "lifejacket accessory for large persons", 4),
    lot("Safety store", "lifejacket", 6, batch="IL 1-6", remarks="inflatable, for the crews of the rescue boats"),
    lot("Safety store", "immersion suit", 8, batch="Q-IS-2020", made="04/2020", remarks="for the rescue boats"),
    lot("Safety store", "blankets", 30),
]  # fmt: skip


def _davits(craft: str, report: str) -> list[Line]:
    """What the authorized provider did in November 2026 and in 2023 on the davit of a craft."""
    return services(f"""
{craft} | launching appliance annual examination | 2026-11-03 | authorized provider | TD-26-{report} |
{craft} | winch brake annual test | 2026-11-03 | authorized provider | TD-26-{report} |
{craft} | launching appliance five-year test | 2023-11-14 | authorized provider | TD-23-{report} | 2028-11-14
{craft} | falls renewed | 2023-11-14 | crew | | 2028-11-14
""")


def _hooks(craft: str, report: str) -> list[Line]:
    """The release gear of a boat."""
    return services(f"""
{craft} | release gear annual examination | 2026-11-03 | maker | TD-26-{report} |
{craft} | release gear five-year overhaul | 2023-11-14 | maker | TD-23-{report} | 2028-11-14
""")


def _raft_hooks(craft: str, report: str) -> list[Line]:
    """The automatic hook of a raft launched by davit."""
    return services(f"""
{craft} | davit raft hook annual examination | 2026-11-03 | maker | TD-26-{report} |
{craft} | davit raft hook five-year overhaul | 2023-11-14 | maker | TD-23-{report} | 2028-11-14
""")


SERVICING = [
    *_davits("Boat 1", "0741"),
    *_hooks("Boat 1", "0741"),
    *_davits("Boat 2", "0742"),
    *_hooks("Boat 2", "0742"),
    *_davits("Fast rescue boat", "0743"),
    *_hooks("Fast rescue boat", "0743"),
    *_davits("Rescue boat", "0744"),
    *_hooks("Rescue boat", "0744"),
    *_davits("Raft 1", "0745"),
    *_raft_hooks("Raft 1", "0745"),
    *_davits("Raft 2", "0746"),
    *_raft_hooks("Raft 2", "0746"),
    *services("""
EPIRB | EPIRB annual test | 2026-11-03 | competent person | HW-26-251 |
EPIRB | EPIRB shore maintenance | 2025-11-12 | servicing station | HW-25-188 | 2030-11-12
Q-IS-2020 | immersion suit pressure test | 2025-11-12 | competent person | HW-25-189 | 2028-11-12
CO2 system | CO2 system annual inspection | 2026-11-04 | competent person | FB-26-377 |
CO2 system | CO2 contents checked | 2025-11-13 | competent person | FB-25-350 |
CO2 system | CO2 control valves inspected | 2023-11-15 | competent person | FB-23-299 |
CO2 system | CO2 cylinders pressure-tested | 2023-11-15 | competent person | FB-23-300 | 2033-11-15
CO2 system | CO2 flexible hoses renewed | 2023-11-15 | competent person | FB-23-300 | 2033-11-15
Galley cylinders | fixed gas cylinders pressure-tested | 2023-11-15 | competent person | FB-23-301 | 2033-11-15
Sprinkler | sprinkler heads tested | 2026-11-04 | competent person | FB-26-378 |
Fire hoses | fire hoses tested | 2026-11-04 | crew | |
Fire pumps | fire pumps flow-tested | 2026-11-04 | crew | |
BA 1-6 | breathing apparatus serviced | 2026-11-04 | competent person | FB-26-379 |
BA cylinders | breathing apparatus cylinders pressure-tested | 2023-11-15 | competent person | FB-23-302 |
Foam | foam concentrate analysed | 2026-11-04 | competent person | FB-26-380 |
Detection | fire detection annual test | 2026-11-04 | competent person | FB-26-381 |
Low-location lighting | low-location lighting measured | 2025-11-13 | competent person | FB-25-351 | 2030-11-13
"""),
    {"appliance": "IL 1-6", "service": "inflatable lifejackets serviced", "done": date(2026, 2, 20)}
    | {"done_by": "servicing station", "certificate": "KS-26-0411", "granted_until": date(2027, 7, 20)}
    | {"grant_reference": "VMO/SV/2026/0090", "remarks": "the station at Port Ostrell is being rebuilt"},
    *(
        {"appliance": "CO2 system", "service": "CO2 system inspected", "done": day, "done_by": "crew"}
        for day in (date(2026, 11, 4), date(2026, 12, 1), date(2026, 12, 29), date(2027, 1, 26), date(2027, 2, 20))
    ),
]  # fmt: skip

MONDAYS = (date(2026, 8, 3), date(2027, 3, 1))

ROUTINE = by_day(
    inspections_and_tests(by="Third officer"),
    weekly("abandon ship drill", *MONDAYS, present="1-18", by="Master"),
    weekly("fire drill", *MONDAYS, present="all", by="Chief officer"),
    weekly("steering gear test", *MONDAYS, by="Second officer"),
    weekly("passenger muster", *MONDAYS, by="Purser", remarks="before departure"),
    held("boats turned out", TENTHS, by="Bosun"),
    held("enclosed space drill", "2026-08-20 2026-10-20 2026-12-18 2027-02-12", present="all", by="Chief officer"),
    held("damage control drill", "2026-08-31 2026-10-26 2027-01-11", present="all", by="Second engineer"),
    held("lifeboat launched", "2026-08-31 2026-10-26 2027-01-11", subject="Boat 1 and 2", by="Chief officer"),
    held("rescue boat launched", "2026-08-31 2026-10-27 2027-01-12", subject="both rescue boats", by="Third officer"),
    held("davit raft training", "2026-09-21 2026-12-28", present="all", by="Third officer"),
    held("joining training", "2026-08-31", present="2, 5, 8-10, 16, 17", by="Third officer"),
    held("joining training", "2026-09-15", present="4, 7, 13-15", by="Chief officer"),
    held("joining training", "2026-10-13", present="1, 3, 6, 11, 12, 18", by="Third officer"),
)  # fmt: skip

# number | appliance | type | size | quantity | place | rechargeable | made | serviced | discharged | pressure | state
FIRE = appliances("""
A1-A24 | extinguisher | foam   | 6 L  | 24 | Accommodation | yes | 2022 | 2026-11-04 | 2025-03-10 | 2022-02-01
B1-B10 | extinguisher | powder | 6 kg | 10 | Engine room   | yes | 2022 | 2026-11-04 | 2025-03-10 | 2022-02-01
C1-C4  | extinguisher | CO2    | 5 kg | 4  | Bridge        | no  | 2022 | 2026-11-04 | 2025-03-10 | 2022-02-01
C5-C8  | extinguisher | CO2    | 5 kg | 4  | Safety store  | no  | 2022 | 2026-11-04 | 2025-03-10 | 2022-02-01 | spare
       | spare charge          | foam   | 6 L  | 20 | Safety store
       | spare charge          | powder | 6 kg | 10 | Safety store
       | fire-fighter's outfit |        |      | 6  | Fire lockers, two in each zone
       | breathing apparatus spare cylinder | | 6 L | 12 | Fire lockers
       | EEBD                  |        |      | 12 | Four in each zone
       | EEBD spare            |        |      | 2  | Safety store
       | EEBD in machinery space |      |      | 4  | Engine room
       | fire hose             |        | 20 m | 28 | In all zones
       | engine room fire hose |        | 15 m | 4  | Engine room
       | nozzle                |        |      | 32 | With the hoses
       | international shore connection | | | 1 | Safety store
       | fire-fighter radio    |        |      | 6  | Bridge
       | atmosphere-testing instrument | |    | 2  | Safety store
       | foam concentrate      | foam   | 20 L | 2  | Engine room | | 2023 | | | | | fluorine-free
       | fire control plan     |        |      | 4  | Both gangways, bridge, muster station 1
       | fire blanket          |        |      | 2  | Galley
""")  # fmt: skip

DEFECTS: list[Line] = [
    {"subject": "Raft 2", "fitting": "winch", "wrong": "brake cover cracked", "since": date(2026, 9, 10), "by": "Bosun"}
    | {"closed": date(2026, 9, 16), "remarks": "cover renewed; brake tried with the empty hook"},
]

FOLLOW_UP: list[Line] = [
    {"finding": "SV01-3nfuzj", "order": "R-2026-140", "port": "Port Ostrell", "expected": date(2026, 10, 15)}
    | {"closed": date(2026, 10, 12), "remarks": "all four rafts came back together"},
]

# port | arrival | departure | what can be had there | lead time | days of a raft ashore
PORTS = port_calls("""
    Port Ostrell | 2027-03-08 | 2027-03-08 | stores flares fire radio             | 10 |
    Halden Pier  | 2027-06-14 | 2027-06-20 | stores rafts boats fire radio        | 14 | 2
    Port Ostrell | 2027-09-07 | 2027-09-07 | stores flares fire radio             | 10 |
    Halden Pier  | 2027-10-04 | 2027-10-12 | stores flares rafts boats fire radio | 14 | 1
    Port Ostrell | 2028-02-07 | 2028-02-07 | stores flares fire radio             | 10 |
""")

CERTIFICATES = written(
    """
    Passenger Ship Safety Certificate | VMO-PS-25-0612 | 2025-12-12 | 2026-12-12 | Master's cabin
    Passenger Ship Safety Certificate | VMO-PS-26-0644 | 2026-11-20 | 2027-12-12 | Master's cabin
    Safety Management Certificate     | VMO-SM-23-0091 | 2023-02-08 | 2028-02-07 | Master's cabin
    """,
    "certificate", "number", "issued", "until", "place",
)  # fmt: skip

RECORD_OF_EQUIPMENT = written(
    """
    persons provided for              | 120
    lifeboats                         | 2
    persons in lifeboats              | 54
    rescue boats                      | 2
    liferafts                         | 4
    persons in liferafts              | 100
    lifebuoys                         | 14
    lifejackets                       | 146
    immersion suits                   | 8
    two-way VHF                       | 3
    SART                              | 2
    line-throwing appliances          | 4
    rocket parachute flares, bridge   | 12
    """,
    "entry", "figure", "remarks",
)  # fmt: skip

PLAN = Plan(
    file="saltorra.xlsx",
    about="A clean record of a passenger ship on short international voyages: her rafts carry B packs, which no cargo "
    "ship may have. Both boats are exactly full; food is marked in kilocalories; passengers have numbers and no names.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
    servicing=SERVICING,
    routine=ROUTINE,
    fire=FIRE,
    defects=DEFECTS,
    follow_up=FOLLOW_UP,
    ports=PORTS,
    certificates=CERTIFICATES,
    record_of_equipment=RECORD_OF_EQUIPMENT,
    own_sheets={functions.SHEET: functions.rows()},
)
