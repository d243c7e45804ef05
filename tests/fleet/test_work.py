"""Books are read and audited some at a time: each comes out as it does alone, also where memory runs short."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_together
from workbook_tools.fleet import work
from workbook_tools.fleet.job import Job, Outcome
from workbook_tools.reading import load

JOB = Job(Options(ON), "jsonl")


@pytest.fixture(scope="module")
def paths(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """Thirty books, no two alike, so that they do not go into one portion; one of them is none."""
    folder = tmp_path_factory.mktemp("books")
    for number in range(30):
        book = clean()
        book.ship["name"] = f"Ship {number}"
        book.rows["inventory"] = book.rows["inventory"][number:]
        book.save(folder / f"{number:02}.xlsx")
    (folder / "07.xlsx").write_bytes(b"no workbook")
    return sorted(map(str, folder.iterdir()))


def _done(paths: Sequence[str]) -> list[Outcome]:
    return list(work.check_batch(paths, JOB))


@pytest.fixture(scope="module")
def each_alone(paths: list[str]) -> list[Outcome]:
    return [outcome for path in paths for outcome in _done([path])]


def test_books_together_come_out_as_each_alone(paths: list[str], each_alone: list[Outcome]) -> None:
    assert _done(paths) == each_alone
    assert [outcome.readable for outcome in each_alone].index(False) == 7


def test_books_whose_audits_do_not_fit_into_memory_together_are_audited_alone(
    paths: list[str], each_alone: list[Outcome], monkeypatch: pytest.MonkeyPatch
) -> None:
    def too_much(books: Sequence[Any], options: Options) -> Any:
        if len(books) > 1:
            return [*audit_together(books[:-1], options), MemoryError()]
        return audit_together(books, options)

    monkeypatch.setattr(work, "audit_together", too_much)
    assert _done(paths) == each_alone


def test_books_that_do_not_fit_into_memory_together_are_read_alone(
    paths: list[str], each_alone: list[Outcome], monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Path] = []

    def too_much(path: Path, apart: bool) -> Any:
        opened.append(path)
        if len(opened) == 5:  # the fifth of the first portion
            raise MemoryError
        return load(path, apart=apart)

    monkeypatch.setattr(work, "load", too_much)
    assert _done(paths) == each_alone
    assert len(opened) == len(paths) + 5


def test_a_book_that_does_not_fit_into_memory_by_itself_is_named(
    paths: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def too_much(path: Path, apart: bool) -> Any:
        if path.name == "03.xlsx":
            raise MemoryError
        return load(path, apart=apart)

    monkeypatch.setattr(work, "load", too_much)
    unread = {Path(outcome.book).name: outcome.part for outcome in _done(paths) if not outcome.readable}
    assert sorted(unread) == ["03.xlsx", "07.xlsx"]
    assert "takes more memory than it may" in unread["03.xlsx"]


@given(st.lists(st.integers(0, 40), max_size=80), st.integers(1, 100))
@example([200, 1, 1], 100)
def test_portions_hold_all_in_order_and_little_at_a_time(sizes: list[int], most: int) -> None:
    portions = list(work._portions(sizes, most))
    assert [number for portion in portions for number in portion] == list(range(len(sizes)))
    for portion in portions:
        assert 0 < len(portion) <= 25
        assert len(portion) == 1 or sum(sizes[number] for number in portion) <= most
