"""The commands that an audit points to: each where it would help, none where it would not."""

from __future__ import annotations

from datetime import timedelta

import click
import pytest

from tests.workbooks import ON, Workbook, clean
from workbook_tools.reports import as_text
from workbook_tools.reports.next_steps import next_steps


def _nobody_in_charge(book: Workbook) -> None:
    book.find("crew", number="1")["duty"] = "member"


def _water_short(book: Workbook) -> None:
    book.lot("fresh water")["quantity"] = 100


def _flares_lapse(book: Workbook) -> None:
    book.lot("hand flare")["expires"] = ON + timedelta(days=30)


def _raft_overdue(book: Workbook) -> None:
    book.find("craft", name="Raft P")["serviced"] = ON - timedelta(days=400)


@pytest.mark.parametrize(
    ("edit", "command"),
    [
        (_nobody_in_charge, "muster"),
        (_water_short, "ration"),
        (_flares_lapse, "calendar"),
        (_flares_lapse, "order"),
        (_raft_overdue, "servicing"),
    ],
)
def test_each_fault_points_to_its_command(edit: object, command: str) -> None:
    book = clean()
    assert callable(edit)
    edit(book)
    assert command in [step.split()[1] for step in next_steps(book.audit())]


def test_without_a_call_ahead_no_order_is_pointed_to() -> None:
    book = clean()
    book.rows["ports"] = []
    _water_short(book)
    _raft_overdue(book)
    assert not {"order", "servicing"} & {step.split()[1] for step in next_steps(book.audit())}


def test_a_fault_points_to_no_command_of_another() -> None:
    book = clean()
    _nobody_in_charge(book)
    assert [step.split()[1] for step in next_steps(book.audit())] == ["muster"]


def test_a_book_in_order_points_to_none() -> None:
    assert next_steps(clean().audit()) == []


def test_a_path_with_a_blank_is_quoted_and_braces_stay() -> None:
    book = clean()
    _water_short(book)
    result = book.audit()
    result.book = "my {book}.xlsx"
    assert next_steps(result)[0].startswith('davitbook ration "my {book}.xlsx"')


def test_the_text_report_shows_them_below_the_findings() -> None:
    book = clean()
    _water_short(book)
    text = click.unstyle(as_text([book.audit()], ON, None))
    assert text.index("fresh water:") < text.index("WHAT HELPS") < text.index("davitbook ration test.xlsx")
