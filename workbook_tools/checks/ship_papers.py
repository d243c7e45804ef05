"""Whether the ship's certificates are in date (SH22). Those of persons: papers."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from workbook_tools.catalogue import normalise
from workbook_tools.checks.context import Audit
from workbook_tools.checks.registry import Code, check
from workbook_tools.core.crew import ENDING, LAPSED, paper_status
from workbook_tools.core.expiry import days_left, days_words
from workbook_tools.findings import Finding, priority_of_due
from workbook_tools.reading import Row
from workbook_tools.reading.tables import row_subject


@check(
    Code(
        "SH22",
        "ship-certificate-lapsed",
        ("query", "due"),
        "each certificate on the Certificates sheet is in date, and stays so for the warning days and the voyage",
        "a certificate that has run out is the first thing an inspector sees, and may keep the ship in port",
        "a Safety Equipment Certificate valid until 2026-10-30, asked on 25 November 2026",
        "a certificate without a last day; one valid until the day asked, with no warning asked; an old line beside a "
        "newer one of the same name; a last day before the day of issue, which is told by WB20",
        "have it renewed or endorsed, and enter the new certificate; take out a line that is only kept as history",
        "SOLAS I/14",
    )
)
def ship_certificate_lapsed(audit: Audit) -> Iterator[Finding]:
    """Yield a query for each certificate whose last day has passed, and a due line for each that soon lapses."""
    for row, last_day in _latest(audit):
        status = paper_status(last_day, audit.on, audit.warn_days("servicing"), audit.book.ship_value("voyage_ends"))
        if status == LAPSED:
            message = f"valid until {last_day}; no newer one of this name is recorded"
            yield _told(audit, row, "query", "before sailing", message)
        elif status == ENDING:
            left = days_left(last_day, audit.on)
            yield _told(audit, row, "due", priority_of_due(left), f"runs out on {last_day}, in {days_words(left)}")


def _latest(audit: Audit) -> Iterator[tuple[Row, date]]:
    """The line of each certificate that holds longest, with its last day; none where that is open or not clear."""
    by_name: dict[str, list[Row]] = {}
    for row in audit.book.rows("certificates"):
        if row.get("certificate") is not None:
            by_name.setdefault(normalise(row.get("certificate")), []).append(row)
    for rows in by_name.values():
        if all(row.get("until") is not None for row in rows):
            last = max(rows, key=lambda row: row.get("until"))
            issued, until = last.get("issued"), last.get("until")
            if (issued is None or issued <= until) and "issued" not in last.unclear:
                yield last, until


def _told(audit: Audit, row: Row, grade: str, priority: str, message: str) -> Finding:
    subject = row_subject(row, audit.book.tables["certificates"])
    remedy = "have it renewed or endorsed, and enter the new certificate"
    return audit.finding(
        "SH22", grade, priority, "certificates", row, "until", subject, message, remedy, source="SOLAS I/14"
    )
