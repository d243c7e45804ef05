"""Why days stay uncovered, and what is open to the master meanwhile. No waiver is ever made up: only the Administration
can say that a ship may sail with a lack."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, LotRow
from workbook_tools.columns.suppliers import SUPPLIER_WORDS
from workbook_tools.core import stock
from workbook_tools.core.quantity import amount
from workbook_tools.core.stretches import Stretch
from workbook_tools.planning.calls import Call, Schedule
from workbook_tools.planning.order_needs import Need


def why_uncovered(calls: Schedule, supplier: str, stretch: Stretch) -> str:
    """Which calls there are before a stretch of days, and why none of them will do."""
    words = SUPPLIER_WORDS[supplier]
    in_time = [call for call in calls.calls if call.ready <= stretch.first]
    if not calls.kept:
        return "the book has no Ports sheet: no call is known"
    if any(supplier in call.offers for call in in_time):
        return f"what comes on board at the calls before has lapsed again by {stretch.first}"
    if in_time:
        last = in_time[-1]
        more = f" and {len(in_time) - 1} earlier" if len(in_time) > 1 else ""
        return f"{words}: not recorded at {last.words()}{more}"
    later = next((call for call in calls.calls if supplier in call.offers), None)
    if later is not None:
        return f"no call before; the first with {words} is {later.words()}"
    return f"no planned call with {words} is on record"


def interim_options(audit: Audit, need: Need, stretch: Stretch, calls: Schedule) -> Iterator[str]:
    """What the master can do or ask: what lies elsewhere on board, who may be asked, who must be told."""
    yield from _spares(audit, need, stretch)
    asked = [call for call in calls.calls if call.arrival <= stretch.first and need.supplier not in call.offers]
    yield from (_ask_at(call, need) for call in asked[-2:])
    yield (
        "have it sent to an earlier call, or call where it can be had: for the master and the company; a new line of "
        "the Ports sheet shows what it would change"
    )
    if not need.counted:
        return
    told = "tell the company, class and the Administration before the day"
    if need.waivable.startswith("never"):
        yield f"{told}: the text leaves no waiver ({need.waivable.removeprefix('never: ')})"
    elif need.waivable and need.waivable != "no":
        yield (
            f"{told}: a waiver is for the Administration alone to give ({need.waivable}), and none that holds then is "
            "on record"
        )
    else:
        yield f"{told}: only the Administration can say whether the ship may sail with the lack"
    if need.priority == "before sailing":
        yield "as the audit grades it, the lack is one to be put right before sailing"


def _ask_at(call: Call, need: Need) -> str:
    return (
        f"ask the agent at {call.words()} whether {need.item} can be had: the Ports sheet does not record it there "
        f"({SUPPLIER_WORDS[need.supplier]}; {call.cell})"
    )


def _spares(audit: Audit, need: Need, stretch: Stretch) -> Iterator[str]:
    """Lots in store that no rule counts where they lie, and that hold through the days or a part of them."""
    crafts = {craft.name for craft in audit.crafts if craft.purpose != "extra"}
    if need.place not in crafts:
        return  # for the ship it counts already, wherever it lies
    found: list[tuple[date, LotRow]] = []
    for entry in audit.lots:
        lot = entry.lot
        here = entry.place in crafts or entry.counted or not lot.certain
        if here or not stock.counts_for(lot, need.item) or lot.condition not in stock.FIT_CONDITIONS:
            continue
        if not catalogue.items()[lot.item].dated or (lot.expires is not None and lot.expires >= stretch.first):
            found.append((lot.expires or date.max, entry))
    for until, entry in sorted(found, key=lambda pair: (pair[0], pair[1].row.number), reverse=True):
        lasts = "" if until >= stretch.last else f", which covers it until {until}"
        quantity = amount(entry.lot.quantity or 0.0, entry.lot.unit or "each")
        where = audit.where("inventory", entry.row, "place")
        yield f"move {quantity} {entry.lot.item} from {entry.place} ({where}) to {need.place}{lasts}"
