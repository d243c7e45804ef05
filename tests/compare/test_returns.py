"""Returns are matched by IMO number, by name where one is missing; whatever has no partner is said."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.workbooks import clean
from workbook_tools.compare import NothingToCompare, gather
from workbook_tools.compare.returns import BY_HAND, BY_IMO, BY_NAME, Fleet
from workbook_tools.fleet.run import NoBooks

# Numbers that no ship carries, with a right check digit.
FIRST, SECOND = "3100019", "3100021"


def save(path: Path, name: str = "Orrin Vale", imo: str = FIRST, recorded: date | None = None) -> Path:
    path.parent.mkdir(exist_ok=True)
    book = clean()
    book.ship.update(name=name, imo_number=imo)
    if recorded is not None:
        book.ship["record_date"] = recorded
    return book.save(path)


def names(fleet: Fleet) -> list[tuple[str, str]]:
    return [(series.newest.name, series.matched_by) for series in fleet.ships]


def alone(fleet: Fleet) -> list[tuple[str, str]]:
    return [(found.path.name, why) for _, found, why in fleet.alone]


def places(tmp_path: Path, *folders: str) -> list[str]:
    return [str(tmp_path / folder) for folder in folders]


def test_ships_are_matched_by_number_whatever_file_and_name(tmp_path: Path) -> None:
    save(tmp_path / "old" / "1.xlsx", "Orrin Vale", FIRST)
    save(tmp_path / "old" / "2.xlsx", "Sella Marn", SECOND)
    save(tmp_path / "new" / "9.xlsx", "Sella Marn II", SECOND)
    save(tmp_path / "new" / "8.xlsx", "Orrin Vale", FIRST)
    fleet = gather(places(tmp_path, "old", "new"))
    assert names(fleet) == [("Orrin Vale", BY_IMO), ("Sella Marn II", BY_IMO)]
    assert not fleet.alone


@pytest.mark.parametrize(("old", "new"), [("", FIRST), (FIRST, ""), ("", ""), ("3100018", FIRST)])
def test_a_missing_or_wrong_number_falls_back_to_the_name_and_says_so(tmp_path: Path, old: str, new: str) -> None:
    save(tmp_path / "old" / "a.xlsx", "Orrin Vale", old)
    save(tmp_path / "new" / "a.xlsx", "ORRIN  VALE", new)
    assert names(gather(places(tmp_path, "old", "new"))) == [("ORRIN VALE", BY_NAME)]


def test_a_name_that_two_ships_bear_decides_nothing(tmp_path: Path) -> None:
    save(tmp_path / "old" / "a.xlsx", imo=FIRST)
    save(tmp_path / "old" / "b.xlsx", imo=SECOND)
    save(tmp_path / "new" / "c.xlsx", imo="")
    fleet = gather(places(tmp_path, "old", "new"))
    assert fleet.ships == []
    assert ("c.xlsx", "it gives no valid IMO number, and 2 ships go by that name") in alone(fleet)
    assert len(fleet.alone) == 3


def test_a_ship_on_one_side_only_is_said(tmp_path: Path) -> None:
    save(tmp_path / "old" / "a.xlsx", "Orrin Vale", FIRST)
    save(tmp_path / "new" / "b.xlsx", "Sella Marn", SECOND)
    save(tmp_path / "new" / "c.xlsx", "", "")
    assert alone(gather(places(tmp_path, "old", "new"))) == [
        ("c.xlsx", "it gives neither a valid IMO number nor a ship's name"),
        ("a.xlsx", "no return of this ship in another place"),
        ("b.xlsx", "no return of this ship in another place"),
    ]


def test_of_several_returns_the_latest_record_date_is_taken(tmp_path: Path) -> None:
    save(tmp_path / "old" / "a.xlsx", recorded=date(2026, 9, 1))
    save(tmp_path / "new" / "a.xlsx", recorded=date(2026, 11, 20))
    save(tmp_path / "new" / "b.xlsx", recorded=date(2026, 11, 2))
    save(tmp_path / "new" / "c.xlsx")
    [series] = gather(places(tmp_path, "old", "new")).ships
    assert series.newest.path.name == "a.xlsx"
    assert [text.partition(": ")[2] for text in series.left_out] == ["an earlier record date"] * 2


def test_without_dates_the_last_file_by_name_is_taken(tmp_path: Path) -> None:
    save(tmp_path / "old" / "a.xlsx")
    save(tmp_path / "new" / "a-1.xlsx")
    save(tmp_path / "new" / "a-2.xlsx")
    [series] = gather(places(tmp_path, "old", "new")).ships
    assert series.newest.path.name == "a-2.xlsx"
    assert [text.partition(": ")[2] for text in series.left_out] == ["an earlier file name"]


def test_a_place_without_a_return_leaves_a_gap(tmp_path: Path) -> None:
    for folder in ("1", "3"):
        save(tmp_path / folder / "a.xlsx")
    save(tmp_path / "2" / "b.xlsx", "Sella Marn", SECOND)
    [series] = gather(places(tmp_path, "1", "2", "3")).ships
    assert [found is not None for found in series.returns] == [True, False, True]


def test_a_book_that_cannot_be_read_leaves_the_rest(tmp_path: Path) -> None:
    for folder in ("old", "new"):
        save(tmp_path / folder / "a.xlsx")
    (tmp_path / "new" / "b.xlsx").write_text("no workbook")
    fleet = gather(places(tmp_path, "old", "new"))
    assert names(fleet) == [("Orrin Vale", BY_IMO)]
    assert [(found.path.name, "not a workbook" in found.problem) for found in fleet.unreadable] == [("b.xlsx", True)]


# ---- books named one by one


@pytest.mark.parametrize(
    ("old", "new", "by"),
    [
        (("Orrin Vale", FIRST), ("Orrin Vale Star", FIRST), BY_IMO),
        (("Orrin Vale", ""), ("Orrin Vale", FIRST), BY_NAME),
        (("", ""), ("Orrin Vale", FIRST), BY_HAND),
        (("", ""), ("", ""), BY_HAND),
    ],
)
def test_two_books_named_are_of_one_ship(tmp_path: Path, old: tuple[str, str], new: tuple[str, str], by: str) -> None:
    paths = [str(save(tmp_path / "old.xlsx", *old)), str(save(tmp_path / "new.xlsx", *new))]
    assert [series.matched_by for series in gather(paths).ships] == [by]


@pytest.mark.parametrize("new", [("Orrin Vale", SECOND), ("Sella Marn", "")])
def test_unless_they_say_that_they_are_not(tmp_path: Path, new: tuple[str, str]) -> None:
    paths = [str(save(tmp_path / "old.xlsx", "Orrin Vale", FIRST)), str(save(tmp_path / "new.xlsx", *new))]
    with pytest.raises(NothingToCompare, match="two ships, nothing to compare"):
        gather(paths)


def test_a_place_without_a_book_is_named(tmp_path: Path) -> None:
    with pytest.raises(NoBooks, match="nowhere"):
        gather([str(save(tmp_path / "a.xlsx")), str(tmp_path / "nowhere")])
