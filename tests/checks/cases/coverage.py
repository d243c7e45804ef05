"""Places for everyone: on board and certified, by side, when a craft is lost, and the kinds of craft (CV codes)."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Silent, Trip, at, change, quiet
from tests.workbooks import ON, Line, Workbook

RAFTS = ("Raft P", "Raft S")
BOATS = ("Lifeboat 1", "Lifeboat 2")


def craft(book: Workbook, name: str) -> Line:
    return book.find("craft", name=name)


def then(*edits: Callable[[Workbook], Any]) -> Trip:
    """Several edits; the last one says where the finding points."""

    def run(book: Workbook) -> tuple[str, str]:
        found = ("", "")
        for edit in edits:
            found = edit(book) or found
        return found

    return run


def point(key: str, column: str, name: str | None = None) -> Trip:
    """Where the finding must point: the Ship sheet, a craft, or the heading of the Craft sheet."""

    def run(book: Workbook) -> tuple[str, str]:
        if key == "ship":
            book.ship.setdefault(column, "")
            return at(book, key, book.ship, column)
        return at(book, key, craft(book, name) if name else None, column)

    return run


def ship(**values: Any) -> Silent:
    return lambda book: book.ship.update(values)


def every(names: tuple[str, ...], **values: Any) -> Silent:
    def run(book: Workbook) -> None:
        for name in names:
            craft(book, name).update(values)

    return run


def bare(book: Workbook) -> None:
    """Leave Ship and Craft sheets only: what a ship of another kind must carry besides is for others to look at."""
    for key in book.rows:
        if key != "craft":
            book.rows[key] = []


def remove(*names: str) -> Silent:
    """Take craft off the Craft sheet of a bare book."""

    def run(book: Workbook) -> None:
        bare(book)
        book.rows["craft"] = [line for line in book.rows["craft"] if line["name"] not in names]

    return run


def another_raft(name: str, **values: Any) -> Silent:
    """A further raft like Raft P in a bare book."""

    def run(book: Workbook) -> None:
        book.add("craft", **{**craft(book, "Raft P"), "name": name, "certificate": f"S-{name}", **values})

    return run


def short_ship(persons: int, transferable: str) -> Silent:
    """A cargo ship of 62 m with a raft for so many persons on each side and a rescue boat (III/31.1.3)."""
    return then(
        ship(length_m=62),
        remove("Lifeboat 1"),
        lambda book: craft(book, "Lifeboat 2").update(kind="rescue boat", construction="rigid", persons=6),
        every(RAFTS, persons=persons, transferable=transferable),
    )


def _a_rescue_boat(book: Workbook) -> None:
    craft(book, "Lifeboat 2").update(kind="rescue boat", construction="rigid", persons=6)


def free_fall(book: Workbook) -> None:
    """Lifeboat 1 goes over the stern; the rafts of both sides take everyone (III/31.1.2)."""
    craft(book, "Lifeboat 1").update(kind="free-fall lifeboat", side="aft")


def launched(name: str) -> Silent:
    return lambda book: craft(book, name).update(kind="davit-launched liferaft", transferable="no")


def passenger(**values: Any) -> Silent:
    """A passenger ship of 5,200 gross tonnage, 12 persons on board, with rescue boats on both sides."""
    return then(
        bare,
        ship(ship_type="passenger ship", passengers=0, passengers_certified=8, **values),
        lambda book: craft(book, "Lifeboat 1").update(kind="lifeboat and rescue boat"),
    )


def small_passenger(persons: int, transferable: str) -> Silent:
    """A passenger ship of 300 gross tonnage with rafts for so many persons on each side (III/21.1.4)."""
    return then(
        ship(ship_type="passenger ship", passengers=0, passengers_certified=8, gross_tonnage=300),
        short_ship(persons, transferable),
    )


def _raft_without_lines(book: Workbook) -> None:
    book.add("craft", **{**craft(book, "Raft P"), "name": "Raft F", "purpose": "remote"})


def _joins_tomorrow(book: Workbook) -> None:
    """The lines count where no figure is given; twenty are on board and one is not yet."""
    book.ship["persons_on_board"] = ""
    for number in range(8):
        book.add("crew", number=str(50 + number), rank="rating", craft="Lifeboat 1", duty="member", joined=ON)
    book.add("crew", number="60", rank="rating", duty="member", joined=date(2026, 11, 26))


def _assign(count: int, **values: Any) -> Silent:
    def run(book: Workbook) -> None:
        for number in range(count):
            line = {"number": str(70 + number), "rank": "rating", "craft": "Lifeboat 1", "duty": "member", **values}
            book.add("crew", **line)

    return run


def many_rafts(persons: int) -> Silent:
    """A passenger ship with two lifeboats for 113 and 25 rafts for 6 persons each.

    Of 299 persons the boats leave 299 - 226 = 73: 13 rafts, one more than 6 for each of two boats. The other 12 rafts
    are the additional ones: 150 - 73 = 77 places, 25 % of 299 is 74.75.
    """
    return then(
        passenger(voyage="international", persons_on_board=persons, persons_certified=persons),
        every(BOATS, persons=113),
        every(RAFTS, persons=6),
        *(another_raft(f"Raft {number}") for number in range(23)),
    )


def rafts_of_seven(book: Workbook) -> None:
    """Twenty on board; three more rafts to port, four more to starboard."""
    book.ship["persons_on_board"] = 20
    for number in range(7):
        another_raft(f"Raft {number}", side="port" if number < 3 else "starboard")(book)


SHORT_BOAT = change("craft", {"name": "Lifeboat 1"}, persons=11)

CASES: Cases = {
    "CV01": (
        [
            # a lifeboat for 20 on each side, 21 on board
            then(ship(persons_on_board=21, persons_certified=21), point("craft", "persons", "Lifeboat 1")),
            then(SHORT_BOAT, point("craft", "persons", "Lifeboat 1")),
            # rafts that can be moved: together 12 places for 13
            then(
                bare,
                every(RAFTS, persons=6),
                ship(persons_on_board=13),
                point("craft", "persons", "Raft P"),
            ),
            # rafts that cannot: 11 places to starboard
            then(
                every(RAFTS, transferable="no"),
                lambda book: craft(book, "Raft S").update(persons=11),
                point("craft", "persons", "Raft S"),
            ),
            # too heavy to be moved: 6 places to each side
            then(bare, every(RAFTS, persons=6, mass_kg=186), point("craft", "persons", "Raft P")),
            # no lifeboat, or no liferaft, among craft that are all clear; none on one side
            then(remove("Lifeboat 1"), _a_rescue_boat, point("craft", "kind")),
            then(remove("Raft P", "Raft S"), point("craft", "kind")),
            then(bare, change("craft", {"name": "Lifeboat 1"}, side="starboard"), point("craft", "side", "Lifeboat 1")),
            then(
                passenger(voyage="international", gross_tonnage=5200),
                every(("Lifeboat 1", "Lifeboat 2"), kind="rescue boat", construction="rigid"),
                point("craft", "kind"),
            ),
            # free-fall boat for 11, rafts launched to starboard
            then(bare, free_fall, launched("Raft S"), SHORT_BOAT, point("craft", "persons", "Lifeboat 1")),
            # below 85 m: 150 % of 20 is 30; four rafts for 7 to port are 28, without one of them still 21
            then(short_ship(7, "no"), rafts_of_seven, point("craft", "persons", "Raft P")),
            # passenger ship: 37.5 % of 12 is 4.5, a boat for 4 is below the floor, whatever the rafts
            then(
                passenger(voyage="international"),
                every(BOATS, persons=4),
                every(RAFTS, kind="davit-launched liferaft"),
                point("craft", "persons", "Lifeboat 1"),
            ),
            # additional rafts: 25 % of 50 is 12.5
            then(
                passenger(voyage="international"),
                every(RAFTS, persons=6),
                ship(persons_on_board=50, persons_certified=50),
                every(BOATS, persons=25),
                point("craft", "persons", "Raft P"),
            ),
            # small passenger ship: the same arithmetic
            then(small_passenger(7, "no"), rafts_of_seven, point("craft", "persons", "Raft P")),
        ],
        [
            quiet(change("ship", {}, persons_on_board=20)),
            _raft_without_lines,
            quiet(then(free_fall, launched("Raft S"))),
            quiet(change("craft", {"name": "Lifeboat 1"}, persons=12)),
            quiet(change("craft", {"name": "Lifeboat 1"}, persons="")),
            quiet(change("craft", {"name": "Lifeboat 1"}, side="")),
            quiet(then(every(RAFTS, persons=6, transferable="yes"))),
            quiet(then(every(RAFTS, persons=6, transferable=""))),
            # nothing is on the Craft sheet, or a craft of which nobody knows what it is
            remove("Lifeboat 1", "Lifeboat 2", "Raft P", "Raft S"),
            then(remove("Lifeboat 1"), change("craft", {"name": "Lifeboat 2"}, kind="some boat")),
            # moved side to side, and nobody knows whether they are light enough
            quiet(then(every(RAFTS, persons=6, transferable="yes", mass_kg=""))),
            quiet(then(every(RAFTS, persons=6, transferable="yes", mass_kg=240), ship(rule_set="us"))),
            short_ship(12, "yes"),
            # the length is not recorded: she may be one that needs no lifeboats
            then(short_ship(18, "no"), ship(length_m="")),
            # 37.5 % in boats, the rest of the 50 % in launched rafts: 5 and 1 of 6 to each side
            then(
                passenger(voyage="international"),
                every(BOATS, persons=5),
                every(RAFTS, kind="davit-launched liferaft", persons=5, transferable="no"),
            ),
            # the same, but nobody knows what serves the rafts
            then(passenger(voyage="international"), every(BOATS, persons=5), every(RAFTS, persons=5)),
            # short international: 30 % of 12 is 3.6
            then(passenger(voyage="short international"), every(BOATS, persons=3)),
            small_passenger(18, "no"),
            small_passenger(12, "yes"),
        ],
    ),
    "CV02": (
        [
            then(change("craft", {"name": "Lifeboat 2"}, kind="lifeboat"), point("craft", "kind")),
            # a passenger ship of 500 gross tonnage needs one on each side
            then(
                passenger(gross_tonnage=500),
                every(("Lifeboat 1",), kind="lifeboat"),
                point("craft", "kind"),
            ),
        ],
        [
            quiet(change("craft", {"name": "Lifeboat 2"}, kind="Lifeboat / rescue boat")),
            quiet(then(passenger(gross_tonnage=499), every(("Lifeboat 1",), kind="lifeboat"))),
            quiet(then(passenger(), every(("Lifeboat 1",), side=""))),
            quiet(change("craft", {"name": "Lifeboat 2"}, kind="some boat")),
        ],
    ),
    "CV03": (
        [
            then(ship(persons_on_board=13, persons_certified=12), point("ship", "persons_on_board")),
            then(ship(persons_certified=11), point("ship", "persons_on_board")),
            then(passenger(), ship(passengers=9), point("ship", "passengers")),
        ],
        [
            quiet(change("ship", {}, persons_on_board=20)),
            quiet(change("ship", {}, persons_certified="")),
            quiet(then(passenger(), ship(passengers=8))),
            _joins_tomorrow,
        ],
    ),
    "CV04": (
        [
            then(short_ship(18, "no"), point("craft", "persons", "Raft P")),
            # two rafts to port; the one to starboard is alone
            then(
                short_ship(18, "no"),
                another_raft("Raft 3"),
                point("craft", "persons", "Raft S"),
            ),
            then(small_passenger(18, "no"), point("craft", "persons", "Raft P")),
            # 12 + 6 places to port are 150 % of 12, and without the larger raft six
            then(
                short_ship(12, "no"),
                another_raft("Raft 3", persons=6),
                another_raft("Raft 4", side="starboard"),
                point("craft", "persons", "Raft P"),
            ),
        ],
        [
            short_ship(12, "yes"),
            short_ship(18, ""),
            then(short_ship(18, "no"), another_raft("Raft 3"), another_raft("Raft 4", side="starboard")),
            small_passenger(12, "yes"),
            every(RAFTS, transferable="no"),
        ],
    ),
    "CV05": (
        [
            then(_assign(1), point("ship", "persons_on_board")),
            then(passenger(), ship(passengers=13, passengers_certified=13), point("ship", "persons_on_board")),
        ],
        [
            _assign(3, craft=""),
            _assign(1, joined=date(2026, 11, 26)),
            quiet(change("ship", {}, persons_on_board=15)),
            quiet(then(change("ship", {}, persons_on_board=""), _assign(3))),
        ],
    ),
    "CV06": (
        [
            then(ship(ship_type="bulk carrier"), point("craft", "kind", "Lifeboat 1")),
            then(
                ship(ship_type="bulk carrier", keel_laid=date(2006, 7, 1)),
                point("craft", "kind", "Lifeboat 1"),
            ),
        ],
        [
            ship(ship_type="bulk carrier", keel_laid=date(2006, 6, 30)),
            ship(ship_type="bulk carrier", length_m=84),
            ship(ship_type="bulk carrier", keel_laid=""),
            then(ship(ship_type="bulk carrier"), remove(*BOATS)),
            then(ship(ship_type="bulk carrier"), free_fall, launched("Raft S")),
            ship(ship_type="ore"),
        ],
    ),
    "CV07": (
        [
            then(free_fall, point("craft", "kind", "Raft P")),
            # one launched raft for 6 to port; the 12 are taken by rafts thrown over
            then(
                bare,
                free_fall,
                launched("Raft P"),
                every(("Raft P",), persons=6),
                another_raft("Raft P2", kind="liferaft", transferable="no", persons=20),
                point("craft", "persons", "Raft P"),
            ),
        ],
        [
            then(bare, free_fall, launched("Raft P"), every(("Raft P",), persons=12)),
            then(bare, free_fall, launched("Raft P"), every(("Raft P",), persons="")),
            then(
                bare,
                free_fall,
                launched("Raft P"),
                every(("Raft P",), persons=6),
                launched("Raft S"),
                every(("Raft S",), side=""),
            ),
            then(free_fall, launched("Raft S")),
            then(free_fall, change("craft", {"name": "Raft P"}, kind="some raft")),
            then(free_fall, ship(rule_set="us")),
            every(RAFTS, transferable="no"),
        ],
    ),
    "CV08": (
        [then(bare, ship(length_m=180, far_stem_or_stern="yes"), point("ship", "far_stem_or_stern"))],
        [
            ship(length_m=180),
            ship(length_m=180, far_stem_or_stern="no"),
            ship(length_m=98, far_stem_or_stern="yes"),
            then(ship(length_m=180, far_stem_or_stern="yes"), _raft_without_lines),
            then(ship(length_m=180, far_stem_or_stern="yes"), every(("Raft P",), purpose="spare")),
        ],
    ),
    "CV09": (
        [
            then(
                bare, every(BOATS, fall_preventers="yes"), change("craft", {"name": "Lifeboat 1"}, hooks_compliant="no")
            ),
            change("craft", {"name": "Lifeboat 1"}, construction="partially enclosed"),
            then(
                bare,
                ship(ship_type="chemical tanker", toxic_cargo="yes", low_flash_cargo="no"),
                every(BOATS, air_support="yes"),
                change("craft", {"name": "Lifeboat 1"}, air_support="no"),
            ),
            then(
                bare,
                ship(ship_type="oil tanker", low_flash_cargo="yes"),
                every(BOATS, fire_protected="yes"),
                change("craft", {"name": "Lifeboat 2"}, fire_protected="no"),
            ),
        ],
        [
            then(passenger(), every(BOATS, construction="partially enclosed")),
            then(ship(ship_type="gas carrier", toxic_cargo="no"), every(BOATS, air_support="no")),
            then(ship(ship_type="gas carrier"), every(BOATS, air_support="no")),
            then(ship(ship_type="oil tanker", toxic_cargo="yes"), every(BOATS, air_support="no")),
            then(ship(ship_type="oil tanker", low_flash_cargo="yes")),
            every(BOATS, construction="rigid"),
        ],
    ),
    "CV10": (
        [then(many_rafts(299), point("craft", "kind", "Raft P"))],
        [
            many_rafts(298),
            then(many_rafts(299), ship(voyage="short international")),
            # one raft that takes more: 12 suffice
            then(many_rafts(299), every(("Raft P",), persons=7)),
            then(many_rafts(299), every(("Lifeboat 1",), persons="")),
        ],
    ),
    "CV11": (
        [
            change("craft", {"name": "Lifeboat 1"}, person_mass_kg=75),
            change("craft", {"name": "Raft P"}, person_mass_kg=75),
            then(
                ship(keel_laid=date(2010, 7, 1)),
                change("craft", {"name": "Lifeboat 1"}, person_mass_kg=75),
            ),
            then(
                every(("Raft P",), made=date(2012, 1, 1)),
                change("craft", {"name": "Raft P"}, person_mass_kg=75),
            ),
        ],
        [
            then(ship(keel_laid=date(2010, 6, 30)), every(BOATS, person_mass_kg=75)),
            every(("Raft P",), made=date(2011, 12, 31), person_mass_kg=75),
            every(("Raft P",), made="", person_mass_kg=75),
            every(("Lifeboat 1",), person_mass_kg=""),
            then(passenger(), every(BOATS, person_mass_kg=75)),
            then(ship(keel_laid=""), every(BOATS, person_mass_kg=75)),
        ],
    ),
    "CV12": (
        [
            then(change("craft", {"name": "Lifeboat 1"}, persons=19), point("ship", "persons_certified")),
            change("ship", {}, persons_certified=21),
        ],
        [
            quiet(change("craft", {"name": "Raft P"}, persons=18)),
            quiet(change("craft", {"name": "Lifeboat 1"}, persons="")),
            quiet(SHORT_BOAT),
            quiet(change("ship", {}, persons_certified="")),
        ],
    ),
}

# A trip whose cause is told by two codes: the second is what follows from it.
# In a bare book nobody has gone through the boats (EQ05).
FOLLOWS: dict[str, set[str]] = {
    **{code: {"EQ05"} for code in CASES},
    "CR01": {"CV05"},
    "CV01": {"EQ05", "EQ04", "CV02", "CV12"},
}
