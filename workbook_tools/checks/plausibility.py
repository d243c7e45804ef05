"""Whether the lines of the record can be right together (WB19 to WB23): each is a query, no rule is broken by them.

The day asked may be any day. What is compared with it is compared with the record date as well, so that an audit of an
older day does not call later entries mistaken.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit
from workbook_tools.checks.persons import people
from workbook_tools.checks.registry import Code, check
from workbook_tools.core.crew import serial_key
from workbook_tools.core.servicing import months_after
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.reading.tables import row_subject


def _query(audit: Audit, code: str, sheet: str, row: Row, column: str, message: str, remedy: str) -> Finding:
    subject = row_subject(row, audit.book.tables[sheet])
    return audit.finding(code, "query", "at next port", sheet, row, column, subject, message, remedy)


def _heading(audit: Audit, sheet: str, column: str) -> str:
    return audit.book.tables[sheet].sheet.column(column).heading


# ---- serial numbers


@check(
    Code(
        "WB19",
        "serial-twice",
        ("query",),
        "a serial number of a craft or of a serial-numbered appliance stands on one line",
        "one of two lines is a copy: an appliance is counted that is not there",
        "Raft P and Raft S with one serial number; two EPIRBs of one number",
        "one batch of flares in several places; a line of several suits; one number on three lines or more, which is a "
        "batch; 'n/a'; an EPIRB ashore beside the one that came back; an EPIRB and its battery of one number",
        "read the numbers on the appliances",
    )
)
def serial_twice(audit: Audit) -> Iterator[Finding]:
    """Yield a query for the second line of a serial number."""
    crafts: dict[str, list[Row]] = {}
    for row in audit.book.rows("craft"):
        key = serial_key(row.get("serial"))
        if key:
            crafts.setdefault(key, []).append(row)
    for rows in crafts.values():
        for row in rows[1:]:
            yield _twice(audit, "craft", rows[0], row, "serial")
    for rows in _appliances(audit):
        # a number that three lines or more share is taken for the number of a batch
        if len(rows) == 2:
            yield _twice(audit, "inventory", rows[0], rows[1], "batch")


def _appliances(audit: Audit) -> Iterable[list[Row]]:
    """The lines of single serial-numbered appliances on board, gathered by item and number."""
    found: dict[tuple[str, str], list[Row]] = {}
    for entry in audit.lots:
        lot = entry.lot
        single = lot.quantity == 1 and lot.condition not in ("ashore", "awaiting landing")
        if not single or not catalogue.items()[lot.item].serialised:
            continue
        if key := serial_key(entry.row.get("batch")):
            found.setdefault((lot.item, key), []).append(entry.row)
    return found.values()


def _twice(audit: Audit, sheet: str, first: Row, row: Row, column: str) -> Finding:
    return _query(
        audit,
        "WB19",
        sheet,
        row,
        column,
        f"serial number {row.get(column)!r} stands here a second time, first at {audit.where(sheet, first, column)}",
        "read the numbers on both appliances; take the line out that is a copy",
    )


# ---- dates against each other

# (sheet, the date that comes first, the date that follows it)
_ORDER = (
    ("craft", "made", "serviced"),
    ("certificates", "issued", "until"),
    ("defects", "since", "closed"),
    ("ship", "departed", "voyage_ends"),
)


@check(
    Code(
        "WB20",
        "dates-out-of-order",
        ("query",),
        "nothing is serviced before it was made, ends before it was issued, or is closed before it was found",
        "one of the two dates is wrong, and with it what is worked out from it",
        "a raft made in March 2026 and serviced in March 2025; a voyage that ended before the last departure",
        "both dates on one day; a month and a day within it; one of the two missing",
        "correct the date that is wrong",
    )
)
def dates_out_of_order(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every pair of dates in the wrong order."""
    for sheet, first, second in _ORDER:
        for row in audit.book.rows(sheet):
            earlier, later = row.get(first), row.get(second)
            if earlier is not None and later is not None and later < earlier:
                yield _query(
                    audit,
                    "WB20",
                    sheet,
                    row,
                    second,
                    f"{_heading(audit, sheet, second)} {later} lies before {_heading(audit, sheet, first)} {earlier}",
                    "correct the date that is wrong",
                )


# ---- dates against the record date

# What has been done, and so cannot lie ahead; the Routine sheet is left out: it goes on from day to day.
_DONE = (
    ("craft", ("serviced",)),
    ("servicing", ("done",)),
    ("fire", ("serviced", "discharged", "pressure_tested")),
    ("crew", ("refreshed",)),
)


def _done(audit: Audit) -> Iterator[tuple[str, Row, str, date]]:
    for sheet, columns in _DONE:
        for row in audit.book.rows(sheet):
            for column in columns:
                day = row.get(column)
                if day is not None:
                    yield sheet, row, column, day


@check(
    Code(
        "WB21",
        "done-in-the-future",
        ("query",),
        "nothing that has been done is dated after both the record date and the day asked",
        "a service that is only planned, or a slip in the year, makes an appliance look serviced",
        "record date 2026-11-20, asked on 25 November 2026, falls renewed on 2027-09-14",
        "a service of the record date or the day asked; an older day asked of a later record; no record date; a person "
        "who joins later",
        "correct the date, or enter the service when it is done",
    )
)
def done_in_the_future(audit: Audit) -> Iterator[Finding]:
    """Yield a query for everything done after the record date and the day asked."""
    record_date = audit.book.ship_value("record_date")
    if record_date is None:
        return
    for sheet, row, column, day in _done(audit):
        if day > max(record_date, audit.on):
            yield _query(
                audit,
                "WB21",
                sheet,
                row,
                column,
                f"{_heading(audit, sheet, column)} {day} lies ahead; the record was last gone through on {record_date}",
                "correct the date, or enter it when it is done",
            )


@check(
    Code(
        "WB22",
        "record-date-old",
        ("note",),
        "the record date is not older than what has been entered",
        "nobody knows how old the rest is; after a change of crew the muster list is to be gone through",
        "record date 2026-10-01, a person joined on 2026-11-20",
        "entries of the record date; drills of later days; a person who joins after the day asked; no record date",
        "go through the record and write the day on the Ship sheet",
        "SOLAS III/37.7",
    )
)
def record_date_old(audit: Audit) -> Iterator[Finding]:
    """Yield one note when services or joinings up to the day asked are later than the record date."""
    record_date = audit.book.ship_value("record_date")
    if record_date is None:
        return
    entries = [(day, audit.where(sheet, row, column)) for sheet, row, column, day in _done(audit)]
    for person in people(audit):
        joined = person.row.get("joined")
        if joined is not None:
            entries.append((joined, audit.where("crew", person.row, "joined")))
    later = [entry for entry in entries if record_date < entry[0] <= audit.on]
    if not later:
        return
    day, where = max(later)
    more = f" and {len(later) - 1} more" if len(later) > 1 else ""
    yield audit.finding(
        "WB22",
        "note",
        "plan",
        "ship",
        audit.book.rows("ship")[0],
        "record_date",
        "ship",
        f"record date {record_date}; later than that: {where} of {day}{more}",
        "go through the record, and after a change of crew the muster list, and write the day here",
        source="SOLAS III/37.7",
    )


# ---- ages past a limit


@check(
    Code(
        "WB23",
        "medical-too-long",
        ("query",),
        "no medical certificate lasts longer than the longest one that can be issued",
        "a slip in the year keeps a person from being called for a new one",
        "record date 2026-11-25, medical certificate valid until 2029-02-28: two years are the most",
        "one valid until two years after the record date, to the day; no record date",
        "copy the date from the certificate",
        "STCW I/9; MLC A1.2",
    )
)
def medical_too_long(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every medical certificate that ends later than one issued on the record date could."""
    record_date = audit.book.ship_value("record_date")
    rule = next(iter(audit.rule_set.by_key().get("crew.medical-certificate", ())), None)
    if record_date is None or rule is None:
        return
    latest = months_after(max(record_date, audit.on), int(rule.fixed))
    for person in people(audit):
        last_day = person.row.get("medical_expires")
        if last_day is not None and last_day > latest:
            yield audit.finding(
                "WB23",
                "query",
                "at next port",
                "crew",
                person.row,
                "medical_expires",
                person.label,
                f"the medical certificate runs to {last_day}; one issued by now lasts to {latest} at most",
                "copy the date from the certificate",
                source=rule.reference,
            )
