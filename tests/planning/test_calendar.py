"""The calendar file: read back by another library, and held against the rules of RFC 5545 line by line."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import vobject
from click.testing import CliRunner, Result

from tests.planning.books import audited, example
from tests.workbooks import ON, Workbook, clean
from workbook_tools.cli import main
from workbook_tools.core.caution import CAUTION
from workbook_tools.planning.calendar import ShipDeadlines, as_ics, sequence, uid
from workbook_tools.planning.deadlines import Deadline, deadlines

STAMP = datetime(2026, 11, 25, tzinfo=UTC)
HOSTILE = 'Lifeboat 1;X-EVIL:1\r\nBEGIN:VEVENT\nATTACH:file\\n, "quoted" \x07 Ω 😀 ' + "x" * 90


def ship_of(book: Workbook, on: date = ON, name: str = "test.xlsx") -> ShipDeadlines:
    audit = audited(book, on)
    return ShipDeadlines(
        audit.book.ship_value("name") or "", audit.book.ship_value("imo_number") or "", name, deadlines(audit)
    )


def read_back(data: bytes) -> list[Any]:
    """The events as another library reads them."""
    return list(vobject.readOne(data.decode()).contents.get("vevent", []))


def unfolded(data: bytes) -> list[str]:
    """Content lines by RFC 5545 3.1: CRLF and one blank are taken out."""
    return data.decode().replace("\r\n ", "").split("\r\n")[:-1]


@pytest.fixture(scope="module")
def fleet() -> tuple[list[ShipDeadlines], bytes]:
    ships = []
    for name in ("marrowick-fell", "odrunsel", "veshmoor"):
        audit, result = example(name)
        ships.append(ShipDeadlines(result.ship, result.imo_number, name, deadlines(audit)))
    return ships, as_ics(ships, STAMP)


def test_another_library_reads_every_deadline_on_its_day(fleet: tuple[list[ShipDeadlines], bytes]) -> None:
    ships, data = fleet
    wanted = {(uid(ship.key, entry.identity), entry.day) for ship in ships for entry in ship.deadlines}
    events = read_back(data)
    assert {(event.uid.value, event.dtstart.value) for event in events} == wanted
    assert len(events) == len(wanted) > 300
    for event in events:
        assert not isinstance(event.dtstart.value, datetime)  # an all-day event
        assert event.dtend.value == event.dtstart.value + timedelta(days=1)


def test_every_line_keeps_to_the_rules_of_rfc_5545(fleet: tuple[list[ShipDeadlines], bytes]) -> None:
    """Source: RFC 5545 3.1 (75 octets, CRLF, no control characters), 3.6.1, 3.6.6."""
    data = fleet[1]
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert b"\r" not in data.replace(b"\r\n", b"")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert max(map(len, data.split(b"\r\n"))) <= 75
    for folded in data.split(b"\r\n"):
        folded.decode()  # no letter is parted at a fold
    lines = unfolded(data)
    assert lines[:4] == ["BEGIN:VCALENDAR", "VERSION:2.0", lines[2], "CALSCALE:GREGORIAN"]
    for line in lines:
        assert re.match(r"[A-Z][A-Z-]*(;[A-Z-]+=[^:]+)?:", line), line
        assert not re.search(r"[\x00-\x08\x0a-\x1f\x7f]", line)
    for block in data.decode().split("BEGIN:VEVENT\r\n")[1:]:
        own = block.split("BEGIN:VALARM")[0]
        for name in ("UID", "DTSTAMP", "DTSTART", "SEQUENCE", "SUMMARY"):
            assert len(re.findall(rf"^{name}[:;]", own, re.MULTILINE)) == 1
    for block in data.decode().split("BEGIN:VALARM\r\n")[1:]:
        for name in ("ACTION", "DESCRIPTION", "TRIGGER"):
            assert len(re.findall(rf"^{name}:", block.split("END:VALARM")[0], re.MULTILINE)) == 1


def test_identifiers_are_unique_over_the_ships(fleet: tuple[list[ShipDeadlines], bytes]) -> None:
    found = re.findall(r"^UID:(.+)\r$", fleet[1].decode(), re.MULTILINE)
    assert len(set(found)) == len(found)


def test_the_same_book_on_the_same_day_gives_the_same_bytes() -> None:
    assert as_ics([ship_of(clean())], STAMP) == as_ics([ship_of(clean())], STAMP)


def test_a_later_calendar_has_the_same_identifiers_and_a_higher_sequence() -> None:
    early = {event.uid.value: int(event.sequence.value) for event in read_back(as_ics([ship_of(clean())], STAMP))}
    later = STAMP + timedelta(days=1)
    book = clean()
    book.rows["inventory"].reverse()
    book.lot("hand flare")["expires"] = date(2028, 3, 31)  # a batch of its own: the event moves
    after = {event.uid.value: event for event in read_back(as_ics([ship_of(book, later.date())], later))}
    assert after.keys() == early.keys()
    assert all(int(event.sequence.value) > early[name] for name, event in after.items())
    assert all(event.last_modified.value == later for event in after.values())
    assert date(2028, 3, 31) in {event.dtstart.value for event in after.values()}


def test_the_sequence_grows_with_the_minute_and_stays_a_whole_number_of_32_bits() -> None:
    """Source: RFC 5545 3.3.8, 3.8.7.4."""
    assert sequence(STAMP + timedelta(minutes=1)) == sequence(STAMP) + 1
    assert 0 < sequence(datetime(2100, 1, 1, tzinfo=UTC)) < 2**31
    assert sequence(datetime(1999, 1, 1, tzinfo=UTC)) == 0


def test_an_alarm_stands_at_the_warning_days_of_what_lies_ahead_only() -> None:
    book = clean()
    book.lot("hand flare")["expires"] = ON - timedelta(days=1)
    book.lot("rocket parachute flare")["expires"] = ON + timedelta(days=200)
    events = {event.summary.value: event for event in read_back(as_ics([ship_of(book)], STAMP))}
    gone = next(event for name, event in events.items() if "hand flare, batch H6, Lifeboat 1" in name)
    ahead = next(event for name, event in events.items() if "rocket" in name and event.dtstart.value.year == 2027)
    assert gone.summary.value.startswith("OVERDUE Orrin Vale: ")
    assert "valarm" not in gone.contents
    assert ahead.valarm.trigger.value == timedelta(days=-90)  # policy row warn.pyrotechnic
    assert ahead.valarm.action.value == "DISPLAY"


def test_the_description_names_cell_paragraph_and_caution() -> None:
    book = clean()
    line = book.lot("hand flare")
    event = next(
        event for event in read_back(as_ics([ship_of(book)], STAMP)) if "hand flare, batch H6" in event.summary.value
    )
    text = event.description.value
    for part in (
        f"Inventory!{book.cell('inventory', line, 'expires')}",
        "LSA Code 4.4.8.14",
        CAUTION,
        "not for testing",
    ):
        assert part in text


@pytest.mark.parametrize("field", ["thing", "subject"])
def test_hostile_text_stays_inside_its_property(field: str) -> None:
    base = ship_of(clean()).deadlines[0]
    values = {name: getattr(base, name) for name in Deadline.__dataclass_fields__} | {field: HOSTILE}
    data = as_ics([ShipDeadlines(HOSTILE, "", "a.xlsx", [Deadline(**values)])], STAMP)
    lines = unfolded(data)
    assert sum(line == "BEGIN:VEVENT" for line in lines) == 1
    assert not any(line.startswith(("X-EVIL", "ATTACH")) for line in lines)
    assert max(map(len, data.split(b"\r\n"))) <= 75
    (event,) = read_back(data)
    assert 'Lifeboat 1;X-EVIL:1 BEGIN:VEVENT ATTACH:file\\n, "quoted" Ω 😀' in event.summary.value


def test_a_deadline_on_the_last_day_of_the_calendar_has_no_day_after() -> None:
    base = ship_of(clean()).deadlines[0]
    values = {name: getattr(base, name) for name in Deadline.__dataclass_fields__} | {"day": date.max}
    (event,) = read_back(as_ics([ShipDeadlines("S", "", "a.xlsx", [Deadline(**values)])], STAMP))
    assert event.dtstart.value == date.max
    assert "dtend" not in event.contents


# ---- the command -------------------------------------------------------------------------------------------------


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["calendar", *arguments])


def test_several_books_make_one_calendar_and_a_second_of_one_ship_is_left_out(tmp_path: Path) -> None:
    first, second = clean().save(tmp_path / "a.xlsx"), clean().save(tmp_path / "b.xlsx")
    other = clean()
    other.ship.update(name="Tarn Hollow", imo_number="")
    third = other.save(tmp_path / "c.xlsx")
    out = tmp_path / "due.ics"
    done = run(str(first), str(second), str(third), "--on", "2026-11-25", "--out", str(out))
    assert done.exit_code == 3
    assert "b.xlsx" in done.stderr
    assert "of the same ship already" in done.stderr
    assert "of 2 ships" in done.stdout
    found = [event.uid.value for event in read_back(out.read_bytes())]
    assert len(set(found)) == len(found)


def test_a_book_that_cannot_be_read_is_named_and_the_rest_is_written(tmp_path: Path) -> None:
    good, bad, out = clean().save(tmp_path / "a.xlsx"), tmp_path / "bad.xlsx", tmp_path / "due.ics"
    bad.write_bytes(b"no workbook")
    done = run(str(good), str(bad), "--out", str(out))
    assert done.exit_code == 3
    assert "bad.xlsx" in done.stderr
    assert "Traceback" not in done.output
    assert read_back(out.read_bytes())


@pytest.mark.parametrize("arguments", [["none.xlsx", "--out", "x.ics"], ["--out", "x.ics"]])
def test_wrong_usage_is_told(arguments: list[str]) -> None:
    assert run(*arguments).exit_code == 2


def test_the_book_is_never_written_to(tmp_path: Path) -> None:
    book = clean().save(tmp_path / "a.xlsx")
    before = book.read_bytes()
    assert run(str(book), "--out", str(book)).exit_code == 2
    assert book.read_bytes() == before
