"""A cluster says byte for byte what one machine says, also when one of its workers is killed, and holds little."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import distributed
import pytest
from click.testing import CliRunner

from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.cli import main
from workbook_tools.fleet import cluster as cluster_module
from workbook_tools.fleet.cluster import Cluster, ClusterError, check_there
from workbook_tools.fleet.job import Job, Outcome
from workbook_tools.fleet.run import check_fleet

BOOKS = 24
JOB = Job(Options(ON), form="jsonl")


@pytest.fixture(scope="module")
def two_workers() -> Iterator[distributed.LocalCluster]:
    """A cluster of two worker processes on this machine."""
    start: Any = distributed.LocalCluster
    with start(n_workers=2, threads_per_worker=1, dashboard_address=None) as running:
        yield running


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """Books of which some have a fault, one is no workbook, and one is not there."""
    folder = tmp_path_factory.mktemp("returns")
    paths = []
    for number in range(BOOKS):
        book = clean()
        book.ship["name"] = f"Orrin Vale {number}"
        if number % 3 == 0:
            book.lot("bucket")["quantity"] = 1
        paths.append(str(book.save(folder / f"{number:02}.xlsx")))
    (folder / "05.xlsx").write_text("no workbook")
    (folder / "11.xlsx").unlink()
    return paths


def plain(outcomes: Iterator[Outcome]) -> list[tuple[Any, ...]]:
    return [outcome.to_plain() for outcome in outcomes]


@pytest.fixture(scope="module")
def here(books: list[str]) -> list[tuple[Any, ...]]:
    """What one machine says."""
    return plain(check_fleet(books, JOB))


def test_a_worker_killed_in_mid_run_changes_nothing(
    two_workers: distributed.LocalCluster, books: list[str], here: list[tuple[Any, ...]]
) -> None:
    there: list[Outcome] = []
    with Cluster(two_workers.scheduler_address, JOB, batch=3) as cluster:
        for number, outcome in cluster.outcomes(books):
            assert number == len(there)
            there.append(outcome)
            if number == 4:
                victim = next(iter(two_workers.workers.values())).pid
                os.kill(victim, signal.SIGKILL)
    assert plain(iter(there)) == here
    assert victim not in {worker.pid for worker in two_workers.workers.values()}


def test_few_tasks_are_out_at_a_time(
    two_workers: distributed.LocalCluster,
    books: list[str],
    here: list[tuple[Any, ...]],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    out, most = 0, 0
    submit, result = Cluster._submit, Cluster._result

    def counted_submit(self: Cluster, batch: list[str]) -> Any:
        nonlocal out, most
        out += 1
        most = max(most, out)
        return submit(self, batch)

    def counted_result(self: Cluster, future: Any) -> list[Outcome]:
        nonlocal out
        out -= 1
        return result(self, future)

    monkeypatch.setattr(Cluster, "_submit", counted_submit)
    monkeypatch.setattr(Cluster, "_result", counted_result)
    with Cluster(two_workers.scheduler_address, JOB, batch=2) as cluster:
        assert plain(outcome for _, outcome in cluster.outcomes(books)) == here
    assert most < BOOKS / 2
    assert most <= 2 * 2  # threads, and tasks for each


@pytest.mark.parametrize("form", ["text", "json", "jsonl"])
def test_the_command_prints_the_same_bytes(two_workers: distributed.LocalCluster, books: list[str], form: str) -> None:
    there = [path for path in books if os.path.exists(path)]
    asked = ["check", *there, "--on", ON.isoformat(), "--format", form]
    alone = CliRunner().invoke(main, asked)
    clustered = CliRunner().invoke(main, [*asked, "--cluster", two_workers.scheduler_address])
    assert (clustered.exit_code, clustered.stdout_bytes) == (alone.exit_code, alone.stdout_bytes)
    assert alone.exit_code == 3


def test_relative_paths_are_counted_from_the_command_s_folder_and_named_as_given(
    two_workers: distributed.LocalCluster, books: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(Path(books[0]).parent)
    with Cluster(two_workers.scheduler_address, JOB) as cluster:
        [(_, outcome)] = cluster.outcomes(["00.xlsx"])
    assert (outcome.book, outcome.readable) == ("00.xlsx", True)


def test_an_archive_holds_the_same_run_as_from_one_machine(
    two_workers: distributed.LocalCluster, books: list[str], tmp_path: Path
) -> None:
    asked = ["check", *(path for path in books if os.path.exists(path)), "--on", ON.isoformat(), "--archive"]
    alone = CliRunner().invoke(main, [*asked, str(tmp_path)])
    clustered = CliRunner().invoke(main, [*asked, str(tmp_path), "--cluster", two_workers.scheduler_address])
    assert "archived as run-" in alone.stderr
    assert "this run is there already" in clustered.stderr


# ---- what a cluster cannot do is told


def test_a_file_that_the_machines_do_not_see_is_told(
    two_workers: distributed.LocalCluster, books: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(Path(books[0]).parent)
    monkeypatch.setattr(os, "getcwd", lambda: str(tmp_path))
    with (
        Cluster(two_workers.scheduler_address, JOB) as cluster,
        pytest.raises(ClusterError, match=r"does not see 00\.xlsx: share the folder"),
    ):
        list(cluster.outcomes(["00.xlsx"]))


def test_another_version_on_a_machine_is_told() -> None:
    with pytest.raises(ClusterError, match=r"this one 0\.0\.0: install the same"):
        check_there("0.0.0", "/", [], JOB)


@pytest.mark.parametrize(
    ("address", "said"),
    [
        ("tcp://127.0.0.1:9", "no cluster answers at tcp://127.0.0.1:9"),
        ("no address at all", "is no scheduler's address: write it as tcp://machine:8786"),
        ("http://127.0.0.1:9", "is no scheduler's address"),
        ("tcp://machine", "is no scheduler's address"),
    ],
)
def test_2_where_no_cluster_answers(books: list[str], address: str, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster_module, "CONNECT_SECONDS", 1)
    result = CliRunner().invoke(main, ["check", books[0], "--cluster", address])
    assert result.exit_code == 2
    assert said in " ".join(result.output.split())
