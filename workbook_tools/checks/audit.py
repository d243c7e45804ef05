"""Runs every check over books that have been read, and gathers what they say."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from workbook_tools.checks import coverage, exemptions, followup, form
from workbook_tools.checks.context import Audit, Options, open_audit
from workbook_tools.checks.lapses import lapses
from workbook_tools.checks.registry import CHECKS, STATES, CheckFunction, Code, StatesFunction, describe
from workbook_tools.core.words import counted
from workbook_tools.findings import BookResult, Finding, identified
from workbook_tools.reading import Book
from workbook_tools.reading.address import split
from workbook_tools.schema import validate

describe(
    Code(
        "SH02",
        "exemption-not-in-force",
        ("query",),
        "an exemption that a finding would need has a reference and has not run out",
        "an exemption that has lapsed protects nobody",
        "food ration of Lifeboat 1 missing, its waiver expired last month",
        "a lapsed exemption of a rule that is met again",
        "renew it with the Administration, or meet the rule",
    )
)
describe(
    Code(
        "SH03",
        "exemption-of-unknown-craft",
        ("query",),
        "the craft that an exemption is for is one of this book",
        "an exemption of a craft that is not there protects nothing",
        "'Lifebaot 1' in the column Craft",
        "'LIFEBOAT 1'; an empty cell, which means every craft",
        "write the craft's name as on the Craft sheet",
    )
)


def audit_books(books: Sequence[Book], options: Options) -> list[BookResult]:
    """Validate the rows of many books in one frame, then audit each book."""
    validate(books)
    return [_audited(book, options)[1] for book in books]


def audit_book(book: Book, options: Options) -> BookResult:
    """Audit one book. For use from Python: the command audits many at a time."""
    return audit_books([book], options)[0]


def audit_in_full(book: Book, options: Options) -> tuple[Audit, BookResult]:
    """Audit one book and keep what the audit worked out, for the pages that are printed from it."""
    validate([book])
    return _audited(book, options)


def audit_read(book: Book, options: Options) -> tuple[Audit, BookResult]:
    """Audit one book whose rows have been validated, and keep what the audit worked out."""
    return _audited(book, options)


def _audited(book: Book, options: Options) -> tuple[Audit, BookResult]:
    (done,) = audit_together([book], options)
    if isinstance(done, Exception):
        raise done
    return done


def audit_together(books: Sequence[Book], options: Options) -> list[tuple[Audit, BookResult] | Exception]:
    """Audit books whose rows have been validated; an error of the program's own stands in the place of its book.

    Check by check over all of them, not book by book: what one check needs stays near the processor, which saves a
    sixth of the time. The books are in memory with all that their audits work out: give a few dozen at a time.
    """
    done: dict[int, tuple[Audit, BookResult] | Exception] = {}
    begun: dict[int, tuple[Audit, list[Finding]]] = {}

    def step(work: Callable[[Audit, list[Finding]], None]) -> None:
        for place, (audit, findings) in [*begun.items()]:
            try:
                work(audit, findings)
            except Exception as error:
                done[place] = error
                del begun[place]

    for place, book in enumerate(books):
        try:
            begun[place] = open_audit(book, options), list(book.findings)
        except Exception as error:
            done[place] = error
    for check in CHECKS:
        step(partial(_find, check))
    for tell in STATES:
        step(partial(_tell, tell))
    step(partial(_find, form.findings))
    for place, (audit, findings) in begun.items():
        try:
            done[place] = audit, _result(audit, findings)
        except Exception as error:
            done[place] = error
    return [done[place] for place in range(len(books))]


def _find(check: CheckFunction, audit: Audit, findings: list[Finding]) -> None:
    findings.extend(check(audit))


def _tell(tell: StatesFunction, audit: Audit, _: list[Finding]) -> None:
    audit.states.extend(tell(audit))


def _result(audit: Audit, findings: list[Finding]) -> BookResult:
    """What the audit of one book comes to when every check has spoken."""
    book, options = audit.book, audit.options
    covered = exemptions.apply(audit, findings)
    covered.extend(exemptions.not_in_force(audit, covered))
    covered.extend(exemptions.of_nobody(audit))
    # Follow-ups name findings by id, so they come last; naming again leaves the ids of the others as they are.
    named = identified(covered)
    followed = followup.apply(audit, named)
    if len(followed) > len(named):
        followed = identified(followed)
    nameless = followup.name_remover(book)
    followed = [_with_message(finding, nameless(finding.message)) for finding in followed]
    if options.names:
        followed = _named(book, followed)
    return BookResult(
        book=book.path,
        ship=book.ship_value("name") or "",
        imo_number=book.ship_value("imo_number") or "",
        rules=audit.rule_set.key,
        states=audit.states,
        findings=sorted(followed, key=Finding.sort_key),
        assumptions=_assumptions(audit),
        persons=coverage.persons_and_places(audit),
        lapses=sorted(lapses(audit), key=lambda lapse: (lapse.day, lapse.sheet, lapse.cell)) if options.lapses else [],
        calls_planned=any((row.get("arrival") or audit.on) > audit.on for row in book.rows("ports")),
    )


def _with_message(finding: Finding, message: str) -> Finding:
    return finding if message == finding.message else replace(finding, message=message)


def _named(book: Book, findings: Sequence[Finding]) -> list[Finding]:
    """The findings, each that stands on a line of the Crew sheet with the name of the person on that line."""
    table = book.tables.get("crew")
    if table is None:
        return list(findings)
    names = {row.number: str(row.get("name") or "") for row in table.rows}

    def named(finding: Finding) -> Finding:
        place = split(finding.cell) if finding.sheet == table.name else None
        return replace(finding, person=names.get(place[0], "")) if place is not None else finding

    return [named(finding) for finding in findings]


def _assumptions(audit: Audit) -> list[str]:
    found = []
    if audit.book.sheets_not_read:
        found.append(f"sheets not read: {', '.join(audit.book.sheets_not_read)}")
    if audit.book.month_only:
        day = "first" if audit.book.month_first_day else "last"
        count = audit.book.month_only
        found.append(f"{counted(count, 'expiry date')} given as month and year: read as the {day} day of the month")
    gates = [state for state in audit.states[: audit.gate_states] if state.rule.startswith("application")]
    if any(state.state == "not_evaluated" for state in gates):
        found.append(gates[0].why)
    return found
