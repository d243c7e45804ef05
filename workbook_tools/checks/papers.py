"""Whether the papers of those on board are in date: certificates, medicals, training evidence (CR08 to CR10)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from workbook_tools.checks.context import SHIP, Audit
from workbook_tools.checks.persons import (
    CERTIFICATE_CELLS,
    Outcome,
    Person,
    Told,
    in_charge,
    of_persons,
    people,
    tell,
    used,
)
from workbook_tools.checks.registry import Code, check
from workbook_tools.core.crew import (
    AT_SEA,
    BEFORE_SAILING,
    ENDING,
    LAPSED,
    TOO_LONG,
    VALID,
    certificate_word,
    is_deck_officer,
    lapsed_medical,
    paper_status,
)
from workbook_tools.core.expiry import days_left, days_words
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import holds_until, months_after
from workbook_tools.findings import Finding, priority_of_due
from workbook_tools.rules import Rule


def _paper(rule: Rule, person: Person, told: Told) -> Outcome:
    """The outcome of a paper that is told of: what is only due, or for information, is still met on the day asked."""
    met = told.grade in ("due", "note")
    return Outcome(rule, person.label, "passed" if met else "finding", "recorded" if met else "", told)


def _soon(audit: Audit, last_day: date) -> str:
    return priority_of_due(days_left(last_day, audit.on))


def _when(audit: Audit, last_day: date) -> str:
    """'on 2026-12-01, in 6 days', with the end of the voyage where that comes later."""
    voyage_ends = audit.book.ship_value("voyage_ends")
    left = days_left(last_day, audit.on)
    text = f"on {last_day}, in {days_words(left)}"
    if voyage_ends is not None and last_day < voyage_ends:
        text += f", before the voyage ends on {voyage_ends}"
    return text


def _paper_status(audit: Audit, last_day: date) -> str:
    return paper_status(last_day, audit.on, audit.warn_days("servicing"), audit.book.ship_value("voyage_ends"))


@of_persons("crew.charge-certificate")
def _charge_certificates(audit: Audit, rule: Rule) -> Iterator[Outcome]:
    leaders = [person for person in people(audit) if person.aboard and in_charge(person)]
    if not leaders:
        yield Outcome(rule, SHIP, "not_evaluated", "the Crew sheet names nobody in charge of a craft")
    for person in leaders:
        yield _charge_certificate(audit, rule, person)


def _charge_certificate(audit: Audit, rule: Rule, person: Person) -> Outcome:
    row = person.row
    last_day = row.get("certificate_expires")
    if any(column in row.unclear for column in CERTIFICATE_CELLS):
        return Outcome(rule, person.label, "not_evaluated", "the certificate or its last day is not clear")
    if last_day is None:
        if certificate_word(row.get("certificate")) == "held":
            return Outcome(rule, person.label, "passed", "recorded without a last day, as many are")
        return Outcome(rule, person.label, "not_evaluated", "no certificate is recorded")
    status = _paper_status(audit, last_day)
    if status == VALID:
        return Outcome(rule, person.label, "passed", "recorded")
    officer = is_deck_officer(row.get("rank"))
    if status == ENDING:
        grade, priority = "due", _soon(audit, last_day)
        message = f"the certificate of the person in charge runs out {_when(audit, last_day)}"
    else:
        # a deck officer may be in charge without a survival-craft certificate (III/10.3): which one it is, is the query
        grade, priority = ("query", "at next port") if officer else ("action", rule.priority)
        message = f"the certificate of the person in charge ran out on {last_day}"
        message += "; a deck officer may be in charge without a survival-craft certificate" if officer else ""
    remedy = "have it revalidated, or put another deck officer or certificated person in charge"
    told = Told("CR08", grade, priority, "crew", row, "certificate_expires", message, remedy)
    return _paper(rule, person, told)


def _by_person(
    audit: Audit, rule: Rule, column: str, words: str, judge: Callable[[Audit, Rule, Person, date], Outcome]
) -> Iterator[Outcome]:
    """One outcome for each person by a date of theirs; one for the ship when nobody has that date."""
    # Passengers have no such papers, and on a passenger ship are many: they get no line each.
    seafarers = [person for person in people(audit) if person.seafarer]
    if not used(seafarers, column):
        yield Outcome(rule, SHIP, "not_evaluated", f"{words} is recorded for nobody on the Crew sheet")
        return
    for person in seafarers:
        day = person.row.get(column)
        if not person.aboard:
            yield Outcome(rule, person.label, "not_applicable", f"joins on {person.row.get('joined')}")
        elif day is None:
            clear = column not in person.row.unclear
            yield Outcome(rule, person.label, "not_evaluated", f"{words} is not {'recorded' if clear else 'clear'}")
        else:
            yield judge(audit, rule, person, day)


@of_persons("crew.medical-certificate")
def _medicals(audit: Audit, rule: Rule) -> Iterator[Outcome]:
    return _by_person(audit, rule, "medical_expires", "the last day of the medical certificate", _medical)


def _medical(audit: Audit, rule: Rule, person: Person, last_day: date) -> Outcome:
    status = _paper_status(audit, last_day)
    if status == VALID:
        return Outcome(rule, person.label, "passed", "recorded")
    remedy = "have a doctor approved by the Administration renew it, and enter its new last day"
    if status == ENDING:
        grade, priority = "due", _soon(audit, last_day)
        message = f"the medical certificate runs out {_when(audit, last_day)}"
    else:
        months = int(rule.extended_to or 0)
        grade, priority, message = _lapsed_medical(audit, rule, last_day, months)
    return _paper(rule, person, Told("CR09", grade, priority, "crew", person.row, "medical_expires", message, remedy))


def _lapsed_medical(audit: Audit, rule: Rule, last_day: date, months: int) -> tuple[str, str, str]:
    """Grade, priority and message for a medical certificate that has run out (MLC A1.2.9)."""
    departed = audit.book.ship_value("departed")
    how = lapsed_medical(last_day, audit.on, departed, months)
    limit = months_after(last_day, months)
    text = f"the medical certificate ran out on {last_day}"
    at_sea = f"one that lapses at sea holds to the next port with a doctor, until {limit} at most"
    if how == TOO_LONG:
        return "action", rule.priority, f"{text}, more than {months} months ago: longer than one may hold at sea"
    if how == BEFORE_SAILING:
        return "action", rule.priority, f"{text}, before the last departure on {departed}"
    if how == AT_SEA:
        return "due", _soon(audit, limit), f"{text}, after the last departure on {departed}; {at_sea}"
    return "query", "at next port", f"{text}; whether at sea is not recorded (Ship sheet, Last departure); {at_sea}"


@of_persons("crew.training-evidence")
def _evidence(audit: Audit, rule: Rule) -> Iterator[Outcome]:
    return _by_person(audit, rule, "refreshed", "the date of the last training evidence", _training)


def _training(audit: Audit, rule: Rule, person: Person, done: date) -> Outcome:
    if done > audit.on:
        return Outcome(
            rule, person.label, "not_evaluated", f"the training evidence is dated {done}, after the day asked"
        )
    last_day = holds_until(done, Interval(months=int(rule.fixed)))
    status = _paper_status(audit, last_day)
    if status == VALID:
        return Outcome(rule, person.label, "passed", "recorded")
    lapsed = status == LAPSED
    message = (
        f"training evidence of {done} held for five years, to {last_day}"
        if lapsed
        else f"training evidence of {done} runs out {_when(audit, last_day)}"
    )
    told = Told(
        "CR10",
        "action" if lapsed else "due",
        rule.priority if lapsed else _soon(audit, last_day),
        "crew",
        person.row,
        "refreshed",
        message,
        "give the evidence anew (refresher ashore, or on-board training where it is accepted), and enter its date",
    )
    return _paper(rule, person, told)


@check(
    Code(
        "CR08",
        "certificate-lapsed",
        ("action", "due", "query"),
        "the certificate of the person in charge of a craft lasts to the end of the voyage",
        "a certificate that lapses on the way leaves a craft without a certificated person",
        "valid until 2026-11-24, asked on 25 November 2026; valid until a day before the voyage ends; a deck officer's "
        "is a query, as the certificate of competency may do",
        "one valid until the day the voyage ends; a training certificate without a date; a lapsed one of somebody who "
        "is not in charge",
        "revalidate it, or put another qualified person in charge",
        "STCW A-VI/2; I/11",
    )
)
def certificate_lapsed(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every certificate of a person in charge that has lapsed or will."""
    yield from tell(audit, "CR08")


@check(
    Code(
        "CR09",
        "medical-lapsed",
        ("action", "due", "query"),
        "each seafarer's medical certificate is in date, and lasts to the end of the voyage",
        "without one a seafarer may not sail",
        "ran out before the last departure, or more than three months ago; due when it lapsed at sea or soon will; a "
        "query when the last departure is not recorded",
        "one that ends on the day asked, with no warning asked; a passenger's; a list that records none",
        "have it renewed at the next port with a doctor",
        "STCW I/9; MLC A1.2",
    )
)
def medical_lapsed(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every medical certificate that has lapsed or will."""
    yield from tell(audit, "CR09")


@check(
    Code(
        "CR10",
        "training-evidence-old",
        ("action", "due"),
        "evidence of survival-craft and fire training is at most five years old",
        "skills that are not used are lost: the certificate itself may carry no date, the evidence is asked beside it",
        "training evidence of 2021-11-24, asked on 25 November 2026",
        "evidence five years old on the day asked, with no warning asked; a list that records none; a certificate "
        "without a date",
        "give the evidence anew",
        "STCW A-VI/1; A-VI/2; A-VI/3",
    )
)
def training_evidence_old(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for everybody whose training evidence is older than five years or soon will be."""
    yield from tell(audit, "CR10")
