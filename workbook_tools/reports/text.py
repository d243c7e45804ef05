"""The audit as text for a screen of 80 columns, with words before colours."""

from __future__ import annotations

import re
import textwrap
from collections import Counter
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from workbook_tools.core.caution import CAUTION
from workbook_tools.core.words import counted
from workbook_tools.findings import GRADES, BookResult, Finding, State, grade_words
from workbook_tools.reports.next_steps import next_steps
from workbook_tools.reports.ranking import weight
from workbook_tools.rules import load_rule_set
from workbook_tools.rules.company import Company
from workbook_tools.rules.model import PRIORITIES

WIDTH = 80

# Blue and orange rather than green and red; the word stands there in any case.
_COLOURS = {"action": "bright_yellow", "due": "bright_blue", "query": "cyan", "note": "white"}
_MARKS = {"action": "!!", "due": "->", "query": "??", "note": "  "}


def _wrap(text: str, indent: str, hanging: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent + hanging, break_on_hyphens=False)


def verdict(result: BookResult) -> str:
    """One line: what must be done, by when; what is being followed up is counted beside it."""
    front, aside = result.front(), result.followed_up()
    grades = Counter(finding.grade for finding in front)
    more = f"; {len(aside)} {'more ' if front else ''}being followed up" if aside else ""
    if grades["action"]:
        by_priority = Counter(finding.priority for finding in front if finding.grade == "action")
        parts = [f"{by_priority[priority]} {priority}" for priority in PRIORITIES if by_priority[priority]]
        return f"ACTION REQUIRED: {', '.join(parts)}{more}"
    rest = "".join(f", {grade_words(grade, grades[grade])}" for grade in GRADES[1:] if grades[grade])
    if any(finding.grade == "action" for finding in aside):
        return f"ACTION REQUIRED, all of it being followed up already{rest}{more}"
    counts = result.state_counts()
    if result.readable and result.states and not counts["passed"] + counts["finding"] + counts["exempt"]:
        basis = "no rule could be evaluated" if counts["not_evaluated"] else "no rule of this set applies"
        return f"NOTHING TO JUDGE BY: {basis}" + (f"; {rest[2:]}" if rest else "") + more
    unseen = counts["not_evaluated"]
    basis = f" by what is recorded ({counted(unseen, 'rule')} not evaluated)" if unseen else ""
    return f"No action required{basis}" + (f"; {rest[2:]}" if rest else "") + more


def state_words(result: BookResult) -> str:
    """How many rules ended in each state."""
    counts = result.state_counts()
    words = {
        "passed": "passed",
        "finding": "not met",
        "exempt": "exempt",
        "not_applicable": "not applicable",
        "not_evaluated": "not evaluated",
    }
    return ", ".join(f"{counts[state]} {word}" for state, word in words.items())


def _finding(finding: Finding) -> list[str]:
    place = f"{finding.sheet}!{finding.cell}"
    grade = click.style(f"{_MARKS[finding.grade]} {finding.grade:<6}", fg=_COLOURS[finding.grade], bold=True)
    room = WIDTH - 2 - 9 - 2 - len(place) - 1
    subject = finding.subject if len(finding.subject) <= room else finding.subject[: room - 3] + "..."
    lines = [f"  {grade}  {subject}{' ' * (room - len(subject))} {place}"]
    lines += _wrap(finding.message, "     ")
    if finding.person:
        lines += _wrap(f"Person: {finding.person}", "     ", "    ")
    if finding.source:
        lines += _wrap(f"By: {finding.source}", "     ", "    ")
    lines += _wrap(f"Do: {finding.remedy}", "     ", "    ")
    lines.append(f"     {finding.id}")
    return lines


def follow_up_words(finding: Finding) -> str:
    """What is being done about a finding, in one line: order, port, day, who was told, what is done meanwhile."""
    follow_up = finding.follow_up
    if follow_up is None:
        return ""
    parts = [
        follow_up.order,
        f"at {follow_up.port}" if follow_up.port else "",
        f"by {follow_up.expected}" if follow_up.expected else "no day given",
        f"reported to {follow_up.reported_to}" if follow_up.reported_to else "",
        f"meanwhile: {follow_up.interim}" if follow_up.interim else "",
    ]
    return ", ".join(filter(None, parts))


def _followed_up(result: BookResult) -> list[str]:
    """One entry for each finding that is put aside until its day: it still has to be put right."""
    lines = ["  BEING FOLLOWED UP (still to be put right)"]
    for finding in result.followed_up():
        what = f"{finding.id} {finding.grade}, {finding.priority}: {finding.subject}, {finding.message}"
        lines += _wrap(f"{what} [{follow_up_words(finding)}]", "     ", "  ")
    return lines if len(lines) > 1 else []


_CELL = re.compile(r"(?:'[^']+'|[^\s!]+)![A-Z]{1,3}[0-9]+")


def _reasons(result: BookResult, state: str, heading: str) -> list[str]:
    """Reasons with the number of rules they hold for and whom they concern: one line a reason, whatever the cell."""
    grouped: dict[str, list[State]] = {}
    for entry in result.states:
        if entry.state == state:
            reason = _CELL.sub("", entry.why).replace(entry.subject, "")
            grouped.setdefault(reason, []).append(entry)
    if not grouped:
        return []
    lines = [f"  {heading}"]
    for _, entries in sorted(grouped.items(), key=lambda pair: (-len(pair[1]), pair[0])):
        first = entries[0]
        what = first.rule if len(entries) == 1 else counted(len(entries), "rule")
        others = len({entry.why for entry in entries if entry.subject == first.subject}) - 1
        more = f", and {others} more cells" if others > 1 else ", and one more cell" if others else ""
        several = len({entry.subject for entry in entries}) > 1
        why = first.why.replace(first.subject, "them") if several else first.why
        lines += _wrap(f"{_named(entries)}, {what}: {why}{more}", "     ", "  ")
    return lines


def _named(entries: Sequence[State]) -> str:
    """The subjects of states, the first few by name."""
    names = list(dict.fromkeys(entry.subject for entry in entries))
    if len(names) <= 3:
        return ", ".join(names)
    return f"{', '.join(names[:2])} and {len(names) - 2} others"


def _not_applicable(result: BookResult) -> list[str]:
    reasons = Counter(state.why for state in result.states if state.state == "not_applicable")
    if not reasons:
        return []
    lines = ["  Not applicable"]
    for why, count in sorted(reasons.items(), key=lambda pair: (-pair[1], pair[0])):
        lines += _wrap(f"{counted(count, 'rule')}: {why}", "     ", "  ")
    return lines


def persons_words(result: BookResult) -> str:
    """One line: persons on board, persons certified, places by side, and the worst that a loss would leave."""
    persons = result.persons
    on_board = "not recorded" if persons.on_board is None else f"{persons.on_board}"
    certified = "not recorded" if persons.certified is None else f"{persons.certified}"
    places = ", ".join(f"{number} {side}" for side, number in sorted(persons.places.items())) or "not recorded"
    text = f"Persons: {on_board} on board, {certified} certified; places in survival craft: {places}"
    if persons.losses:
        worst = max(persons.losses, key=lambda loss: (loss.left_out, -loss.places))
        left = f"{worst.left_out} left out" if worst.left_out else "nobody left out"
        text += f". At worst, {worst.name}: places for {worst.places}, {left}"
    return text


def book_text(result: BookResult) -> str:
    """One book's part of the report."""
    if not result.readable:
        lines = [click.style("NOT READ", bold=True) + f"  {result.book}"]
        return "\n".join([*lines, *_wrap(result.reason, "  ", "  ")])
    title = result.ship or "Ship without a name"
    if result.imo_number:
        title += f"  IMO {result.imo_number}"
    rule_set = load_rule_set(result.rules)
    lines = [click.style(title, bold=True), *_wrap(result.book, "  ", "  ")]
    lines += _wrap(verdict(result), "  ", "  ")
    lines += _wrap(persons_words(result), "  ", "  ")
    lines += _wrap(f"Rules: {state_words(result)} ({rule_set.name}, edition {rule_set.edition})", "  ", "  ")
    for priority in PRIORITIES:
        of_priority = [finding for finding in result.front() if finding.priority == priority]
        if of_priority:
            lines += ["", f"  {priority.upper()}"]
            for finding in of_priority:
                lines += _finding(finding)
    if steps := next_steps(result):
        lines += ["", "  WHAT HELPS"]
        for step in steps:
            lines += _wrap(step, "     ", "  ")
    for block in (
        _followed_up(result),
        _reasons(result, "exempt", "Exempt"),
        _reasons(result, "not_evaluated", "Not evaluated"),
        _not_applicable(result),
    ):
        if block:
            lines += ["", *block]
    if result.assumptions:
        lines += ["", "  Assumed"]
        for assumption in result.assumptions:
            lines += _wrap(assumption, "     ", "  ")
    return "\n".join(lines)


# A book's line in the list of books, behind what sorts it there.
Ranked = tuple[tuple[int, ...], str]


def ranked(result: BookResult) -> Ranked:
    """A book's line in the list of books, and what sorts it: the worst first.

    The numbers are those of the JSON and of the fleet's reports, findings that are being followed up among them.
    """
    if not result.readable:
        return weight(result), f"  {'not read':<24}  {result.book}"
    grades = result.grade_counts()
    aside = len(result.followed_up())
    numbers = f"{grades['action']:>6} {grades['due']:>5} {grades['query']:>5} {grades['note']:>5}"
    more = f" ({aside} of these being followed up)" if aside else ""
    name = f"{result.ship}, {Path(result.book).name}" if result.ship else result.book
    room = WIDTH - len(numbers) - 4 - len(more)
    return weight(result), f"  {numbers}  {name if len(name) <= room else name[: room - 3] + '...'}{more}"


def _summary(books: Sequence[Ranked]) -> list[str]:
    """The books by how much they need, worst first."""
    heading = f"{counted(len(books), 'book')}, worst first"
    lines = ["", heading, f"  {'action':>6} {'due':>5} {'query':>5} {'note':>5}  ship"]
    return lines + [line for _, line in sorted(books, key=lambda book: book[0])]


def _company(company: Company) -> list[str]:
    lines = _wrap(f"Company rules: {company.name} ({company.file})", "", "  ")
    for looser in company.looser:
        lines += _wrap(f"LOOSER than published: {looser}", "  ", "  ")
    return lines


def text_head(books: Sequence[Ranked], on: date, warn_days: int | None, company: Company | None = None) -> str:
    """The report up to its first book. Before each book stands an empty line."""
    ahead = f"{warn_days} for everything" if warn_days is not None else "by kind of item"
    parts = [f"Day asked {on}; warning days: {ahead}"]
    if company is not None:
        parts += _company(company)
    if len(books) > 1:
        parts += _summary(books)
    return "\n".join(parts) + "\n"


def text_tail() -> str:
    """The report after its last book."""
    return "\n".join(["", *_wrap(CAUTION, "")]) + "\n"


def as_text(results: Sequence[BookResult], on: date, warn_days: int | None, company: Company | None = None) -> str:
    """The results as text."""
    books = "".join(f"\n{book_text(result)}\n" for result in results)
    return text_head([ranked(result) for result in results], on, warn_days, company) + books + text_tail()
