"""Pellandre, sister of Pellavine, with lines of her own only where needed: a living workbook, just as it was made."""

from datetime import date

from example_books.living import LivingPlan
from example_books.plan import Line, crew_list
from example_books.ships import pellavine

SHIP: Line = {**pellavine.SHIP, "name": "Pellandre", "imo_number": "3467118"}


def _craft(line: Line) -> Line:
    """With full dates and the template's words, so that formulas can read them."""
    contents = line.get("earliest_content")
    written = {"earliest_content": date(2028, 4, 30)} if contents == "2028-04" else {}
    return {**line, **written} | ({"kind": "rescue boat"} if line["name"] == "Rescue boat" else {})


CRAFT = [_craft(line) for line in pellavine.CRAFT]

CREW = crew_list("""
1 | Master          | Fenella Ostrander | Raft S1 | person in charge  | Master         |  | 2026-09-30
2 | Chief officer   | Aurel Dimitrescu  | Raft P1 | person in charge  | Survival craft |  | 2026-07-14
3 | Second officer  | Kwabena Lissom    | Raft S1 | second in command | Survival craft |  | 2026-09-30
4 | Chief engineer  | Joost Abendroth   | Raft P1 | second in command | Survival craft |  | 2026-05-06
5 | Second engineer | Milagros Tandoc   | Raft S1 | member            | Survival craft |  | 2026-07-14
6 | Able seaman     | Perrin Halloway   | Raft P1 | member            |                |  | 2026-03-11
7 | Able seaman     | Ruel Catacutan    | Raft S1 | member            |                |  | 2026-03-11
8 | Able seaman     | Ansgar Bruhn      | Raft P1 | member            |                |  | 2026-07-14
9 | Cook            | Delphine Okonjo   | Raft P1 | member            |                |  | 2026-05-06
""")

ROOM = {
    "craft": 5, "crew": 12, "inventory": 60, "servicing": 6, "routine": 6, "fire": 6, "defects": 6, "follow_up": 6,
    "ports": 6, "certificates": 6, "record_of_equipment": 6, "exemptions": 6,
}  # fmt: skip

PLAN = LivingPlan(
    file="pellandre.xlsx",
    about="A living workbook, clean: Status, Required, Coverage and Due are calculated by the book itself.",
    ship=SHIP,
    craft=CRAFT,
    crew=CREW,
    inventory=pellavine.INVENTORY,
    servicing=pellavine.SERVICING,
    room=ROOM,
)
