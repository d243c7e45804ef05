"""Drills and training that each person must have had (SOLAS III/19.3, 19.4)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import TypedDict

from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.routine_due import (
    back,
    due_day,
    every_words,
    in_lead,
    interval_of,
    interval_words,
    lead_of,
    same_month,
    when_due,
)
from workbook_tools.checks.routine_duty import Duty, dated, told
from workbook_tools.checks.routine_record import Entry, crew, lines_of, person_words
from workbook_tools.core import routine as core
from workbook_tools.core.expiry import days_left
from workbook_tools.core.interval import Interval
from workbook_tools.core.routine import Attendance, Drill, DrillRecord, Person
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

MOST_NAMED = 8  # persons named in one message; the rest are counted


def record_of(audit: Audit, task: str) -> DrillRecord:
    """The drills of one kind on record."""
    return DrillRecord.of(
        Drill(entry.day, attended(entry), not entry.doubt) for entry in lines_of(audit, (task,)) if entry.held
    )


def attended(entry: Entry) -> Attendance | None:
    """Who took part; a bare number beside a drill may be a count of heads and says nothing."""
    attendance = entry.attendance
    return None if attendance and attendance.may_be_a_count and entry.task != "joining training" else attendance


def personal_drill(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """A drill that each crew member must have had within the interval."""
    by_date = dated(audit, rule, None)
    by_date = replace(by_date, code="RT04" if by_date.code else "")
    if by_date.state == "not_evaluated":
        return by_date
    people = crew(audit)
    if rule.item == "enclosed space drill":
        if not any(row.get("enters_spaces") or "enters_spaces" in row.unclear for row, _ in people):
            return by_date  # nobody is named for it: the ship as a whole
        people = [pair for pair in people if _may_enter(pair[0])]
        if not people:
            return Duty(rule, SHIP, "not_applicable", "nobody on the Crew sheet has a duty of entry or rescue")
    if by_date.state == "finding" and all(person.joined is None for _, person in people):
        return by_date
    if not people:
        return Duty(rule, SHIP, "not_evaluated", "the Crew sheet lists nobody")
    return _each(audit, rule, people, by_date)


def _may_enter(row: Row) -> bool:
    return row.get("enters_spaces") == "yes" or "enters_spaces" in row.unclear


def _each(audit: Audit, rule: Rule, people: list[tuple[Row, Person]], by_date: Duty) -> Duty:
    record = record_of(audit, rule.item)
    every, counting = interval_of(rule), same_month(audit)
    standings = [(row, core.standing(person, record, audit.on, every, counting)) for row, person in people]
    late = [(row, found) for row, found in standings if found.state == core.LATE and "enters_spaces" not in row.unclear]
    base = Duty(rule, SHIP, "passed", "counted", row=by_date.row, **_next_for(audit, standings, every))
    if late:
        return _missed(audit, replace(base, state="finding", why=""), late, len(people), by_date)
    unknown = [row for row, found in standings if found.state != core.OK]
    if unknown:
        return Duty(rule, SHIP, "not_evaluated", _why_unknown(audit, rule, unknown[0]))
    return _soon(audit, base, standings)


class _Next(TypedDict):
    due: date | None
    lead: int


def _next_for(audit: Audit, standings: list[tuple[Row, core.Standing]], every: Interval) -> _Next:
    """The first day on which somebody's drill falls due, and its lead."""
    first = min((found for _, found in standings if found.due), key=lambda found: found.due or date.max, default=None)
    if first is None or first.due is None:
        return {"due": None, "lead": 0}
    return {"due": first.due, "lead": lead_of(audit, first.last or back(first.due, every), first.due)}


def _missed(audit: Audit, duty: Duty, late: list[tuple[Row, core.Standing]], crew_size: int, by_date: Duty) -> Duty:
    """Everyone late: the drill itself lapsed, told at its last line; else told at the first person."""
    rule = duty.rule
    if by_date.state == "finding" and len(late) == crew_size:
        return told(audit, replace(duty, row=by_date.row), None, by_date.message, "RT04")
    named = _first_few(
        [f"{person_words(row)} ({f'last on {found.last}' if found.last else 'none on record'})" for row, found in late]
    )
    message = f"{rule.item}: asked of each crew member {every_words(rule)}; not so: {named}"
    return told(audit, replace(duty, sheet="crew", row=late[0][0], column="number"), None, message, "RT04")


def _why_unknown(audit: Audit, rule: Rule, row: Row) -> str:
    if row.get("joined") is None:
        return f"{person_words(row)}: the day of joining is not recorded"
    drills = [entry for entry in lines_of(audit, (rule.item,)) if entry.held]
    latest = max(drills, key=lambda entry: entry.day or date.min)
    if latest.doubt:
        return latest.doubt
    if attended(latest) is None:
        return f"who took part is not recorded: {audit.where('routine', latest.row, 'present')}"
    return f"{person_words(row)}: the record of the {rule.item} does not reach back far enough"


def _soon(audit: Audit, duty: Duty, standings: list[tuple[Row, core.Standing]]) -> Duty:
    """Whose drill falls due within the lead."""
    every = interval_of(duty.rule)
    start = {id(found): found.last or back(found.due, every) for _, found in standings if found.due}
    soon = [(row, found) for row, found in standings if found.due and in_lead(audit, start[id(found)], found.due)]
    if not soon:
        return duty
    first = min((found.due for _, found in soon if found.due), default=audit.on)
    who = f"all {len(soon)} crew members" if len(soon) == len(standings) else _listed(row for row, _ in soon)
    asked = f"{duty.rule.item}: asked of each crew member {every_words(duty.rule)}"
    message = f"{asked}; due {when_due(audit, first)}: {who}"
    if len(soon) < len(standings):
        duty = replace(duty, sheet="crew", row=soon[0][0], column="number")
    return told(audit, replace(duty, days=days_left(first, audit.on)), None, message, "RT04")


def _listed(rows: Iterable[Row]) -> str:
    return _first_few([person_words(row) for row in rows])


def _first_few(words: list[str]) -> str:
    more = f" and {len(words) - MOST_NAMED} more" if len(words) > MOST_NAMED else ""
    return ", ".join(words[:MOST_NAMED]) + more


def joining_training(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """Training on board within so many days of joining."""
    record = record_of(audit, rule.item)
    if record.start is None:
        return Duty(rule, SHIP, "not_evaluated", f"no {rule.item} is recorded")
    late: list[Row] = []
    queried: list[Row] = []
    unknown: list[Row] = []
    soon: list[tuple[date, Row]] = []
    ahead: list[tuple[date, date]] = []  # when due, and since when
    people = crew(audit)
    for row, person in people:
        sure, possible = record.last(person)
        if sure is not None:
            continue
        if person.joined is None or possible is not None or person.joined < record.start:
            unknown.append(row)
            continue
        due = due_day(audit, rule, person.joined)
        if due < audit.on:
            earlier = any(
                drill.attendance and person.number in drill.attendance.numbers and not drill.attendance.everyone
                for drill in record.drills
            )
            (queried if earlier else late).append(row)
            continue
        ahead.append((due, person.joined))
        if in_lead(audit, person.joined, due):
            soon.append((due, row))
    duty = Duty(rule, SHIP, "passed", "counted", sheet="crew", column="joined")
    if ahead:
        due, since = min(ahead)
        duty = replace(duty, due=due, lead=lead_of(audit, since, due))
    asked = f"{rule.item}: asked within {interval_words(rule)} of joining"
    if late:
        duty = replace(duty, state="finding", why="", row=late[0])
        named = _first_few([f"{person_words(row)} (joined {row.get('joined')})" for row in late])
        return told(audit, duty, None, f"{asked}; none is recorded for {named}", "RT06")
    if queried:
        why = f"{asked}; the only one recorded for {_listed(queried)} lies before joining"
        return Duty(
            rule,
            SHIP,
            "not_evaluated",
            why,
            "RT06",
            "query",
            "at next port",
            "crew",
            queried[0],
            "joined",
            f"{why}: it counts for one in regular rotation who was trained then, not for a successor in the number",
        )
    if unknown:
        return Duty(rule, SHIP, "not_evaluated", f"{_listed(unknown)}: not clear from the record")
    if not people:
        return Duty(rule, SHIP, "not_evaluated", "the Crew sheet lists nobody")
    if soon:
        due, row = min(soon, key=lambda pair: pair[0])
        who = _listed(each for _, each in soon)
        return told(
            audit,
            replace(duty, row=row, days=days_left(due, audit.on)),
            None,
            f"{asked}; due {when_due(audit, due)}: {who}",
            "RT06",
        )
    return duty
