"""The ship's stock on a day: how a rule on it ended, and what counting, sides and measures say (no codes here)."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.alike import ShipRule
from workbook_tools.checks.context import SHIP, Audit, Craft, LotRow
from workbook_tools.core import ship_level as core
from workbook_tools.core import stock
from workbook_tools.core.quantity import amount, required
from workbook_tools.core.stock import Carried
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

SIDES = ("port", "starboard")

# Words of a place that tell where on the ship it is.
_SIDE_WORDS = {"port": "port", "ps": "port", "starboard": "starboard", "stbd": "starboard", "sb": "starboard"}


@dataclass(slots=True)
class Holding:
    """How one rule ended for the ship or one of its sides, with what the codes need to say about it."""

    rule: Rule
    state: str
    why: str = ""
    subject: str = SHIP
    asked: float = 0.0
    carried: Carried = field(default_factory=Carried)
    lots: list[LotRow] = field(default_factory=list)
    code: str = "SH10"
    column: str = "quantity"
    detail: str = ""
    anchor: tuple[str, Row, str] | None = None  # sheet, row and column, where no lot is at fault
    due: date | None = None  # the day after which the rule is no longer met, within the warning period


@dataclass(slots=True)
class Day:
    """One evaluation: the ship's stock as it stands on a day."""

    audit: Audit
    on: date
    rules: dict[str, ShipRule]  # by name, those that are to be evaluated
    asked: dict[str, float] = field(default_factory=dict)  # what counting rules ask, by item

    def lots(self, *items: str) -> list[LotRow]:
        """The lots that count as one of the items."""
        index = _lots_by_item(self.audit)
        if len(items) == 1:
            return list(index.get(items[0], ()))
        found = {id(entry): entry for item in items for entry in index.get(item, ())}
        return list(found.values())

    def count(self, lots: Iterable[LotRow], item: str, unit: str = "each") -> Carried:
        """Add up lots that count as an item."""
        return stock.carried((entry.lot for entry in lots), item, unit, self.on)


def _lots_by_item(audit: Audit) -> dict[str, list[LotRow]]:
    """The lots that count as each item, gathered once an audit."""
    return audit.once("lots_by_item", lambda: _index_lots(audit))


def _index_lots(audit: Audit) -> dict[str, list[LotRow]]:
    index: dict[str, list[LotRow]] = {}
    items = catalogue.items()
    for entry in (*map(_placed(audit), audit.lots), *_without_place(audit)):
        item = items[entry.lot.item]
        for name in (item.name, *item.counts_as):
            index.setdefault(name, []).append(entry)
    return index


def _placed(audit: Audit) -> Callable[[LotRow], LotRow]:
    """A lot in a place that nobody knows is possible evidence only: it may lie anywhere, ashore as well."""
    crafts = {craft.name for craft in audit.crafts}

    def placed(entry: LotRow) -> LotRow:
        if entry.lot.certain and entry.place not in crafts and not catalogue.is_place(entry.place):
            entry.lot = replace(entry.lot, certain=False)
            entry.doubt = f"{audit.where('inventory', entry.row, 'place')} names {entry.place!r}"
        return entry

    return placed


def _without_place(audit: Audit) -> Iterator[LotRow]:
    """Lines whose place is empty or cannot be read: possible evidence of what they name."""
    for row in audit.book.rows("inventory"):
        if row.values.get("place") is not None:
            continue
        name = row.get("item")
        item = catalogue.item_names().find(name) if name is not None else None
        if item is None:
            continue
        measured = not {"quantity", "unit", "content", "content_unit"} & row.unclear.keys()
        lot = stock.Lot(
            item,
            row.get("quantity") if measured else None,
            row.get("unit"),
            row.get("content"),
            row.get("content_unit"),
            row.get("expires"),
            row.get("condition") or "in use",
            certain=False,
        )
        shown = row.unclear.get("place")
        said = f"shows {shown!r}" if shown else "is empty"
        yield LotRow(row, lot, "", f"{audit.where('inventory', row, 'place')} {said}")


def recorded(lots: Iterable[LotRow]) -> bool:
    """Whether any line says that a thing is kept somewhere: lines without a place alone begin no count."""
    return any(entry.place for entry in lots)


def rule_name(rule: Rule) -> str:
    """A rule's name, the same in every rule set: us-suits.personal is suits.personal."""
    return rule.key.removeprefix("us-")


def subjects(rule: Rule) -> tuple[str, ...]:
    """What the states of a rule are about: the two sides for what is asked on each, otherwise the ship."""
    return tuple(f"{side} side" for side in SIDES) if rule_name(rule).endswith("-each-side") else (SHIP,)


def words_of(text: str) -> set[str]:
    """The words of a place, in small letters."""
    return set(re.sub(r"[^0-9a-z]+", " ", text.casefold()).split())


def doubts(lots: Iterable[LotRow]) -> str:
    """The cells that stand in the way of a clear count, each once."""
    return "; ".join(dict.fromkeys(entry.doubt for entry in lots if entry.doubt))


def added(*parts: Carried) -> Carried:
    """What several counts come to together."""
    total = Carried()
    for part in parts:
        total.sure += part.sure
        total.possible += part.possible
        total.expired += part.expired
        total.unmeasured += part.unmeasured
    return total


def carried_between(sure: float, best: float, expired: float) -> Carried:
    """A count from its least and its most, which may be without bound."""
    if best == float("inf"):
        return Carried(sure, 0.0, expired, unmeasured=1)
    return Carried(sure, best - sure, expired)


def judged(rule: Rule, carried: Carried, asked: float, lots: list[LotRow], nothing: str = "", why: str = "") -> Holding:
    """A counting rule's end. nothing: why it is not evaluated where no line stands; why: where the record is open."""
    holding = Holding(rule, "passed", "counted", asked=asked, carried=carried, lots=lots)
    if not recorded(lots):
        holding.state, holding.why = "not_evaluated", doubts(lots) or nothing or f"no {rule.item} is recorded"
    elif stock.suffices(carried.sure, asked):
        pass
    elif stock.suffices(carried.at_best, asked):
        holding.state = "not_evaluated"
        holding.why = doubts(lots) or why or "how many there are is not clear"
    else:
        holding.state, holding.why = "finding", ""
    return holding


def side_of(entry: LotRow) -> str | None:
    """The side a lot lies on: its own column, else the words of its place; None when neither tells."""
    if "side" in entry.row.unclear:
        return None
    side: str | None = entry.row.get("side")
    named = {_SIDE_WORDS[word] for word in words_of(entry.place) if word in _SIDE_WORDS}
    return side or (named.pop() if len(named) == 1 else None)


def each_side(day: Day, rule: Rule, lots: list[LotRow], nothing: str = "") -> Iterator[Holding]:
    for side in SIDES:
        own = [entry for entry in lots if side_of(entry) == side]
        open_ = [entry for entry in lots if side_of(entry) is None]
        items = {entry.lot.item for entry in lots}
        here = added(*(day.count([lot for lot in own if lot.lot.item == item], item) for item in items))
        anywhere = added(*(day.count([lot for lot in open_ if lot.lot.item == item], item) for item in items))
        carried = carried_between(here.sure, here.at_best + anywhere.at_best, here.expired)
        holding = judged(rule, carried, rule.fixed, lots, nothing, "the side is not recorded")
        holding.subject, holding.code, holding.column = f"{side} side", "SH14", "side"
        yield holding


def measured(
    day: Day, rule: Rule, lots: list[LotRow], least: float, most: float | None, needed: float, why: str = ""
) -> Holding:
    """As many pieces as needed must each measure as much. least: asked in any case; most: asked at the most."""
    fit = [entry for entry in lots if stock.standing(entry.lot, day.on) in (stock.SURE, stock.POSSIBLE)]
    pieces: list[tuple[float | None, float, LotRow]] = []
    for entry in fit:
        content, unit = entry.lot.content, entry.lot.content_unit
        size = catalogue.convert(content, unit, rule.unit) if content is not None and unit else None
        pieces.append((size, entry.lot.quantity or 0.0, entry))
    enough = sum(count for size, count, _ in pieces if size is not None and most is not None and size >= most)
    perhaps = sum(count for size, count, _ in pieces if size is None or size >= least)
    small = [(size, entry) for size, _, entry in pieces if size is not None and size < least]
    holding = Holding(rule, "passed", "recorded", asked=least, lots=fit, code="SH13", column="content")
    if fit and enough >= needed:
        return holding
    if small and perhaps < needed and all(entry.lot.certain for entry in fit):
        size, entry = min(small, key=lambda pair: pair[0])
        holding.state, holding.why, holding.lots = "finding", "", [entry]
        holding.carried = Carried(size)
        return holding
    measure = "mass" if rule.unit == "kg" else "length"
    unknown = any(size is None for size, _, _ in pieces)
    holding.state = "not_evaluated"
    holding.why = f"{measure} is not recorded" if unknown else why or "too few of them are recorded"
    if not fit:
        holding.why = f"no {rule.item} is recorded"
    return holding


@dataclass(frozen=True, slots=True)
class Demand:
    """How many pieces are asked, at the least and at the most; none: why none are; unknown: why it is not known."""

    least: float = 0.0
    most: float = 0.0
    none: str = ""
    unknown: str = ""


def of_persons(rule: Rule, persons: int | None, words: str) -> Demand:
    """What a rule asks of so many persons; words name the figure where it is missing or nil."""
    if persons is None:
        return Demand(unknown=f"{words} is not recorded")
    if persons == 0:
        return Demand(none=f"{words}: 0")
    asked = required(rule, persons) or 0.0
    return Demand(asked, asked)


def _remote_rafts(audit: Audit) -> list[Craft]:
    return [craft for craft in audit.crafts if craft.purpose == "remote"]


def of_remote_rafts(audit: Audit, rule: Rule) -> Demand:
    """Asked at each station of a remote raft: several rafts may share one, which is not recorded."""
    rafts = len(_remote_rafts(audit))
    if not rafts:
        return Demand(none="no remote raft is recorded")
    return Demand(rule.fixed, rule.fixed * rafts)


def served(
    rule: Rule, demand: Demand, sure: float, best: float, total: Carried, lots: list[LotRow], children: bool = False
) -> Holding:
    carried = carried_between(sure, max(sure, best), total.expired)
    if demand.none:
        return Holding(rule, "not_applicable", demand.none)
    holding = Holding(rule, "passed", "counted", asked=demand.least, carried=carried, lots=lots)
    if demand.unknown:
        holding.state, holding.why = "not_evaluated", demand.unknown
        return holding
    holding.state = core.judge(sure, best, demand.least, demand.most)
    if holding.state == "not_evaluated":
        apart = "whether children's lifejackets count here is not clear" if children else ""
        spread = "how many are asked depends on what is not recorded (rafts that share a station, type of boat)"
        holding.why = doubts(lots) or apart or spread
    elif holding.state == "finding":
        holding.why = ""
        if sure < total.sure:
            others = amount(total.sure - sure, rule.unit)
            holding.detail = f"; {amount(total.sure, rule.unit)} on board in all, {others} of them needed elsewhere"
    return holding
