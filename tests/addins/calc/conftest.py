"""One office for the tests of this folder, with the extension installed."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.addins.calc.office import Office, running
from workbook_tools.addins.calc import build


@pytest.fixture(scope="session")
def extension(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """davitbook.oxt, freshly built."""
    return build(tmp_path_factory.mktemp("extension"))


@pytest.fixture(scope="session")
def installed(extension: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A profile with the extension installed; no office runs on it."""
    profile = tmp_path_factory.mktemp("profile") / "installed"
    with running(profile) as office:
        assert office.ask("install", str(extension))[0] == "org.davitbook.calc"
    return profile


@pytest.fixture(scope="session")
def office(installed: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    """A running office that knows the functions, on a profile of its own."""
    profile = tmp_path_factory.mktemp("running") / "profile"
    shutil.copytree(installed, profile)
    with running(profile) as started:
        yield started
