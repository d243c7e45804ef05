"""What lies in a boat, listed by hand as an officer finds it there. No figure is taken from the rules."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from example_books.plan import Line, lot


def lifeboat_stores(
    place: str,
    persons: int,
    *,
    painter_m: float,
    aids: int,
    flares: date,
    rations: date,
    medicines: date,
    without: Collection[str] = (),
) -> list[Line]:
    """The stores of a lifeboat launched by falls.

    persons: how many the boat is for: three litres, one pack of food, one supply of tablets and one bag for each.
    painter_m: length of each painter. aids: thermal protective aids. flares, rations, medicines: their dates.
    without: items that are not there, or that the ship's own list states otherwise.
    """
    stores = [
        lot(place, "buoyant oars", 1, unit="set", remarks="six oars with tethered crutches"),
        lot(place, "boat-hook", 2),
        lot(place, "buoyant bailer", 1),
        lot(place, "bucket", 2),
        lot(place, "survival manual", 1),
        lot(place, "compass", 1, remarks="fixed at the steering position, lit"),
        lot(place, "sea-anchor", 1, content=30, content_unit="m", remarks="length of the hawser"),
        lot(place, "painter", 2, content=painter_m, content_unit="m", remarks="one on the release, one at the bow"),
        lot(place, "hatchet", 2, remarks="one at each end"),
        lot(
            place, "fresh water", persons * 6, unit="sachet", content=500, content_unit="mL", batch="W-311",
            made=date(2024, 2, 10), expires=rations,
        ),
        lot(place, "dipper", 1),
        lot(place, "drinking vessel", 1),
        lot(
            place, "food ration", persons, unit="pack", content=10000, content_unit="kJ", batch="F-087",
            made=date(2024, 2, 20), expires=rations,
        ),
        lot(place, "rocket parachute flare", 4, batch="RP-4410", made=date(2025, 5, 1), expires=flares),
        lot(place, "hand flare", 6, batch="HF-2286", made=date(2025, 5, 1), expires=flares),
        lot(place, "buoyant smoke signal", 2, batch="BS-0913", made=date(2025, 5, 1), expires=flares),
        lot(place, "waterproof torch", 1),
        lot(place, "torch battery set", 1),
        lot(place, "torch bulb", 1),
        lot(place, "signalling mirror", 1),
        lot(place, "life-saving signals card", 1),
        lot(place, "whistle", 1),
        lot(place, "first-aid outfit", 1, batch="FA-52", expires=medicines),
        lot(place, "anti-seasickness medicine", persons, unit="48 h supply", batch="SM-118", expires=medicines),
        lot(place, "seasickness bag", persons),
        lot(place, "jack-knife", 1),
        lot(place, "tin-opener", 3),
        lot(place, "rescue quoit", 2, content=30, content_unit="m"),
        lot(place, "manual bailing pump", 1),
        lot(place, "fishing tackle", 1, unit="set"),
        lot(place, "engine tools", 1, unit="set"),
        lot(place, "portable fire extinguisher", 1, remarks="dry powder, 2 kg; serviced ashore 2026-08-14"),
        lot(place, "searchlight", 1),
        lot(place, "radar reflector", 1),
        lot(place, "thermal protective aid", aids),
    ]  # fmt: skip
    return [line for line in stores if line["item"] not in without]


def _rescue_boat(place: str, medicines: date) -> list[Line]:
    """What every rescue boat has, rigid or inflated."""
    return [
        lot(place, "buoyant paddle", 4, remarks="the maker's set is four"),
        lot(place, "buoyant bailer", 1),
        lot(place, "compass", 1, remarks="binnacle, lit"),
        lot(place, "sea-anchor", 1, content=12, content_unit="m", remarks="tripping line fitted"),
        lot(place, "painter", 1, content=30, content_unit="m"),
        lot(place, "buoyant towing line", 1, content=50, content_unit="m"),
        lot(place, "waterproof torch", 1),
        lot(place, "torch battery set", 1),
        lot(place, "torch bulb", 1),
        lot(place, "whistle", 1),
        lot(place, "first-aid outfit", 1, batch="FA-52", expires=medicines),
        lot(place, "rescue quoit", 2, content=30, content_unit="m"),
        lot(place, "searchlight", 1),
        lot(place, "radar reflector", 1),
        lot(place, "thermal protective aid", 2),
        lot(place, "portable fire extinguisher", 1),
    ]


def rigid_rescue_boat_stores(place: str, *, medicines: date) -> list[Line]:
    """The stores of a rigid rescue boat."""
    return [
        *_rescue_boat(place, medicines),
        lot(place, "boat-hook", 1),
        lot(place, "bucket", 1),
        lot(place, "hatchet", 1),
    ]


def inflated_rescue_boat_stores(place: str, *, medicines: date) -> list[Line]:
    """The stores of an inflated rescue boat, or of a rigid one with inflated sides."""
    return [
        *_rescue_boat(place, medicines),
        lot(place, "safety knife", 1),
        lot(place, "sponge", 2),
        lot(place, "hand pump or bellows", 1),
        lot(place, "repair outfit", 1, unit="set", remarks="in its case"),
        lot(place, "safety boat-hook", 1),
    ]


def hydrostatic_release(raft: str, expires: date, serial: str) -> Line:
    """The hydrostatic release unit of a raft that is thrown over or floats free."""
    return lot(raft, "hydrostatic release unit", 1, batch=serial, expires=expires)
