"""A real headless Calc with the extension installed, for the tests and the benchmark.

The office runs on a profile of its own; nobody's settings matter and a running office is not disturbed. The extension
is installed through the Extension Manager's own interface, which works as root too, where `unopkg add` is refused.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

OFFICE_SIDE = Path(__file__).with_name("office_side.py")
# Debian's own Python: LibreOffice's `uno` is installed for no other.
SYSTEM_PYTHON = "/usr/bin/python3"
TIMEOUT_S = 300
_MISSING = "LibreOffice Calc is not installed ({}): the README's test command installs it"


class Office:
    """Commands to a running office; see office_side.py for what each does."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process

    def ask(self, command: str, *arguments: Any) -> Any:
        """Do a command and return its answer. Fails the test when the office does not do it."""
        result = self._told(command, arguments)
        if "error" in result:
            pytest.fail(result["error"])
        return result["answer"]

    def refused(self, command: str, *arguments: Any) -> str:
        """Why the office does not do a command. Fails the test when it does."""
        result = self._told(command, arguments)
        if "error" not in result:
            pytest.fail(f"{command} was done: {result['answer']}")
        return str(result["error"])

    def _told(self, command: str, arguments: tuple[Any, ...]) -> dict[str, Any]:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        alarm = threading.Timer(TIMEOUT_S, self._process.kill)
        alarm.start()
        try:
            self._process.stdin.write(json.dumps([command, *arguments]) + "\n")
            self._process.stdin.flush()
            line = self._process.stdout.readline()
        finally:
            alarm.cancel()
        if not line:
            pytest.fail(f"the office ended, or gave no answer in {TIMEOUT_S} s, at {command}", pytrace=False)
        told: dict[str, Any] = json.loads(line)
        return told

    @contextmanager
    def document(self, path: Path | None = None, read_only: bool = False) -> Iterator[int]:
        """Open a document, or a new one, and close it in the end; its number."""
        number = self.ask("open", None if path is None else str(path), read_only)
        try:
            yield number
        finally:
            self.ask("close", number)


def need_office() -> str:
    """The office program. Fails the test where it, or its Python bridge, is missing."""
    program = shutil.which("soffice")
    if program is None:
        pytest.fail(_MISSING.format("no soffice"), pytrace=False)
    if subprocess.run([SYSTEM_PYTHON, "-c", "import uno"], capture_output=True, check=False).returncode:
        pytest.fail(_MISSING.format("no uno for the system's Python"), pytrace=False)
    return program


@contextmanager
def running(profile: Path) -> Iterator[Office]:
    """An office on this profile, ended at the end."""
    need_office()
    process = subprocess.Popen(
        [SYSTEM_PYTHON, str(OFFICE_SIDE), str(profile)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        yield Office(process)
    finally:
        if process.stdin is not None:
            process.stdin.close()
        try:
            process.wait(60)
        except subprocess.TimeoutExpired:
            process.kill()


def convert(profile: Path, source: Path, kind: str, folder: Path) -> Path:
    """What `soffice --convert-to` makes of a document. Fails the test when it makes nothing."""
    command = [
        need_office(),
        f"-env:UserInstallation={profile.resolve().as_uri()}",
        "--headless",
        "--norestore",
        "--convert-to",
        kind,
        "--outdir",
        str(folder),
        str(source),
    ]
    run = subprocess.run(command, capture_output=True, text=True, timeout=TIMEOUT_S, check=False)
    result = folder / f"{source.stem}.{kind.partition(':')[0]}"
    if not result.exists():
        pytest.fail(f"soffice ended with {run.returncode} and wrote nothing\n{run.stdout}\n{run.stderr}", pytrace=False)
    return result
