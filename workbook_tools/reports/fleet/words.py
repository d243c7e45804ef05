"""What every report of a fleet says of the run: day, warning days, rules, what was assumed, what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from workbook_tools.checks import CODES
from workbook_tools.core.words import counted
from workbook_tools.findings import grade_words
from workbook_tools.reports.cautions import cautions_for
from workbook_tools.reports.fleet.record import FleetRecord, ShipLine
from workbook_tools.rules import load_rule_set
from workbook_tools.rules.model import STATUS_WORDS

MARKS = {"action": "!!", "due": "->", "query": "??", "note": "  "}
STATE_WORDS = {
    "passed": "passed",
    "finding": "not met",
    "exempt": "exempt",
    "not_applicable": "not applicable",
    "not_evaluated": "not evaluated",
}


FOLLOWED_UP = "of these being followed up"


def headline(record: FleetRecord) -> str:
    """One line: how many books, how many with an action required, how many not read, and the findings by grade."""
    totals = record.totals()
    unread = record.unread_count()
    parts = [
        f"{counted(record.books, 'book')}: {record.action_ships():,} with action required",
        *([f"{unread:,} not read"] if unread else []),
        ", ".join(grade_words(grade, totals[grade]) for grade in totals),
    ]
    return "; ".join(parts) + "."


def verdict_look(ship: ShipLine) -> str:
    """Whether a verdict stands out: a book not read, or an action required."""
    return "verdict-action" if not ship.readable or ship.grades["action"] else "text"


def lapses_words(record: FleetRecord) -> str:
    """What the list of lapses covers and what it leaves out."""
    later = f" {counted(record.later_lapses, 'later day')} on record left out." if record.later_lapses else ""
    return (
        f"What holds no more after a day from {record.options.on} to {record.last_day}. What has lapsed already and "
        f"is asked for stands under Findings.{later}"
    )


@dataclass(frozen=True, slots=True)
class Basis:
    """One line of what the report rests on: what it is about, what is said, for how many books (0: the whole run)."""

    about: str
    words: str
    books: int = 0


def basis(record: FleetRecord) -> Iterator[Basis]:
    """What the run was asked, by which rules, what was assumed of books, and what to mind."""
    options = record.options
    own = options.warn_days
    ahead = "so many days ahead, by kind of item" if own is None else f"{counted(own, 'day')} ahead"
    yield Basis("Day asked", str(options.on))
    yield Basis("Warning days", f"things are called due {ahead}")
    yield Basis("Rules evaluated", _states(record))
    for key, books in record.rule_sets().items():
        rule_set = load_rule_set(key)
        yield Basis("Rule set", f"{rule_set.name}, edition {rule_set.edition}", books)
    if options.company is not None:
        yield Basis("Company rules", f"{options.company.name} ({options.company.file})")
        for looser in options.company.looser:
            yield Basis("LOOSER than published", looser)
    for number, paths in record.twice():
        yield Basis("One ship, several books", f"IMO {number}: {', '.join(paths)}", len(paths))
    for words, books, ship in record.assumptions():
        yield Basis("Assumed", words + (f" ({ship})" if books == 1 else ""), books)
    if not options.names:
        yield Basis("Persons", "named by rank or crew number")
    for caution in cautions_for(" ".join(record.text())):
        yield Basis("Caution", caution)


def _states(record: FleetRecord) -> str:
    totals = record.state_totals()
    return ", ".join(f"{totals[state]:,} {word}" for state, word in STATE_WORDS.items())


@dataclass(frozen=True, slots=True)
class Source:
    """A rule that findings cite: how sure its figure is, and when it was compared with the text."""

    rule_set: str
    rule: str
    paragraph: str
    status: str
    compared_on: str
    findings: int


def sources(record: FleetRecord) -> Iterator[Source]:
    """Every rule that a finding cites; those about the record itself, by their code, cite no paragraph."""
    company = record.options.company
    for key, rule, paragraph, count in record.cited():
        rule_set = company.applied(load_rule_set(key)) if company is not None else load_rule_set(key)
        rows = [row for row in rule_set.by_key().get(rule, []) if row.reference == paragraph] or [
            row for row in rule_set.by_key().get(rule, []) if row.in_force(record.options.on)
        ]
        status = "; ".join(dict.fromkeys(STATUS_WORDS.get(row.status, row.status) for row in rows))
        days = ", ".join(dict.fromkeys(str(row.compared_on) for row in rows if row.compared_on))
        yield Source(key, rule, paragraph, status or _own_words(rule), days, count)


def _own_words(rule: str) -> str:
    if rule.startswith("expiry."):
        return "the date that stands on the thing"
    code = rule.removeprefix("record.").upper()
    return f"a check of the record itself: {CODES[code].name}" if code in CODES else "-"
