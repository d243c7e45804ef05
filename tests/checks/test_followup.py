"""Names of the Crew sheet do not leave the book, in whatever letters a text holds them."""

from __future__ import annotations

import pytest

from tests.workbooks import Workbook, clean
from workbook_tools.checks.followup import name_remover
from workbook_tools.reading import RawBook, read_raw


def _crewed(*names: str) -> Workbook:
    book = clean()
    for line, name in zip(book.rows["crew"], names, strict=False):
        line["name"] = name
    return book


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("Ann Harbour", "seen by ANN   HARBOUR today"),
        ("Ann Harbour", "Lifeboat 1: ann harbour"),
        ("\u0130lker Deniz", "seen by ilker deniz"),  # a dotted capital I, which has no plain small letter
        ("Kl\u00e4re Stra\u00dfe", "seen by KL\u00c4RE Stra\u00dfe"),
        ("\u017ftella Maris", "seen by Stella Maris"),  # the old long s
    ],
)
def test_a_name_is_found_in_other_letters(name: str, text: str) -> None:
    book = read_raw(RawBook("test.xlsx", _crewed(name).grids()))
    number = book.rows("crew")[0].get("number")
    assert name_remover(book)(text).endswith((f"crew number {number}", f"crew number {number} today", "on board"))


@pytest.mark.parametrize("text", ["Harbour launch", "Ann", "Annharbour", "Ann Harbourmaster", ""])
def test_what_is_no_name_is_left_alone(text: str) -> None:
    assert name_remover(read_raw(RawBook("test.xlsx", _crewed("Ann Harbour").grids())))(text) == text
