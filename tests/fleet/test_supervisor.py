"""A book that kills, stalls or bloats its worker costs its own result only, and is named with why."""

from __future__ import annotations

import shutil
from collections.abc import Generator
from pathlib import Path
from typing import Any, cast

import pytest

from tests.fleet import faulty_worker
from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.fleet.job import Job, Outcome
from workbook_tools.fleet.run import check_paths
from workbook_tools.fleet.supervisor import Supervisor, WorkersFailed

JOB = Job(Options(ON))


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return clean().save(tmp_path_factory.mktemp("good") / "good.xlsx")


def _books(good: Path, folder: Path, *names: str) -> list[str]:
    return [str(shutil.copy(good, folder / f"{name}.xlsx")) for name in names]


def _run(paths: list[str], *, seconds: float = 60, memory: int = 400_000_000, watched: bool = False) -> list[Outcome]:
    supervisor = Supervisor(JOB, 2, seconds, memory, watched, faulty_worker.serve)
    found = dict(supervisor.outcomes(paths))
    assert sorted(found) == list(range(len(paths)))
    return [found[number] for number in range(len(paths))]


def _unread(outcomes: list[Outcome]) -> dict[str, str]:
    return {Path(outcome.book).stem: outcome.result().reason for outcome in outcomes if not outcome.readable}


def test_workers_say_what_this_process_says(good: Path, tmp_path: Path) -> None:
    paths = _books(good, tmp_path, "a", "b", "c")
    here = list(check_paths([Path(path) for path in paths], JOB.options))
    assert [outcome.result() for outcome in _run(paths)] == here


def test_a_book_that_kills_its_worker_is_named_and_the_others_are_done(good: Path, tmp_path: Path) -> None:
    unread = _unread(_run(_books(good, tmp_path, "a", "b", "dies", "c", "d", "e dies", "f")))
    assert list(unread) == ["dies", "e dies"]
    assert all("ended by signal 6" in reason and "save it anew" in reason for reason in unread.values())


def test_a_book_at_which_a_worker_ends_is_tried_once_more(good: Path, tmp_path: Path) -> None:
    outcomes = _run(_books(good, tmp_path, "a", "once", "b"))
    assert (tmp_path / "once.seen").exists()
    assert _unread(outcomes) == {}


def test_a_book_that_hangs_is_named_with_the_time_it_had(good: Path, tmp_path: Path) -> None:
    unread = _unread(_run(_books(good, tmp_path, "a", "hangs", "b"), seconds=2))
    assert list(unread) == ["hangs"]
    assert "not done within 2 seconds" in unread["hangs"]


@pytest.mark.parametrize("watched", [False, True], ids=["limited by the system", "watched"])
def test_a_book_that_eats_the_memory_is_named(good: Path, tmp_path: Path, watched: bool) -> None:
    unread = _unread(_run(_books(good, tmp_path, "a", "eats", "b"), watched=watched))
    assert list(unread) == ["eats"]
    assert "more memory than" in unread["eats"]


def test_books_that_kill_their_worker_together_are_tried_one_by_one(good: Path, tmp_path: Path) -> None:
    unread = _unread(_run(_books(good, tmp_path, "a", "together", "b", "c")))
    assert list(unread) == ["together"]


def test_a_book_whose_audit_kills_the_worker_is_found_among_those_audited_with_it(good: Path, tmp_path: Path) -> None:
    unread = _unread(_run(_books(good, tmp_path, "a", "b", "audited", "c", "d", "e")))
    assert list(unread) == ["audited"]
    assert "ended with status 5" in unread["audited"]


def test_workers_that_never_begin_end_the_run_with_a_reason(good: Path, tmp_path: Path) -> None:
    supervisor = Supervisor(JOB, 2, target=faulty_worker.serve_never)
    with pytest.raises(WorkersFailed, match="end before they begin"):
        list(supervisor.outcomes(_books(good, tmp_path, "a")))


def test_no_worker_is_left_when_a_run_is_left(good: Path, tmp_path: Path) -> None:
    supervisor = Supervisor(JOB, 2, 2, target=faulty_worker.serve)
    outcomes = cast("Generator[Any, None, None]", supervisor.outcomes(_books(good, tmp_path, "a", "b", "hangs")))
    next(outcomes)
    processes = [entry.process for entry in supervisor._workers]
    outcomes.close()
    assert processes
    assert not any(process.is_alive() for process in processes)
