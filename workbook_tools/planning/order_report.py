"""The requisition in words: a page grouped by call and supplier, and the same as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from workbook_tools import catalogue
from workbook_tools.checks.cautions import CO2_CAUTION, PYROTECHNIC_CAUTION
from workbook_tools.columns.suppliers import SUPPLIER_WORDS
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.expiry import days_words
from workbook_tools.core.quantity import amount
from workbook_tools.core.words import counted
from workbook_tools.planning.calls import Call
from workbook_tools.planning.order import Deficiency, OrderLine, OrderPlan
from workbook_tools.planning.order_needs import Need
from workbook_tools.reports.layout import Block, Line, Page, ship_title

CONTRACT = 1
TRANSPORT_CAUTION = (
    "Pyrotechnics are dangerous goods of class 1: how they are carried to the ship, stowed and landed follows the "
    "supplier's papers and the port's rules. Agree with the agent, when the order is sent, who takes the old ones; "
    "keep them apart and marked until then."
)
RAFT_RELEASE_CAUTION = (
    "Hydrostatic releases are fitted by the maker's instructions, painter and weak link looked at by a second person."
)


def as_page(plan: OrderPlan) -> Page:
    """The requisition as a page."""
    blocks = [block for call in plan.calls for block in _call_blocks(plan, call)]
    return Page(
        title="Order in time",
        subtitle=f"{ship_title(plan.ship, plan.imo_number)}: what to order from {plan.on} until {plan.until}",
        verdict=_verdict(plan),
        facts=_facts(plan),
        blocks=[
            *(blocks or [Block("Orders", ("Order",), [], "Nothing has to be ordered in this period.")]),
            _deficiency_block(plan),
            *_option_blocks(plan),
            *_landing(plan),
        ],
        cautions=_cautions(plan),
        signatures=("Drawn up by", "Master"),
    )


def _verdict(plan: OrderPlan) -> str:
    calls = len(plan.calls)
    lines = len(plan.lines)
    ordered = f"{counted(lines, 'order line')} for {counted(calls, 'call')}"
    if plan.lines:
        ordered += f"; the first is to be sent {_send_words(plan, min(plan.calls, key=lambda call: call.send_by))}"
    if not plan.deficiencies:
        return f"No day uncovered by what is recorded: {ordered if plan.lines else 'nothing has to be ordered'}"
    things = len({(entry.need.rule, entry.need.subject) for entry in plan.deficiencies})
    return (
        f"ACTION: {counted(things, 'thing')} will be lacking on some days "
        f"({days_words(plan.uncovered_days)} in all, each thing by itself); {ordered}"
    )


def _send_words(plan: OrderPlan, call: Call) -> str:
    if call.send_by < plan.on:
        return f"at once (it was to go by {call.send_by}; it comes on board on {call.ready})"
    return f"by {call.send_by}"


def _facts(plan: OrderPlan) -> list[tuple[str, str]]:
    planned = plan.schedule.calls
    facts = [("Book", plan.book), ("Calls planned", "; ".join(call.words() for call in planned) or "none")]
    if not plan.schedule.kept:
        facts[-1] = ("Calls planned", "the book has no Ports sheet: enter the calls there")
    elif planned and planned[-1].departure < plan.until:
        facts.append(("After the last call", f"nothing can be planned from {planned[-1].departure} on"))
    if plan.not_evaluated:
        facts.append(
            (
                "Not evaluated",
                f"{counted(plan.not_evaluated, 'rule')} of the audit: davitbook check names what is not recorded",
            )
        )
    facts += [("Left out", text) for text in plan.schedule.left_out]
    facts += [("Assumed", text) for text in plan.assumed]
    if plan.not_ordered:
        ids = ", ".join(finding.id for finding in plan.not_ordered)
        facts.append(("Not ordered here", f"lines too short, sides and sizes: see the audit ({ids})"))
    facts.append(
        (
            "How it is chosen",
            "fewest days uncovered, then fewest calls, then least life thrown away; a lot that lapses is ordered only "
            "where a rule would be broken",
        )
    )
    return facts


def _call_blocks(plan: OrderPlan, call: Call) -> Iterator[Block]:
    for supplier, words in SUPPLIER_WORDS.items():
        lines = [line for line in plan.lines if line.call == call and line.supplier == supplier]
        if lines:
            yield Block(
                f"{call.words()}: {words}; send the order {_send_words(plan, call)}",
                ("Order", "What", "For", "Lapses", "Last call in time", "Asked by"),
                [_order_line(plan, line) for line in lines],
                "",
            )


def _order_line(plan: OrderPlan, line: OrderLine) -> Line:
    last = line.last_call
    late = "none" if last is None else "this one" if last == line.call else f"{last.port} {last.arrival}"
    dated = any(entry.lot.expires == line.lapses for need in line.needs for entry in need.lots)
    lapses = "short now" if line.lapses is None else str(line.lapses) if dated else f"short after {line.lapses}"
    asked = "; ".join(dict.fromkeys(_asked_words(plan, need) for need in line.needs))
    return Line((quantity_words(line), thing_words(line.needs[0]), line.place, lapses, late, asked), "")


def _asked_words(plan: OrderPlan, need: Need) -> str:
    said = f"{need.paragraph} ({need.rule})" if need.counted else f"{need.paragraph} (no rule counts it)"
    finding = plan.findings.get((need.rule, need.subject))
    if finding is not None and not finding.followed_up:
        said += f"; {finding.id}"
    elif finding is not None and finding.follow_up is not None:
        order = finding.follow_up.order or "no number"
        expected = f", expected {finding.follow_up.expected}" if finding.follow_up.expected else ""
        said += f"; ORDERED ALREADY: {order}{expected} ({finding.id})"
    return said


def thing_words(need: Need) -> str:
    """What is ordered: the item, and of a spare charge its type and size."""
    return f"{need.item} ({need.agent})" if need.agent and need.agent != "ship" else need.item


def quantity_words(line: OrderLine) -> str:
    """'120 x sachet of 500 mL = 60 L'; plain pieces as a number."""
    piece, unit = line.needs[0].piece, line.needs[0].unit
    if piece.content is not None:
        one = f"{piece.unit} of {piece.content:,g} {piece.content_unit or ''}".strip()
        same = piece.unit == unit or unit == "each"
        total = "" if same and piece.each == 1 else f" = {amount(line.amount, unit)}"
        return f"{line.pieces} x {one}{total}" if piece.unit != "each" else f"{line.pieces} of {one[8:]}{total}"
    words = amount(float(line.pieces), piece.unit)
    return words if piece.recorded else f"{words} (content of a piece not recorded)"


def _deficiency_block(plan: OrderPlan) -> Block:
    lines = [
        Line(
            (
                f"{thing_words(entry.need)}: {amount(entry.stretch.amount, entry.need.unit)} of "
                f"{amount(entry.need.asked, entry.need.unit)} lacking",
                entry.need.subject,
                f"{entry.stretch.first} to {entry.stretch.last}",
                days_words(entry.stretch.days),
                entry.why,
            ),
            "urgent",
        )
        for entry in plan.deficiencies
    ]
    return Block(
        "Deficiencies to come",
        ("What", "For", "Uncovered", "How long", "Why"),
        lines,
        "None: every lack can be met at a call in time.",
    )


def _option_blocks(plan: OrderPlan) -> Iterator[Block]:
    """What is open meanwhile, each text once with what it is for."""
    grouped: dict[str, list[Deficiency]] = {}
    for entry in plan.deficiencies:
        for option in entry.options:
            grouped.setdefault(option, []).append(entry)
    if grouped:
        lines = [Line((_named(entries), option)) for option, entries in grouped.items()]
        yield Block("Open to the master meanwhile", ("For", "What can be done or asked"), lines, "")


def _named(entries: list[Deficiency]) -> str:
    names = list(dict.fromkeys(f"{thing_words(entry.need)}, {entry.need.subject}" for entry in entries))
    return "; ".join(names) if len(names) <= 2 else f"{names[0]} and {len(names) - 1} more"


def _landing(plan: OrderPlan) -> Iterator[Block]:
    """Pyrotechnics that are replaced: they are to be landed at the call that brings the new ones."""
    lines: dict[tuple[str, ...], None] = {}
    for line in plan.lines:
        if line.supplier != "pyrotechnics":
            continue
        for need in line.needs:
            for entry in need.lots:
                quantity = amount(entry.lot.quantity or 0.0, entry.lot.unit or "each")
                lines[line.call.words(), f"{quantity} {entry.lot.item}", entry.place, str(entry.lot.expires)] = None
    if lines:
        yield Block(
            "Old pyrotechnics to land",
            ("At", "What", "From", "Lapses"),
            [Line(cells) for cells in lines],
            "",
        )


def _cautions(plan: OrderPlan) -> list[str]:
    items = {need.item for need in plan.needs}
    groups = {catalogue.items()[item].group for item in items if item in catalogue.items()}
    found = [CAUTION]
    if "pyrotechnic" in groups:
        found += [PYROTECHNIC_CAUTION, TRANSPORT_CAUTION]
    if "hydrostatic release" in groups:
        found.append(RAFT_RELEASE_CAUTION)
    if "medicine" in groups:
        found.append(
            "Medicines: only what the flag's list and the medical guide on board name, bought by prescription where "
            "the port asks for one."
        )
    if any(need.agent and "CO2" in need.agent for need in plan.needs):
        found.append(CO2_CAUTION)
    return found


# ---- JSON --------------------------------------------------------------------------------------------------------


def as_dict(plan: OrderPlan) -> dict[str, Any]:
    """The requisition as plain data."""
    return {
        "contract": CONTRACT,
        "ship": plan.ship,
        "imo_number": plan.imo_number,
        "book": plan.book,
        "on": plan.on.isoformat(),
        "until": plan.until.isoformat(),
        "caution": CAUTION,
        "cautions": _cautions(plan)[1:],
        "uncovered_days": plan.uncovered_days,
        "rules_not_evaluated": plan.not_evaluated,
        "calls": [_call_dict(plan, call) for call in plan.calls],
        "deficiencies": [_deficiency_dict(entry) for entry in plan.deficiencies],
        "calls_left_out": list(plan.schedule.left_out),
        "assumed": list(plan.assumed),
    }


def _call_dict(plan: OrderPlan, call: Call) -> dict[str, Any]:
    lines = [line for line in plan.lines if line.call == call]
    suppliers = [name for name in SUPPLIER_WORDS if any(line.supplier == name for line in lines)]
    return {
        "port": call.port,
        "arrival": call.arrival.isoformat(),
        "departure": call.departure.isoformat(),
        "cell": call.cell,
        "on_board_from": call.ready.isoformat(),
        "send_by": max(call.send_by, plan.on).isoformat(),
        "overdue": call.send_by < plan.on,
        "suppliers": [
            {"supplier": name, "lines": [_line_dict(plan, line) for line in lines if line.supplier == name]}
            for name in suppliers
        ],
    }


def _line_dict(plan: OrderPlan, line: OrderLine) -> dict[str, Any]:
    piece = line.needs[0].piece
    return {
        "item": line.item,
        "kind": line.needs[0].agent,
        "place": line.place,
        "pieces": line.pieces,
        "piece": {"unit": piece.unit, "content": piece.content, "content_unit": piece.content_unit},
        "content_recorded": piece.recorded,
        "amount": line.amount,
        "unit": line.needs[0].unit,
        "lapses": _iso(line.lapses),
        "last_call_in_time": None
        if line.last_call is None
        else {"port": line.last_call.port, "arrival": line.last_call.arrival.isoformat()},
        "life_given_up_days": line.given_up,
        "needs": [_need_dict(plan, need) for need in line.needs],
    }


def _need_dict(plan: OrderPlan, need: Need) -> dict[str, Any]:
    finding = plan.findings.get((need.rule, need.subject))
    return {
        "subject": need.subject,
        "rule": need.rule,
        "source": need.paragraph,
        "asked": need.asked,
        "unit": need.unit,
        "sheet": need.sheet,
        "cell": need.cell,
        "counted_by_a_rule": need.counted,
        "finding": finding.id if finding else None,
        "ordered_already": finding.follow_up.order if finding and finding.followed_up and finding.follow_up else None,
        "lacking": [
            {"from": stretch.first.isoformat(), "until": stretch.last.isoformat(), "amount": stretch.amount}
            for stretch in need.stretches
        ],
    }


def _deficiency_dict(entry: Deficiency) -> dict[str, Any]:
    need = entry.need
    return {
        "item": need.item,
        "subject": need.subject,
        "rule": need.rule,
        "source": need.paragraph,
        "lacking": entry.stretch.amount,
        "asked": need.asked,
        "unit": need.unit,
        "from": entry.stretch.first.isoformat(),
        "until": entry.stretch.last.isoformat(),
        "days": entry.stretch.days,
        "sheet": need.sheet,
        "cell": need.cell,
        "why": entry.why,
        "options": list(entry.options),
    }


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
