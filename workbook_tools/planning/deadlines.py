"""Every dated thing of a book in one list: what holds until when, by which rule, at which cell.

Nothing is counted here: the days are those that the checks work out (survey windows, grants, maker's intervals, the
way in which the ship counts), so that a calendar, a list and the audit never tell two dates for one thing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks import equipment, fire, raft_service, routine, service_duties, servicing, ship_level
from workbook_tools.checks.cautions import PYROTECHNIC_CAUTION
from workbook_tools.checks.context import SHIP, Audit, LotRow
from workbook_tools.checks.exemptions import exemptions
from workbook_tools.checks.followup import name_remover, open_entries
from workbook_tools.checks.persons import Person, in_charge, people
from workbook_tools.core.expiry import DUE, EXPIRED, IN_DATE, days_left
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import holds_until
from workbook_tools.core.stock import FIT_CONDITIONS
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

KINDS = (
    "expiry",  # a lot, or the dated contents of a sealed pack
    "service",  # a service, examination or test by others or by the crew
    "routine",  # an inspection, drill or training
    "certificate",  # of the ship
    "papers",  # of a person
    "exemption",
    "follow-up",
)


@dataclass(frozen=True, slots=True)
class Deadline:
    """One thing that holds until a day, that day included.

    kind: one of KINDS. thing: 'hand flare', 'liferaft service'. subject: craft, place, appliance, or a person by crew
    number or rank. rule, paragraph: '' where no rule of this audit asks for it. warn_days: days before the day at which
    it is called due. leaves_short: whether a rule is unmet the day after (None: not worked out for this kind).
    identity: what stays the same when lines are moved or the day changes; unique within a book.
    """

    kind: str
    thing: str
    subject: str
    day: date
    days_left: int
    sheet: str
    cell: str
    rule: str
    paragraph: str
    warn_days: int
    identity: tuple[str, ...]
    leaves_short: bool | None = None
    caution: str = ""
    lot: LotRow | None = None

    @property
    def status(self) -> str:
        """'in date', 'due' (within its warning days) or 'expired' on the day asked."""
        if self.days_left < 0:
            return EXPIRED
        return DUE if self.days_left <= self.warn_days else IN_DATE


def deadlines(audit: Audit) -> list[Deadline]:
    """Every dated thing of the book under audit, the earliest first, worked out once an audit.

    Left out: lots that are not fit for use, services whose day is not clear from the record, and follow-ups that are
    closed. No name of a person stands in any of it.
    """
    return audit.once("dated_things", lambda: _gather(audit))


def _gather(audit: Audit) -> list[Deadline]:
    sources = (_lots, _rafts, _services, _written, _routine, _fire, _certificates, _papers, _exemptions, _follow_ups)
    nameless = name_remover(audit.book)
    found = [
        replace(entry, thing=nameless(entry.thing), subject=nameless(entry.subject))
        for source in sources
        for entry in source(audit)
    ]
    return sorted(_told_apart(found), key=lambda entry: (entry.day, entry.thing, entry.subject, entry.identity))


def _told_apart(found: Iterable[Deadline]) -> Iterator[Deadline]:
    """Number those of one identity, the earliest first, so that each has one of its own."""
    seen: Counter[tuple[str, ...]] = Counter()
    for entry in sorted(found, key=lambda entry: (entry.identity, entry.day, entry.thing)):
        seen[entry.identity] += 1
        again = seen[entry.identity]
        yield entry if again == 1 else replace(entry, identity=(*entry.identity, str(again)))


def _entry(
    audit: Audit,
    kind: str,
    thing: str,
    subject: str,
    day: date,
    place: tuple[str, Row | None, str],
    rule: Rule | None,
    warn_days: int,
    identity: tuple[str, ...],
    caution: str = "",
) -> Deadline:
    sheet, row, column = place
    table = audit.book.tables[sheet]
    return Deadline(
        kind,
        thing,
        subject,
        day,
        days_left(day, audit.on),
        table.name,
        table.cell(row, column),
        rule.key if rule else "",
        rule.reference if rule else "",
        warn_days,
        tuple(part.casefold() for part in identity),
        caution=caution.strip(),
    )


# ---- what expires ------------------------------------------------------------------------------------------------


def _lots(audit: Audit) -> Iterator[Deadline]:
    by_row = {id(entry.row): entry for entry in audit.lots}
    rules = _counting_rules(audit)
    for row in audit.book.rows("inventory"):
        day = row.get("expires")
        if day is None or (row.get("condition") or "in use") not in FIT_CONDITIONS:
            continue
        lot = by_row.get(id(row))
        rule, short_after = rules.get(id(row), (None, None))
        item = lot.lot.item if lot else row.get("item") or "lot without an item"
        group = catalogue.items()[item].group if item in catalogue.items() else ""
        caution = PYROTECHNIC_CAUTION if group == "pyrotechnic" else ""
        place = row.get("place") or "place not recorded"
        # a lot is the same item with the same date in one place; a batch number tells it even when the date changes
        own = ("lot", place, item, str(row.get("batch") or day))
        found = _entry(
            audit,
            "expiry",
            _lot_words(row, item),
            place,
            day,
            ("inventory", row, "expires"),
            rule,
            audit.warn_days(group),
            own,
            caution,
        )
        short = None if short_after is None else day >= short_after
        yield replace(found, lot=lot, leaves_short=short, paragraph=found.paragraph or "LSA Code 1.2.3")


def _lot_words(row: Row, item: str) -> str:
    quantity, unit, batch = row.get("quantity"), row.get("unit"), row.get("batch")
    amount = f"{quantity:g} {unit or ''}".strip() + " x " if quantity is not None else ""
    return f"{amount}{item}" + (f", batch {batch}" if batch else "")


def _counting_rules(audit: Audit) -> dict[int, tuple[Rule, date | None]]:
    """The rule that counts each lot, by its row, and the day after which that rule is unmet (date.max: never).

    The day is worked out for the craft's equipment; for the ship's stock it is None.
    """
    found: dict[int, tuple[Rule, date | None]] = {}
    for holding in ship_level.holdings(audit):
        if holding.state in ("passed", "finding"):
            for entry in holding.lots:
                found.setdefault(id(entry.row), (holding.rule, None))
    for verdict in equipment.verdicts(audit):
        if verdict.rule.evidence != "inventory" or verdict.state not in ("passed", "finding"):
            continue
        until = audit.on if verdict.state == "finding" else equipment.suffices_until(audit, verdict) or date.max
        for entry in verdict.lots:
            known = found.get(id(entry.row), (verdict.rule, None))[1]
            if known is None or until < known:
                found[id(entry.row)] = (verdict.rule, until)
    return found


def _rafts(audit: Audit) -> Iterator[Deadline]:
    for duty in raft_service.deadlines(audit):
        if duty.day is None or duty.holding is None or duty.fault == "hands":
            continue
        kind = "service" if duty.rule.evidence == "service" else "expiry"
        place = (duty.holding.sheet, duty.holding.row, duty.holding.column)
        lead = servicing.lead_of(audit, duty.rule)
        own = ("rule", duty.rule.key, duty.subject)
        yield _entry(audit, kind, duty.rule.item, duty.subject, duty.day, place, duty.rule, lead, own)


# ---- services ----------------------------------------------------------------------------------------------------


def _services(audit: Audit) -> Iterator[Deadline]:
    for duty in service_duties.duties(audit):
        if duty.day is None or duty.holding is None or duty.fault == "hands":
            continue
        rule, place = duty.rule, (duty.holding.sheet, duty.holding.row, duty.holding.column)
        lead, caution = servicing.lead_of(audit, rule), servicing.caution_for(rule.item)
        own = ("rule", rule.key, duty.subject)
        yield _entry(audit, "service", rule.item, duty.subject, duty.day, place, rule, lead, own, caution)


def _written(audit: Audit) -> Iterator[Deadline]:
    """Days that a certificate tells of services for which the audit itself has no day."""
    known = {id(duty.holding.row) for duty in service_duties.duties(audit) if duty.holding and duty.day}
    latest: dict[tuple[str, str], Row] = {}
    for row in audit.book.rows("servicing"):
        day = row.get("next_due")
        key = (row.get("appliance") or SHIP, row.get("service") or "service")
        if day is not None and id(row) not in known and (key not in latest or day > latest[key].get("next_due")):
            latest[key] = row
    told = {duty.holding.row.get("service") for duty in service_duties.duties(audit) if duty.holding and duty.day}
    for (appliance, service), row in latest.items():
        if service in told:
            continue  # an older line of a service whose day is known
        place, lead = ("servicing", row, "next_due"), audit.warn_days("servicing")
        own = ("written", service, appliance)
        thing, caution = f"{service} (as written)", servicing.caution_for(service)
        yield _entry(audit, "service", thing, appliance, row.get("next_due"), place, None, lead, own, caution)


def _fire(audit: Audit) -> Iterator[Deadline]:
    for verdict in fire.verdicts(audit):
        if verdict.day is None or verdict.state not in ("passed", "finding"):
            continue
        rule, place = verdict.rule, ("fire", verdict.row, verdict.column)
        thing = rule.key.partition(".")[2].replace("-", " ")
        lead, own = audit.warn_days("servicing"), ("rule", rule.key, verdict.subject)
        yield _entry(audit, "service", thing, verdict.subject, verdict.day, place, rule, lead, own)


# ---- routine -----------------------------------------------------------------------------------------------------


def _routine(audit: Audit) -> Iterator[Deadline]:
    for duty in routine.duties(audit):
        if duty.due is None or duty.state not in ("passed", "finding"):
            continue
        rule, place = duty.rule, (duty.sheet, duty.row, duty.column)
        caution = servicing.caution_for("launching") if "launch" in rule.item else ""
        own = ("rule", rule.key, duty.subject)
        yield _entry(audit, "routine", rule.item, duty.subject, duty.due, place, rule, duty.lead, own, caution)


# ---- papers ------------------------------------------------------------------------------------------------------


def _certificates(audit: Audit) -> Iterator[Deadline]:
    for row in audit.book.rows("certificates"):
        if row.get("until") is not None:
            name = row.get("certificate") or "certificate without a name"
            place, lead = ("certificates", row, "until"), audit.warn_days("servicing")
            own = ("certificate", name)
            yield _entry(audit, "certificate", name, SHIP, row.get("until"), place, None, lead, own)


def _papers(audit: Audit) -> Iterator[Deadline]:
    rules = {held.rule.key.rpartition("crew.")[2]: held.rule for held in audit.rules_for_ship("person")}
    for person in people(audit):
        row = person.row
        if row.get("certificate_expires") is not None:
            rule = rules.get("charge-certificate") if in_charge(person) else None
            day = row.get("certificate_expires")
            yield _paper(audit, person, "certificate", "certificate_expires", day, rule)
        if row.get("medical_expires") is not None:
            day, rule = row.get("medical_expires"), rules.get("medical-certificate")
            yield _paper(audit, person, "medical certificate", "medical_expires", day, rule)
        evidence, done = rules.get("training-evidence"), row.get("refreshed")
        if done is not None and done <= audit.on and evidence is not None:
            day = holds_until(done, Interval(months=int(evidence.fixed)))
            yield _paper(audit, person, "training evidence", "refreshed", day, evidence)


def _paper(audit: Audit, person: Person, thing: str, column: str, day: date, rule: Rule | None) -> Deadline:
    place, lead = ("crew", person.row, column), audit.warn_days("servicing")
    own = ("person", person.label, thing)
    return _entry(audit, "papers", thing, person.label, day, place, rule, lead, own)


def _exemptions(audit: Audit) -> Iterator[Deadline]:
    for entry in exemptions(audit):
        if entry.until is not None:
            subject = entry.subject or "every craft"
            place, lead = ("exemptions", entry.row, "until"), audit.warn_days("servicing")
            own = ("exemption", entry.named, subject)
            yield _entry(
                audit, "exemption", f"exemption of {entry.named}", subject, entry.until, place, None, lead, own
            )


def _follow_ups(audit: Audit) -> Iterator[Deadline]:
    for entry in open_entries(audit):
        expected, order = entry.row.get("expected"), entry.row.get("order")
        if expected is not None:
            name = entry.id or entry.text
            thing = f"follow-up of {name}" + (f" ({order})" if order else "")
            place, lead = ("follow_up", entry.row, "expected"), audit.warn_days("*")
            own = ("follow-up", name)
            subject = entry.row.get("port") or SHIP
            yield _entry(audit, "follow-up", thing, subject, expected, place, None, lead, own)
