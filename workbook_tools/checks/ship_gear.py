"""Two-way VHF, SARTs, bridge rockets, line-throwing gear and documents (SOLAS III/6, III/17-1, III/18, IV/7)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from workbook_tools import catalogue
from workbook_tools.checks.context import Craft, LotRow
from workbook_tools.checks.places import persons_on_board
from workbook_tools.checks.ship_stock import (
    SIDES,
    Day,
    Holding,
    added,
    carried_between,
    each_side,
    judged,
    measured,
    of_remote_rafts,
    served,
    subjects,
    words_of,
)
from workbook_tools.core import ship_level as core
from workbook_tools.core import stock
from workbook_tools.core.quantity import required
from workbook_tools.core.stock import Carried
from workbook_tools.rules import Rule

_BRIDGE_WORDS = frozenset({"bridge", "wheelhouse"})

_DONE = ("lifebuoys.", "lifejackets.", "suits.", "thermal-aids.", "radio.")


def radio(day: Day) -> Iterator[Holding]:
    """Two-way VHF with their batteries, and SARTs."""
    for name in ("radio.two-way-vhf-cargo", "radio.two-way-vhf-passenger"):
        if name in day.rules:
            entry = day.rules[name]
            if not entry.doubt:
                day.asked[entry.rule.item] = entry.rule.fixed
            lots = day.lots(entry.rule.item)
            yield judged(entry.rule, day.count(lots, entry.rule.item), entry.rule.fixed, lots)
    if "radio.vhf-batteries" in day.rules:
        yield _batteries(day, day.rules["radio.vhf-batteries"].rule)
    yield from _sarts(day)
    if "radio.sart-rafts" in day.rules:
        yield _raft_sarts(day, day.rules["radio.sart-rafts"].rule)
    if "radio.fast-rescue-boat-vhf" in day.rules:
        rule = day.rules["radio.fast-rescue-boat-vhf"].rule
        if any(craft.kind == "fast rescue boat" for craft in day.audit.crafts):
            yield judged(rule, day.count(day.lots(rule.item), rule.item), rule.fixed, day.lots(rule.item))
        else:
            yield Holding(rule, "not_applicable", "no fast rescue boat is recorded", lots=day.lots(rule.item))


def _batteries(day: Day, rule: Rule) -> Holding:
    """Only a sealed, unused primary battery in date makes an apparatus ready; none for sets beyond those asked."""
    lots, radios = day.lots(rule.item), day.lots("survival-craft two-way VHF")
    asked = day.asked.get("survival-craft two-way VHF")
    if asked is None:
        return Holding(rule, "not_evaluated", "how many two-way VHF are asked is not known", lots=lots)
    if not radios:
        return Holding(rule, "not_evaluated", "no survival-craft two-way VHF is recorded", lots=lots)
    asked = min(asked, day.count(radios, "survival-craft two-way VHF").at_best)
    return judged(rule, day.count(lots, rule.item), required(rule, int(asked)) or 0.0, lots)


def _sarts(day: Day) -> Iterator[Holding]:
    lots = day.lots("survival-craft SART")
    stowed = [craft for craft in day.audit.crafts if not any(lot in craft.lots for lot in lots)]
    inside = [craft for craft in stowed if craft.facts["sart_stowed"] == "yes"]
    unknown = [craft for craft in stowed if craft.facts["sart_stowed"] is None and craft.purpose != "remote"]
    counted = day.count(lots, "survival-craft SART")
    carried = added(counted, Carried(float(len(inside)), float(len(unknown))))
    pieces: float | None = None
    short = False
    for name in ("radio.sart-cargo", "radio.sart-passenger"):
        if name in day.rules:
            entry = day.rules[name]
            pieces = entry.rule.fixed
            holding = judged(
                entry.rule, carried, pieces, lots, why="whether a SART is stowed in each craft is not recorded"
            )
            if inside and not lots:
                holding.state = core.judge(carried.sure, carried.at_best, pieces, pieces)
                holding.why = {"passed": "recorded", "finding": ""}.get(holding.state, holding.why)
                holding.anchor = ("craft", inside[0].row, "sart_stowed")
            short = short or holding.state == "finding"
            yield holding
    if "radio.sart-each-side" in day.rules:
        for holding in _sart_sides(day, day.rules["radio.sart-each-side"].rule, lots, inside, unknown, pieces):
            if short and holding.state == "finding":
                # one that is missing is missing on one side as well: said once
                holding.state, holding.why = "not_evaluated", "fewer are recorded than asked"
            yield holding


def _sart_sides(
    day: Day, rule: Rule, lots: list[LotRow], inside: list[Craft], unknown: list[Craft], pieces: float | None
) -> Iterator[Holding]:
    """One on each side, unless each craft but remote rafts has one, or a free-fall boat makes it one fore, one aft."""
    crafts = [craft for craft in day.audit.crafts if craft.purpose != "remote"]
    relieved = ""
    if pieces is not None and pieces < len(SIDES):
        relieved = "one is asked, on no side"
    elif any(craft.kind == "free-fall lifeboat" for craft in crafts):
        relieved = "a free-fall ship: one in the boat, one near the bridge (from memory)"
    elif crafts and all(craft in inside or any(lot in craft.lots for lot in lots) for craft in crafts):
        relieved = "one in each craft"
    if relieved:
        yield from (Holding(rule, "not_applicable", relieved, subject, lots=lots) for subject in subjects(rule))
        return
    for holding, side in zip(each_side(day, rule, lots), SIDES, strict=True):
        surely = [craft for craft in inside if craft.row.get("side") == side]
        perhaps = [craft for craft in [*inside, *unknown] if craft.row.get("side") in (side, None)]
        lying = [lot for craft in crafts if craft.row.get("side") == side for lot in craft.lots if lot in lots]
        if surely or any(stock.standing(lot.lot, day.on) == stock.SURE for lot in lying):
            holding.state, holding.why = "passed", "recorded"
        elif holding.state == "finding" and (perhaps or lying):
            holding.state, holding.why = "not_evaluated", "whether a SART is stowed in each craft is not recorded"
        yield holding


def _raft_sarts(day: Day, rule: Rule) -> Holding:
    """Rafts are sealed: what is stowed in them stands on the Craft sheet."""
    rafts = [craft for craft in day.audit.crafts if "liferaft" in craft.families]
    surely = [craft for craft in rafts if craft.facts["sart_stowed"] == "yes"]
    perhaps = [craft for craft in rafts if craft.facts["sart_stowed"] is None]
    if not rafts:
        return Holding(rule, "not_evaluated", "no liferaft is recorded")
    asked = required(rule, len(rafts)) or 0.0
    carried = Carried(float(len(surely)), float(len(perhaps)))
    holding = Holding(rule, core.judge(carried.sure, carried.at_best, asked, asked), asked=asked, carried=carried)
    holding.anchor = ("craft", rafts[0].row, "sart_stowed")
    if holding.state == "not_evaluated":
        holding.why = "whether a SART is stowed in each liferaft is not recorded"
    return holding


def others(day: Day) -> Iterator[Holding]:
    """The rules that count one item, and those that a company adds: so many on board, or for each person."""
    special: dict[str, Callable[[Day, Rule], Holding]] = {
        "distress.bridge-rockets": _bridge_rockets,
        "line-throwing.projectiles": _line_throwing,
        "line-throwing.lines": _line_throwing,
        "line-throwing.auxiliary-line-length": _auxiliary_line,
        "documents.recovery-plan": _document,
        "remote-raft.embarkation-ladder": _stationed,
    }
    for name, entry in day.rules.items():
        if not name.startswith(_DONE):
            yield special.get(name, _counted)(day, entry.rule)


def _counted(day: Day, rule: Rule) -> Holding:
    lots = day.lots(rule.item)
    asked = required(rule, persons_on_board(day.audit))
    if asked is None:
        return Holding(rule, "not_evaluated", "persons on board is not recorded", lots=lots)
    return judged(rule, day.count(lots, rule.item, rule.unit), asked, lots)


def _bridge_rockets(day: Day, rule: Rule) -> Holding:
    """Those in a craft are the craft's own; those in a locker may be near the bridge: possible, not sure."""
    names = {craft.name for craft in day.audit.crafts}
    lots = [entry for entry in day.lots(rule.item) if entry.place not in names]
    bridge = [entry for entry in lots if words_of(entry.place) & _BRIDGE_WORDS]
    elsewhere = day.count([entry for entry in lots if entry not in bridge], rule.item)
    here = day.count(bridge, rule.item)
    carried = carried_between(here.sure, here.at_best + elsewhere.at_best, here.expired + elsewhere.expired)
    where = next((day.audit.where("inventory", entry.row, "place") for entry in lots if entry not in bridge), "")
    return judged(
        rule,
        carried,
        rule.fixed,
        lots,
        f"no {rule.item} is recorded outside the craft",
        f"whether the place at {where} is near the bridge is not clear",
    )


def _line_throwing(day: Day, rule: Rule) -> Holding:
    """An appliance may be one unit with its own line or a whole set: fewer than asked, without content, is unclear."""
    lots = day.lots(rule.item)
    loose = [entry for entry in lots if entry.lot.item == rule.item]
    total = day.count(loose, rule.item)
    for entry in lots:
        if entry in loose:
            continue
        lot = entry.lot
        pieces = day.count([entry], rule.item)
        if lot.content is not None and lot.content_unit is None and lot.quantity is not None:
            pieces = day.count([_with_quantity(entry, quantity=lot.quantity * lot.content)], rule.item)
        elif lot.content is None and pieces.at_best < rule.fixed and pieces.at_best:
            pieces = Carried(pieces.sure, pieces.possible, pieces.expired, unmeasured=1)
        elif pieces.expired:
            pieces.expired = max(pieces.expired, rule.fixed)
        total = added(total, pieces)
    return judged(rule, total, rule.fixed, lots, why="what one line-throwing appliance holds is not recorded")


def _with_quantity(entry: LotRow, quantity: float) -> LotRow:
    """The same line with another quantity, for counting only."""
    return LotRow(entry.row, replace(entry.lot, quantity=quantity), entry.place, entry.doubt)


def _auxiliary_line(day: Day, rule: Rule) -> Holding:
    return measured(day, rule, day.lots(rule.item), rule.fixed, rule.fixed, 1)


def _stationed(day: Day, rule: Rule) -> Holding:
    lots = day.lots(rule.item)
    demand = of_remote_rafts(day.audit, rule)
    if not lots and not demand.none:
        return Holding(rule, "not_evaluated", f"no {rule.item} is recorded")
    carried = day.count(lots, rule.item)
    return served(rule, demand, carried.sure, carried.at_best, carried, lots)


def _document(day: Day, rule: Rule) -> Holding:
    """A document stands on the Inventory or on the Certificates sheet."""
    for row in day.audit.book.rows("certificates"):
        name = row.get("certificate")
        if name is not None and catalogue.item_names().find(name) == rule.item:
            where = day.audit.where("certificates", row, "certificate")
            return Holding(rule, "passed", f"recorded at {where}", lots=day.lots(rule.item))
    return _counted(day, rule)
