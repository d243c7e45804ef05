"""Who goes to which craft, papers, and the muster list (CR codes)."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Silent, Trip, at, change, quiet
from tests.workbooks import Workbook

MOTOR_DUTIES = ("person in charge", "second in command", "engine operator")
YESTERDAY = date(2026, 11, 24)  # the cases are asked on 25 November 2026


def person(number: str, /, **values: Any) -> Trip:
    """An edit of one person's line; it points at the first value changed."""
    return change("crew", {"number": number}, **values)


def cell(number: str, column: str) -> Trip:
    """No edit: it points at one of a person's cells."""

    def run(book: Workbook) -> tuple[str, str]:
        return at(book, "crew", book.find("crew", number=number), column)

    return run


def craft(name: str, edit: Any) -> Trip:
    """An edit of the crew; it points at the name of a craft."""

    def run(book: Workbook) -> tuple[str, str]:
        edit(book)
        return at(book, "craft", book.find("craft", name=name), "name")

    return run


def both(*edits: Any) -> Trip:
    """Several edits; the last one says where the finding points."""

    def run(book: Workbook) -> tuple[str, str]:
        for edit in edits[:-1]:
            edit(book)
        result: tuple[str, str] = edits[-1](book)
        return result

    return run


def ship(**values: Any) -> Trip:
    return change("ship", {}, **values)


def everybody(**values: Any) -> Silent:
    """The same in every line of the Crew sheet."""

    def run(book: Workbook) -> None:
        for line in book.rows["crew"]:
            line.update(values)

    return run


def crew_of(name: str, **values: Any) -> Silent:
    """The same for everybody in one craft."""

    def run(book: Workbook) -> None:
        for line in book.rows["crew"]:
            if line["craft"] == name:
                line.update(values)

    return run


def joining(count: int, **values: Any) -> Trip:
    """So many more persons in Lifeboat 1; it points at the craft of the last."""

    def run(book: Workbook) -> tuple[str, str]:
        people = [book.add("crew", number=str(100 + n), craft="Lifeboat 1", duty="member") for n in range(count)]
        for line in people:
            line.update(values)
        return at(book, "crew", people[-1], "craft")

    return run


def relief(**values: Any) -> Trip:
    """A master who joins after the day asked, beside the one on board."""
    line = {"number": "R1", "rank": "master", "craft": "Lifeboat 1", "joined": date(2026, 12, 1), **values}

    def run(book: Workbook) -> tuple[str, str]:
        return at(book, "crew", book.add("crew", **line), "craft")

    return run


def forty_one(**values: Any) -> Silent:
    """41 persons in Lifeboat 1 (which is too small for them), two of them certificated."""

    def run(book: Workbook) -> None:
        book.ship["head_count"] = "by complement"
        crew_of("Lifeboat 1", certificate="none")(book)
        for number in ("1", "2"):
            book.find("crew", number=number)["certificate"] = "Survival craft"
        joining(35, certificate="none", **values)(book)

    return run


def forty(book: Workbook) -> None:
    forty_one()(book)
    book.rows["crew"].pop()


def muster_heading(edit: Any) -> Trip:
    """An edit after which the finding points at the heading of the muster duties."""

    def run(book: Workbook) -> tuple[str, str]:
        edit(book)
        return at(book, "crew", None, "muster_duty")

    return run


def without_substitutes(book: Workbook) -> None:
    book.find("crew", number="7")["substitute_for"] = ""


def technician(book: Workbook) -> None:
    book.add("crew", number="T1", rank="Service technician", remarks="on board alongside only")


def only_those_in_charge(book: Workbook) -> None:
    """A list that assigns the leaders only."""
    for line in book.rows["crew"]:
        if line["duty"] not in MOTOR_DUTIES[:2]:
            line.update(craft="", duty="")


def rafts_in_charge_of_a_rating(book: Workbook) -> None:
    book.find("crew", number="12").update(craft="Raft P", duty="person in charge", certificate="none")


CASES: Cases = {
    "CR01": ([joining(15)], [quiet(joining(14)), quiet(joining(15, joined=date(2026, 12, 1)))]),
    "CR02": (
        [
            craft("Lifeboat 1", person("1", duty="member")),
            craft("Lifeboat 1", both(person("1", duty="member"), person("10", craft="", remarks="stays ashore"))),
            craft("Lifeboat 1", both(person("1", duty="member"), ship(persons_on_board=13, passengers=1))),
        ],
        [
            quiet(person("1", duty="Coxswain")),
            quiet(person("1", rank="Rating", certificate="PSCRB")),  # two words that are headings too, and no heading
            quiet(both(person("1", duty="member"), relief(duty="person in charge"))),
            # who has no craft that can be read, or no line, may be the one
            quiet(both(person("1", duty="member"), person("9", craft="Raft 7 aft", duty="person in charge"))),
            quiet(both(person("1", duty="member"), person("9", craft="", duty=""))),
            quiet(both(person("1", duty="member"), ship(persons_on_board=13))),
        ],
    ),
    "CR03": (
        [person("5", craft="Lifebaot 1")],
        [quiet(person("5", craft="LIFEBOAT 1")), quiet(person("5", craft=""))],
    ),
    "CR04": (
        [person("5", craft=""), both(person("11", craft=""), person("5", craft=""))],
        [
            everybody(craft="", duty=""),
            only_those_in_charge,
            technician,
            quiet(person("5", craft="", remarks="stays ashore this voyage")),
            quiet(person("5", craft="", joined=date(2026, 11, 26))),
            quiet(person("5", craft="Lifebaot 1")),
        ],
    ),
    "CR05": (
        [
            craft("Lifeboat 1", person("2", duty="member")),
            craft("Lifeboat 2", person("8", duty="radio")),
            craft("Lifeboat 1", person("2", duty="")),
        ],
        [
            quiet(person("2", duty="2IC")),
            crew_of("Lifeboat 1", duty=""),
            rafts_in_charge_of_a_rating,
            quiet(person("2", duty="secnd")),
            quiet(both(person("2", duty="member"), person("9", craft="the other boat", duty=""))),
            quiet(both(person("2", duty="member"), ship(persons_on_board=14))),
        ],
    ),
    "CR06": (
        [
            craft("Lifeboat 1", crew_of("Lifeboat 1", duty="member")),
            craft("Lifeboat 1", both(crew_of("Lifeboat 1", duty="member"), person("4", duty=""))),
        ],
        [
            quiet(person("3", duty="member")),
            quiet(both(person("3", duty="member"), person("2", duty="member"))),
            quiet(both(crew_of("Lifeboat 1", duty="member"), person("9", craft="", duty="engine operator"))),
            crew_of("Lifeboat 1", craft="Raft P", duty="member"),
        ],
    ),
    "CR07": (
        [
            both(person("1", rank="Chief cook"), person("1", certificate="none")),
            both(person("7", rank="AB", certificate_expires=""), person("7", certificate="no")),
        ],
        [
            quiet(person("1", rank="Chief cook")),
            quiet(person("1", certificate="none")),
            quiet(person("1", rank="Chief cook", certificate="")),
            quiet(person("1", rank="Leading hand", certificate="none")),
            rafts_in_charge_of_a_rating,
            quiet(both(ship(rule_set="us"), person("7", rank="Able seaman", certificate="none"))),
        ],
    ),
    "CR08": (
        [
            both(person("7", rank="bosun"), person("7", certificate_expires=YESTERDAY)),
            person("7", certificate_expires=YESTERDAY),
            person("7", certificate_expires=date(2027, 2, 23)),
            both(ship(voyage_ends=date(2027, 5, 10)), person("7", certificate_expires=date(2027, 5, 9))),
        ],
        [
            quiet(person("7", certificate_expires=date(2027, 2, 24))),
            quiet(person("7", certificate_expires="")),
            quiet(both(ship(voyage_ends=date(2027, 5, 10)), person("7", certificate_expires=date(2027, 5, 10)))),
            quiet(both(ship(voyage_ends=date(2026, 11, 24)), person("7", certificate_expires=date(2027, 3, 1)))),
            quiet(person("5", certificate="Basic training", certificate_expires=YESTERDAY)),
        ],
    ),
    "CR09": (
        [
            both(ship(departed=date(2026, 11, 20)), person("5", medical_expires=date(2026, 11, 19))),
            both(ship(departed=date(2026, 11, 20)), person("5", medical_expires=date(2026, 11, 20))),
            both(ship(departed=date(2026, 8, 1)), person("5", medical_expires=date(2026, 8, 24))),
            person("5", medical_expires=YESTERDAY),
            person("5", medical_expires=date(2027, 2, 23)),
            both(ship(voyage_ends=date(2027, 5, 10)), person("5", medical_expires=date(2027, 5, 9))),
        ],
        [
            quiet(person("5", medical_expires=date(2027, 2, 24))),
            quiet(person("5", medical_expires="")),
            quiet(person("5", medical_expires=YESTERDAY, rank="Passenger")),
            quiet(person("5", medical_expires=YESTERDAY, joined=date(2026, 12, 2))),
            everybody(medical_expires=""),
        ],
    ),
    "CR10": (
        [person("5", refreshed=date(2021, 11, 24)), person("5", refreshed=date(2022, 2, 23))],
        [
            quiet(person("5", refreshed=date(2022, 2, 24))),
            quiet(person("5", refreshed="")),
            everybody(refreshed=""),
            quiet(person("5", certificate="Survival craft", certificate_expires="")),
        ],
    ),
    "CR11": (
        [
            craft("Lifeboat 1", forty_one()),
            craft("Lifeboat 1", both(crew_of("Lifeboat 1", certificate="none"), person("4", certificate="PSCRB"))),
            craft("Lifeboat 1", both(person("2", certificate=""), person("3", certificate=""))),
        ],
        [
            forty,
            quiet(both(forty_one(), ship(head_count="not asked"))),
            quiet(both(forty_one(), ship(head_count=""))),
            quiet(both(forty_one(), person("5", certificate="PSCRB"))),
            crew_of("Lifeboat 1", certificate=""),
        ],
    ),
    "CR12": (
        [
            muster_heading(person("8", muster_duty="none")),
            muster_heading(person("4", muster_duty="equip craft")),
        ],
        [
            quiet(person("8", muster_duty="")),
            quiet(both(person("12", remarks="Also GMDSS, and doors"), person("8", muster_duty="none"))),
            quiet(person("10", muster_duty="none")),
            quiet(person("8", muster_duty="Comms")),
            everybody(muster_duty=""),
        ],
    ),
    "CR13": (
        [
            both(person("7", substitute_for="3"), cell("1", "number")),
            both(rafts_in_charge_of_a_rating, cell("12", "number")),
        ],
        [
            without_substitutes,
            quiet(person("7", substitute_for="Master")),
            quiet(person("7", substitute_for="41")),
            quiet(person("8", duty="member")),
            quiet(both(rafts_in_charge_of_a_rating, person("11", craft="Raft P", duty="second in command"))),
        ],
    ),
    "CR14": (
        [person("9", substitute_for="41"), person("9", substitute_for="1, 77")],
        [
            quiet(person("9", substitute_for="No. 07")),
            quiet(person("9", substitute_for="3, 5")),
            quiet(person("9", substitute_for="Chief Officer")),
            quiet(person("9", substitute_for="-")),
        ],
    ),
    "CR15": ([person("9", substitute_for="9")], [quiet(both(person("1", substitute_for="2"), person("2", rank="AB")))]),
    "CR16": (
        [
            both(person("12", muster_duty="in command"), person("12", substitute_for="1")),
            both(person("1", muster_duty="communications"), person("7", substitute_for="1")),
        ],
        [quiet(person("7", substitute_for="1")), quiet(person("8", substitute_for="1"))],
    ),
    "CR17": (
        [person("3", craft=""), both(person("3", duty="radio"), person("3", craft=""))],
        [quiet(person("5", craft="")), quiet(person("5", craft="", duty="")), everybody(craft="")],
    ),
    "CR18": (
        [both(person("3", rank="second mate"), person("5", duty="PIC"))],
        [quiet(relief(duty="person in charge")), rafts_in_charge_of_a_rating],
    ),
}

# A trip whose cause is told by two codes.
FOLLOWS: dict[str, set[str]] = {
    "CR02": {"SH17"},  # a passenger asks for a child lifejacket
    "CR01": {"CV05"},  # more in the craft than on board
    "CR06": {"CR02", "CR05"},  # nobody leads it either
    "CR11": {"CR01", "CV05"},
    "CR16": {"CR13"},
    "CR17": {"CR06"},
}
