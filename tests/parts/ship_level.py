"""The clean book's lifebuoys, lifejackets, suits, flares and radios: a cargo ship of 98 m with twelve persons.

SOLAS asks of it: 8 lifebuoys, 4 of them with a light, 2 of those with smoke, a line on each side, one near the stern;
a lifejacket with a light and a suit for each of 12 persons and 3 at watch stations; 12 bridge rockets; 4 projectiles
and 4 lines; 3 two-way VHF with their batteries; a SART on each side; a recovery plan.
"""

from __future__ import annotations

from tests.workbooks import FAR, Line, Workbook

SIDES = ("port", "starboard")
SIZES = ("M", "M", "M", "M", "L", "L", "L", "L", "L", "L", "XL", "XL")

# Suits by size: one or more beyond the wearers of each, and some that fit anyone.
SUITS = {"M": 6, "L": 9, "XL": 4, "universal": 7}


def _both_sides(place: str, item: str, **values: object) -> list[Line]:
    return [
        {"place": f"{place}, {side}", "item": item, "quantity": 1, "side": side, **values}  # one on each side
        for side in SIDES
    ]


def _lots() -> list[Line]:
    suits: list[Line] = [
        {"place": "Cabins", "item": "immersion suit", "quantity": count, "wearer_size": size}
        for size, count in SUITS.items()
    ]
    return [
        *_both_sides("Bridge wing", "lifebuoy with light and smoke", content=4, content_unit="kg"),
        *_both_sides("Main deck", "lifebuoy with light"),
        *_both_sides("Main deck", "lifebuoy with line", content=30, content_unit="m"),
        {"place": "Poop deck", "item": "lifebuoy", "quantity": 2, "side": "aft"},
        {"place": "Bridge wing", "item": "lifebuoy light and smoke", "quantity": 2, "expires": FAR},
        {"place": "Main deck", "item": "lifebuoy light", "quantity": 2, "expires": FAR},
        {"place": "Cabins", "item": "lifejacket", "quantity": 23, "wearer_size": "universal"},
        {"place": "Bridge", "item": "lifejacket", "quantity": 3, "wearer_size": "universal"},
        {"place": "Cabins", "item": "lifejacket light", "quantity": 26, "expires": FAR},
        {"place": "Cabins", "item": "lifejacket accessory for large persons", "quantity": 2},
        *suits,
        {"place": "Bridge", "item": "rocket parachute flare", "quantity": 12, "expires": FAR},
        {"place": "Bridge", "item": "line-throwing rocket", "quantity": 4, "expires": FAR},
        {"place": "Bridge", "item": "line-throwing line", "quantity": 4},
        {"place": "Bridge", "item": "survival-craft two-way VHF", "quantity": 3},
        {"place": "Bridge", "item": "VHF primary battery", "quantity": 3, "expires": FAR},
        *_both_sides("Bridge", "survival-craft SART"),
        {"place": "Bridge", "item": "recovery plan", "quantity": 1},
        {"place": "Monkey island", "item": "EPIRB", "quantity": 1},
        {"place": "Crew mess", "item": "training manual", "quantity": 2},
    ]


def fill(book: Workbook) -> None:
    """Add the ship's stock, the persons at watch stations and the sizes of the crew."""
    book.ship["watch_stations"] = 3
    for person, size in zip(book.rows["crew"], SIZES, strict=False):
        person.setdefault("size", size)
    book.rows["inventory"].extend(_lots())
