"""Hostile files: each ends in a finding or a clear line within 10 seconds and 1.5 GB, and the others are done."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.hostile.corpus import CORPUS, READ, build, copy_clean

MOST_BYTES = 1_500_000_000
MOST_SECONDS = 10
CLEAN = ("0-first.xlsx", "m-middle.xlsx", "z-last.xlsx")

pytestmark = pytest.mark.skipif(os.name == "nt", reason="limits of addresses are set there by no program")


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    folder = tmp_path_factory.mktemp("hostile")
    build(folder)
    copy_clean(folder / "clean", CLEAN)
    shared_by = max(1.0, os.getloadavg()[0] / (os.cpu_count() or 1))  # a busy machine gives a part of its time only
    seconds = str(MOST_SECONDS * shared_by)
    command = [sys.executable, "-m", "tests.hostile.run", str(folder), str(MOST_BYTES), seconds]
    root = Path(__file__).parents[2]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=root, timeout=900)
    assert done.returncode == 0, done.stderr[-3000:]
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    return {
        Path(line["book"]).relative_to(folder).parts[0]: line for line in lines if "/clean/" not in line["book"]
    } | {Path(line["book"]).name: line for line in lines if "/clean/" in line["book"]}


def test_there_are_many_of_them() -> None:
    assert len(CORPUS) >= 25


def test_every_book_has_an_outcome(outcomes: dict[str, dict[str, Any]]) -> None:
    assert set(outcomes) == {*CORPUS, *CLEAN}


@pytest.mark.parametrize("name", CLEAN)
def test_the_clean_books_among_them_are_read(outcomes: dict[str, dict[str, Any]], name: str) -> None:
    assert (outcomes[name]["read"], outcomes[name]["findings"]) == (True, 0)


@pytest.mark.parametrize("name", sorted(CORPUS))
def test_a_hostile_file_ends_in_a_finding_or_a_clear_line(outcomes: dict[str, dict[str, Any]], name: str) -> None:
    outcome = outcomes[name]
    words = CORPUS[name][1]
    if words == READ and outcome["read"]:
        assert outcome["reason"] == ""
    else:
        assert words in outcome["reason"]
        assert "\n" not in outcome["reason"]
        assert len(outcome["reason"]) < 400
    assert "fault of the program" not in outcome["reason"]
    assert "not done within" not in outcome["reason"]


@pytest.mark.parametrize("name", sorted(CORPUS))
def test_a_small_one_alone_says_the_same(outcomes: dict[str, dict[str, Any]], name: str) -> None:
    outcome = outcomes[name]
    if "here" in outcome:
        assert outcome["here"] == outcome["reason"]
        assert outcome["seconds here"] < MOST_SECONDS
