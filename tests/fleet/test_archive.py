"""An archive holds whole runs only, each once, without a person's name; pandas and DuckDB read it as the page says."""

from __future__ import annotations

import json
import os
import re
import time
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any

import duckdb
import pandas
import pyarrow.parquet
import pytest

from tests.workbooks import ON, Workbook, clean
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.findings import BookResult
from workbook_tools.fleet import archive as archive_module
from workbook_tools.fleet.archive import HALF, LAYOUT, Archive, ArchiveError
from workbook_tools.fleet.archive_rows import OF_THE_BOOK, OF_THE_RUN, TABLES, Rows, extract, of_unreadable
from workbook_tools.reading import RawBook, read_raw

PAGE = Path(__file__).parents[2] / "docs" / "archive.md"
NAMES = {"Orrin Vale": "3100019", "Sella Marn": "3100021", "Tarn Hollis": "3100033"}


def audited(book: Workbook, path: str, on: date = ON) -> tuple[BookResult, Rows]:
    audit, result = audit_in_full(read_raw(RawBook(path, book.grids())), Options(on))
    return result, extract(audit, result)


def ship(name: str, short: bool) -> Workbook:
    book = clean()
    book.ship.update(name=name, imo_number=NAMES[name])
    if short:
        book.lot("bucket")["quantity"] = 1
    return book


def fleet(on: date = ON, short: tuple[str, ...] = ("Orrin Vale",), folder: str = "returns") -> list[Rows]:
    return [audited(ship(name, name in short), f"{folder}/{name}.xlsx", on)[1] for name in NAMES]


def keep(folder: Path, rows: list[Rows], on: date = ON) -> Archive:
    with Archive(folder, Options(on)) as archive:
        for entry in rows:
            archive.add(entry)
    return archive


def asked(query: str) -> list[tuple[Any, ...]]:
    with duckdb.connect() as database:
        return database.execute(query).fetchall()


def runs(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_each_row_says_what_the_audit_said(tmp_path: Path) -> None:
    book = ship("Orrin Vale", short=True)
    book.lot("hand flare")["expires"] = date(2026, 1, 31)
    result, rows = audited(book, "returns/a.xlsx")
    run = keep(tmp_path / "archive", [rows, of_unreadable("returns/b.xlsx", "the file is empty")])
    folder = tmp_path / "archive" / f"run-{run.run}"
    books = pyarrow.parquet.read_table(folder / "books.parquet").to_pylist()
    findings = pyarrow.parquet.read_table(folder / "findings.parquet").to_pylist()
    lots = pyarrow.parquet.read_table(folder / "lots.parquet").to_pylist()
    assert [(row["ship"], row["imo_number"], row["readable"], row["reason"]) for row in books] == [
        ("Orrin Vale", "3100019", True, None),
        ("", "", False, "the file is empty"),
    ]
    assert {grade: books[0][grade] for grade in ("action", "due", "query", "note")} == result.grade_counts()
    assert {state: books[0][f"rules_{state}"] for state in result.state_counts()} == result.state_counts()
    assert (books[1]["action"], books[1]["rules_passed"], books[1]["persons_on_board"]) == (None, None, None)
    said = ("id", "code", "rule", "grade", "sheet", "cell", "subject", "message", "required", "carried")
    assert [[row[key] for key in said] for row in findings] == [
        [getattr(finding, key) for key in said] for finding in result.findings
    ]
    assert len(result.findings) > 1
    assert len(lots) == len(book.rows["inventory"])
    flares = next(row for row in lots if row["item"] == "hand flare" and row["place"] == "Lifeboat 1")
    assert (flares["quantity"], flares["batch"], flares["expires"]) == (6.0, "H6", date(2026, 1, 31))
    assert f"A{flares['row']}" == book.cell("inventory", book.lot("hand flare"), "place")
    assert {(row["run"], row["day"]) for row in (*books, *findings, *lots)} == {(run.run, ON)}


def test_every_file_tells_its_layout_and_what_was_asked(tmp_path: Path) -> None:
    run = keep(tmp_path / "archive", fleet())
    for table in TABLES:
        file = pyarrow.parquet.read_schema(tmp_path / "archive" / f"run-{run.run}" / f"{table}.parquet")
        assert file.metadata[b"davitbook.layout"] == str(LAYOUT).encode()
        assert file.metadata[b"davitbook.table"] == table.encode()
        assert json.loads(file.metadata[b"davitbook.asked"])["day"] == ON.isoformat()
        assert file.names == [entry.name for entry in (*OF_THE_RUN, *OF_THE_BOOK, *TABLES[table])]


# ---- one run, once, whole


def test_the_same_run_is_kept_once_from_whichever_folder(tmp_path: Path) -> None:
    first = keep(tmp_path, fleet())
    before = {path: path.read_bytes() for path in tmp_path.rglob("*.parquet")}
    again = keep(tmp_path, fleet(folder="/elsewhere/returns"))
    assert (first.added, again.added, first.run) == (True, False, again.run)
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize(
    "other", [{"on": date(2026, 12, 1)}, {"short": ()}, {"short": ("Orrin Vale", "Sella Marn")}], ids=str
)
def test_another_day_or_another_answer_is_another_run(tmp_path: Path, other: dict[str, Any]) -> None:
    keep(tmp_path, fleet())
    assert keep(tmp_path, fleet(**other), other.get("on", ON)).added
    assert len(runs(tmp_path)) == 2


def test_other_options_make_another_run_of_the_same_rows(tmp_path: Path) -> None:
    names = set()
    for options in (Options(ON), Options(ON, warn_days=10), Options(ON, rule_set="us"), Options(ON, None, None, True)):
        with Archive(tmp_path, options) as archive:
            pass
        names.add(archive.run)
    assert len(names) == 4


def test_a_run_that_is_stopped_leaves_nothing(tmp_path: Path) -> None:
    for stop in (KeyboardInterrupt, ValueError):
        with suppress(stop), Archive(tmp_path, Options(ON)) as archive:
            archive.add(fleet()[0])
            assert [name[: len(HALF)] for name in runs(tmp_path)] == [HALF]
            raise stop
        assert runs(tmp_path) == []


def test_a_run_whose_last_step_fails_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(ArchiveError, match="No space left on device"):
        keep(tmp_path, fleet())
    assert runs(tmp_path) == []


def test_readers_do_not_see_a_half_written_run(tmp_path: Path) -> None:
    keep(tmp_path, fleet())
    half = tmp_path / f"{HALF}abc"
    half.mkdir()
    (half / "findings.parquet").write_bytes(b"PAR1 cut off")
    count = asked(f"SELECT count(DISTINCT run) FROM '{tmp_path}/run-*/findings.parquet'")
    assert count == [(1,)]


def test_a_half_written_run_is_left_to_its_writer_and_cleared_when_it_is_old(tmp_path: Path) -> None:
    for name, age in (("young", 60), ("old", archive_module.STALE_SECONDS + 60)):
        half = tmp_path / f"{HALF}{name}"
        half.mkdir()
        (half / "lots.part").write_bytes(b"cut off")
        os.utime(half, (time.time() - age,) * 2)
    keep(tmp_path, fleet())
    assert [name for name in runs(tmp_path) if name.startswith(HALF)] == [f"{HALF}young"]


def test_two_writers_of_one_run_leave_it_once(tmp_path: Path) -> None:
    rows = fleet()
    with Archive(tmp_path, Options(ON)) as first, Archive(tmp_path, Options(ON)) as second:
        for entry in rows:
            first.add(entry)
            second.add(entry)
    assert sorted((first.added, second.added)) == [False, True]
    assert runs(tmp_path) == [f"run-{first.run}"]


def test_a_folder_of_other_things_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "orrin-vale.xlsx").write_bytes(b"a return")
    with pytest.raises(ArchiveError, match=r"archive.*it holds 'orrin-vale\.xlsx', which is no run"):
        keep(tmp_path, fleet())
    assert runs(tmp_path) == ["orrin-vale.xlsx"]


def test_a_file_in_the_folder_s_place_is_told(tmp_path: Path) -> None:
    (tmp_path / "archive").write_text("a file")
    with pytest.raises(ArchiveError, match="cannot write to the archive"):
        keep(tmp_path / "archive", fleet())


def test_rows_are_written_as_they_come_and_read_back_in_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = keep(tmp_path / "whole", fleet())
    monkeypatch.setattr(archive_module, "ROWS_AT_ONCE", 7)
    pieces = keep(tmp_path / "pieces", fleet())
    assert pieces.run == whole.run
    for table in TABLES:
        one, other = (
            pyarrow.parquet.read_table(tmp_path / name / f"run-{whole.run}" / f"{table}.parquet").drop(["archived_at"])
            for name in ("whole", "pieces")
        )
        assert one.equals(other)
    file = pyarrow.parquet.ParquetFile(tmp_path / "pieces" / f"run-{whole.run}" / "lots.parquet")
    assert file.num_row_groups > 1


# ---- what it must not hold


def test_no_person_is_named(tmp_path: Path) -> None:
    book = ship("Orrin Vale", short=True)
    book.find("crew", number="3")["name"] = "Ferrant Quill"
    book.add("inventory", place="Cabin Ferrant Quill", item="lifejacket", quantity="2?", remarks="Ferrant Quill's")
    book.add("defects", subject="Lifeboat 1", fitting="limit switches", wrong="Ferrant Quill found it", since=ON)
    keep(tmp_path, [audited(book, "a.xlsx")[1]])
    text = "".join(str(pyarrow.parquet.read_table(path).to_pylist()) for path in tmp_path.rglob("*.parquet"))
    assert "Quill" not in text
    assert "Cabin crew number 3" in text


def test_half_of_a_character_pair_is_replaced_and_stops_nothing(tmp_path: Path) -> None:
    run = keep(tmp_path, [of_unreadable("a\ud800.xlsx", "broken \udfff")])
    [row] = pyarrow.parquet.read_table(tmp_path / f"run-{run.run}" / "books.parquet").to_pylist()
    assert row["reason"] == "broken ?"


# ---- the page


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)


@pytest.fixture
def two_months(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """October with one bucket short; November with two, archived after a first November with none."""
    october = date(2026, 10, 28)
    keep(tmp_path / "archive", fleet(october), october)
    keep(tmp_path / "archive", fleet(short=()))
    lapsing = ship("Tarn Hollis", short=False)
    lapsing.lot("hand flare")["expires"] = date(2027, 1, 31)
    ashore = {**lapsing.lot("hand flare"), "place": "Bridge", "condition": "ashore"}
    lapsing.add("inventory", **ashore)
    lapsed = audited(lapsing, "returns/Tarn Hollis.xlsx")[1]
    keep(
        tmp_path / "archive",
        [*fleet(short=("Orrin Vale", "Sella Marn"))[:2], lapsed, of_unreadable("returns/x.xlsx", "empty")],
    )
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_queries_of_the_page_run_and_answer(two_months: Path) -> None:
    faults, fleet_by_day, next_quarter = map(asked, blocks("sql"))
    assert ("EQ01", "lifeboat.buckets", 2, 2) in faults
    by_day = {row[0]: row[1:] for row in fleet_by_day}
    assert by_day[ON] == (4, 2, 1, 1)
    assert by_day[date(2026, 10, 28)][0] == 3
    assert next_quarter == [("hand flare", 1, 6.0, 1)]


def test_the_pandas_of_the_page_runs_and_answers(two_months: Path) -> None:
    [code] = blocks("python")
    space: dict[str, Any] = {}
    exec(code, space)
    answer: pandas.DataFrame = space["answer"].reset_index()
    bucket = answer[answer["id"].str.startswith("EQ01")]
    assert dict(zip(bucket["ship"], bucket["nunique"], strict=True)) == {"Orrin Vale": 2, "Sella Marn": 1}


def test_the_page_names_every_column() -> None:
    lines = PAGE.read_text(encoding="utf-8").splitlines()
    for table, fields in {"all": (*OF_THE_RUN, *OF_THE_BOOK), **TABLES}.items():
        for entry in fields:
            assert f"| {table} | {entry.name} | {entry.kind} | {entry.help} |" in lines
