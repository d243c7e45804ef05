"""Marrowick Fell, bulk carrier of 179.5 m: a free-fall boat over the stern, rafts on both sides, one more forward."""

from datetime import date

from example_books.plan import (
    HEADINGS_AGAIN,
    Formula,
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
    written,
)
from example_books.rhythm import drills, inspections_and_tests
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
    "record_date": date(2027, 3, 1),  # kept on through the winter; older days can still be asked for
    "kept_by": "Third officer",
    "watch_stations": 6,
    "voyage_under_24h": "no",
    "far_stem_or_stern": "yes",
    "dangerous_goods": "no",
    "recharging_plant": "yes",
    "departed": date(2027, 2, 26),
    "anniversary": date(2029, 10, 30),
    "deadline_counting": "date to date",
    "spare_charge_counting": "by type and size",
    "head_count": "by complement",
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
        "sart_stowed": "yes",
        "self_bailing": "no",
        "person_mass_kg": 75,
        "made": "11/2009",
        "hooks_compliant": "yes",
        "fall_preventers": "no",
        "fire_protected": "no",
        "air_support": "no",
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
        "person_mass_kg": 75,
        "made": "10/2009",
        "hooks_compliant": "yes",
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
        "person_mass_kg": 82.5,
        "made": "05/2019",
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
        "person_mass_kg": 82.5,
        "made": "05/2019",
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
        "person_mass_kg": 82.5,
        "made": "05/2019",
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

# number | medical until | training evidence | muster duty | substitute for | size
papers(
    CREW,
    """
    1  | 2028-05-14 | 2023-02-09 | in command                |       | L
    2  | 2028-08-30 | 2024-04-22 | fire party                | 1     | XL
    3  | 2028-03-11 | 2025-01-15 | communications            |       | M
    4  | 2028-09-02 | 2026-02-03 | prepare and launch craft  |       | M
    5  | 2028-06-19 | 2023-09-28 | special fire duties       |       | L
    6  | 2027-12-07 | 2024-10-11 | fire party                |       | L
    7  | 2028-08-21 | 2025-06-30 | close doors and valves    |       | M
    8  | 2028-07-25 | 2024-03-05 | special fire duties       |       | L
    9  | 2027-10-13 | 2023-05-17 | prepare and launch craft  | 2     | XL
    10 | 2027-09-30 | 2025-08-08 | fire party                |       | M
    11 | 2027-11-22 | 2025-08-08 | prepare other appliances  |       | L
    12 | 2028-01-18 | 2024-12-02 | equip survival craft      |       | M
    13 | 2028-02-05 | 2025-03-19 | equip survival craft      |       | L
    14 | 2028-08-27 | 2026-07-14 | prepare other appliances  |       | M
    15 | 2028-08-29 | 2026-07-14 | close doors and valves    |       | L
    16 | 2028-01-31 | 2023-11-23 | fire party                |       | L
    17 | 2027-10-05 | 2024-06-26 | fire party                |       | M
    18 | 2027-09-16 | 2024-06-26 | special fire duties       |       | L
    19 | 2028-08-01 | 2025-10-20 | close doors and valves    |       | XL
    20 | 2028-02-24 | 2023-07-12 | equip survival craft      |       | L
    21 | 2028-09-04 | 2026-05-06 | equip survival craft      |       | M
    22 | 2028-08-19 | 2026-08-12 | communications            |       | M
    """,
)

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
    lot(BOAT, "SART", 1, batch="Q-SR-5098", remarks="bracket by the steering position"),
    lot("Bridge", "SART", 1, side="port", batch="Q-SR-5097"),
    lot("Bridge", "SART battery", 2, batch="Q-SR-B21", expires=date(2030, 5, 31)),
    lot("Bridge", "survival-craft two-way VHF", 3, remarks="in the charger by the chart table"),
    lot("Bridge", "VHF primary battery", 3, batch="Q-VB-307", expires=date(2030, 7, 31)),
    lot("Monkey island", "EPIRB", 1, batch="Q-EP-2018"),
    lot("Monkey island", "EPIRB battery", 1, batch="Q-EP-2018", expires=date(2029, 6, 30)),
    lot("Bridge", "line-throwing rocket", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
    lot("Bridge", "line-throwing line", 4),
    lot("Bridge", "rocket parachute flare", 12, batch="RP-4410", made=date(2025, 5, 1), expires=date(2028, 4, 30)),
    lot("Bridge", "recovery plan", 1, remarks="persons in the water: crane on the starboard side"),
    lot("Mess room", "training manual", 2),
    # fourteen lifebuoys
    lot("Bridge, port wing", "lifebuoy with light and smoke", 1, content=4.3, content_unit="kg", side="port"),
    lot("Bridge, starboard wing", "lifebuoy with light and smoke", 1, content=4.3, content_unit="kg", side="starboard"),
    lot("Bridge, port wing", "lifebuoy light and smoke", 1, batch="LS-17", expires=date(2028, 6, 30)),
    lot("Bridge, starboard wing", "lifebuoy light and smoke", 1, batch="LS-17", expires=date(2028, 6, 30)),
    lot("Main deck, port", "lifebuoy with light", 2, side="port"),
    lot("Main deck, starboard", "lifebuoy with light", 2, side="starboard"),
    lot("Main deck", "lifebuoy light", 4, batch="BL-31", expires=date(2029, 3, 31)),
    lot("Boat deck, port", "lifebuoy with line", 1, content=40, content_unit="m", side="port"),
    lot("Boat deck, starboard", "lifebuoy with line", 1, content=40, content_unit="m", side="starboard"),
    lot("Poop deck", "lifebuoy", 2, side="aft"),
    lot("Forecastle", "lifebuoy", 4),
    # lifejackets: a light on each, straps for large persons in the cabins
    lot("Cabins", "lifejacket", 25, wearer_size="universal"),
    lot("Bridge", "lifejacket", 3, wearer_size="universal"),
    lot("Engine control room", "lifejacket", 3, wearer_size="universal"),
    lot("Forecastle store", "lifejacket", 2, wearer_size="universal", remarks="for the forward raft"),
    lot("Cabins", "lifejacket light", 33, batch="JL-88", expires=date(2029, 9, 30)),
    lot("Cabins", "lifejacket accessory for large persons", 2),
    # suits: one for each, in the cabin; the others fit anybody
    lot("Cabins", "immersion suit", 9, wearer_size="M", made="06/2019"),
    lot("Cabins", "immersion suit", 12, wearer_size="L", made="06/2019"),
    lot("Cabins", "immersion suit", 4, wearer_size="XL", made="06/2019"),
    lot("Bridge", "immersion suit", 3, wearer_size="universal", made="06/2021"),
    lot("Engine control room", "immersion suit", 3, wearer_size="universal", made="06/2021"),
    lot("Forecastle store", "immersion suit", 2, wearer_size="universal", remarks="for the forward raft"),
    lot("Forecastle store", "embarkation ladder", 1, content=12, content_unit="m"),
    lot("Pyrotechnics locker", "hand flare", 6, batch="HF-1702", made=date(2023, 6, 1), expires=date(2026, 6, 30),
        condition="awaiting landing", remarks="out of the boat; to be landed at Port Ostrell"),
]  # fmt: skip

# appliance | service | last done | by | certificate | next due
SERVICING = [
    *services("""
Free-fall boat | launching appliance annual examination | 2026-10-21 | authorized provider | TD-26-0713 |
Free-fall boat | release gear annual examination | 2026-10-21 | authorized provider | TD-26-0713 |
Free-fall boat | release gear five-year overhaul | 2024-11-06 | authorized provider | TD-24-0655 | 2029-11-06
Rescue boat | falls renewed | 2024-11-06 | crew | | 2029-11-06
Rescue boat | launching appliance annual examination | 2026-10-21 | authorized provider | TD-26-0714 |
Rescue boat | winch brake annual test | 2026-10-21 | authorized provider | TD-26-0714 |
Rescue boat | launching appliance five-year test | 2024-11-06 | authorized provider | TD-24-0656 | 2029-11-06
Rescue boat | release gear annual examination | 2026-10-21 | authorized provider | TD-26-0714 |
Rescue boat | release gear five-year overhaul | 2024-11-06 | authorized provider | TD-24-0656 | 2029-11-06
Raft S | falls renewed | 2024-11-06 | crew | | 2029-11-06
Raft S | launching appliance annual examination | 2026-10-21 | authorized provider | TD-26-0715 |
Raft S | winch brake annual test | 2026-10-21 | authorized provider | TD-26-0715 |
Raft S | launching appliance five-year test | 2024-11-06 | authorized provider | TD-24-0657 | 2029-11-06
Raft S | davit raft hook annual examination | 2026-10-21 | authorized provider | TD-26-0715 |
Raft S | davit raft hook five-year overhaul | 2024-11-06 | authorized provider | TD-24-0657 | 2029-11-06
Raft P | liferaft gas inflation test | 2024-10-15 | servicing station | KS-24-1611 | 2029-10-15
Raft S | liferaft gas inflation test | 2024-10-15 | servicing station | KS-24-1612 | 2029-10-15
Forward raft | liferaft gas inflation test | 2024-10-15 | servicing station | KS-24-1613 | 2029-10-15
Raft P | hydrostatic release fitted | 2026-10-20 | crew | | 2028-10-20
Suits 1-25 | immersion suit pressure test | 2025-06-12 | competent person | HW-25-118 | 2028-06-12
EPIRB | EPIRB annual test | 2026-10-21 | competent person | HW-26-230 |
EPIRB | EPIRB shore maintenance | 2024-06-18 | servicing station | HW-24-077 | 2029-06-18
CO2 system | CO2 system annual inspection | 2026-09-18 | competent person | FB-26-340 | 2027-09-18
CO2 system | CO2 contents checked | 2026-09-18 | competent person | FB-26-340 | 2028-09-18
CO2 system | CO2 control valves inspected | 2024-11-06 | competent person | FB-24-281 | 2029-11-06
CO2 system | CO2 cylinders pressure-tested | 2019-11-12 | competent person | FB-19-190 | 2029-11-12
CO2 system | CO2 flexible hoses renewed | 2019-11-12 | competent person | FB-19-190 | 2029-11-12
Fire hoses | fire hoses tested | 2026-08-20 | crew | |
Fire pumps | fire pumps flow-tested | 2026-09-18 | crew | |
BA 1-4 | breathing apparatus serviced | 2026-09-18 | competent person | FB-26-341 | 2027-09-18
BA cylinders | breathing apparatus cylinders pressure-tested | 2024-11-06 | competent person | FB-24-282 | 2029-11-06
Foam, paint store | foam concentrate analysed | 2026-09-18 | competent person | FB-26-342 | 2027-09-18
Fire detection | fire detection annual test | 2026-09-18 | competent person | FB-26-343 | 2027-09-18
Safety equipment | safety equipment survey | 2026-10-30 | | |
"""),
    *(
        {"appliance": "CO2 system", "service": "CO2 system inspected", "done": day, "done_by": "crew"}
        for day in (date(2026, 11, 10), date(2026, 12, 8), date(2027, 1, 5), date(2027, 2, 2), date(2027, 2, 23))
    ),
]  # fmt: skip

ROUTINE = by_day(
    inspections_and_tests(),
    drills(),
    held("free-fall boarding drill", "2026-09-10 2026-11-10 2027-01-10", present="all", by="Chief officer"),
    held("free-fall launch", "2026-10-22", by="Chief officer", remarks="launched at Kellimar, four persons"),
    held("free-fall launch", "2027-02-10", by="Chief officer", remarks="simulated launch"),
    held("rescue boat launched", "2026-08-24 2026-11-10 2027-02-10", subject="Rescue boat", by="Chief officer"),
    held("davit raft training", "2026-09-20 2026-12-28", present="all", by="Third officer"),
    # the lines of those who joined before August were copied from the old log
    held("joining training", "2026-03-31", present="9-11, 17, 18", by="Third officer"),
    held("joining training", "2026-05-30", present="6, 12, 13, 16, 20", by="Third officer"),
    held("joining training", "2026-06-16", present="3", by="Third officer"),
    held("joining training", "2026-07-04", present="1, 5", by="Third officer"),
    held("joining training", "2026-08-21", present="8, 19", by="Third officer"),
    held("joining training", "2026-09-12", present="2, 4, 7, 14, 15, 21, 22", by="Second officer"),
    held("steering gear test", "2026-08-26 2026-09-11 2026-10-21 2026-11-12 2026-12-19 2027-01-16 2027-02-26",
         by="Second officer"),
    [{"day": date(2026, 12, 6), "task": "engine run", "subject": "Rescue boat", "result": "defect", "by": "Electrician",
      "remarks": "second battery flat: see Defects"}],
    held("engine run", "2026-12-07", subject="Rescue boat", by="Electrician", remarks="with the new battery"),
)  # fmt: skip

# number | appliance | type | size | quantity | place | rechargeable | made | serviced | discharged | pressure | state
FIRE = appliances("""
FE 1-14  | extinguisher | foam   | 9 L  | 14 | Accommodation      | yes | 2021 | 2026-09-18 | 2025-03-04 | 2021-04-01
FE 15-22 | extinguisher | powder | 6 kg | 8  | Engine room        | yes | 2019 | 2026-09-18 | 2024-11-24 | 2019-05-01
FE 23-26 | extinguisher | CO2    | 5 kg | 4  | Bridge and galley  | no  | 2022 | 2026-09-18 | 2025-03-04 | 2022-03-01
FE 27-30 | extinguisher | CO2    | 5 kg | 4  | Fire locker | no  | 2022 | 2026-09-18 | 2025-03-04 | 2022-03-01 | spare
WE 1 | wheeled extinguisher | foam | 45 L | 1 | Engine room | yes | 2019 | 2026-09-18 | 2024-11-24 | 2019-05-01
         | spare charge          | foam   | 9 L  | 12 | Fire locker
         | spare charge          | powder | 6 kg | 8  | Fire locker
FO 1-4   | fire-fighter's outfit |        |      | 4  | Fire lockers 1 and 2
         | breathing apparatus spare cylinder | | 6 L | 8 | Fire lockers 1 and 2
         | EEBD                  |        |      | 4  | Accommodation
         | EEBD spare            |        |      | 2  | Fire locker 1
         | EEBD in machinery space |      |      | 5  | Engine room
         | EEBD for training     |        |      | 1  | Ship's office
         | fire hose             |        | 20 m | 24 | On deck and in the accommodation
         | fire hose spare       |        | 20 m | 3  | Bosun's store
         | engine room fire hose |        | 15 m | 6  | Engine room
         | nozzle                |        |      | 33 | With the hoses
         | international shore connection | | | 1 | Fire locker 1
         | fire-fighter radio    |        |      | 4  | Bridge
         | atmosphere-testing instrument | |    | 2  | Ship's office
         | foam applicator       |        |      | 2  | Engine room
         | foam concentrate      | foam   | 20 L | 4  | Engine room | | 2023 | | | | | PFOS-free by declaration
         | fire control plan     |        |      | 3  | Both sides of the deckhouse, and the bridge
         | fire axe              |        |      | 4  | Fire lockers 1 and 2
""")  # fmt: skip

DEFECTS: list[Line] = [
    {"subject": "Rescue boat", "fitting": "batteries and charging", "wrong": "second battery flat, one cell dead"}
    | {"since": date(2026, 12, 6), "by": "Electrician", "closed": date(2026, 12, 7)}
    | {"remarks": "replaced from the spares"},
]

FOLLOW_UP: list[Line] = [
    {"finding": "EX03-34ao7k", "order": "R-2026-088", "port": "Port Ostrell", "expected": date(2026, 9, 30)}
    | {"closed": date(2026, 9, 12), "remarks": "six hand flares of 2023, two and four new ones came on board"},
]

# port | arrival | departure | what can be had there | lead time | days of a raft ashore
PORTS = port_calls("""
    Port Ostrell | 2026-12-14 | 2026-12-17 | stores flares rafts fire boats radio | 14 | 2
    Kellimar     | 2027-02-08 | 2027-02-11 | stores boats                         | 10 |
    Quorley Roads | 2027-04-20 | 2027-04-21 | stores                              | 7  |
    Port Ostrell | 2027-07-05 | 2027-07-09 | stores flares rafts fire boats radio | 14 | 2
    Kellimar     | 2027-09-13 | 2027-09-18 | stores flares fire boats radio       | 21 |
    Port Ostrell | 2027-10-11 | 2027-10-19 | stores flares rafts exchange fire boats radio | 14 | 2
    Quorley Roads | 2028-01-24 | 2028-01-25 | stores                              | 7  |
    Port Ostrell | 2028-04-03 | 2028-04-07 | stores flares rafts fire boats radio | 14 | 2
""")

CERTIFICATES = written(
    """
    Safety Equipment Certificate     | VMO-SE-24-0551 | 2024-10-30 | 2029-10-30 | Master's cabin
    Safety Construction Certificate  | VMO-SC-24-0552 | 2024-10-30 | 2029-10-30 | Master's cabin
    Safety Radio Certificate         | VMO-SR-24-0553 | 2024-10-30 | 2029-10-30 | Master's cabin
    Safety Management Certificate    | VMO-SM-25-0107 | 2025-03-18 | 2030-03-17 | Master's cabin
    Minimum Safe Manning Document    | VMO-MS-22-0344 | 2022-06-01 |            | Bridge
    """,
    "certificate", "number", "issued", "until", "place",
)  # fmt: skip

RECORD_OF_EQUIPMENT = written(
    """
    persons provided for             | 25
    lifeboats                        | 1
    persons in lifeboats             | 25
    rescue boats                     | 1
    liferafts                        | 3 | one of them forward
    persons in liferafts             | 56
    lifebuoys                        | 14
    lifejackets                      | 33
    immersion suits                  | 33
    two-way VHF                      | 3
    SART                             | 2
    line-throwing appliances         | 4
    rocket parachute flares, bridge  | 12
    """,
    "entry", "figure", "remarks",
)  # fmt: skip

PLAN = Plan(
    file="marrowick-fell.xlsx",
    about="A clean record. Three readings of a date stand here (a date cell, 03/2029 and 09/2024), two lots that are "
    "enough only together, water partly in a tank, a heavy raft under a davit, and old flares waiting to be landed.",
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
)
