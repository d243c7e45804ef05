"""Lifejackets, immersion suits and thermal protective aids: several demands on one pool (SOLAS III/7, 22, 31, 32)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, Craft, LotRow
from workbook_tools.checks.places import persons_on_board
from workbook_tools.checks.ship_stock import (
    Day,
    Demand,
    Holding,
    added,
    doubts,
    judged,
    of_persons,
    of_remote_rafts,
    recorded,
    rule_name,
    served,
    words_of,
)
from workbook_tools.core import ship_level as core
from workbook_tools.core import stock
from workbook_tools.core.quantity import required
from workbook_tools.core.stock import Carried
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

_FORWARD_WORDS = frozenset({"forecastle", "forward", "fore", "fwd", "bow"})

_SMALL_JACKETS = ("child lifejacket", "infant lifejacket")


def _demand(day: Day, rule: Rule) -> Demand:
    audit, name = day.audit, rule_name(rule).partition(".")[2]
    if name == "remote-raft" or rule_name(rule).startswith("remote-raft."):
        return of_remote_rafts(audit, rule)
    if name == "watch-stations":
        return of_persons(rule, audit.book.ship_value("watch_stations"), "persons at watch stations")
    if name == "passenger-lifeboats":
        return _of_boats(audit, rule)
    return of_persons(rule, persons_on_board(audit), "persons on board")


def _at_remote_station(audit: Audit, entry: LotRow) -> bool:
    """Whether a lot lies where a remote raft, or any craft, is: it serves that station, not the persons' own."""
    return entry.place in {craft.name for craft in audit.crafts} or bool(words_of(entry.place) & _FORWARD_WORDS)


def _pool(day: Day, names: tuple[str, ...], item: str, besides: tuple[str, ...] = ()) -> Iterator[Holding]:
    """Serve each demand in turn from one pool; what serves one serves no other.

    besides: items that may or may not count for the first demand (children's lifejackets: the text is not clear).
    """
    rules = [day.rules[name].rule for name in names if name in day.rules]
    lots = day.lots(item)
    if not recorded(lots):
        for rule in rules:
            demand = _demand(day, rule)
            state = "not_applicable" if demand.none else "not_evaluated"
            yield Holding(rule, state, demand.none or doubts(lots) or f"no {item} is recorded", lots=lots)
        return
    total = day.count(lots, item)
    stationed = [entry for entry in lots if _at_remote_station(day.audit, entry)]
    at_stations = day.count(stationed, item)
    sure, best = total.sure, total.at_best
    remote = next((rule for rule in rules if rule_name(rule).endswith(".remote-raft")), None)
    if remote is not None:
        demand = _demand(day, remote)
        if not demand.none and at_stations.sure >= demand.most:
            yield served(remote, demand, at_stations.sure, at_stations.at_best, total, stationed)
            sure, best = sure - demand.most, best - demand.most
            rules.remove(remote)
    for rule in rules:
        demand = _demand(day, rule)
        own = rule_name(rule).endswith((".personal", ".watch-stations", ".passenger-extra"))
        if own and len(stationed) == len(lots) and not demand.none:
            yield Holding(rule, "not_evaluated", f"only {item}s at craft and forward stations are recorded", lots=lots)
            continue
        others = day.lots(*besides) if besides and rule_name(rule).endswith(".personal") else []
        extra = sum(day.count(others, other).at_best for other in besides) if others else 0.0
        yield served(rule, demand, sure, best + extra, total, [*lots, *others], bool(others))
        sure = 0.0 if demand.unknown else max(0.0, sure - demand.most)
        best = max(0.0, best - demand.least)


def lifejackets(day: Day) -> Iterator[Holding]:
    """Lifejackets of the persons, the stations and the passengers, their lights, and those for children and infants."""
    names = ("personal", "watch-stations", "remote-raft", "passenger-extra")
    pool = list(_pool(day, tuple(f"lifejackets.{name}" for name in names), "lifejacket", _SMALL_JACKETS))
    yield from pool
    if "lifejackets.lights" in day.rules:
        yield _jacket_lights(day, day.rules["lifejackets.lights"].rule, pool)
    for name in ("children-share", "infants-share"):
        yield from _of_passengers(day, f"lifejackets.{name}", "passengers", "passengers on board")
    yield from _of_passengers(day, "lifejackets.each-child", "children", "children on board")
    yield from _of_passengers(day, "lifejackets.each-infant", "infants", "infants on board")
    if "lifejackets.large-person-accessory" in day.rules:
        rule = day.rules["lifejackets.large-person-accessory"].rule
        lots = day.lots(rule.item)
        holding = judged(rule, day.count(lots, rule.item), rule.fixed, lots)
        if holding.state != "passed":
            # asked only where the lifejackets on board do not fit large persons, which no column tells
            holding.state, holding.why = "not_evaluated", "whether the lifejackets fit large persons is not recorded"
        yield holding


def _jacket_lights(day: Day, rule: Rule, pool: list[Holding]) -> Holding:
    """A light on each lifejacket that is asked: spare lifejackets beyond that are asked for none."""
    lots, jackets = day.lots(rule.item), day.lots("lifejacket")
    demands = [holding for holding in pool if holding.asked and holding.state != "not_applicable"]
    if not jackets:
        return Holding(rule, "not_evaluated", "no lifejacket is recorded", lots=lots)
    personal = next((holding for holding in pool if rule_name(holding.rule) == "lifejackets.personal"), None)
    if personal is None or not personal.asked:
        return Holding(
            rule, "not_evaluated", personal.why if personal else "persons on board is not recorded", lots=lots
        )
    asked = min(sum(holding.asked for holding in demands), day.count(jackets, "lifejacket").at_best)
    return judged(rule, day.count(lots, rule.item), asked, lots)


def _of_passengers(day: Day, name: str, column: str, words: str) -> Iterator[Holding]:
    """Children's and infants' lifejackets, by the number of passengers, children or infants on board."""
    if name not in day.rules:
        return
    rule = day.rules[name].rule
    number = day.audit.book.ship_value(column)
    unclear = any(column in row.unclear for row in day.audit.book.rows("ship"))
    lots = day.lots(rule.item)
    if number is None and not unclear and not day.audit.book.ship_value("passengers"):
        if day.audit.ship_facts["ship_family"] == "cargo":
            yield Holding(rule, "not_applicable", "a cargo ship with no passengers recorded", lots=lots)
            return
        if day.audit.book.ship_value("passengers") == 0:
            yield Holding(rule, "not_applicable", "passengers on board: 0", lots=lots)
            return
    demand = of_persons(rule, number, words)
    if demand.none or demand.unknown:
        state = "not_applicable" if demand.none else "not_evaluated"
        yield Holding(rule, state, demand.none or demand.unknown, lots=lots)
        return
    yield judged(rule, day.count(lots, rule.item), demand.least, lots)


def suits(day: Day) -> Iterator[Holding]:
    """Immersion suits of the persons, the stations, the rescue boat crew and a passenger ship's lifeboats."""
    names = tuple(f"suits.{name}" for name in ("personal", "watch-stations", "remote-raft", "passenger-lifeboats"))
    yield from _pool(day, names, "immersion suit")
    if "suits.rescue-boat-crew" in day.rules:
        yield _rescue_crew(day, day.rules["suits.rescue-boat-crew"].rule)
    if "thermal-aids.passenger-lifeboats" in day.rules:
        yield _thermal_aids(day, day.rules["thermal-aids.passenger-lifeboats"].rule)


def _rescue_crew(day: Day, rule: Rule) -> Holding:
    """Personal suits serve as well (MPA Singapore 2006). Who crews a boat that is also a lifeboat is not told apart."""
    by_name = day.audit.crafts_by_name
    pure = dual = 0
    for row in day.audit.book.rows("crew"):
        craft = by_name.get(catalogue.normalise(row.get("craft") or ""))
        if craft is not None and "rescue-boat" in craft.families:
            dual += "lifeboat" in craft.families
            pure += "lifeboat" not in craft.families
    lots = day.lots("immersion suit", "anti-exposure suit")
    carried = added(*(day.count(lots, item) for item in ("immersion suit", "anti-exposure suit")))
    if not pure and not dual:
        return Holding(rule, "not_evaluated", "the Crew sheet assigns nobody to a rescue boat", lots=lots)
    if not recorded(lots):
        return Holding(rule, "not_evaluated", doubts(lots) or f"no {rule.item} is recorded", lots=lots)
    most = required(rule, pure or dual) or 0.0
    holding = served(rule, Demand(most if pure else 0.0, most), carried.sure, carried.at_best, carried, lots)
    if holding.state == "not_evaluated" and not pure:
        holding.why = "who of those in the boat crews it as rescue boat is not recorded"
    return holding


def asks_of_boats(rule: Rule) -> bool:
    """Whether a rule's condition is asked of each lifeboat, not of the ship."""
    return rule_name(rule).endswith(".passenger-lifeboats")


def _open_boats(audit: Audit, rule: Rule) -> tuple[list[Craft], list[Craft], str]:
    """Lifeboats that the rule asks of, those that it may ask of, and the fact that is not recorded."""
    surely, perhaps, why = [], [], ""
    for craft in audit.crafts:
        if "lifeboat" not in craft.families:
            continue
        applies, fact = rule.condition.holds(craft.facts)
        if applies:
            surely.append(craft)
        elif applies is None:
            perhaps.append(craft)
            why = fact
    return surely, perhaps, why


def _of_boats(audit: Audit, rule: Rule) -> Demand:
    """So many for each lifeboat, or one for each person it may carry; boats of unknown construction may be asked."""
    surely, perhaps, _ = _open_boats(audit, rule)
    if not surely and not perhaps:
        return Demand(none="no lifeboat of the construction that the rule names is recorded")
    if rule.per_person and any(craft.persons is None for craft in [*surely, *perhaps]):
        return Demand(unknown="persons permitted is not recorded")
    least, besides = (
        sum(rule.fixed + rule.per_person * (craft.persons or 0) for craft in boats) for boats in (surely, perhaps)
    )
    return Demand(least, least + besides)


def _thermal_aids(day: Day, rule: Rule) -> Holding:
    """An aid for everyone in the boats who has no suit: suits on board count beside them (SOLAS III/22.4)."""
    lots = day.lots(rule.item, "immersion suit")
    demand = _of_boats(day.audit, rule)
    if not day.lots(rule.item) and not demand.none:
        return Holding(rule, "not_evaluated", f"no {rule.item} is recorded", lots=lots)
    carried = added(day.count(lots, rule.item), day.count(lots, "immersion suit"))
    holding = served(rule, demand, carried.sure, carried.at_best, carried, lots)
    if holding.state == "not_evaluated" and not demand.unknown:
        holding.why = doubts(lots) or _open_boats(day.audit, rule)[2]
    return holding


def sizes(day: Day) -> Iterator[Holding]:
    """Suits and lifejackets against the sizes of those who wear them."""
    for name, item in (("suits.sizes", "immersion suit"), ("lifejackets.sizes", "lifejacket")):
        if name in day.rules:
            yield _fitting(day, day.rules[name].rule, item)


def _fitting(day: Day, rule: Rule, item: str) -> Holding:
    """A piece for each person by size, where both sizes are recorded in words that can be compared."""
    lots = [entry for entry in day.lots(item) if stock.standing(entry.lot, day.on) in (stock.SURE, stock.POSSIBLE)]
    crew = day.audit.book.rows("crew")
    holding = Holding(rule, "not_evaluated", lots=lots, code="SH16", column="wearer_size")
    sized = [entry for entry in lots if entry.row.get("wearer_size")]
    if not lots or not sized or not any(row.get("size") for row in crew):
        holding.why = "sizes are not recorded" if lots else f"no {item} is recorded"
        return holding
    held: Counter[str] = Counter()
    universal = unknown = 0.0
    wanted = Counter(core.size_name(row.get("size")) for row in crew if row.get("size"))
    for entry in lots:
        size = core.size_name(entry.row.get("wearer_size") or "")
        pieces = stock.measure(entry.lot, "each")
        if size == core.UNIVERSAL and entry.lot.certain:
            universal += pieces or 0.0
        elif entry.lot.certain and pieces is not None and (size in core.KNOWN_SIZES or size in wanted):
            held[size] += int(pieces)
        else:
            unknown += float("inf") if pieces is None else pieces
    wanted.pop(core.UNIVERSAL, None)
    # a size in words that no piece bears cannot be compared with those of the pieces
    comparable = {size: count for size, count in wanted.items() if size in core.KNOWN_SIZES or size in held}
    short = core.sizes_short(comparable, held, universal + unknown)
    if short:
        return _size_short(day, holding, short, wanted, held, crew)
    if len(comparable) < len(wanted) or not all(row.get("size") for row in crew):
        holding.why = "sizes of some persons are not recorded, or not in words that can be compared"
    elif core.sizes_short(comparable, held, universal):
        holding.why = doubts(lots) or "sizes of some pieces are not recorded"
    else:
        holding.state, holding.why = "passed", "by the sizes recorded"
    return holding


def _size_short(
    day: Day, holding: Holding, short: dict[str, float], wanted: Counter[str], held: Counter[str], crew: list[Row]
) -> Holding:
    """Name the size that is short by most, and its last wearer's line."""
    size = max(short, key=lambda name: short[name])
    wearers = [row for row in crew if row.get("size") and core.size_name(row.get("size")) == size]
    numbers = ", ".join(row.get("number") for row in wearers if row.get("number"))
    others = [f"{name}: {wanted[name]} persons, {held[name]} held" for name in short if name != size]
    holding.state, holding.anchor = "finding", ("crew", wearers[-1], "size")
    holding.asked, holding.carried = float(wanted[size]), Carried(float(held[size]))
    holding.detail = f"size {size}: {wanted[size]} persons (crew numbers {numbers or 'not given'}), {held[size]} held"
    holding.detail += "".join(f"; size {other}" for other in others)
    return holding
