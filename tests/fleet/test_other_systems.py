"""Workers as Windows has them: begun anew each (spawn), with nothing but the supervisor to watch their memory.

No Windows runs here. What differs there in how workers begin and are held in can be had on any system: the start
method, and a memory limit that the system does not know.
"""

from __future__ import annotations

import json
import multiprocessing
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.fleet import faulty_worker
from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.fleet.job import Job, Outcome
from workbook_tools.fleet.run import check_paths
from workbook_tools.fleet.supervisor import Supervisor

JOB = Job(Options(ON))

# The command, on a system that knows neither forkserver nor a limit of a process's memory.
_COMMAND = """
import multiprocessing, sys
multiprocessing.get_all_start_methods = lambda: ["spawn"]
import workbook_tools.fleet.worker
workbook_tools.fleet.worker.system_limits_memory = lambda: False
from workbook_tools.cli import main
main(sys.argv[1:])
"""


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return clean().save(tmp_path_factory.mktemp("good") / "good.xlsx")


def _books(good: Path, folder: Path, *names: str) -> list[str]:
    folder.mkdir(exist_ok=True)
    return [str(shutil.copy(good, folder / f"{name}.xlsx")) for name in names]


@pytest.fixture
def spawned(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(multiprocessing, "get_all_start_methods", lambda: ["spawn"])


def _run(paths: list[str], seconds: float = 60) -> list[Outcome]:
    supervisor = Supervisor(JOB, 2, seconds, 400_000_000, watched=True, target=faulty_worker.serve)
    assert supervisor._context.get_start_method() == "spawn"
    found = dict(supervisor.outcomes(paths))
    return [found[number] for number in range(len(paths))]


def test_workers_begun_anew_say_what_this_process_says(good: Path, tmp_path: Path, spawned: None) -> None:
    paths = _books(good, tmp_path, "a", "b", "c")
    here = list(check_paths([Path(path) for path in paths], JOB.options))
    assert [outcome.result() for outcome in _run(paths)] == here


def test_a_book_that_harms_a_worker_begun_anew_costs_itself(good: Path, tmp_path: Path, spawned: None) -> None:
    paths = _books(good, tmp_path, "a", "dies", "b", "eats", "c", "hangs", "d")
    unread = {Path(outcome.book).stem: outcome.result().reason for outcome in _run(paths, 6) if not outcome.readable}
    assert list(unread) == ["dies", "eats", "hangs"]
    assert "more memory than a book may" in unread["eats"]
    assert "not done within 6 seconds" in unread["hangs"]


def test_the_command_says_the_same_with_workers_begun_anew(good: Path, tmp_path: Path) -> None:
    _books(good, tmp_path / "returns", *(f"ship {number:02}" for number in range(25)))
    (tmp_path / "returns" / "ship 07.xlsx").write_bytes(b"PK no book")
    options = ["check", "returns", "--on", ON.isoformat(), "--jobs", "2", "--format", "jsonl"]
    said = {}
    for name, program in (("here", ["-m", "workbook_tools"]), ("there", ["-c", _COMMAND])):
        command = [sys.executable, *program, *options, "--out", f"{name}.jsonl"]
        ended = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False)
        assert ended.stderr == "", ended.stderr
        said[name] = (ended.returncode, (tmp_path / f"{name}.jsonl").read_text(encoding="utf-8"))
    assert said["here"] == said["there"]
    assert [json.loads(line)["readable"] for line in said["here"][1].splitlines()].count(False) == 1
