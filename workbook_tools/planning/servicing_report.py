"""The servicing plan in words: a page by call and by who does the work, and the same as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from workbook_tools.checks.servicing import caution_for
from workbook_tools.columns.suppliers import SUPPLIER_WORDS
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.expiry import days_words
from workbook_tools.core.words import counted
from workbook_tools.planning.calls import Call
from workbook_tools.planning.servicing import EXCHANGED, FETCHED, IN_STAY, Gap, Job, ServicingPlan, Visit
from workbook_tools.reports.layout import Block, Line, Page, ship_title

CONTRACT = 1
RAFT_CAUTION = (
    "A raft that comes back, or takes another's place, is lashed with its release and painter made fast by the maker's "
    "instructions before the ship sails; tell the master how many places are left while one is ashore."
)


def as_page(plan: ServicingPlan) -> Page:
    """The plan as a page."""
    blocks = [block for call in plan.calls for block in _call_blocks(plan, call)]
    return Page(
        title="Servicing plan",
        subtitle=f"{ship_title(plan.ship, plan.imo_number)}: services from {plan.on} until {plan.until}",
        verdict=_verdict(plan),
        facts=_facts(plan),
        blocks=[
            *(blocks or [Block("Services", ("Service",), [], "Nothing falls due that a call is needed for.")]),
            _gap_block(plan),
            *_raft_blocks(plan),
            *_crew_block(plan),
            *_not_planned(plan),
        ],
        cautions=_cautions(plan),
        signatures=("Drawn up by", "Master"),
    )


def _verdict(plan: ServicingPlan) -> str:
    jobs, calls = len(plan.jobs), len(plan.calls)
    placed = f"{counted(jobs, 'service')} at {counted(calls, 'call')}"
    if not plan.gaps:
        return f"Every service on record in force on every day: {placed if jobs else 'none falls due'}"
    things = len({(gap.task.rule, gap.task.thing) for gap in plan.gaps})
    return (
        f"ACTION: {counted(things, 'service')} cannot be in force on some days "
        f"({days_words(plan.uncovered_days)} in all, each by itself); {placed}"
    )


def _facts(plan: ServicingPlan) -> list[tuple[str, str]]:
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
    if any(visit.how == EXCHANGED for visit in plan.visits):
        facts.append(("Assumed", "an exchange raft is of the same kind and size, and serviced on the day it comes"))
    facts.append(("Assumed", "as many persons on board, and the same craft, as are recorded now"))
    facts.append(
        (
            "How it is chosen",
            "fewest days without a service in force, then fewest calls, then least validity thrown away; rafts ashore "
            "only as the rules on places allow",
        )
    )
    return facts


def _send_words(plan: ServicingPlan, call: Call) -> str:
    return "book at once" if call.send_by <= plan.on else f"book by {call.send_by}"


def _call_blocks(plan: ServicingPlan, call: Call) -> Iterator[Block]:
    for supplier, words in SUPPLIER_WORDS.items():
        jobs = [job for job in plan.jobs if job.call == call and job.task.supplier == supplier]
        if jobs:
            yield Block(
                f"{call.words()}: {words}; {_send_words(plan, call)}",
                ("Service", "Of", "Due", "Then holds until", "Asked by"),
                [_job_line(group) for group in _groups(jobs)],
                "",
            )
    fetched = [visit for visit in plan.visits if visit.fetched == call]
    if fetched:
        lines = [Line((visit.raft, visit.call.words())) for visit in fetched]
        yield Block(f"{call.words()}: rafts to fetch", ("Raft", "Landed at"), lines, "")


def _groups(jobs: Sequence[Job]) -> list[list[Job]]:
    """Services that differ in nothing but the thing, as one line."""
    found: dict[tuple[object, ...], list[Job]] = {}
    for job in jobs:
        found.setdefault((job.task.service, job.task.rule, job.was_due, job.holds), []).append(job)
    return list(found.values())


def _job_line(group: Sequence[Job]) -> Line:
    first = group[0]
    late = first.was_due < first.done
    due = f"{first.was_due}, LATE" if late else f"{first.was_due}"
    things = ", ".join(job.task.thing for job in group)
    return Line((first.task.service, things, due, str(first.holds), first.task.paragraph), "urgent" if late else "")


def _gap_block(plan: ServicingPlan) -> Block:
    lines = [
        Line(
            (
                gap.task.service,
                gap.task.thing,
                f"{gap.stretch.first} to {gap.stretch.last}",
                days_words(gap.stretch.days),
                gap.why,
            ),
            "urgent",
        )
        for gap in plan.gaps
    ]
    return Block(
        "What cannot be in time",
        ("Service", "Of", "Not in force", "How long", "Which constraint"),
        lines,
        "Nothing: every service is in force on every day.",
    )


def _raft_blocks(plan: ServicingPlan) -> Iterator[Block]:
    if plan.visits:
        yield Block(
            "Rafts ashore",
            ("Raft", "Landed at", "How", "Off the ship"),
            [Line((visit.raft, visit.call.words(), _how(visit), _away(visit))) for visit in plan.visits],
            "",
        )


def _how(visit: Visit) -> str:
    if visit.how == FETCHED and visit.fetched is not None:
        return f"fetched at {visit.fetched.words()}, before another goes ashore"
    return "back on board within the stay" if visit.how == IN_STAY else "exchanged for one of the same kind"


def _away(visit: Visit) -> str:
    return "never" if visit.ashore is None else f"{visit.ashore[0]} to {visit.ashore[1]}"


def _crew_block(plan: ServicingPlan) -> Iterator[Block]:
    if plan.work.on_board:
        ordered = sorted(plan.work.on_board, key=lambda entry: entry[2])
        lines = [Line((service, thing, str(due))) for service, thing, due in ordered]
        yield Block("By the crew, at no call", ("Service", "Of", "Due"), lines, "")


def _not_planned(plan: ServicingPlan) -> Iterator[Block]:
    grouped: dict[tuple[str, str], list[str]] = {}
    for service, thing, why in plan.work.not_planned:
        grouped.setdefault((service, why), []).append(thing)
    if grouped:
        lines = [Line((service, ", ".join(things), why)) for (service, why), things in grouped.items()]
        yield Block("Not planned: not evaluated by the audit", ("Service", "Of", "Why"), lines, "")


def _cautions(plan: ServicingPlan) -> list[str]:
    own = dict.fromkeys(caution_for(task.service).strip() for task in plan.work.tasks)
    found = [CAUTION, *(text for text in own if text)]
    return [*found, RAFT_CAUTION] if plan.visits else found


# ---- JSON --------------------------------------------------------------------------------------------------------


def as_dict(plan: ServicingPlan) -> dict[str, Any]:
    """The plan as plain data."""
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
        "gaps": [_gap_dict(gap) for gap in plan.gaps],
        "rafts_ashore": [_visit_dict(visit) for visit in plan.visits],
        "by_the_crew": [
            {"service": service, "thing": thing, "due": due.isoformat()} for service, thing, due in plan.work.on_board
        ],
        "not_planned": [
            {"service": service, "thing": thing, "why": why} for service, thing, why in plan.work.not_planned
        ],
        "calls_left_out": list(plan.schedule.left_out),
        "assumed": list(plan.assumed),
    }


def _call_dict(plan: ServicingPlan, call: Call) -> dict[str, Any]:
    return {
        "port": call.port,
        "arrival": call.arrival.isoformat(),
        "departure": call.departure.isoformat(),
        "cell": call.cell,
        "book_by": max(call.send_by, plan.on).isoformat(),
        "services": [
            {
                "supplier": job.task.supplier,
                "service": job.task.service,
                "thing": job.task.thing,
                "rule": job.task.rule,
                "source": job.task.paragraph,
                "sheet": job.task.sheet,
                "cell": job.task.cell,
                "was_due": job.was_due.isoformat(),
                "done": job.done.isoformat(),
                "holds_until": job.holds.isoformat(),
                "late": job.was_due < job.done,
            }
            for job in plan.jobs
            if job.call == call
        ],
    }


def _gap_dict(gap: Gap) -> dict[str, Any]:
    return {
        "service": gap.task.service,
        "thing": gap.task.thing,
        "rule": gap.task.rule,
        "source": gap.task.paragraph,
        "sheet": gap.task.sheet,
        "cell": gap.task.cell,
        "from": gap.stretch.first.isoformat(),
        "until": gap.stretch.last.isoformat(),
        "days": gap.stretch.days,
        "why": gap.why,
    }


def _visit_dict(visit: Visit) -> dict[str, Any]:
    return {
        "raft": visit.raft,
        "port": visit.call.port,
        "arrival": visit.call.arrival.isoformat(),
        "how": visit.how,
        "fetched": None
        if visit.fetched is None
        else {"port": visit.fetched.port, "arrival": visit.fetched.arrival.isoformat()},
        "ashore": None if visit.ashore is None else [day.isoformat() for day in visit.ashore],
    }
