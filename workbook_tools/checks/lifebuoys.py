"""Lifebuoys: how many, with which lights, smoke signals and lines, and where (SOLAS III/7.1, 22.1, 32.1)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from workbook_tools.checks.context import LotRow
from workbook_tools.checks.ship_stock import (
    Day,
    Holding,
    carried_between,
    doubts,
    each_side,
    judged,
    measured,
    recorded,
    rule_name,
    words_of,
)
from workbook_tools.core import ship_level as core
from workbook_tools.core import stock
from workbook_tools.core.quantity import required
from workbook_tools.rules import Rule

_STERN_WORDS = frozenset({"stern", "aft", "poop", "quarter", "taffrail"})

_AWAY_FROM_STERN = frozenset(
    {"bridge", "wheelhouse", "monkey", "forecastle", "forward", "fore", "fwd", "bow", "midship", "midships"}
    | {"amidships", "gangway"}
)

# The dated unit that makes a lifebuoy lighted, or gives it light and smoke.
_UNIT_OF = {"lifebuoy with light": "lifebuoy light", "lifebuoy with light and smoke": "lifebuoy light and smoke"}

_APART = "whether lights recorded apart belong to other lifebuoys is not clear"


def lifebuoy_numbers(day: Day) -> Iterator[Holding]:
    """Lifebuoys by the ship's length. A date on a lifebuoy is that of its light: the ring counts all the same."""
    for name in ("lifebuoys.number-cargo", "lifebuoys.number-passenger"):
        if name not in day.rules:
            continue
        entry = day.rules[name]
        asked = entry.rule.fixed
        if not entry.doubt:
            day.asked["lifebuoy"] = asked
        lots = day.lots("lifebuoy")
        rings = [replace(lot.lot, expires=None) for lot in lots]
        yield judged(entry.rule, stock.carried(rings, "lifebuoy", "each", day.on), asked, lots)


def lifebuoys(day: Day) -> Iterator[Holding]:
    """Lights, smoke signals, lines and places of the lifebuoys."""
    rules = {name: entry.rule for name, entry in day.rules.items() if name.startswith("lifebuoys.")}
    half, short = rules.get("lifebuoys.with-light"), rules.get("lifebuoys.with-light-short-ship")
    if short:
        holding = _lighted(day, short, short.minimum)
        yield holding
    if half:
        if short and not day.rules[rule_name(short)].doubt:
            yield Holding(half, "not_applicable", f"{short.reference} asks as much or more of this ship")
        elif "lifebuoy" not in day.asked:
            yield Holding(half, "not_evaluated", "how many lifebuoys are asked is not known (length, ship type)")
        else:
            # half of the number REQUIRED: spare lifebuoys do not raise it (SOLAS III/7.1.3)
            yield _lighted(day, half, required(half, int(day.asked["lifebuoy"])) or 0.0)
    if smoke := rules.get("lifebuoys.with-smoke"):
        yield _smoke(day, smoke)
    if mass := rules.get("lifebuoys.smoke-mass"):
        lots = [entry for entry in day.lots("lifebuoy with light and smoke") if entry.lot.item == mass.item]
        yield measured(day, mass, lots, mass.fixed, mass.fixed, smoke.fixed if smoke else 1)
    if line := rules.get("lifebuoys.line-each-side"):
        yield from each_side(day, line, day.lots("lifebuoy with line", "lifebuoy line"))
    if length := rules.get("lifebuoys.line-length"):
        yield _line_length(day, length, 2 * line.fixed if line else 1)
    if stern := rules.get("lifebuoys.near-stern"):
        yield _near_stern(day, stern)


def _of_kind(day: Day, kind: str) -> tuple[float, float, float, list[LotRow]]:
    """Buoys of one kind that are lighted: surely, at best, by expired ones, and the lots that tell."""
    buoys = [entry for entry in day.lots(kind) if entry.lot.item == kind]
    units = day.lots(_UNIT_OF[kind])
    by_kind, lights = day.count(buoys, kind), day.count(units, _UNIT_OF[kind])
    sure = core.lighted(by_kind.sure, lights.sure, lights.expired)
    best = core.lighted_at_best(by_kind.at_best, lights.at_best, lights.expired)
    return sure, max(sure, best), lights.expired + by_kind.expired, [*buoys, *units]


def _lighted(day: Day, rule: Rule, asked: float) -> Holding:
    """Those with light and smoke are lighted as well; one with a line does not count (SOLAS III/7.1.3)."""
    plain, smoke = _of_kind(day, "lifebuoy with light"), _of_kind(day, "lifebuoy with light and smoke")
    lots = [*plain[3], *smoke[3]]
    carried = carried_between(plain[0] + smoke[0], plain[1] + smoke[1], plain[2] + smoke[2])
    holding = judged(rule, carried, asked, lots, why=_APART)
    if not recorded(day.lots("lifebuoy")):
        holding.state, holding.why = "not_evaluated", doubts(day.lots("lifebuoy")) or "no lifebuoy is recorded"
    elif holding.state == "finding" and all(entry.lot.item == "lifebuoy light and smoke" for entry in lots):
        # bridge-wing units are entered for their dates; that says nothing of the lights of the other lifebuoys
        holding.state, holding.why = "not_evaluated", "lights of lifebuoys are not recorded"
    return holding


def _smoke(day: Day, rule: Rule) -> Holding:
    sure, best, expired, lots = _of_kind(day, "lifebuoy with light and smoke")
    return judged(rule, carried_between(sure, best, expired), rule.fixed, lots, why=_APART)


def _line_length(day: Day, rule: Rule, needed: float) -> Holding:
    """The height at which a lifebuoy hangs has no column: that of the highest craft stands for it, to pass only."""
    heights = [craft.height_m for craft in day.audit.crafts if craft.height_m is not None]
    most = required(rule, None, max(heights)) if heights else None
    lots = day.lots("lifebuoy with line", "lifebuoy line")
    return measured(
        day, rule, lots, rule.minimum, most, needed, "the height at which the lifebuoys are stowed is not recorded"
    )


def _near_stern(day: Day, rule: Rule) -> Holding:
    lots = [entry for entry in day.lots("lifebuoy") if entry.lot.condition in stock.FIT_CONDITIONS]
    aft = [entry for entry in lots if entry.row.get("side") == "aft" or words_of(entry.place) & _STERN_WORDS]
    away = [entry for entry in lots if entry not in aft and words_of(entry.place) & _AWAY_FROM_STERN]
    holding = Holding(rule, "passed", "recorded", asked=rule.fixed, lots=lots, code="SH15", column="place")
    if any(entry.lot.certain and entry.lot.quantity for entry in aft):
        return holding
    holding.state, holding.why = "not_evaluated", "where the lifebuoys are is not clear"
    if not lots:
        holding.why = "no lifebuoy is recorded"
    elif len(away) == len(lots):
        holding.state, holding.why = "finding", ""
    return holding
