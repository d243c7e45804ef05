"""A foreign workbook audited by its mapping says what the book made of it says, and names their cells."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.adopt.deciding import decided
from tests.adopt.layouts import LAYOUTS
from tests.adopt.room import SMALL
from workbook_tools.adopt import Carried, Mapping, Source, book_from_map, build_book, carry, propose
from workbook_tools.adopt.auditing import by_map, in_their_cells
from workbook_tools.adopt.mapped import book_of_source
from workbook_tools.checks import Options, audit_book
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.findings import BookResult
from workbook_tools.fleet.job import Job
from workbook_tools.reading import RawBook, UnreadableBook, read_book, read_raw
from workbook_tools.reading.address import split

ON = Options(date(2026, 11, 25))
# About the reading of cells: what could not be carried is an empty cell in our book, and an unread one in theirs.
READING = "WB"


@pytest.fixture(scope="module")
def mappings(sources_of_layouts: dict[str, Source]) -> dict[str, Mapping]:
    return {name: decided(propose(source), LAYOUTS[name]) for name, source in sources_of_layouts.items()}


def _said(result: BookResult) -> Counter[tuple[str, str, str, str]]:
    """What is said, without the cells that it is said of."""
    return Counter(
        (one.code, one.rule, one.subject, re.sub(r"\S*![A-Z]+\d+", "cell", one.message))
        for one in result.findings
        if not one.code.startswith(READING)
    )


@pytest.mark.parametrize("name", [name for name in LAYOUTS if name not in ("spanish", "words_in_cells")])
def test_the_audit_is_that_of_a_book_with_the_same_lines(
    name: str, sources_of_layouts: dict[str, Source], mappings: dict[str, Mapping]
) -> None:
    source, mapping = sources_of_layouts[name], mappings[name]
    ours = audit_book(read_raw(RawBook("ours.xlsx", _grids(carry(source, mapping)))), ON)
    theirs = audit_book(book_of_source(source, mapping), ON)
    assert _said(theirs) == _said(ours)
    assert theirs.state_counts() == ours.state_counts()


def _grids(carried: Carried) -> dict[str, list[list[Any]]]:
    """What was carried over as the sheets of a book of ours hold it."""
    grids = {"Ship": [[one.title, carried.ship.values.get(one.key, "")] for one in sheet("ship").columns]}
    for key, records in carried.rows.items():
        columns = sheet(key).columns
        lines = [[record.values.get(one.key, "") for one in columns] for record in records]
        grids[sheet(key).name] = [[one.title for one in columns], *lines]
    for contract in SHEETS:
        if contract.required:
            grids.setdefault(contract.name, [[one.title for one in contract.columns]])
    return grids


def test_the_book_that_is_made_holds_the_same_lines(
    sources_of_layouts: dict[str, Source], mappings: dict[str, Mapping], tmp_path: Path
) -> None:
    source, mapping = sources_of_layouts["boats_across"], mappings["boats_across"]
    carried = carry(source, mapping)
    path = tmp_path / "ours.xlsx"
    path.write_bytes(build_book(carried, source.file_name, ON.on, SMALL))
    made = read_book(path)
    for key, records in carried.rows.items():
        assert [row.values for row in made.rows(key)] == [record.values for record in records]


def test_no_sentence_names_a_sheet_of_ours_before_a_cell_of_theirs(
    sources_of_layouts: dict[str, Source], mappings: dict[str, Mapping]
) -> None:
    result = in_their_cells(audit_book(book_of_source(sources_of_layouts["spanish"], mappings["spanish"]), ON))
    said = [one.message for one in result.findings] + [state.why for state in result.states]
    assert any("Inventario!D" in text for text in said)
    assert not any("Inventory!" in text for text in said)


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_finding_on_a_line_names_a_filled_cell_of_theirs(
    name: str, sources_of_layouts: dict[str, Source], mappings: dict[str, Mapping]
) -> None:
    source = sources_of_layouts[name]
    result = in_their_cells(audit_book(book_of_source(source, mappings[name]), ON))
    for finding in result.findings:
        if finding.sheet in source.pages:
            assert source.pages[finding.sheet].filled(*(split(finding.cell) or (-1, -1))), finding
    named = [finding for finding in result.findings if finding.sheet in source.pages]
    assert len(named) >= 0.5 * len(result.findings)


def test_an_ambiguous_date_is_a_query_on_their_cell(
    sources_of_layouts: dict[str, Source], mappings: dict[str, Mapping]
) -> None:
    result = in_their_cells(audit_book(book_of_source(sources_of_layouts["spanish"], mappings["spanish"]), ON))
    queries = [(one.sheet, one.cell) for one in result.findings if one.code == "WB03"]
    assert sorted(queries) == [("Inventario", cell) for cell in ("D5", "D6", "D8", "D9")]


def test_a_date_order_given_by_hand_reads_them(
    sources_of_layouts: dict[str, Source], mappings: dict[str, Mapping]
) -> None:
    mapping = mappings["spanish"]
    columns = [replace(one, date_order="day first") for one in mapping.tables[0].columns]
    chosen = replace(mapping, tables=[replace(mapping.tables[0], columns=columns)])
    carried = carry(sources_of_layouts["spanish"], chosen)
    assert carried.rows["inventory"][0].values["expires"] == date(2028, 6, 5)
    assert carried.left == []


def test_a_book_of_another_layout_is_not_read_and_says_where(
    layout_files: dict[str, Path], mappings: dict[str, Mapping]
) -> None:
    with pytest.raises(UnreadableBook, match="its layout is not that of the mapping: there is no sheet 'LSA'"):
        book_from_map(layout_files["stacked"], mappings["bands"])


def test_a_run_of_many_books_goes_on_after_one_that_is_laid_out_otherwise(
    layout_files: dict[str, Path], mappings: dict[str, Mapping]
) -> None:
    paths = [str(layout_files["stacked"]), str(layout_files["bands"])]
    outcomes = list(by_map(mappings["bands"])(paths, Job(ON)))
    assert [(number, outcome.readable) for number, outcome in outcomes] == [(0, False), (1, True)]


def test_names_of_persons_stay_out_of_the_findings(
    sources_of_layouts: dict[str, Source], mappings: dict[str, Mapping]
) -> None:
    result = audit_book(book_of_source(sources_of_layouts["crew_and_craft"], mappings["crew_and_craft"]), ON)
    said = " ".join(f"{one.subject} {one.message} {one.remedy}" for one in result.findings)
    assert not any(name in said for name in ("Ferrant", "Osten", "Lund", "Harrel", "Marsh"))
