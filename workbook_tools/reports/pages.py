"""The page for the relief and the page for the inspector. Both are taken from the record and the audit of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit
from workbook_tools.checks.followup import name_remover
from workbook_tools.checks.lapses import due_days, lapses
from workbook_tools.checks.raft_service import deadlines
from workbook_tools.columns import sheet
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.expiry import days_left, days_words
from workbook_tools.core.words import counted
from workbook_tools.findings import BookResult, Finding
from workbook_tools.reading import Book, Row
from workbook_tools.reports.cautions import cautions_for
from workbook_tools.reports.layout import Block, Line, Page, ship_title
from workbook_tools.reports.text import follow_up_words, state_words, verdict

_DRILL_WORDS = ("drill", "launch", "training", "muster")
_URGENT = ("before sailing", "within 14 days")
_SOON_DAYS = 30  # a certificate that ends so soon is marked on the inspector's page: our choice


def handover(audit: Audit, result: BookResult, last: date) -> Page:
    """The page for the relief: what stands open on the day asked, and what lapses until the last day, included."""
    book, first = audit.book, audit.on
    blocks = [
        _findings(result.front(), "Findings by priority", "No finding stands open."),
        _followed(result),
        Block(
            f"Lapses from {first} to {last}",
            ("Date", "What", "Where", "Cell"),
            [
                Line((_day(day), *rest))
                for day, *rest in sorted(_dates(audit), key=lambda entry: entry[:3])
                if first <= day <= last
            ],
            "Nothing on record has a date in these days.",
        ),
        _defects(book, first),
        _routine(book, first, "Last drills, tests and inspections", None),
        _services(audit, "Last services", certified_only=False),
    ]
    return _page(
        "Handover of life-saving and fire-fighting appliances",
        audit,
        result,
        f"taken over on {first}, to {last}",
        blocks,
        ("Handed over by (rank)", "Taken over by (rank)"),
    )


def arrival(audit: Audit, result: BookResult) -> Page:
    """The page for the inspector: what to lay on the table, and what will be seen first."""
    book, on = audit.book, audit.on
    first = [finding for finding in result.findings if finding.priority in _URGENT]
    blocks = [
        _findings(first, "Seen first", "No finding must be put right before sailing or within 14 days."),
        _certificates(book, on),
        _raft_certificates(audit),
        _services(audit, "Service certificates", certified_only=True),
        _exemptions(book, on),
        _routine(book, on, "Last drills and training", _DRILL_WORDS),
    ]
    return _page("Arrival page: for the inspector's visit", audit, result, f"on {on}", blocks, ())


def _page(
    title: str, audit: Audit, result: BookResult, when: str, blocks: list[Block], signatures: tuple[str, ...]
) -> Page:
    book, rule_set = audit.book, audit.rule_set
    nameless = name_remover(book)
    blocks = [_nameless(nameless, block) for block in blocks]
    facts = [
        *_persons(book),
        ("Rules", f"{state_words(result)} ({rule_set.name}, edition {rule_set.edition})"),
        ("Record", result.book),
    ]
    if audit.options.company is not None:
        facts += [("LOOSER", text) for text in audit.options.company.looser]
    facts += [("Assumed", text) for text in result.assumptions]
    words = " ".join(cell for block in blocks for line in block.lines for cell in line.cells)
    cautions = [*cautions_for(words), CAUTION]
    return Page(
        title,
        f"{ship_title(result.ship, result.imo_number)}, {when}",
        verdict(result),
        facts,
        blocks,
        cautions,
        signatures,
    )


def _nameless(nameless: Callable[[str], str], block: Block) -> Block:
    lines = [Line(tuple(nameless(cell) for cell in line.cells), line.mark) for line in block.lines]
    return Block(block.heading, block.columns, lines, block.nothing)


def _day(day: date | None) -> str:
    return day.isoformat() if day is not None else "-"


def _said(row: Row, key: str) -> str:
    value = row.get(key)
    return str(value) if value is not None else "-"


def _where(book: Book, sheet: str, row: Row, column: str) -> str:
    table = book.tables[sheet]
    return f"{table.name}!{table.cell(row, column)}"


# ---- persons -----------------------------------------------------------------------------------------------------


def _persons(book: Book) -> Iterator[tuple[str, str]]:
    words = (
        ("persons_certified", "certified for"),
        ("persons_on_board", "on board"),
        ("passengers", "passengers"),
    )
    counted = [f"{value:g} {word}" for key, word in words if (value := book.ship_value(key)) is not None]
    yield "Persons", ", ".join(counted) or "not recorded"
    yield "Places", ", ".join(_places(book)) or "not recorded"


def _places(book: Book) -> Iterator[str]:
    for word in ("lifeboat", "liferaft"):
        crafts = [row for row in book.rows("craft") if word in _families(row) and row.get("purpose") != "extra"]
        if crafts:
            unknown = sum(row.get("persons") is None for row in crafts)
            more = f" and {unknown} without a figure" if unknown else ""
            yield f"{sum(row.get('persons') or 0 for row in crafts):g}{more} in {counted(len(crafts), word)}"


def _families(row: Row) -> tuple[str, ...]:
    kind = row.get("kind")
    return catalogue.craft_kinds()[kind].families if kind in catalogue.craft_kinds() else ()


# ---- findings ----------------------------------------------------------------------------------------------------


def _findings(findings: Iterable[Finding], heading: str, nothing: str) -> Block:
    lines = []
    for finding in sorted(findings, key=Finding.sort_key):
        mark = "urgent" if finding.grade == "action" else "soon" if finding.grade == "due" else ""
        followed = f" [followed up: {follow_up_words(finding)}]" if finding.followed_up else ""
        source = f" ({finding.source})" if finding.source else ""
        lines.append(
            Line(
                (
                    f"{finding.priority}: {finding.grade}",
                    f"{finding.subject}: {finding.message}{source}{followed}",
                    finding.remedy,
                    f"{finding.sheet}!{finding.cell}",
                ),
                mark,
            )
        )
    return Block(heading, ("When", "What", "To do", "Cell"), lines, nothing)


def _followed(result: BookResult) -> Block:
    lines = [
        Line(
            (
                _day(finding.follow_up.expected) if finding.follow_up else "-",
                f"{finding.subject}: {finding.message} ({finding.grade}, {finding.priority})",
                follow_up_words(finding),
                finding.id,
            )
        )
        for finding in result.followed_up()
    ]
    lines.sort(key=lambda line: line.cells)
    return Block(
        "Being followed up (still to be put right)",
        ("Expected", "What", "Being done", "Finding"),
        lines,
        "Nothing is being followed up.",
    )


# ---- what lapses -------------------------------------------------------------------------------------------------


def _dates(audit: Audit) -> Iterator[tuple[date, str, str, str]]:
    """Every day on record after which something holds no more: day, what, where, and the cell."""
    for lapse in lapses(audit):
        yield lapse.day, lapse.what, lapse.where, f"{lapse.sheet}!{lapse.cell}"


# ---- defects, drills, services -----------------------------------------------------------------------------------


def _defects(book: Book, on: date) -> Block:
    lines = []
    for row in book.rows("defects"):
        closed, since = row.get("closed"), row.get("since")
        if (closed is not None and closed <= on) or (since is not None and since > on):
            continue
        lines.append(
            Line(
                (
                    _day(since),
                    f"{_said(row, 'subject')}: {_said(row, 'fitting')}",
                    _said(row, "wrong"),
                    _where(book, "defects", row, "fitting"),
                ),
                "urgent",
            )
        )
    return Block(
        "Open defects",
        ("Since", "Where", "What is wrong", "Cell"),
        lines,
        _none(book, "defects", "No defect is open on record."),
    )


def _none(book: Book, key: str, words: str) -> str:
    """What an empty block says: where the book keeps no such sheet, that nothing is known."""
    return words if key in book.tables else f"The book keeps no {sheet(key).name} sheet: nothing is known."


def _routine(book: Book, on: date, heading: str, words: tuple[str, ...] | None) -> Block:
    """The last day of each task, and of each craft where it is done on one; what was not held does not count."""
    latest: dict[str, dict[str, date]] = {}
    for row in book.rows("routine"):
        task, day = row.get("task"), row.get("day")
        if task is None or day is None or day > on or row.get("result") == "not held":
            continue
        if words is None or any(word in task for word in words):
            subjects = latest.setdefault(task, {})
            subject = row.get("subject") or ""
            subjects[subject] = max(day, subjects.get(subject, day))
    lines = []
    for task in (name for name in catalogue.tasks() if name in latest):
        subjects = latest[task]
        days = [f"{subject} {day}".strip() for subject, day in sorted(subjects.items())]
        lines.append(Line((task, _day(max(subjects.values())), ", ".join(days) if list(subjects) != [""] else "ship")))
    return Block(
        heading, ("What", "Last held", "Where"), lines, _none(book, "routine", "The Routine sheet names none.")
    )


def _services(audit: Audit, heading: str, certified_only: bool) -> Block:
    """The last of each service; certified_only: those with a certificate, and those that others than the crew did."""
    latest: dict[tuple[str, str], Row] = {}
    for row in audit.book.rows("servicing"):
        service, done = row.get("service"), row.get("done")
        if service is None or done is None or done > audit.on:
            continue
        if certified_only and row.get("certificate") is None and row.get("done_by") in (None, "crew"):
            continue
        key = (_said(row, "appliance"), service)
        if key not in latest or done > latest[key].get("done"):
            latest[key] = row
    holds = due_days(audit)
    lines = []
    for (appliance, service), row in sorted(latest.items(), key=lambda pair: pair[0]):
        due = holds.get(id(row)) or row.get("next_due")
        lapsed = due is not None and due < audit.on
        lines.append(
            Line(
                (
                    f"{appliance}: {service}",
                    _day(row.get("done")),
                    f"LAPSED {due}" if lapsed else _day(due),
                    row.get("certificate") or "no number recorded",
                ),
                "urgent" if lapsed else "",
            )
        )
    return Block(
        heading,
        ("Service", "Last done", "Next due", "Certificate"),
        lines,
        _none(audit.book, "servicing", "The Servicing sheet names none."),
    )


# ---- certificates and exemptions ---------------------------------------------------------------------------------


def _validity(until: date | None, on: date) -> tuple[str, str]:
    """Words and mark for the last day of a document."""
    if until is None:
        return "no last day recorded", ""
    left = days_left(until, on)
    if left < 0:
        return f"EXPIRED {until}", "urgent"
    return (f"{until}, in {days_words(left)}", "soon") if left <= _SOON_DAYS else (str(until), "")


def _certificates(book: Book, on: date) -> Block:
    lines = []
    for row in book.rows("certificates"):
        words, mark = _validity(row.get("until"), on)
        lines.append(
            Line(
                (
                    _said(row, "certificate"),
                    _said(row, "number"),
                    _day(row.get("issued")),
                    words,
                    _said(row, "place"),
                ),
                mark,
            )
        )
    return Block(
        "Certificates to lay on the table",
        ("Certificate", "Number", "Issued", "Valid until", "Kept at"),
        lines,
        "The Certificates sheet names none.",
    )


def _raft_certificates(audit: Audit) -> Block:
    lines = []
    for duty in deadlines(audit):
        if duty.rule.evidence == "service" and duty.craft is not None:
            row = duty.craft.row
            words, mark = _validity(duty.day, audit.on)
            lines.append(Line((duty.craft.name, _said(row, "certificate"), _day(row.get("serviced")), words), mark))
    return Block(
        "Liferaft service certificates",
        ("Raft", "Number", "Serviced", "Holds until"),
        lines,
        "No liferaft is recorded.",
    )


def _exemptions(book: Book, on: date) -> Block:
    lines = []
    for row in book.rows("exemptions"):
        words, mark = _validity(row.get("until"), on)
        reference = row.get("reference")
        lines.append(
            Line(
                (
                    _said(row, "rule"),
                    row.get("subject") or "every craft",
                    " ".join(filter(None, (row.get("authority"), reference or "NO REFERENCE"))),
                    words,
                    _said(row, "condition"),
                ),
                "urgent" if reference is None else mark,
            )
        )
    return Block(
        "Exemptions and waivers",
        ("Of", "For", "Issued by, reference", "Valid until", "Condition"),
        lines,
        "None on record.",
    )
