"""The text report reads well on a screen of 80 columns."""

from __future__ import annotations

from datetime import date

import click

from tests.checks.cases.followup import BUCKET
from tests.workbooks import ON, clean
from workbook_tools.core.caution import CAUTION
from workbook_tools.findings import BookResult, Finding
from workbook_tools.reports import as_text
from workbook_tools.reports.text import verdict


def _faulty() -> BookResult:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    book.lot("hand flare")["expires"] = date(2026, 8, 31)
    book.find("craft", name="Raft P")["certificate"] = ""
    book.find("craft", name="Raft S")["name"] = (
        "A raft with a very long name that goes on and on beyond what a screen shows"
    )
    return book.audit()


def _text(*results: BookResult) -> str:
    return click.unstyle(as_text(results, ON, None))


def test_no_line_is_wider_than_80_columns() -> None:
    assert max(map(len, _text(_faulty(), clean().audit()).splitlines())) <= 80


def test_a_finding_says_where_what_by_which_paragraph_and_what_to_do() -> None:
    text = _text(_faulty())
    for part in ("Inventory!D5", "bucket: 2 asked, 1 carried", "By: LSA Code 4.4.8.3", "Do: put 1 more in Lifeboat 1"):
        assert part in text


def test_the_verdict_counts_actions_by_priority() -> None:
    assert "ACTION REQUIRED: 1 before sailing, 1 at next port" in _text(_faulty())
    assert "No action required" in _text(clean().audit())


def test_reasons_for_not_evaluated_are_one_line_for_a_raft() -> None:
    lines = [line for line in _text(_faulty()).splitlines() if "sealed pack" in line]
    assert len(lines) == 1
    assert "Raft P, 34 rules" in lines[0] or "rules: sealed pack" in lines[0]


def test_a_book_that_was_not_read_says_why() -> None:
    text = _text(BookResult("broken.xlsx", readable=False, reason="the file is empty"))
    assert "NOT READ  broken.xlsx" in text
    assert "the file is empty" in text


def test_several_books_end_in_a_list_worst_first() -> None:
    text = _text(clean().audit(), _faulty())
    summary = text[text.index("2 books, worst first") :].splitlines()
    assert summary[2].split()[0] == "2"
    assert summary[3].split()[0] == "0"


def test_the_list_of_books_counts_as_the_json_does_and_says_how_many_are_followed_up() -> None:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    book.add("follow_up", finding=BUCKET, order="R-112")
    result = book.audit()
    assert len(result.followed_up()) == 1
    assert result.grade_counts()["action"] == 1
    line = _text(clean().audit(), result).split("worst first")[1].splitlines()[3]
    assert line.split()[:2] == ["1", "0"]
    assert line.endswith("(1 of these being followed up)")


def test_a_verdict_has_the_plural_of_each_grade() -> None:
    result = BookResult("a.xlsx")
    for grade, number in (("due", 2), ("query", 4), ("note", 12)):
        finding = Finding("EQ01", "rule", grade, "plan", "Inventory", "A1", "it", "message", "remedy")
        result.findings += [finding] * number
    assert verdict(result).endswith("; 2 due, 4 queries, 12 notes")


def test_the_day_asked_stands_with_the_warning_days() -> None:
    assert _text(clean().audit()).startswith("Day asked 2026-11-25; warning days: by kind of item\n")
    assert as_text([], ON, 45).startswith("Day asked 2026-11-25; warning days: 45 for everything\n")


def test_the_text_ends_with_who_decides() -> None:
    assert _text(clean().audit()).replace("\n", " ").rstrip().endswith(CAUTION)


def test_names_of_persons_stay_out() -> None:
    book = clean()
    for line in book.rows["crew"]:
        line["name"] = "Ferrant Quill"
    book.find("crew", number="1")["craft"] = "Lifebaot 1"
    result = book.audit()
    assert result.findings
    assert "Quill" not in _text(result)


def test_one_reason_for_several_craft_is_one_line() -> None:
    book = clean()
    for name in ("Raft P", "Raft S"):
        book.find("craft", name=name)["certificate"] = ""
    lines = [line for line in _text(book.audit()).splitlines() if "sealed pack" in line]
    assert len(lines) == 1
    assert "Raft P, Raft S, " in lines[0]
