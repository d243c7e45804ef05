"""`davitbook check` on many books: streamed lines, an interruption, going on, and outputs that are whole or absent."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.workbooks import clean
from workbook_tools.cli import main

ON = ["--on", "2026-11-25"]
COMMAND = [sys.executable, "-m", "workbook_tools", "check"]


def _run(*arguments: str | Path, **options: str) -> Result:
    return CliRunner().invoke(main, ["check", *map(str, arguments), *ON], **options)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def fleet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Sixty books, four of them no books: enough to be interrupted in the middle."""
    folder = tmp_path_factory.mktemp("fleet")
    book = clean()
    good = book.save(folder / "return-000.xlsx")
    book.lot("bucket")["quantity"] = 1
    short = book.save(folder / "return-001.xlsx")
    for number in range(2, 60):
        target = folder / f"return-{number:03}.xlsx"
        if number % 15 == 7:
            target.write_text("no book")
        else:
            shutil.copy(short if number % 5 == 0 else good, target)
    return folder


@pytest.fixture(scope="module")
def whole(fleet: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """What an uninterrupted run writes, by form."""
    folder = tmp_path_factory.mktemp("whole")
    for form in ("jsonl", "json", "text"):
        assert _run(fleet, "--format", form, "--out", folder / form).exit_code == 3
    assert sorted(path.name for path in folder.iterdir()) == ["json", "jsonl", "text"]
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_lines_are_the_books_of_the_document(whole: dict[str, bytes]) -> None:
    lines = [json.loads(line) for line in whole["jsonl"].decode().split("\n")[:-1]]
    assert lines == json.loads(whole["json"])["books"]
    assert [Path(line["book"]).name for line in lines] == [f"return-{number:03}.xlsx" for number in range(60)]


def test_the_text_names_every_book(whole: dict[str, bytes]) -> None:
    text = whole["text"].decode()
    assert "60 books, worst first" in text
    assert text.count("NOT READ") == 4


@pytest.mark.parametrize("jobs", ["1", "3"])
def test_more_workers_say_the_same(fleet: Path, whole: dict[str, bytes], tmp_path: Path, jobs: str) -> None:
    out = tmp_path / "out"
    assert _run(fleet, "--format", "jsonl", "--out", out, "--jobs", jobs).exit_code == 3
    assert out.read_bytes() == whole["jsonl"]


@pytest.mark.skipif(os.name == "nt", reason="Ctrl-C is sent otherwise there")
@pytest.mark.parametrize("form", ["jsonl", "json", "text"])
def test_a_run_that_was_interrupted_goes_on_to_the_same_bytes(
    fleet: Path, whole: dict[str, bytes], tmp_path: Path, form: str
) -> None:
    out, journal = tmp_path / "out", tmp_path / "out.journal"
    arguments = [*COMMAND, str(fleet), *ON, "--format", form, "--out", str(out)]
    run = subprocess.Popen([*arguments, "--jobs", "1"], stderr=subprocess.PIPE, text=True, start_new_session=True)
    begun = time.monotonic()
    while time.monotonic() - begun < 120 and not (journal.exists() and journal.stat().st_size > 1000):
        time.sleep(0.01)
    os.killpg(run.pid, signal.SIGINT)  # as a terminal does: to every process of the run
    _, said = run.communicate(timeout=60)
    assert run.returncode == 130
    assert "Stopped after" in said
    assert f"What is done is kept in {journal}" in " ".join(said.split())
    assert "Traceback" not in said
    assert [path.name for path in tmp_path.iterdir()] == ["out.journal"]

    again = subprocess.run([*arguments, "--resume"], capture_output=True, text=True, check=False)
    assert again.returncode == 3
    assert "Going on with" in again.stderr
    assert out.read_bytes() == whole[form]
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.skipif(os.name == "nt", reason="signals are sent otherwise there")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
@pytest.mark.parametrize("command", ["check", "compare"])
def test_whenever_it_is_ended_it_says_so_in_words_and_leaves_nothing_half_written(
    fleet: Path, tmp_path: Path, command: str, number: int
) -> None:
    places = [str(fleet)] if command == "check" else [str(fleet), str(fleet)]
    arguments = [sys.executable, "-m", "workbook_tools", command, *places, "--format", "json"]
    for seconds in (0.6, 1.2):  # while it loads, while workers begin
        run = subprocess.Popen(
            [*arguments, "--out", str(tmp_path / "out"), "--jobs", "2"],
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        time.sleep(seconds)
        os.killpg(run.pid, number)
        _, said = run.communicate(timeout=60)
        if (tmp_path / "out").exists():
            (tmp_path / "out").unlink()  # it was done before
            continue
        assert "Traceback" not in said
        if run.returncode == 130:
            assert "Stopped" in said
        else:
            assert run.returncode == -number  # not even begun
        assert {path.name for path in tmp_path.iterdir()} <= {"out.journal"}


@pytest.mark.parametrize("option", ["--out", "--report", "--archive", "--followups"])
def test_an_output_that_cannot_be_written_is_told_before_the_work(fleet: Path, tmp_path: Path, option: str) -> None:
    taken = tmp_path / "taken"
    if option in ("--out", "--report"):
        refused = {"there is no folder": tmp_path / "gone" / "out.html", "is a (folder|directory)": tmp_path / "a.html"}
        refused["is a (folder|directory)"].mkdir()
    else:
        taken.touch()
        refused = {"is a file": taken, "there is no folder": taken / "inside"}
    for words, target in refused.items():
        ended = _run(fleet, option, target)
        assert ended.exit_code == 2
        assert re.search(words, " ".join(ended.output.split()))
        assert str(target) in ended.output.replace("\n", "")
        assert "worst first" not in ended.output


def test_resuming_with_another_day_is_refused(fleet: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    _run(fleet, "--out", out, "--resume")
    shutil.copy(fleet / "return-000.xlsx", tmp_path / "book.xlsx")
    from workbook_tools.checks import Options
    from workbook_tools.cli.common import Day
    from workbook_tools.fleet.job import Job
    from workbook_tools.fleet.journal import Journal

    Journal(
        tmp_path / "out.journal", Job(Options(Day().convert("2026-01-01", None, None)), "text", False), False
    ).close()
    result = _run(tmp_path / "book.xlsx", "--out", out, "--resume")
    assert result.exit_code == 2
    assert "--on 2026-01-01 then, 2026-11-25 now" in " ".join(result.output.split())


def test_resuming_without_a_file_says_what_is_missing(fleet: Path) -> None:
    result = _run(fleet / "return-000.xlsx", "--resume")
    assert result.exit_code == 2
    assert "--out" in result.output


def test_a_list_names_books_folders_and_patterns(fleet: Path, tmp_path: Path) -> None:
    listed = tmp_path / "list.txt"
    listed.write_text(
        f"# returned in May\n\n{fleet / 'return-000.xlsx'}\n{fleet / 'return-01*.xlsx'}\n", encoding="utf-8"
    )
    result = _run("--list", listed, "--format", "jsonl")
    assert len(result.stdout.splitlines()) == 11
    from_input = _run("--list", "-", "--format", "jsonl", input=listed.read_text())
    assert from_input.stdout == result.stdout


def test_a_list_without_a_book_says_so(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("# none\n")
    result = _run("--list", tmp_path / "list.txt")
    assert result.exit_code == 2
    assert "names no workbook" in result.output


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("form", ["text", "json", "jsonl"])
def test_a_full_disk_is_said_in_a_line(fleet: Path, form: str) -> None:
    result = _run(fleet / "return-000.xlsx", "--format", form, "--out", "/dev/full")
    assert result.exit_code == 2
    assert "No space left on device" in result.output
    assert "Traceback" not in result.output


def test_nothing_is_said_of_progress_where_nobody_watches(fleet: Path) -> None:
    command = [*COMMAND, str(fleet / "return-00*.xlsx"), *ON, "--format", "jsonl"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.stderr == ""


@pytest.mark.skipif(os.name == "nt", reason="no pseudo-terminal there")
def test_a_terminal_shows_how_far_and_how_fast(fleet: Path, tmp_path: Path) -> None:
    import pty

    ours, theirs = pty.openpty()
    command = [*COMMAND, str(fleet / "return-00*.xlsx"), *ON, "--format", "jsonl", "--out", str(tmp_path / "out")]
    run = subprocess.Popen(command, stderr=theirs, stdout=subprocess.DEVNULL)
    os.close(theirs)
    seen = b""
    try:
        while piece := os.read(ours, 1000):
            seen += piece
    except OSError:  # the other end is closed
        pass
    run.wait()
    assert b"books/s" in seen
    assert b"10/10" in seen
