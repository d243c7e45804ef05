"""Veshmoor, general cargo ship of 121 m with a free-fall boat: the second book of faults, on every sheet.

Each fault is one slip of one hand, said in the comment beside it; what else stands here is in order.
"""

from datetime import date, timedelta

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
from example_books.rhythm import FIRST, LAST, TENTHS
from example_books.stores import hydrostatic_release, lifeboat_stores, rigid_rescue_boat_stores

SHIP: Line = {
    "name": "Veshmoor",
    "imo_number": "3401920",
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "general cargo ship",
    "gross_tonnage": 7230,
    "length_m": 121,
    "keel_laid": date(2012, 9, 4),
    "voyage": "international",
    "persons_certified": 26,  # CV12: the boat takes 24
    "persons_on_board": 19,  # CV05: the crew list sends 20 to a craft
    "rule_set": "solas",
    "record_date": date(2026, 10, 31),  # WB22: seven joined on 18 November
    "kept_by": "Second officer",
    "watch_stations": 3,
    "voyage_under_24h": "no",
    "far_stem_or_stern": "yes",  # CV08: and there is no raft forward
    "dangerous_goods": "no",
    "recharging_plant": "no",
    "departed": date(2026, 11, 20),  # RT05: a third of the crew is new; RT07: no test of the steering gear
    "anniversary": date(2024, 10, 5),
    "head_count": "by complement",
}

RAFT: Line = {
    "kind": "liferaft",  # CV07: a ship with a free-fall boat has launched rafts on one side
    "construction": "inflatable",
    "purpose": "required",
    "persons": 25,
    "pack": "A",
    "stowage_height_m": 12,
    "sart_stowed": "no",
    "transferable": "no",
    "mass_kg": 190,
    "drop_tested_higher": "no",
    "painter_m": 26,
    "serviced": date(2026, 9, 22),
    "earliest_content": date(2028, 5, 31),
    "serial": "Q-LR-6001",
}

CRAFT: list[Line] = [
    {
        "name": "Free-fall boat",
        "kind": "free-fall lifeboat",
        "construction": "totally enclosed",
        "side": "aft",
        "purpose": "required",
        "persons": 24,
        "stowage_height_m": 15,
        "sart_stowed": "yes",
        "self_bailing": "no",
        "person_mass_kg": 82.5,
        "made": date(2012, 11, 1),
        "hooks_compliant": "yes",
        "fall_preventers": "no",
        "fire_protected": "no",
        "air_support": "no",
        "serial": "Q-FF-0502",
    },
    {
        "name": "Rescue boat",
        "kind": "rescue boat",
        "construction": "rigid",
        "side": "starboard",
        "purpose": "required",
        "persons": 6,
        "stowage_height_m": 11,
        "sart_stowed": "no",
        "self_bailing": "no",
        "person_mass_kg": 82.5,
        "made": date(2012, 10, 1),
        "hooks_compliant": "yes",
        "serial": "Q-RB-0502",
    },
    {"name": "Raft P", "side": "port", "certificate": "KS-26-1801", **RAFT}
    | {"person_mass_kg": 75, "made": date(2020, 4, 1)},  # CV11: a raft of 2020 is for persons of 82.5 kg
    {"name": "Raft S", "side": "starboard", "certificate": "KS-26-1802", **RAFT}  # WB19: the serial number of Raft P
    | {"person_mass_kg": 82.5, "made": date(2026, 10, 1)},  # WB20: made after its last service
]

FFB = "Free-fall boat"
CREW = crew_list("""
1  | Master          | Rurik Elvestad    | Free-fall boat | second in command | Master         |            | 2026-07-06
2  | Chief officer   | Mona Tareskin     | Free-fall boat | member            |                |            | 2026-07-06
3  | Second officer  | Iwan Dolgarth     | Free-fall boat | radio             |                |            | 2026-06-01
4  | Third officer   | Selma Birkoff     | Free-fall boat | member            |                |            | 2026-06-01
5  | Chief engineer  | Pau Contreval     | Free-fall boat | engine operator   |                |            | 2026-07-06
6  | Second engineer | Danek Wolorz      | Free-fall boat | member            |                |            | 2026-06-01
7  | Third engineer  | Ruben Asterlo     | Free-fall boat | member            |                |            | 2026-06-01
8  | Bosun           | Narciso Ubaldez   | Rescue boat    | person in charge  | Survival craft | 2026-10-31 | 2026-06-01
9  | Able seaman     | Jovy Malantic     | Rescue boat    | member            |                |            | 2026-06-01
10 | Able seaman     | Teo Karvanen      |                | engine operator   |                |            | 2026-06-01
11 | Able seaman     | Bram Oudejans     | Free-fall boat | member            |                |            | 2026-06-01
12 | Ordinary seaman | Osmo Pelkari      | Free-fall boat | member            |                |            | 2026-06-01
13 | Chief cook      | Delfin Arrogante  | Free-fall boat | person in charge  | none           |            | 2026-06-01
14 | Messman         | Yonas Tekelab     | Free-fall boat | member            |                |            | 2026-06-01
15 | Fitter          | Zdenek Hruban     | Free-fall boat | member            |                |            | 2026-11-18
16 | Oiler           | Alfie Banatao     | Free-fall boat | member            |                |            | 2026-11-18
17 | Oiler           | Marek Sulowski    | Free-fall boat | member            |                |            | 2026-11-18
18 | Wiper           | Quim Vallbona     | Free-fall boat | member            |                |            | 2026-11-18
19 | Electrician     | Anouar Belkadi    | Free-fall boat | member            |                |            | 2026-11-18
20 | Deck cadet      | Ilse Vermander    | Free-fall boat | member            |                |            | 2026-11-18
21 | Engine cadet    | Ravi Sundaran     | Free-fall boat | member            |                |            | 2026-11-18
""")
# CR08: the bosun's certificate ran out; CR07: a cook without one commands the boat; CR11: and nobody in it but the
# master has one (two are asked); CR17 and CR04: the engine operator without a craft
# number | medical until | training evidence | muster duty | substitute for | size
papers(
    CREW,
    """
    1  | 2028-04-20 | 2024-02-14 | in command               |    | L
    2  | 2028-04-21 | 2024-02-14 | fire party               | 2  | L
    3  | 2026-10-15 | 2024-02-14 | fire party               |    | M
    4  | 2028-04-23 | 2021-10-05 | close doors and valves   |    | M
    5  | 2029-12-31 | 2024-02-14 | special fire duties      |    | XL
    6  | 2028-04-25 | 2024-02-14 | fire party               | 5  | XL
    7  | 2028-04-26 | 2024-02-14 | fire party               |    | XL
    8  | 2028-04-27 | 2024-02-14 | prepare and launch craft |    | XL
    9  | 2028-04-28 | 2024-02-14 | in command               | 1  | L
    10 | 2028-04-29 | 2024-02-14 | equip survival craft     |    | L
    11 | 2028-04-30 | 2024-02-14 | equip survival craft     |    | L
    12 | 2028-05-01 | 2024-02-14 | prepare other appliances |    | M
    13 | 2028-05-02 | 2024-02-14 | none                     |    | M
    14 | 2028-05-03 | 2024-02-14 | none                     |    | M
    15 | 2028-05-04 | 2024-02-14 | none                     |    | L
    16 | 2028-05-05 | 2024-02-14 | none                     |    | L
    17 | 2028-05-06 | 2024-02-14 | none                     |    | M
    18 | 2028-05-07 | 2024-02-14 | none                     |    | M
    19 | 2028-05-08 | 2024-02-14 | none                     |    | M
    20 | 2028-05-09 | 2024-02-14 | none                     |    | M
    21 | 2028-05-10 | 2024-02-14 | none                     |    | M
    """,
)
# CR15: 2 stands in for himself; CR16: 9 stands in for the master and is in command as well; CR13: nobody stands in for
# 9, nor for 8, who is in charge of the rescue boat; CR12: nobody has the communications; CR09: the medical certificate
# of 3; CR10: the evidence of 4; WB23: the medical certificate of 5 would last more than three years

FLARES, RATIONS, MEDICINES = date(2028, 2, 29), date(2029, 1, 31), date(2028, 7, 31)

INVENTORY: list[Line] = [
    *lifeboat_stores(
        FFB, 24, painter_m=32, aids=3, flares=FLARES, rations=RATIONS, medicines=MEDICINES, without=("buoyant oars",)
    ),
    *rigid_rescue_boat_stores("Rescue boat", medicines=MEDICINES),
    hydrostatic_release("Raft P", date(2028, 9, 30), "HR-70201"),
    hydrostatic_release("Raft S", date(2028, 9, 30), "HR-70202"),
    lot(FFB, "SART", 1, batch="Q-SR-5201"),
    lot("Bridge", "SART", 1, side="starboard", batch="Q-SR-5202"),
    lot("Bridge", "SART battery", 2, batch="Q-SR-B52", expires=date(2030, 5, 31)),
    lot("Bridge", "survival-craft two-way VHF", 3),
    lot("Bridge", "VHF primary battery", 3, batch="Q-VB-200", expires=date(2026, 12, 15)),  # SH12: in twenty days
    lot("Bridge", "line-throwing rocket", 4, batch="LT-300", made=date(2025, 3, 1), expires=date(2028, 2, 29)),
    lot("Bridge", "line-throwing line", 4),
    # SH11: all twelve are past their date
    lot("Bridge", "rocket parachute flare", 12, batch="RP-3308", made=date(2023, 7, 1), expires=date(2026, 6, 30)),
    lot("Bridge", "recovery plan", 1),
    lot("Mess room", "survival manual", 2),  # SH17: of the training manual no line stands anywhere
    # SH10: nine lifebuoys, ten are asked; SH15: none of them near the stern
    lot("Bridge wing, port", "lifebuoy with light and smoke", 1, content=4, content_unit="kg", side="port"),
    lot("Bridge wing, starboard", "lifebuoy with light and smoke", 1, content=4, content_unit="kg", side="starboard"),
    lot("Bridge wings", "lifebuoy light and smoke", 2, batch="LS-17", expires=date(2028, 6, 30)),
    lot("Gangway, port", "lifebuoy with light", 2, side="port"),
    lot("Gangway, starboard", "lifebuoy with light", 1, side="starboard"),
    lot("Gangway", "lifebuoy light", 3, batch="BL-31", expires=date(2029, 3, 31)),
    # SH14: both lines are on the port side; SH13: and one of them is 25 m
    lot("Gangway, port", "lifebuoy with line", 1, content=25, content_unit="m", side="port"),
    lot("Forecastle, port", "lifebuoy with line", 1, content=36, content_unit="m", side="port"),
    lot("Forecastle", "lifebuoy", 2),
    lot("Cabins", "lifejacket", 26, wearer_size="universal"),
    lot("Bridge", "lifejacket", 3, wearer_size="universal"),
    lot("Cabins", "lifejacket light", 29, batch="JL-88", expires=date(2029, 9, 30)),
    lot("Cabins", "lifejacket accessory for large persons", 1),
    # SH16: four persons of XL and two suits of that size
    lot("Cabins", "immersion suit", 12, wearer_size="M", made="04/2021"),
    lot("Cabins", "immersion suit", 13, wearer_size="L", made="04/2021"),
    lot("Cabins", "immersion suit", 2, wearer_size="XL", batch="Q-IS-1401", made=date(2014, 5, 1)),
    lot("Monkey island", "EPIRB", 1, batch="Q-EP-2120"),
    lot("Monkey island", "EPIRB battery", 1, batch="Q-EP-2120", expires=date(2029, 8, 31)),
]  # fmt: skip

# appliance | service | last done | by | certificate | next due
SERVICING = services("""
Free-fall boat | launching appliance annual examination | 2026-10-06 | authorized provider | TD-26-0640 |
Free-fall boat | release gear annual examination | 2026-10-06 | crew | |
Free-fall boat | release gear five-year overhaul | 2023-10-12 | authorized provider | TD-23-0501 | 2029-10-12
Rescue boat | falls renewed | 2021-10-15 | crew | |
Rescue boat | launching appliance annual examination | 2026-10-06 | authorized provider | TD-26-0641 |
Rescue boat | winch brake annual test | 2026-10-06 | authorized provider | TD-26-0641 |
Rescue boat | launching appliance five-year test | 2023-10-12 | authorized provider | TD-23-0502 |
Rescue boat | release gear annual examination | 2026-10-06 | authorized provider | TD-26-0641 |
Rescue boat | release gear five-year overhaul | 2023-10-12 | authorized provider | TD-23-0502 |
Rescue baot | winch brake annual test | 2025-10-10 | authorized provider | TD-25-0588 |
Raft P | release gear annual examination | 2026-10-06 | authorized provider | TD-26-0642 |
Raft P | liferaft gas inflation test | 2025-09-30 | servicing station | KS-25-1790 |
Q-IS-1401 | immersion suit pressure test | 2024-08-20 | competent person | HW-24-102 |
EPIRB | EPIRB annual test | 2026-10-06 | competent person | HW-26-215 |
EPIRB | EPIRB shore maintenance | 2023-10-12 | servicing station | HW-23-170 |
Inflatables 1-4 | inflatable lifejackets serviced | 2026-06-10 | servicing station | KS-26-1230 |
Inflatables 5-8 | inflatable lifejackets serviced | 2026-06-10 | servicing station | KS-26-1231 |
CO2 system | CO2 system annual inspection | 2026-10-06 | competent person | FB-26-350 |
CO2 system | CO2 contents checked | 2025-10-09 | competent person | FB-25-320 |
CO2 system | CO2 control valves inspected | 2023-10-12 | competent person | FB-23-280 |
CO2 system | CO2 cylinders pressure-tested | 2022-10-10 | competent person | FB-22-240 |
CO2 system | CO2 flexible hoses renewed | 2022-10-10 | competent person | FB-22-240 |
Fire hoses | fire hoses tested | 2027-08-20 | crew | |
Fire pumps | fire pumps flow-tested | 2026-10-06 | crew | |
BA 1-2 | breathing apparatus serviced | 2026-10-06 | competent person | FB-26-351 |
BA cylinders | breathing apparatus cylinders pressure-tested | 2023-10-12 | competent person | FB-23-281 |
Detection | fire detection annual test | 2026-10-06 | competent person | FB-26-352 |
""")
# SV04: the hooks of the free-fall boat were examined by the crew; SV06: five years from 2023 are not 2029; SV03: the
# falls of 2021; SV05: the 'Rescue baot'; SV10: a raft thrown over has no release gear; SV11: suits of 2014, tested two
# years ago; WB21: hoses tested in 2027
SERVICING[15] |= {"granted_until": date(2027, 9, 10)}  # SV07: no letter
SERVICING[16] |= {"granted_until": date(2028, 3, 10), "grant_reference": "VMO/SV/2026/0101"}  # SV08: 17 months at most
SERVICING[24] |= {"interval": "2Y"}  # SV09: a year is asked

CREWED = "1-9, 10, 11, 13, 14"  # 12 was always on watch: RT04; and those who joined in November
WINTER = "1-11, 13-21"

ROUTINE = by_day(
    weekly("weekly inspection", FIRST, LAST, by="Third officer"),
    weekly("engine run", FIRST, FIRST, subject="both boats", by="Second engineer"),
    weekly("engine run", FIRST + timedelta(days=7), LAST, subject=FFB, by="Second engineer"),
    weekly("general alarm test", FIRST, LAST, by="Third officer"),
    weekly("emergency generator run", FIRST, LAST, by="Second engineer"),
    held("monthly inspection", TENTHS, by="Third officer"),
    held("emergency lights tried", TENTHS, by="Electrician"),
    held("instruction in appliances", TENTHS, by="Third officer"),
    held("fire quarterly inspection", "2026-08-30 2026-10-20 2027-01-10", by="Chief officer"),
    held("fire annual inspection", "2026-10-06", by="Chief officer"),
    held("quick-closing valves tried", "2026-08-20", by="Second engineer"),
    # RT31: more than a year ago
    held("remote stops tried", "2025-11-20", by="Second engineer"),
    # RT02: the weekly round of the fire gear ended on 8 November
    weekly("fire weekly inspection", FIRST, date(2026, 11, 8), by="Third officer"),
    held("fire monthly inspection", TENTHS, by="Third officer"),
    # RT33: what was wrong with the raft stands nowhere
    [{"day": date(2026, 11, 22), "task": "monthly inspection", "subject": "Raft S", "result": "defect", "by": "Bosun"}],
    # RT01: the engine of the rescue boat last ran when it was launched, on the tenth of November
    held("rescue boat launched", "2026-08-20 2026-11-10 2027-02-10", subject="Rescue boat", by="Chief officer"),
    # RT03: three months and more ago
    held("steering drill", "2026-08-20", by="Master"),
    held("free-fall boarding drill", "2026-09-10 2026-11-10 2027-01-10", by="Chief officer"),
    held("free-fall launch", "2026-10-22", by="Chief officer"),
    held("free-fall launch", "2027-02-10", by="Chief officer", remarks="simulated launch"),
    held("abandon ship drill", "2026-08-24 2026-09-10 2026-09-24 2026-10-10", present=CREWED, by="Master"),
    held("fire drill", "2026-08-24 2026-09-10 2026-09-24 2026-10-10", present=CREWED, by="Chief officer"),
    held("abandon ship drill", "2026-10-24 2026-11-09", present="1-14", by="Master"),
    held("fire drill", "2026-10-24", present=CREWED, by="Chief officer"),
    held("fire drill", "2026-11-09", present="1-11, 13", by="Chief officer"),
    # RT22: 15 joined on the eighteenth
    held("enclosed space drill", "2026-09-10 2026-10-20", present="1-14", by="Chief officer"),
    held("enclosed space drill", "2026-11-09", present="1-15", by="Chief officer"),
    held("enclosed space drill", "2026-12-20 2027-02-12", present="1-21", by="Chief officer"),
    held("abandon ship drill", "2026-11-24 2026-12-10 2026-12-24 2027-01-10 2027-01-24 2027-02-10 2027-02-24",
         present="1-21", by="Master"),
    held("fire drill", "2026-12-10 2026-12-24 2027-01-10 2027-01-24 2027-02-10 2027-02-24",
         present=WINTER, by="Chief officer"),
    # RT21: there is no 44
    held("fire drill", "2026-11-24", present="1-11, 13-21, 44", by="Chief officer"),
    # RT20: there is no such boat
    held("boats turned out", "2026-11-10", subject="Lifeboat 1", by="Bosun"),
    # RT23: why not?
    [{"day": date(2026, 11, 15), "task": "fire drill", "result": "not held", "by": "Chief officer"}],
    held("joining training", "2026-06-02", present="3, 4, 6-14", by="Third officer"),
    held("joining training", "2026-07-07", present="1, 2, 5", by="Third officer"),
    # RT06: 21 has had none
    held("joining training", "2026-11-19", present="15-20", by="Third officer"),
    # RT07: nine days before the ship left
    held("steering gear test", "2026-08-11 2026-11-11", by="Second officer"),
)  # fmt: skip

# number | appliance | type | size | quantity | place | rechargeable | made | serviced | discharged | pressure | state
FIRE = appliances("""
FE 1-10  | extinguisher | foam   | 9 L  | 10 | Accommodation | yes | 2022 | 2025-10-30 | 2025-02-10 | 2022-03-01
FE 11-16 | extinguisher | powder | 6 kg | 6  | Engine room   | yes | 2015 | 2026-10-06 | 2021-10-12 | 2025-10-09
FE 17-19 | extinguisher | CO2    | 5 kg | 3  | Bridge        | no  | 2014 | 2026-10-06 | 2024-11-02 | 2015-10-20
FE 20-22 | extinguisher | CO2    | 5 kg | 3  | Fire locker   | no  | 2014 | 2026-10-06 | 2024-11-02 | 2024-10-20 | spare
FE 23    | extinguisher | water  | 9 L  | 1  | Galley        | yes | 2023 | 2026-10-06 | 2025-02-10 | 2022-10-20
         | spare charge          | foam   | 9 L  | 10 | Fire locker
         | spare charge          | powder | 6 kg | 2  | Fire locker
         | spare charge          | water  | 9 L  | 1  | Fire locker
         | fire-fighter's outfit |        |      | 1  | Fire locker
         | breathing apparatus spare cylinder | | 6 L | 4 | Fire locker
         | EEBD                  |        |      | 2  | Accommodation
         | EEBD spare            |        |      | 1  | Fire locker
         | EEBD in machinery space |      |      | 3  | Engine room
         | fire hose             |        | 20 m | 12 | On deck and in the accommodation
         | fire hose spare       |        | 20 m | 2  | Bosun's store
         | engine room fire hose |        | 15 m | 3  | Engine room
         | nozzle                |        |      | 17 | With the hoses
         | international shore connection | | | 1 | Fire locker
         | fire-fighter radio    |        |      | 2  | Bridge
         | atmosphere-testing instrument | |    | 1  | Ship's office
         | foam concentrate      | foam   | 20 L | 2  | Engine room | | 2014 | | | | | contains PFOS
         | fire control plan     |        |      | 2  | Gangway and bridge
""")  # fmt: skip
# FF01: FE 1-10; FF02: FE 11-16; FF03: FE 17-19; FF07: FE 23 was tested before it was made; FF04: two charges of powder
# for six; FF05: one outfit, two are asked; FF06: the foam

DEFECTS: list[Line] = [
    # RT30: open
    {"subject": FFB, "fitting": "engine start from second source", "wrong": "second battery does not turn the engine"}
    | {"since": date(2026, 11, 12), "by": "Second engineer"},
    # RT34: a raft has none
    {"subject": "Raft P", "fitting": "limit switches", "wrong": "seized", "since": date(2026, 11, 8)},
    # WB20: closed before it was found
    {"subject": "Rescue boat", "fitting": "painter release", "wrong": "stiff", "since": date(2026, 10, 18)}
    | {"closed": date(2026, 10, 8)},
]

FOLLOW_UP: list[Line] = [
    # WB30: written off, and the lifebuoy is still missing
    {"finding": "SH10-nqrzff", "order": "R-26-090", "port": "Kellimar", "closed": date(2026, 11, 10)},
    # WB31: no such finding any more
    {"finding": "EQ01-b6sdhq", "order": "R-26-071", "port": "Kellimar"},
    # WB32: seven letters
    {"finding": "EQ01-abcdefg", "order": "R-26-072"},
    # WB33: ordered twice
    {"finding": "SH11-xgmsc7", "order": "R-26-095", "port": "Port Ostrell", "expected": date(2027, 3, 15)},
    {"finding": "SH11-xgmsc7", "order": "R-26-101", "port": "Hollin", "expected": date(2027, 3, 20)},
]

PORTS = port_calls("""
    Port Ostrell | 2027-02-15 | 2027-02-17 | stores flares rafts fire boats radio | 14 | 2
    Kellimar     | 2027-04-12 | 2027-04-10 | stores boats                         | 10 |
    Tarn Haven   | 2027-06-01 | 2027-06-05 | stores                               | 7  |
    Port Ostrell | 2027-06-04 | 2027-06-08 | stores flares rafts fire boats radio | 14 | 2
""")
# SH20: Kellimar is left before she comes there; SH21: she is in Tarn Haven until 5 June

CERTIFICATES = written(
    """
    Safety Equipment Certificate | VMO-SE-24-0502 | 2024-10-05 | 2029-10-05 | Ship's office
    Safety Radio Certificate     | VMO-SR-24-0503 | 2024-10-05 | 2023-10-05 | Ship's office
    International Load Line Certificate | VMO-LL-21-0498 | 2021-10-20 | 2026-10-20 | Ship's office
    """,
    "certificate", "number", "issued", "until", "place",
)  # fmt: skip
# WB20: the radio certificate ended before it was issued; SH22: the load line certificate has run out

RECORD_OF_EQUIPMENT = written(
    """
    persons provided for             | 24
    lifeboats                        | 1
    rescue boats                     | 1
    liferafts                        | 2
    lifejackets                      | 20
    two-way VHF                      | 4
    """,
    "entry", "figure",
)  # fmt: skip
# SH30: lifejackets for 26 persons are asked; SH31: three VHF are there; SH32: 26 persons on the Ship sheet

PLAN = Plan(
    file="veshmoor.xlsx",
    about="The second book of faults: services, drills, fire gear, defects, follow-ups, certificates and the muster "
    "list, with one slip for each check. manifest.toml, beside the books, names each cell and says why.",
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
