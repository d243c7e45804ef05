"""Thornuve, bulk carrier of 112 m: the book of faults. Every code of the audit has a line here that trips it.

Each fault is one slip of one hand, said in the comment beside it; what else stands here is in order. The faults are
placed so that none hides another: a line that cannot be read makes a rule 'not evaluated', never 'not met'.
"""

from datetime import date
from typing import Any

from example_books.plan import Formula, Layout, Line, Plan, crew_list, lot
from example_books.stores import hydrostatic_release, lifeboat_stores

SHIP: Line = {
    "name": "Thornuve",
    "imo_number": "3277153",  # WB17: two digits exchanged, 3277135 on the certificate
    "flag": "Vessary (invented)",
    "company": "Quorley Line (invented)",
    "ship_type": "bulk carrier",  # CV06: keel of 2011, and no free-fall boat
    "gross_tonnage": 6940,
    "length_m": 112,
    "keel_laid": date(2011, 4, 12),
    "voyage": "international",
    "persons_certified": 30,
    "persons_on_board": 25,
    "rule_set": "solas",
    "record_date": "31.11.2026",  # WB03: November has thirty days
    "kept_by": "Third officer",
}

BOAT: Line = {
    "kind": "lifeboat",
    "construction": "totally enclosed",
    "purpose": "required",
    "stowage_height_m": 14,
    "sart_stowed": "no",
    "self_bailing": "no",
}
RAFT: Line = {
    "kind": "liferaft",
    "construction": "inflatable",
    "purpose": "required",
    "persons": 16,
    "pack": "A",
    "stowage_height_m": 12,
    "sart_stowed": "no",
    "transferable": "yes",
    "mass_kg": 168,
    "drop_tested_higher": "no",
    "painter_m": 30,
    "serviced": date(2026, 10, 6),
    "earliest_content": date(2028, 4, 30),
}

CRAFT: list[Line] = [
    # CV02: none of the three boats is a rescue boat
    {"name": "Lifeboat 1", "side": "starboard", "serial": "Q-LB-3001", **BOAT, "persons": 20},  # CV01: 25 on board
    {"name": "Lifeboat 2", "side": "port", "serial": "Q-LB-3002", **BOAT, "persons": 30},  # CR02: nobody in charge
    # EQ05: nobody went through it
    {"name": "Poop boat", "side": "aft", "serial": "Q-LB-3003", **BOAT, "persons": 16, "purpose": "extra"},
    {"name": "Raft 1", "side": "starboard", "certificate": "KS-25-2210", **RAFT}
    | {"serviced": date(2025, 11, 10), "mass_kg": 210},  # SV01: lapsed; EQ04: more than 185 kg, and to be carried
    {"name": "Raft 2", "side": "port", "certificate": "KS-26-1870", **RAFT} | {"pack": "B"},  # EQ03: a cargo ship
    {"name": "Raft 3", "side": "starboard", "certificate": "KS-26-0107", **RAFT}
    | {"serviced": date(2026, 1, 20), "painter_m": 19},  # SV01: due; EQ04: 22 m for a stowage at 12 m
    {"name": "Raft 4", "side": "port", "certificate": "KS-26-1872", **RAFT}
    | {"persons": 5, "earliest_content": date(2026, 9, 30)},  # EQ04: the smallest raft takes 6; SV02: run out
    {"name": "Raft 5", "side": "starboard", "certificate": "KS-26-1873", **RAFT}
    | {"stowage_height_m": 20, "earliest_content": date(2027, 1, 31)},  # EQ04: above 18 m; SV02: due
    {"name": "Raft 6", "side": "port", "certificate": "KS-26-1874", **RAFT}
    | {"pack": "C"},  # WB05: there is an A and a B
    {"name": "raft 6", "side": "port", "certificate": "KS-26-1875", **RAFT},  # WB07: the name is taken
    {"name": "Raft 7", "side": "port", "certificate": "KS-25-1999", **RAFT}
    | {"purpose": "extra", "serviced": date(2025, 10, 15)},  # SV01: a note, for it is extra
    {"name": "Raft 8", "side": "port", "certificate": "KS-26-1876", **RAFT}
    | {"stowage_height_m": 112},  # WB06: the ship's length; no raft is stowed so high
]

CREW = crew_list("""
1  | Master            | Aldo Brennick     | Lifeboat 1 | person in charge  | Master         |            | 2026-08-09
2  | Chief officer     | Stellan Oryk      | Lifeboat 2 | member            | Survival craft |            | 2026-06-22
3  | Second officer    | Mariska Dovell    | Lifeboat 1 | second in command | Survival craft |            | 2026-08-09
4  | Third officer     | Piet Langeraar    | Lifeboat 1 | radio             | Survival craft |            | 2026-10-01
5  | Chief engineer    | Osei Brantuo      | Lifeboat 1 | engine operator   | Survival craft | 2028-11-30 | 2026-06-22
6  | Second engineer   | Lubomir Chalik    | Lifeboat 2 | second in command | Survival craft |            | 2026-06-22
7  | Third engineer    | Rune Halvorst     | Lifeboat 1 | member            | Survival craft |            | 2026-10-01
8  | Bosun             | Gerardo Tinsay    | Lifeboat 1 | member            |                |            | 2026-02-17
9  | Able seaman       | Noel Abrigana     | Lifeboat 1 | member            |                |            | 2026-02-17
10 | Able seaman       | Dennis Cabatu     | Lifeboat 1 | member            |                |            | 2026-02-17
11 | Able seaman       | Karel Smolik      | Lifeboat 1 | member            |                |            | 2026-06-22
12 | Able seaman       | Farouk Belhadi    | Lifeboat 1 | member            |                |            | 2026-06-22
13 | Ordinary seaman   | Wilmer Ocampos    | Lifeboat 1 | member            |                |            | 2026-10-01
14 | Ordinary seaman   | Anselm Druitt     | Lifeboat 1 | member            |                |            | 2026-10-01
15 | Fitter            | Stoyan Marev      | Lifeboat 1 | member            |                |            | 2026-06-22
16 | Oiler             | Rodel Gumaba      | Lifeboat 1 | member            |                |            | 2026-02-17
17 | Oiler             | Ifan Tregarth     | Lifeboat 1 | member            |                |            | 2026-02-17
18 | Wiper             | Jannik Soll       | Lifeboat 1 | member            |                |            | 2026-10-01
19 | Cook              | Benigno Arcilla   | Lifeboat 1 | member            |                |            | 2026-06-22
20 | Messman           | Zaur Temirkan     | Lifeboat 1 | member            |                |            | 2026-08-09
21 | Deck cadet        | Freya Lindmoor    | Lifeboat 1 | member            |                |            | 2026-10-01
22 | Engine cadet      | Mateus Corvino    | Lifeboat 1 | member            |                |            | 2026-10-01
23 | Electrician       | Hanno Brugger     | Lifeboat 1 | member            |                |            | 2026-08-09
23 | Supernumerary     | Elodie Varnier    | Lifebaot 2 | member            |                |            | 2026-11-02
25 | Supernumerary     | Otso Ranta        | Pilot boat | member            |                |            | 2026-11-02
""")
# CR01: 21 in Lifeboat 1, which takes 20; the last of them is crew number 23
# WB07: 23 twice; CR03: 'Lifebaot 2', and a 'Pilot boat' that is no craft of the ship
CREW[7]["joined"] = date(1926, 2, 17)  # WB11: a hundred years ago
CREW[8]["duty"] = "helmsman"  # WB05: no duty in a craft
CREW[9]["certificate_expires"] = "12/03/2028"  # WB03: March or December
CREW[10]["joined"] = "summer 2026"  # WB03: no date
CREW[24]["Remraks"] = "leaves at Kellimar"

FLARES, RATIONS, MEDICINES = date(2028, 1, 31), date(2029, 1, 31), date(2028, 7, 31)
L1, L2 = "Lifeboat 1", "Lifeboat 2"

LIFEBOAT_1: list[Line] = [
    *lifeboat_stores(
        L1, 20, painter_m=20, aids=2, flares=FLARES, rations=RATIONS, medicines=MEDICINES,
        # EQ02: both painters 20 m, the boat hangs 14 m above the water
        # EQ01: no whistle (its exemption ran out), no signals card (its exemption has no number), and no fishing
        # tackle (exempt until the end of the year)
        without=("fresh water", "bucket", "hand flare", "buoyant smoke signal", "whistle", "life-saving signals card",
                 "fishing tackle"),
    ),
    # EQ01: 50 L for 20 persons
    lot(L1, "fresh water", 100, unit="sachet", content=500, content_unit="mL", batch="W-311", expires=RATIONS),
    # EQ01: one good bucket and one with a hole
    lot(L1, "bucket", 1),
    lot(L1, "bucket", 1, condition="defective", remarks="bottom rusted through"),
    # EX01: all six are past their date; whoever ordered new ones wrote their date into the second column of that name
    lot(L1, "hand flare", 6, batch="HF-1702", made=date(2023, 9, 1), expires=date(2026, 8, 31),
        **{"Expiry date": date(2029, 8, 31), "Supplier": "Hollin Chandlery, Port Ostrell"}),
    # EX03: in date, but for 67 days only
    lot(L1, "buoyant smoke signal", 2, batch="BS-0610", made=date(2024, 2, 1), expires=date(2027, 1, 31)),
    # EX02: two old rockets beside the four good ones
    lot(L1, "rocket parachute flare", 2, batch="RP-3305", made=date(2023, 7, 1), expires=date(2026, 6, 30)),
    # EX04: a second first-aid outfit runs out, the other one stays
    lot(L1, "first-aid outfit", 1, batch="FA-40", expires=date(2027, 1, 10), condition="spare"),
]  # fmt: skip

LIFEBOAT_2: list[Line] = [
    *lifeboat_stores(
        L2, 30, painter_m=30, aids=3, flares=FLARES, rations=RATIONS, medicines=MEDICINES,
        without=("buoyant bailer", "painter", "hatchet", "fresh water", "dipper", "food ration",
                 "rocket parachute flare", "hand flare", "buoyant smoke signal", "first-aid outfit",
                 "anti-seasickness medicine", "seasickness bag", "jack-knife", "tin-opener", "rescue quoit",
                 "engine tools", "searchlight", "thermal protective aid", "signalling mirror", "compass"),
    ),
    lot(L2, "searchlight", Formula("=NA()", "#N/A")),  # WB01
    lot(L2, "compass", Formula("=1/0", "#DIV/0!")),  # WB01
    lot(L2, "hand flare", "about 6", batch="HF-2286", expires=FLARES),  # WB02
    lot(L2, "food ration", 30, content="10,000", content_unit="kJ", batch="F-087", expires=RATIONS),  # WB02
    lot(L2, "rocket parachute flare", 4, batch="RP-4410", expires="12/03/2029"),  # WB03: March or December
    lot(L2, "anti-seasickness medicine", 30, batch="SM-118", expires=46965),  # WB03: a day count, no date
    lot(L2, "buoyant smoke signal", 2, batch="BS-0913", expires="03/29"),  # WB03: 2029, or the 29th
    lot(L2, "dipper", None, batch="D-4"),  # WB04: how many?
    lot(L2, "hatchet", 0),  # WB06
    lot(L2, "buoyant bailer", -1),  # WB06
    lot(L2, "painter", 2, content=30, content_unit="mm"),  # WB05: no such unit
    lot(L2, "signalling mirror", 1, condition="half broken"),  # WB05: no such condition
    lot("Lifebaot 2", "jack-knife", 1),  # WB08: letters exchanged
    lot(L2, "engine tolls", 1),  # WB09: engine tools
    lot(L2, "fresh water", 180, unit="sachet", batch="W-311", expires=RATIONS),  # WB14: what does a sachet hold?
    lot(L2, "first-aid outfit", 1, batch="FA-52"),  # WB15: no date
    lot(L2, "thermal protective aid", 3, unit="L"),  # WB16: in litres
    lot(L2, "seasickness bag", 30, unit="kg"),  # WB16: in kilograms
    lot(L2, "tin-opener", 2),  # EQ01: three are asked
    # EQ02: the lines of both quoits are 25 m
    lot(L2, "rescue quoit", 2, content=25, content_unit="m"),
]  # fmt: skip

ELSEWHERE: list[Line] = [
    lot("Raft 1", "hydrostatic release unit", 1, batch="HR-61200", expires=date(2026, 10, 31)),  # EX01
    lot("Raft 2", "hydrostatic release unit", 1, batch="HR-62011", expires=date(2026, 12, 31)),  # EX03: in 36 days
    hydrostatic_release("Raft 3", date(2028, 9, 30), "HR-70113"),
    hydrostatic_release("Raft 4", date(2028, 9, 30), "HR-70114"),
    # EQ01: on its way, and not there
    lot("Raft 5", "hydrostatic release unit", 1, batch="HR-70115", expires=date(2028, 9, 30), condition="ashore"),
    # EX01: a note only, for the raft is extra
    lot("Raft 7", "hydrostatic release unit", 1, batch="HR-61201", expires=date(2026, 10, 31)),
    lot("Bridge", "line-throwing rocket", 4, batch="LT-244", made=date(2024, 2, 1), expires=date(2027, 1, 20)),  # EX04
    lot("Bridge", "EPIRB battery", 1, batch="Q-EP-1090", expires=date(2026, 9, 30)),  # EX02: no rule counts it here
    # WB10: the dates of making and of expiry are exchanged
    lot("Bridge", "rocket parachute flare", 12, batch="RP-4411", made=date(2029, 4, 30), expires=date(2028, 5, 1)),
    lot("Bridge, port wing", "lifebuoy light", 1, batch="BL-9", expires=date(2208, 5, 31)),  # WB11: 2028
    lot("Lifeboat 9", "boat-hook", 1),  # WB08: there is none
    lot("Slop chest", "blanket", 10),  # WB08: no place on board that the list knows
    lot("Bridge", "brass sextant", 1),  # WB09
    {"item": "lifebuoy", "quantity": 8, "remarks": "where?"},  # WB04
    {"place": "Pyrotechnics locker", "quantity": 24, "remarks": "the box from Kellimar"},  # WB04
]  # fmt: skip

INVENTORY: list[Line] = [*LIFEBOAT_1, *LIFEBOAT_2, *ELSEWHERE]

EXEMPTIONS: list[Line] = [
    # SH01: the rule is lifeboat.food-ration
    {"rule": "lifeboat.food", "authority": "Vessary Maritime Office", "reference": "VMO/EX/2026/0150"}
    | {"until": date(2028, 3, 31)},
    # SH02: it ran out, and there is no whistle in Lifeboat 1
    {"rule": "LSA Code 4.4.8.19", "subject": L1, "authority": "Vessary Maritime Office"}
    | {"reference": "VMO/EX/2025/0031", "until": date(2026, 10, 31)},
    # SH02: no letter
    {"rule": "lifeboat.signals-card", "subject": L1, "authority": "by telephone", "until": date(2027, 6, 30)},
    # holds until the end of the year; then the tackle is missing, and the exemption has lapsed
    {"rule": "lifeboat.fishing-tackle", "subject": L1, "authority": "Vessary Maritime Office"}
    | {"reference": "VMO/EX/2026/0098", "until": date(2026, 12, 31)},
    # WB03 and SH02: April or March
    {"rule": "liferaft.a-pack-cargo", "subject": "Raft 2", "authority": "Vessary Maritime Office"}
    | {"reference": "VMO/EX/2026/0122", "until": "03/04/2027"},
    # SH01: the figures of the paragraph are exchanged
    {"rule": "LSA Code 4.8.4.12", "authority": "Vessary Maritime Office", "reference": "VMO/EX/2026/0151"}
    | {"until": date(2028, 3, 31)},
    # SH03: there is no seventh lifeboat
    {"rule": "lifeboat.dipper", "subject": "Lifeboat 7", "authority": "Vessary Maritime Office"}
    | {"reference": "VMO/EX/2026/0152", "until": date(2028, 3, 31)},
]

# WB18: a sheet with one of the template's names, and other headings
OWN_SHEETS: dict[str, list[list[Any]]] = {
    "Documents": [
        ["Paper", "Folder"],
        ["Service certificates of the rafts", "LSA 3, chief officer's office"],
        ["Letters of the Administration", "LSA 1, chief officer's office"],
        # WB24: a cell function as LibreOffice 7.4 writes it into .xlsx
        ["Water for 25 persons, L", Formula('=LSA.WATER_L(25,"lifeboat")', 75)],
    ]
}

LAYOUT = Layout(
    columns={
        # WB12: two columns for the expiry; WB13: a column of the ship's own, and a heading that is nearly one of ours
        "inventory": (
            "place", "item", "asked", "quantity", "unit", "content", "content_unit", "batch", "made", "expires",
            "condition", "remarks", "Expiry date", "Supplier",
        ),
        "crew": (
            "number", "rank", "name", "craft", "duty", "certificate", "certificate_expires", "joined", "Remraks",
        ),
    },
)  # fmt: skip

PLAN = Plan(
    file="thornuve.xlsx",
    about="The book of faults: some seventy slips, each of another kind or cause, so that every code of the audit can "
    "be seen at work. manifest.toml, beside the books, names each cell and says why.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=INVENTORY,
    exemptions=EXEMPTIONS,
    own_sheets=OWN_SHEETS,
    layout=LAYOUT,
)
