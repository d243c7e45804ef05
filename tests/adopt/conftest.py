"""The foreign layouts, written once for all tests."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.adopt.layouts import LAYOUTS
from workbook_tools.adopt import Source, open_source


@pytest.fixture(scope="session")
def layout_files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Every layout as .xlsx, by its name."""
    folder = tmp_path_factory.mktemp("layouts")
    return {name: layout.write(folder / f"{name}.xlsx") for name, layout in LAYOUTS.items()}


@pytest.fixture(scope="session")
def sources_of_layouts(layout_files: dict[str, Path]) -> dict[str, Source]:
    """Every layout opened."""
    return {name: open_source(path) for name, path in layout_files.items()}
