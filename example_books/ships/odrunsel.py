"""Odrunsel, general cargo ship of 98 m: two boats under davits, one of them also the rescue boat."""

from datetime import date

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
from example_books.rhythm import TENTHS, drills, inspections_and_tests
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
    "record_date": date(2027, 3, 1),
    "kept_by": "Second officer",
    "watch_stations": 4,
    "voyage_under_24h": "no",
    "dangerous_goods": "Y",
    "recharging_plant": "n",
    "departed": date(2026, 11, 20),  # laid up for a refit in the winter, with her crew on board
    "anniversary": date(2025, 9, 14),
    "deadline_counting": "same calendar month",
    "spare_charge_counting": "over the ship",
    "head_count": "not asked",
}

BOAT: Line = {
    "construction": "totally enclosed",
    "purpose": "required",
    "persons": 20,
    "stowage_height_m": 11,
    "self_bailing": "no",
    "person_mass_kg": 75,
    "made": date(1998, 9, 1),
    "hooks_compliant": "Y",
    "fall_preventers": "n",
    "fire_protected": "no",
    "air_support": "no",
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
    "person_mass_kg": 75,
    "made": date(2011, 6, 1),  # the last year of rafts for persons of 75 kg
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

# number | medical until | training evidence | muster duty | substitute for | size
papers(
    CREW,
    """
    1  | 2028-07-30 | 2023-04-18 | command         |     | M
    2  | 2028-06-10 | 2024-08-02 | fire squad      | 1   | L
    3  | 2028-07-28 | 2025-02-25 | GMDSS           | 2   | M
    4  | 2028-10-01 | 2026-01-09 | fire team       |     | L
    5  | 2028-04-19 | 2023-10-31 | fixed CO2       |     | L
    6  | 2028-06-12 | 2024-05-14 | fire pump       | 5   | M
    7  | 2028-09-30 | 2025-11-06 | fire pump       |     | L
    8  | 2028-02-01 | 2023-08-23 | launch          |     | XL
    9  | 2028-02-05 | 2024-09-17 | launch          |     | M
    10 | 2028-06-15 | 2025-07-01 | fire team       |     | L
    11 | 2028-06-11 | 2025-07-01 | doors           |     | L
    12 | 2028-10-02 | 2026-08-19 | equip craft     |     | M
    13 | 2028-10-03 | 2026-08-19 | other LSA       |     | L
    14 | 2028-02-08 | 2024-03-12 | fire team       |     | M
    15 | 2028-06-13 | 2024-03-12 | boundary cooling |    | L
    16 | 2028-04-20 | 2023-12-05 | blankets and stores | | L
    17 | 2028-07-29 | 2025-09-22 | blankets and stores | | M
    18 | 2028-10-05 | 2026-07-07 | doors           |     | L
    """,
)
for officer in ("2", "4", "8", "10"):
    CREW[int(officer) - 1]["enters_spaces"] = "yes"

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
    lot("Wheelhouse", "SART", 1, side="STBD", batch="Q-SR-5121"),
    lot("Wheelhouse", "SART battery", 1, batch="Q-SR-B34", made=date(2025, 8, 1), expires=date(2030, 8, 31)),
    lot("Wheelhouse", "GMDSS VHF", 3),
    lot("Wheelhouse", "emergency VHF battery", 3, batch="Q-VB-310", expires=date(2029, 7, 31)),
    lot("Bridge", "line throwing rocket", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
    lot("Bridge", "rocket line", 4),
    lot("Bridge", "parachute rocket", 12, batch="RP-4410", made=date(2025, 5, 1), expires=date(2028, 4, 30)),
    lot("Bridge", "recovery of persons from the water", 1, remarks="file 4"),
    lot("Mess room", "training manual", 2),
    # eight lifebuoys for a ship of less than a hundred metres
    lot("Bridge wing, PS", "MOB lifebuoy", 1, content=4, content_unit="kg", side="PS"),
    lot("Bridge wing, STBD", "MOB lifebuoy", 1, content=4, content_unit="kg", side="STBD"),
    lot("Bridge wings", "MOB light and smoke", 2, batch="LS-17", expires=date(2028, 6, 30)),
    lot("Main deck, PS", "lifebuoy with self-igniting light", 1, side="PS"),
    lot("Main deck, STBD", "lifebuoy with self-igniting light", 1, side="STBD"),
    lot("Main deck", "self-igniting light", 2, batch="BL-31", expires=date(2029, 3, 31)),
    lot("Main deck, PS", "lifebuoy with lifeline", 1, content=100, content_unit="ft", side="PS", remarks="30.5 m"),
    lot("Main deck, STBD", "lifebuoy with lifeline", 1, content=100, content_unit="ft", side="STBD"),
    lot("Poop deck", "life ring", 2),
    lot("Cabins", "life jackets", 20),
    lot("Wheelhouse", "life jackets", 2),
    lot("Engine control room", "life jackets", 2),
    lot("Cabins", "life jacket light", 24, batch="JL-80", expires=date(2029, 5, 31)),
    lot("Cabins", "lifejacket extender", 1),
    # suits by size, and a few for anybody
    lot("Cabins", "survival suit", 8, wearer_size="M", batch="HW-2017", made="03/2017"),
    lot("Cabins", "survival suit", 11, wearer_size="L", batch="HW-2017", made="03/2017"),
    lot("Cabins", "survival suit", 1, wearer_size="XL", batch="HW-2017", made="03/2017"),
    lot("Wheelhouse", "survival suit", 2, wearer_size="universal"),
    lot("Engine control room", "survival suit", 2, wearer_size="universal"),
    lot("Monkey island", "EPIRB", 1, batch="Q-EP-1977"),
    lot("Monkey island", "EPIRB battery", 1, batch="Q-EP-1977", expires="08/2028"),
    lot("Ashore at Kellimar", "waterproof torch", 1, condition="in service ashore"),
]  # fmt: skip

# appliance | service | last done | by | certificate | next due
SERVICING = [
    *(
        line
        for boat, report in (("Lifeboat 1", "TD-26-0590"), ("LIFEBOAT 2", "TD-26-0591"))
        for line in services(f"""
{boat} | davit annual | 2026-09-16 | ASP | {report} |
{boat} | winch brake test | 2026-09-16 | ASP | {report} |
{boat} | annual release gear test | 2026-09-16 | OEM | {report} |
{boat} | 5 year load test | 2023-09-20 | ASP | TD-23-0488 | 2028-09-20
{boat} | five-year hook overhaul | 2023-09-20 | OEM | TD-23-0488 | 2028-09-20
{boat} | falls renewal | 2023-09-20 | ship's crew | | 2028-09-20
""")
    ),
    *services("""
Raft S | GI test | 2023-10-05 | approved servicing station | KS-23-1702 | 2028-10-05
Raft P | GI test | 2023-10-05 | approved servicing station | KS-23-1703 | 2028-10-05
Raft S | NAP test | 2026-09-28 | approved servicing station | KS-26-1811 | 2027-09-28
Raft P | NAP test | 2026-09-28 | approved servicing station | KS-26-1812 | 2027-09-28
Raft S | HRU fitted | 2026-08-30 | crew | |
Raft P | HRU fitted | 2026-08-30 | crew | |
HW-2017 | suit air test | 2025-09-02 | shore firm | HW-25-140 | 2028-09-02
EPIRB | annual EPIRB test | 2026-09-14 | shore firm | HW-26-201 |
EPIRB | EPIRB service | 2023-09-25 | station | HW-23-162 | 2028-09-25
CO2 room | CO2 annual | 2026-09-15 | shore firm | FB-26-331 |
CO2 room | CO2 level check | 2026-09-15 | shore firm | FB-26-331 |
CO2 room | CO2 valves five-year | 2023-09-22 | shore firm | FB-23-270 |
CO2 room | CO2 hydro | 2018-10-02 | shore firm | FB-18-155 | 2028-10-02
CO2 room | CO2 hose renewal | 2018-10-02 | shore firm | FB-18-155 | 2028-10-02
Hoses | hose test | 2026-07-11 | crew | |
Fire pumps | fire pump test annual | 2026-09-15 | crew | |
BA sets | BA annual service | 2026-09-15 | shore firm | FB-26-332 |
BA sets | BA cylinder hydrostatic test | 2023-09-22 | shore firm | FB-23-271 |
Detection | detection annual test | 2026-09-15 | shore firm | FB-26-333 |
"""),
    *(
        {"appliance": "CO2 room", "service": "CO2 monthly check", "done": day, "done_by": "crew"}
        for day in (date(2026, 11, 15), date(2026, 12, 14), date(2027, 1, 11), date(2027, 2, 9))
    ),
]  # fmt: skip

ROUTINE = by_day(
    inspections_and_tests(by="Second officer"),
    drills(),
    weekly("boats moved from stowage", date(2026, 8, 2), date(2026, 12, 27), by="Bosun"),
    held("boats moved from stowage", "2027-01-10 2027-01-17 2027-01-24 2027-01-31 2027-02-07 2027-02-14 2027-02-21 "
         "2027-02-28", by="Bosun"),
    [{"day": date(2027, 1, 3), "task": "lifeboats moved", "result": "postponed", "by": "Bosun", "remarks": "gale, 9"}],
    held("boats turned out", TENTHS, by="Bosun"),
    held("lifeboat launched", "2026-08-30 2026-10-28 2027-01-12", subject="Lifeboat 1", by="Chief officer"),
    held("lifeboat launched", "2026-08-31 2026-10-29 2027-01-13", subject="Lifeboat 2", by="Third officer"),
    held("joining training", "2026-02-13", present="8, 9, 14", by="Second officer"),
    held("joining training", "2026-04-26", present="5, 16", by="Second officer"),
    held("joining training", "2026-06-20", present="2, 6, 10, 11, 15", by="Second officer"),
    held("joining training", "2026-08-05", present="1, 3, 17", by="Third officer"),
    held("joining training", "2026-10-08", present="4, 7, 12, 13, 18", by="Second officer"),
    held("joining training", "2026-11-18", present="T1", by="Second officer"),
    held("steering gear test", "2026-08-11 2026-09-20 2026-10-09 2026-11-20", by="Second officer"),
)  # fmt: skip

# number | appliance | type | size | quantity | place | rechargeable | made | serviced | discharged | pressure | state
FIRE = appliances("""
1-16  | fire extinguisher | foam   | 9 L  | 16 | Accommodation | yes | 2020 | 2026-09-15 | 2025-06-18 | 2020-03-01
17-24 | fire extinguisher | powder | 6 kg | 8  | Engine room   | yes | 2018 | 2026-09-15 | 2025-06-18 | 2018-04-01
25-27 | fire extinguisher | CO2    | 5 kg | 3  | Bridge        | no  | 2021 | 2026-09-15 | 2025-06-18 | 2021-05-01
28-30 | fire extinguisher | CO2    | 5 kg | 3  | Fire locker | no  | 2021 | 2026-09-15 | 2025-06-18 | 2021-05-01 | spare
      | refill            | foam   | 9 L  | 13 | Fire locker
      | refill            | powder | 6 kg | 8  | Fire locker
      | fireman's outfit  |        |      | 2  | Fire locker
      | SCBA              |        |      | 2  | Fire locker, for dangerous goods
      | spare air cylinder |       | 6 L  | 8  | Fire locker
      | chemical suit     |        |      | 4  | Fire locker
      | EEBD              |        |      | 3  | Accommodation
      | spare EEBD        |        |      | 1  | Fire locker
      | engine room EEBD  |        |      | 3  | Engine room
      | hose              |        | 20 m | 14 | On deck and in the accommodation
      | spare hose        |        | 20 m | 2  | Bosun's store
      | engine room fire hose |    | 15 m | 3  | Engine room
      | fire nozzle       |        |      | 19 | With the hoses
      | ISC               |        |      | 1  | Fire locker
      | intrinsically safe radio | |      | 2  | Wheelhouse
      | multi gas meter   |        |      | 1  | Ship's office
      | fire plan         |        |      | 2  | Gangway and bridge
""")  # fmt: skip

DEFECTS: list[Line] = [
    {"subject": "Lifeboat 2", "fitting": "wiper", "wrong": "blade torn", "since": date(2026, 10, 29), "by": "4"}
    | {"closed": date(2026, 11, 2)},
    {"subject": "Galley", "fitting": "fire door", "wrong": "does not latch", "since": date(2026, 12, 12), "by": "Bosun"}
    | {"closed": date(2026, 12, 12), "remarks": "striker plate filed"},
]

FOLLOW_UP: list[Line] = [
    {"finding": "SH10-7k4ue2", "order": "R-26-031", "port": "Kellimar", "expected": date(2026, 10, 31)}
    | {"reported_to": "Vessary Maritime Office, 2026-10-03", "interim": "the one SART is on the bridge"}
    | {"closed": date(2026, 10, 9), "remarks": "a second SART came on board"},
]

# port | arrival | departure | what can be had there | lead time | days of a raft ashore
PORTS = port_calls("""
    Port Ostrell | 2027-03-15 | 2027-03-17 | stores flares fire boats radio       | 14 |
    Tarn Haven   | 2027-06-02 | 2027-06-04 | stores rafts exchange                | 21 |
    Port Ostrell | 2027-09-06 | 2027-09-10 | stores flares fire boats radio       | 14 |
    Tarn Haven   | 2027-09-20 | 2027-09-22 | stores rafts exchange                | 21 |
    Port Ostrell | 2028-02-14 | 2028-02-17 | stores flares fire boats radio       | 14 |
""")

CERTIFICATES = written(
    """
    Safety Equipment Certificate     | VMO-SE-25-0410 | 2025-09-14 | 2030-09-13 | Ship's office
    Safety Radio Certificate         | VMO-SR-25-0411 | 2025-09-14 | 2030-09-13 | Ship's office
    Document of Compliance, dangerous goods | VMO-DG-25-0412 | 2025-09-14 | 2030-09-13 | Ship's office
    """,
    "certificate", "number", "issued", "until", "place",
)  # fmt: skip

RECORD_OF_EQUIPMENT = written(
    """
    total number of persons          | 20
    lifeboats                        | 2
    persons in lifeboats             | 40
    rescue boats                     | 1 | Lifeboat 1
    liferafts                        | 2
    persons in liferafts             | 40
    lifebuoys                        | 8
    lifejackets                      | 24
    immersion suits                  | 24
    two-way VHF                      | 3
    SARTs                            | 2
    line throwing appliances         | 4
    rocket parachute flares, bridge  | 12
    """,
    "entry", "figure", "remarks",
)  # fmt: skip

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
    servicing=SERVICING,
    routine=ROUTINE,
    fire=FIRE,
    defects=DEFECTS,
    follow_up=FOLLOW_UP,
    ports=PORTS,
    certificates=CERTIFICATES,
    record_of_equipment=RECORD_OF_EQUIPMENT,
    exemptions=EXEMPTIONS,
)
