"""Random small ships for the comparison of the workbook's formulas with the core.

Quantities lie around what the rules ask, dates around the day asked, and some cells are such as the formulas cannot
read: the case says for which craft, so that "see check" is expected there and nowhere else.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from workbook_tools import catalogue
from workbook_tools.columns.ports import OFFERS
from workbook_tools.core.quantity import required
from workbook_tools.rules import load_rule_set
from workbook_tools.rules.model import FACTS, Rule

CRAFT, LOTS, CREW, PORTS = 3, 60, 12, 6  # room of the generated books
ROOM = {
    "craft": CRAFT,
    "inventory": LOTS,
    "crew": CREW,
    "servicing": 5,
    "certificates": 5,
    "exemptions": 5,
    "follow_up": 5,
    "routine": 10,
    "ports": PORTS,
}
ON = date(2026, 11, 25)
EVERYWHERE = "*"

Line = dict[str, Any]


@dataclass
class Case:
    """Lines of each sheet, the day asked, and the craft (or everywhere) where something cannot be read."""

    ship: Line
    craft: list[Line]
    inventory: list[Line]
    crew: list[Line]
    papers: dict[str, list[Line]]  # ports, servicing, certificates, follow_up
    on: date
    unread: set[str] = field(default_factory=set)

    @property
    def rows(self) -> dict[str, list[Line]]:
        """The lines by sheet."""
        return {
            "ship": [self.ship],
            "craft": self.craft,
            "inventory": self.inventory,
            "crew": self.crew,
            **self.papers,
        }


def _maybe(chance: random.Random, value: Any, share: float = 0.75) -> Any:
    return value if chance.random() < share else None


def _ship(chance: random.Random, unread: set[str]) -> Line:
    ship: Line = {
        "name": "Orrin Vale",
        "rule_set": _maybe(chance, chance.choice(("solas", "solas", "us")), 0.7),
        "ship_type": _maybe(chance, chance.choice(FACTS["ship_type"]), 0.85),
        "voyage": _maybe(chance, chance.choice(("international", "international", "short international", "domestic"))),
        "gross_tonnage": _maybe(chance, chance.choice((300, 499, 500, 5200, 80_000))),
        "keel_laid": _maybe(chance, chance.choice((date(1990, 1, 1), date(1998, 7, 1), date(2012, 5, 3)))),
        "persons_on_board": _maybe(chance, chance.choice((5, 10, 12, 20, 25, 26, 51, 60)), 0.8),
        "deadline_counting": _maybe(chance, chance.choice(FACTS["deadline_counting"]), 0.4),
    }
    if ship["voyage"] == "domestic" and chance.random() < 0.7:
        ship["voyage"] = "international"
    if chance.random() < 0.02:
        ship["voyage"] = "round the buoys"
        unread.add(EVERYWHERE)
    return ship


_NAMES = ("Lifeboat 1", "Boat 2", "Raft P", "Raft-S 4", "No. 3 boat", "LB 7")


def _craft(chance: random.Random, name: str, unread: set[str]) -> Line:
    kind = chance.choice(tuple(catalogue.craft_kinds()))
    raft = "liferaft" in catalogue.craft_kinds()[kind].families
    line: Line = {
        "name": name,
        "kind": chance.choice((kind, kind, *catalogue.craft_kinds()[kind].other_names[:2])),
        "construction": _maybe(chance, chance.choice(FACTS["construction"])),
        "side": _maybe(chance, chance.choice(("port", "starboard", "aft"))),
        "purpose": _maybe(chance, chance.choice(FACTS["purpose"]), 0.4),
        "persons": _maybe(chance, chance.choice((5, 6, 8, 9, 10, 12, 16, 25, 26, 60, 150, 151)), 0.85),
        "pack": _maybe(chance, chance.choice(("A", "B", "SOLAS A pack"))) if raft else None,
        "stowage_height_m": _maybe(chance, chance.choice((4, 11, 14.5, 18, 22))),
        "painter_m": _maybe(chance, chance.choice((10, 14.9, 15, 25, 46))) if raft else None,
        "mass_kg": _maybe(chance, chance.choice((150, 185, 185.5))) if raft else None,
        **{
            fact: _maybe(chance, chance.choice(("yes", "no", "y")), 0.5)
            for fact in ("self_bailing", "sart_stowed", "transferable", "drop_tested_higher")
        },
    }
    if raft:
        line["certificate"] = _maybe(chance, "C-17")
        line["serviced"] = _maybe(chance, ON - timedelta(days=chance.choice((-3, 0, 30, 364, 365, 366, 380, 500))))
        line["earliest_content"] = _maybe(chance, ON + timedelta(days=chance.choice((-1, 0, 1, 200))))
    if chance.random() < 0.03:
        line["persons"] = "about thirty"
        unread.add(name)
    return line


def _rules(set_name: str) -> list[Rule]:
    return [
        rule
        for rule in load_rule_set(set_name).rules
        if rule.evidence in ("inventory", "length", "maker") and rule.item in catalogue.items()
    ]


_DAYS = (-400, -1, 0, 1, 10, 29, 30, 31, 59, 60, 61, 89, 90, 91, 400)


def _quantity(chance: random.Random, asked: float) -> float:
    share = chance.choice((0.4, 0.5, 0.99, 1, 1, 1, 1.5))
    return max(1, round(asked * share)) if asked > 1 else chance.choice((1, 1, 2))


_UNREADABLE: tuple[Line, ...] = (
    {"quantity": "a few"},
    {"expires": "soon"},
    {"item": "qwxz"},
    {"unit": "bucketful"},
)
_SMALL = {"L": ("mL", 500, 1000), "kJ": ("kJ", 10_000, 1), "m": ("m", 30, 1)}


def _lot(chance: random.Random, place: str, rule: Rule, persons: int, unread: set[str]) -> Line:
    item = catalogue.items()[rule.item]
    asked = required(rule, persons, 11) or 1
    counted_as = [entry for entry in catalogue.items().values() if rule.item in entry.counts_as]
    if counted_as and chance.random() < 0.4:
        item = chance.choice(counted_as)
    line: Line = {"place": place, "item": chance.choice((item.name, item.name, *item.other_names[:2]))}
    quantity = _quantity(chance, asked)
    if rule.evidence == "length":
        line |= {"quantity": chance.choice((1, 2, 3)), "content": _maybe(chance, chance.choice((10, 22, 28, 30, 50)))}
        line["content_unit"] = _maybe(chance, chance.choice(("m", "metres", "ft")), 0.9)
    elif rule.unit in ("L", "kJ"):
        style = chance.random()
        if style < 0.5:
            unit, content, factor = _SMALL[rule.unit]
            pieces = max(1, round(quantity * factor / content))
            line |= {"quantity": pieces, "unit": _maybe(chance, item.default_unit, 0.5), "content": content}
            line["content_unit"] = unit
        elif style < 0.8:
            line |= {"quantity": quantity, "unit": rule.unit}
        else:
            line |= {"quantity": quantity, "unit": "pack"}
    else:
        line |= {
            "quantity": quantity,
            "unit": _maybe(chance, chance.choice(("each", "pcs", "pack", "box", "sets")), 0.3),
        }
        if line["unit"] in ("pack", "box") and chance.random() < 0.5:
            line |= {"content": 2, "content_unit": "each"}
    if item.dated or chance.random() < 0.1:
        line["expires"] = _maybe(chance, ON + timedelta(days=chance.choice(_DAYS)), 0.92)
    line["condition"] = _maybe(
        chance, chance.choice(("in use", "spare", "ok", "damaged", "awaiting landing", "ashore")), 0.3
    )
    if chance.random() < 0.03:
        line["quantity"] = None
    if chance.random() < 0.004:
        line.update(
            chance.choice(({"quantity": "a few"}, {"expires": "soon"}, {"item": "qwxz"}, {"unit": "bucketful"}))
        )
        unread.add(place)
    return line


_BY_THE_PIECE = ("survival-craft SART", "jack-knife", "hatchet", "buoyant oars", "buoyant paddle")


def _substitutes(chance: random.Random, place: str) -> list[Line]:
    found: list[Line] = []
    if chance.random() < 0.3:
        found.append(
            {
                "place": place,
                "item": chance.choice(("desalting apparatus", "manual reverse-osmosis desalinator")),
                "quantity": chance.choice((1, 2, 6)),
                "content": _maybe(chance, chance.choice((10, 40))),
                "content_unit": "L",
                "expires": _maybe(chance, ON + timedelta(days=chance.choice(_DAYS)), 0.5),
            }
        )
    if chance.random() < 0.3:
        found.append(
            {
                "place": place,
                "item": chance.choice(
                    ("survival-craft SART", "jack-knife", "hatchet", "buoyant oars", "buoyant paddle")
                ),
                "quantity": chance.choice((1, 2)),
                "expires": _maybe(chance, ON + timedelta(days=chance.choice(_DAYS)), 0.6),
            }
        )
    return found


def _crew(chance: random.Random, on: date) -> list[Line]:
    return [
        {
            "number": number,
            "rank": "rating",
            "joined": _maybe(chance, on + timedelta(days=chance.choice((-90, 0, 1)))),
            "certificate_expires": _maybe(chance, on + timedelta(days=chance.choice(_DAYS)), 0.3),
            "medical_expires": _maybe(chance, on + timedelta(days=chance.choice(_DAYS)), 0.3),
        }
        for number in range(1, chance.choice((1, 1, 6, 13)))
    ]


def _ports(chance: random.Random, on: date) -> list[Line]:
    found: list[Line] = []
    for number in range(chance.choice((0, 1, 2, 3, 6))):
        arrival = on + timedelta(days=chance.choice((-20, -1, 0, 1, 5, 13, 14, 15, 30, 44, 60, 90, 200)))
        line: Line = {
            "port": _maybe(chance, f"Port {number + 1}", 0.95),
            "arrival": _maybe(chance, arrival, 0.95),
            "departure": _maybe(chance, arrival + timedelta(days=chance.choice((0, 1, 2, 16, -1)))),
            "lead_days": _maybe(chance, chance.choice((0, 1, 7, 30, 31))),
            **{offer: _maybe(chance, chance.choice(("x", "yes", "no")), 0.7) for offer in OFFERS},
        }
        if chance.random() < 0.05:
            line[chance.choice(("arrival", "departure"))] = "to be told"
        found.append(line)
    return found


def _papers(chance: random.Random, on: date) -> dict[str, list[Line]]:
    """Lines of other sheets that have a date; none of them changes what the rules ask of a craft."""

    def some(**line: Any) -> list[Line]:
        return [
            {key: _maybe(chance, value, 0.95) for key, value in line.items()}
            for _ in range(chance.choice((0, 0, 1, 3)))
        ]

    def day() -> date:
        return on + timedelta(days=chance.choice(_DAYS))

    services = tuple(catalogue.services())
    return {
        "ports": _ports(chance, on),
        "servicing": some(appliance="CO2 system", service=chance.choice(services), next_due=day()),
        "certificates": some(certificate="Safety equipment certificate", until=day()),
        "follow_up": some(finding="EQ01-0a1b", expected=day(), closed=chance.choice((None, None, day()))),
    }


def generate(seed: int) -> Case:
    """One case; the same seed gives the same."""
    chance = random.Random(seed)
    unread: set[str] = set()
    ship = _ship(chance, unread)
    names = chance.sample(_NAMES, chance.choice((1, 2, 2, 3)))
    craft = [_craft(chance, name, unread) for name in names]
    rules = _rules(ship["rule_set"] or "solas")
    lots: list[Line] = []
    for line in craft:
        persons = line["persons"] if isinstance(line["persons"], int) else 10
        wanted = [rule for rule in rules if rule.subject in ("lifeboat", "rescue-boat", "liferaft")]
        for rule in chance.sample(wanted, chance.choice((0, 3, 12, 18))):
            for _ in range(chance.choice((1, 1, 1, 2, 3))):
                place = chance.choice((line["name"], line["name"], line["name"].upper()))
                lots.append(_lot(chance, place, rule, persons, unread))
        lots += _substitutes(chance, line["name"])
    lots += [{"place": "Bridge", "item": "hand flare", "quantity": 2, "expires": ON}][: chance.choice((0, 1))]
    if chance.random() < 0.02:
        lots.append({"place": "Somewhere else", "item": "hand flare", "quantity": 2, "expires": ON})
        unread.add(EVERYWHERE)
    chance.shuffle(lots)
    on = ON + timedelta(days=chance.choice((0, 0, 0, -30, 45)))
    unread |= {lot["place"] for lot in lots if isinstance(lot["quantity"], int | float) and lot["quantity"] > 1_000_000}
    unclear = {name.replace("-", " ").casefold() for name in unread}
    return Case(ship, craft, lots[:LOTS], _crew(chance, on), _papers(chance, on), on, unclear)
