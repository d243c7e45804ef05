"""What each craft must carry, and whether it is there, fit and in date (EQ and EX codes)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from workbook_tools import catalogue
from workbook_tools.checks.alike import CraftRule, craft_rule
from workbook_tools.checks.cautions import PYROTECHNIC_CAUTION
from workbook_tools.checks.context import Audit, Craft, LotRow
from workbook_tools.checks.raft_service import certificate_state
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.core import stock
from workbook_tools.core.expiry import days_left, days_words, warning_ends
from workbook_tools.core.quantity import amount, required
from workbook_tools.core.stock import Carried
from workbook_tools.findings import Finding, State, priority_of_due
from workbook_tools.reading.tables import lot_name
from workbook_tools.rules import Rule, RuleSet


@dataclass(slots=True)
class Verdict:
    """How one rule ended for one craft, with what the codes need to say about it."""

    craft: Craft
    rule: Rule
    state: str
    why: str = ""
    asked: float = 0.0
    carried: Carried = field(default_factory=Carried)
    lots: list[LotRow] = field(default_factory=list)
    due: date | None = None  # the day after which the rule is no longer met, within the warning period
    column: str = ""  # craft column that decided, for rules on the craft itself
    found: float | None = None


def verdicts(audit: Audit) -> list[Verdict]:
    """The verdict of every equipment rule on every craft, worked out once an audit."""
    return audit.once("verdicts", lambda: _evaluate(audit))


def _failed(audit: Audit) -> list[Verdict]:
    """Those that end as findings, few among many: each code looks for its own."""
    return audit.once("verdicts_failed", lambda: [each for each in verdicts(audit) if each.state == "finding"])


def _evaluate(audit: Audit) -> list[Verdict]:
    found: list[Verdict] = []
    for craft in audit.crafts:
        found.extend(_of_craft(audit, craft))
    return found


_EQUIPMENT = ("inventory", "length", "certificate", "maker", "pack", "craft.")


def _of_craft(audit: Audit, craft: Craft) -> list[Verdict]:
    found: list[Verdict] = []
    barred = _barred(audit, craft)
    for entry in audit.rules_for_craft(craft, _EQUIPMENT, craft.subjects()):
        if barred:
            found.append(Verdict(craft, entry.rows[0], *barred))
        elif entry.state:
            found.append(Verdict(craft, entry.rule or entry.rows[0], entry.state, entry.why))
        elif entry.rule is None:
            found.append(verdict_of(audit, craft, entry.rows))
        else:
            found.append(_judge(audit, craft, entry, entry.rule))
    if len(craft.subjects()) > 1:
        _larger_of_two(found)
    return found


def _barred(audit: Audit, craft: Craft) -> tuple[str, str] | None:
    """The state of all equipment rules of a craft and why, where none of them can be looked at."""
    if audit.outside:
        return "not_applicable", audit.outside
    return None if craft.clear else ("not_evaluated", "the craft's name is not clear")


def verdict_of(audit: Audit, craft: Craft, rows: list[Rule]) -> Verdict:
    """How one equipment rule, given by its rows, ends for a craft on the audit's day, whatever other rules ask."""
    if barred := _barred(audit, craft):
        return Verdict(craft, rows[0], *barred)
    in_force = audit.rows_in_force(rows[0].key, rows, craft.persons)
    entry = craft_rule(audit.rule_set, rows, *in_force, craft.facts)
    if entry.state or entry.rule is None:
        return Verdict(craft, entry.rule or rows[0], entry.state, entry.why)
    return _judge(audit, craft, entry, entry.rule)


def _judge(audit: Audit, craft: Craft, entry: CraftRule, rule: Rule) -> Verdict:
    asked = entry.asked if entry.asked is not None else required(rule, craft.persons, craft.height_m)
    if asked is None:
        missing = "persons permitted" if rule.needs_persons and craft.persons is None else "stowage height"
        return Verdict(craft, rule, "not_evaluated", f"{missing} is not recorded")
    if rule.evidence == "inventory":
        verdict = _count(audit, craft, entry, rule, asked)
    elif rule.evidence == "maker":
        verdict = _count(audit, craft, entry, rule, asked)
        if verdict.state == "finding":
            verdict.state, verdict.why = "not_evaluated", "asked only where the maker specifies it"
    elif rule.evidence == "length":
        verdict = _length(audit, craft, rule, asked)
    elif rule.evidence == "certificate":
        verdict = _sealed(audit, craft, rule, asked)
    elif rule.evidence == "pack":
        verdict = _pack(craft, rule, asked)
    else:
        verdict = _craft_figure(craft, rule, asked)
    if entry.doubt is not None and verdict.state == "finding":
        verdict.state, verdict.why = "not_evaluated", entry.doubt
    return verdict


def _credited(audit: Audit, craft: Craft, rule: Rule, lots: list[LotRow], on: date) -> Carried:
    counting = [entry.lot for entry in lots]
    substitutes = audit.rule_set.substitutes.get(rule.key)
    if not substitutes:
        return stock.carried(counting, rule.item, rule.unit, on)
    return stock.credited(rule, substitutes, counting, craft.facts, craft.persons, on)


def _count(audit: Audit, craft: Craft, entry: CraftRule, rule: Rule, asked: float) -> Verdict:
    lots = craft.lots_of(*entry.items)
    for counting in lots:
        counting.counted = True
    carried = _credited(audit, craft, rule, lots, audit.on)
    verdict = Verdict(craft, rule, "passed", "counted", asked, carried, lots)
    if stock.suffices(carried.sure, asked):
        _look_ahead(audit, verdict)
        return verdict
    if not craft.lots:
        verdict.state, verdict.why = "not_evaluated", "no inventory is recorded for this craft"
    elif stock.suffices(carried.at_best, asked):
        doubts = [entry.doubt for entry in lots if entry.doubt]
        verdict.state = "not_evaluated"
        verdict.why = "; ".join(doubts) or "the content of a lot is not recorded"
    else:
        verdict.state = "finding"
    return verdict


def _look_ahead(audit: Audit, verdict: Verdict) -> None:
    """Find the first day within the warning period after which what is carried no longer suffices."""
    if not [entry for entry in verdict.lots if entry.lot.expires]:
        return
    days = audit.warn_days(catalogue.items()[verdict.rule.item].group)
    verdict.due = suffices_until(audit, verdict, warning_ends(audit.on, days))


def suffices_until(audit: Audit, verdict: Verdict, last: date = date.max) -> date | None:
    """The first day, no later than `last`, after which what a rule counts no longer suffices; None: there is none."""
    ends = sorted({entry.lot.expires for entry in verdict.lots if entry.lot.expires and entry.lot.expires >= audit.on})
    for end in ends:
        if end > last or end == date.max:
            return None
        after = _credited(audit, verdict.craft, verdict.rule, verdict.lots, date.fromordinal(end.toordinal() + 1))
        if not stock.suffices(after.at_best, verdict.asked):
            return end
    return None


def _length(audit: Audit, craft: Craft, rule: Rule, asked: float) -> Verdict:
    """As many pieces as the counting rule asks must each be as long as asked; a spare short one is no fault."""
    counting = _counting_rules(audit.rule_set, rule.item, rule.subject)
    needed = max((required(other, craft.persons) or 0.0 for other in counting), default=1.0)
    lots = craft.lots_of(rule.item)
    lots = [entry for entry in lots if stock.standing(entry.lot, audit.on) in (stock.SURE, stock.POSSIBLE)]
    verdict = Verdict(craft, rule, "passed", "counted", asked, lots=lots)
    pieces: list[tuple[float | None, float, LotRow]] = []
    for entry in lots:
        unit = entry.lot.content_unit
        length = catalogue.convert(entry.lot.content, unit, rule.unit) if entry.lot.content and unit else None
        pieces.append((length, entry.lot.quantity or 0.0, entry))
    long_enough = sum(count for length, count, entry in pieces if length is not None and length >= asked)
    too_short = [(length, entry) for length, _, entry in pieces if length is not None and length < asked]
    unknown = sum(count for length, count, _ in pieces if length is None)
    if long_enough >= needed:
        return verdict
    if too_short and long_enough + unknown < needed and all(entry.lot.certain for entry in lots):
        shortest, entry = min(too_short, key=lambda pair: pair[0])
        verdict.state, verdict.found, verdict.lots = "finding", shortest, [entry]
        return verdict
    verdict.state = "not_evaluated"
    verdict.why = "length is not recorded" if lots else "no such item is recorded here"
    return verdict


@lru_cache(maxsize=1_000)
def _counting_rules(rule_set: RuleSet, item: str, subject: str) -> tuple[Rule, ...]:
    """The rules that ask how many pieces of an item there are."""
    return tuple(
        rule
        for rule in rule_set.rules
        if rule.item == item and rule.subject == subject and rule.evidence == "inventory"
    )


def _sealed(audit: Audit, craft: Craft, rule: Rule, asked: float) -> Verdict:
    """A sealed pack is shown by the service certificate, never counted by the crew."""
    valid, why = certificate_state(audit, craft)
    if valid:
        earliest = craft.row.get("earliest_content")
        if catalogue.items()[rule.item].dated and rule.subject != "liferaft":
            if earliest is None:
                return Verdict(
                    craft, rule, "not_evaluated", "earliest dated content of the pack is not recorded", asked
                )
            if earliest < audit.on:
                return Verdict(craft, rule, "not_evaluated", f"dated contents of the pack ran out on {earliest}", asked)
        return Verdict(craft, rule, "passed", why, asked)
    return Verdict(craft, rule, "not_evaluated", why, asked)


def _pack(craft: Craft, rule: Rule, asked: float) -> Verdict:
    pack = craft.facts["pack"]
    if pack is None:
        return Verdict(craft, rule, "not_evaluated", "pack is not recorded", asked)
    state = "passed" if pack == "A" else "finding"
    return Verdict(craft, rule, state, "recorded", asked, column="pack")


def _craft_figure(craft: Craft, rule: Rule, asked: float) -> Verdict:
    column = rule.evidence.partition(".")[2]
    figure = craft.row.get(column)
    if figure is None:
        from workbook_tools.columns import sheet

        heading = sheet("craft").column(column).heading
        return Verdict(craft, rule, "not_evaluated", f"{heading.lower()} is not recorded", asked)
    met = figure <= asked if rule.at_most else figure >= asked
    return Verdict(craft, rule, "passed" if met else "finding", "recorded", asked, column=column, found=float(figure))


def _larger_of_two(found: list[Verdict]) -> None:
    """A lifeboat that is also the rescue boat carries the union of both lists at the larger quantity (LSA 5.1.1.1)."""
    groups: dict[tuple[str, str], list[Verdict]] = {}
    for verdict in found:
        if verdict.state != "not_applicable" and verdict.rule.evidence in ("inventory", "length"):
            groups.setdefault((verdict.rule.item, verdict.rule.evidence), []).append(verdict)
    for same in groups.values():
        if len({verdict.rule.subject for verdict in same}) < 2:
            continue
        # of equal quantities the stricter stands: the one that is not met
        order = {"finding": 0, "not_evaluated": 1, "passed": 2}
        keep = min(same, key=lambda verdict: (-verdict.asked, order[verdict.state]))
        for verdict in same:
            if verdict is not keep:
                verdict.state = "not_applicable"
                verdict.why = f"{keep.rule.key} asks as much or more of the same boat"
                verdict.due = None


@states
def equipment_states(audit: Audit) -> list[State]:
    """How every equipment rule ended for every craft."""
    found = [State(each.rule.key, each.craft.name, each.state, each.why) for each in verdicts(audit)]
    for craft in audit.crafts:
        if "liferaft" in craft.families and craft.facts["pack"] is None:
            found.append(State("liferaft.pack-contents", craft.name, "not_evaluated", "pack (A or B) is not recorded"))
    return found


# ---- what the findings say -------------------------------------------------------------------------------------


def _grade(craft: Craft, grade: str) -> str:
    return "note" if craft.purpose == "extra" else grade


def _priority(craft: Craft, priority: str) -> str:
    return "plan" if craft.purpose == "extra" else priority


def _extra(craft: Craft) -> str:
    return " (carried as extra)" if craft.purpose == "extra" else ""


def _note(rule: Rule) -> str:
    return f" ({rule.note})" if rule.note else ""


def _expired(verdict: Verdict, on: date) -> list[LotRow]:
    return [entry for entry in verdict.lots if stock.standing(entry.lot, on) == stock.EXPIRED]


def _list_lots(audit: Audit, lots: list[LotRow]) -> str:
    return ", ".join(
        f"{amount(entry.lot.quantity or 0, entry.lot.unit or 'each')} at "
        f"{audit.where('inventory', entry.row, 'expires')} ({entry.lot.expires})"
        for entry in lots
    )


def _only_expired(verdict: Verdict) -> bool:
    """Whether the shortage is there only because lots have expired."""
    return stock.suffices(verdict.carried.sure + verdict.carried.expired, verdict.asked)


@check(
    Code(
        "EQ01",
        "equipment-short",
        ("action", "note"),
        "each lifeboat and rescue boat carries, fit for use, what its list of equipment asks",
        "what is not in the boat when it is lowered cannot be fetched later",
        "Lifeboat 1 is permitted 30 persons and 60 L of water are recorded: 90 L are asked",
        "a lot more than asked, in two lots; water replaced by a desalinator that makes as much in two days; an item "
        "whose line cannot be read (that is a query of its own, and the rule is not evaluated)",
        "put the missing quantity on board, or correct the line if it is there",
        "LSA Code 4.4.8, 5.1.2; 46 CFR 199.175",
    )
)
def equipment_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every counted rule that is not met, even if nothing had expired."""
    for verdict in _failed(audit):
        if verdict.rule.evidence != "inventory" or _only_expired(verdict):
            continue
        rule, craft, carried = verdict.rule, verdict.craft, verdict.carried
        fit = [entry for entry in verdict.lots if stock.standing(entry.lot, audit.on) == stock.SURE]
        expired = _expired(verdict, audit.on)
        for entry in expired:
            entry.reported = True
        unfit = [entry for entry in verdict.lots if stock.standing(entry.lot, audit.on) == stock.UNFIT]
        message = f"{rule.item}: {amount(verdict.asked, rule.unit)} asked, {amount(carried.sure, rule.unit)} carried"
        message += _extra(craft) + _note(rule)
        if expired:
            message += f"; expired: {_list_lots(audit, expired)}"
        if unfit:
            message += "; not counted: " + ", ".join(
                f"{entry.lot.condition} at {audit.where('inventory', entry.row, 'condition')}" for entry in unfit
            )
        missing = amount(verdict.asked - carried.sure, rule.unit)
        anchor = next(iter([*fit, *expired, *unfit]), None)
        yield audit.finding(
            "EQ01",
            _grade(craft, "action"),
            _priority(craft, rule.priority),
            "inventory" if anchor else "craft",
            anchor.row if anchor else craft.row,
            ("quantity" if fit or not unfit else "condition") if anchor else "name",
            craft.name,
            message,
            f"put {missing} more in {craft.name}" + (", or add the line if it is there" if not anchor else ""),
            rule,
            required=verdict.asked,
            carried=carried.sure,
        )


@check(
    Code(
        "EQ02",
        "line-too-short",
        ("action", "note"),
        "painters, towing lines and the lines of rescue quoits are as long as asked",
        "a painter that does not reach the water capsizes or strands the boat",
        "a lifeboat stowed 14 m above the lightest waterline with painters of 20 m: 28 m each are asked",
        "a third, shorter line kept as a spare beside two that are long enough; a length that is not recorded",
        "renew the line at the length asked, or correct the length",
        "LSA Code 4.4.8.7, 4.4.8.24, 5.1.2.2; 46 CFR 199.175(b)",
    )
)
def line_too_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every line that is recorded shorter than asked."""
    for verdict in _failed(audit):
        if verdict.rule.evidence != "length" or verdict.found is None:
            continue
        rule, craft = verdict.rule, verdict.craft
        yield audit.finding(
            "EQ02",
            _grade(craft, "action"),
            _priority(craft, rule.priority),
            "inventory",
            verdict.lots[0].row,
            "content",
            craft.name,
            f"{rule.item}: {amount(verdict.asked, rule.unit)} asked, {amount(verdict.found, rule.unit)} recorded"
            f"{_extra(craft)}{_note(rule)}",
            "renew the line, or correct the length",
            rule,
            required=verdict.asked,
            carried=verdict.found,
        )


@check(
    Code(
        "EQ03",
        "wrong-pack",
        ("action", "note"),
        "a liferaft carries a SOLAS A pack unless the ship may use B packs",
        "a B pack has no water, no food and half the signals",
        "a cargo ship's raft recorded with a B pack",
        "a B pack on a passenger ship on short international voyages; a pack that is not recorded",
        "have the pack changed at the servicing station, or correct the column",
        "LSA Code 4.1.5.1, 4.1.5.3",
    )
)
def wrong_pack(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every raft whose pack is not the one asked."""
    for verdict in _failed(audit):
        if verdict.rule.evidence == "pack":
            yield audit.finding(
                "EQ03",
                _grade(verdict.craft, "action"),
                _priority(verdict.craft, verdict.rule.priority),
                "craft",
                verdict.craft.row,
                "pack",
                verdict.craft.name,
                f"SOLAS B pack recorded, an A pack is asked{_extra(verdict.craft)} ({verdict.rule.note})",
                "have the pack changed at an approved servicing station, or correct the column",
                verdict.rule,
            )


@check(
    Code(
        "EQ04",
        "craft-outside-limit",
        ("action", "note"),
        "what is marked on a craft lies within its limits: a raft's painter, mass, persons and drop height, a "
        "lifeboat's persons",
        "a raft too heavy to shift or dropped from too high may not be there when it is needed",
        "a raft that is to be moved side to side with a packed mass of 210 kg: 185 kg at most",
        "a heavier raft under a davit; a figure that is not recorded",
        "correct the figure, or have the raft or its stowage changed",
        "LSA Code 4.1.1.2, 4.1.2, 4.1.3.2",
    )
)
def craft_outside_limit(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every craft figure outside its limit."""
    for verdict in _failed(audit):
        rule, craft = verdict.rule, verdict.craft
        if not rule.evidence.startswith("craft.") or verdict.found is None:
            continue
        bound = "at most" if rule.at_most else "at least"
        yield audit.finding(
            "EQ04",
            _grade(craft, "action"),
            _priority(craft, rule.priority),
            "craft",
            craft.row,
            verdict.column,
            craft.name,
            f"{rule.key.partition('.')[2].replace('-', ' ')}: {amount(verdict.found, rule.unit)} recorded, {bound} "
            f"{amount(verdict.asked, rule.unit)} asked{_extra(craft)}{_note(rule)}",
            "correct the figure if it is misread; otherwise ask the maker or the servicing station",
            rule,
            required=verdict.asked,
            carried=verdict.found,
        )


@check(
    Code(
        "EQ05",
        "craft-not-inventoried",
        ("query",),
        "every lifeboat and rescue boat on the Craft sheet has lines on the Inventory sheet",
        "a boat that nobody went through is the one in which something is missing",
        "Lifeboat 2 stands on the Craft sheet, and no line of the Inventory names it",
        "a liferaft without lines: it is sealed, its certificate shows what is inside",
        "go through the boat and enter what is there",
    )
)
def craft_not_inventoried(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every boat without a single inventory line."""
    for craft in audit.crafts:
        boat = "lifeboat" in craft.families or "rescue-boat" in craft.families
        if boat and craft.clear and not craft.lots and not audit.outside:
            yield audit.finding(
                "EQ05",
                "query",
                "at next port",
                "craft",
                craft.row,
                "name",
                craft.name,
                "no line of the Inventory names this boat: nothing of its equipment is evaluated",
                "go through the boat and enter what is there",
            )


@check(
    Code(
        "EX01",
        "expired-and-short",
        ("action", "note"),
        "what is counted is in date; here the quantity would do, but part of it has expired",
        "expired flares, rations and medicines count for nothing",
        "six hand flares in Lifeboat 1, all marked 2026-08, on 25 November 2026",
        "the same six beside six new ones; a lot marked with the very day asked",
        "replace the expired lot and take it out of the craft",
        "LSA Code 1.2.3 and the item's own paragraph",
    )
)
def expired_and_short(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every counted rule that expired lots leave unmet."""
    for verdict in _failed(audit):
        if verdict.rule.evidence != "inventory" or not _only_expired(verdict):
            continue
        rule, craft = verdict.rule, verdict.craft
        expired = _expired(verdict, audit.on)
        for entry in expired:
            entry.reported = True
        caution = f" {PYROTECHNIC_CAUTION}" if catalogue.items()[rule.item].group == "pyrotechnic" else ""
        yield audit.finding(
            "EX01",
            _grade(craft, "action"),
            _priority(craft, rule.priority),
            "inventory",
            expired[0].row,
            "expires",
            craft.name,
            f"{rule.item}: {amount(verdict.asked, rule.unit)} asked, {amount(verdict.carried.sure, rule.unit)} in "
            f"date{_extra(craft)}; expired: {_list_lots(audit, expired)}",
            f"replace the expired lot in {craft.name}.{caution}",
            rule,
            required=verdict.asked,
            carried=verdict.carried.sure,
        )


@check(
    Code(
        "EX03",
        "lapses-and-leaves-short",
        ("due", "note"),
        "nothing lapses within its warning days without enough left: pyrotechnics 90 days, hydrostatic releases and "
        "medicines 60, others 30 (--warn sets one figure for all)",
        "stores are ordered weeks before a port that has them",
        "the only six hand flares of a boat lapse in 70 days",
        "a lot that lapses in 91 days; one that lapses while enough others stay in date (a note, EX04)",
        "order now, for the last port before the date",
        "LSA Code 1.2.3 and the item's own paragraph; warning days are our choice",
    )
)
def lapses_and_leaves_short(audit: Audit) -> Iterator[Finding]:
    """Yield a due finding for every rule that will be unmet within the warning period."""
    for verdict in verdicts(audit):
        if verdict.state != "passed" or verdict.due is None:
            continue
        rule, craft, due = verdict.rule, verdict.craft, verdict.due
        lapsing = [entry for entry in verdict.lots if entry.lot.expires and audit.on <= entry.lot.expires <= due]
        for entry in lapsing:
            entry.reported = True
        left = days_left(due, audit.on)
        last = max(lapsing, key=lambda entry: entry.lot.expires or date.min)
        yield audit.finding(
            "EX03",
            _grade(craft, "due"),
            _priority(craft, priority_of_due(left)),
            "inventory",
            last.row,
            "expires",
            craft.name,
            f"{rule.item}: lapses on {due}, in {days_words(left)}; then fewer than the "
            f"{amount(verdict.asked, rule.unit)} asked are left",
            f"order so that {craft.name} is supplied before {due}",
            rule,
            required=verdict.asked,
            carried=verdict.carried.sure,
        )


@check(
    Code(
        "EX02",
        "expired-lot-on-board",
        ("note", "query"),
        "an expired lot that no rule needs is taken away",
        "in the dark a hand takes the first flare it finds",
        "a lot of hand flares past its date beside enough that are in date",
        "a lot whose condition is 'awaiting landing': it is out of the way already",
        "take it out; set its condition to 'awaiting landing' until it is landed",
        "LSA Code 1.2.3",
    )
)
def expired_lot_on_board(audit: Audit) -> Iterator[Finding]:
    """Yield a note for every expired lot that no shortage names, a query where no rule counts its item."""
    verdicts(audit)
    for entry in audit.lots:
        if entry.reported or stock.standing(entry.lot, audit.on) != stock.EXPIRED:
            continue
        entry.reported = True
        item = catalogue.items()[entry.lot.item]
        caution = f" {PYROTECHNIC_CAUTION}" if item.group == "pyrotechnic" else ""
        if entry.counted:
            remedy = f"remove from craft and set the condition to 'awaiting landing'.{caution}"
        else:
            remedy = f"replace or remove it.{caution}"
        yield audit.finding(
            "EX02",
            "note" if entry.counted else "query",
            "plan" if entry.counted else "at next port",
            "inventory",
            entry.row,
            "expires",
            lot_name(entry.row),
            f"{entry.lot.item} in {entry.place}: expired on {entry.lot.expires}"
            + ("" if entry.counted else "; no rule of this audit counts it here"),
            remedy,
            rule_key="expiry.expired-lot",
            source="LSA Code 1.2.3",
        )


@check(
    Code(
        "EX04",
        "lapses-soon",
        ("note", "due"),
        "lots that lapse within their warning days while enough others stay, and those that no rule of this audit "
        "counts",
        "a date known early costs nothing",
        "one of two lots of hand flares lapses in 40 days; the bridge's line-throwing rockets lapse in 60",
        "a lot that lapses after its warning days; one already reported by EX03",
        "plan its replacement",
        "LSA Code 1.2.3; warning days are our choice",
    )
)
def lapses_soon(audit: Audit) -> Iterator[Finding]:
    """Yield a note for every lapsing lot not reported already; due where no rule counts its item."""
    for entry in audit.lots:
        expires = entry.lot.expires
        if entry.reported or expires is None or expires < audit.on or entry.lot.condition not in stock.FIT_CONDITIONS:
            continue
        left = days_left(expires, audit.on)
        if left > audit.warn_days(catalogue.items()[entry.lot.item].group):
            continue
        entry.reported = True
        yield audit.finding(
            "EX04",
            "note" if entry.counted else "due",
            "plan" if entry.counted else "at next port",
            "inventory",
            entry.row,
            "expires",
            lot_name(entry.row),
            f"{entry.lot.item} in {entry.place}: lapses on {expires}, in {days_words(left)}"
            + ("; enough others stay in date" if entry.counted else ""),
            "plan its replacement",
            rule_key="expiry.lapsing-lot",
            source="LSA Code 1.2.3",
        )
