"""What pyproject.toml declares is what the package imports: nothing undeclared, nothing declared for nothing."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from tests.packaging.imports import distributions, imported, plain

PROJECT = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text("utf-8"))["project"]
# Declared, but imported by no line of ours: the reason.
WITHOUT_IMPORT = {"tzdata": "the standard library's zoneinfo reads it on Windows, which has no time zones of its own"}
# Extras are installed where they are asked for; their module is imported where the command that needs it runs.
OPTIONAL = ("excel", "archive", "cluster")


def _names(requirements: list[str]) -> set[str]:
    return {plain(re.split(r"[\s<>=!~;\[]", text, maxsplit=1)[0]) for text in requirements}


ALWAYS = _names(PROJECT["dependencies"])
IN_EXTRAS = {name for extra in OPTIONAL for name in _names(PROJECT["optional-dependencies"][extra])}


@pytest.mark.parametrize("module", sorted(imported()))
def test_a_module_that_is_imported_is_declared(module: str) -> None:
    assert distributions(module) & (ALWAYS | IN_EXTRAS), f"{module} is imported by {sorted(imported()[module])}"


def test_what_is_declared_is_imported() -> None:
    brought = {name for module in imported() for name in distributions(module)}
    assert ALWAYS - brought - set(WITHOUT_IMPORT) == set()


def test_the_tests_own_needs_are_no_dependency_of_the_users() -> None:
    assert not ALWAYS & (_names(PROJECT["optional-dependencies"]["test"]) - IN_EXTRAS - {"psutil"})


def test_every_extra_for_users_is_told_by_doctor() -> None:
    from workbook_tools.cli.installed import EXTRAS

    assert set(EXTRAS) == set(PROJECT["optional-dependencies"]) - {"test", "dev"} == set(OPTIONAL)
