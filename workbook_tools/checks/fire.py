"""Fire appliances: extinguishers and their tests, spare charges, outfits, hoses and the rest (FF codes)."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.alike import ShipRule
from workbook_tools.checks.context import SHIP, Audit
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.core.expiry import days_left, days_words
from workbook_tools.core.fire import age_reached, hoses, passenger_outfits, spare_charges
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import holds_until
from workbook_tools.findings import Finding, State, priority_of_due
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

EXTINGUISHER, CHARGE = "portable extinguisher", "spare charge"
_FIT = ("in use", "spare")
_EXTINGUISHERS_SERVICED = "extinguishers serviced"
# Rows that hold a figure of another rule: that rule is evaluated, not they.
_FIGURES = {
    "fire.spare-charges-most": "fire.spare-charges",
    "fire.outfits-passenger-pair": "fire.outfits-passenger",
    "fire.outfits-passenger-length": "fire.outfits-passenger",
    "fire.hoses-length": "fire.hoses",
}
_TESTS = {
    "fire.extinguisher-service": ("FF01", "serviced"),
    "fire.extinguisher-discharge": ("FF02", "discharged"),
    "fire.extinguisher-pressure-test": ("FF03", "pressure_tested"),
}
_WITHOUT_PFOS = re.compile(
    r"(pfos|fluorine|pfas)[- ]?free|(no|without|free (of|from)) (pfos|fluorine|pfas)|\bf3\b|sfff"
)
_WITH_PFOS = re.compile(r"\b(contains|containing|with) pfos\b")


@dataclass(slots=True)
class Verdict:
    """How one fire rule ended for the ship, an extinguisher or a group of them."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    code: str = "FF05"
    row: Row | None = None
    column: str = "quantity"
    day: date | None = None  # of a test: until when it holds
    warn: bool = False
    asked: float = 0.0
    carried: float = 0.0
    said: str = ""  # how it was counted, for the message


@dataclass(slots=True)
class Count:
    """How many of a kind are fit for use: for certain, and at best where a cell is not clear."""

    sure: int = 0
    possible: int = 0
    rows: list[Row] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)

    @property
    def at_best(self) -> int:
        """The most the record can mean."""
        return self.sure + self.possible


def verdicts(audit: Audit) -> list[Verdict]:
    """The verdict of every fire rule, worked out once an audit."""
    return audit.once("fire", lambda: list(_evaluate(audit)))


def _evaluate(audit: Audit) -> Iterator[Verdict]:
    rules = {entry.rule.key: entry for entry in audit.rules_for_ship("fire")}
    for key, entry in rules.items():
        if entry.state:
            yield Verdict(entry.rule, SHIP, entry.state, entry.why)
        elif key in _FIGURES:
            yield Verdict(entry.rule, SHIP, "not_applicable", f"counted with {_FIGURES[key]}")
        elif "fire" not in audit.book.tables:
            yield Verdict(entry.rule, SHIP, "not_evaluated", "the book has no Fire sheet")
        elif key in _TESTS:
            yield from _tested(audit, entry.rule)
        elif key == "fire.spare-charges":
            yield from _spare_charges(audit, entry.rule, rules)
        elif key == "fire.foam-without-pfos":
            yield _foam(audit, entry.rule)
        else:
            yield _doubted(entry, _counted(audit, entry.rule, rules))


def _doubted(entry: ShipRule, verdict: Verdict) -> Verdict:
    if entry.doubt and verdict.state == "finding":
        verdict.state, verdict.why = "not_evaluated", entry.doubt
    return verdict


# ---- what stands on the sheet ----------------------------------------------------------------------------------


def _rows(audit: Audit, kind: str) -> list[Row]:
    return _rows_by_kind(audit).get(kind, [])


def _rows_by_kind(audit: Audit) -> dict[str | None, list[Row]]:
    """The lines of the Fire sheet by kind; under None those whose kind is not clear or not given."""
    return audit.once("fire_rows", lambda: _gather(audit))


def _gather(audit: Audit) -> dict[str | None, list[Row]]:
    found: dict[str | None, list[Row]] = {}
    for row in audit.book.rows("fire"):
        found.setdefault(row.get("kind"), []).append(row)
    return found


def _pieces(row: Row) -> int:
    quantity = row.get("quantity")
    return 1 if quantity is None else int(quantity)


def _fit(row: Row) -> bool:
    return (row.get("condition") or "in use") in _FIT


def _in_use(row: Row) -> bool:
    return (row.get("condition") or "in use") == "in use"


def _add(audit: Audit, count: Count, row: Row) -> None:
    """Add a line to a count; an unclear quantity may be as many as one likes."""
    if not _fit(row) and "condition" not in row.unclear:
        return
    unclear = [key for key in ("quantity", "condition", "kind") if key in row.unclear]
    if unclear:
        count.doubts.append(f"{audit.where('fire', row, unclear[0])} shows {row.unclear[unclear[0]]!r}")
        count.possible += 10_000 if unclear != ["condition"] else _pieces(row)
    else:
        count.sure += _pieces(row)
    count.rows.append(row)


def _count(audit: Audit, *kinds: str) -> Count:
    """Count the lines of some kinds; a line whose kind is not clear may be any of them."""
    count = Count()
    for row in _of_kinds(audit, (*kinds, None)):
        if row.get("kind") in kinds:
            _add(audit, count, row)
        elif "kind" in row.unclear:
            count.possible += 10_000
            count.doubts.append(f"{audit.where('fire', row, 'kind')} shows {row.unclear['kind']!r}")
    return count


def _of_kinds(audit: Audit, kinds: tuple[str | None, ...]) -> list[Row]:
    """The lines of some kinds in the order of the sheet."""
    by_kind = _rows_by_kind(audit)
    wanted = [by_kind[kind] for kind in kinds if kind in by_kind]
    if len(wanted) <= 1:
        return wanted[0] if wanted else []
    return [row for row in audit.book.rows("fire") if row.get("kind") in kinds]


def _names(rows: Sequence[Row]) -> list[str]:
    """A name for each line that stays when lines move: its number, else what it is; those alike are numbered on."""
    seen: Counter[str] = Counter()
    names = []
    for row in rows:
        parts = [row.get(key) for key in ("agent", "size", "place", "serial")]
        name = row.get("number") or ", ".join([row.get("kind"), *(str(part) for part in parts if part)])
        seen[catalogue.normalise(name)] += 1
        number = seen[catalogue.normalise(name)]
        names.append(name if number == 1 else f"{name} ({number})")
    return names


# ---- tests of portable extinguishers ---------------------------------------------------------------------------


def _until(rule: Rule, done: date) -> date:
    return holds_until(done, Interval(months=int(rule.fixed)))


def _tested(audit: Audit, rule: Rule) -> Iterator[Verdict]:
    code, column = _TESTS[rule.key]
    rows = _rows(audit, EXTINGUISHER)
    if not rows:
        yield Verdict(rule, SHIP, "not_evaluated", f"the Fire sheet has no line '{EXTINGUISHER}'", code)
    elif column == "discharged":
        yield from _discharged(audit, rule, rows)
    else:
        names = audit.once("extinguisher_names", lambda: _names(rows))
        for row, name in zip(rows, names, strict=True):
            yield _one_tested(audit, rule, row, name, code, column)


def _one_tested(audit: Audit, rule: Rule, row: Row, name: str, code: str, column: str) -> Verdict:
    verdict = Verdict(rule, name, "passed", "", code, row, column)
    if not _fit(row):
        verdict.state, verdict.why = "not_applicable", f"condition: {row.get('condition')}"
        return verdict
    days = [row.get(column)]
    # a line whose condition cannot be read may be one that is out of use already
    cells = [key for key in (column, "condition") if key in row.unclear]
    doubts = [f"{audit.where('fire', row, key)} shows {row.unclear[key]!r}" for key in cells]
    if column == "serviced":
        for line in _extinguishers_serviced(audit):
            days.append(line.get("done"))
            if "done" in line.unclear:
                doubts.append(f"{audit.where('servicing', line, 'done')} shows {line.unclear['done']!r}")
    past = [day for day in days if day is not None and day <= audit.on]
    day = max((_until(rule, done) for done in past), default=None)
    made = row.get("made")
    if column == "pressure_tested" and made is not None:
        day = max(filter(None, (day, age_reached(int(made), int(rule.fixed)))))
        if not past and day < audit.on:
            day = None  # old enough to have been tested, and no test on record: nobody knows
    return _by_day(audit, verdict, day, doubts)


def _extinguishers_serviced(audit: Audit) -> list[Row]:
    """The lines of the Servicing sheet that speak for every extinguisher on board."""
    return audit.once(
        "extinguishers_serviced",
        lambda: [row for row in audit.book.rows("servicing") if row.get("service") == _EXTINGUISHERS_SERVICED],
    )


def _by_day(audit: Audit, verdict: Verdict, day: date | None, doubts: list[str]) -> Verdict:
    verdict.day, verdict.warn = day, not doubts
    if day is not None and day >= audit.on:
        verdict.why = f"holds until {day}"
    elif doubts:
        verdict.state, verdict.why = "not_evaluated", "; ".join(doubts)
    elif day is None:
        heading = audit.book.tables["fire"].sheet.column(verdict.column).heading.lower()
        verdict.state, verdict.why = "not_evaluated", f"{heading} is not recorded up to the day asked"
    else:
        verdict.state = "finding"
    return verdict


def _discharged(audit: Audit, rule: Rule, rows: list[Row]) -> Iterator[Verdict]:
    """One of each type made in the same year is discharged: the latest of a group counts for all of it."""
    groups: dict[tuple[str, int | None], list[Row]] = {}
    names: dict[tuple[str, int | None], str] = {}
    for row in rows:
        if not _fit(row):
            continue
        agent, made = row.get("agent") or "", row.get("made")
        key = (catalogue.normalise(agent), int(made) if made is not None else None)
        groups.setdefault(key, []).append(row)
        names.setdefault(key, f"{agent or 'type not recorded'}, {key[1] or 'year not recorded'}")
    if not groups:
        yield Verdict(rule, SHIP, "not_applicable", "no portable extinguisher is in use or spare")
    for key, members in groups.items():
        unsure = [row for row in members if "condition" in row.unclear]
        members = [row for row in members if row not in unsure] or members
        past = [row for row in members if row.get("discharged") is not None and row.get("discharged") <= audit.on]
        latest = max(past, key=lambda row: row.get("discharged"), default=None)
        verdict = Verdict(rule, names[key], "passed", "", "FF02", latest or members[0], "discharged")
        cells = [
            (row, column) for row in members for column in ("discharged", "made", "agent") if column in row.unclear
        ]
        doubts = [f"{audit.where('fire', row, column)} shows {row.unclear[column]!r}" for row, column in cells]
        for row in unsure:
            done = row.get("discharged")
            if row in members or (done is not None and done <= audit.on <= _until(rule, done)):
                doubts.append(f"{audit.where('fire', row, 'condition')} shows {row.unclear['condition']!r}")
        if not key[0] or key[1] is None:
            doubts.append("type or year of making is not recorded")
        day = _until(rule, latest.get("discharged")) if latest is not None else None
        if key[1] is not None:
            young = age_reached(key[1], int(rule.fixed))
            day = max(filter(None, (day, young if latest is not None or young >= audit.on else None)), default=None)
        yield _by_day(audit, verdict, day, doubts)


# ---- spare charges ---------------------------------------------------------------------------------------------


@dataclass(slots=True)
class Stock:
    """Extinguishers in use of a type and size (or of the ship), and what may refill or replace them."""

    name: str
    in_use: int = 0
    charges: int = 0
    spares: int = 0
    rows: list[Row] = field(default_factory=list)
    charge_rows: list[Row] = field(default_factory=list)
    spare_rows: list[Row] = field(default_factory=list)


def _stocks(audit: Audit, rechargeable: bool, together: bool) -> list[Stock]:
    """Extinguishers that can, or cannot, be recharged on board, by type and size or all together."""
    found: dict[str, Stock] = {}

    def of(row: Row) -> Stock:
        name = SHIP if together else " ".join(row.get(key) or "-" for key in ("agent", "size"))
        return found.setdefault(catalogue.normalise(name), Stock(name))

    for row in _rows(audit, EXTINGUISHER):
        if (row.get("rechargeable") != "no") is not rechargeable:
            continue
        stock = of(row)
        if _in_use(row):
            stock.in_use += _pieces(row)
            stock.rows.append(row)
        elif row.get("condition") == "spare":
            stock.spares += _pieces(row)
            stock.spare_rows.append(row)
    if rechargeable:
        for row in _rows(audit, CHARGE):
            if _fit(row):
                stock = of(row)
                stock.charges += _pieces(row)
                stock.charge_rows.append(row)
    return [stock for stock in found.values() if stock.in_use]


def _spare_charges(audit: Audit, rule: Rule, rules: dict[str, ShipRule]) -> Iterator[Verdict]:
    cap = rules["fire.spare-charges-most"].rule
    rows = [*_rows(audit, EXTINGUISHER), *_rows(audit, CHARGE)]
    if not _rows(audit, EXTINGUISHER):
        yield Verdict(rule, SHIP, "not_evaluated", f"the Fire sheet has no line '{EXTINGUISHER}'", "FF04")
        return
    doubts = _charge_doubts(audit, rows)
    counting = audit.ship_facts.get("spare_charge_counting")
    over_ship = list(_of_stocks(audit, rule, cap, True, doubts))
    if counting == "over the ship":
        yield _together(rule, over_ship, "over the ship")
        return
    short_of_size = any(row.get(key) is None for row in rows for key in ("agent", "size"))
    if short_of_size:
        doubts = [*doubts, "type or size of an extinguisher or spare charge is not recorded"]
    by_kind = list(_of_stocks(audit, rule, cap, False, doubts))
    if counting is None and any(verdict.state == "finding" for verdict in by_kind):
        # Nobody has said how the flag counts: only what is short either way is short.
        whole = _together(rule, over_ship, "over the ship, the reading that asks less")
        if whole.state == "finding":
            yield whole
        else:
            why = "whether spare charges count by type and size or over the ship is not recorded"
            yield Verdict(rule, SHIP, "not_evaluated", why, "FF04")
        return
    yield from by_kind


def _charge_doubts(audit: Audit, rows: list[Row]) -> list[str]:
    cells = [
        (row, key)
        for row in (*rows, *(row for row in audit.book.rows("fire") if "kind" in row.unclear))
        for key in ("kind", "quantity", "condition", "agent", "size", "rechargeable")
        if key in row.unclear
    ]
    return [f"{audit.where('fire', row, key)} shows {row.unclear[key]!r}" for row, key in cells]


def _of_stocks(audit: Audit, rule: Rule, cap: Rule, together: bool, doubts: list[str]) -> Iterator[Verdict]:
    for rechargeable in (True, False):
        stocks = _stocks(audit, rechargeable, together)
        for stock in stocks:
            asked = spare_charges(stock.in_use, int(rule.threshold or 0), rule.percent, int(cap.fixed))
            carried = stock.charges + stock.spares
            what = "spare charges" if rechargeable else "spare extinguishers (they cannot be recharged on board)"
            how = "over the ship" if together else "by type and size"
            subject = stock.name if rechargeable else f"{stock.name}, not rechargeable"
            row = [*stock.charge_rows, *stock.spare_rows, *stock.rows][0]
            verdict = Verdict(rule, subject, "passed", "counted", "FF04", row, asked=asked, carried=carried)
            verdict.said = (
                f"{stock.in_use} extinguishers in use: {asked} {what} asked, {carried} recorded, counted {how}"
            )
            if carried < asked:
                lacking = list(doubts)
                # A sheet that keeps no spares of the kind at all does not say that there are none on board.
                if not any(other.charges or other.spares for other in stocks):
                    lacking.append(f"the Fire sheet has no line of {what}")
                verdict.state, verdict.why = ("not_evaluated", "; ".join(lacking)) if lacking else ("finding", "")
            yield verdict


def _together(rule: Rule, parts: list[Verdict], how: str) -> Verdict:
    """The worst of the pools of rechargeable and other extinguishers, as one verdict of the ship."""
    order = {"finding": 0, "not_evaluated": 1, "passed": 2}
    if not parts:
        return Verdict(rule, SHIP, "not_applicable", "no portable extinguisher is in use", "FF04")
    worst = min(parts, key=lambda verdict: order[verdict.state])
    worst.subject = SHIP
    worst.said = worst.said.replace("over the ship", how)
    return worst


# ---- what is counted -------------------------------------------------------------------------------------------

_COUNTED_KINDS = {
    "fire.hoses": ("fire hose", "fire hose spare"),
    "fire.hoses-dangerous-goods": ("fire hose", "fire hose spare"),
    "fire.eebd-spare": ("EEBD", "EEBD spare"),
    "fire.eebd-spare-passenger": ("EEBD", "EEBD spare"),
}


def _counted(audit: Audit, rule: Rule, rules: dict[str, ShipRule]) -> Verdict:
    """Compare what the Fire sheet holds of a rule's kind with what is asked."""
    kinds = _COUNTED_KINDS.get(rule.key, (rule.item,))
    count = _count(audit, *kinds)
    rows = _of_kinds(audit, kinds)
    asked, most, said = _asked(audit, rule, rules)
    verdict = Verdict(rule, SHIP, "passed", "counted", row=next(iter([*count.rows, *rows]), None), said=said)
    if asked is None or most is None:
        verdict.state, verdict.why = "not_evaluated", said
        return verdict
    verdict.asked, verdict.carried = asked, count.sure
    own = rows if "eebd-spare" not in rule.key else [row for row in rows if _spare_device(row)]
    if count.sure >= most:
        return verdict
    if not own:
        verdict.state, verdict.why = "not_evaluated", f"the Fire sheet has no line '{rule.item}'"
    elif count.at_best >= asked:
        why = f"{said}: {asked:g} or {most:g} as part lengths are counted, which the text leaves open"
        verdict.state, verdict.why = "not_evaluated", "; ".join(count.doubts) or why
    else:
        verdict.state, verdict.why = "finding", ""
    return verdict


def _spare_device(row: Row) -> bool:
    return "spare" in (row.get("condition"), str(row.get("kind")).removeprefix("EEBD "))


def _figure(rules: dict[str, ShipRule], key: str) -> float | None:
    """The figure of a row that applies to the ship."""
    entry = rules.get(key)
    return entry.rule.fixed if entry is not None and not entry.state else None


def _asked(audit: Audit, rule: Rule, rules: dict[str, ShipRule]) -> tuple[float | None, float | None, str]:
    """(least asked, most asked, how it was worked out); None, None and why when a figure of the ship is missing."""
    key = rule.key
    if key.startswith("fire.hoses"):
        return _hoses_asked(audit, rule, rules)
    if key == "fire.outfits-passenger":
        return _passenger_outfits_asked(audit, rule, rules)
    if key.startswith("fire.spare-cylinders"):
        asked, _, why = _outfits_asked(audit, rules)
        if asked is None:
            return None, None, why
        return _same(rule.fixed * asked, f"{rule.fixed:g} for each of {asked:g} breathing apparatus asked")
    if key == "fire.eebd-zones":
        zones = audit.book.ship_value("fire_zones")
        if zones is None:
            return None, None, "the number of main vertical zones is not recorded"
        return _same(rule.fixed * zones, f"{rule.fixed:g} in each of {zones} main vertical zones")
    if key.startswith("fire.eebd-spare"):
        first = "fire.eebd-accommodation" if key == "fire.eebd-spare" else "fire.eebd-zones"
        base, _, why = _asked(audit, rules[first].rule, rules) if not rules[first].state else (None, None, "")
        if base is None:
            return None, None, why or rules[first].why
        # Those that are missing in their places are told by the other rule: here the spares are counted.
        placed = min(base, _count(audit, "EEBD").sure)
        return _same(placed + rule.fixed, f"{rule.fixed:g} spare beside the {placed:g} in place")
    if key == "fire.nozzles":
        hoses_in_use = [row for kind in ("fire hose", "engine room fire hose") for row in _rows(audit, kind)]
        number = sum(_pieces(row) for row in hoses_in_use if _in_use(row) and "quantity" not in row.unclear)
        if not number:
            return None, None, "the Fire sheet has no hose in use"
        return _same(rule.fixed * number, f"one for each of {number} hoses in use")
    return _same(rule.fixed, "")


def _same(asked: float, said: str) -> tuple[float, float, str]:
    return asked, asked, said


def _hoses_asked(audit: Audit, rule: Rule, rules: dict[str, ShipRule]) -> tuple[float | None, float | None, str]:
    length, each = audit.book.ship_value("length_m"), _figure(rules, "fire.hoses-length")
    base = rules["fire.hoses"]
    if length is None or each is None or base.state:
        return None, None, base.why if base.state else "the ship's length is not recorded"
    least, most = hoses(length, each, base.rule.fixed, base.rule.minimum)
    said = f"one for each {each:g} m of {length:g} m and {base.rule.fixed:g} spare, at least {base.rule.minimum:g}"
    if rule.key == "fire.hoses":
        return least, most, said
    more = rule.fixed
    return least + more, most + more, f"{said}; {more:g} more with dangerous goods"


def _passenger_outfits_asked(
    audit: Audit, rule: Rule, rules: dict[str, ShipRule]
) -> tuple[float | None, float | None, str]:
    length = audit.book.ship_value("passenger_length_m")
    pair = _figure(rules, "fire.outfits-passenger-pair")
    each = _figure(rules, "fire.outfits-passenger-length")
    if length is None or pair is None or each is None:
        return None, None, "the length of the passenger spaces is not recorded"
    said = f"{rule.fixed:g}, and {pair:g} for each {each:g} m of {length:g} m of passenger spaces or part of it"
    return _same(passenger_outfits(length, rule.fixed, pair, each), said)


def _outfits_asked(audit: Audit, rules: dict[str, ShipRule]) -> tuple[float | None, float | None, str]:
    """Outfits asked of the ship, each with its breathing apparatus."""
    for key in ("fire.outfits-cargo", "fire.outfits-tanker", "fire.outfits-passenger"):
        entry = rules.get(key)
        if entry is not None and not entry.state:
            if entry.doubt:
                return None, None, entry.doubt
            return _asked(audit, entry.rule, rules)
    return None, None, "the number of outfits asked is not known"


def _foam(audit: Audit, rule: Rule) -> Verdict:
    rows = _rows(audit, rule.item)
    verdict = Verdict(rule, SHIP, "passed", "recorded", "FF06", rows[0] if rows else None, "remarks")
    if not rows:
        verdict.state, verdict.why = "not_evaluated", f"the Fire sheet has no line '{rule.item}'"
        return verdict
    for row in rows:
        text = " ".join(str(row.get(key) or "") for key in ("agent", "remarks")).casefold()
        if _WITH_PFOS.search(text) and not _WITHOUT_PFOS.search(text):
            return Verdict(rule, SHIP, "finding", "", "FF06", row, "remarks")
        if not _WITHOUT_PFOS.search(text):
            verdict.row, verdict.state = row, "not_evaluated"
            verdict.why = f"{audit.where('fire', row, 'remarks')} does not say whether the concentrate holds PFOS"
    return verdict


@states
def fire_states(audit: Audit) -> Iterator[State]:
    """How every fire rule ended."""
    for verdict in verdicts(audit):
        yield State(verdict.rule.key, verdict.subject, verdict.state, verdict.why)


# ---- what the findings say -------------------------------------------------------------------------------------


def _test_findings(audit: Audit, code: str, what: str, remedy: str) -> Iterator[Finding]:
    for verdict in verdicts(audit):
        if verdict.code != code or verdict.day is None or verdict.row is None:
            continue
        left = days_left(verdict.day, audit.on)
        if verdict.state == "finding":
            grade, priority = "action", verdict.rule.priority
            when = f"lapsed on {verdict.day}, {days_words(-left)} ago"
        elif verdict.state == "passed" and verdict.warn and left <= audit.warn_days("servicing"):
            grade, priority = "due", priority_of_due(left)
            when = f"lapses on {verdict.day}, in {days_words(left)}"
        else:
            continue
        yield audit.finding(
            code,
            grade,
            priority,
            "fire",
            verdict.row,
            verdict.column,
            verdict.subject,
            f"{what}: asked every {verdict.rule.fixed:g} {verdict.rule.unit}; {when} ({verdict.rule.note})",
            remedy,
            verdict.rule,
        )


@check(
    Code(
        "FF01",
        "extinguisher-service-overdue",
        ("action", "due"),
        "every portable extinguisher in use or spare was serviced within a year",
        "an extinguisher that has lost its pressure looks like any other",
        "FE 1 last serviced on 24 November 2025, asked on 25 November 2026",
        "serviced exactly a year ago; a later line 'extinguishers serviced' for the set on the Servicing sheet; an "
        "extinguisher that is ashore; one whose date is not recorded (not evaluated)",
        "have it serviced by, or under the eyes of, a competent person",
        "resolution A.951(23) 9.1",
    )
)
def extinguisher_service_overdue(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every extinguisher whose yearly service has lapsed or will within the warning days."""
    yield from _test_findings(
        audit, "FF01", "yearly service of the extinguisher", "have it serviced by, or under, a competent person"
    )


@check(
    Code(
        "FF02",
        "test-discharge-overdue",
        ("action", "due"),
        "of the extinguishers of one type made in the same year one is discharged every five years",
        "what has never been fired may not fire",
        "powder extinguishers of 2015, the last one discharged in May 2021",
        "another of the same type and year discharged since; extinguishers younger than five years; no discharge on "
        "record (not evaluated)",
        "discharge one of them in a fire drill and have it recharged; enter the day",
        "resolution A.951(23) 9.1.1",
    )
)
def discharge_overdue(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every type and year whose last test discharge is too long ago."""
    yield from _test_findings(
        audit,
        "FF02",
        "test discharge of one extinguisher of this type and year",
        "discharge one of them in a fire drill, have it recharged before it goes back, and enter the day",
    )


@check(
    Code(
        "FF03",
        "extinguisher-pressure-test-overdue",
        ("action", "due"),
        "every portable extinguisher was pressure-tested, or made, within ten years",
        "a corroded shell bursts in the hands of the one who uses it",
        "FE 2 last pressure-tested in October 2016, asked in November 2026",
        "one made eight years ago and never tested; one of 2010 without a date of test (not evaluated)",
        "land it for its pressure test, with another in its place; do not use or pressurise it until then",
        "resolution A.951(23) 9.1.2",
    )
)
def extinguisher_pressure_test_overdue(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every extinguisher whose pressure test has lapsed or will within the warning days."""
    yield from _test_findings(
        audit,
        "FF03",
        "pressure test of the extinguisher",
        "land it for its pressure test, with another in its place meanwhile",
    )


def _short(audit: Audit, verdict: Verdict, message: str, remedy: str) -> Finding:
    return audit.finding(
        verdict.code,
        "action",
        verdict.rule.priority,
        "fire",
        verdict.row,
        verdict.column,
        verdict.subject,
        message,
        remedy,
        verdict.rule,
        required=verdict.asked,
        carried=verdict.carried,
    )


@check(
    Code(
        "FF04",
        "spare-charges-short",
        ("action",),
        "there is a spare charge for each of the first ten extinguishers and half of the rest, sixty at most; spare "
        "extinguishers for those that cannot be recharged on board",
        "after the first fire the ship has nothing left for the second",
        "eight foam extinguishers of 9 L and seven charges for them",
        "eleven extinguishers and eleven charges (ten, and half of one rounded up: our choice); charges enough over "
        "the ship where its sheet says that they are counted so; no spare charge on record at all (not evaluated)",
        "order the missing charges or spare extinguishers",
        "SOLAS II-2/10.3.3",
    )
)
def spare_charges_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every type and size, or for the ship, with too few spare charges."""
    for verdict in verdicts(audit):
        if verdict.code == "FF04" and verdict.state == "finding":
            missing = math.ceil(verdict.asked - verdict.carried)
            yield _short(audit, verdict, f"{verdict.said} ({verdict.rule.note})", f"order {missing} more")


@check(
    Code(
        "FF05",
        "fire-appliance-short",
        ("action",),
        "the Fire sheet holds as many outfits, spare cylinders, EEBD, hoses, nozzles and other appliances as are asked",
        "a fire party of two with one apparatus is no fire party",
        "one fire-fighter's outfit on a cargo ship; four hoses on one of 98 m",
        "an appliance of which no line stands on the sheet (not evaluated); hoses of the engine room, counted apart; "
        "a number that is short only if part of 30 m counts as whole (not evaluated)",
        "put the missing ones on board, or correct the line",
        "SOLAS II-2/10, 13, 19; XI-1/7",
    )
)
def fire_appliance_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every kind of which too few are fit for use."""
    for verdict in verdicts(audit):
        if verdict.code != "FF05" or verdict.state != "finding":
            continue
        rule = verdict.rule
        said = "; ".join(part for part in (verdict.said, rule.note) if part)
        message = f"{rule.item}: {verdict.asked:g} asked, {verdict.carried:g} recorded"
        missing = math.ceil(verdict.asked - verdict.carried)
        remedy = f"put {missing} more on board, or correct the line"
        yield _short(audit, verdict, message + (f" ({said})" if said else ""), remedy)


@check(
    Code(
        "FF06",
        "foam-with-pfos",
        ("action", "note"),
        "foam concentrate holds no PFOS above 10 mg/kg",
        "such concentrate may no longer be kept on board, and landing it takes time to arrange",
        "a line 'foam concentrate' with the remark 'contains PFOS'; one that says nothing about it (a note)",
        "a remark 'PFOS-free by declaration', or 'fluorine-free'",
        "ask the maker for a declaration or have a sample analysed; have concentrate with PFOS landed to a reception "
        "facility by the first survey of 2026 or later",
        "SOLAS II-2/10.11",
    )
)
def foam_with_pfos(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for foam concentrate recorded as holding PFOS, a note where nothing is said."""
    for verdict in verdicts(audit):
        if verdict.code != "FF06" or verdict.row is None or verdict.state not in ("finding", "not_evaluated"):
            continue
        held = verdict.state == "finding"
        yield audit.finding(
            "FF06",
            "action" if held else "note",
            "plan",
            "fire",
            verdict.row,
            verdict.column,
            SHIP,
            f"foam concentrate {'that holds PFOS' if held else 'with nothing said about PFOS'} ({verdict.rule.note})",
            "have it landed to a reception facility and renewed"
            if held
            else "ask the maker for a declaration or have a sample analysed, and say so in Remarks",
            verdict.rule,
        )


@check(
    Code(
        "FF07",
        "tested-before-made",
        ("query",),
        "no fire appliance was serviced, discharged or pressure-tested before the year it was made in",
        "one of the two dates is wrong, and with it the day of the next test",
        "made in 2023, last pressure test in May 2021",
        "made and serviced in the same year; one of the two cells empty",
        "correct the date that is wrong",
    )
)
def tested_before_made(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every date of an appliance that lies before its year of making."""
    rows = audit.book.rows("fire")
    for row in rows:
        made = row.get("made")
        for column in ("serviced", "discharged", "pressure_tested"):
            day = row.get(column)
            if made is None or day is None or day.year >= int(made):
                continue
            heading = audit.book.tables["fire"].sheet.column(column).heading
            name = row.get("number") or ", ".join(
                str(row.get(key)) for key in ("kind", "agent", "size", "place") if row.get(key)
            )
            yield audit.finding(
                "FF07",
                "query",
                "at next port",
                "fire",
                row,
                column,
                f"{name}, {heading.lower()}",
                f"{heading} is {day}, before the year of making, {int(made)}",
                "correct the date that is wrong",
            )
