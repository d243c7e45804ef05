"""Whether the lines of the Routine sheet can be right (RT codes from RT20)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import SHIP, Audit
from workbook_tools.checks.departures import look_back
from workbook_tools.checks.registry import Code, check
from workbook_tools.checks.routine_due import back
from workbook_tools.checks.routine_record import Entry, crew, entries, numbers_known, person_words
from workbook_tools.checks.routine_tasks import COVERING, DRILLS, INSPECTIONS, TRAINING, code_of
from workbook_tools.findings import Finding


def _query(
    audit: Audit, code: str, entry: Entry, column: str, subject: str, message: str, remedy: str, source: str = ""
) -> Finding:
    return audit.finding(
        code, "query", "at next port", "routine", entry.row, column, subject, message, remedy, source=source
    )


def _latest_by(found: Iterable[tuple[str, Entry]]) -> Iterator[tuple[str, Entry]]:
    """One entry for each key, the latest: one cause is told once, however many old lines show it."""
    latest: dict[str, Entry] = {}
    for key, entry in found:
        if key not in latest or (entry.day or date.min) >= (latest[key].day or date.min):
            latest[key] = entry
    yield from latest.items()


def _craft_tasks(audit: Audit) -> frozenset[str]:
    rules = (rule for _, rows in audit.rule_set.by_evidence("routine") for rule in rows)
    return COVERING | {rule.item for rule in rules if rule.subject != SHIP}


@check(
    Code(
        "RT20",
        "routine-of-unknown-craft",
        ("query",),
        "the craft that a line of the Routine sheet names stands on the Craft sheet",
        "an inspection of a boat that is not there is no evidence for the one that is",
        "'Lifebaot 1' as craft; an engine run of 'Lifeboat 3' where there are two",
        "'lifeboat 1', 'Lifeboat 1 and 2', 'both boats'; a fire drill in the 'Galley'; an empty cell",
        "write the craft's name as on the Craft sheet, or leave the cell empty for all",
    )
)
def routine_of_unknown_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every name on the Routine sheet that is like a craft's, or stands where only a craft can."""
    of_craft = _craft_tasks(audit)
    unknown = (
        (catalogue.normalise(entry.row.get("subject")), entry)
        for entry in entries(audit)
        if entry.crafts == () and not entry.place and (entry.near or entry.task in of_craft)
    )
    for _, entry in _latest_by(unknown):
        text = entry.row.get("subject")
        hint = f"; did you mean {entry.near[0]!r}?" if entry.near else ""
        yield _query(
            audit,
            "RT20",
            entry,
            "subject",
            text,
            f"craft {text!r} is not on the Craft sheet{hint}",
            "write the craft's name as on the Craft sheet, or leave the cell empty for all",
        )


def _last_change(audit: Audit) -> date | None:
    return max((person.joined for _, person in crew(audit) if person.joined), default=None)


@check(
    Code(
        "RT21",
        "attendance-not-clear",
        ("query",),
        "those who took part can be read, and since the last change of crew they are on the Crew sheet",
        "a drill nobody can be found in counts for nobody",
        "'deck crew'; '12' at a drill, which may be a number or a count; '1-8, 44' where no crew number is 44",
        "'all except 4, 7'; a number of one who has left, in a drill before the last change of crew; an empty cell",
        "write the crew numbers: 'all', '1 to 8, 12' or 'all except 4, 7'",
        "SOLAS III/19.5",
    )
)
def attendance_not_clear(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every attendance that cannot be read, once for each wording."""
    known = numbers_known(audit)
    changed = _last_change(audit)
    trained = [entry for entry in entries(audit) if entry.task in TRAINING and entry.row.get("present")]
    newest = max((entry.day for entry in trained if entry.day), default=None)

    def problem(entry: Entry) -> str:
        if entry.attendance is None:
            made_date = re.fullmatch(r"\d{4}-\d\d-\d\d.*", entry.row.get("present"))
            return "is a date: the spreadsheet makes one of '1-8'" if made_date else "cannot be read as crew numbers"
        if entry.task in DRILLS and entry.attendance.may_be_a_count:
            return "may be a crew number or a count of heads"
        since = changed or newest
        if not known or since is None or entry.day is None or entry.day < since:
            return ""
        strangers = [number for number in entry.attendance.single_out if number not in known]
        return f"names {', '.join(strangers)}, not on the Crew sheet" if strangers else ""

    found = ((entry.row.get("present"), entry) for entry in trained if problem(entry))
    for text, entry in _latest_by(found):
        yield _query(
            audit,
            "RT21",
            entry,
            "present",
            f"{entry.task}, {text}",
            f"{entry.task}: taking part {text!r} {problem(entry)}",
            "write the crew numbers: 'all', '1 to 8, 12' or 'all except 4, 7'; if the person has left, nothing",
            "SOLAS III/19.5",
        )


@check(
    Code(
        "RT22",
        "drill-before-joining",
        ("query",),
        "a person listed at a drill had joined by then",
        "one of the two dates is wrong, and both decide whether the drill counts",
        "crew number 7 joined on 10 November 2026 and is listed at the fire drill of 3 November 2026, never before",
        "a crew number that has been in use for longer: its holder before; 'all', which means those on board then",
        "correct the day of joining or of the drill, or the crew number",
    )
)
def drill_before_joining(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every person first listed within the month before joining, by number."""
    month = look_back(audit)
    listed = [
        entry for entry in entries(audit) if entry.task in TRAINING and entry.held and entry.day and entry.attendance
    ]
    for row, person in crew(audit):
        joined, number = person.joined, person.number
        if month is None or joined is None or number is None:
            continue
        begins = back(joined, month)
        before = [entry for entry in listed if _lists(entry, number) and (entry.day or joined) < joined]
        if not before or min(entry.day or joined for entry in before) < begins:
            continue  # a number in use for longer had another holder
        if not any(_omits(entry, number) and (entry.day or joined) < begins for entry in listed):
            continue  # the record does not show that nobody had the number before
        entry = max(before, key=lambda each: each.day or joined)
        subject = person_words(row)
        yield _query(
            audit,
            "RT22",
            entry,
            "present",
            f"{subject}, {entry.task}",
            f"{subject} is listed at the {entry.task} of {entry.day} and joined on {joined} "
            f"({audit.where('crew', row, 'joined')}); it does not count for this person",
            "correct the day of joining or of the drill, or the crew number; if another had the number, nothing",
        )


def _lists(entry: Entry, number: str) -> bool:
    attendance = entry.attendance
    return attendance is not None and not attendance.everyone and number in attendance.numbers


def _omits(entry: Entry, number: str) -> bool:
    attendance = entry.attendance
    return attendance is not None and not attendance.everyone and number not in attendance.numbers


@check(
    Code(
        "RT23",
        "not-held-without-reason",
        ("query",),
        "a drill or training entered as not held says why",
        "the log must give the circumstances and what was held instead",
        "a fire drill entered as not held, with nothing under Remarks",
        "one with 'heavy weather' under Remarks; a book without a Remarks column",
        "write the reason under Remarks",
        "SOLAS III/19.5",
    )
)
def not_held_without_reason(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every drill not held without a reason."""
    table = audit.book.tables.get("routine")
    if table is None or "remarks" not in table.columns or audit.outside:
        return
    for entry in entries(audit):
        row = entry.row
        if entry.held or not entry.task or entry.task in INSPECTIONS or row.get("remarks") or "remarks" in row.unclear:
            continue
        if code_of(entry.task) == "RT02" or entry.day is None:
            continue
        yield _query(
            audit,
            "RT23",
            entry,
            "result",
            f"{entry.task} of {entry.day}",
            f"{entry.task} of {entry.day} is entered as not held, and no reason is given",
            "write the reason under Remarks",
            "SOLAS III/19.5",
        )
