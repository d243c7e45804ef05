"""Services that look done on paper only (CP03)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date

from workbook_tools.checks.registry import Code
from workbook_tools.compare.identity import folded, number_in
from workbook_tools.compare.registry import suspicion
from workbook_tools.compare.step import Step
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.reading.cells import as_text, quoted

WITHOUT_CERTIFICATE = "services with a later date, without a certificate number in both returns"
_REMEDY = "look at the certificate of the new service; write down its number, or the day of the last service"


@suspicion(
    Code(
        "CP03",
        "service-without-certificate",
        ("query",),
        "a service with a new date has a certificate or report of its own",
        "a date that is moved on makes an appliance look serviced that nobody has looked at",
        "release gear serviced on 2026-11-02, report R-17, where the last return had 2025-11-04, report R-17; the same "
        "with the report's number taken out; a raft's later service on the same certificate",
        "a new date with a new number; one certificate for several appliances; what the ship's crew may do; a date "
        "moved to an earlier one; a service whose certificates are not recorded (not compared)",
        _REMEDY,
        "common practice, no source",
    )
)
def service_without_certificate(step: Step) -> Iterator[Finding]:
    """Yield a query for each service, and each raft, whose date moved while its certificate did not."""
    if step.keeps("servicing", "done"):
        old, new = (_latest(table.rows) for table in step.tables["servicing"])
        for name in new:
            if name in old and folded(new[name], "done_by") != "crew":
                yield from _moved(step, "servicing", "done", old[name], new[name])
    for pair in step.matched["craft"].pairs if step.keeps("craft", "serviced") else ():
        yield from _moved(step, "craft", "serviced", pair.old, pair.new)


def _latest(rows: Iterable[Row]) -> dict[tuple[str, str], Row]:
    """The last service of each kind of each appliance: some keep the earlier ones too."""
    found: dict[tuple[str, str], list[Row]] = defaultdict(list)
    for row in rows:
        if row.get("done") is not None:
            found[str(folded(row, "appliance")), str(folded(row, "service"))].append(row)
    return {name: max(lines, key=lambda row: row.get("done")) for name, lines in found.items()}


def _moved(step: Step, sheet: str, column: str, old: Row, new: Row) -> Iterator[Finding]:
    was, now = old.get(column), new.get(column)
    if not isinstance(was, date) or not isinstance(now, date) or now <= was:
        return
    before, after = number_in(old, "certificate"), number_in(new, "certificate")
    if not before and not after:
        step.left_out[WITHOUT_CERTIFICATE] += 1
    elif before and after in (before, "") and "certificate" not in new.unclear:
        number = quoted(as_text(old.get("certificate")))
        there = f"certificate {number} as before" if after else f"no certificate now, {number} before"
        yield step.query(
            "CP03",
            sheet,
            new,
            column,
            f"serviced {now}, {was} in the older return ({step.where_before(sheet, old, column)}); {there}",
            _REMEDY,
        )
