"""Fire appliances: extinguishers and their tests, spare charges, and what is counted."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Trip, add, at, change, quiet
from tests.workbooks import Workbook

Edit = Callable[[Workbook], Any]


def _extinguisher(number: str, **values: Any) -> Trip:
    return change("fire", {"number": number}, **values)


def _kind(kind: str, /, **values: Any) -> Trip:
    return change("fire", {"kind": kind}, **values)


def _set_serviced(book: Workbook) -> None:
    for line in book.rows["fire"]:
        line.pop("serviced", None)
    day = date(2026, 5, 1)
    book.add("servicing", appliance="Extinguishers", service="extinguishers serviced", done=day, done_by="crew")


def _without(kind: str) -> Edit:
    def edit(book: Workbook) -> None:
        book.rows["fire"] = [line for line in book.rows["fire"] if line["kind"] != kind]

    return edit


def _without_sheet(book: Workbook) -> None:
    del book.rows["fire"]


def _old(**values: Any) -> Trip:
    """The powder extinguishers as of 2015, pressure-tested since."""
    return _extinguisher("FE 9-12", **{**values, "made": 2015})


def _one_discharged_later(book: Workbook) -> None:
    _old(discharged=date(2021, 5, 10))(book)
    line = dict(book.find("fire", number="FE 9-12"))
    book.add("fire", **{**line, "number": "FE 30", "quantity": 1, "condition": "spare", "discharged": date(2025, 5, 1)})


def _eleven(charges: int) -> Trip:
    """Eleven foam extinguishers: ten charges and a half are asked."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.find("fire", number="FE 1-8")["quantity"] = 11
        line = book.find("fire", kind="spare charge", agent="foam")
        line["quantity"] = charges
        return at(book, "fire", line, "quantity")

    return edit


def _counted(counting: str, foam: int, powder: int) -> Trip:
    """Eight foam and eight powder extinguishers, counted in a way, with so many charges of each."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.ship["spare_charge_counting"] = counting
        book.find("fire", number="FE 9-12")["quantity"] = 8
        book.find("fire", kind="spare charge", agent="powder")["quantity"] = powder
        line = book.find("fire", kind="spare charge", agent="foam")
        line["quantity"] = foam
        return at(book, "fire", line, "quantity")

    return edit


def _a_spare_co2_short(book: Workbook) -> tuple[str, str]:
    line = book.find("fire", number="FE 16-18")
    line["quantity"] = 2
    return at(book, "fire", line, "quantity")


def _dangerous_goods(**kinds: int) -> Trip:
    """A ship with dangerous goods, and how many of each kind it has; points at the last one."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.ship["dangerous_goods"] = "yes"
        book.find("fire", kind="fire hose")["quantity"] = 8
        book.find("fire", kind="nozzle")["quantity"] = 10
        line: dict[str, Any] = {}
        for kind, number in kinds.items():
            line = book.add("fire", kind=kind.replace("_", " "), quantity=number)
        return at(book, "fire", line, "quantity")

    return edit


def _ship(edit: Edit, **values: Any) -> Edit:
    def run(book: Workbook) -> Any:
        book.ship.update(values)
        return edit(book)

    return run


def _hoses(number: int, **ship: Any) -> Trip:
    """So many hoses and one spare, none with the number of nozzles in doubt."""

    def edit(book: Workbook) -> tuple[str, str]:
        book.ship.update(ship)
        line = book.find("fire", kind="fire hose")
        line["quantity"] = number
        book.find("fire", kind="nozzle")["quantity"] = number + 2
        return at(book, "fire", line, "quantity")

    return edit


CASES: Cases = {
    "FF01": (
        [
            _extinguisher("FE 1-8", serviced=date(2025, 11, 24)),
            _extinguisher("FE 1-8", serviced=date(2026, 2, 23)),
            _extinguisher("FE 16-18", serviced=date(2025, 1, 24)),
        ],
        [
            quiet(_extinguisher("FE 1-8", serviced=date(2026, 2, 24))),
            quiet(_extinguisher("FE 1-8", serviced="")),
            quiet(_extinguisher("FE 1-8", serviced="12/03/2025")),
            quiet(_extinguisher("FE 1-8", serviced=date(2025, 1, 24), condition="ashore")),
            _set_serviced,
            _without_sheet,
            quiet(_extinguisher("FE 1-8", serviced=date(2025, 1, 24), condition="hmm, so so")),
        ],
    ),
    "FF02": (
        [
            _old(discharged=date(2021, 11, 24)),
            _old(discharged=date(2022, 2, 23)),
        ],
        [
            quiet(_old(discharged=date(2022, 2, 24))),
            quiet(_old(discharged="")),
            quiet(_extinguisher("FE 9-12", discharged=date(2021, 11, 24), agent="")),
            _one_discharged_later,
            quiet(_old(discharged=date(2021, 11, 24), condition="hmm, so so")),
            quiet(_extinguisher("FE 1-8", discharged="")),
        ],
    ),
    "FF03": (
        [
            _old(pressure_tested=date(2016, 11, 24)),
            _old(pressure_tested=date(2017, 2, 23)),
        ],
        [
            quiet(_old(pressure_tested=date(2017, 2, 24))),
            quiet(_old(pressure_tested="")),
            quiet(_old(pressure_tested=date(2016, 11, 24), condition="hmm, so so")),
            quiet(_extinguisher("FE 1-8", pressure_tested="")),
        ],
    ),
    "FF04": (
        [
            change("fire", {"kind": "spare charge", "agent": "foam"}, quantity=3),
            _eleven(4),
            _counted("by type and size", 7, 8),
            _counted("over the ship", 7, 5),
            _a_spare_co2_short,
        ],
        [
            quiet(_ship(_eleven(11), spare_charge_counting="by type and size")),
            quiet(_counted("over the ship", 7, 6)),
            quiet(_counted("", 7, 6)),
            _without("spare charge"),
            quiet(change("fire", {"kind": "spare charge", "agent": "foam"}, quantity="about 3")),
            quiet(change("fire", {"kind": "spare charge", "agent": "foam"}, quantity=7, size="")),
        ],
    ),
    "FF05": (
        [
            _kind("fire-fighter's outfit", quantity=1),
            _kind("breathing apparatus spare cylinder", quantity=3),
            _kind("EEBD", quantity=1),
            _kind("nozzle", quantity=6),
            _kind("fire-fighter radio", quantity=1),
            _hoses(3),
            _hoses(5, length_m=215.0),
            _dangerous_goods(breathing_apparatus=2, chemical_protective_suit=3),
        ],
        [
            _without("fire-fighter's outfit"),
            quiet(_kind("fire-fighter's outfit", quantity="two")),
            quiet(_kind("fire-fighter's outfit", quantity=1, kind="fire-fighter outfitt")),
            quiet(_ship(_kind("breathing apparatus spare cylinder", quantity=2), recharging_plant="yes")),
            quiet(_ship(_kind("breathing apparatus spare cylinder", quantity=2), recharging_plant="")),
            quiet(_ship(_without("EEBD spare"), length_m=98)),
            quiet(_kind("EEBD", quantity=3)),
            quiet(_kind("engine room fire hose", quantity=1)),
            quiet(_hoses(4)),
            quiet(_hoses(6, length_m=185.0)),
            quiet(_hoses(2, gross_tonnage=900, length_m=58.0)),
            quiet(_dangerous_goods(breathing_apparatus=2, chemical_protective_suit=4)),
        ],
    ),
    "FF06": (
        [
            _kind("foam concentrate", remarks="contains PFOS"),
            _kind("foam concentrate", remarks=""),
        ],
        [
            quiet(_kind("foam concentrate", remarks="fluorine-free, F3")),
            quiet(_kind("foam concentrate", remarks="no PFOS, declaration of 2025")),
            _without("foam concentrate"),
        ],
    ),
    "FF07": (
        [
            _extinguisher("FE 1-8", pressure_tested=date(2021, 5, 10)),
            add("fire", "serviced", number="W1", kind="wheeled extinguisher", made=2027, serviced=date(2026, 5, 1)),
        ],
        [
            quiet(_extinguisher("FE 1-8", pressure_tested=date(2023, 1, 1))),
            quiet(_extinguisher("FE 1-8", made="")),
        ],
    ),
}

# A longer ship is asked for more lifebuoys as well.
FOLLOWS: dict[str, set[str]] = {"FF05": {"SH10"}}
