"""Every command that the pages name: those in shell blocks are run, and all of them are commands that there are."""

from __future__ import annotations

import re
import shlex
from datetime import date
from pathlib import Path

import click
import pytest

from tests.docs.pages import blocks, name_of, pages, spans
from tests.docs.session import BY_HAND, NOT_RUN, Session, in_time, lines, reason_not_run
from workbook_tools.cli import main

OUTCOMES = (0, 1)  # 1: action is required, which is no fault of the page
WITH_COMMANDS = [page for page in pages() if any(reason_not_run(line) is None for line in lines(page))]
# Pages whose commands in running text and tables are run too.
TASK_BY_TASK = ("docs/guide.md",)


@pytest.mark.parametrize("page", WITH_COMMANDS, ids=name_of)
def test_every_command_of_a_page_runs_one_after_the_other(page: Path, tmp_path: Path) -> None:
    commands = lines(page)
    if name_of(page) in TASK_BY_TASK:
        commands += [span for span in spans(page) if span.startswith("davitbook ") and "FILE.toml" not in span]
    session = Session(tmp_path, name_of(page), commands)
    for line in commands:
        if reason_not_run(line) is None:
            done = session.run(line)
            assert done.returncode in OUTCOMES, f"{line}\n{done.stdout[-2000:]}\n{done.stderr}"
            assert "Traceback" not in done.stderr, line
        if by_hand := BY_HAND.get((name_of(page), line)):
            by_hand(tmp_path)


def _named() -> list[tuple[str, str]]:
    """Each page with each davitbook command that it names, anywhere."""
    found = []
    for page in pages():
        text = [
            *spans(page),
            *lines(page),
            *(line for body in blocks(page, "powershell") for line in body.splitlines()),
        ]
        commands = {re.sub(r"^\S*\\", "", part.strip()) for line in text for part in re.split(r"[;>]", line)}
        found += [(name_of(page), command) for command in sorted(commands) if command.startswith("davitbook ")]
    return found


def _unknown(words: list[str]) -> list[str]:
    """The words of a command line that are no command or no option of it."""
    command: click.Command = main
    unknown = []
    for word in words:
        if isinstance(command, click.Group) and not word.startswith("-"):
            following = command.commands.get(word)
            if following is None:
                return [word]
            command = following
        elif word.startswith("--") or re.fullmatch(r"-[a-z]", word):
            known = {option for parameter in command.params for option in parameter.opts} | {"--help", "-h"}
            unknown += [] if word in known else [word]
    return unknown


@pytest.mark.parametrize(("page", "command"), _named())
def test_a_command_that_is_named_is_there_with_its_options(page: str, command: str) -> None:
    assert _unknown(shlex.split(command, comments=True)[1:]) == [], f"{page}: {command}"


def test_what_is_done_by_hand_follows_a_line_that_is_there() -> None:
    every = {(name_of(page), line) for page in pages() for line in lines(page)}
    assert set(BY_HAND) <= every


def test_what_is_not_run_is_on_some_page() -> None:
    every = [line for page in pages() for line in lines(page)]
    assert [begin for begin in NOT_RUN if not any(line.startswith(begin) for line in every)] == []


@pytest.mark.parametrize(
    ("command", "today", "moved"),
    [
        ("--until 2027-12-31", date(2026, 11, 25), "--until 2027-12-31"),
        ("--until 2027-12-31", date(2029, 1, 1), "--until 2030-12-31"),
        ("returns/2026-10", date(2029, 1, 1), "returns/2026-10"),
    ],
)
def test_the_days_of_a_page_move_on_with_the_calendar(command: str, today: date, moved: str) -> None:
    assert in_time(command, today) == moved


def test_a_command_that_is_none_is_seen() -> None:
    assert _unknown(["chekc"]) == ["chekc"]
    assert _unknown(["check", "--fromat", "json"]) == ["--fromat"]
    assert _unknown(["check", "book.xlsx", "--format", "json"]) == []
