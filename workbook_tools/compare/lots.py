"""Lots that look renewed on paper only (CP01, CP02)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.registry import Code
from workbook_tools.compare.identity import folded, item_of, number_in
from workbook_tools.compare.matching import Pair
from workbook_tools.compare.registry import suspicion
from workbook_tools.compare.step import Step
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.reading.cells import as_text, quoted

EXPIRY_WITHOUT_BATCH = "lots whose expiry moved later, without a batch number in both returns"
QUANTITY_WITHOUT_BATCH = "dated lots whose quantity rose, without a batch number in both returns"
QUANTITY_UNCLEAR = "batches whose quantity is empty, unclear or measured otherwise in one of the two returns"
CONTENT_WITHOUT_SERVICE = "rafts whose earliest content moved later, without serial, certificate and service date"


def _later(old: date | None, new: date | None) -> bool:
    """Whether a date moved into a later month. A month written out as one of its days says the same."""
    return old is not None and new is not None and (new.year, new.month) > (old.year, old.month)


@suspicion(
    Code(
        "CP01",
        "expiry-moved",
        ("query",),
        "a lot of the same batch keeps the expiry date marked on it; what is packed in a raft keeps its date until the "
        "raft is serviced or exchanged",
        "a date that is moved on makes an expired flare look good until it is needed",
        "hand flares of batch H6 that expired in 11/2026 in the last return and expire in 11/2029 in this one; the "
        "earliest dated content of a raft two years later, on the same certificate",
        "a lot with another batch number; a date moved to an earlier one; 03/2029 written out as 15 March 2029; an "
        "EPIRB or suit, whose number stays when its battery or service is new; an exchanged or serviced raft; no batch "
        "number (not compared)",
        "read date and batch on the pieces; write down the new batch number, or the date that is marked",
        "LSA Code 1.2.3",
    )
)
def expiry_moved(step: Step) -> Iterator[Finding]:
    """Yield a query for each lot, and each raft's pack, whose date moved while its number did not."""
    numbered = _numbers_of_appliances(step)
    for pair in _pairs(step, "inventory"):
        old, new = pair.old.get("expires"), pair.new.get("expires")
        before, after = number_in(pair.old, "batch"), number_in(pair.new, "batch")
        if not _later(old, new) or _is_serialised(pair.new) or after in numbered:
            continue
        if before and before == after:
            yield step.query(
                "CP01",
                "inventory",
                pair.new,
                "expires",
                f"batch {quoted(as_text(pair.new.get('batch')))} had the date {old} in the older return "
                f"({step.where_before('inventory', pair.old, 'expires')}), {new} in this one; a batch keeps its date",
                "read date and batch on the pieces; write down the new batch number, or the date that is marked",
            )
        elif not after:
            step.left_out[EXPIRY_WITHOUT_BATCH] += 1
    yield from _packs(step)


def _is_serialised(row: Row) -> bool:
    item = catalogue.items().get(item_of(row))
    return item is not None and item.serialised


def _numbers_of_appliances(step: Step) -> set[str]:
    """The serial numbers of the newer return: a battery that goes by its EPIRB's number is renewed and keeps it."""
    rows = step.tables["inventory"][1].rows if "inventory" in step.tables else ()
    return {number for row in rows if _is_serialised(row) and (number := number_in(row, "batch"))}


def _packs(step: Step) -> Iterator[Finding]:
    for pair in _pairs(step, "craft"):
        old, new = pair.old.get("earliest_content"), pair.new.get("earliest_content")
        if not _later(old, new):
            continue
        evidence = [
            (folded(pair.old, column), folded(pair.new, column)) for column in ("serial", "certificate", "serviced")
        ]
        if any(before != after for before, after in evidence):
            continue
        if all(after is None for _, after in evidence):
            step.left_out[CONTENT_WITHOUT_SERVICE] += 1
            continue
        yield step.query(
            "CP01",
            "craft",
            pair.new,
            "earliest_content",
            f"earliest dated content {old} in the older return "
            f"({step.where_before('craft', pair.old, 'earliest_content')}), {new} in this one; "
            "no new service, certificate or serial number",
            "read the date on the last service certificate",
        )


def _pairs(step: Step, sheet: str) -> Iterable[Pair]:
    return step.matched[sheet].pairs if sheet in step.matched else ()


# ---- quantities

Batch = tuple[str, str, str]  # item, batch number folded, and the month of its date: makers' numbers may meet


@suspicion(
    Code(
        "CP02",
        "quantity-restored",
        ("query",),
        "pieces of one batch do not become more on board",
        "a quantity is written up to what the rule asks, while the locker holds what it held",
        "four hand flares of batch H6 in the last return and six of batch H6 in this one",
        "pieces of one batch moved from the locker to a boat; two lines of a batch written as one; the same batch "
        "bought for another place; another unit or content; a quantity that was not counted before; no batch number "
        "(not compared)",
        "count them; write pieces of a new supply on a line with their own batch number",
    )
)
def quantity_restored(step: Step) -> Iterator[Finding]:
    """Yield a query for each place where a batch grew, if the batch grew on the whole ship as well."""
    if not step.keeps("inventory", "quantity"):
        return
    old, new = (_batches(table.rows) for table in step.tables["inventory"])
    for batch in sorted(old.keys() & new.keys()):
        if _total(old[batch]) is None or _total(new[batch]) is None or _measures(old[batch]) != _measures(new[batch]):
            step.left_out[QUANTITY_UNCLEAR] += 1
        elif (_total(new[batch]) or 0) > (_total(old[batch]) or 0):
            yield from _grown(step, old[batch], new[batch])
    _count_without_batch(step)


def _batches(rows: Iterable[Row]) -> dict[Batch, list[Row]]:
    """The lines of each batch of pieces; a serial-numbered appliance is one piece, whatever its line says."""
    found: dict[Batch, list[Row]] = defaultdict(list)
    for row in rows:
        item = catalogue.items().get(item_of(row))
        number = number_in(row, "batch")
        if number and item is not None and not item.serialised:
            expires = row.get("expires")
            found[item.name, number, f"{expires:%Y-%m}" if expires else ""].append(row)
    return found


def _total(rows: Iterable[Row]) -> float | None:
    """All pieces of a batch, in whatever condition and wherever; None where one line's quantity is not known."""
    total = 0.0
    for row in rows:
        quantity = row.get("quantity")
        if quantity is None:
            return None
        total += quantity
    return total


def _measures(rows: Iterable[Row]) -> set[tuple[object, ...]]:
    """In what the pieces of a batch are counted."""
    return {tuple(folded(row, column) for column in ("unit", "content", "content_unit")) for row in rows}


def _grown(step: Step, old: list[Row], new: list[Row]) -> Iterator[Finding]:
    before: dict[str, list[Row]] = defaultdict(list)
    after: dict[str, list[Row]] = defaultdict(list)
    for row in old:
        before[str(folded(row, "place"))].append(row)
    for row in new:
        after[str(folded(row, "place"))].append(row)
    for place in before.keys() & after.keys():
        was, now = _total(before[place]) or 0, _total(after[place]) or 0
        if now > was:
            line = max(after[place], key=lambda row: float(row.get("quantity")))
            yield step.query(
                "CP02",
                "inventory",
                line,
                "quantity",
                f"batch {quoted(as_text(line.get('batch')))}: {as_text(now)} here, {as_text(was)} in the older return "
                f"({step.where_before('inventory', before[place][0], 'quantity')}), and none came from another place",
                "count them; write pieces of a new supply on a line with their own batch number",
            )


def _count_without_batch(step: Step) -> None:
    for pair in _pairs(step, "inventory"):
        item = catalogue.items().get(item_of(pair.new))
        was, now = pair.old.get("quantity"), pair.new.get("quantity")
        if item is None or not item.dated or was is None or now is None or now <= was:
            continue
        if not number_in(pair.new, "batch") and folded(pair.old, "expires") == folded(pair.new, "expires"):
            step.left_out[QUANTITY_WITHOUT_BATCH] += 1
