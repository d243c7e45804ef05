"""What the whole ship carries: lifebuoys, lifejackets, suits, flares, radios, and what is short of it (SH codes)."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.cautions import PYROTECHNIC_CAUTION
from workbook_tools.checks.context import Audit, LotRow
from workbook_tools.checks.lifebuoys import lifebuoy_numbers, lifebuoys
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.checks.ship_gear import others, radio
from workbook_tools.checks.ship_stock import Day, Holding, rule_name, subjects
from workbook_tools.checks.wearables import asks_of_boats, lifejackets, sizes, suits
from workbook_tools.core import stock
from workbook_tools.core.expiry import days_left, days_words, warning_ends
from workbook_tools.core.quantity import amount
from workbook_tools.findings import Finding, State, priority_of_due
from workbook_tools.reading import Row
from workbook_tools.rules import Rule


def holdings(audit: Audit) -> list[Holding]:
    """How every rule on the ship's stock ended, worked out once an audit."""
    return audit.once("holdings", lambda: _work_out(audit))


def _work_out(audit: Audit) -> list[Holding]:
    found = _evaluate(audit, audit.on)
    for holding in found:
        if holding.state != "not_applicable":
            for entry in holding.lots:
                entry.counted = True
    _look_ahead(audit, found)
    return found


def holdings_of_the_day(audit: Audit) -> list[Holding]:
    """How every rule on the ship's stock ends on the audit's day, without the look ahead at what lapses later."""
    return _evaluate(audit, audit.on)


def _look_ahead(audit: Audit, found: list[Holding]) -> None:
    """Find, for each rule that is met, the first day of its warning period after which it is not."""
    lots = {id(entry): entry for holding in found if holding.state == "passed" for entry in holding.lots}
    ends = sorted({day for entry in lots.values() if (day := entry.lot.expires) and audit.on <= day < date.max})
    groups = {catalogue.items()[holding.rule.item].group for holding in found}
    last = warning_ends(audit.on, max((audit.warn_days(group) for group in groups), default=0))
    for end in ends:
        if end > last:
            return
        after = {(later.rule.key, later.subject): later.state for later in _evaluate(audit, _next_day(end))}
        for holding in found:
            warning = warning_ends(audit.on, audit.warn_days(catalogue.items()[holding.rule.item].group))
            if holding.state == "passed" and holding.due is None and end <= warning:
                lapsing = any(entry.lot.expires == end for entry in holding.lots)
                if lapsing and after[(holding.rule.key, holding.subject)] == "finding":
                    holding.due = end


def _next_day(day: date) -> date:
    return date.fromordinal(day.toordinal() + 1)


def _evaluate(audit: Audit, on: date) -> list[Holding]:
    day = Day(audit, on, {})
    found: list[Holding] = []
    for entry in audit.rules_for_ship("stock"):
        state, why = entry.state, entry.why
        if state == "not_evaluated":
            # the size that decides is not recorded; the ship's type may leave the rule out all the same
            applies, fact = entry.rule.condition.holds(audit.ship_facts)
            state, why = ("not_applicable", fact) if applies is False else (state, why)
        if state:
            found.extend(Holding(entry.rule, state, why, subject) for subject in subjects(entry.rule))
        else:
            day.rules[rule_name(entry.rule)] = entry
    for evaluate in (lifebuoy_numbers, lifebuoys, lifejackets, suits, sizes, radio, others):
        found.extend(_with_doubt(day, holding) for holding in evaluate(day))
    return found


def _with_doubt(day: Day, holding: Holding) -> Holding:
    """A rule of which it is not known whether it applies can pass, but its lack is not evaluated."""
    entry = day.rules[rule_name(holding.rule)]
    if holding.state == "finding" and entry.doubt and not asks_of_boats(holding.rule):
        holding.state, holding.why = "not_evaluated", entry.doubt
    return holding


@states
def ship_level_states(audit: Audit) -> Iterator[State]:
    """How every rule on the ship's stock ended."""
    for holding in holdings(audit):
        yield State(holding.rule.key, holding.subject, holding.state, holding.why)


def _note(rule: Rule) -> str:
    return f" ({rule.note})" if rule.note else ""


def _expired(holding: Holding, on: date) -> list[LotRow]:
    return [entry for entry in holding.lots if stock.standing(entry.lot, on) == stock.EXPIRED]


def _list_lots(audit: Audit, lots: list[LotRow]) -> str:
    return ", ".join(
        f"{amount(entry.lot.quantity or 0, 'each')} {entry.lot.item} at "
        f"{audit.where('inventory', entry.row, 'expires')} ({entry.lot.expires})"
        for entry in lots
    )


def _only_expired(audit: Audit, holding: Holding) -> bool:
    """Whether the shortage is there only because lots have expired."""
    reached = stock.suffices(holding.carried.sure + holding.carried.expired, holding.asked)
    return reached and bool(_expired(holding, audit.on))


def _short(audit: Audit, code: str) -> Iterator[Holding]:
    return (holding for holding in holdings(audit) if holding.state == "finding" and holding.code == code)


def _caution(rule: Rule) -> str:
    return f" {PYROTECHNIC_CAUTION}" if catalogue.items()[rule.item].group == "pyrotechnic" else ""


@check(
    Code(
        "SH10",
        "ship-stock-short",
        ("action",),
        "lifebuoys, lifejackets, suits, bridge rockets, line-throwing gear, two-way VHF and SARTs are as many as asked",
        "what the whole ship shares is missed by everyone at once",
        "8 lifebuoys on a ship of 120 m: 10 are asked; 14 immersion suits for 12 persons and 3 at watch stations",
        "more than asked; an item of which no line stands on the Inventory (not evaluated); spare suits that serve the "
        "watch stations; lifebuoys in store, which do not raise the number of lights",
        "put the missing number on board, or correct the line if it is there",
        "SOLAS III/6, 7, 18, 22, 32; 46 CFR 199",
    )
)
def ship_stock_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every counted rule of the ship that is not met, even if nothing had expired."""
    for holding in _short(audit, "SH10"):
        if _only_expired(audit, holding):
            continue
        rule, carried = holding.rule, holding.carried
        fit = [entry for entry in holding.lots if stock.standing(entry.lot, audit.on) in (stock.SURE, stock.POSSIBLE)]
        expired = _expired(holding, audit.on)
        unfit = [entry for entry in holding.lots if stock.standing(entry.lot, audit.on) == stock.UNFIT]
        there = f"{'at most ' if carried.possible else ''}{amount(carried.at_best, rule.unit)}"
        message = f"{rule.item}: {amount(holding.asked, rule.unit)} asked, {there} there"
        message += holding.detail + _note(rule)
        if expired:
            message += f"; expired: {_list_lots(audit, expired)}"
        if unfit:
            message += "; not counted: " + ", ".join(
                f"{entry.lot.condition} at {audit.where('inventory', entry.row, 'condition')}" for entry in unfit
            )
        for entry in expired:
            entry.reported = True
        sheet, row, column = _anchor(holding, [*fit, *expired, *unfit], "quantity" if fit or not unfit else "condition")
        yield audit.finding(
            "SH10",
            "action",
            rule.priority,
            sheet,
            row,
            column,
            holding.subject,
            message,
            f"put {amount(holding.asked - carried.sure, rule.unit)} more on board, or add the line if it is there",
            rule,
            required=holding.asked,
            carried=carried.sure,
        )


def _anchor(holding: Holding, lots: list[LotRow], column: str) -> tuple[str, Row | None, str]:
    if holding.anchor:
        return holding.anchor
    return "inventory", lots[0].row if lots else None, column


@check(
    Code(
        "SH11",
        "ship-stock-expired",
        ("action",),
        "what is counted for the ship is in date; here the number would do, but part of it has expired",
        "expired rockets, lights and batteries count for nothing",
        "twelve rockets on the bridge, all marked 2026-08, on 25 November 2026",
        "the same twelve beside twelve new ones; a lot marked with the very day asked; a lifebuoy whose light has "
        "expired, as a lifebuoy",
        "replace the expired lot and take it away",
        "LSA Code 1.2.3 and the item's own paragraph",
    )
)
def ship_stock_expired(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every rule of the ship that expired lots leave unmet."""
    for holding in _short(audit, "SH10"):
        if not _only_expired(audit, holding):
            continue
        rule, expired = holding.rule, _expired(holding, audit.on)
        for entry in expired:
            entry.reported = True
        yield audit.finding(
            "SH11",
            "action",
            rule.priority,
            "inventory",
            expired[0].row,
            "expires",
            holding.subject,
            f"{rule.item}: {amount(holding.asked, rule.unit)} asked, {amount(holding.carried.sure, rule.unit)} in "
            f"date; expired: {_list_lots(audit, expired)}{_note(rule)}",
            f"replace the expired lot.{_caution(rule)}",
            rule,
            required=holding.asked,
            carried=holding.carried.sure,
        )


@check(
    Code(
        "SH12",
        "ship-stock-lapses",
        ("due",),
        "nothing of the ship's stock lapses within its warning days without enough left: pyrotechnics 90 days, others "
        "30 (--warn sets one figure for all)",
        "stores are ordered weeks before a port that has them",
        "the only twelve bridge rockets lapse in 70 days",
        "a lot that lapses in 91 days; one that lapses while enough others stay in date (a note, EX04)",
        "order now, for the last port before the date",
        "LSA Code 1.2.3 and the item's own paragraph; warning days are our choice",
    )
)
def ship_stock_lapses(audit: Audit) -> Iterator[Finding]:
    """Yield a due finding for every rule of the ship that will be unmet within the warning period."""
    for holding in holdings(audit):
        if holding.state != "passed" or holding.due is None:
            continue
        rule, due = holding.rule, holding.due
        lapsing = [
            entry
            for entry in holding.lots
            if entry.lot.condition in stock.FIT_CONDITIONS and audit.on <= (entry.lot.expires or date.max) <= due
        ]
        for entry in lapsing:
            entry.reported = True
        left = days_left(due, audit.on)
        last = max(lapsing, key=lambda entry: entry.lot.expires or date.min)
        yield audit.finding(
            "SH12",
            "due",
            priority_of_due(left),
            "inventory",
            last.row,
            "expires",
            holding.subject,
            f"{last.lot.item}: lapses on {due}, in {days_words(left)}; then fewer than the "
            f"{amount(holding.asked, rule.unit)} {rule.item} asked are left",
            f"order so that it is replaced before {due}.{_caution(rule)}",
            rule,
            required=holding.asked,
            carried=holding.carried.sure,
        )


@check(
    Code(
        "SH13",
        "ship-gear-under-measure",
        ("action",),
        "lifebuoy lines are long enough, lifebuoys that release a smoke signal heavy enough, the auxiliary line of a "
        "US ship long enough",
        "a line that does not reach the water saves nobody",
        "a lifebuoy line of 25 m: 30 m are asked in any case",
        "a line of 30 m where the craft lie 12 m high; a short spare beside two that are long enough; a length that is "
        "not recorded",
        "renew it, or correct the figure",
        "SOLAS III/7.1.2; LSA Code 2.1.1; 46 CFR 199.170",
    )
)
def ship_gear_under_measure(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every line or lifebuoy that is recorded below its measure."""
    for holding in _short(audit, "SH13"):
        rule = holding.rule
        yield audit.finding(
            "SH13",
            "action",
            rule.priority,
            "inventory",
            holding.lots[0].row,
            "content",
            holding.subject,
            f"{holding.lots[0].lot.item}: {amount(holding.asked, rule.unit)} asked at least, "
            f"{amount(holding.carried.sure, rule.unit)} recorded{_note(rule)}",
            "renew it, or correct the figure",
            rule,
            required=holding.asked,
            carried=holding.carried.sure,
        )


@check(
    Code(
        "SH14",
        "nothing-on-one-side",
        ("action",),
        "a lifebuoy with a line, and a SART, is there on each side",
        "who falls to starboard is not reached by a line to port",
        "both lifebuoys with a line recorded to port",
        "a lot whose side is not recorded; a SART in each craft; a free-fall ship",
        "move one to the other side, or correct the side",
        "SOLAS III/7.1.2, III/6.2.2; IV/7",
    )
)
def nothing_on_one_side(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every side without the thing that is asked on each."""
    for holding in _short(audit, "SH14"):
        rule = holding.rule
        yield audit.finding(
            "SH14",
            "action",
            rule.priority,
            "inventory",
            holding.lots[0].row,
            "side",
            holding.subject,
            f"{rule.item}, {holding.subject}: {amount(holding.asked, rule.unit)} asked, "
            f"{amount(holding.carried.sure, rule.unit)} recorded there{_note(rule)}",
            f"move one to the {holding.subject}, or correct the side",
            rule,
            required=holding.asked,
            carried=holding.carried.sure,
        )


@check(
    Code(
        "SH15",
        "no-lifebuoy-at-stern",
        ("action",),
        "a lifebuoy hangs near the stern",
        "who falls overboard passes the stern last",
        "eight lifebuoys, all on the bridge wings, at the gangway and on the forecastle",
        "one with side 'aft', or on the poop; lifebuoys on 'Main deck', which may be anywhere (not evaluated)",
        "place one near the stern, or correct the place",
        "SOLAS III/7.1.1",
    )
)
def no_lifebuoy_at_stern(audit: Audit) -> Iterator[Finding]:
    """Yield a finding when every lifebuoy is recorded in a place away from the stern."""
    for holding in _short(audit, "SH15"):
        yield audit.finding(
            "SH15",
            "action",
            holding.rule.priority,
            "inventory",
            holding.lots[0].row,
            "place",
            holding.subject,
            f"lifebuoys near the stern: none recorded, {amount(holding.asked, 'each')} asked; all are recorded "
            "elsewhere",
            "place one near the stern, or correct the place",
            holding.rule,
            required=holding.asked,
            carried=0,
        )


@check(
    Code(
        "SH16",
        "wearer-size-short",
        ("action",),
        "there is a suit and a lifejacket for each person by size, where sizes are recorded",
        "a suit that does not close keeps nobody warm",
        "three persons of size XL, one suit of XL and none that is universal",
        "universal suits that make up for it; sizes that are not recorded, or in words that cannot be compared",
        "get suits of the size, or correct the size",
        "SOLAS III/7.2.1, III/32.3; the comparison by size is our own",
    )
)
def wearer_size_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every kind of gear of which a size is short by record."""
    for holding in _short(audit, "SH16"):
        rule = holding.rule
        sheet, row, column = _anchor(holding, holding.lots, holding.column)
        yield audit.finding(
            "SH16",
            "action",
            rule.priority,
            sheet,
            row,
            column,
            holding.subject,
            f"{rule.item}, {holding.detail}, and too few that fit anyone",
            "get pieces of that size or universal ones, or correct the sizes",
            rule,
            required=holding.asked,
            carried=holding.carried.sure,
        )
