"""Writes cases.csv: python -m tests.cells.make_cases. A test compares the file with what this writes.

Expected values come from statements of their own, not from the rule rows or the core: the hand copy of the LSA Code and
the federal tables in tests/published/data, dateutil for intervals, plain arithmetic for the rest. Those picked by hand
name their source.
"""

from __future__ import annotations

import csv
import io
import json
import math
import random
import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from dateutil.relativedelta import relativedelta

from tests.cells.case_table import COLUMNS, FILE
from tests.published._tables import read_table
from tests.published._us_table import US_ITEMS, cells

Row = tuple[str, list[Any], Any, str, str]
VALUE, UNKNOWN, NUMBER = "#VALUE!", "#N/A", "#NUM!"
DAY_ZERO = date(1899, 12, 30)


def good(function: str, arguments: list[Any], expected: Any, source: str) -> Row:
    """A call that has a value."""
    return function, arguments, expected, "", source


def bad(function: str, arguments: list[Any], error: str, source: str) -> Row:
    """A call that shows an error."""
    return function, arguments, None, error, source


def serial(day: date) -> int:
    """The serial number of a day."""
    return (day - DAY_ZERO).days


# ---- what a craft carries --------------------------------------------------------------------------------------

CRAFTS = {
    "lifeboat": (("lifeboat", "", "self_bailing=no"), ("Free-fall lifeboat", "", "self_bailing=no")),
    "liferaft-a": (("liferaft", "A", ""), ("davit-launched liferaft", "", "")),
    "liferaft-b": (("life raft", "b", ""), ("liferaft", "SOLAS B", "")),
    "rescue-boat": (("rescue boat", "", "construction=inflated"), ("rigid rescue boat", "", "")),
}
HEADCOUNTS = (1, 6, 9, 12, 13, 20, 21, 25, 36, 99, 150)


def lsa_code() -> Iterator[Row]:
    """LSA_REQUIRED against the hand copy of LSA Code 4.4.8, 4.1.5 and 5.1.2."""
    lines = read_table("lsa_code.csv")
    for subject, crafts in CRAFTS.items():
        items = dict.fromkeys(line["item"] for line in lines if line["subject"] == subject)
        for item in items:
            asked = [line for line in lines if line["subject"] == subject and line["item"] == item]
            for number, (craft, pack, option) in enumerate(crafts):
                here = [line for line in asked if _is_asked(line["asked_of"], craft, option)]
                for persons in HEADCOUNTS[number::2]:
                    source = "; ".join(dict.fromkeys(f"LSA Code {line['paragraph']}" for line in here)) or "not asked"
                    if item == "safety knife" and not here:
                        yield bad("LSA_REQUIRED", [item, craft, persons], UNKNOWN, "LSA Code 5.1.2.3.3: or a hatchet")
                        continue
                    yield good("LSA_REQUIRED", [item, craft, persons, pack, option], _quantity(here, persons), source)


def _is_asked(of: str, craft: str, option: str) -> bool:
    inflated, free_fall = "inflated" in craft + option, "Free-fall" in craft
    return {
        "all": True,
        "not free-fall boats": not free_fall,
        "not self-bailing boats": "self_bailing=no" in option,
        "rigid boats": not inflated,
        "inflated boats": inflated,
    }[of]


def _quantity(lines: list[dict[str, str]], persons: int) -> float:
    total = least = 0.0
    for line in lines:
        figure, asks = float(line["figure"]), line["asks"]
        if asks == "number":
            total += figure
        elif asks == "per person":
            total += figure * persons
        elif asks == "percent of persons":
            total += math.ceil(figure * persons / 100)
        elif asks == "at least":
            least = figure
        elif (more := re.fullmatch(r"more from (\d+) persons", asks)) and persons >= int(more[1]):
            total += figure
    return max(total, least)


CONDITION_WORDS = {
    "all": "",
    "not free-fall boats": "",  # the lists below are asked for a boat on falls
    "not self-bailing boats": " (where self-bailing: no)",
    "rigid boats": " (where construction: rigid or totally enclosed or partially enclosed)",
    "inflated boats": " (where construction: inflated or rigid-inflated)",
}


def checklists() -> Iterator[Row]:
    """LSA_ITEMS against the hand copy, in the words of the function."""
    lines = read_table("lsa_code.csv")
    for subject, craft in (("lifeboat", "lifeboat"), ("rescue-boat", "rescue boat")):
        table: list[list[str]] = []
        own = [line for line in lines if line["subject"] == subject]
        for line, after in zip(own, [*own[1:], None], strict=True):
            words = _words(line, after)
            if words:
                condition = CONDITION_WORDS[line["asked_of"]]
                table.append([line["item"], words + condition, f"LSA Code {line['paragraph']}"])
        yield good("LSA_ITEMS", [craft], table, "the hand copy, in the order of the Code")


def _words(line: dict[str, str], after: dict[str, str] | None) -> str:
    figure, unit, asks = float(line["figure"]), line["unit"], line["asks"]
    amount = f"{figure:,g}" + {"each": "", "48 h supply": " x 48 h supply"}.get(unit, f" {unit}")
    least = f", {float(after['figure']):g}{' m' if unit == 'm' else ''} at least" if after else ""
    return {
        "number": amount,
        "length": f"length {amount}",
        "per person": f"{amount} for each person",
        "percent of persons": f"{figure:g} % of the persons, rounded up{least}",
        "length per metre of height": f"length {figure:g} x the stowage height{least}",
    }.get(asks, "")


US_CRAFTS = {
    "intl_lifeboat": ("lifeboat and rescue boat", "", "rules=us; voyage=international; self_bailing=no"),
    "intl_rigid_raft_A": ("liferaft", "A", "rules=us; construction=rigid"),
    "intl_rescue_boat": ("rescue boat", "", "rules=us"),
    "short_intl_rigid_raft_B": ("liferaft", "B", "rules=us; construction=rigid"),
}


def federal_table() -> Iterator[Row]:
    """LSA_REQUIRED with rules=us against the federal table of survival-craft equipment as printed."""
    for cell in cells():
        craft, pack, option = US_CRAFTS.get(cell.column.heading, ("", "", ""))
        item = US_ITEMS[cell.number]
        if not craft or (not cell.text and craft != "rescue boat"):
            continue
        source = f"46 CFR 199.175 table, row {cell.number}"
        for persons in (6, 12, 13, 30):
            if cell.number == "33":  # note 8: only where the maker specifies it
                yield bad("LSA_REQUIRED", [item, craft, persons, pack, option], UNKNOWN, f"{source}, note 8")
            elif craft == "rescue boat":
                yield from _federal_rescue_boat(cell.number, item, cell.quantity(persons), persons, option, source)
            elif craft.startswith("lifeboat"):
                if cell.text and float(cell.quantity(persons)) >= _federal_second(cell.number, persons):
                    yield good("LSA_REQUIRED", [item, craft, persons, pack, option], cell.quantity(persons), source)
            else:
                yield good("LSA_REQUIRED", [item, craft, persons, pack, option], cell.quantity(persons), source)


def _federal_second(number: str, persons: int) -> float:
    """What the rescue-boat column asks of the boat that is both: the larger of the two stands."""
    for cell in cells():
        if cell.number == number and cell.column.heading == "intl_rescue_boat":
            return cell.quantity(persons)
    return 0.0


def _federal_rescue_boat(
    number: str, item: str, quantity: float, persons: int, option: str, source: str
) -> Iterator[Row]:
    for construction in ("rigid", "inflated"):
        asked = quantity
        if (number == "4" and construction == "inflated") or (number in ("23", "26", "34") and construction == "rigid"):
            asked = 0.0  # notes 3 and 7
        if item in ("hatchet",) or (number == "20p" and not quantity):
            continue  # may stand for the knife or the oars: no number of its own
        arguments = [item, "rescue boat", persons, "", f"{option}; construction={construction}"]
        yield good("LSA_REQUIRED", arguments, asked, f"{source}, notes 3 and 7")


def water_food_and_aids() -> Iterator[Row]:
    """Water, food, thermal protective aids: the published figures by plain arithmetic."""
    for persons in range(1, 151):
        source = "LSA Code 4.4.8.31: 10 %, 2 at least, rounded up (worked example)"
        yield good("LSA_TPA", [persons], max(2, -(-persons // 10)), source)
    for persons in (1, 6, 8, 16, 25, 36, 70, 120, 150):
        yield good("LSA_WATER_L", [persons, "lifeboat"], 3 * persons, "LSA Code 4.4.8.9")
        yield good("LSA_WATER_L", [persons, "liferaft", "A"], 1.5 * persons, "LSA Code 4.1.5.1.19")
        yield good("LSA_WATER_L", [persons, "liferaft", "B"], 0, "LSA Code 4.1.5.3")
        yield good("LSA_WATER_L", [persons, "liferaft", "", "rules=us"], 1.5 * persons, "46 CFR 199.175(b)(40)")
        yield good("LSA_WATER_L", [persons, "rescue boat"], 0, "LSA Code 5.1.2.2 asks none")
        yield good("LSA_FOOD_KJ", [persons, "free-fall lifeboat"], 10000 * persons, "LSA Code 4.4.8.12")
        yield good("LSA_FOOD_KJ", [persons, "liferaft"], 10000 * persons, "LSA Code 4.1.5.1.18")
        yield good("LSA_FOOD_KJ", [persons, "liferaft", "B"], 0, "LSA Code 4.1.5.3")


def lengths() -> Iterator[Row]:
    """Painters and other lines."""
    for tenths in range(5, 305, 5):
        height = tenths / 10
        lifeboat, raft = max(15.0, 2 * height), max(15.0, 10 + height)
        yield good("LSA_PAINTER_M", [height, "lifeboat"], lifeboat, "LSA Code 4.4.8.7")
        yield good("LSA_PAINTER_M", [height, "liferaft"], raft, "LSA Code 4.1.3.2")
    for height in (2, 7.5, 12, 25):
        us = "rules=us; construction=rigid"
        source = "46 CFR 199.175(b)(21)(ii)"
        yield good("LSA_LINE_M", ["painter", "liferaft", height, us], max(15, 20 + height), source)
        source = "46 CFR 199.175(b)(21)(i)(B)"
        yield good("LSA_LINE_M", ["painter", "rescue boat", height, "rules=us"], max(15, 2 * height), source)
        yield good("LSA_LINE_M", ["rescue quoit", "lifeboat", height], 30, "LSA Code 4.4.8.24")
        yield good("LSA_LINE_M", ["tow rope", "rescue boat", height], 50, "LSA Code 5.1.2.2.6")
        yield bad("LSA_PAINTER_M", [height, "rescue boat"], UNKNOWN, "LSA Code 5.1.2.2.5: no length")
        yield bad("LSA_LINE_M", ["painter", "liferaft", height, "rules=us"], UNKNOWN, "construction is not given")


# ---- the ship --------------------------------------------------------------------------------------------------

SHIP_TYPES = {"cargo": ("cargo", "bulk carrier", "Tanker"), "passenger": ("passenger", "ro-pax", "cruise ship")}


def lifebuoys() -> Iterator[Row]:
    """Lifebuoys by length: the federal figures, which are those of SOLAS."""
    for line in read_table("us_46cfr_lifebuoys.csv"):
        first, until = float(line["length_from_m"] or 0), float(line["length_until_m"] or first_after(line))
        for length in (first or 10.0, first + 0.5, (first + until) / 2, until - 0.1):
            for ship_type in SHIP_TYPES[line["ship_family"]]:
                source = f"SOLAS III/32.1.1, III/22.1.1; {line['section']}"
                yield good("LSA_LIFEBUOYS", [length, ship_type], float(line["lifebuoys"]), source)


def first_after(line: dict[str, str]) -> float:
    """An end for the open last band."""
    return float(line["length_from_m"]) + 150


def spare_charges() -> Iterator[Row]:
    """Spare charges by plain arithmetic."""
    for number in range(1, 141):
        asked = number if number <= 10 else 10 + (number - 10 + 1) // 2
        yield good("FFA_SPARE_CHARGES", [number], min(asked, 60), "SOLAS II-2/10.3.3")


def imo_numbers() -> Iterator[Row]:
    """Check digits worked out digit by digit."""
    chance = random.Random(9074729)
    for _ in range(150):
        first = str(chance.randint(500000, 999999))
        total = sum(int(digit) * (7 - place) for place, digit in enumerate(first))
        right = total % 10
        wrong = (right + chance.randint(1, 9)) % 10
        yield good("LSA_IMO_OK", [int(f"{first}{right}")], 1, "check digit: 7, 6, 5, 4, 3, 2 times the digits")
        yield good("LSA_IMO_OK", [f"IMO {first}{wrong}"], 0, "a wrong check digit")


# ---- days ------------------------------------------------------------------------------------------------------


def days() -> Iterator[Row]:
    """Days left, status and due dates over random days, by subtraction and dateutil."""
    chance = random.Random(20261125)
    for _ in range(150):
        on = date(2026, 11, 25) + timedelta(days=chance.randint(-2000, 2000))
        expiry = on + timedelta(days=chance.choice((-400, -31, -1, 0, 1, 29, 30, 31, 60, 61, 90, 700)))
        left = (expiry - on).days
        yield good("LSA_DAYS_LEFT", [serial(expiry), serial(on)], left, "subtraction of dates")
        for warn in (None, 0, 60):
            limit = 30 if warn is None else warn
            status = "expired" if left < 0 else "due" if left <= limit else "in date"
            arguments = [serial(expiry), serial(on)] + ([] if warn is None else [warn])
            yield good("LSA_STATUS", arguments, status, "the day marked is the last good day")
    for _ in range(120):
        done = date(2020, 1, 1) + timedelta(days=chance.randint(0, 4000))
        count = chance.randint(1, 60)
        for text, step in (
            (f"{count}M", relativedelta(months=count)),
            (f"{count} years", relativedelta(years=count)),
            (f"{count}w", relativedelta(weeks=count)),
            (f"{count}D", relativedelta(days=count)),
        ):
            yield good("LSA_NEXT_DUE", [serial(done), text], serial(done + step), "dateutil; months as EDATE counts")
    for month in (1, 3, 5, 8, 10, 12):
        for months in range(1, 14):
            done = date(2027, month, 31)
            due = done + relativedelta(months=months)
            yield good("LSA_NEXT_DUE", [serial(done), f"{months}M"], serial(due), "month ends, as EDATE counts")


# ---- places and rations ----------------------------------------------------------------------------------------


def coverage() -> Iterator[Row]:
    """Coverage with all craft and after the worst loss, over random ships."""
    chance = random.Random(31)
    for _ in range(120):
        persons = chance.randint(1, 60)
        number = chance.randint(1, 6)
        capacities = [chance.choice((6, 16, 20, 25, 36)) for _ in range(number)]
        sides = [chance.choice(("port", "starboard", "aft")) for _ in range(number)]
        moved = [chance.choice(("yes", "no")) for _ in range(number)]
        column = [[capacity] for capacity in capacities]
        source = "arithmetic"
        yield good("LSA_COVER_PCT", [persons, column], round(100 * sum(capacities) / persons, 9), source)
        worst = _worst(capacities, sides, moved)
        yield good(
            "LSA_COVER_WORST_PCT",
            [persons, column, [[side] for side in sides], [[easily] for easily in moved]],
            round(100 * worst / persons, 9),
            "every side and craft lost in turn",
        )


def _worst(capacities: list[int], sides: list[str], moved: list[str]) -> int:
    left = [sum(capacities) - lost for lost in capacities]
    for side in ("port", "starboard"):
        left.append(
            sum(
                capacity
                for capacity, lies, easily in zip(capacities, sides, moved, strict=True)
                if easily == "yes" or lies not in (side, "aft")
            )
        )
    return min(left)


def rations() -> Iterator[Row]:
    """How long the water lasts, and the plan, by plain arithmetic."""
    for persons in range(1, 61):
        source = "one dry day, then 0.5 L each (worked examples: 4 days, 7 days)"
        yield good("LSA_RATION_DAYS", [1.5 * persons, persons], 4, source)
        yield good("LSA_RATION_DAYS", [3 * persons, persons], 7, source)
    chance = random.Random(500)
    for _ in range(80):
        persons, litres = chance.randint(1, 40), chance.randint(1, 150)
        each, dry = chance.choice((0.25, 0.5, 1, 2)), chance.choice((0, 1, 2))
        lasts = round(dry + litres / (persons * each), 9)
        yield good("LSA_RATION_DAYS", [litres, persons, each, dry], lasts, "arithmetic")
    for people, tank, span, dry in ((6, 9, 5, 1), (6, 10, 5, 1), (25, 37.5, 4, 1), (8, 3, 4, 0), (3, 100, 2, 2)):
        plan: list[list[float]] = []
        water = float(tank)
        for day in range(1, span + 1):
            issued = 0.0 if day <= dry else min(water, 0.5 * people)
            water = round(water - issued, 9)
            plan.append([day, round(issued / people, 9), round(issued, 9), round(water, 9)])
        arguments = [tank, people, span] + ([] if dry == 1 else [None, dry])
        yield good("LSA_RATION_PLAN", arguments, plan, "arithmetic")


# ---- picked by hand --------------------------------------------------------------------------------------------


def picked() -> Iterator[Row]:
    """Cases picked by hand: worked examples, other names, boundaries."""
    yield good("LSA_REQUIRED", ["hand flare", "lifeboat", 36], 6, "LSA Code 4.4.8.14; the example of the manual")
    for name in ("Hand Flares", "red hand flare", " handflare ", "HAND-HELD FLARE"):
        yield good("LSA_REQUIRED", [name, "TELB", 36], 6, "other names of item and craft")
    for craft in ("lifeboat", "Davit lifeboat", "FREE-FALL LIFEBOAT", "FFLB", "partially enclosed lifeboat"):
        yield good("LSA_REQUIRED", ["TPA", craft, 21], 3, "LSA Code 4.4.8.31; other names of the craft")
    yield good("LSA_REQUIRED", ["oars", "free-fall lifeboat", 20], 0, "LSA Code 4.4.8.1: not in free-fall boats")
    yield good("LSA_REQUIRED", ["sponge", "lifeboat", 20], 0, "LSA Code 4.4.8 asks none")
    yield good("LSA_REQUIRED", ["boat-hook", "lifeboat and rescue boat", 20], 2, "LSA Code 5.1.1.1: the larger")
    yield good("LSA_REQUIRED", ["HRU", "liferaft", 25], 1, "LSA Code 4.1.6.3")
    yield good("LSA_REQUIRED", ["HRU", "liferaft", 25, "", "purpose=remote"], 0, "SOLAS III/31.1.4: may be manual")
    yield good("LSA_REQUIRED", ["knife", "lifeboat", 20, "", "rules=us; on=2022-12-14"], 1, "87 FR 68308")
    yield good("LSA_REQUIRED", ["knife", "lifeboat", 20, "", "rules=us; on=2022-12-13"], 0, "the day before it")
    yield good("LSA_REQUIRED", ["fishing kit", "lifeboat", 20, "", "Rules=US; Voyage=short international"], 0, "table")
    yield good("LSA_REQUIRED", ["repair kit", "inflatable liferaft", 20], 1, "LSA Code 4.2.9.1")
    yield bad("LSA_REQUIRED", ["repair kit", "liferaft", 20], UNKNOWN, "hangs on the construction")
    yield bad("LSA_REQUIRED", ["sponge", "rescue boat", 6], UNKNOWN, "hangs on the construction")
    yield bad("LSA_REQUIRED", ["painter", "liferaft", 25], UNKNOWN, "LSA Code 4.1.3.2 gives a length, no number")
    yield bad("LSA_REQUIRED", ["hatchet", "rescue boat", 6, "", "construction=rigid"], UNKNOWN, "knife or hatchet")
    yield bad("LSA_REQUIRED", ["hand flare", "lifeboat", 36, "", "on=1990-01-01"], UNKNOWN, "before the rules")
    yield good("LSA_SHORT", ["hand flare", "lifeboat", 36, 4], 2, "6 less 4")
    yield good("LSA_SHORT", ["hand flare", "lifeboat", 36, 9], 0, "never below 0")
    yield good("LSA_SHORT", ["fresh water", "lifeboat", 36, 100.5], 7.5, "108 L less 100.5 L")
    yield good("LSA_SHORT", ["fresh water", "liferaft", 25, 30, "A"], 7.5, "37.5 L: worked example")
    yield good("LSA_SOURCE", ["hand flare", "lifeboat"], "LSA Code 4.4.8.14", "LSA Code")
    yield good("LSA_SOURCE", ["hand flare", "liferaft", "B"], "LSA Code 4.1.5.1.11; 4.1.5.3", "LSA Code")
    yield good("LSA_SOURCE", ["painter", "liferaft"], "LSA Code 4.1.3.2", "LSA Code")
    yield bad("LSA_SOURCE", ["sponge", "lifeboat"], UNKNOWN, "not asked")
    yield good("LSA_UNIT", ["drinking water", "lifeboat"], "L", "LSA Code 4.4.8.9")
    yield good("LSA_UNIT", ["food ration", "liferaft"], "kJ", "LSA Code 4.1.5.1.18")
    yield good("LSA_CONDITION", ["hand flare", "lifeboat"], "", "nothing is open")
    yield good("LSA_CONDITION", ["sponge", "rescue boat"], "construction is not recorded", "LSA Code 5.1.2.4.2")
    status = "read in the rule's text or a copy of it"
    yield good("LSA_SOURCE_STATUS", ["compass", "lifeboat"], status, "confirmed row")
    yield good("LSA_WATER_L", [25, "liferaft"], 37.5, "worked example: 25-person A raft")
    yield good("LSA_FOOD_KJ", [25, "liferaft"], 250000, "worked example: 25-person A raft")
    yield good("LSA_PAINTER_M", [12, "lifeboat"], 24, "worked example: height 12 m")
    yield good("LSA_PAINTER_M", [12, "liferaft"], 22, "worked example: height 12 m")
    yield good("LSA_LINE_M", ["painter", "liferaft", 12, "rules=us; construction=rigid"], 32, "worked example: 12 m")
    for persons, aids in ((6, 2), (20, 2), (21, 3), (25, 3), (36, 4), (150, 15)):
        yield good("LSA_TPA", [persons], aids, "worked example")
    yield good("LSA_IMO_OK", [9074729], 1, "IMO 9074729: the published example of the scheme")
    yield good("LSA_IMO_OK", ["IMO 9074729"], 1, "the published example of the scheme")
    yield good("LSA_IMO_OK", ["imo no. 9074729"], 1, "the published example of the scheme")
    yield good("LSA_IMO_OK", [907472], 0, "six digits")
    yield good("LSA_IMO_OK", ["9O74729"], 0, "a letter in it")
    yield good("LSA_STATUS", ["31 Mar 2027", "2026-11-25"], "in date", "text read in one way")
    yield good("LSA_STATUS", ["11/2026", "2026-11-30"], "due", "a month is read as its last day: our choice")
    yield good("LSA_STATUS", ["11/2026", "2026-12-01"], "expired", "a month is read as its last day: our choice")
    yield good("LSA_DAYS_LEFT", ["31/12/2026", 46351], 36, "only one order makes a day")
    yield good("LSA_DAYS_LEFT", [46351.75, 46351.25], 0, "the time of day does not count")
    yield good("LSA_NEXT_DUE", [46053, "1M"], 46081, "EDATE: 31 January 2026 gives 28 February")
    yield good("LSA_NEXT_DUE", ["2024-02-29", "1Y"], serial(date(2025, 2, 28)), "EDATE over 12 months")
    yield good("LSA_NEXT_DUE", ["2028-01-31", "1 month"], serial(date(2028, 2, 29)), "EDATE in a leap year")
    yield good("FFA_SPARE_CHARGES", [10], 10, "SOLAS II-2/10.3.3")
    yield good("FFA_SPARE_CHARGES", [110], 60, "SOLAS II-2/10.3.3")
    yield good("FFA_SPARE_CHARGES", [5000], 60, "SOLAS II-2/10.3.3")
    yield good("LSA_COVER_PCT", [25, 20], 80, "a single capacity")
    yield good("LSA_COVER_PCT", [25, [[25, None], [25, None]]], 200, "blank cells are left out")
    two_boats = [[[25], [25]], [["port"], ["stbd"]]]
    yield good("LSA_COVER_WORST_PCT", [25, *two_boats], 100, "a lifeboat each side")
    yield good("LSA_COVER_WORST_PCT", [25, [25, 20], ["aft", "port"], "yes"], 80, "the boat over the stern is lost")
    yield good("LSA_RATION_DAYS", [9, 6], 4, "training texts: the A pack lasts 4 days")
    yield good("LSA_RATION_DAYS", [0, 6], 1, "no water: the dry day")


def blanks_and_errors() -> Iterator[Row]:
    """Blank in, blank out; every kind of bad argument."""
    calls: dict[str, list[Any]] = {
        "LSA_REQUIRED": ["hand flare", "lifeboat", 36],
        "LSA_SHORT": ["hand flare", "lifeboat", 36, 4],
        "LSA_SOURCE": ["hand flare", "lifeboat"],
        "LSA_SOURCE_STATUS": ["hand flare", "lifeboat"],
        "LSA_UNIT": ["hand flare", "lifeboat"],
        "LSA_CONDITION": ["hand flare", "lifeboat"],
        "LSA_ITEMS": ["lifeboat"],
        "LSA_WATER_L": [36, "lifeboat"],
        "LSA_FOOD_KJ": [36, "lifeboat"],
        "LSA_TPA": [36],
        "LSA_PAINTER_M": [12, "lifeboat"],
        "LSA_LINE_M": ["painter", "lifeboat", 12],
        "LSA_LIFEBUOYS": [120, "cargo"],
        "LSA_STATUS": [46387, 46351],
        "LSA_DAYS_LEFT": [46387, 46351],
        "LSA_NEXT_DUE": [46053, "1M"],
        "LSA_COVER_PCT": [25, 50],
        "LSA_COVER_WORST_PCT": [25, [[25], [25]], [["port"], ["starboard"]]],
        "LSA_RATION_DAYS": [9, 6],
        "LSA_RATION_PLAN": [9, 6, 3],
        "LSA_IMO_OK": [9074729],
        "FFA_SPARE_CHARGES": [11],
    }
    for function, arguments in calls.items():
        for number in range(len(arguments)):
            for empty in (None, "  "):
                yield good(function, _with(arguments, number, empty), "", "blank in, blank out")
            yield bad(function, _with(arguments, number, "#N/A"), UNKNOWN, "an error passes through")
            yield bad(function, _with(arguments, number, "#REF!"), VALUE, "an error passes through")
    for function, arguments, number in (
        ("LSA_REQUIRED", calls["LSA_REQUIRED"], 2),
        ("LSA_SHORT", calls["LSA_SHORT"], 2),
        ("LSA_WATER_L", calls["LSA_WATER_L"], 0),
        ("LSA_FOOD_KJ", calls["LSA_FOOD_KJ"], 0),
        ("LSA_TPA", calls["LSA_TPA"], 0),
        ("LSA_COVER_PCT", calls["LSA_COVER_PCT"], 0),
        ("LSA_RATION_DAYS", calls["LSA_RATION_DAYS"], 1),
        ("LSA_RATION_PLAN", calls["LSA_RATION_PLAN"], 2),
        ("FFA_SPARE_CHARGES", calls["FFA_SPARE_CHARGES"], 0),
    ):
        for wrong in (-1, 2.5, "many", "1,500"):
            yield bad(function, _with(arguments, number, wrong), VALUE, "no whole number from 0 on")
        yield bad(function, _with(arguments, number, 1e12), NUMBER, "no such number of persons or days")
        yield good(function, _with(arguments, number, 0), "", "0 reads as blank")
        yield good(function, _with(arguments, number, "12"), _of_twelve(function), "a number written as text")
    for function, number in (("LSA_SHORT", 3), ("LSA_PAINTER_M", 0), ("LSA_LIFEBUOYS", 0), ("LSA_RATION_DAYS", 0)):
        for wrong in (-0.5, "deep"):
            yield bad(function, _with(calls[function], number, wrong), VALUE, "no number from 0 on")
    for function, number in (("LSA_REQUIRED", 0), ("LSA_SHORT", 0), ("LSA_SOURCE", 0), ("LSA_UNIT", 0)):
        yield bad(function, _with(calls[function], number, "grand piano"), UNKNOWN, "an unknown item")
    for function, number in (
        ("LSA_REQUIRED", 1),
        ("LSA_SOURCE", 1),
        ("LSA_ITEMS", 0),
        ("LSA_WATER_L", 1),
        ("LSA_PAINTER_M", 1),
        ("LSA_LIFEBUOYS", 1),
    ):
        yield bad(function, _with(calls[function], number, "submarine"), UNKNOWN, "an unknown craft or ship")
    for pack in ("C", "AB", 7):
        yield bad("LSA_REQUIRED", ["hand flare", "liferaft", 25, pack], VALUE, "no pack")
    for option in ("on", "on=", "on=03/04/2026", "colour=red", "rules=uk", "construction=paper", "kind=lifeboat"):
        yield bad("LSA_REQUIRED", ["hand flare", "lifeboat", 36, "", option], VALUE, "an option that is none")
    for wrong in ("03/04/2026", "soon", "2026", 2026, "31 Feb 2026", "46351"):
        yield bad("LSA_DAYS_LEFT", [wrong, 46351], VALUE, "no day that can be read in one way only")
        yield bad("LSA_STATUS", [46351, wrong], VALUE, "no day that can be read in one way only")
        yield bad("LSA_NEXT_DUE", [wrong, "1M"], VALUE, "no day that can be read in one way only")
    yield bad("LSA_NEXT_DUE", ["11/2026", "1M"], VALUE, "a month has no day")
    for outside in (-5, 1, 60, 2958466, 1e8):
        yield bad("LSA_DAYS_LEFT", [outside, 46351], NUMBER, "outside the calendar")
        yield bad("LSA_NEXT_DUE", [outside, "1M"], NUMBER, "outside the calendar")
    for interval in (12, "12", "soon", "0M", "1.5Y", "M"):
        yield bad("LSA_NEXT_DUE", [46351, interval], VALUE, "no interval")
    yield bad("LSA_NEXT_DUE", [46351, "9999Y"], NUMBER, "outside the calendar")
    yield bad("LSA_NEXT_DUE", [2958465, "1D"], NUMBER, "outside the calendar")
    yield bad("LSA_STATUS", [46387, 46351, -1], VALUE, "no number of days")
    yield bad("LSA_COVER_PCT", [25, [[20], ["twenty"]]], VALUE, "a text among the capacities")
    yield bad("LSA_COVER_PCT", [25, [[20], ["#N/A"]]], UNKNOWN, "an error among the capacities")
    yield bad("LSA_COVER_WORST_PCT", [25, [[20], [20]], [["port"]]], VALUE, "ranges of different size")
    yield bad("LSA_COVER_WORST_PCT", [25, [[20], [20]], [["port"], [None]]], VALUE, "a craft without a side")
    yield bad("LSA_COVER_WORST_PCT", [25, [[20], [None]], [["port"], ["aft"]]], VALUE, "a side without a capacity")
    yield bad("LSA_COVER_WORST_PCT", [25, [[20]], [["top"]]], VALUE, "no side")
    yield bad("LSA_COVER_WORST_PCT", [25, [[20]], [["port"]], "perhaps"], VALUE, "neither yes nor no")
    yield bad("LSA_RATION_PLAN", [9, 6, 367], NUMBER, "more than a year")
    yield bad("LSA_RATION_PLAN", [9, 6, 3, 0.5, 0.5], VALUE, "a plan takes whole days")


def _with(arguments: list[Any], number: int, value: Any) -> list[Any]:
    changed = list(arguments)
    if isinstance(changed[number], list):
        value = [[value] for _ in changed[number]]
    changed[number] = value
    return changed


def _of_twelve(function: str) -> Any:
    plan = [[day, 0.0 if day == 1 or day > 4 else 0.5, 0.0 if day == 1 or day > 4 else 3.0] for day in range(1, 13)]
    left = [9.0, 6.0, 3.0, 0.0] + [0.0] * 8
    return {
        "LSA_REQUIRED": 6,
        "LSA_SHORT": 2,
        "LSA_WATER_L": 36,
        "LSA_FOOD_KJ": 120000,
        "LSA_TPA": 2,
        "LSA_COVER_PCT": round(5000 / 12, 9),
        "LSA_RATION_DAYS": 2.5,
        "LSA_RATION_PLAN": [[*row, water] for row, water in zip(plan, left, strict=True)],
        "FFA_SPARE_CHARGES": 11,
    }[function]


def ranges() -> Iterator[Row]:
    """Ranges spread: one value, one blank, one error of its own for each cell."""
    yield good("LSA_TPA", [[[6], [20], [21], [None]]], [[2], [2], [3], [""]], "worked examples in a column")
    yield good("LSA_TPA", [[[6, 20, 21, "x"]]], [[2, 2, 3, VALUE]], "worked examples in a row")
    yield good(
        "LSA_REQUIRED",
        [[["hand flare"], ["TPA"], ["piano"]], "lifeboat", 36],
        [[6], [4], [UNKNOWN]],
        "a list of items against one craft",
    )
    yield good(
        "LSA_REQUIRED",
        [[["hand flare"], ["smoke signal"]], "liferaft", 25, [["A", "B"]]],
        [[6, 3], [2, 1]],
        "items downwards, packs across",
    )
    yield good(
        "LSA_REQUIRED",
        [[["hand flare"], ["TPA"], ["bailer"]], "lifeboat", [[36], [21]]],
        [[6], [3], [UNKNOWN]],
        "the shorter range ends",
    )
    yield good("LSA_DAYS_LEFT", [[[46387], [None], [46351]], 46351], [[36], [""], [0]], "a blank date stays blank")
    yield good("LSA_IMO_OK", [[[9074729], ["x"], [None]]], [[1], [0], [""]], "a column of numbers")
    chance = random.Random(7)
    for _ in range(20):
        numbers = [chance.randint(1, 120) for _ in range(12)]
        column = [[number] for number in numbers]
        yield good("LSA_TPA", [column], [[max(2, -(-number // 10))] for number in numbers], "10 %, 2 at least")
        litres = [[3 * number] for number in numbers]
        yield good("LSA_WATER_L", [column, "lifeboat"], litres, "LSA Code 4.4.8.9")


def rows() -> Iterator[Row]:
    """Every case, each once."""
    seen: set[str] = set()
    for maker in (
        picked,
        lsa_code,
        checklists,
        federal_table,
        water_food_and_aids,
        lengths,
        lifebuoys,
        spare_charges,
        imo_numbers,
        days,
        coverage,
        rations,
        ranges,
        blanks_and_errors,
    ):
        for row in maker():
            key = json.dumps(row[:2])
            if key not in seen:
                seen.add(key)
                yield row


def text() -> str:
    """The whole of cases.csv."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for function, arguments, expected, error, source in rows():
        writer.writerow([function, json.dumps(arguments), "" if error else json.dumps(expected), error, source])
    return out.getvalue()


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
