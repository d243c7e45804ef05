"""Inspections, tests, drills and training (RT codes)."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from workbook_tools import catalogue
from workbook_tools.checks.context import SHIP, Audit, Craft, close_crafts
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.columns import sheet
from workbook_tools.core import routine as core
from workbook_tools.core.crew import is_passenger
from workbook_tools.core.expiry import days_left
from workbook_tools.core.interval import Interval, add_months
from workbook_tools.core.routine import Attendance, Drill, DrillRecord, Person, parse_attendance
from workbook_tools.findings import Finding, State
from workbook_tools.reading import Row
from workbook_tools.rules import Rule
from workbook_tools.rules.loader import policies

# What shows a task besides a line of its own: the paragraph of the wider task contains the narrower one.
ALSO_SHOWN_BY: dict[str, tuple[str, ...]] = {
    "weekly inspection": ("monthly inspection",),  # III/20.7.2 looks at all that III/20.6.1 does
    "boats moved from stowage": ("boats turned out", "lifeboat launched"),  # III/20.6.3, 20.7.1, 19.3.4.3
    "boats turned out": ("lifeboat launched",),
    "engine run": ("lifeboat launched", "free-fall launch", "rescue boat launched"),  # manoeuvred: the engine ran
    "free-fall boarding drill": ("free-fall launch",),  # III/19.3.4.4: boarding is part of a launch
    "general alarm test": ("abandon ship drill",),  # III/19.3.4.1: the drill begins with the alarm
}
# The texts of these two say 'weather and sea conditions so allowing' (III/20.6.3, 20.7.1).
WEATHER = frozenset({"routine.boats-moved", "routine.boats-turned-out"})
# One line for one craft says nothing of the others: each craft must have been covered.
COVERING = frozenset({"weekly inspection", "monthly inspection"})
# A line of these about one place or craft does not speak for the ship.
WHOLE = COVERING | {f"fire {period} inspection" for period in ("weekly", "monthly", "quarterly", "annual")}
DRILLS = frozenset({"abandon ship drill", "fire drill", "enclosed space drill"})
INSPECTIONS = COVERING | {"engine run", "boats moved from stowage", "general alarm test", "boats turned out"}
TRAINING = DRILLS | {"joining training"}
LAUNCHING = "; launching and release gear only by the maker's manual, with the person in charge at the boat"
CO2 = "; at CO2 bottles only those authorised, with the release isolated"
REMEDIES = {
    "weekly inspection": "carry it out and enter it; release gear is worked by the maker's manual only",
    "monthly inspection": "do it by the checklist of III/36 and enter it; release gear only by the maker's manual",
    "boats moved from stowage": "do it with nobody in the boat and enter it, or enter why the weather did not allow it",
    "boats turned out": "do it with nobody in the boat and enter it, or enter why the weather did not allow it",
    "engine run": "run it by the maker's manual and enter it",
    "lifeboat launched": f"launch and manoeuvre it in sheltered water and enter it{LAUNCHING}",
    "free-fall launch": f"launch it, or carry out a simulated launch, and enter it{LAUNCHING}",
    "free-fall boarding drill": f"hold it and enter it{LAUNCHING}",
    "rescue boat launched": f"launch and manoeuvre it in sheltered water and enter it{LAUNCHING}",
    "davit raft training": f"hold it and enter it{LAUNCHING}",
    "fire weekly inspection": f"carry it out and enter it{CO2}",
    "fire monthly inspection": f"carry it out and enter it{CO2}",
    "fire annual inspection": f"have it done and enter it{CO2}",
}
MOST_NAMED = 8  # persons named in one message; the rest are counted


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


@dataclass(slots=True)
class Duty:
    """How a rule ended for a subject, and what is to be said about it (code '' when nothing)."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    code: str = ""
    grade: str = ""
    priority: str = ""
    sheet: str = "routine"
    row: Row | None = None
    column: str = "day"
    message: str = ""
    days: int | None = None
    more: Duty | None = None  # a second thing to be said about the same rule


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


def interval_of(rule: Rule) -> Interval:
    """The interval that a rule's quantity and unit give; hours become the days they touch."""
    if rule.unit == "months":
        return Interval(months=int(rule.fixed))
    return Interval(days=core.whole_days(rule.fixed) if rule.unit == "h" else int(rule.fixed))


def interval_words(rule: Rule) -> str:
    """'7 days', '1 month'."""
    unit = rule.unit[:-1] if rule.fixed == 1 and rule.unit in ("days", "months") else rule.unit
    return f"{rule.fixed:g} {unit}"


def every_words(rule: Rule) -> str:
    """'every 7 days', 'every month'."""
    return f"every {rule.unit[:-1]}" if rule.fixed == 1 else f"every {interval_words(rule)}"


def same_month(audit: Audit) -> bool:
    """Whether the Ship sheet says that deadlines run to the end of their calendar month."""
    return audit.ship_facts.get("deadline_counting") == "same calendar month"


def due_day(audit: Audit, rule: Rule, last: date) -> date:
    """The last day on which the next one is in time."""
    return core.deadline(last, interval_of(rule), same_month(audit))


def in_lead(audit: Audit, last: date, due: date) -> bool:
    """Whether a deadline lies within the lead: a share of its interval, at most the warning days for servicing."""
    share = policies()["routine.lead-share"].value
    return 0 <= days_left(due, audit.on) <= core.lead_days(last, due, share, audit.warn_days("servicing"))


# Reading the lines ---------------------------------------------------------------------------------------------


_GROUPS = {
    "boats": ("lifeboat", "rescue-boat"),
    "lifeboats": ("lifeboat",),
    "rescue boats": ("rescue-boat",),
    "rafts": ("liferaft",),
    "liferafts": ("liferaft",),
    "life rafts": ("liferaft",),
}
_SHIP_WORDS = {"ship", "vessel", "all", "both", "craft", "survival craft", "whole ship", "boats and rafts"}


def crafts_named(text: str, audit: Audit) -> tuple[str, ...] | None:
    """The craft that a 'Craft or place' text names: one, several ('Lifeboat 1 and 2'), a group ('both lifeboats').

    Returns () for a text that names none, None for one that means the whole ship.
    """
    by_name: dict[str, Craft] = audit.shared["crafts_by_name"]
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
    if "routine_entries" not in audit.shared:
        known = numbers_known(audit)
        found = (_entry(audit, row, known) for row in audit.book.rows("routine"))
        audit.shared["routine_entries"] = [entry for entry in found if entry.day is None or entry.day <= audit.on]
    result: list[Entry] = audit.shared["routine_entries"]
    return result


def _entry(audit: Audit, row: Row, known: frozenset[str]) -> Entry:
    text, present = row.get("subject"), row.get("present")
    crafts = crafts_named(text, audit) if text is not None else None
    near = close_crafts(text, audit.shared["crafts_by_name"]) if text is not None and crafts == () else []
    return Entry(
        row=row,
        day=row.get("day"),
        task=_task(row),
        crafts=crafts,
        near=tuple(craft.name for craft in near),
        place=text is not None and crafts == () and catalogue.is_place(text),
        result=row.get("result"),
        attendance=parse_attendance(present, known) if present else None,
        doubt="; ".join(_doubts(audit, row)),
    )


def _task(row: Row) -> str | None:
    """The task, or the one that a word nobody knows is most like; '' like none, None when not given."""
    if "task" in row.unclear:
        return sheet("routine").column("task").names.nearest(row.unclear["task"]) or ""
    task: str | None = row.get("task")
    return task


def _doubts(audit: Audit, row: Row) -> Iterator[str]:
    for column in ("day", "task", "subject", "result"):
        if text := row.unclear.get(column):
            yield f"{audit.where('routine', row, column)} shows {text!r}"
        elif column in ("day", "task") and row.get(column) is None:
            yield f"{audit.where('routine', row, column)} is empty"


def crew(audit: Audit) -> list[tuple[Row, Person]]:
    """The crew on board on the day asked: the Crew sheet without passengers and without those who join later."""
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


def _person_words(row: Row) -> str:
    number, rank = row.get("number"), row.get("rank")
    return f"crew number {number}" if number else f"the {rank} without a number" if rank else "one without a number"


def lines_of(audit: Audit, tasks: Sequence[str]) -> list[Entry]:
    """The lines that may be about one of these tasks; one without a task may be about any."""
    return [entry for entry in entries(audit) if entry.task in tasks or entry.task is None]


def shown_by(task: str) -> tuple[str, ...]:
    """The tasks whose lines show that a task was carried out."""
    return (task, *ALSO_SHOWN_BY.get(task, ()))


def last_done(audit: Audit, tasks: Sequence[str], craft: Craft | None, whole: bool = False) -> Last:
    """When one of the tasks was last carried out for a craft (None: the ship).

    whole: a line about one place or craft does not speak for the whole ship.
    """
    sure: Entry | None = None
    possible: date | None = None
    doubt = ""
    for entry in lines_of(audit, tasks):
        covers = _covers(entry, craft, whole)
        if not entry.held or covers is False:
            continue
        clear = covers is True and not entry.doubt and entry.day is not None
        if clear and (sure is None or (entry.day or date.min) > (sure.day or date.min)):
            sure = entry
        day = entry.day or date.max
        if possible is None or day > possible:
            possible = day
            unsure = f"{audit.where('routine', entry.row, 'subject')} does not say so for sure"
            doubt = "" if clear else entry.doubt or unsure
    return Last(sure, possible, doubt)


def _covers(entry: Entry, craft: Craft | None, whole: bool) -> bool | None:
    if entry.crafts is None:
        return True
    if craft is None:
        return True if not whole else None
    if entry.crafts:
        return craft.name in entry.crafts
    return None if craft.name in entry.near or not entry.near else False  # a name that may mean this craft


def _not_held(audit: Audit, tasks: Sequence[str], craft: Craft | None) -> Entry | None:
    """The last line that says a task was not held."""
    found = [
        entry
        for entry in lines_of(audit, tasks)
        if entry.result == "not held" and entry.day and not entry.doubt and _covers(entry, craft, False)
    ]
    return max(found, key=lambda entry: entry.day or date.min, default=None)


# One duty at a time --------------------------------------------------------------------------------------------


def duties(audit: Audit) -> list[Duty]:
    """How every rule on routine and drills ended for each subject, worked out once an audit."""
    if "routine_duties" not in audit.shared:
        audit.shared["routine_duties"] = list(_evaluate(audit))
    result: list[Duty] = audit.shared["routine_duties"]
    return result


def _evaluate(audit: Audit) -> Iterator[Duty]:
    for held in audit.rules_for_ship("routine"):
        rule = held.rule
        crafts = [craft for craft in audit.crafts if rule.subject == "craft" or rule.subject in craft.subjects()]
        subjects: Sequence[Craft | None] = [None] if rule.subject == SHIP else crafts
        for craft in subjects:
            name = craft.name if craft else SHIP
            if held.state:
                yield Duty(rule, name, held.state, held.why)
                continue
            applies, fact = _applies(audit, rule, craft)
            if applies is False:
                yield Duty(rule, name, "not_applicable", fact)
            elif craft is not None and not craft.clear:
                yield Duty(rule, name, "not_evaluated", "the craft's name is not clear")
            elif not audit.book.rows("routine"):
                yield Duty(rule, name, "not_evaluated", "nothing is recorded on a Routine sheet")
            else:
                duty = _SPECIAL.get(rule.key, _dated)(audit, rule, craft)
                yield _in_doubt(duty, fact) if applies is None else duty


def _in_doubt(duty: Duty, fact: str) -> Duty:
    """A rule of which it is not known whether it applies can pass, but its lack is not evaluated."""
    state = ("not_evaluated", fact) if duty.state == "finding" else (duty.state, duty.why)
    return replace(duty, state=state[0], why=state[1], code="", more=None)


def _applies(audit: Audit, rule: Rule, craft: Craft | None) -> tuple[bool | None, str]:
    """Whether a rule's condition holds; one of the ship that asks about craft holds where it does for any of them."""
    if craft is not None:
        return rule.condition.holds(craft.facts)
    if not any(fact == "kind" for fact, _ in rule.condition.clauses):
        return rule.condition.holds(audit.ship_facts)
    found = [rule.condition.holds(each.facts) for each in audit.crafts]
    if any(applies for applies, _ in found):
        return True, ""
    unknown = next((fact for applies, fact in found if applies is None), "")
    if unknown:
        return None, unknown
    kinds = next(values for fact, values in rule.condition.clauses if fact == "kind")
    return False, f"no {' or '.join(kinds)} on the Craft sheet"


def _code(task: str) -> str:
    if task in INSPECTIONS:
        return "RT01"
    if task.startswith("fire ") and task not in DRILLS:
        return "RT02"
    return "RT03"


def _dated(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """A task that is to be carried out within an interval of the last time."""
    name = craft.name if craft else SHIP
    if craft is None and rule.item in COVERING and (covered := _own(audit)):
        return _covering(audit, rule, covered)
    last = last_done(audit, shown_by(rule.item), craft, rule.item in WHOLE)
    return _verdict(audit, rule, name, last, craft)


def _own(audit: Audit) -> list[Craft]:
    return [craft for craft in audit.crafts if craft.purpose != "extra" and craft.clear]


def _covering(audit: Audit, rule: Rule, crafts: list[Craft]) -> Duty:
    """An inspection of the whole ship's craft: late where it is late for any of them."""
    found = [
        (craft, _verdict(audit, rule, craft.name, last_done(audit, shown_by(rule.item), craft), craft))
        for craft in crafts
    ]
    late = [(craft, duty) for craft, duty in found if duty.state == "finding"]
    if late:
        craft, worst = max(late, key=lambda pair: pair[1].days or 0)
        names = ", ".join(each.name for each, _ in late)
        scope = "" if len(late) == len(crafts) else f" of {names}"
        return replace(worst, subject=SHIP, message=worst.message.replace(f" of {craft.name}", scope, 1))
    open_ones = [duty for _, duty in found if duty.state == "not_evaluated"]
    if open_ones:
        return replace(open_ones[0], subject=SHIP, code="")
    soonest = min(
        (duty for _, duty in found), key=lambda duty: duty.days if duty.code and duty.days is not None else 10**6
    )
    return replace(soonest, subject=SHIP, message=soonest.message.replace(f" of {soonest.subject}", "", 1))


def _verdict(audit: Audit, rule: Rule, name: str, last: Last, craft: Craft | None) -> Duty:
    """Passed, late or not evaluated, from the day a task was last carried out."""
    what = rule.item if craft is None else f"{rule.item} of {craft.name}"
    if last.day is None:
        return Duty(rule, name, "not_evaluated", last.doubt or f"no {what} is recorded")
    due = due_day(audit, rule, last.day)
    left = days_left(due, audit.on)
    counting = ", counted to the end of the calendar month" if same_month(audit) and rule.unit == "months" else ""
    ago = (audit.on - last.day).days
    said = f"{what}: last on {last.day}, {ago} days ago; asked {every_words(rule)}{counting}"
    duty = Duty(rule, name, "passed", f"last on {last.day}", row=last.sure.row if last.sure else None)
    if left >= 0:
        if not in_lead(audit, last.day, due):
            return duty
        return _told(audit, replace(duty, days=left), craft, f"{said}: due {_when(audit, due)}")
    if last.possible is not None and (last.possible == date.max or due_day(audit, rule, last.possible) >= audit.on):
        return replace(duty, state="not_evaluated", why=last.doubt or "a line is not clear")
    missed = _not_held(audit, shown_by(rule.item), craft)
    if missed is not None and missed.day is not None and missed.day > last.day:
        if rule.key in WEATHER and due_day(audit, rule, missed.day) >= audit.on:
            return replace(
                duty, state="not_evaluated", why=f"not held on {missed.day}: asked only as the weather allows"
            )
        said += f"; entered as not held on {missed.day}"
    return _told(audit, replace(duty, state="finding", why="", days=-left), craft, said)


def _when(audit: Audit, due: date) -> str:
    left = days_left(due, audit.on)
    leaves = audit.book.ship_value("next_departure")
    before = f", before the departure on {leaves}" if leaves is not None and audit.on <= due <= leaves else ""
    return f"on {due}, {'today' if left == 0 else f'in {left} days'}{before}"


def _told(audit: Audit, duty: Duty, craft: Craft | None, message: str, code: str = "") -> Duty:
    """A duty with its finding: action where the state is a finding, due before that, a note for an extra craft."""
    if duty.state == "finding":
        grade, priority = "action", duty.rule.priority
    else:
        grade, priority = "due", "within 14 days" if (duty.days or 0) <= 14 else "at next port"
    if craft is not None and craft.purpose == "extra":
        grade, priority = "note", "plan"
    return replace(duty, code=code or _code(duty.rule.item), grade=grade, priority=priority, message=message)


# Drills that each person must have had ------------------------------------------------------------------------


def record_of(audit: Audit, task: str) -> DrillRecord:
    """The drills of one kind on record."""
    return DrillRecord.of(
        Drill(entry.day, _attended(entry), not entry.doubt) for entry in lines_of(audit, (task,)) if entry.held
    )


def _attended(entry: Entry) -> Attendance | None:
    """Who took part; a bare number beside a drill may be a count of heads and says nothing."""
    attendance = entry.attendance
    return None if attendance and attendance.may_be_a_count and entry.task != "joining training" else attendance


def _personal(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """A drill that each crew member must have had within the interval."""
    by_date = _dated(audit, rule, None)
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
    base = Duty(rule, SHIP, "passed", "counted", row=by_date.row)
    if late:
        return _missed(audit, replace(base, state="finding", why=""), late, len(people), by_date)
    unknown = [row for row, found in standings if found.state != core.OK]
    if unknown:
        return Duty(rule, SHIP, "not_evaluated", _why_unknown(audit, rule, unknown[0]))
    return _soon(audit, base, standings)


def _missed(audit: Audit, duty: Duty, late: list[tuple[Row, core.Standing]], crew_size: int, by_date: Duty) -> Duty:
    """Everyone late: the drill itself lapsed, told at its last line; else told at the first person."""
    rule = duty.rule
    if by_date.state == "finding" and len(late) == crew_size:
        return _told(audit, replace(duty, row=by_date.row), None, by_date.message, "RT04")
    named = ", ".join(
        f"{_person_words(row)} ({f'last on {found.last}' if found.last else 'none on record'})"
        for row, found in late[:MOST_NAMED]
    )
    more = f" and {len(late) - MOST_NAMED} more" if len(late) > MOST_NAMED else ""
    message = f"{rule.item}: asked of each crew member {every_words(rule)}; not so: {named}{more}"
    return _told(audit, replace(duty, sheet="crew", row=late[0][0], column="number"), None, message, "RT04")


def _why_unknown(audit: Audit, rule: Rule, row: Row) -> str:
    if row.get("joined") is None:
        return f"{_person_words(row)}: the day of joining is not recorded"
    drills = [entry for entry in lines_of(audit, (rule.item,)) if entry.held]
    latest = max(drills, key=lambda entry: entry.day or date.min)
    if latest.doubt:
        return latest.doubt
    if _attended(latest) is None:
        return f"who took part is not recorded: {audit.where('routine', latest.row, 'present')}"
    return f"{_person_words(row)}: the record of the {rule.item} does not reach back far enough"


def _soon(audit: Audit, duty: Duty, standings: list[tuple[Row, core.Standing]]) -> Duty:
    """Whose drill falls due within the lead."""
    every = interval_of(duty.rule)
    start = {id(found): found.last or _back(found.due, every) for _, found in standings if found.due}
    soon = [(row, found) for row, found in standings if found.due and in_lead(audit, start[id(found)], found.due)]
    if not soon:
        return duty
    first = min((found.due for _, found in soon if found.due), default=audit.on)
    who = f"all {len(soon)} crew members" if len(soon) == len(standings) else _listed(row for row, _ in soon)
    asked = f"{duty.rule.item}: asked of each crew member {every_words(duty.rule)}"
    message = f"{asked}; due {_when(audit, first)}: {who}"
    if len(soon) < len(standings):
        duty = replace(duty, sheet="crew", row=soon[0][0], column="number")
    return _told(audit, replace(duty, days=days_left(first, audit.on)), None, message, "RT04")


def _back(due: date | None, every: Interval) -> date:
    day = due or date.max
    return add_months(day, -every.months) if every.months else day - timedelta(days=every.days)


def _listed(rows: Iterable[Row]) -> str:
    words = [_person_words(row) for row in rows]
    more = f" and {len(words) - MOST_NAMED} more" if len(words) > MOST_NAMED else ""
    return ", ".join(words[:MOST_NAMED]) + more


def _joining(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """Training on board within so many days of joining."""
    record = record_of(audit, rule.item)
    if record.start is None:
        return Duty(rule, SHIP, "not_evaluated", f"no {rule.item} is recorded")
    late: list[Row] = []
    queried: list[Row] = []
    unknown: list[Row] = []
    soon: list[tuple[date, Row]] = []
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
        elif in_lead(audit, person.joined, due):
            soon.append((due, row))
    duty = Duty(rule, SHIP, "passed", "counted", sheet="crew", column="joined")
    asked = f"{rule.item}: asked within {interval_words(rule)} of joining"
    if late:
        duty = replace(duty, state="finding", why="", row=late[0])
        named = ", ".join(f"{_person_words(row)} (joined {row.get('joined')})" for row in late[:MOST_NAMED])
        more = f" and {len(late) - MOST_NAMED} more" if len(late) > MOST_NAMED else ""
        return _told(audit, duty, None, f"{asked}; none is recorded for {named}{more}", "RT06")
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
        return _told(
            audit,
            replace(duty, row=row, days=days_left(due, audit.on)),
            None,
            f"{asked}; due {_when(audit, due)}: {who}",
            "RT06",
        )
    return duty


# What hangs on a departure ------------------------------------------------------------------------------------


def _departed(audit: Audit) -> tuple[date | None, str]:
    day = audit.book.ship_value("departed")
    if day is None:
        return None, "the last departure is not recorded"
    return (None, f"the last departure is dated {day}, after the day asked") if day > audit.on else (day, "")


def _before_departure(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """A test or muster before departure. The record holds days: 12 hours before may be the day before."""
    departed, why = _departed(audit)
    if departed is None:
        return Duty(rule, SHIP, "not_evaluated", why)
    reach = timedelta(days=core.whole_days(rule.fixed))
    first = departed - reach
    last_day = departed + reach if rule.item == "passenger muster" else departed  # 'or at once on departure'
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
    if rule.item == "passenger muster" and audit.on <= last_day:
        return Duty(rule, SHIP, "passed", f"may be held until {last_day}")
    message = (
        f"departure on {departed}: no {rule.item} is recorded between {first} and {last_day}, the last before it is of "
        f"{max(days)}; asked within {interval_words(rule)} (days as the record holds them)"
    )
    duty = Duty(rule, SHIP, "finding", sheet="ship", row=_ship_row(audit), column="departed")
    return _told(audit, duty, None, message, "RT07")


def _ship_row(audit: Audit) -> Row:
    return audit.book.rows("ship")[0]


def _after_departure(audit: Audit, rule: Rule, craft: Craft | None) -> Duty:
    """Drills within hours of departure where too much of the crew has missed them (III/19.3.2)."""
    records = {task: record_of(audit, task) for task in ("abandon ship drill", "fire drill")}
    absent = next((task for task, record in records.items() if record.start is None), None)
    if absent is not None:
        return Duty(rule, SHIP, "not_evaluated", f"no {absent} is recorded")
    persons = [person for _, person in crew(audit)]
    if not persons:
        return Duty(rule, SHIP, "not_evaluated", "the Crew sheet lists nobody")
    departed, why = _departed(audit)
    duty = Duty(rule, SHIP, "not_evaluated", why)
    if departed is not None:
        duty = _since_departure(audit, rule, records, persons, departed)
    return replace(duty, more=_next_departure(audit, rule, records, persons))


def _look_back(audit: Audit) -> Interval:
    """'In the previous month' is the month of the monthly drill."""
    rule = next(rule for rule in audit.rule_set.by_key()["routine.abandon-drill"] if rule.in_force(audit.on))
    return interval_of(rule)


def _since_departure(
    audit: Audit, rule: Rule, records: dict[str, DrillRecord], persons: list[Person], departed: date
) -> Duty:
    ends = departed + timedelta(days=core.whole_days(rule.fixed))
    after = {task: _held_between(record, departed, ends) for task, record in records.items()}
    if all(after.values()):
        return Duty(rule, SHIP, "passed", f"both drills held between {departed} and {ends}")
    aboard = records["abandon ship drill"].until(departed), records["fire drill"].until(departed)
    missing = core.missing_drills(persons, *aboard, departed, _look_back(audit))
    base = Duty(rule, SHIP, "passed", sheet="ship", row=_ship_row(audit), column="departed")
    if not missing.possibly_above(rule.percent):
        return replace(base, why=f"{len(missing.possibly)} of {missing.crew} had missed a drill before {departed}")
    if not missing.surely_above(rule.percent):
        return replace(base, state="not_evaluated", why="who of the crew had the drills before departure is not clear")
    if any(person.joined and person.joined > departed for person in persons):
        return replace(base, state="not_evaluated", why=f"the crew has changed since the departure on {departed}")
    lacking = " and ".join(task for task, held in after.items() if held is False)
    message = (
        f"departure on {departed}: {_share_words(missing, rule)}; asked within {rule.fixed:g} h: {lacking or 'both'}"
    )
    if audit.on <= ends:
        duty = replace(base, why=f"may be held until {ends}", days=days_left(ends, audit.on))
        return _told(audit, duty, None, f"{message}, to be held until {ends}", "RT05")
    if not lacking:
        return replace(base, state="not_evaluated", why="a line of a drill after departure is not clear")
    return _told(audit, replace(base, state="finding"), None, f"{message}, not on record", "RT05")


def _share_words(missing: core.Missing, rule: Rule) -> str:
    share = 100 * len(missing.surely) / missing.crew
    return (
        f"{len(missing.surely)} of {missing.crew} crew members ({share:.0f} %, more than {rule.percent:g} %) without "
        "both drills on this ship in the month before (that missing either one counts is a reading of the text)"
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


def _next_departure(audit: Audit, rule: Rule, records: dict[str, DrillRecord], persons: list[Person]) -> Duty | None:
    """What will be missing at a departure that lies within the lead of the monthly drill."""
    leaves = audit.book.ship_value("next_departure")
    if leaves is None or leaves < audit.on:
        return None
    month = _look_back(audit)
    if not in_lead(audit, _back(leaves, month), leaves):
        return None
    missing = core.missing_drills(persons, records["abandon ship drill"], records["fire drill"], leaves, month)
    if not missing.surely_above(rule.percent):
        return None
    message = (
        f"departure on {leaves}: {_share_words(missing, rule)}, unless drills are held before; "
        f"otherwise within {rule.fixed:g} h after it"
    )
    duty = Duty(rule, SHIP, "passed", sheet="ship", row=_ship_row(audit), column="next_departure")
    return _told(audit, replace(duty, days=days_left(leaves, audit.on)), None, message, "RT05")


_SPECIAL: dict[str, Callable[[Audit, Rule, Craft | None], Duty]] = {
    "routine.abandon-drill": _personal,
    "routine.fire-drill": _personal,
    "routine.enclosed-space-drill": _personal,
    "routine.joining-training": _joining,
    "routine.steering-gear-test": _before_departure,
    "routine.passenger-muster": _before_departure,
    "routine.drill-after-departure": _after_departure,
}


@states
def routine_states(audit: Audit) -> Iterator[State]:
    """How every rule on routine and drills ended."""
    for duty in duties(audit):
        yield State(duty.rule.key, duty.subject, duty.state, duty.why)


def _findings(audit: Audit, code: str) -> Iterator[Finding]:
    for first in duties(audit):
        for duty in (first, first.more):
            if duty is None or duty.code != code:
                continue
            rule = duty.rule
            yield audit.finding(
                code,
                duty.grade,
                duty.priority,
                duty.sheet,
                duty.row,
                duty.column,
                duty.subject,
                duty.message,
                REMEDIES.get(rule.item, "hold it and enter it on the Routine sheet, with who took part"),
                rule,
                required=rule.fixed,
            )


@check(
    Code(
        "RT01",
        "inspection-late",
        ("action", "due", "note"),
        "the weekly and monthly inspections and tests of life-saving appliances were carried out within their interval",
        "what is not looked at is found out of order on the day it is needed",
        "the last weekly inspection on record is of 16 November 2026, asked on 25 November 2026",
        "the same on 23 November 2026; a task without any line (not evaluated); boats not moved because of the weather",
        "carry it out and enter it",
        "SOLAS III/20.6, 20.7",
    )
)
def inspection_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every inspection or test that is late or falls due."""
    yield from _findings(audit, "RT01")


@check(
    Code(
        "RT02",
        "fire-inspection-late",
        ("action", "due"),
        "the weekly, monthly, quarterly and yearly inspections of fire appliances were carried out in time",
        "fire-fighting systems are not used between fires: only inspections show that they work",
        "the last monthly fire inspection is of 20 October 2026, asked on 25 November 2026",
        "one of 25 October 2026; an inspection that is not recorded at all (not evaluated)",
        "carry it out by the ship's maintenance plan and enter it",
        "MSC.1/Circ.1432 4 to 7; SOLAS II-2/14",
    )
)
def fire_inspection_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every inspection of fire appliances that is late or falls due."""
    yield from _findings(audit, "RT02")


@check(
    Code(
        "RT03",
        "drill-late",
        ("action", "due", "note"),
        "launches, steering and damage control drills, passenger ships' weekly drills and instruction are held in time",
        "a boat not in the water for months, or a crew that has never steered by hand, fails when it counts",
        "Lifeboat 1 last launched on 20 August 2026, asked on 25 November 2026",
        "launched on 25 August 2026; a boat of which no launch is recorded (not evaluated)",
        "hold it and enter it; launching and release gear only by the maker's manual",
        "SOLAS III/19.3.4, 19.4, 30.2; V/26; II-1/19-1",
    )
)
def drill_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every drill of the ship or of a craft that is late or falls due."""
    yield from _findings(audit, "RT03")


@check(
    Code(
        "RT04",
        "person-without-drill",
        ("action", "due"),
        "each crew member has taken part in an abandon ship and a fire drill in the last month; those who enter "
        "enclosed spaces in an entry and rescue drill in the last two",
        "the drill is for the person, not for the log",
        "crew number 7 is not among those present at any fire drill since 20 October 2026",
        "a person who joined three weeks ago; a drill of which it is not recorded who took part (not evaluated)",
        "hold a drill with those who missed it",
        "SOLAS III/19.3.2, 19.3.3",
    )
)
def person_without_drill(audit: Audit) -> Iterator[Finding]:
    """Yield one finding for every drill that some of the crew have not had in time."""
    yield from _findings(audit, "RT04")


@check(
    Code(
        "RT05",
        "drill-after-departure",
        ("action", "due"),
        "abandon ship and fire drills were held within 24 hours of departure where more than 25 % of the crew had not "
        "taken part in both on this ship in the month before (that missing either one counts is a reading of the text)",
        "a new crew that has never drilled together puts to sea",
        "four of twelve joined on the day of departure and no drill follows by the next day",
        "three of twelve, exactly 25 %; drills on the day after departure; dates of joining not recorded",
        "hold both drills and enter them with who took part",
        "SOLAS III/19.3.2",
    )
)
def drill_after_departure(audit: Audit) -> Iterator[Finding]:
    """Yield a finding where drills after the last departure are missing, or before the next one are needed."""
    yield from _findings(audit, "RT05")


@check(
    Code(
        "RT06",
        "joining-training-late",
        ("action", "due", "query"),
        "each crew member was trained in the use of the appliances within two weeks of joining",
        "a newcomer who does not know the gear is lost with it",
        "crew number 9 joined on 1 November 2026, no joining training is recorded, asked on 25 November 2026",
        "one who joined before the record of joining training begins; one who joined on 11 November 2026",
        "hold the training and enter it with the crew number",
        "SOLAS III/19.4.1",
    )
)
def joining_training_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for those who joined and were not trained in time."""
    yield from _findings(audit, "RT06")


@check(
    Code(
        "RT07",
        "test-before-departure",
        ("action",),
        "the steering gear was tested within 12 hours before departure; a passenger ship's passengers were mustered",
        "steering that fails in the channel leaves no time",
        "departure on 20 November 2026, last test of the steering gear on record of 10 November 2026",
        "a test on the day before departure; a last departure that is not recorded (not evaluated)",
        "test before each departure and enter it",
        "SOLAS V/26.1; III/19.2",
    )
)
def before_departure(audit: Audit) -> Iterator[Finding]:
    """Yield a finding where what is due before departure is not on record."""
    yield from _findings(audit, "RT07")


# The record itself --------------------------------------------------------------------------------------------


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
    return COVERING | {
        rule.item for rule in audit.rule_set.rules if rule.evidence == "routine" and rule.subject != SHIP
    }


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
    month = _look_back(audit) if "routine.abandon-drill" in audit.rule_set.by_key() else None
    listed = [
        entry for entry in entries(audit) if entry.task in TRAINING and entry.held and entry.day and entry.attendance
    ]
    for row, person in crew(audit):
        joined, number = person.joined, person.number
        if month is None or joined is None or number is None:
            continue
        begins = _back(joined, month)
        before = [entry for entry in listed if _lists(entry, number) and (entry.day or joined) < joined]
        if not before or min(entry.day or joined for entry in before) < begins:
            continue  # a number in use for longer had another holder
        if not any(_omits(entry, number) and (entry.day or joined) < begins for entry in listed):
            continue  # the record does not show that nobody had the number before
        entry = max(before, key=lambda each: each.day or joined)
        subject = _person_words(row)
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
        if _code(entry.task) == "RT02" or entry.day is None:
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
