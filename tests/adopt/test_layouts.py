"""Foreign layouts, each different in kind: what is proposed with no help, and what a carried book then holds."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.adopt.deciding import decided
from tests.adopt.layouts import HELD_OUT, LAYOUTS, TUNED
from tests.adopt.layouts.layout import Layout, convert
from tests.adopt.measure import Measured, measure
from tests.adopt.truth import agrees
from workbook_tools.adopt import Source, carry, open_source, propose


def test_there_are_twelve_and_more_two_of_them_held_out() -> None:
    assert len(TUNED) >= 12
    assert len(HELD_OUT) == 2


@pytest.mark.parametrize("name", LAYOUTS)
def test_nothing_is_applied_wrongly_without_asking(name: str, layout_files: dict[str, Path]) -> None:
    assert measure(LAYOUTS[name], layout_files[name]).wrong == []


@pytest.mark.parametrize("name", LAYOUTS)
def test_what_is_carried_over_is_what_a_careful_reader_writes_down(
    name: str, sources_of_layouts: dict[str, Source]
) -> None:
    source = sources_of_layouts[name]
    agrees(carry(source, decided(propose(source), LAYOUTS[name])), LAYOUTS[name])


def shares(layouts: dict[str, Layout], files: dict[str, Path]) -> tuple[float, float]:
    """The shares of columns and of items that are mapped right with no help."""
    columns: Counter[str] = Counter()
    items: Counter[str] = Counter()
    for name, layout in layouts.items():
        measured: Measured = measure(layout, files[name])
        columns += measured.columns
        items += measured.items
    return columns["right"] / columns.total(), items["right"] / items.total()


def test_most_columns_and_items_are_right_with_no_help(layout_files: dict[str, Path]) -> None:
    columns, items = shares(TUNED, layout_files)
    assert columns >= 0.95
    assert items >= 0.95


def test_of_the_layouts_that_nothing_was_tuned_on_the_rest_is_asked_with_the_right_proposal(
    layout_files: dict[str, Path],
) -> None:
    """Measured once when the matcher was done: 8 of 13 columns and 16 of 18 items right with no help, none wrong."""
    columns, items = shares(HELD_OUT, layout_files)
    assert columns >= 8 / 13
    assert items >= 16 / 18
    said: Counter[str] = Counter()
    for name, layout in HELD_OUT.items():
        measured = measure(layout, layout_files[name])
        said += measured.columns + measured.items
    assert set(said) == {"right", "asked well"}


@pytest.mark.office
@pytest.mark.parametrize("form", ["ods", "xls", "xlsx"])
def test_it_is_the_same_when_libreoffice_has_saved_the_book(
    form: str, layout_files: dict[str, Path], tmp_path: Path
) -> None:
    names = [name for name, layout in LAYOUTS.items() if layout.by_libreoffice and layout.saved_as == form]
    names += [name for name in ("merged_places", "bands", "words_in_cells", "crew_and_craft") if name not in names]
    saved = convert([layout_files[name] for name in names], form, tmp_path / "saved")
    for name, path in zip(names, saved, strict=True):
        source = open_source(path)
        assert measure(LAYOUTS[name], path).wrong == []
        carried = carry(source, decided(propose(source), LAYOUTS[name]))
        assert [fate.place for fate in carried.fates] == list(source.filled())
        agrees(carried, LAYOUTS[name])
