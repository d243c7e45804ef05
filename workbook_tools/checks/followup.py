"""What is being done about a finding (WB codes from 30 on).

A finding that is known and ordered leaves the front of the report but not the record, until the day on which it was
expected to be put right. These checks speak last: they need the findings with their ids.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from workbook_tools.checks.context import Audit
from workbook_tools.checks.registry import Code, describe
from workbook_tools.findings import Finding, FollowUp
from workbook_tools.reading import Book, Row

_ID = re.compile(r"[A-Z]{2}[0-9]{2}-[a-z2-7]{6}")
_OWN_CODES = re.compile(r"WB3[0-9]-.*")

for _code in (
    Code(
        "WB30",
        "closed-but-still-found",
        ("query",),
        "a follow-up that is closed has ended its finding",
        "what is closed on paper is looked at no more",
        "a line closed on 20 November whose finding the audit of 25 November still makes",
        "a closed line whose finding is gone; one with a new, open line beside it because the fault came back; a line "
        "whose closing day lies after the day asked",
        "look whether it was put right; correct the record, or open the follow-up again",
    ),
    Code(
        "WB31",
        "follow-up-without-finding",
        ("note",),
        "an open follow-up has a finding to follow",
        "open lines about what is put right long ago hide those that are not",
        "an open line for hand flares that have since been counted again",
        "a closed line: it is history",
        "write the day in 'Closed on'",
    ),
    Code(
        "WB32",
        "follow-up-id-malformed",
        ("query",),
        "a follow-up names its finding by the id that the audit prints",
        "a follow-up that names nothing follows nothing",
        "'EQ01-7lrpe', with a letter missing",
        "'eq01-7LRPES', or the id with spaces around it",
        "copy the id from the report",
    ),
    Code(
        "WB33",
        "followed-up-twice",
        ("query",),
        "a finding has one open follow-up",
        "of two orders with two dates nobody knows which one holds",
        "two open lines with the same id",
        "one closed line of last year and one open line with the same id",
        "keep one line, close or clear the other",
    ),
):
    describe(_code)


@dataclass(slots=True)
class Entry:
    """One line of the Follow-up sheet: the id as the audit prints it, '' when it is none."""

    row: Row
    text: str
    id: str

    def closed(self, on: date) -> date | None:
        """The day on which it was closed, if that has come."""
        day: date | None = self.row.get("closed")
        return day if day is not None and day <= on else None

    @property
    def clear(self) -> bool:
        """Whether its dates could be read: what is unclear puts no finding aside and accuses nobody."""
        return not {"closed", "expected"} & self.row.unclear.keys()


def name_remover(book: Book) -> Callable[[str], str]:
    """A function that puts crew number or rank in the place of each full name of the Crew sheet.

    Officers write names into remarks and descriptions; reports stand on other people's desks. A single word is left
    alone: it may be a rank, a place or a ship.
    """
    stands_for: dict[str, str] = {}
    spelled: set[str] = set()  # as written and folded: 'Straße' is 'strasse' when folded, and neither meets the other
    for row in book.rows("crew"):
        words = str(row.get("name") or "").split()
        if len(words) > 1:
            number, rank = row.get("number"), row.get("rank")
            name = " ".join(words)
            spelled |= {name, name.casefold()}
            stands_for[name.casefold()] = f"crew number {number}" if number else rank or "a person on board"
    if not stands_for:
        return lambda text: text
    first_words = tuple({name.split()[0] for name in stands_for})
    plain = all(name.isascii() for name in spelled)

    def substitute(match: re.Match[str]) -> str:
        return stands_for.get(" ".join(match[0].split()).casefold(), "a person on board")

    @cache
    def pattern() -> re.Pattern[str]:
        """Any of the names: built where a text may hold one, for it takes longer than all the rest."""
        longest_first = sorted(sorted(spelled), key=len, reverse=True)
        names = "|".join(r"\s+".join(map(re.escape, name.split())) for name in longest_first)
        return re.compile(rf"(?<!\w)(?:{names})(?!\w)", re.IGNORECASE)

    def nameless(text: str) -> str:
        if plain and text.isascii():
            folded = text.casefold()
            if not any(word in folded for word in first_words):
                return text
        return pattern().sub(substitute, text)

    return nameless


def entries(audit: Audit) -> list[Entry]:
    """The lines of the Follow-up sheet that name a finding."""
    found = []
    for row in audit.book.rows("follow_up"):
        text = row.get("finding")
        if text is not None:
            code, dash, rest = re.sub(r"\s+", "", str(text)).partition("-")
            wanted = f"{code.upper()}{dash}{rest.lower()}"
            found.append(Entry(row, str(text), wanted if _ID.fullmatch(wanted) else ""))
    return found


def open_entries(audit: Audit) -> list[Entry]:
    """The lines that are not closed on the day asked."""
    return [entry for entry in entries(audit) if entry.closed(audit.on) is None and "closed" not in entry.row.unclear]


def apply(audit: Audit, findings: Sequence[Finding]) -> list[Finding]:
    """The findings with what is being done about each, and what the follow-ups themselves give rise to."""
    if not audit.book.rows("follow_up"):
        return [*findings]
    by_id = {finding.id: finding for finding in findings}
    first: dict[str, Entry] = {}
    for entry in open_entries(audit):
        if entry.id in by_id:
            first.setdefault(entry.id, entry)
    followed = [_with(audit, finding, first.get(finding.id)) for finding in findings]
    return [*followed, *_speak(audit, by_id, first)]


def _with(audit: Audit, finding: Finding, entry: Entry | None) -> Finding:
    """A finding with its follow-up; past the expected day its message says so."""
    if entry is None or not entry.clear:
        return finding
    row = entry.row
    order, expected = row.get("order"), row.get("expected")
    if order is None and expected is None:
        return finding
    nameless = name_remover(audit.book)
    past = expected is not None and expected < audit.on
    follow_up = FollowUp(
        order=nameless(order or ""),
        port=row.get("port") or "",
        expected=expected,
        reported_to=nameless(row.get("reported_to") or ""),
        interim=nameless(row.get("interim") or ""),
        past=past,
    )
    if not past:
        return replace(finding, follow_up=follow_up)
    ordered = f" ({follow_up.order})" if order else ""
    return replace(
        finding, follow_up=follow_up, message=f"{finding.message}; was expected to be right on {expected}{ordered}"
    )


def _query(audit: Audit, code: str, entry: Entry, column: str, message: str, remedy: str) -> Finding:
    note = code == "WB31"
    return audit.finding(
        code,
        "note" if note else "query",
        "plan" if note else "at next port",
        "follow_up",
        entry.row,
        column,
        entry.id or entry.text,
        message,
        remedy,
    )


def _speak(audit: Audit, by_id: dict[str, Finding], first: dict[str, Entry]) -> Iterator[Finding]:
    open_ids: set[str] = set()
    for entry in open_entries(audit):
        if not entry.id:
            yield _malformed(audit, entry, by_id)
        elif entry.id in open_ids:
            yield _query(
                audit,
                "WB33",
                entry,
                "finding",
                f"{entry.id} is followed up on another open line already: that one counts",
                "keep one line; close or clear the other",
            )
        elif entry.id not in by_id and not _OWN_CODES.fullmatch(entry.id):
            yield _gone(audit, entry, by_id)
        open_ids.add(entry.id)
    told: set[str] = set()
    for entry in reversed(entries(audit)):
        closed = entry.closed(audit.on)
        if closed is None or entry.id not in by_id or entry.id in open_ids or entry.id in told or not entry.clear:
            continue
        told.add(entry.id)
        yield _query(
            audit,
            "WB30",
            entry,
            "closed",
            f"closed on {closed}, and {entry.id} still stands, or stands again: {by_id[entry.id].message}",
            "look whether it was put right; correct the record, or open a new line for it",
        )


def _malformed(audit: Audit, entry: Entry, by_id: dict[str, Finding]) -> Finding:
    near = _nearest(entry.text, by_id)
    hint = f"; did you mean {near}?" if near else ""
    return _query(
        audit,
        "WB32",
        entry,
        "finding",
        f"{entry.text!r} is no id of a finding: two letters, two digits, a dash and six characters{hint}",
        "copy the id from the report",
    )


def _gone(audit: Audit, entry: Entry, by_id: dict[str, Finding]) -> Finding:
    near = _nearest(entry.id, by_id, cutoff=0.9)
    hint = f"; did you mean {near}?" if near else ""
    return _query(
        audit,
        "WB31",
        entry,
        "finding",
        f"no finding of this audit has the id {entry.id}: put right, exempt, not evaluated or not due{hint}",
        "close the line if it is put right",
    )


def _nearest(text: str, by_id: dict[str, Finding], cutoff: float = 0.6) -> str:
    folded = {name.casefold(): name for name in by_id}
    close = difflib.get_close_matches(text.strip().casefold(), folded, n=1, cutoff=cutoff)
    return folded[close[0]] if close else ""
