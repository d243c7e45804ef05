"""What will be lacking, from the audit itself with the day moving forward: a lot that lapses counts only where a rule
is broken by it.

The same functions that judge the day asked judge each later day on which something changes, so that spares, lots that
stand in for others and conditions count as they do in the audit. What is not clear counts as there: it makes no lack.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from workbook_tools import catalogue
from workbook_tools.checks import fire, ship_level
from workbook_tools.checks.context import Audit, Craft, LotRow
from workbook_tools.checks.equipment import Verdict, verdict_of
from workbook_tools.checks.exemptions import exemptions
from workbook_tools.checks.ship_stock import Holding
from workbook_tools.columns.suppliers import supplier_of
from workbook_tools.core import stock
from workbook_tools.core.stock import Lot
from workbook_tools.core.stretches import Stretch, lacking
from workbook_tools.rules import Rule

LOT_SOURCE = "LSA Code 1.2.3"
LOT_RULE = "expiry.lapsing-lot"
_COUNTED_OF_SHIP = "SH10"  # the code of what is counted; sides, lengths and sizes are no matter of ordering more
_COUNTED_OF_FIRE = ("FF04", "FF05")
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Piece:
    """What one piece of an order is: its unit and content as on the lot that it follows, and what that comes to.

    each: one piece in the unit of the rule. recorded: whether unit and content stand in the book.
    """

    unit: str
    content: float | None
    content_unit: str | None
    each: float
    recorded: bool


@dataclass(frozen=True, slots=True)
class Need:
    """What one rule will lack for one craft or the ship: how much, from when until when, and what would mend it.

    rule, paragraph: the rule's key and where it stands. asked, unit: what it asks. lots: the lots that lapse, worst
    first. counted: False where no rule counts the item and its lots are replaced one for one.
    """

    subject: str
    place: str
    item: str
    rule: str
    paragraph: str
    priority: str
    waivable: str
    asked: float
    unit: str
    piece: Piece
    stretches: tuple[Stretch, ...]
    lots: tuple[LotRow, ...]
    supplier: str
    sheet: str
    cell: str
    counted: bool = True
    agent: str = ""  # type and size of an extinguisher charge


def on_day(audit: Audit, day: date) -> Audit:
    """The same book as the audit would see it on another day."""
    shared = {key: audit.shared[key] for key in ("lots_by_item",) if key in audit.shared}
    return replace(audit, options=replace(audit.options, on=day), shared=shared, states=[])


def needs(audit: Audit, until: date) -> list[Need]:
    """Everything that is or will be lacking from the day asked until a last day."""
    craft = [need for entry in audit.crafts if entry.purpose != "extra" for need in _of_craft(audit, entry, until)]
    return [*craft, *_of_ship(audit, until), *_of_fire(audit, until), *_uncounted(audit, until)]


# ---- craft -------------------------------------------------------------------------------------------------------


def _of_craft(audit: Audit, craft: Craft, until: date) -> Iterator[Need]:
    found: list[Need] = []
    subjects = craft.subjects()
    for rows in audit.rule_set.by_key().values():
        if rows[0].subject in subjects and rows[0].evidence == "inventory" and craft.lots:
            need = _of_rule(audit, craft, rows, until)
            if need is not None:
                found.append(need)
    # a boat that is both lifeboat and rescue boat carries the larger of the two quantities (LSA Code 5.1.1.1)
    for need in found:
        larger = [other for other in found if other.item == need.item and other.unit == need.unit]
        if need is max(larger, key=lambda other: other.asked):
            yield need


def _of_rule(audit: Audit, craft: Craft, rows: list[Rule], until: date) -> Need | None:
    names = {rows[0].item, *(entry.by_item for entry in audit.rule_set.substitutes.get(rows[0].key, ()))}
    lots = [entry for entry in craft.lots if any(stock.counts_for(entry.lot, name) for name in names if name)]
    verdicts: dict[date, Verdict] = {}

    def lack(day: date) -> float:
        verdict = verdicts[day] = verdict_of(on_day(audit, day), craft, rows)
        if verdict.state != "finding" or _exempt(audit, verdict.rule.key, craft.name, day):
            return 0.0
        return verdict.asked - verdict.carried.sure

    changes = _changes(lots, rows, _exempt_ends(audit, rows[0].key))
    stretches = lacking(audit.on, until, changes, lack)
    if not stretches:
        return None
    verdict = verdicts[stretches[0].first]
    rule = verdict.rule
    own = [entry for entry in lots if stock.counts_for(entry.lot, rule.item)]
    lapsing = _lapsing(own, stretches) or _lapsing(lots, stretches)
    pattern = _pattern(own, lapsing, rule, audit.lots)
    anchor = next(iter(lapsing or lots), None)
    return Need(
        craft.name,
        craft.name,
        pattern.item if pattern else rule.item,
        rule.key,
        rule.reference,
        rule.priority,
        rule.waivable,
        max(verdicts[stretch.first].asked for stretch in stretches),
        rule.unit,
        _piece(pattern, rule.item, rule.unit),
        tuple(stretches),
        tuple(lapsing),
        supplier_of(pattern.item if pattern else rule.item),
        audit.book.tables["inventory" if anchor else "craft"].name,
        audit.book.tables["inventory"].cell(anchor.row, "expires" if anchor in lapsing else "quantity")
        if anchor
        else audit.book.tables["craft"].cell(craft.row, "name"),
    )


def _changes(lots: Iterable[LotRow], rows: Sequence[Rule], more: Iterable[date] = ()) -> set[date]:
    """The days on which what is carried, or what is asked, may become another."""
    days = {entry.lot.expires + _DAY for entry in lots if entry.lot.expires and entry.lot.expires < date.max}
    days |= {row.in_force_from for row in rows}
    days |= {row.in_force_until + _DAY for row in rows if row.in_force_until}
    return days | set(more)


def _lapsing(lots: Iterable[LotRow], stretches: Sequence[Stretch]) -> list[LotRow]:
    """The fit lots whose dates make the stretches, the earliest first."""
    last = max(stretch.first for stretch in stretches)
    found = [
        (entry.lot.expires, entry)
        for entry in lots
        if entry.lot.condition in stock.FIT_CONDITIONS and entry.lot.expires and entry.lot.expires < last
    ]
    return [entry for _, entry in sorted(found, key=lambda pair: (pair[0], pair[1].row.number))]


def _pattern(own: Sequence[LotRow], lapsing: Sequence[LotRow], rule: Rule, others: Iterable[LotRow]) -> Lot | None:
    """The lot that an order follows: the newest that lapses, else one of the rule's item here, else one elsewhere."""
    here = [entry for entry in lapsing if entry in own]
    elsewhere = [entry for entry in others if entry.lot.item == rule.item]
    for group in (here[::-1], own, elsewhere):
        for entry in group:
            if (stock.measure(replace(entry.lot, quantity=1.0), rule.unit) or 0) > 0:
                return entry.lot
    return None


def _piece(pattern: Lot | None, item: str, unit: str) -> Piece:
    """One piece like a lot; without a pattern one unit of the rule."""
    if pattern is None:
        return Piece(unit, None, None, 1.0, False)
    own = pattern.unit or catalogue.items()[pattern.item].default_unit
    one = replace(pattern, quantity=1.0)
    each = stock.measure(one, unit) or 1.0
    recorded = pattern.content is not None and not stock.open_ended(one, unit)
    plain = own in ("each", "set", "pair") or own == unit
    return Piece(own, pattern.content, pattern.content_unit, each, recorded or plain)


# ---- exemptions --------------------------------------------------------------------------------------------------


def _exempt(audit: Audit, rule: str, subject: str, day: date) -> bool:
    """Whether an exemption on record covers a rule on a day."""
    return any(
        rule in entry.rules
        and not entry.fault_for(rule)
        and (entry.subject is None or catalogue.normalise(entry.subject) == catalogue.normalise(subject))
        and (entry.until or date.min) >= day
        for entry in exemptions(audit)
    )


def _exempt_ends(audit: Audit, rule: str) -> list[date]:
    return [entry.until + _DAY for entry in exemptions(audit) if rule in entry.rules and entry.until]


# ---- the ship's stock --------------------------------------------------------------------------------------------


def _of_ship(audit: Audit, until: date) -> Iterator[Need]:
    first = ship_level.holdings(audit)
    lots = {id(entry): entry for holding in first for entry in holding.lots}
    days = {audit.on, *_changes(lots.values(), [holding.rule for holding in first])}
    days |= {day for entry in exemptions(audit) if entry.until for day in (entry.until + _DAY,)}
    ended: dict[tuple[str, str], dict[date, Holding]] = {}
    order = sorted(day for day in days if audit.on <= day <= until)
    for day in order:
        for holding in ship_level.holdings_of_the_day(on_day(audit, day)):
            ended.setdefault((holding.rule.key, holding.subject), {})[day] = holding
    for (rule, subject), by_day in ended.items():

        def lack(day: date, by_day: dict[date, Holding] = by_day, rule: str = rule, subject: str = subject) -> float:
            holding = by_day.get(day)
            if holding is None or holding.state != "finding" or holding.code != _COUNTED_OF_SHIP:
                return 0.0
            return 0.0 if _exempt(audit, rule, subject, day) else holding.asked - holding.carried.sure

        stretches = lacking(audit.on, until, order, lack)
        if stretches:
            yield _ship_need(audit, by_day[stretches[0].first], stretches)


def _ship_need(audit: Audit, holding: Holding, stretches: list[Stretch]) -> Need:
    rule = holding.rule
    own = [entry for entry in holding.lots if stock.counts_for(entry.lot, rule.item)]
    lapsing = _lapsing(own, stretches) or _lapsing(holding.lots, stretches)
    apart = lapsing[-1].lot if lapsing and lapsing[-1] not in own else None  # the light that makes a lifebuoy lighted
    pattern = apart or _pattern(own, lapsing, rule, ())
    piece = Piece("each", None, None, 1.0, True) if apart else _piece(pattern, rule.item, rule.unit)
    item = pattern.item if pattern else rule.item
    anchor = next(iter([*lapsing, *holding.lots]), None)
    return Need(
        holding.subject,
        lapsing[-1].place if lapsing else holding.subject,
        item,
        rule.key,
        rule.reference,
        rule.priority,
        rule.waivable,
        holding.asked,
        rule.unit,
        piece,
        tuple(stretches),
        tuple(lapsing),
        supplier_of(item),
        audit.book.tables["inventory"].name,
        audit.book.tables["inventory"].cell(anchor.row if anchor else None, "expires" if lapsing else "quantity"),
    )


# ---- fire appliances ---------------------------------------------------------------------------------------------


def _of_fire(audit: Audit, until: date) -> Iterator[Need]:
    """What the Fire sheet holds too few of: nothing of it has a date, so the lack is there from the day asked."""
    for verdict in fire.verdicts(audit):
        if verdict.state != "finding" or verdict.code not in _COUNTED_OF_FIRE or verdict.asked <= verdict.carried:
            continue
        if _exempt(audit, verdict.rule.key, verdict.subject, audit.on):
            continue
        rule, table = verdict.rule, audit.book.tables["fire"]
        yield Need(
            verdict.subject,
            "ship",
            rule.item,
            rule.key,
            rule.reference,
            rule.priority,
            rule.waivable,
            verdict.asked,
            rule.unit,
            Piece(rule.unit, None, None, 1.0, True),
            (Stretch(audit.on, until, verdict.asked - verdict.carried),),
            (),
            "extinguisher_service",
            table.name,
            table.cell(verdict.row, verdict.column),
            agent=verdict.subject if verdict.code == "FF04" else "",
        )


# ---- what no rule counts -----------------------------------------------------------------------------------------


def _uncounted(audit: Audit, until: date) -> Iterator[Need]:
    """Lots of items that no rule of the set counts anywhere (batteries of an EPIRB): replaced one for one."""
    named = {rule.item for rule in audit.rule_set.rules if rule.evidence in ("inventory", "stock", "maker")}
    named |= {entry.by_item for group in audit.rule_set.substitutes.values() for entry in group}
    groups: dict[tuple[str, str], list[LotRow]] = {}
    for entry in audit.lots:
        lot = entry.lot
        counts = {lot.item, *catalogue.items()[lot.item].counts_as} & named or entry.counted
        fit = lot.condition in stock.FIT_CONDITIONS and lot.certain and lot.quantity
        if fit and not counts and lot.expires is not None and lot.expires < until:
            groups.setdefault((entry.place, lot.item), []).append(entry)
    for (place, item), lots in groups.items():
        yield _lot_need(audit, place, item, lots, until)


def _lot_need(audit: Audit, place: str, item: str, lots: list[LotRow], until: date) -> Need:
    lots = sorted(lots, key=lambda entry: (entry.lot.expires or date.max, entry.row.number))
    held = sum(entry.lot.quantity or 0.0 for entry in lots)
    unit = lots[-1].lot.unit or catalogue.items()[item].default_unit

    def lack(day: date) -> float:
        return sum(entry.lot.quantity or 0.0 for entry in lots if (entry.lot.expires or day) < day)

    table = audit.book.tables["inventory"]
    return Need(
        place,
        place,
        item,
        LOT_RULE,
        LOT_SOURCE,
        "at next port",
        "",
        held,
        unit,
        Piece(unit, lots[-1].lot.content, lots[-1].lot.content_unit, 1.0, True),
        tuple(lacking(audit.on, until, _changes(lots, ()), lack)),
        tuple(lots),
        supplier_of(item),
        table.name,
        table.cell(lots[0].row, "expires"),
        counted=False,
    )
