"""A run that was interrupted goes on from its journal and says in the end what it would have said in one go."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.fleet import check_fleet
from workbook_tools.fleet.job import Job, Outcome
from workbook_tools.fleet.journal import Journal, JournalError, journal_beside

JOB = Job(Options(ON), form="jsonl", whole=True, stamped=True)


@pytest.fixture
def books(tmp_path: Path) -> list[str]:
    good = clean().save(tmp_path / "a.xlsx")
    (tmp_path / "c.xlsx").write_text("no book")
    return [str(good), str(shutil.copy(good, tmp_path / "b.xlsx")), str(tmp_path / "c.xlsx")]


def _journal(books: list[str], resume: bool, job: Job = JOB) -> Journal:
    return Journal(journal_beside(Path(books[0]).with_name("out.jsonl")), job, resume)


def _begun(books: list[str]) -> list[Outcome]:
    """A run of all books, of which the journal is left behind."""
    journal = _journal(books, resume=False)
    outcomes = list(check_fleet(books, JOB, journal=journal))
    journal.close()
    return outcomes


def _plain(outcomes: list[Outcome]) -> list[object]:
    return [outcome.to_plain() for outcome in outcomes]


def test_what_is_recalled_is_what_was_found(books: list[str]) -> None:
    first = _begun(books)
    journal = _journal(books, resume=True)
    assert len(journal) == 3
    assert _plain(list(check_fleet(books, JOB, journal=journal))) == _plain(first)
    assert journal.recall(books[0]).result() == first[0].result()


def test_a_book_that_changed_since_is_checked_anew(books: list[str]) -> None:
    _begun(books)
    book = clean()
    book.ship["name"] = "Another"
    book.save(Path(books[1]))
    journal = _journal(books, resume=True)
    assert [journal.holds(path) for path in books] == [True, False, True]
    assert [outcome.result().ship for outcome in check_fleet(books, JOB, journal=journal)] == [
        "Orrin Vale",
        "Another",
        "",
    ]


def test_a_book_that_is_touched_and_the_same_is_not_checked_again(books: list[str]) -> None:
    _begun(books)
    Path(books[0]).touch()
    assert _journal(books, resume=True).holds(books[0])


@pytest.mark.parametrize("cut", [1, 7, 300])
def test_a_record_cut_short_counts_for_nothing(books: list[str], cut: int) -> None:
    first = _begun(books)
    path = journal_beside(Path(books[0]).with_name("out.jsonl"))
    path.write_bytes(path.read_bytes()[:-cut])
    journal = _journal(books, resume=True)
    assert len(journal) == 2
    assert _plain(list(check_fleet(books, JOB, journal=journal))) == _plain(first)
    journal.close()
    assert len(_journal(books, resume=True)) == 3


def test_a_record_that_was_spoilt_counts_for_nothing(books: list[str]) -> None:
    _begun(books)
    path = journal_beside(Path(books[0]).with_name("out.jsonl"))
    data = bytearray(path.read_bytes())
    data[-5] ^= 0xFF
    path.write_bytes(data)
    assert len(_journal(books, resume=True)) == 2


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (Job(Options(date(2026, 11, 26)), "jsonl", True, (), True), "--on 2026-11-25 then, 2026-11-26 now"),
        (Job(Options(ON, 30), "jsonl", True, (), True), "--warn None then, 30 now"),
        (Job(Options(ON, rule_set="us"), "jsonl", True, (), True), "--rules None then, us now"),
        (Job(Options(ON), "text", True, (), True), "--format jsonl then, text now"),
        (Job(Options(ON), "jsonl", False, (), True), "another other options"),
    ],
)
def test_a_journal_of_another_question_is_refused_with_the_difference(books: list[str], job: Job, words: str) -> None:
    _begun(books)
    with pytest.raises(JournalError) as error:
        _journal(books, resume=True, job=job)
    assert words in str(error.value)
    assert "out.jsonl.journal" in str(error.value)


@pytest.mark.parametrize("content", [b"", b"notes\n", b'{"a": 1}\n', b"\x80\x04\x95\n", b"[]\n"])
def test_a_file_that_is_no_journal_is_left_as_it_is(books: list[str], content: bytes) -> None:
    path = journal_beside(Path(books[0]).with_name("out.jsonl"))
    path.write_bytes(content)
    with pytest.raises(JournalError, match="no journal of davitbook"):
        _journal(books, resume=True)
    assert path.read_bytes() == content


def test_a_journal_of_a_later_layout_is_refused(books: list[str]) -> None:
    _begun(books)
    path = journal_beside(Path(books[0]).with_name("out.jsonl"))
    path.write_bytes(path.read_bytes().replace(b'"davitbook journal": 1', b'"davitbook journal": 2'))
    with pytest.raises(JournalError, match="another version"):
        _journal(books, resume=True)
