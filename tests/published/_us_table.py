"""The US federal table of survival-craft equipment as printed, row by row.

Source: 46 CFR 199.175(b) and its table, with notes 1 to 11, as amended by 87 FR 68308 (14 November 2022); a work of the
US government. The figures stand in data/us_46cfr_199_175.csv: a note's number follows the item in brackets.
"""

import math
import re
from dataclasses import dataclass

from tests.published._crafts import (
    A_RAFT,
    B_RAFT,
    INFLATED_RESCUE_BOAT,
    LIFEBOAT_AND_RESCUE_BOAT,
    RIGID_RESCUE_BOAT,
    SHORT_LIFEBOAT_AND_RESCUE_BOAT,
    TableCraft,
)
from tests.published._tables import Line, read_table

TABLE = "us_46cfr_199_175.csv"

# 46 CFR 199.175(b)(22): a unit of provisions is 10,000 kJ.
PROVISIONS_KJ = 10_000

# The catalogue's name for each row of the table.
US_ITEMS = {
    "1": "buoyant bailer",
    "2": "manual bailing pump",
    "3": "boat-hook",
    "4": "bucket",
    "5": "tin-opener",
    "6": "compass",
    "7": "dipper",
    "8": "drinking vessel",
    "9": "portable fire extinguisher",
    "10": "first-aid outfit",
    "11": "fishing tackle",
    "12": "waterproof torch",
    "13": "hatchet",
    "14": "rescue quoit",
    "15": "immediate-action instructions",
    "16": "jack-knife",
    "17": "safety knife",
    "18": "boarding ladder",
    "19": "signalling mirror",
    "20": "buoyant oars",
    "20p": "buoyant paddle",
    "21": "painter",
    "22": "food ration",
    "23": "topping-up pump or bellows",
    "24": "radar reflector",
    "25": "rainwater collection device",
    "26": "repair outfit",
    "27": "sea-anchor",
    "28": "searchlight",
    "29": "seasickness kit",
    "30": "buoyant smoke signal",
    "31": "hand flare",
    "32": "rocket parachute flare",
    "33": "skates and fenders",
    "34": "sponge",
    "35": "survival manual",
    "36": "life-saving signals card",
    "37": "thermal protective aid",
    "38": "engine tools",
    "39": "buoyant towing line",
    "40": "fresh water",
    "41": "whistle",
}


@dataclass(frozen=True)
class Column:
    """A column of the table: its subject in our rules, and craft that between them meet every condition of a note."""

    heading: str
    subject: str
    crafts: tuple[TableCraft, ...]


# Note 10 asks a towline of the lifeboat that is also the rescue boat; notes 3 and 7 divide rescue boats.
COLUMNS = (
    Column("intl_lifeboat", "lifeboat", (LIFEBOAT_AND_RESCUE_BOAT,)),
    Column("intl_rigid_raft_A", "liferaft-a", (A_RAFT,)),
    Column("intl_rescue_boat", "rescue-boat", (RIGID_RESCUE_BOAT, INFLATED_RESCUE_BOAT)),
    Column("short_intl_lifeboat", "lifeboat", (SHORT_LIFEBOAT_AND_RESCUE_BOAT,)),
    Column("short_intl_rigid_raft_B", "liferaft-b", (B_RAFT,)),
    Column("short_intl_rescue_boat", "rescue-boat", (RIGID_RESCUE_BOAT, INFLATED_RESCUE_BOAT)),
)


@dataclass(frozen=True)
class Cell:
    """One cell of the table."""

    number: str
    item: str
    column: Column
    text: str

    @property
    def notes(self) -> set[str]:
        """The numbers of the notes beside the item."""
        return set(re.findall(r"\[(\d+)\]", self.item))

    def quantity(self, persons: int) -> float:
        """What the cell asks of a craft permitted to carry so many persons, in the catalogue's units."""
        if not self.text:
            return 0.0
        if self.text.endswith("%"):  # note 9: of the persons the craft is equipped for, never under 2
            return float(max(2, math.ceil(int(self.text[:-1]) * persons / 100)))
        amount = float(self.text)
        if "per person" in self.item:
            return amount * persons * (PROVISIONS_KJ if self.item.startswith("Provisions") else 1)
        if "1" in self.notes and "raft" in self.column.heading and persons >= 13:
            return 2 * amount  # note 1: a raft equipped for 13 or more carries two
        return amount


def rows() -> list[Line]:
    """The rows of the table."""
    return read_table(TABLE)


def cells() -> list[Cell]:
    """Every cell of the table, empty ones too."""
    return [Cell(row["item_no"], row["item"], column, row[column.heading]) for row in rows() for column in COLUMNS]
