"""One piece of work that ends or hangs its process costs itself only, and the order stays."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool

import pytest

from workbook_tools.compare import apart
from workbook_tools.compare.apart import Ended, each


def work(piece: str) -> str:
    """Double a text; some words end the process or hang in it."""
    if piece == "die":
        os._exit(3)
    if piece == "hang":
        time.sleep(600)
    return piece * 2


def told(made: list[str | Ended]) -> list[str]:
    return [str(entry).partition(":")[0] if isinstance(entry, Ended) else entry for entry in made]


def test_in_this_process_it_is_the_same() -> None:
    assert told(list(each(work, ["a", "b"], jobs=1, here=True))) == told(list(each(work, ["a", "b"], jobs=1)))


@pytest.mark.parametrize("jobs", [1, 2])
def test_what_ends_its_process_is_told_and_the_rest_is_there_in_order(jobs: int) -> None:
    pieces = ["a", "b", "die", "c", *"defghij", "die", "k"]
    expected = [piece * 2 if piece != "die" else "reading it ended the process that did so" for piece in pieces]
    assert told(list(each(work, pieces, jobs))) == expected


def test_a_piece_that_a_broken_pool_does_not_take_is_not_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    own = apart._pool
    refused: list[str] = []

    def breaks_once(jobs: int) -> ProcessPoolExecutor:
        pool = own(jobs)
        submit = pool.submit

        def refuse(work: Callable[..., str], piece: str) -> Future[str]:
            if piece == "c" and not refused:
                refused.append(piece)
                raise BrokenProcessPool
            return submit(work, piece)

        monkeypatch.setattr(pool, "submit", refuse)
        return pool

    monkeypatch.setattr(apart, "_pool", breaks_once)
    assert told(list(each(work, [*"abcd"], jobs=1))) == ["aa", "bb", "cc", "dd"]
    assert refused


def test_what_hangs_is_told_and_the_rest_is_there() -> None:
    made = told(list(each(work, ["a", "hang", "b"], jobs=2, seconds=8)))
    assert made == ["aa", "it was not done within 8 seconds", "bb"]


def test_nothing_given_is_nothing_made() -> None:
    assert list(each(work, [], jobs=2)) == []
