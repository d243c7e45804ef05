"""The stock of the whole ship. The clean book carries what tests/parts/ship_level.py says: 98 m, 12 persons."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Trip, at, change, quiet
from tests.workbooks import FAR, ON, Line, Workbook

YESTERDAY = date(2026, 11, 24)


def stock(item: str, place: str, /, **values: Any) -> Trip:
    """An edit of the line of an item in a place."""
    return change("inventory", {"item": item, "place": place}, **values)


def without(book: Workbook, *items: str) -> None:
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["item"] not in items]


def _without(*items: str) -> Callable[[Workbook], None]:
    return lambda book: without(book, *items)


def _without_lifebuoys(book: Workbook) -> None:
    """Their lights stay on the record."""
    book.rows["inventory"] = [line for line in book.rows["inventory"] if not _is_lifebuoy(line)]


def _is_lifebuoy(line: Line) -> bool:
    return line["item"] == "lifebuoy" or str(line["item"]).startswith("lifebuoy with")


def _steps(*edits: Callable[[Workbook], Any]) -> Trip:
    """Several edits; the last one tells where the finding must point."""

    def run(book: Workbook) -> tuple[str, str]:
        places = [edit(book) for edit in edits]
        sheet, cell = places[-1]
        return sheet, cell

    return run


def _quantity(item: str, place: str, quantity: float) -> Trip:
    return stock(item, place, quantity=quantity)


def _ten_lifebuoys_asked(book: Workbook) -> tuple[str, str]:
    """From 100 m on ten lifebuoys are asked, and five with a light."""
    book.ship["length_m"] = 100
    book.add("inventory", place="Main deck", item="lifebuoy with light", quantity=1)
    return at(book, "inventory", book.find("inventory", item="lifebuoy with light and smoke"), "quantity")


def _half_of_eight(book: Workbook) -> tuple[str, str]:
    """Three lighted ones of the four asked: plain ones take the place of one, and one light is gone."""
    without(book, "lifebuoy light", "lifebuoy light and smoke")
    line = stock("lifebuoy with light", "Main deck, port", item="lifebuoy")
    line(book)
    return at(book, "inventory", book.find("inventory", item="lifebuoy with light"), "quantity")


def _light_on_the_buoy_with_a_line(book: Workbook) -> tuple[str, str]:
    """A light on a buoy with a line does not count (III/7.1.3): three are left."""
    found = _half_of_eight(book)
    book.find("inventory", item="lifebuoy with line")["item"] = "lifebuoy with light and line"
    return found


def _spare_rings_ask_for_no_light(book: Workbook) -> None:
    book.add("inventory", place="Bosun store", item="lifebuoy", quantity=6, condition="spare")


def _rings_with_old_lights(book: Workbook) -> None:
    """The date is the light's; the ring counts as a lifebuoy all the same. Other lights are enough."""
    book.add("inventory", place="Main deck", item="lifebuoy light", quantity=2, expires=FAR)
    book.find("inventory", item="lifebuoy", place="Poop deck")["expires"] = YESTERDAY


def _lights_as_units_only(book: Workbook) -> None:
    for line in book.rows["inventory"]:
        if line["item"].startswith("lifebuoy with light"):
            line["item"] = "lifebuoy"


def _only_wing_units(book: Workbook) -> None:
    """Bridge-wing units entered for their dates say nothing of the other lifebuoys' lights."""
    without(book, "lifebuoy light")
    _lights_as_units_only(book)


def _rockets_in_two_places(other: str) -> Callable[[Workbook], None]:
    def edit(book: Workbook) -> None:
        stock("rocket parachute flare", "Bridge", quantity=6)(book)
        book.add("inventory", place=other, item="rocket parachute flare", quantity=6, expires=FAR)

    return edit


def _suits(count: int) -> Trip:
    """All suits of the book but so many, on one line that fits anyone."""

    def edit(book: Workbook) -> tuple[str, str]:
        without(book, "immersion suit")
        line = book.add(
            "inventory", place="Cabins", item="immersion suit", quantity=count, wearer_size="one size", condition=""
        )
        return at(book, "inventory", line, "quantity")

    return edit


def _remote_raft(book: Workbook) -> None:
    raft = book.find("craft", name="Raft P")
    book.add("craft", **{**raft, "name": "Raft F", "purpose": "remote", "certificate": "S-13"})
    book.add("inventory", place="Forecastle", item="embarkation ladder", quantity=1)


def _remote_suits(count: int) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        _remote_raft(book)
        return _suits(count)(book)

    return edit


def _suits_at_the_forecastle_only(book: Workbook) -> None:
    """What lies at the remote raft's station says nothing of the persons' own suits."""
    _remote_raft(book)
    without(book, "immersion suit")
    book.add("inventory", place="Forecastle store", item="immersion suit", quantity=2)


def _child_jackets(passengers: int, children: int, jackets: int) -> Callable[[Workbook], tuple[str, str]]:
    def edit(book: Workbook) -> tuple[str, str]:
        book.ship.update(passengers=passengers, children=children)
        line = book.add("inventory", place="Muster station", item="child lifejacket", quantity=jackets)
        return at(book, "inventory", line, "quantity")

    return edit


def _rockets(place: str, quantity: int = 12, /, **values: Any) -> Trip:
    """The bridge's rockets, elsewhere or fewer."""
    return stock("rocket parachute flare", "Bridge", **{"quantity": quantity, "place": place, **values})


def _appliances(quantity: int, /, **values: Any) -> Trip:
    """Line-throwing appliances in place of projectiles and lines."""

    def edit(book: Workbook) -> tuple[str, str]:
        without(book, "line-throwing rocket", "line-throwing line")
        line = book.add(
            "inventory", place="Bridge", item="line-throwing appliance", quantity=quantity, expires=FAR, **values
        )
        return at(book, "inventory", line, "quantity")

    return edit


def _sarts(*sides: str, stowed: str = "no") -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        without(book, "survival-craft SART")
        lines = [
            book.add("inventory", place="Bridge", item="survival-craft SART", quantity=1, side=side) for side in sides
        ]
        for craft in book.rows["craft"]:
            craft["sart_stowed"] = stowed
        return at(book, "inventory", lines[0], "side" if len(sides) > 1 else "quantity")

    return edit


def _sart_in_each_craft(book: Workbook) -> None:
    without(book, "survival-craft SART")
    for craft in book.rows["craft"]:
        craft["sart_stowed"] = "yes"


def _beside(item: str, place: str, /, **values: Any) -> Callable[[Workbook], Line]:
    """A further lot beside what is there."""

    def edit(book: Workbook) -> Line:
        return book.add("inventory", item=item, place=place, **values)

    return edit


def _lines(metres: object, unit: str = "m") -> Callable[[Workbook], tuple[str, str]]:
    """Both lifebuoy lines of one length."""

    def edit(book: Workbook) -> tuple[str, str]:
        lines = [line for line in book.rows["inventory"] if line["item"] == "lifebuoy with line"]
        for line in lines:
            line.update(content=metres, content_unit=unit)
        return at(book, "inventory", lines[0], "content")

    return edit


def _us_line(metres: float) -> Callable[[Workbook], tuple[str, str]]:
    def edit(book: Workbook) -> tuple[str, str]:
        book.ship["rule_set"] = "us"
        line = book.add(
            "inventory", place="Bridge", item="auxiliary line", quantity=1, content=metres, content_unit="m"
        )
        return at(book, "inventory", line, "content")

    return edit


def _stern(place: str, side: str = "") -> Callable[[Workbook], tuple[str, str]]:
    """The lifebuoys of the poop, elsewhere; those of the main deck on the gangway."""

    def edit(book: Workbook) -> tuple[str, str]:
        for line in book.rows["inventory"]:
            if line["item"].startswith("lifebuoy with"):
                line["place"] = line["place"].replace("Main deck", "Gangway")
        book.find("inventory", item="lifebuoy", place="Poop deck").update(place=place, side=side)
        return at(book, "inventory", book.find("inventory", item="lifebuoy with light and smoke"), "place")

    return edit


def _universal(count: int) -> Callable[[Workbook], tuple[str, str]]:
    """Twelve persons of XL; four suits of XL and so many that fit anyone, 26 in all."""

    def edit(book: Workbook) -> tuple[str, str]:
        for person in book.rows["crew"]:
            person["size"] = "XL"
        book.find("inventory", item="immersion suit", wearer_size="universal")["quantity"] = count
        book.find("inventory", item="immersion suit", wearer_size="M")["quantity"] = 26 - 4 - 9 - count
        return at(book, "crew", book.rows["crew"][-1], "size")

    return edit


def _in_other_words(book: Workbook) -> None:
    for person in book.rows["crew"]:
        person["size"] = "190 cm"


def _one_without_size(book: Workbook) -> None:
    _universal(8)(book)
    book.find("inventory", item="immersion suit", wearer_size="M")["wearer_size"] = ""
    book.find("inventory", item="immersion suit", wearer_size="L")["wearer_size"] = ""


LIGHTS = ("lifebuoy light", "Main deck")
SMOKE = ("lifebuoy light and smoke", "Bridge wing")

CASES: Cases = {
    "SH10": (
        [
            _steps(_ten_lifebuoys_asked),
            _half_of_eight,
            _light_on_the_buoy_with_a_line,
            _suits(14),
            _remote_suits(16),
            _child_jackets(passengers=11, children=0, jackets=1),
            _child_jackets(passengers=5, children=2, jackets=1),
            _rockets("Bridge", 11),
            _quantity("line-throwing line", "Bridge", 3),
            _quantity("survival-craft two-way VHF", "Bridge", 2),
            _quantity("VHF primary battery", "Bridge", 2),
            _quantity("lifejacket light", "Cabins", 14),
            stock("recovery plan", "Bridge", condition="ashore"),
            _sarts("port"),
        ],
        [
            quiet(change("ship", {}, length_m=99.9)),
            quiet(_suits(15)),  # 12 persons and 3 at watch stations: spare suits serve these
            quiet(_remote_suits(17)),
            _suits_at_the_forecastle_only,
            _spare_rings_ask_for_no_light,
            _lights_as_units_only,
            _only_wing_units,
            _rings_with_old_lights,
            _without("lifejacket", "immersion suit", "recovery plan", "VHF primary battery", "line-throwing line"),
            _without_lifebuoys,
            quiet(_quantity("lifejacket light", "Cabins", 15)),
            quiet(_child_jackets(passengers=10, children=1, jackets=1)),
            quiet(_rockets("Pyrotechnics locker")),  # it may be on the bridge
            quiet(_rockets("Wheelhouse")),
            quiet(_appliances(4)),
            quiet(_appliances(1)),  # a whole set, perhaps
            quiet(_appliances(1, content=4, content_unit="each")),
            _sart_in_each_craft,
            quiet(stock("recovery plan", "Bridge", quantity="")),
            quiet(stock("VHF primary battery", "Bridge", quantity="a few")),
            # a lot whose place is not clear may lie anywhere: it is no lack
            quiet(stock("survival-craft two-way VHF", "Bridge", place="")),
            quiet(_steps(_quantity("recovery plan", "Bridge", 1), stock("recovery plan", "Bridge", place="Xyzzy"))),
            _rockets_in_two_places("Xyzzy"),
            _rockets_in_two_places(""),
        ],
    ),
    "SH11": (
        [
            _steps(_rockets("Bridge"), stock("rocket parachute flare", "Bridge", expires=YESTERDAY)),
            stock(*LIGHTS, expires=YESTERDAY),
            stock(*SMOKE, expires=YESTERDAY),
            stock("VHF primary battery", "Bridge", expires=YESTERDAY),
            stock("line-throwing rocket", "Bridge", expires=date(2026, 8, 31)),
        ],
        [
            quiet(stock(*LIGHTS, expires=ON)),
            quiet(stock("rocket parachute flare", "Bridge", expires=ON)),
            quiet(_beside("rocket parachute flare", "Bridge", quantity=12, expires=YESTERDAY)),
            quiet(stock("rocket parachute flare", "Bridge", expires="12/03/2029")),
            quiet(stock("lifebuoy with light", "Main deck, port", expires=FAR)),
        ],
    ),
    "SH12": (
        [
            stock("rocket parachute flare", "Bridge", expires=date(2027, 2, 23)),
            stock("VHF primary battery", "Bridge", expires=date(2026, 12, 25)),
            stock("line-throwing rocket", "Bridge", expires=ON),
        ],
        [
            quiet(stock("rocket parachute flare", "Bridge", expires=date(2027, 2, 24))),
            quiet(stock("VHF primary battery", "Bridge", expires=date(2026, 12, 26))),
            quiet(_beside("rocket parachute flare", "Bridge", quantity=12, expires=date(2026, 12, 1))),
        ],
    ),
    "SH13": (
        [
            stock("lifebuoy with line", "Main deck, port", content=29),
            stock("lifebuoy with light and smoke", "Bridge wing, port", content=2.4),
            _lines(90, "ft"),
            _us_line(449),
        ],
        [
            quiet(_lines(30)),
            quiet(_lines("", "")),
            quiet(_lines(99, "ft")),
            quiet(
                _beside(
                    "lifebuoy with line", "Bosun store", quantity=1, content=20, content_unit="m", condition="spare"
                )
            ),
            quiet(change("craft", {"name": "Raft P"}, stowage_height_m=17, painter_m=30)),
            quiet(stock("lifebuoy with light and smoke", "Bridge wing, port", content=2.5)),
            quiet(_us_line(450)),
        ],
    ),
    "SH14": (
        [
            _steps(
                stock("lifebuoy with line", "Main deck, starboard", place="Main deck, port side", side="port"),
                stock("lifebuoy with line", "Main deck, port", content=30),
                lambda book: at(
                    book,
                    "inventory",
                    book.find("inventory", item="lifebuoy with line", place="Main deck, port"),
                    "side",
                ),
            ),
            _sarts("port", "port"),
        ],
        [
            quiet(stock("lifebuoy with line", "Main deck, starboard", place="Main deck, stbd", side="")),
            quiet(stock("lifebuoy with line", "Main deck, starboard", place="Main deck", side="")),
            quiet(_sarts("port", "")),
            quiet(_sarts("port", "port", stowed="")),
            _sart_in_each_craft,
        ],
    ),
    "SH15": (
        [_stern("Forecastle"), _stern("Bridge wing, port")],
        [quiet(_stern("Main deck")), quiet(_stern("Bridge deck", "aft")), quiet(_stern("Stern, port quarter"))],
    ),
    "SH16": (
        [_universal(7)],
        [
            quiet(_universal(8)),
            _in_other_words,
            _one_without_size,
            quiet(stock("immersion suit", "Cabins", wearer_size="Medium")),
            quiet(change("crew", {"number": "1"}, size="")),
        ],
    ),
}


def _not_recorded(*items: str) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        places = {line["name"] for line in book.rows["craft"]}
        lines = book.rows["inventory"]
        book.rows["inventory"] = [line for line in lines if line["item"] not in items or line["place"] in places]
        return at(book, "inventory", None, "item")

    return edit


def _craft_only(book: Workbook) -> None:
    """No line but those of the craft, and two of the ship."""
    places = {line["name"] for line in book.rows["craft"]}
    kept = ("EPIRB", "recovery plan")
    lines = book.rows["inventory"]
    book.rows["inventory"] = [line for line in lines if line["place"] in places or line["item"] in kept]


CASES["SH17"] = (
    [
        _not_recorded("EPIRB"),
        _not_recorded("rocket parachute flare", "training manual"),  # those of the boats are not the bridge's
        _not_recorded("line-throwing rocket", "lifejacket light", "survival-craft SART", "immersion suit"),
    ],
    [
        _craft_only,
        quiet(stock("EPIRB", "Monkey island", quantity="one")),
        quiet(stock("EPIRB", "Monkey island", place="")),
        lambda book: (
            _not_recorded("recovery plan")(book),
            book.add("certificates", certificate="recovery plan", until=FAR),
        ),
        quiet(_not_recorded("lifejacket accessory for large persons")),
    ],
)


# A US ship's boats carry things that the clean book, a SOLAS ship's, has not.
FOLLOWS: dict[str, set[str]] = {"SH13": {"EQ01"}}
