"""Tests, musters and drills that hang on a departure (SOLAS III/19.2, 19.3.2; V/26.1)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.drills import record_of
from workbook_tools.checks.routine_due import back, in_lead, interval_of, interval_words
from workbook_tools.checks.routine_duty import Duty, told
from workbook_tools.checks.routine_record import crew, lines_of
from workbook_tools.core import routine as core
from workbook_tools.core.expiry import days_left
from workbook_tools.core.interval import Interval
from workbook_tools.core.routine import DrillRecord, Person
from workbook_tools.core.servicing import days_after
from workbook_tools.reading import Row
from workbook_tools.rules import Rule


def _departed(audit: Audit) -> tuple[date | None, str]:
    day = audit.book.ship_value("departed")
    if day is None:
        return None, "the last departure is not recorded"
    return (None, f"the last departure is dated {day}, after the day asked") if day > audit.on else (day, "")


def before_departure_test(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """A test or muster before departure. The record holds days: 12 hours before may be the day before."""
    departed, why = _departed(audit)
    if departed is None:
        return Duty(rule, SHIP, "not_evaluated", why)
    reach = interval_of(rule).days
    first = days_after(departed, -reach)
    muster = rule.item == "passenger muster"
    last_day = days_after(departed, reach) if muster else departed
    held = [entry for entry in lines_of(audit, (rule.item,)) if entry.held]
    clear = [entry for entry in held if entry.day and not entry.doubt]
    if not clear:
        return Duty(rule, SHIP, "not_evaluated", held[0].doubt if held else f"no {rule.item} is recorded")
    within = [entry for entry in held if entry.day is None or first <= entry.day <= last_day]
    sure = [entry for entry in within if entry in clear]
    if sure:
        return Duty(rule, SHIP, "passed", f"on {sure[-1].day}, departure on {departed}")
    if within:
        return Duty(rule, SHIP, "not_evaluated", within[0].doubt)
    days = [entry.day for entry in clear if entry.day and entry.day < first]
    if not days:
        return Duty(
            rule, SHIP, "not_evaluated", f"the record of the {rule.item} begins after the departure on {departed}"
        )
    if muster and audit.on <= last_day:
        return Duty(rule, SHIP, "passed", f"may be held until {last_day}")
    asked = "before or at once on departure" if muster else f"within {interval_words(rule)} before it"
    message = (
        f"departure on {departed}: no {rule.item} is recorded between {first} and {last_day}, the last before it is of "
        f"{max(days)}; asked {asked} (days as the record holds them)"
    )
    duty = Duty(rule, SHIP, "finding", sheet="ship", row=_ship_row(audit), column="departed")
    return told(audit, duty, None, message, "RT07")


def _ship_row(audit: Audit) -> Row:
    return audit.book.rows("ship")[0]


def drills_after_departure(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """Drills within hours of departure where too much of the crew has missed them (III/19.3.2)."""
    records = {task: record_of(audit, task) for task in ("abandon ship drill", "fire drill")}
    absent = next((task for task, record in records.items() if record.start is None), None)
    if absent is not None:
        return Duty(rule, SHIP, "not_evaluated", f"no {absent} is recorded")
    persons = [person for _, person in crew(audit)]
    if not persons:
        return Duty(rule, SHIP, "not_evaluated", "the Crew sheet lists nobody")
    departed, why = _departed(audit)
    month = look_back(audit)
    if month is None:
        return Duty(rule, SHIP, "not_applicable", "no monthly drill is asked on that day")
    duty = Duty(rule, SHIP, "not_evaluated", why)
    if departed is not None:
        duty = _since_departure(audit, rule, records, persons, departed, month)
    return replace(duty, more=_next_departure(audit, rule, records, persons, month))


def look_back(audit: Audit) -> Interval | None:
    """'In the previous month' is the month of the monthly drill; None where no such drill is asked on that day."""
    rows = audit.rule_set.by_key().get("routine.abandon-drill", [])
    return next((interval_of(rule) for rule in rows if rule.in_force(audit.on)), None)


def _since_departure(
    audit: Audit, rule: Rule, records: dict[str, DrillRecord], persons: list[Person], departed: date, month: Interval
) -> Duty:
    ends = days_after(departed, core.whole_days(rule.fixed))
    after = {task: _held_between(record, departed, ends) for task, record in records.items()}
    if all(after.values()):
        return Duty(rule, SHIP, "passed", f"both drills held between {departed} and {ends}")
    aboard = records["abandon ship drill"].until(departed), records["fire drill"].until(departed)
    missing = core.missing_drills(persons, *aboard, departed, month)
    base = Duty(rule, SHIP, "passed", sheet="ship", row=_ship_row(audit), column="departed")
    if not missing.possibly_above(rule.percent):
        return replace(base, why=f"{len(missing.possibly)} of {missing.crew} had missed a drill before {departed}")
    if not missing.surely_above(rule.percent):
        return replace(base, state="not_evaluated", why="who of the crew had the drills before departure is not clear")
    if any(person.joined and person.joined > departed for person in persons):
        return replace(base, state="not_evaluated", why=f"the crew has changed since the departure on {departed}")
    lacking = " and ".join(task for task, held in after.items() if held is False)
    said = f"departure on {departed}: {_share_words(missing)}."
    asked = f"More than {rule.percent:g} % asks for both within {rule.fixed:g} h"
    if audit.on <= ends:
        duty = replace(base, why=f"may be held until {ends}", days=days_left(ends, audit.on), due=ends)
        return told(audit, duty, None, f"{said} {asked}: {lacking or 'both'} to be held until {ends}", "RT05")
    if not lacking:
        return replace(base, state="not_evaluated", why="a line of a drill after departure is not clear")
    return told(audit, replace(base, state="finding"), None, f"{said} {asked}: {lacking} not on record", "RT05")


def _share_words(missing: core.Missing) -> str:
    """Who counts as missing: that either drill missed is enough is a reading of the text, told by the code."""
    share = 100 * len(missing.surely) / missing.crew
    return (
        f"{len(missing.surely)} of {missing.crew} crew members ({share:.0f} %) without both drills on this ship in "
        "the month before"
    )


def _held_between(record: DrillRecord, first: date, last: date) -> bool | None:
    """Whether a drill was held between two days; None where only an unclear line says so."""
    found: bool | None = False
    for drill in record.drills:
        if drill.day is None:
            found = None if found is False else found
        elif first <= drill.day <= last:
            found = True if drill.certain else found or None
    return found


def _next_departure(
    audit: Audit, rule: Rule, records: dict[str, DrillRecord], persons: list[Person], month: Interval
) -> Duty | None:
    """What will be missing at a departure that lies within the lead of the monthly drill."""
    leaves = audit.book.ship_value("next_departure")
    if leaves is None or leaves < audit.on:
        return None
    if not in_lead(audit, back(leaves, month), leaves):
        return None
    missing = core.missing_drills(persons, records["abandon ship drill"], records["fire drill"], leaves, month)
    if not missing.surely_above(rule.percent):
        return None
    message = (
        f"departure on {leaves}: {_share_words(missing)}. More than {rule.percent:g} % asks for both within "
        f"{rule.fixed:g} h after it, unless they are held before"
    )
    duty = Duty(rule, SHIP, "passed", sheet="ship", row=_ship_row(audit), column="next_departure")
    return told(audit, replace(duty, days=days_left(leaves, audit.on)), None, message, "RT05")
