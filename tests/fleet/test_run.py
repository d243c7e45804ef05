"""One bad book never stops the others, and a fault of the program is told with its book."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.checks.registry import CHECKS
from workbook_tools.fleet import check_paths, find_books
from workbook_tools.reading import load


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("a", "b", "c"):
        book = clean()
        book.ship["name"] = f"Ship {name}"
        book.save(tmp_path / f"{name}.xlsx")
    return tmp_path


def test_a_check_that_fails_on_one_book_names_it_and_goes_on(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(audit: object) -> list[object]:
        if audit.book.ship_value("name") == "Ship b":  # type: ignore[attr-defined]
            raise ZeroDivisionError("planted")
        return []

    monkeypatch.setattr("workbook_tools.checks.audit.CHECKS", [*CHECKS, failing])
    results = list(check_paths(find_books([str(folder)]), Options(ON)))
    assert [result.readable for result in results] == [True, False, True]
    assert "ZeroDivisionError: planted" in results[1].reason
    assert "fault of the program" in results[1].reason


def test_a_book_alone_says_what_it_says_among_others(folder: Path) -> None:
    together = list(check_paths(find_books([str(folder)]), Options(ON)))
    for result in together:
        (alone,) = check_paths([Path(result.book)], Options(ON))
        assert (alone.findings, alone.states) == (result.findings, result.states)


def test_a_book_named_in_two_ways_is_taken_once(folder: Path) -> None:
    relative = os.path.relpath(folder / "a.xlsx")
    assert len(find_books([relative, str(folder / "a.xlsx")])) == 1


def test_a_binary_book_is_read_in_a_process_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "book.xls"
    path.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(4000))
    (result,) = check_paths([path], Options(ON))
    assert not result.readable
    with pytest.raises(Exception, match="damaged"):
        load(path)
