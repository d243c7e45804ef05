"""Ways from a report to a book, and what stands in a link."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbook_tools.reports.fleet.links import LONGEST_LINK, cell_target, page_link, relative, workbook_link


@pytest.mark.parametrize(
    ("book", "folder", "way"),
    [
        ("returns/a.xlsx", ".", "returns/a.xlsx"),
        ("returns/a.xlsx", "reports", "../returns/a.xlsx"),
        ("returns/a.xlsx", "returns", "a.xlsx"),
        ("/srv/returns/a.xlsx", "/srv/out", "../returns/a.xlsx"),
    ],
)
def test_a_way_leads_from_the_folder_of_the_report(book: str, folder: str, way: str) -> None:
    assert relative(book, Path(folder)) == way


@pytest.mark.parametrize(
    ("sheet", "target"),
    [("Crew", "'Crew'!B4"), ("Follow-up", "'Follow-up'!B4"), ("Mate's list", "'Mate''s list'!B4")],
)
def test_the_name_of_a_sheet_stands_in_quotes(sheet: str, target: str) -> None:
    assert cell_target(sheet, "B4") == target


@pytest.mark.parametrize(
    ("way", "link"),
    [
        ("a.xlsx", "external:a.xlsx"),
        ("my books/50% #1.xlsx", "external:my%20books/50%25%20%231.xlsx"),
        ("Ørsta.xlsx", "external:Ørsta.xlsx"),  # letters of every script stay, as Excel itself writes them
    ],
)
def test_a_workbook_link_escapes_what_would_end_a_name(way: str, link: str) -> None:
    assert workbook_link(way) == link
    assert workbook_link(way, "Crew", "B4") == f"{link}#'Crew'!B4"


def test_a_link_that_is_too_long_for_excel_is_left_out() -> None:
    assert workbook_link("a" * (LONGEST_LINK - len("external:"))) != ""
    assert workbook_link("a" * LONGEST_LINK) == ""


@pytest.mark.parametrize(
    ("way", "link"),
    [
        ("my books/50% #1?.xlsx", "my%20books/50%25%20%231%3F.xlsx"),
        ("javascript:alert(1).xlsx", "javascript%3Aalert%281%29.xlsx"),  # a file's name is never a scheme
        ("D:/returns/a b.xlsx", "file:///D:/returns/a%20b.xlsx"),
        ("//server/returns/a.xlsx", "file://server/returns/a.xlsx"),
    ],
)
def test_a_page_link_is_a_file_and_nothing_else(way: str, link: str) -> None:
    assert page_link(way) == link
