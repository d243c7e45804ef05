"""Inspections, tests, drills and training."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from tests.checks.cases.common import Cases, Silent, Trip, at, quiet
from tests.workbooks import ON, Line, Workbook


def ago(days: int) -> date:
    return ON - timedelta(days=days)


def keep(book: Workbook, *tasks: str, until: date) -> Line | None:
    """Take out the lines of some tasks after a day; returns the last that is left of the first task."""
    lines = book.rows["routine"]
    book.rows["routine"] = [line for line in lines if line["task"] not in tasks or line["day"] <= until]
    left = [line for line in book.rows["routine"] if line["task"] == tasks[0]]
    return max(left, key=lambda line: line["day"], default=None)


def without(*tasks: str) -> Silent:
    """No line of these tasks at all."""

    def edit(book: Workbook) -> None:
        keep(book, *tasks, until=date(2020, 1, 1))

    return edit


def last(day: date, task: str, *wider: str, **values: Any) -> Trip:
    """The task (and those that show it as well) was last carried out on a day."""

    def edit(book: Workbook) -> tuple[str, str]:
        keep(book, task, *wider, until=date(2020, 1, 1))
        line = book.add("routine", day=day, task=task, **values)
        return at(book, "routine", line, "day")

    return edit


def both(*edits: Callable[[Workbook], Any]) -> Trip:
    """Several edits; the last one says where."""

    def edit(book: Workbook) -> tuple[str, str]:
        for step in edits[:-1]:
            step(book)
        where: tuple[str, str] = edits[-1](book)
        return where

    return edit


def line(column: str, **values: Any) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        return at(book, "routine", book.add("routine", **values), column)

    return edit


def ship(**values: Any) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        book.ship.update(values)
        return at(book, "ship", None, next(iter(values)))

    return edit


def craft(name: str, **values: Any) -> Callable[[Workbook], None]:
    return lambda book: book.find("craft", name=name).update(values)


def drills(task: str, present: str, *days: int) -> Callable[[Workbook], None]:
    """Only these drills of a kind, so many days before the day asked."""

    def edit(book: Workbook) -> None:
        keep(book, task, until=date(2020, 1, 1))
        for number in days:
            book.add("routine", day=ago(number), task=task, present=present)

    return edit


def person(number: str, column: str, **values: Any) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        entry = book.find("crew", number=number)
        entry.update(values)
        return at(book, "crew", entry, column)

    return edit


def newcomers(count: int, joined: date) -> Callable[[Workbook], None]:
    """So many of the twelve joined on a day, and were trained on it."""

    def edit(book: Workbook) -> None:
        for number in range(1, count + 1):
            book.find("crew", number=str(number))["joined"] = joined
        book.add("routine", day=joined, task="joining training", present=f"1 to {count}")

    return edit


def _one_boat_moved(book: Workbook) -> tuple[str, str]:
    keep(book, "boats moved from stowage", "boats turned out", "lifeboat launched", until=ago(8))
    book.add("routine", day=ago(3), task="boats moved from stowage", subject="Lifeboat 2")
    book.add("routine", day=ago(20), task="boats turned out")
    book.add("routine", day=ago(40), task="lifeboat launched")
    late = book.add("routine", day=ago(8), task="boats moved from stowage", subject="Lifeboat 1")
    return at(book, "routine", late, "day")


def _one_craft_not_inspected(book: Workbook) -> tuple[str, str]:
    keep(book, "monthly inspection", until=date(2020, 1, 1))
    for name in ("Lifeboat 1", "Lifeboat 2", "Raft P"):
        book.add("routine", day=ago(5), task="monthly inspection", subject=name)
    late = book.add("routine", day=ago(32), task="monthly inspection")
    return at(book, "routine", late, "day")


def _free_fall(book: Workbook) -> None:
    book.find("craft", name="Lifeboat 1").update(kind="free-fall lifeboat")


def _without_joined(book: Workbook) -> None:
    for entry in book.rows["crew"]:
        entry["joined"] = ""


def _shares(count: int, *after: Callable[[Workbook], Any]) -> Callable[[Workbook], Any]:
    """Newcomers on the day of departure, no drill since the day before it."""

    def edit(book: Workbook) -> tuple[str, str]:
        departed = ago(5)
        newcomers(count, departed)(book)
        keep(book, "abandon ship drill", "fire drill", until=departed - timedelta(days=1))
        for step in after:
            step(book)
        return at(book, "ship", None, "departed")

    return edit


def _two_kinds_missed(book: Workbook) -> tuple[str, str]:
    """Two missed the one drill, two others the other: four of twelve missed either."""
    drills("abandon ship drill", "3 to 12", 7)(book)
    drills("fire drill", "1, 2, 5 to 12", 7)(book)
    for number, task in (
        (40, "abandon ship drill"),
        (40, "fire drill"),
        (30, "abandon ship drill"),
        (30, "fire drill"),
    ):
        book.add("routine", day=ago(number + 60), task=task, present="all")
    for entry in book.rows["crew"][:4]:
        entry["joined"] = ago(20)
    book.add("routine", day=ago(18), task="joining training", present="1 to 4")
    return at(book, "ship", None, "departed")


def _handed_over(book: Workbook) -> None:
    book.add("routine", day=ago(120), task="fire drill", present="1 to 12")
    person("7", "joined", joined=ago(10))(book)
    book.add("routine", day=ago(9), task="joining training", present="7")
    book.add("routine", day=ago(15), task="fire drill", present="1 to 12")


def _listed_too_early(book: Workbook) -> tuple[str, str]:
    book.add("routine", day=ago(120), task="fire drill", present="1 to 6, 8 to 12")
    person("7", "joined", joined=ago(10))(book)
    book.add("routine", day=ago(9), task="joining training", present="7")
    found = book.add("routine", day=ago(15), task="fire drill", present="1 to 12")
    return at(book, "routine", found, "present")


MOVED = ("boats moved from stowage", "boats turned out", "lifeboat launched")

CASES: Cases = {
    "RT01": (
        [
            last(ago(8), "weekly inspection", "monthly inspection"),
            last(ago(7), "weekly inspection", "monthly inspection"),  # the last day: due
            last(ago(8), "general alarm test", "abandon ship drill"),
            last(ago(8), "engine run", "lifeboat launched"),
            last(date(2026, 10, 24), "monthly inspection"),
            _one_craft_not_inspected,
            _one_boat_moved,
        ],
        [
            quiet(last(ago(5), "weekly inspection", "monthly inspection")),
            without("engine run", "lifeboat launched"),
            # a wider task passes a narrower one, and never starts a finding where the narrower has no line
            quiet(both(without("general alarm test"), last(ago(8), "abandon ship drill", present="all"))),
            quiet(both(without("engine run"), last(ago(40), "lifeboat launched"))),
            quiet(both(without("boats moved from stowage"), last(ago(8), "boats turned out"))),
            quiet(both(without("boats turned out"), last(ago(40), "lifeboat launched"))),
            quiet(both(without("weekly inspection"), last(ago(8), "monthly inspection"))),
            quiet(
                both(last(ago(8), *MOVED), line("day", day=ago(2), task=MOVED[0], result="not held", remarks="gale"))
            ),
            quiet(both(last(ago(8), "engine run", "lifeboat launched"), line("day", day="25/11", task="engine run"))),
            quiet(both(last(ago(8), "engine run", "lifeboat launched"), line("day", day=ago(1), task="engine runn"))),
            quiet(
                both(
                    last(ago(8), "engine run", "lifeboat launched", subject="Lifeboat 2"),
                    line("day", day=ago(1), task="engine run", subject="Lifebaot 2"),
                )
            ),
            quiet(both(last(ago(5), "engine run", "lifeboat launched", subject="both lifeboats"))),
            quiet(both(last(ago(5), "engine run", "lifeboat launched", subject="Lifeboat 1 and 2"))),
            _free_fall,
        ],
    ),
    "RT02": (
        [
            last(ago(8), "fire weekly inspection"),
            last(date(2026, 10, 24), "fire monthly inspection"),
            last(date(2026, 8, 24), "fire quarterly inspection"),
            last(date(2025, 11, 24), "fire annual inspection"),
        ],
        [
            quiet(last(ago(5), "fire weekly inspection")),
            quiet(last(date(2026, 11, 24), "fire monthly inspection")),
            quiet(
                both(
                    last(ago(8), "fire weekly inspection"),
                    line("day", day=ago(1), task="fire weekly inspection", subject="Engine room"),
                )
            ),
            without("fire quarterly inspection"),
        ],
    ),
    "RT03": (
        [
            last(date(2026, 8, 24), "lifeboat launched"),
            last(date(2026, 8, 26), "lifeboat launched"),  # due tomorrow
            last(date(2026, 8, 24), "steering drill"),
            last(date(2026, 9, 24), "instruction in appliances"),
            both(
                craft("Raft P", kind="davit-launched liferaft"),
                line("day", day=date(2026, 7, 24), task="davit raft training"),
            ),
        ],
        [
            quiet(last(date(2026, 10, 1), "lifeboat launched")),
            without("lifeboat launched"),
            quiet(line("day", day=date(2026, 7, 24), task="davit raft training")),
            quiet(line("day", day=date(2026, 8, 24), task="damage control drill")),
            quiet(
                both(last(ago(60), "lifeboat launched"), line("day", day=date(2027, 3, 1), task="lifeboat launched"))
            ),
            quiet(both(_free_fall, line("day", day=ago(20), task="free-fall launch", subject="Lifeboat 1"))),
        ],
    ),
    "RT04": (
        [
            both(drills("fire drill", "1 to 11", 3, 20, 40, 50), person("12", "number")),
            both(drills("abandon ship drill", "all except 4", 3, 20, 40, 50), person("4", "number")),
            both(
                last(ago(40), "fire drill", present="all"),
                line("day", day=ago(36), task="fire drill", present="all"),
            ),
            both(
                drills("enclosed space drill", "1 to 3", 10, 70, 80),
                person("3", "number", enters_spaces="yes"),
                person("4", "number", enters_spaces="yes"),
            ),
            last(date(2026, 9, 24), "enclosed space drill"),
            both(_without_joined, last(ago(40), "fire drill", present="all")),
        ],
        [
            quiet(both(drills("fire drill", "1 to 11", 3, 20, 40, 50), person("12", "joined", joined=ago(15)))),
            quiet(drills("fire drill", "", 3, 20, 40, 50)),
            quiet(drills("fire drill", "1 to 11", 3, 20)),  # the record begins less than a month ago
            quiet(both(drills("fire drill", "1 to 11", 3, 40, 50), line("day", day=ago(9), task="fire drill"))),
            quiet(both(drills("fire drill", "01-03, 4 to 12.", 3, 20, 40))),
            quiet(drills("fire drill", "12", 3, 20, 40, 50)),  # a count of heads, or crew number 12
            quiet(both(drills("enclosed space drill", "1 to 3", 10, 70), person("3", "number", enters_spaces="yes"))),
            lambda book: book.find("crew", number="12").update(rank="passenger"),
        ],
    ),
    "RT05": (
        [
            _shares(4),
            _shares(4, lambda book: book.add("routine", day=ago(4), task="fire drill", present="all")),
            _shares(12),
            _two_kinds_missed,
            both(
                drills("fire drill", "1 to 8", 3, 20, 40),
                drills("abandon ship drill", "1 to 8", 3, 20, 40),
                lambda book: [book.find("crew", number=str(n)).update(joined=ago(6)) for n in range(9, 13)],
                line("day", day=ago(6), task="joining training", present="9 to 12"),
                ship(next_departure=ON),
                lambda book: at(book, "ship", None, "departed"),
            ),
        ],
        [
            quiet(_shares(3)),
            quiet(
                _shares(
                    4,
                    lambda book: book.add("routine", day=ago(4), task="fire drill", present="all"),
                    lambda book: book.add("routine", day=ago(5), task="abandon ship drill"),
                )
            ),
            quiet(both(_shares(4), ship(departed=""))),
            quiet(both(_shares(4), ship(departed=date(2026, 12, 1)))),
            quiet(both(_shares(4), person("12", "joined", joined=ago(2)))),  # the crew of that day is not on the sheet
            quiet(both(_shares(3), person("12", "joined", joined=""))),
            quiet(
                _shares(4, line("day", day="21/11", task="fire drill"), line("day", day="x", task="abandon ship drill"))
            ),
        ],
    ),
    "RT06": (
        [
            person("9", "joined", joined=date(2026, 11, 10)),
            person("9", "joined", joined=ago(14)),  # today is the last day: due
            both(
                lambda book: book.find("routine", task="joining training").update(present="1 to 12"),
                person("9", "joined", joined=date(2026, 11, 10)),
            ),
        ],
        [
            quiet(person("9", "joined", joined=ago(10))),
            quiet(person("9", "joined", joined=date(2026, 5, 1))),
            quiet(
                both(
                    person("9", "joined", joined=ago(18)), line("day", day=ago(1), task="joining training", present="9")
                )
            ),
            quiet(both(person("9", "joined", joined=ago(18)), line("day", day=ago(1), task="joining training"))),
            quiet(person("9", "joined", joined="")),
        ],
    ),
    "RT07": (
        [
            both(last(ago(7), "steering gear test"), lambda book: at(book, "ship", None, "departed")),
        ],
        [
            quiet(last(ago(6), "steering gear test")),  # the day before departure
            without("steering gear test"),
            quiet(both(last(ago(40), "steering gear test"), ship(departed=""))),
            quiet(both(last(ago(40), "steering gear test"), ship(voyage_under_24h=""))),
            quiet(both(last(ago(6), "steering gear test"), ship(voyage_under_24h="yes"))),
            quiet(last(ago(2), "steering gear test")),  # the record begins after the departure
        ],
    ),
    "RT20": (
        [
            line("subject", day=ago(1), task="engine run", subject="Lifebaot 1"),
            line("subject", day=ago(1), task="engine run", subject="Number three"),
            line("subject", day=ago(1), task="fire drill", subject="Lifeboat 3"),
        ],
        [
            quiet(line("subject", day=ago(1), task="engine run", subject="lifeboat 1")),
            quiet(line("subject", day=ago(1), task="engine run", subject="Lifeboat 1 & 2")),
            quiet(line("subject", day=ago(1), task="engine run", subject="both boats")),
            quiet(line("subject", day=ago(1), task="fire drill", subject="Galley")),
            quiet(line("subject", day=ago(1), task="fire drill", subject="Paint")),
            quiet(line("subject", day=date(2026, 12, 1), task="engine run", subject="Lifebaot 1")),
        ],
    ),
    "RT21": (
        [
            line("present", day=ago(1), task="fire drill", present="deck crew"),
            line("present", day=ago(1), task="fire drill", present="12"),
            line("present", day=ago(1), task="fire drill", present="1-8, 44"),
            line("present", day=ago(1), task="fire drill", present=date(2026, 1, 8)),
            line("present", day=ago(1), task="abandon ship drill", present="all except 44"),
        ],
        [
            quiet(line("present", day=ago(1), task="fire drill", present="all except 4, 7")),
            quiet(line("present", day=ago(1), task="fire drill", present="All hands (12)")),
            quiet(line("present", day=date(2026, 3, 1), task="fire drill", present="1 to 8, 44")),  # has left since
            quiet(line("present", day=ago(1), task="fire drill", present="1 to 20")),  # numbers inside a range
            quiet(line("present", day=ago(1), task="joining training", present="12")),
            quiet(line("present", day=ago(1), task="engine run", present="motorman")),
        ],
    ),
    "RT22": (
        [_listed_too_early],
        [
            _handed_over,
            quiet(
                both(
                    person("7", "joined", joined=ago(10)), line("day", day=ago(9), task="joining training", present="7")
                )
            ),
            quiet(line("present", day=date(2026, 3, 1), task="fire drill", present="1 to 12")),
        ],
    ),
    "RT23": (
        [
            line("result", day=ago(1), task="fire drill", result="not held"),
            line("result", day=ago(1), task="steering drill", result="postponed"),
        ],
        [
            quiet(line("result", day=ago(1), task="fire drill", result="not held", remarks="heavy weather")),
            quiet(line("result", day=ago(1), task="boats turned out", result="not held")),
            quiet(line("result", day=date(2026, 12, 1), task="fire drill", result="not held")),
        ],
    ),
}

# Who lacked a drill before the departure may lack it on the day asked as well.
FOLLOWS: dict[str, set[str]] = {"RT04": {"RT05"}, "RT05": {"RT04"}}
