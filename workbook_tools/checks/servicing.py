"""Whether rafts and every other appliance with a service of its own were serviced in time, and by whom (SV codes)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import SHIP, Audit, Craft, close_crafts
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.columns import sheet
from workbook_tools.core import stock
from workbook_tools.core.expiry import days_left
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import (
    DATE_TO_DATE,
    SAME_MONTH,
    counted,
    granted_until,
    holds_until,
    months_after,
    next_due_fits,
    shorter,
    window_until,
)
from workbook_tools.findings import Finding, State
from workbook_tools.reading import Row
from workbook_tools.rules import Rule, warning_days
from workbook_tools.rules.loader import Policy, policies

SAME_MONTH_SOURCE = "Norwegian directive SM 4-2015"
_DISPOSABLE, _SERVICEABLE = "hydrostatic release fitted", "hydrostatic release serviced"
_RELEASE_ITEM = "hydrostatic release unit"
_SUITS = ("immersion suit", "anti-exposure suit")


@dataclass(frozen=True, slots=True)
class Holding:
    """How long one recorded service holds.

    due: until this day for certain. maybe: until this day if what is not recorded is as good as it can be.
    hands: 'ok', 'wrong' (the crew, where the rule asks others) or 'open' (not shown to be one of those asked).
    """

    sheet: str
    row: Row
    column: str
    done: date
    due: date
    maybe: date
    hands: str = "ok"
    reading: str = ""  # what made the deadline later than date to date
    doubt: str = ""  # why maybe is later than due


@dataclass(slots=True)
class Duty:
    """A dated duty of a craft, an appliance or the ship: its rule, state, day and the cell that shows it."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    craft: Craft | None = None
    day: date | None = None
    warn: bool = False  # whether its day may be called due: nothing unclear could move it
    fault: str = ""  # overdue or hands
    holding: Holding | None = None


def _policy(kind: str, rule: Rule) -> Policy | None:
    return next((p for key, p in policies().items() if key.startswith(f"{kind}.") and p.group == rule.key), None)


# ---- one line --------------------------------------------------------------------------------------------------


def _interval(rule: Rule) -> Interval:
    return Interval(days=int(rule.fixed)) if rule.unit == "days" else Interval(months=int(rule.fixed))


def _hands(audit: Audit, rule: Rule, row: Row, done: date) -> str:
    """Who did it, by the row of the rule in force on the day of the work."""
    rows = audit.rule_set.by_key().get(rule.key, [rule])
    asked = next((other.done_by for other in rows if other.in_force(done)), ())
    who = row.get("done_by")
    if not asked or who in asked:
        return "ok"
    return "wrong" if who == "crew" else "open"


def _reach(audit: Audit, rule: Rule, done: date, makers: Interval | None) -> tuple[date, date, str, str]:
    """(due, maybe, reading, doubt) of a service done on a day, grants apart."""
    interval = shorter(_interval(rule), makers, done)
    strict = holds_until(done, interval)
    if interval != _interval(rule):
        return strict, strict, "", ""
    if window := _policy("window", rule):
        return _in_window(audit, rule, done, int(window.value), window.reference)
    if margin := _policy("margin", rule):
        due = months_after(strict, int(margin.value))
        return due, due, f"with the {margin.value:g} months after it that {margin.reference} leaves", ""
    if latest := _policy("latest", rule):
        return strict, months_after(done, int(latest.value)), "", "the survey that it goes with is not recorded"
    # The text lets the flag put off only what has a longest interval of its own, so only there does the month slip.
    if rule.extended_to is not None and audit.ship_facts.get("deadline_counting") == SAME_MONTH:
        due = counted(done, interval, SAME_MONTH)
        reading = f"counted within the {SAME_MONTH} ({SAME_MONTH_SOURCE}), not {DATE_TO_DATE}" if due > strict else ""
        return due, due, reading, ""
    return strict, strict, "", ""


def _in_window(audit: Audit, rule: Rule, done: date, months: int, source: str) -> tuple[date, date, str, str]:
    strict = holds_until(done, _interval(rule))
    family, anniversary = audit.ship_facts.get("ship_family"), audit.book.ship_value("anniversary")
    # Passenger ships renew their certificate each year: nothing may wait past the anniversary (SOLAS I/7).
    after = 0 if family == "passenger" else months
    if family is None or anniversary is None:
        missing = "the ship type" if family is None else "the survey anniversary"
        return strict, months_after(strict, months + after), "", f"{missing} is not recorded"
    due = window_until(done, int(rule.fixed), anniversary, months, after)
    return due, due, f"within the survey window ({source})" if due > strict else "", ""


def _of_line(audit: Audit, rule: Rule, row: Row) -> Holding | None:
    """How long a line of the Servicing sheet holds; None without a readable day."""
    done = row.get("done")
    if done is None:
        return None
    due, maybe, reading, doubt = _reach(audit, rule, done, row.get("interval"))
    granted, reference = row.get("granted_until"), row.get("grant_reference")
    if granted is not None and reference is not None and granted > due:
        if rule.extended_to is not None:
            due = granted_until(done, due, granted, int(rule.extended_to))
            maybe, reading = max(due, maybe), f"put off by the Administration ({reference})"
        else:
            maybe, doubt = max(maybe, granted), f"put off by {reference}, though the paragraph knows no extension"
    return Holding("servicing", row, "done", done, due, maybe, _hands(audit, rule, row, done), reading, doubt)


def _of_raft(audit: Audit, craft: Craft, rule: Rule) -> Holding | None:
    """The service that a raft's own line on the Craft sheet records."""
    serviced = craft.row.get("serviced")
    if serviced is None:
        return None
    due, maybe, reading, doubt = _reach(audit, rule, serviced, None)
    granted = craft.row.get("service_granted_until")
    longest = int(rule.extended_to) if rule.extended_to is not None else None
    later = granted_until(serviced, due, granted, longest)
    if later > due:
        reading = "put off by the Administration"
    return Holding("craft", craft.row, "serviced", serviced, later, max(later, maybe), "ok", reading, doubt)


# ---- which lines are about what --------------------------------------------------------------------------------


@dataclass(slots=True)
class Lines:
    """The lines for one service of one subject, and those that may be for it but are not clear."""

    clear: list[Row] = field(default_factory=list)
    doubtful: list[tuple[Row, str]] = field(default_factory=list)  # with the column that is not clear


def _by_name(audit: Audit) -> dict[str, Craft]:
    found: dict[str, Craft] = audit.shared["crafts_by_name"]
    return found


def _for_craft(audit: Audit, craft: Craft, service: str) -> Lines:
    lines, by_name = Lines(), _by_name(audit)
    own = catalogue.normalise(craft.name)
    for row in audit.book.rows("servicing"):
        named, text = row.get("service"), row.get("appliance")
        if named not in (None, service) or (named is None and "service" not in row.unclear):
            continue
        folded = catalogue.normalise(text) if text else ""
        if folded == own:
            if named is None or "done" in row.unclear:
                lines.doubtful.append((row, "service" if named is None else "done"))
            else:
                lines.clear.append(row)
        elif folded not in by_name:
            near = close_crafts(text, by_name) if text else []
            if craft in near or (named == service and not near):
                lines.doubtful.append((row, "appliance"))
    return lines


def _for_ship(audit: Audit, service: str) -> dict[str, Lines]:
    """The lines of a service by appliance; those whose service is not clear are doubtful for every appliance."""
    found: dict[str, Lines] = {}
    names: dict[str, str] = {}
    unclear = []
    for row in audit.book.rows("servicing"):
        text = row.get("appliance") or ""
        if row.get("service") == service:
            name = names.setdefault(catalogue.normalise(text or service), text or service)
            lines = found.setdefault(name, Lines())
            if "done" in row.unclear:
                lines.doubtful.append((row, "done"))
            else:
                lines.clear.append(row)
        elif "service" in row.unclear and catalogue.normalise(text) not in _by_name(audit):
            unclear.append((row, "service"))
    for lines in found.values():
        lines.doubtful.extend(unclear)
    return found


def _doubts(audit: Audit, rule: Rule, lines: Lines) -> list[str]:
    """What stands in the way: unclear lines that would do if they meant what they may mean."""
    found = []
    for row, column in lines.doubtful:
        holding = _of_line(audit, rule, row)
        if holding is not None and (holding.done > audit.on or holding.maybe < audit.on):
            continue
        if holding is None and "done" not in row.unclear:
            continue
        text = row.unclear.get(column) or row.get(column) or ""
        found.append(f"{audit.where('servicing', row, column)} shows {text!r}")
    return found


def _judge(
    audit: Audit, rule: Rule, subject: str, holdings: Sequence[Holding], doubts: list[str], none: str, fact: str = ""
) -> Duty:
    """How a duty ends. fact: what the condition asks and the record does not say."""
    past = [entry for entry in holdings if entry.done <= audit.on]
    sure = [entry for entry in past if entry.hands == "ok"]
    best = max(sure, key=lambda entry: entry.due, default=None)
    if best is not None and best.due >= audit.on:
        later = any(entry.maybe > best.due for entry in past if entry.hands != "wrong")
        why = f"last done {best.done}, holds until {best.due}" + (f" {best.reading}" if best.reading else "")
        return Duty(rule, subject, "passed", why, day=best.due, warn=not (later or doubts or fact), holding=best)
    good = [entry for entry in sure if entry.maybe >= audit.on]
    if good:
        return Duty(rule, subject, "not_evaluated", good[0].doubt, holding=good[0])
    untold = [entry for entry in past if entry.hands == "open" and entry.maybe >= audit.on]
    if untold:
        where = audit.where("servicing", untold[0].row, "done_by")
        said = untold[0].row.get("done_by")
        why = f"who did it is not recorded at {where}" if said is None else f"{where} shows {said!r}"
        return Duty(rule, subject, "not_evaluated", why, fault="" if said is None else "hands", holding=untold[0])
    if doubts:
        return Duty(rule, subject, "not_evaluated", "; ".join(doubts))
    if not past:
        if holdings:
            where = audit.where(holdings[0].sheet, holdings[0].row, holdings[0].column)
            none = f"{where} is dated {holdings[0].done}, after the day asked"
        return Duty(rule, subject, "not_evaluated", none)
    if fact:
        return Duty(rule, subject, "not_evaluated", fact)
    wrong = [entry for entry in past if entry.hands == "wrong" and entry.maybe >= audit.on]
    if wrong:
        return Duty(rule, subject, "finding", fault="hands", holding=wrong[0])
    latest = max(past, key=lambda entry: entry.due)
    return Duty(rule, subject, "finding", fault="overdue", day=latest.due, holding=latest)


# ---- rafts: the service certificate and what is in the sealed pack ---------------------------------------------


def _service_rule(audit: Audit) -> Rule | None:
    return next((rule for rule in audit.rule_set.rules if rule.evidence == "service" and rule.in_force(audit.on)), None)


def _raft_lines(audit: Audit, craft: Craft, rule: Rule) -> Lines:
    service = sheet("servicing").column("service").names.find(rule.item)
    return _for_craft(audit, craft, service) if service and craft.clear else Lines()


def _raft_holdings(audit: Audit, craft: Craft, rule: Rule) -> list[Holding]:
    """What the Craft sheet and the Servicing sheet record of a raft's service: the later one counts."""
    own = _of_raft(audit, craft, rule)
    lines = [_of_line(audit, rule, row) for row in _raft_lines(audit, craft, rule).clear]
    return [entry for entry in (own, *lines) if entry is not None]


def service_due(audit: Audit, craft: Craft) -> date | None:
    """The day until which the last service holds; a day granted in writing by the Administration takes its place."""
    rule = _service_rule(audit)
    if rule is None:
        return None
    sure = [entry for entry in _raft_holdings(audit, craft, rule) if entry.hands == "ok" and entry.done <= audit.on]
    return max((entry.due for entry in sure), default=None)


def certificate_state(audit: Audit, craft: Craft) -> tuple[bool, str]:
    """Whether a raft's certificate is evidence on the day asked, and by which certificate or why not."""
    rule = _service_rule(audit)
    if rule is not None:
        lines = [entry for entry in _raft_holdings(audit, craft, rule) if entry.sheet == "servicing"]
        for entry in sorted(lines, key=lambda entry: entry.done, reverse=True):
            number = entry.row.get("certificate")
            if number is not None and entry.hands == "ok" and entry.done <= audit.on <= entry.due:
                return True, f"by evidence: certificate {number} of {entry.done}"
    number, serviced = craft.row.get("certificate"), craft.row.get("serviced")
    if number is None or serviced is None:
        missing = "number" if number is None else "date"
        return False, f"sealed pack: the {missing} of the service certificate is not recorded"
    if serviced > audit.on:
        return False, f"sealed pack: the service certificate is dated {serviced}, after the day asked"
    own = _of_raft(audit, craft, rule) if rule is not None else None
    if own is not None and own.due < audit.on:
        return False, f"sealed pack: the service certificate lapsed on {own.due}"
    return True, f"by evidence: certificate {number} of {serviced}"


def deadlines(audit: Audit) -> list[Duty]:
    """The state of each raft's service and dated contents, worked out once an audit."""
    if "deadlines" not in audit.shared:
        found = []
        for craft in audit.crafts:
            for rule in audit.rule_set.rules:
                if rule.subject in craft.subjects() and rule.evidence in ("service", "contents"):
                    duty = _deadline(audit, craft, rule)
                    duty.craft = craft
                    found.append(duty)
        audit.shared["deadlines"] = found
    result: list[Duty] = audit.shared["deadlines"]
    return result


def _deadline(audit: Audit, craft: Craft, rule: Rule) -> Duty:
    if audit.outside:
        return Duty(rule, craft.name, "not_applicable", audit.outside)
    if not craft.clear:
        return Duty(rule, craft.name, "not_evaluated", "the craft's name is not clear")
    if rule.evidence == "service":
        holdings, lines = _raft_holdings(audit, craft, rule), _raft_lines(audit, craft, rule)
        doubts = _doubts(audit, rule, lines)
        if "serviced" in craft.row.unclear:
            doubts.append(f"{audit.where('craft', craft.row, 'serviced')} shows {craft.row.unclear['serviced']!r}")
        return _judge(audit, rule, craft.name, holdings, doubts, "date of the last service is not recorded")
    day = craft.row.get("earliest_content")
    if day is None:
        return Duty(rule, craft.name, "not_evaluated", "earliest dated content of the pack is not recorded")
    holding = Holding("craft", craft.row, "earliest_content", day, day, day)
    if day < audit.on:
        return Duty(rule, craft.name, "finding", "recorded", day=day, fault="overdue", holding=holding)
    return Duty(rule, craft.name, "passed", "recorded", day=day, warn=True, holding=holding)


# ---- every other service ---------------------------------------------------------------------------------------


def duties(audit: Audit) -> list[Duty]:
    """How every rule shown by the Servicing sheet ended for every subject, worked out once an audit."""
    if "services" not in audit.shared:
        found: list[Duty] = []
        for key, rows in audit.rule_set.by_key().items():
            if rows[0].evidence != "servicing":
                continue
            if rows[0].subject in ("ship", "appliance"):
                found.extend(_of_ship(audit, key, rows))
            else:
                crafts = [c for c in audit.crafts if rows[0].subject in ("craft", *c.subjects())]
                found.extend(_of_craft(audit, craft, key, rows) for craft in crafts)
        audit.shared["services"] = found
    result: list[Duty] = audit.shared["services"]
    return result


def _of_craft(audit: Audit, craft: Craft, key: str, rows: list[Rule]) -> Duty:
    duty = _craft_duty(audit, craft, key, rows)
    duty.craft = craft
    return duty


def _craft_duty(audit: Audit, craft: Craft, key: str, rows: list[Rule]) -> Duty:
    if audit.outside:
        return Duty(rows[0], craft.name, "not_applicable", audit.outside)
    if not craft.clear:
        return Duty(rows[0], craft.name, "not_evaluated", "the craft's name is not clear")
    rule, state, why = audit.rows_in_force(key, rows, craft.persons)
    if rule is None:
        return Duty(rows[0], craft.name, state, why)
    applies, fact = rule.condition.holds(craft.facts)
    if applies is False:
        return Duty(rule, craft.name, "not_applicable", fact)
    if rule.item in (_DISPOSABLE, _SERVICEABLE):
        shown = _release_shown_otherwise(audit, craft, rule)
        if shown:
            return Duty(rule, craft.name, "not_applicable", shown)
    made, start = craft.row.get("made"), _policy("start", rule)
    if start is not None and made is not None and audit.on <= months_after(made, int(start.value)):
        return Duty(rule, craft.name, "not_applicable", _young(made, start))
    if "servicing" not in audit.book.tables:
        return Duty(rule, craft.name, "not_evaluated", "the book has no Servicing sheet")
    lines = _for_craft(audit, craft, rule.item)
    holdings = [entry for entry in (_of_line(audit, rule, row) for row in lines.clear) if entry is not None]
    # Of a raft whose age is not recorded nobody can say that it is old enough for a yearly pressure test.
    if start is not None and made is None and start.value > rule.fixed:
        fact = "the raft's day of making is not recorded"
    none = f"the Servicing sheet has no dated line '{rule.item}' for this craft"
    return _judge(audit, rule, craft.name, holdings, _doubts(audit, rule, lines), none, fact)


def _young(made: date, start: Policy) -> str:
    return f"of {made}: asked from an age of {start.value:g} months on"


def _release_shown_otherwise(audit: Audit, craft: Craft, rule: Rule) -> str:
    """Why a raft's hydrostatic release is shown by something else than this service; '' when it is not.

    A date marked on a disposable unit is the Inventory's: it is not asked twice. Of the two kinds of unit a raft has
    one: the later line tells which.
    """
    for entry in craft.lots:
        lot = entry.lot
        if lot.item == _RELEASE_ITEM and lot.expires and lot.certain and lot.condition in stock.FIT_CONDITIONS:
            return f"shown by the date at {audit.where('inventory', entry.row, 'expires')}"
    latest: dict[str, date] = {}
    for service in (_DISPOSABLE, _SERVICEABLE):
        days = [row.get("done") for row in _for_craft(audit, craft, service).clear]
        past = [day for day in days if day is not None and day <= audit.on]
        if past:
            latest[service] = max(past)
    other = _SERVICEABLE if rule.item == _DISPOSABLE else _DISPOSABLE
    if other in latest and (rule.item not in latest or latest[other] > latest[rule.item]):
        return f"the unit is of the other kind: {other} {latest[other]}"
    return ""


def _of_ship(audit: Audit, key: str, rows: list[Rule]) -> Iterator[Duty]:
    if audit.outside:
        yield Duty(rows[0], SHIP, "not_applicable", audit.outside)
        return
    rule, state, why = audit.rows_in_force(key, rows, None)
    if rule is None:
        yield Duty(rows[0], SHIP, state, why)
        return
    applies, fact = rule.condition.holds(audit.ship_facts)
    if applies is False:
        yield Duty(rule, SHIP, "not_applicable", fact)
        return
    start, made = _policy("start", rule), _made(audit, rule)
    if start is not None and made is not None and audit.on <= months_after(made, int(start.value)):
        yield Duty(rule, SHIP, "not_applicable", _young(made, start))
        return
    by_name = _for_ship(audit, rule.item)
    none = f"the Servicing sheet has no dated line '{rule.item}'"
    if "servicing" not in audit.book.tables:
        none = "the book has no Servicing sheet"
    if rule.subject == "ship" or not by_name:
        together = Lines()
        for lines in by_name.values():
            together.clear.extend(lines.clear)
            together.doubtful.extend(line for line in lines.doubtful if line not in together.doubtful)
        by_name = {SHIP: together}
    for name, lines in by_name.items():
        holdings = [entry for entry in (_of_line(audit, rule, row) for row in lines.clear) if entry is not None]
        yield _judge(audit, rule, name, holdings, _doubts(audit, rule, lines), none, "" if applies else fact)


def _made(audit: Audit, rule: Rule) -> date | None:
    """The earliest day from which a thing of the ship can be counted: its foam's year of making, else the keel."""
    if rule.item != "foam concentrate analysed":
        keel: date | None = audit.book.ship_value("keel_laid")
        return keel
    years = [row.get("made") for row in audit.book.rows("fire") if row.get("kind") == "foam concentrate"]
    return date(int(min(years)), 1, 1) if years and all(year is not None for year in years) else None


@states
def servicing_states(audit: Audit) -> Iterator[State]:
    """How every dated duty of a craft, an appliance or the ship ended."""
    for duty in (*deadlines(audit), *duties(audit)):
        yield State(duty.rule.key, duty.subject, duty.state, duty.why)


# ---- what the findings say -------------------------------------------------------------------------------------


def _extra(duty: Duty) -> bool:
    return duty.craft is not None and duty.craft.purpose == "extra"


def _lead(audit: Audit, rule: Rule) -> int:
    """Days before its end at which a service is called due; a look every thirty days would else always be."""
    days = audit.warn_days("servicing")
    return min(days, int(warning_days("intervals in days").value)) if rule.unit == "days" else days


def _lapsing(audit: Audit, duty: Duty) -> tuple[str, str, str] | None:
    """(grade, priority, when) of a duty that has lapsed or will within the lead time."""
    if duty.day is None or duty.fault == "hands":
        return None
    left = days_left(duty.day, audit.on)
    if duty.state == "finding":
        grade, priority, when = "action", duty.rule.priority, f"on {duty.day}, {-left} days ago"
    elif duty.state == "passed" and duty.warn and left <= _lead(audit, duty.rule):
        grade, priority = "due", "within 14 days" if left <= 14 else "at next port"
        when = f"on {duty.day}, in {left} days"
    else:
        return None
    return ("note", "plan", when) if _extra(duty) else (grade, priority, when)


def _yield(audit: Audit, code: str, evidence: str, done: str, soon: str, remedy: str) -> Iterator[Finding]:
    for duty in deadlines(audit):
        lapsing = _lapsing(audit, duty) if duty.rule.evidence == evidence else None
        if lapsing is None or duty.holding is None:
            continue
        grade, priority, when = lapsing
        message = f"{done if duty.state == 'finding' else soon} {when}"
        if duty.holding.reading:
            message += f" ({duty.holding.reading})"
        yield audit.finding(
            code,
            grade,
            priority,
            duty.holding.sheet,
            duty.holding.row,
            duty.holding.column,
            duty.subject,
            message,
            remedy,
            duty.rule,
        )


@check(
    Code(
        "SV01",
        "raft-service",
        ("action", "due", "note"),
        "an inflatable liferaft is serviced within 12 months, or within the time the Administration has granted",
        "only the servicing station sees what is inside, and a raft out of service may not inflate",
        "a raft last serviced on 10 November 2025, asked on 25 November 2026",
        "the same raft with a written grant until 1 February 2027, or with a later line 'liferaft serviced' on the "
        "Servicing sheet; one whose date is not recorded (not evaluated)",
        "land it at an approved servicing station, with an exchange raft so that capacity is kept",
        "SOLAS III/20.8.1",
    )
)
def raft_service(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every raft whose service has lapsed or will within the lead time."""
    yield from _yield(
        audit,
        "SV01",
        "service",
        "service lapsed",
        "service lapses",
        "land the raft at an approved servicing station, with another in its place meanwhile",
    )


@check(
    Code(
        "SV02",
        "raft-contents",
        ("action", "due", "note"),
        "the dated contents of a sealed pack have not run out",
        "flares and rations in a raft expire like any other",
        "a raft whose earliest dated content is 2026-09, asked on 25 November 2026",
        "a raft whose earliest dated content is not recorded (not evaluated)",
        "have the contents renewed at an approved servicing station",
        "resolution A.761(18) as amended by MSC.388(94)",
    )
)
def raft_contents(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every raft whose contents have run out or will within the lead time."""
    yield from _yield(
        audit,
        "SV02",
        "contents",
        "dated contents of the sealed pack ran out",
        "dated contents of the sealed pack run out",
        "have the contents renewed at an approved servicing station",
    )


RELEASE_CAUTION = "Release gear and launching appliances: only by those certified for them, by the maker's manual."
CO2_CAUTION = (
    "CO2: nobody enters the protected space or works on the bottles but those authorised, with the release isolated."
)


def _caution(service: str) -> str:
    if service.startswith("CO2"):
        return f" {CO2_CAUTION}"
    if any(word in service for word in ("release gear", "launching", "winch", "falls", "hook")):
        return f" {RELEASE_CAUTION}"
    return ""


def _span(rule: Rule) -> str:
    return f"{rule.fixed:g} {rule.unit}"


@check(
    Code(
        "SV03",
        "service-overdue",
        ("action", "due", "note"),
        "every service on the Servicing sheet was last done within its interval",
        "what is examined late is found broken late",
        "falls of Lifeboat 1 renewed on 20 November 2021, asked on 25 November 2026",
        "falls renewed exactly five years ago; a davit examined 14 months ago within the survey window; a service "
        "without a line for that craft (not evaluated); another line that holds; a date after the day asked",
        "have it done, and enter the day, who did it and the certificate",
        "SOLAS III/20; MSC.1/Circ.1432; MSC.1/Circ.1318",
    )
)
def service_overdue(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every service whose interval has ended or will within the lead time."""
    for duty in duties(audit):
        lapsing = _lapsing(audit, duty)
        if lapsing is None or duty.holding is None:
            continue
        grade, priority, when = lapsing
        rule, holding = duty.rule, duty.holding
        ended = "its time ran out" if duty.state == "finding" else "its time runs out"
        message = f"{rule.item}: last done {holding.done}, {_span(rule)} asked; {ended} {when}"
        if row_interval := _makers(rule, holding):
            message += f" (maker's interval {row_interval})"
        if holding.reading:
            message += f", {holding.reading}"
        if rule.note:
            message += f" ({rule.note})"
        yield audit.finding(
            "SV03",
            grade,
            priority,
            holding.sheet,
            holding.row,
            holding.column,
            duty.subject,
            message,
            f"have it done and enter the day and the certificate.{_caution(rule.item)}",
            rule,
        )


def _makers(rule: Rule, holding: Holding) -> Interval | None:
    makers: Interval | None = holding.row.get("interval")
    return makers if makers is not None and shorter(_interval(rule), makers, holding.done) is makers else None


@check(
    Code(
        "SV04",
        "done-by-others",
        ("action", "query", "note"),
        "a service that only a maker, an authorized provider or an approved station may do was done by one of them",
        "a hook put together by hands that do not know it opens under load",
        "the five-year overhaul of the release gear done by 'crew'; by 'competent person' (a query: the record does "
        "not show that the firm is authorized)",
        "work of before 1 January 2020 (MSC.402(96) was not in force); crew work after an examination by a provider "
        "that still holds; an empty cell (not evaluated)",
        "have it done by the maker or an authorized provider; correct the cell if it was",
        "MSC.402(96) 4.2, 4.3; SOLAS III/20.8.1",
    )
)
def done_by_others(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every service in time that was done by somebody whom the rule does not name."""
    for duty in (*duties(audit), *deadlines(audit)):
        holding = duty.holding
        if duty.fault != "hands" or holding is None:
            continue
        sure = duty.state == "finding"
        grade = "action" if sure else "query"
        asked = " or ".join(duty.rule.done_by)
        service = holding.row.get("service") or duty.rule.item
        shown = "" if sure else "; the record does not show that this is one of them"
        yield audit.finding(
            "SV04",
            "note" if _extra(duty) else grade,
            "plan" if _extra(duty) else duty.rule.priority if sure else "at next port",
            holding.sheet,
            holding.row,
            "done_by",
            duty.subject,
            f"{service} on {holding.done}: done by {holding.row.get('done_by')}, {asked} asked{shown}",
            f"have it done by {asked}, or correct the cell.{_caution(service)}",
            duty.rule,
        )


# ---- whether the lines can be right ----------------------------------------------------------------------------


def _rule_of(audit: Audit, row: Row) -> Rule | None:
    """The rule in force that a line's service answers to, as it applies to its craft or to the ship."""
    named = row.get("service")
    if named is None or audit.outside:
        return None
    craft = _by_name(audit).get(catalogue.normalise(row.get("appliance") or ""))
    names = sheet("servicing").column("service").names
    for rule in audit.rule_set.rules:
        if not rule.in_force(audit.on) or rule.evidence not in ("servicing", "service"):
            continue
        if (rule.item if rule.evidence == "servicing" else names.find(rule.item)) != named:
            continue
        if rule.condition.holds(craft.facts if craft else audit.ship_facts)[0] is not False:
            return rule
    return None


def _line_subject(row: Row) -> str:
    parts = [row.get("appliance"), row.get("service")]
    return ", ".join(part for part in parts if part)


def _query(audit: Audit, code: str, row: Row, column: str, message: str, remedy: str, source: str = "") -> Finding:
    return audit.finding(
        code, "query", "at next port", "servicing", row, column, _line_subject(row), message, remedy, source=source
    )


def _craft_services(audit: Audit) -> dict[str, tuple[str, ...]]:
    """The services that belong to craft, with the families of craft that have them."""
    found: dict[str, tuple[str, ...]] = {}
    kinds = catalogue.craft_kinds()
    names = sheet("servicing").column("service").names
    for rule in audit.rule_set.rules:
        if rule.evidence not in ("servicing", "service") or rule.subject in ("ship", "appliance"):
            continue
        service = rule.item if rule.evidence == "servicing" else names.find(rule.item)
        clause = next((values for fact, values in rule.condition.clauses if fact == "kind"), ())
        families = [family for kind in clause for family in kinds[kind].families]
        if rule.subject != "craft":
            families.append(rule.subject)
        if service:
            found[service] = tuple(dict.fromkeys((*found.get(service, ()), *families)))
    return found


@check(
    Code(
        "SV05",
        "service-of-unknown-craft",
        ("query",),
        "a service that belongs to a craft names one of the Craft sheet",
        "a service entered for a craft that is not there is counted for none",
        "'falls renewed' for 'Lifebaot 1'",
        "'LIFEBOAT 1'; 'EPIRB' with 'EPIRB annual test', which is no craft's",
        "write the craft's name as on the Craft sheet",
    )
)
def service_of_unknown_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every craft's service with an appliance that is no craft."""
    services, by_name = _craft_services(audit), _by_name(audit)
    if not all(craft.clear for craft in audit.crafts):
        return  # a craft whose name is not clear may be the one meant; its name is a query already
    for row in audit.book.rows("servicing"):
        text = row.get("appliance")
        if text is None or row.get("service") not in services or catalogue.normalise(text) in by_name:
            continue
        near = close_crafts(text, by_name)
        hint = f"; did you mean {near[0].name!r}?" if near else ""
        yield _query(
            audit,
            "SV05",
            row,
            "appliance",
            f"{row.get('service')}: {text!r} is no craft of the Craft sheet{hint}",
            "write the craft's name as on the Craft sheet; one line for each craft",
        )


@check(
    Code(
        "SV06",
        "next-due-differs",
        ("query",),
        "the day 'next due' is the last one plus the interval",
        "of two dates the comfortable one is believed",
        "falls renewed on 10 May 2024, next due 10 May 2031",
        "one day less than the interval; another day of the same month; a shorter interval of the maker that is "
        "recorded; any day within the survey window; the day that the Administration has granted",
        "compare with the certificate; enter the maker's interval where it is shorter",
        "resolution A.1104(29): expiry is the date of the survey or that date less one day",
    )
)
def next_due_differs(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every 'next due' that no reading of the interval gives."""
    for row in audit.book.rows("servicing"):
        written, rule = row.get("next_due"), _rule_of(audit, row)
        if written is None or rule is None or {"interval", "granted_until"} & row.unclear.keys():
            continue
        holding = _of_line(audit, rule, row)
        if holding is None or written == row.get("granted_until"):
            continue
        own = holds_until(holding.done, shorter(_interval(rule), row.get("interval"), holding.done))
        readings = (own, holding.due, holds_until(holding.done, _interval(rule)))
        windowed = _policy("window", rule) is not None and holding.done < written <= holding.maybe
        if windowed or any(next_due_fits(written, holding.done, day, max(day, holding.maybe)) for day in readings):
            continue
        yield _query(
            audit,
            "SV06",
            row,
            "next_due",
            f"{rule.item}: next due {written} is written; done {holding.done}, it holds until {holding.due}",
            "compare both dates with the certificate; enter the maker's interval where it is shorter",
            rule.reference,
        )


@check(
    Code(
        "SV07",
        "grant-without-reference",
        ("query",),
        "a service put off by the Administration has the reference of its letter",
        "a grant that nobody can show does not count at the gangway",
        "inflatable lifejackets put off until March 2027, no reference",
        "a reference in the cell; a day that lies before the service is due anyway",
        "enter the reference of the Administration's letter",
        "SOLAS III/20.8.1, 20.9",
    )
)
def grant_without_reference(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every grant without a reference that would move a deadline."""
    for row in audit.book.rows("servicing"):
        granted, rule = row.get("granted_until"), _rule_of(audit, row)
        if granted is None or rule is None or row.get("grant_reference") is not None:
            continue
        holding = _of_line(audit, rule, row)
        if holding is None or granted <= holding.due or "grant_reference" in row.unclear:
            continue
        yield _query(
            audit,
            "SV07",
            row,
            "granted_until",
            f"{rule.item}: put off until {granted} without a reference; it counts until {holding.due}",
            "enter the reference of the Administration's letter",
            rule.reference,
        )


@check(
    Code(
        "SV08",
        "grant-too-long",
        ("query",),
        "a service is put off no longer than the paragraph lets the Administration grant",
        "beyond seventeen months a raft has no paragraph to stand on",
        "a raft serviced on 20 October 2026 and put off until May 2028; falls put off (the text has no extension)",
        "exactly seventeen months",
        "read the letter again; what goes beyond the paragraph belongs on the Exemptions sheet",
        "SOLAS III/20.8.1, 20.9",
    )
)
def grant_too_long(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every grant beyond what the paragraph allows."""
    remedy = "read the letter again; what goes beyond the paragraph is an exemption: enter it on the Exemptions sheet"
    for row in audit.book.rows("servicing"):
        granted, done, rule = row.get("granted_until"), row.get("done"), _rule_of(audit, row)
        if granted is None or done is None or rule is None:
            continue
        said = _too_long(rule, done, granted)
        if said and granted > _reach(audit, rule, done, row.get("interval"))[0]:
            yield _query(audit, "SV08", row, "granted_until", f"{rule.item}: {said}", remedy, rule.reference)
    service = _service_rule(audit)
    for craft in audit.crafts if service is not None and service.extended_to is not None else []:
        granted, done = craft.row.get("service_granted_until"), craft.row.get("serviced")
        if service is None or granted is None or done is None or audit.outside or "liferaft" not in craft.families:
            continue
        if said := _too_long(service, done, granted):
            yield audit.finding(
                "SV08",
                "query",
                "at next port",
                "craft",
                craft.row,
                "service_granted_until",
                craft.name,
                f"{service.item}: {said}",
                remedy,
                source=service.reference,
            )


def _too_long(rule: Rule, done: date, granted: date) -> str:
    if rule.extended_to is None:
        return f"put off until {granted}; {rule.reference} knows no extension"
    bound = months_after(done, int(rule.extended_to))
    if granted <= bound:
        return ""
    return f"put off until {granted}; {rule.extended_to:g} months after {done} is {bound}, and no more can be granted"


@check(
    Code(
        "SV09",
        "interval-longer-than-rule",
        ("query",),
        "a maker's interval is shorter than the rule's",
        "a maker can ask for more care, never for less",
        "falls with a maker's interval of 6Y",
        "4Y; 60M, which is the rule's own",
        "leave the cell empty, or write the shorter interval",
    )
)
def interval_longer_than_rule(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every maker's interval that is longer than the rule's."""
    for row in audit.book.rows("servicing"):
        makers, rule = row.get("interval"), _rule_of(audit, row)
        if makers is None or rule is None:
            continue
        done = row.get("done") or audit.on
        if holds_until(done, makers) > holds_until(done, _interval(rule)):
            yield _query(
                audit,
                "SV09",
                row,
                "interval",
                f"{rule.item}: maker's interval {makers} is longer than the {_span(rule)} of the rule, which stand",
                "leave the cell empty, or write the shorter interval",
                rule.reference,
            )


@check(
    Code(
        "SV10",
        "service-misfits-craft",
        ("query",),
        "a craft's service is one that its kind of craft has",
        "a line that slipped to the next craft leaves the right one without its service",
        "'release gear annual examination' for a throw-over raft",
        "'falls renewed' for a free-fall boat (its recovery falls); a hydrostatic release on a remote raft",
        "correct the craft or the service",
    )
)
def service_misfits_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every service of a family of craft to which the craft named does not belong."""
    services = _craft_services(audit)
    for row in audit.book.rows("servicing"):
        craft = _by_name(audit).get(catalogue.normalise(row.get("appliance") or ""))
        families = services.get(row.get("service") or "", ())
        if craft is None or craft.kind is None or not families:
            continue
        # A throw-over raft shares its family with one under a davit, but has nothing that is lowered.
        shared = set(families) & set(craft.families)
        if shared and (craft.kind != "liferaft" or "liferaft" in _kinds(audit, row.get("service") or "")):
            continue
        yield _query(
            audit,
            "SV10",
            row,
            "service",
            f"{row.get('service')} is recorded for {craft.name}, a {craft.kind}, which has nothing of the kind",
            "correct the craft or the service",
        )


def _kinds(audit: Audit, service: str) -> tuple[str, ...]:
    """The kinds of craft that a rule of this service names; a raft alone when it names none."""
    for rule in audit.rule_set.rules:
        if rule.evidence == "servicing" and rule.item == service:
            return next((values for fact, values in rule.condition.clauses if fact == "kind"), ("liferaft",))
    return ("liferaft",)


@check(
    Code(
        "SV11",
        "old-suit-test",
        ("note",),
        "a suit over ten years old is pressure-tested more often than every three years",
        "glue and zips age whether the suit is worn or not",
        "a suit made in 2014 (its serial on the Inventory sheet) last tested in May 2024, asked in November 2026",
        "the same suit tested in May 2025; a suit made in 2020; one whose day of making is not recorded",
        "have it tested at the next occasion; the Circular gives no figure, one flag says every two years",
        "MSC/Circ.1114; UK guidance on immersion suits",
    )
)
def old_suit_test(audit: Audit) -> Iterator[Finding]:
    """Yield a note for every old suit whose last pressure test is in time but long ago."""
    age, often = policies()["suit.old-age"], policies()["suit.old-interval"]
    made = {
        catalogue.normalise(entry.row.get("batch")): entry.row.get("made")
        for entry in audit.lots
        if entry.lot.item in _SUITS and entry.row.get("batch") and entry.row.get("made")
    }
    for duty in duties(audit):
        if duty.rule.item != age.group or duty.state != "passed" or duty.holding is None:
            continue
        row = duty.holding.row
        names = [catalogue.normalise(row.get(key)) for key in ("appliance", "serial") if row.get(key)]
        of = next((made[name] for name in names if name in made), None)
        if of is None or audit.on <= months_after(of, int(age.value)):
            continue
        if months_after(duty.holding.done, int(often.value)) >= audit.on:
            continue
        yield audit.finding(
            "SV11",
            "note",
            "plan",
            "servicing",
            row,
            "done",
            duty.subject,
            f"made {of}, over {age.value:g} months old; last pressure test {duty.holding.done}: such suits are tested "
            f"more often ({often.reference}: every {often.value:g} months)",
            "have it tested at the next occasion",
            source=f"{age.reference}; {often.reference}",
        )
