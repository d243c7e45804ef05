"""A ship's comparison does not depend on the ships beside it, and one ship's trouble stays its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.compare.test_command import months
from tests.workbooks import ON
from workbook_tools.checks import Options
from workbook_tools.checks.registry import CHECKS
from workbook_tools.compare import compare_fleet, compare_ship, gather
from workbook_tools.compare.returns import Fleet
from workbook_tools.compare.run import ShipComparison
from workbook_tools.reading import Book
from workbook_tools.schema import validate

SHIPS = {"Orrin Vale": "3100019", "Sella Marn": "3100021", "Tarn Hollis": "3100033"}


@pytest.fixture
def fleet(tmp_path: Path) -> Fleet:
    for folder in ("old", "new"):
        (tmp_path / folder).mkdir()
    for number, (name, imo) in enumerate(SHIPS.items()):
        old, new = months()
        new.lot("hand flare")["quantity"] = number + 1
        for book, folder in ((old, "old"), (new, "new")):
            book.ship.update(name=name, imo_number=imo)
            book.save(tmp_path / folder / f"{number}.xlsx")
    return gather([str(tmp_path / "old"), str(tmp_path / "new")])


def summary(ship: ShipComparison) -> tuple[object, ...]:
    return ship.series.newest.name, ship.steps, ship.findings, ship.unreadable


def test_a_ship_alone_says_what_it_says_among_others(fleet: Fleet) -> None:
    together = [summary(ship) for ship in compare_fleet(fleet, Options(ON), 2, jobs=1)]
    assert together == [summary(compare_ship(series, Options(ON), 2)) for series in fleet.ships]
    assert len(together) == len(SHIPS)


def test_worker_processes_say_the_same(fleet: Fleet) -> None:
    here = [summary(ship) for ship in compare_fleet(fleet, Options(ON), 2, jobs=1)]
    fleet.small = False
    assert [summary(ship) for ship in compare_fleet(fleet, Options(ON), 2, jobs=2)] == here


def test_validation_that_fails_is_done_book_by_book(fleet: Fleet, monkeypatch: pytest.MonkeyPatch) -> None:
    before = [summary(ship) for ship in compare_fleet(fleet, Options(ON), 2, jobs=1)]

    def failing(books: list[Book]) -> None:
        if len(books) > 1:
            raise ZeroDivisionError("planted")
        validate(books)

    monkeypatch.setattr("workbook_tools.compare.run.validate", failing)
    assert [summary(ship) for ship in compare_fleet(fleet, Options(ON), 2, jobs=1)] == before


def test_a_check_that_fails_on_one_book_names_it_and_goes_on(fleet: Fleet, monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(audit: object) -> list[object]:
        if audit.book.ship_value("name") == "Sella Marn" and audit.on == ON:  # type: ignore[attr-defined]
            raise ZeroDivisionError("planted")
        return []

    monkeypatch.setattr("workbook_tools.checks.audit.CHECKS", [*CHECKS, failing])
    compared = list(compare_fleet(fleet, Options(ON), 2, jobs=1))
    assert [len(ship.steps) for ship in compared] == [1, 0, 1]
    assert [len(ship.unreadable) for ship in compared] == [0, 1, 0]
    assert "ZeroDivisionError: planted" in compared[1].unreadable[0].problem
