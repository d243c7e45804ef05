"""Fittings of craft and ship."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Trip, add, quiet
from tests.checks.cases.routine import ago, both, craft, keep, last, line, without
from tests.workbooks import Workbook


def defect(column: str, subject: str, fitting: str, **values: Any) -> Trip:
    return add(
        "defects", column, **{"subject": subject, "fitting": fitting, "wrong": "seized", "since": ago(5), **values}
    )


def _extra_raft_not_inspected(book: Workbook) -> tuple[str, str]:
    book.add("craft", **{**book.find("craft", name="Raft P"), "name": "Raft X", "purpose": "extra"})
    book.add("inventory", place="Raft X", item="hydrostatic release unit", quantity=1, expires=date(2028, 9, 30))
    keep(book, "monthly inspection", until=date(2020, 1, 1))
    for name in ("Lifeboat 1", "Lifeboat 2", "Raft P", "Raft S"):
        book.add("routine", day=ago(5), task="monthly inspection", subject=name)
    return last_line(book, "Raft X")


def last_line(book: Workbook, name: str) -> tuple[str, str]:
    return line("day", day=ago(40), task="monthly inspection", subject=name)(book)


CASES: Cases = {
    "RT30": (
        [
            defect("fitting", "Lifeboat 1", "limit switches"),
            defect("fitting", "lifeboat 1", "hooks and release gear", since=""),
            defect("fitting", "Raft P", "cradle", closed=date(2026, 11, 26)),  # not closed yet on the day asked
            defect("fitting", "Engine room", "fire dampers"),
            defect("fitting", "Lifeboat 1 and 2", "batteries and charging"),
            both(craft("Lifeboat 1", hooks_compliant="no"), defect("fitting", "Lifeboat 1", "fall preventer devices")),
        ],
        [
            quiet(defect("fitting", "Lifeboat 1", "limit switches", closed=ago(0))),
            quiet(defect("fitting", "Lifeboat 1", "limit switches", since=date(2026, 11, 26))),
            quiet(defect("fitting", "Lifeboat 1", "limit switches", closed="12/11/2026")),
            quiet(defect("fitting", "Lifebaot 1", "limit switches")),
            quiet(
                both(
                    craft("Lifeboat 1", hooks_compliant="", fall_preventers=""),
                    defect("fitting", "Lifeboat 1", "fall preventer devices"),
                )
            ),
        ],
    ),
    "RT31": (
        [
            last(date(2025, 11, 24), "remote stops tried"),
            last(date(2025, 11, 24), "quick-closing valves tried", subject="Engine room"),
            last(date(2026, 10, 24), "emergency generator run"),
            _extra_raft_not_inspected,
        ],
        [
            quiet(last(date(2025, 11, 25), "remote stops tried")),
            quiet(last(date(2026, 9, 1), "emergency lights tried")),  # the abandon ship drill tries them as well
            without("remote stops tried"),
            quiet(both(without("emergency lights tried"), last(ago(40), "abandon ship drill", present="all"))),
            quiet(last(date(2026, 10, 24), "fire monthly inspection")),  # RT02 says it
            quiet(last(date(2026, 10, 24), "monthly inspection")),  # RT01 says it
        ],
    ),
    "RT32": (
        [
            defect("subject", "Lifebaot 1", "hooks and release gear"),
            defect("subject", "Boat deck", "davit or crane"),
        ],
        [
            quiet(defect("subject", "lifeboat 1", "limit switches")),
            quiet(defect("subject", "Galley", "fire doors")),
            quiet(defect("subject", "Lifeboat 3", "limit switches", closed=ago(1))),
        ],
    ),
    "RT33": (
        [
            line("result", day=ago(0), task="monthly inspection", subject="Lifeboat 2", result="defect"),
            both(  # an open defect of a place on board says nothing of a boat
                defect("fitting", "Galley", "fire doors", since=ago(9)),
                line("result", day=ago(0), task="monthly inspection", subject="Lifeboat 2", result="defect"),
            ),
            both(
                lambda book: book.rows["defects"].clear(),
                line("result", day=ago(0), task="fire monthly inspection", result="defect"),
            ),
        ],
        [
            quiet(
                both(
                    line("result", day=ago(3), task="monthly inspection", subject="Lifeboat 2", result="defect"),
                    defect("fitting", "Lifeboat 2", "limit switches", since=ago(3), closed=ago(2)),
                )
            ),
            quiet(
                both(
                    line("result", day=ago(3), task="monthly inspection", subject="Lifeboat 2", result="defect"),
                    line("result", day=ago(1), task="monthly inspection", result="satisfactory"),
                )
            ),
            quiet(line("result", day=ago(0), task="monthly inspection", subject="Lifeboat 2", result="ok")),
        ],
    ),
    "RT34": (
        [
            defect("fitting", "Raft P", "limit switches"),
            defect("fitting", "Raft P", "sprinkler and air support"),
            both(
                craft("Lifeboat 1", fire_protected="no", air_support="no"),
                defect("fitting", "Lifeboat 1", "sprinkler and air support"),
            ),
        ],
        [
            quiet(
                both(
                    craft("Raft P", kind="davit-launched liferaft"),
                    defect("fitting", "Raft P", "winch and falls and sheaves"),
                )
            ),
            quiet(defect("fitting", "Lifeboat 1", "emergency lights")),
            quiet(
                both(
                    craft("Lifeboat 1", fire_protected=""), defect("fitting", "Lifeboat 1", "sprinkler and air support")
                )
            ),
            quiet(defect("fitting", "Raft P", "limit switches", closed=ago(1))),
        ],
    ),
}

# A boat whose hooks are not confirmed is told by CV09 too.
FOLLOWS: dict[str, set[str]] = {"RT30": {"CV09"}, "RT33": {"RT30"}}
