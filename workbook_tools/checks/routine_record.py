"""The lines of the Routine sheet as evidence: what was done, when, for which craft, with whom."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, Craft, close_crafts
from workbook_tools.columns import sheet
from workbook_tools.core import routine as core
from workbook_tools.core.crew import is_passenger
from workbook_tools.core.routine import Attendance, Person, parse_attendance
from workbook_tools.reading import Row

_GROUPS = {
    "boats": ("lifeboat", "rescue-boat"),
    "lifeboats": ("lifeboat",),
    "rescue boats": ("rescue-boat",),
    "rafts": ("liferaft",),
    "liferafts": ("liferaft",),
    "life rafts": ("liferaft",),
}
_SHIP_WORDS = {"ship", "vessel", "all", "both", "craft", "survival craft", "whole ship", "boats and rafts"}


@dataclass(slots=True, eq=False)
class Entry:
    """One line of the Routine sheet, up to the day asked; doubt: what cannot be read in it ('' when clear)."""

    row: Row
    day: date | None
    task: str | None
    crafts: tuple[str, ...] | None  # None: the ship and all its craft
    near: tuple[str, ...]  # craft that a misspelt name may mean
    place: bool  # a place on board: part of the ship
    result: str | None
    attendance: Attendance | None
    doubt: str = ""

    @property
    def held(self) -> bool:
        """Whether it says that the task was carried out."""
        return self.result != "not held"


@dataclass(frozen=True, slots=True)
class Last:
    """When a task was last carried out for a subject: surely, and possibly (undated: date.max)."""

    sure: Entry | None
    possible: date | None
    doubt: str

    @property
    def day(self) -> date | None:
        """The day of the last clear line."""
        return self.sure.day if self.sure else None


def crafts_named(text: str, audit: Audit) -> tuple[str, ...] | None:
    """The craft that a 'Craft or place' text names: one, several ('Lifeboat 1 and 2'), a group ('both lifeboats').

    Returns () for a text that names none, None for one that means the whole ship.
    """
    known: dict[str, tuple[str, ...] | None] = audit.once("crafts_named", dict)
    if text not in known:  # the same few words stand on hundreds of lines
        known[text] = _crafts_named(text, audit)
    return known[text]


def _crafts_named(text: str, audit: Audit) -> tuple[str, ...] | None:
    by_name = audit.crafts_by_name
    if craft := by_name.get(catalogue.normalise(text)):
        return (craft.name,)
    folded = re.sub(r"^(?:all|both|the|every|each)\s+(?:the\s+)?", "", " ".join(text.casefold().split()))
    if folded in _SHIP_WORDS:
        return None
    if families := _GROUPS.get(folded):
        return tuple(craft.name for craft in audit.crafts if set(families) & set(craft.families))
    pieces = re.split(r"\s*(?:[,;/&+]|\band\b)\s*", text.strip())
    stem = pieces[0].rpartition(" ")[0]
    found = []
    for piece in pieces:
        known = by_name.get(catalogue.normalise(piece)) or by_name.get(catalogue.normalise(f"{stem} {piece}"))
        if known is None:
            return ()
        found.append(known.name)
    return tuple(found)


def entries(audit: Audit) -> list[Entry]:
    """The lines of the Routine sheet that are evidence on the day asked (later ones are not), read once an audit."""
    return audit.once("routine_entries", lambda: _read_entries(audit))


def _read_entries(audit: Audit) -> list[Entry]:
    known = numbers_known(audit)
    found = (_entry(audit, row, known) for row in audit.book.rows("routine"))
    return [entry for entry in found if entry.day is None or entry.day <= audit.on]


def _entry(audit: Audit, row: Row, known: frozenset[str]) -> Entry:
    text, present = row.get("subject"), row.get("present")
    crafts = crafts_named(text, audit) if text is not None else None
    near = close_crafts(text, audit.crafts_by_name) if text is not None and crafts == () else []
    day, task = row.get("day"), row.get("task")
    if "task" in row.unclear:
        task = _likely_task(row.unclear["task"])
    return Entry(
        row,
        day,
        task,
        crafts,
        tuple(craft.name for craft in near),
        text is not None and crafts == () and catalogue.is_place(text),
        row.get("result"),
        parse_attendance(present, known) if present else None,
        "; ".join(_doubts(audit, row)) if row.unclear or day is None or task is None else "",
    )


def _likely_task(text: str) -> str:
    """The task that a word nobody knows is most like; '' like none."""
    return sheet("routine").column("task").names.nearest(text) or ""


def _doubts(audit: Audit, row: Row) -> Iterator[str]:
    for column in ("day", "task", "subject", "result"):
        if text := row.unclear.get(column):
            yield f"{audit.where('routine', row, column)} shows {text!r}"
        elif column in ("day", "task") and row.get(column) is None:
            yield f"{audit.where('routine', row, column)} is empty"


def crew(audit: Audit) -> list[tuple[Row, Person]]:
    """The crew on board on the day asked: the Crew sheet without passengers and without those who join later."""
    return audit.once("crew_on_board", lambda: _read_crew(audit))


def _read_crew(audit: Audit) -> list[tuple[Row, Person]]:
    found = []
    for row in audit.book.rows("crew"):
        joined, number = row.get("joined"), row.get("number")
        if is_passenger(row.get("rank")) or (joined is not None and joined > audit.on):
            continue
        found.append((row, Person(core.number_key(number) if number else None, joined)))
    return found


def numbers_known(audit: Audit) -> frozenset[str]:
    """Every number of the Crew sheet, passengers' too."""
    return frozenset(core.number_key(row.get("number")) for row in audit.book.rows("crew") if row.get("number"))


def person_words(row: Row) -> str:
    """A person of the Crew sheet as messages call one: by number or rank, never by name."""
    number, rank = row.get("number"), row.get("rank")
    return f"crew number {number}" if number else f"the {rank} without a number" if rank else "one without a number"


def lines_of(audit: Audit, tasks: Sequence[str]) -> list[Entry]:
    """The lines that may be about one of these tasks; one without a task may be about any."""
    by_task = audit.once("entries_by_task", lambda: _by_task(audit))
    wanted = [by_task[task] for task in (*tasks, None) if task in by_task]
    if len(wanted) <= 1:
        return wanted[0] if wanted else []
    return [entry for entry in entries(audit) if entry.task in tasks or entry.task is None]


def _by_task(audit: Audit) -> dict[str | None, list[Entry]]:
    found: dict[str | None, list[Entry]] = {}
    for entry in entries(audit):
        found.setdefault(entry.task, []).append(entry)
    return found


def last_done(audit: Audit, tasks: tuple[str, ...], craft: Craft | None, whole: bool = False) -> Last:
    """When one of the tasks was last carried out for a craft (None: the ship).

    whole: a line about one place or craft does not speak for the whole ship.
    """
    known: dict[tuple[tuple[str, ...], str | None, bool], Last] = audit.once("last_done", dict)
    key = tasks, craft.name if craft else None, whole
    if key not in known:  # every fitting of a craft asks for the same inspection
        known[key] = _last_done(audit, tasks, craft, whole)
    return known[key]


def _last_done(audit: Audit, tasks: tuple[str, ...], craft: Craft | None, whole: bool) -> Last:
    sure: Entry | None = None
    possible: date | None = None
    doubtful: Entry | None = None
    for entry in lines_of(audit, tasks):
        covers = _covers(entry, craft, whole)
        if covers is False or not entry.held:
            continue
        clear = covers is True and not entry.doubt and entry.day is not None
        if clear and (sure is None or (entry.day or date.min) > (sure.day or date.min)):
            sure = entry
        day = entry.day or date.max
        if possible is None or day > possible:
            possible, doubtful = day, None if clear else entry
    if doubtful is None:
        return Last(sure, possible, "")
    unsure = f"{audit.where('routine', doubtful.row, 'subject')} does not say so for sure"
    return Last(sure, possible, doubtful.doubt or unsure)


def _covers(entry: Entry, craft: Craft | None, whole: bool) -> bool | None:
    if entry.crafts is None:
        return True
    if craft is None:
        return True if not whole else None
    if entry.crafts:
        return craft.name in entry.crafts
    return None if craft.name in entry.near or not entry.near else False  # a name that may mean this craft


def last_not_held(audit: Audit, tasks: Sequence[str], craft: Craft | None) -> Entry | None:
    """The last line that says a task was not held."""
    found = [
        entry
        for entry in lines_of(audit, tasks)
        if entry.result == "not held" and entry.day and not entry.doubt and _covers(entry, craft, False)
    ]
    return max(found, key=lambda entry: entry.day or date.min, default=None)
