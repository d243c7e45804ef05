"""Fittings of craft and ship, reported by exception (RT codes from 30 on).

One satisfactory line on Routine says that every fitting it looks at is in order; the Defects sheet holds the others.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks import routine, routine_due, routine_record, routine_tasks
from workbook_tools.checks.context import SHIP, Audit, Craft, close_crafts
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.columns import sheet
from workbook_tools.core.expiry import days_left
from workbook_tools.findings import Finding, State
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

# The tasks that look at a fitting of the ship; a craft's fittings are looked at in the monthly inspection (III/20.7.2).
CRAFT_CHECK = ("monthly inspection",)
SHIP_CHECKS: dict[str, tuple[str, ...]] = {
    "lifebuoys in place": ("monthly inspection",),
    "fire doors": ("fire quarterly inspection", "fire annual inspection"),
    "fire dampers": ("fire quarterly inspection", "fire annual inspection"),
    "emergency fire pump": ("fire monthly inspection",),
    "quick-closing valves": ("quick-closing valves tried",),
    "remote stops": ("remote stops tried",),
    "emergency generator": ("emergency generator run",),
    "emergency lights": ("emergency lights tried", "abandon ship drill"),  # III/19.3.4.9: tried at each drill
    "fire main and hydrants": ("fire monthly inspection",),
    "fire detection": ("fire weekly inspection", "fire monthly inspection"),
    "fixed fire-extinguishing system": ("fire monthly inspection",),
    "general emergency alarm": ("general alarm test", "abandon ship drill"),
}
CAUTIONS = {
    "hooks and release gear": "only those certified for it, by the maker's manual; hang the boat off first",
    "fall preventer devices": "only those certified for it, by the maker's manual; hang the boat off first",
    "winch and falls and sheaves": "only those certified for it, by the maker's manual; nobody in the boat",
    "remote lowering wire and brake release": "only those certified for it, by the maker's manual; nobody in the boat",
    "davit or crane": "only those certified for it, by the maker's manual; nobody in the boat",
    "limit switches": "only those certified for it, by the maker's manual; nobody in the boat",
    "lashings and gripes": "by the maker's manual; nobody in the boat",
    "hydrostatic release fitting": "by the maker's manual and the instructions on it",
    "fixed fire-extinguishing system": "nobody enters the protected space or works on the bottles but those "
    "authorised, with the release isolated",
}


@dataclass(slots=True, eq=False)
class Defect:
    """One line of the Defects sheet that stands on the day asked; doubt: what cannot be read in it."""

    row: Row
    fitting: str | None  # None: cannot be told
    crafts: tuple[str, ...] | None  # None: the ship
    near: tuple[str, ...]
    doubt: str

    def touches(self, craft: Craft | None) -> bool | None:
        """Whether it is about a craft (None: the ship); None where that cannot be told."""
        if craft is None or self.crafts is None:
            return craft is None or None
        if self.crafts:
            return craft.name in self.crafts
        return None if craft.name in self.near or not self.near else False


@dataclass(slots=True)
class Checked:
    """How a fitting of a subject ended."""

    rule: Rule
    subject: str
    craft: Craft | None
    state: str
    why: str = ""
    defects: tuple[Defect, ...] = ()
    last: routine_record.Last | None = None
    due: date | None = None


def open_defects(audit: Audit) -> list[Defect]:
    """The defects that stand on the day asked, read once an audit."""
    return audit.once("open_defects", lambda: _read_open(audit))


def _read_open(audit: Audit) -> list[Defect]:
    rows = (row for row in audit.book.rows("defects") if _stands(row, audit.on))
    return [_defect(audit, row) for row in rows]


def _stands(row: Row, on: date) -> bool:
    since, closed = row.get("since"), row.get("closed")
    return (since is None or since <= on) and (closed is None or closed > on)


def _defect(audit: Audit, row: Row) -> Defect:
    text, fitting = row.get("subject"), row.get("fitting")
    crafts: tuple[str, ...] | None = ()
    near: tuple[str, ...] = ()
    if text is not None:
        crafts = routine_record.crafts_named(text, audit)
        if crafts == ():
            near = tuple(craft.name for craft in close_crafts(text, audit.crafts_by_name))
    doubts = []
    for column in ("subject", "fitting", "since", "closed"):
        if unclear := row.unclear.get(column):
            doubts.append(f"{audit.where('defects', row, column)} shows {unclear!r}")
        elif column in ("subject", "fitting") and row.get(column) is None:
            doubts.append(f"{audit.where('defects', row, column)} is empty")
    if fitting is None and "fitting" in row.unclear:
        fitting = sheet("defects").column("fitting").names.nearest(row.unclear["fitting"])
    return Defect(row, fitting, crafts, near, "; ".join(doubts))


def checked(audit: Audit) -> list[Checked]:
    """How every fitting of every subject ended, worked out once an audit."""
    return audit.once("fittings_checked", lambda: list(_evaluate(audit)))


def _evaluate(audit: Audit) -> Iterator[Checked]:
    facts = {id(craft): _facts(craft) for craft in audit.crafts}
    for held in audit.rules_for_ship("fitting"):
        rule = held.rule
        kinds = catalogue.fittings()[rule.item].kinds
        if rule.subject == SHIP:
            subjects: list[Craft | None] = [None]
        else:  # a craft of another kind has no such fitting: it is no subject of the rule
            subjects = [craft for craft in audit.crafts if craft.kind in kinds]
        for craft in subjects:
            name = craft.name if craft else SHIP
            if held.state:
                yield Checked(rule, name, craft, held.state, held.why)
                continue
            applies, fact = rule.condition.holds(facts[id(craft)] if craft else audit.ship_facts)
            if applies is False:
                yield Checked(rule, name, craft, "not_applicable", fact)
            elif craft is not None and not craft.clear:
                yield Checked(rule, name, craft, "not_evaluated", "the craft's name is not clear")
            else:
                found = _one(audit, rule, craft, name)
                if applies is None and found.state == "finding":
                    found.state, found.why, found.defects = "not_evaluated", fact, ()
                yield found


def _facts(craft: Craft) -> dict[str, str | None]:
    """The craft's facts; fall preventers are in use where the hooks are not compliant (MSC.1/Circ.1392)."""
    facts = dict(craft.facts)
    if facts["hooks_compliant"] == "no":
        facts["fall_preventers"] = "yes"
    elif facts["fall_preventers"] is None and facts["hooks_compliant"] == "yes":
        facts["fall_preventers"] = None if "fall_preventers" in craft.row.unclear else "no"
    return facts


def _one(audit: Audit, rule: Rule, craft: Craft | None, name: str) -> Checked:
    defects = open_defects(audit)
    if not defects:
        return _looked_at(audit, rule, craft, name)
    touching = [(defect, defect.touches(craft)) for defect in defects if _about(defect, rule.item)]
    sure = tuple(defect for defect, touches in touching if touches and not defect.doubt)
    if sure:
        return Checked(rule, name, craft, "finding", defects=sure)
    for defect, touches in touching:
        if touches is not False:
            why = defect.doubt or f"{audit.where('defects', defect.row, 'subject')} names no craft"
            return Checked(rule, name, craft, "not_evaluated", f"a defect is not clear: {why}")
    return _looked_at(audit, rule, craft, name)


def _about(defect: Defect, fitting: str) -> bool:
    return defect.fitting == fitting or (defect.fitting is None and bool(defect.doubt))


@dataclass(frozen=True, slots=True)
class _Look:
    """How the task that looks at the fittings of a subject stands: one for all fittings of one period."""

    state: str
    why: str
    last: routine_record.Last | None = None
    due: date | None = None


def _looked_at(audit: Audit, rule: Rule, craft: Craft | None, name: str) -> Checked:
    """Whether the task that looks at the fitting was carried out within its period and found nothing untold."""
    tasks = CRAFT_CHECK if craft else SHIP_CHECKS[rule.item]
    known: dict[tuple[tuple[str, ...], str | None, float, str], _Look] = audit.once("fittings_looked_at", dict)
    key = tasks, craft.name if craft else None, rule.fixed, rule.unit
    look = known.get(key)
    if look is None:
        look = known[key] = _look(audit, rule, craft, tasks)
    return Checked(rule, name, craft, look.state, look.why, (), look.last, look.due)


def _look(audit: Audit, rule: Rule, craft: Craft | None, tasks: tuple[str, ...]) -> _Look:
    last = routine_record.last_done(audit, tasks, craft, whole=craft is None and tasks[0] in routine_tasks.WHOLE)
    if last.sure is None or last.day is None:
        what = " or ".join(tasks) + (f" of {craft.name}" if craft else "")
        return _Look("not_evaluated", last.doubt or f"no {what} is recorded")
    due = routine_due.due_day(audit, rule, last.day)
    done = f"{last.sure.task} of {last.day}"
    if due >= audit.on:
        if last.sure.result == "defect" and not _told(audit, last.sure, craft):
            return _Look("not_evaluated", f"the {done} found a defect not on Defects", last, due)
        return _Look("passed", f"by exception: {done}", last, due)
    if last.possible == date.max or (last.possible and routine_due.due_day(audit, rule, last.possible) >= audit.on):
        return _Look("not_evaluated", last.doubt, last, due)
    if last.sure.task != tasks[0] and routine_record.last_done(audit, tasks[:1], craft).day is None:
        # what another task shows beside its own purpose passes a fitting; it is no record of looking at it
        why = f"no {tasks[0]} is recorded; the last {last.sure.task}: {last.day}"
        return _Look("not_evaluated", why, last, due)
    if _late_already(audit, tasks):
        return _Look("not_evaluated", f"last looked at on {last.day}: see the late {tasks[0]}", last, due)
    return _Look("finding", "", last, due)


def _late_already(audit: Audit, tasks: tuple[str, ...]) -> bool:
    """Whether a routine rule tells the same cause: the inspection itself is late."""
    return any(
        duty.state == "finding" and duty.rule.item in tasks and duty.rule.item in _TOLD_BY_ROUTINE
        for duty in routine.duties(audit)
    )


_TOLD_BY_ROUTINE = routine_tasks.WHOLE | {"general alarm test"}


def _told(audit: Audit, entry: routine_record.Entry, craft: Craft | None) -> bool:
    """Whether the Defects sheet holds a line for what an inspection found: one not closed before that day."""
    for row in audit.book.rows("defects"):
        closed, text = row.get("closed"), row.get("subject")
        if closed is not None and entry.day is not None and closed < entry.day:
            continue
        named = routine_record.crafts_named(text, audit) if text is not None else ()
        meant_for_any = text is None or (not named and not catalogue.is_place(text))
        if craft is None or meant_for_any or craft.name in (named or ()):
            return True
    return False


@states
def fitting_states(audit: Audit) -> Iterator[State]:
    """How every fitting ended."""
    for found in checked(audit):
        yield State(found.rule.key, found.subject, found.state, found.why)


@check(
    Code(
        "RT30",
        "defect-open",
        ("action", "note"),
        "every fitting of craft and ship works: no defect stands on the Defects sheet",
        "one seized hook or flat battery is enough to lose the boat",
        "limit switches of Lifeboat 1 found defective on 20 November 2026 and not closed",
        "a defect closed on the day asked or before; one found after the day asked; a closing date that cannot be read",
        "put it right, or carry what it replaces, and enter the day under Closed on",
        "SOLAS III/20.2",
    )
)
def defect_open(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every defect that stands."""
    told: set[tuple[int, str]] = set()
    for found in checked(audit):
        for defect in found.defects if found.state == "finding" else ():
            if (id(defect), found.subject) in told:
                continue
            told.add((id(defect), found.subject))
            extra = found.craft is not None and found.craft.purpose == "extra"
            since = defect.row.get("since")
            wrong = defect.row.get("wrong")
            caution = CAUTIONS.get(found.rule.item)
            yield audit.finding(
                "RT30",
                "note" if extra else "action",
                "plan" if extra else found.rule.priority,
                "defects",
                defect.row,
                "fitting",
                found.subject,
                f"{found.rule.item} of {_subject_words(found)}: {wrong or 'defective'}"
                f"{f', since {since}' if since else ''}, still open on record; asked to work at all times",
                f"put it right and enter the day under Closed on{f'; {caution}' if caution else ''}",
                found.rule,
            )


def _subject_words(found: Checked) -> str:
    return found.craft.name if found.craft else "the ship"


@check(
    Code(
        "RT31",
        "fittings-not-looked-at",
        ("due", "note"),
        "the fittings of each craft and of the ship were looked at within their period: one satisfactory line on "
        "Routine speaks for all that its task looks at",
        "no news of a fitting is good news only as long as somebody looks",
        "remote stops last tried on 20 November 2025, a year being the period, asked on 25 November 2026",
        "tried on 26 November 2025; a craft without any inspection (not evaluated); a late inspection that RT01 tells",
        "carry out the inspection and enter it",
        "SOLAS III/20.2; MSC.1/Circ.1432",
    )
)
def fittings_not_looked_at(audit: Audit) -> Iterator[Finding]:
    """Yield one finding for each subject whose fittings were not looked at in time."""
    late: dict[str, list[Checked]] = {}
    for found in checked(audit):
        if found.state == "finding" and found.last and found.last.sure and not found.defects:
            late.setdefault(found.subject, []).append(found)
    for subject, group in late.items():
        first = max(group, key=lambda each: -days_left(each.due or audit.on, audit.on))
        # One finding speaks for the group, under the same rule whichever fitting is the latest: its id stays.
        told = min(group, key=lambda each: each.rule.key)
        for other in group:
            if other is not told:
                other.state, other.why = "not_evaluated", f"not looked at in time: {told.rule.key} says so for all"
        last = first.last.sure if first.last else None
        extra = first.craft is not None and first.craft.purpose == "extra"
        names = ", ".join(each.rule.item for each in group[:6]) + (
            f" and {len(group) - 6} more" if len(group) > 6 else ""
        )
        yield audit.finding(
            "RT31",
            "note" if extra else "due",
            "plan" if extra else "at next port",
            "routine",
            last.row if last else None,
            "day",
            subject,
            f"{names}: last looked at on {last.day if last else '-'}; period {routine_due.interval_words(first.rule)}",
            "carry out the inspection and enter it on Routine; what is not in order goes on Defects",
            told.rule,
        )


@check(
    Code(
        "RT32",
        "defect-of-unknown-craft",
        ("query",),
        "a defect of a craft's fitting names a craft of the Craft sheet",
        "a defect nobody can place is not put right",
        "hooks of 'Lifebaot 1'; a davit at the 'Boat deck'",
        "'lifeboat 1'; 'Lifeboat 1 and 2'; fire doors in the 'Galley'; a defect that is closed",
        "write the craft's name as on the Craft sheet",
    )
)
def defect_of_unknown_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every open defect of a craft nobody knows."""
    for defect in open_defects(audit):
        text = defect.row.get("subject")
        if text is None or not defect.fitting or _of_ship(defect.fitting) or defect.crafts:
            continue
        hint = f"; did you mean {defect.near[0]!r}?" if defect.near else ""
        yield audit.finding(
            "RT32",
            "query",
            "at next port",
            "defects",
            defect.row,
            "subject",
            f"{text}, {defect.fitting}",
            f"{defect.fitting}: {text!r} is no craft of the Craft sheet{hint}",
            "write the craft's name as on the Craft sheet",
        )


def _of_ship(fitting: str) -> bool:
    return catalogue.fittings()[fitting].kinds == ("ship",)


@check(
    Code(
        "RT33",
        "defect-not-described",
        ("query",),
        "an inspection that found a defect has a line on the Defects sheet",
        "what was found and not written down is forgotten",
        "the monthly inspection of Lifeboat 1 has the result 'defect', and Defects has no line for Lifeboat 1",
        "one with a line for the craft on Defects, also one closed since; a later satisfactory inspection",
        "enter on Defects what was found",
        "SOLAS III/20.6, 20.7",
    )
)
def defect_not_described(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every latest line of a task that found a defect which is not described."""
    latest: dict[tuple[str, tuple[str, ...] | None], routine_record.Entry] = {}
    for entry in routine_record.entries(audit):
        if entry.task and entry.day and entry.held:
            key = (entry.task, entry.crafts)
            if key not in latest or entry.day >= (latest[key].day or date.min):
                latest[key] = entry
    by_name = {craft.name: craft for craft in audit.crafts}
    for (task, names), entry in latest.items():
        subjects: list[Craft | None] = [by_name[name] for name in names] if names else [None]
        if entry.result != "defect" or any(_told(audit, entry, craft) for craft in subjects):
            continue
        if any(
            later.crafts is None
            and later.task == task
            and (later.day or date.min) > (entry.day or date.max)
            and later.held
            for later in latest.values()
        ):
            continue  # a later line for the whole ship speaks for this craft too
        text = entry.row.get("subject")
        yield audit.finding(
            "RT33",
            "query",
            "at next port",
            "routine",
            entry.row,
            "result",
            f"{task}, {text or SHIP}",
            f"the {task} of {entry.day} found a defect, and Defects has no line for {text or 'it'}",
            "enter on Defects what was found, with the day and, once put right, the day of closing",
            source="SOLAS III/20.6, 20.7",
        )


@check(
    Code(
        "RT34",
        "fitting-not-of-craft",
        ("query",),
        "a defect names a fitting that its craft has",
        "a sprinkler on a raft is a slip of the pen; the real defect stands elsewhere",
        "'limit switches' of Raft P, which is thrown over; the sprinkler of a boat recorded as not fire-protected",
        "'winch and falls and sheaves' of a davit-launched raft; emergency lights at 'Lifeboat 1'",
        "correct the craft or the fitting, or the craft's line on the Craft sheet",
    )
)
def fitting_not_of_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every open defect of a fitting that its craft does not have."""
    by_name = {craft.name: craft for craft in audit.crafts}
    if audit.outside or not audit.rule_set.by_evidence("fitting"):
        return
    known = {(found.rule.item, found.subject) for found in checked(audit) if found.state != "not_applicable"}
    for defect in open_defects(audit):
        if not defect.fitting or defect.doubt or _of_ship(defect.fitting):
            continue
        for name in defect.crafts or ():
            kind = by_name[name].kind
            if kind is None or (defect.fitting, name) in known:
                continue
            yield audit.finding(
                "RT34",
                "query",
                "at next port",
                "defects",
                defect.row,
                "fitting",
                f"{name}, {defect.fitting}",
                f"{name} ({kind}) has no {defect.fitting} by its line on the Craft sheet",
                "correct the craft or the fitting, or the craft's line on the Craft sheet",
            )
