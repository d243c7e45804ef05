"""Exemptions: a valid one takes the place of a finding; one expired or without reference does not (SH codes)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from workbook_tools import catalogue
from workbook_tools.catalogue.near import Words
from workbook_tools.checks.context import Audit
from workbook_tools.checks.registry import Code, check
from workbook_tools.findings import Finding, State
from workbook_tools.reading import Row
from workbook_tools.rules import Rule


@dataclass(slots=True)
class Exemption:
    """One line of the Exemptions sheet: what it names, and why it does not hold ('' when it does).

    refused: rules whose text leaves no waiver, each with the paragraph that says so.
    """

    row: Row
    named: str
    rules: set[str]
    subject: str | None
    fault: str
    until: date | None
    by: str
    refused: dict[str, str]

    def fault_for(self, rule: str) -> str:
        """Why the line does not hold for a rule; '' when it does."""
        if self.fault or rule not in self.refused:
            return self.fault
        return f"the text leaves no waiver of it ({self.refused[rule]})"


def paragraphs(reference: str) -> frozenset[str]:
    """The paragraphs a reference names: 'LSA Code 4.1.5.1; 4.1.5.3' gives both, each as 'lsa code 4.1.5.1'."""
    found: set[str] = set()
    document = ""
    for part in reference.split(";"):
        match = re.fullmatch(r"\s*(.*?)\s*([IVX]*[-0-9]*/?\d[\w.()/-]*)\s*", part)
        if not match:
            found.add(part.strip().casefold())
            continue
        document = re.sub(r"\W+", " ", match[1]).strip().casefold() or document
        found.add(f"{document} {match[2].casefold()}".strip())
    return frozenset(found)


def _named_by(text: str, rules: Iterable[Rule]) -> list[Rule]:
    """The rules that a text names, by key or paragraph."""
    key, wanted = text.strip().casefold(), paragraphs(text)
    return [
        rule for rule in rules if key == rule.key.casefold() or not wanted.isdisjoint(_ways_to_write(rule.reference))
    ]


@lru_cache(maxsize=5_000)
def _ways_to_write(reference: str) -> frozenset[str]:
    """A rule's own paragraph as people write it. It is the first of the reference; the others only bear on it."""
    own = paragraphs(reference.split(";", 1)[0])
    bare = {paragraph.rpartition(" ")[2] for paragraph in own}
    short = {re.sub(r"^lsa code ", "lsa ", paragraph) for paragraph in own}
    return own | bare | short


_words = lru_cache(maxsize=8)(Words)


def exemptions(audit: Audit) -> list[Exemption]:
    """The lines of the Exemptions sheet, read once an audit."""
    return audit.once(
        "exemptions", lambda: [_read(audit, row) for row in audit.book.rows("exemptions") if row.get("rule")]
    )


def _read(audit: Audit, row: Row) -> Exemption:
    named = row.get("rule")
    matched = _named_by(named, audit.rule_set.rules)
    rules = {rule.key for rule in matched}
    refused = {
        rule.key: rule.waivable.removeprefix("never: ") for rule in matched if rule.waivable.startswith("never: ")
    }
    reference, until = row.get("reference"), row.get("until")
    fault = ""
    if reference is None:
        fault = "it has no reference of the Administration"
    elif "until" in row.unclear:
        fault = "its last day cannot be read"
    elif until is None:
        fault = "its last day is not given"
    elif until < audit.on:
        fault = f"it ran out on {until}"
    authority = row.get("authority")
    by = " ".join(filter(None, (authority, reference)))
    return Exemption(row, named, rules, row.get("subject"), fault, until, by, refused)


def _covers(exemption: Exemption, rule: str, subject: str) -> bool:
    if rule not in exemption.rules:
        return False
    return exemption.subject is None or catalogue.normalise(exemption.subject) == catalogue.normalise(subject)


def apply(audit: Audit, findings: list[Finding]) -> list[Finding]:
    """Take out the findings that a valid exemption covers, and turn the states of their rules into 'exempt'."""
    kept: list[Finding] = []
    for finding in findings:
        valid = [
            entry
            for entry in exemptions(audit)
            if not entry.fault_for(finding.rule) and _covers(entry, finding.rule, finding.subject)
        ]
        if not valid:
            kept.append(finding)
            continue
        why = f"by {valid[0].by} until {valid[0].until}"
        audit.states = [
            State(state.rule, state.subject, "exempt", why)
            if (state.rule, state.subject) == (finding.rule, finding.subject)
            else state
            for state in audit.states
        ]
    return kept


@check(
    Code(
        "SH01",
        "exemption-names-no-rule",
        ("query",),
        "an exemption names a rule or paragraph of the rule set",
        "an exemption that names nothing exempts nothing",
        "'lifeboat.food' where the rule is lifeboat.food-ration",
        "'LSA Code 4.4.8.12', 'LSA 4.4.8.12' or '4.4.8.12'",
        "write the rule's key as the audit prints it, or its paragraph",
    )
)
def exemption_names_no_rule(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every exemption that names no rule."""
    for entry in exemptions(audit):
        if entry.rules:
            continue
        near = _words(tuple(audit.rule_set.by_key())).close(entry.named, cutoff=0.6)
        hint = f"; did you mean {near[0]!r}?" if near else ""
        yield audit.finding(
            "SH01",
            "query",
            "at next port",
            "exemptions",
            entry.row,
            "rule",
            entry.named,
            f"{entry.named!r} is no rule or paragraph of {audit.rule_set.name}{hint}",
            "write the rule's key as the audit prints it, or its paragraph",
        )


def not_in_force(audit: Audit, findings: list[Finding]) -> Iterator[Finding]:
    """Yield SH02 for every exemption that would cover a finding but does not hold."""
    for entry in exemptions(audit):
        rule = next(
            (
                finding.rule
                for finding in findings
                if _covers(entry, finding.rule, finding.subject) and entry.fault_for(finding.rule)
            ),
            None,
        )
        if rule is None:
            continue
        fault = entry.fault_for(rule)
        column = "rule" if not entry.fault else "until" if "day" in fault or "ran out" in fault else "reference"
        yield audit.finding(
            "SH02",
            "query",
            "at next port",
            "exemptions",
            entry.row,
            column,
            f"{entry.named}, {entry.subject}" if entry.subject else entry.named,
            f"the exemption of {entry.named} does not count: {fault}",
            "renew it with the Administration, or meet the rule",
        )


def of_nobody(audit: Audit) -> Iterator[Finding]:
    """Yield SH03 for every exemption whose craft is none that a rule looks at."""
    named = [entry for entry in exemptions(audit) if entry.subject is not None]
    if not named:
        return
    subjects = {catalogue.normalise(state.subject): state.subject for state in audit.states}
    for entry in named:
        if entry.subject is None or catalogue.normalise(entry.subject) in subjects:
            continue
        near = _words(tuple(subjects)).close(catalogue.normalise(entry.subject), cutoff=0.7)
        hint = f"; did you mean {subjects[near[0]]!r}?" if near else ""
        yield audit.finding(
            "SH03",
            "query",
            "at next port",
            "exemptions",
            entry.row,
            "subject",
            f"{entry.named}, {entry.subject}",
            f"{entry.subject!r} is no craft of this book: the exemption covers nothing{hint}",
            "write the craft's name as on the Craft sheet, or leave the cell empty for every craft",
        )
