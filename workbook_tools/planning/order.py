"""The requisition: what to order, for which call, so that nothing lapses unreplaced as far as the calls allow.

The model: each need of order_needs has stretches of days on which something is lacking. A lot ordered for a call is on
board from the day it can be had there until its life ends (lives.csv), and gives its pieces to every need of its item
in its place. placing.py chooses: days uncovered first, then calls, then days of life thrown away, which are those that
a piece lies on board beyond what is asked, weighted by its share of the full quantity. How many days are uncovered
follows from the calls alone, since any quantity can be ordered at a call that has the supplier.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from workbook_tools.checks.context import Audit
from workbook_tools.core.expiry import days_left
from workbook_tools.core.interval import Interval
from workbook_tools.core.servicing import holds_until
from workbook_tools.core.stretches import Stretch, day_after, runs, split
from workbook_tools.core.words import counted
from workbook_tools.findings import BookResult, Finding
from workbook_tools.planning.calls import Call, Schedule, last_in_time, schedule
from workbook_tools.planning.interim import interim_options, why_uncovered
from workbook_tools.planning.lives import lives
from workbook_tools.planning.order_needs import Need, needs
from workbook_tools.planning.placing import Choice, Placement, Problem, Requirement, pieces_for, place
from workbook_tools.rules.model import STATUS_WORDS

_DAY = timedelta(days=1)
_ABOUT_STOCK = frozenset({"EQ01", "EX01", "EX03", "SH10", "SH11", "SH12", "FF04", "FF05"})
_ABOUT_MEASURES = frozenset({"EQ02", "SH13", "SH14", "SH16"})


@dataclass(frozen=True, slots=True)
class OrderLine:
    """So many pieces of one item for one place, to come on board at a call; needs: whom they serve.

    lapses: the last good day of what is replaced (None: it is short already). last_call: the last call that is in time
    (None: none is). given_up: days of life of the lot in use that are thrown away by replacing it at this call rather
    than on its last day.
    """

    call: Call
    supplier: str
    item: str
    place: str
    pieces: int
    needs: tuple[Need, ...]
    lapses: date | None
    last_call: Call | None
    given_up: int

    @property
    def amount(self) -> float:
        """What the pieces come to in the unit of the rule."""
        return self.pieces * self.needs[0].piece.each


@dataclass(frozen=True, slots=True)
class Deficiency:
    """Days on which a need stays uncovered, why, and what is open to the master meanwhile."""

    need: Need
    stretch: Stretch
    why: str
    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OrderPlan:
    """The requisition of one book."""

    ship: str
    imo_number: str
    book: str
    on: date
    until: date
    schedule: Schedule
    needs: tuple[Need, ...]
    lines: tuple[OrderLine, ...]
    deficiencies: tuple[Deficiency, ...]
    uncovered_days: int
    not_evaluated: int  # rules of the audit of which nothing is known
    findings: dict[tuple[str, str], Finding]  # of the audit, by rule and subject
    not_ordered: tuple[Finding, ...]  # about measures, sides and sizes: for these no number of pieces is worked out
    assumed: tuple[str, ...]

    @property
    def calls(self) -> list[Call]:
        """The calls for which something is ordered, in the order of arrival."""
        return sorted({line.call for line in self.lines}, key=lambda call: call.number)


@dataclass(frozen=True, slots=True)
class _Supply:
    """One item for one place, as it can be ordered: the needs it serves, by their number."""

    item: str
    place: str
    supplier: str
    numbers: tuple[int, ...]


def plan_order(audit: Audit, result: BookResult, until: date) -> OrderPlan:
    """Work out the requisition of an audited book until a day. Raises NotSolved where the solver gives up."""
    found, calls = needs(audit, until), schedule(audit, until)
    supplies = _supplies(found)
    problem, parts, made = _problem(found, supplies, calls.calls, until)
    placed = place(problem)
    lines = _lines(found, supplies, made, placed, calls.calls, audit.on)
    return OrderPlan(
        result.ship,
        result.imo_number,
        result.book,
        audit.on,
        until,
        calls,
        tuple(found),
        tuple(sorted(lines, key=_by_call)),
        tuple(sorted(_deficiencies(audit, found, calls, parts, placed), key=lambda entry: entry.stretch.first)),
        placed.uncovered_days,
        result.state_counts()["not_evaluated"],
        {(entry.rule, entry.subject): entry for entry in result.findings if entry.code in _ABOUT_STOCK},
        tuple(entry for entry in result.findings if entry.code in _ABOUT_MEASURES),
        (*calls.assumed, *_lives_taken(lines), *result.assumptions),
    )


def _by_call(line: OrderLine) -> tuple[int, str, str, str]:
    return line.call.number, line.supplier, line.item, line.place


def _supplies(found: Sequence[Need]) -> list[_Supply]:
    """What can be ordered: needs of one item in one place, of like pieces, are served by the same pieces."""
    groups: dict[tuple[object, ...], list[int]] = {}
    for number, need in enumerate(found):
        piece = need.piece
        key = (need.item, need.place, need.agent, piece.unit, piece.content, piece.content_unit)
        groups.setdefault(key, []).append(number)
    return [
        _Supply(found[numbers[0]].item, found[numbers[0]].place, found[numbers[0]].supplier, tuple(numbers))
        for numbers in groups.values()
    ]


def on_board(item: str, call: Call) -> date:
    """The last day on which a new lot of an item from a call is in date; an undated item holds for good."""
    life = lives().get(item)
    return holds_until(call.ready, Interval(months=life.months)) if life else date.max


def _problem(
    found: Sequence[Need], supplies: Sequence[_Supply], calls: Sequence[Call], until: date
) -> tuple[Problem, list[tuple[int, Stretch]], list[tuple[int, Call]]]:
    """The problem, with the need and stretch of each requirement and the supply and call of each choice."""
    problem, parts, made = Problem(), [], []
    for place_number, supply in enumerate(supplies):
        offering = [call for call in calls if supply.supplier in call.offers]
        ends = {call.number: on_board(supply.item, call) for call in offering}
        cuts = [day for call in offering for day in (call.ready, day_after(ends[call.number]))]
        own: list[tuple[int, int, Stretch]] = []
        for number in supply.numbers:
            for stretch in found[number].stretches:
                for part in split(stretch, cuts):
                    own.append((len(problem.requirements), number, part))
                    problem.requirements.append(Requirement(part.amount, part.days, number))
                    parts.append((number, part))
        for call in offering:
            gives = [
                (requirement, found[number].piece.each)
                for requirement, number, part in own
                if call.ready <= part.first and part.last <= ends[call.number]
            ]
            if gives:
                most = max(pieces_for(problem.requirements[at].amount, each) for at, each in gives)
                days = days_left(min(ends[call.number], until), call.ready) + 1
                share = max(found[number].piece.each / found[number].asked for number in supply.numbers)
                problem.choices.append(Choice((call.number,), tuple(gives), most, days * share))
                made.append((place_number, call))
    return problem, parts, made


def _lines(
    found: Sequence[Need],
    supplies: Sequence[_Supply],
    made: Sequence[tuple[int, Call]],
    placed: Placement,
    calls: Sequence[Call],
    on: date,
) -> list[OrderLine]:
    lines = []
    for choice, pieces in placed.pieces.items():
        number, call = made[choice]
        supply = supplies[number]
        served = tuple(found[entry] for entry in supply.numbers)
        first = _first_after(served, call)
        lines.append(
            OrderLine(
                call,
                supply.supplier,
                supply.item,
                supply.place,
                pieces,
                served,
                first - _DAY if first > on else None,
                last_in_time(calls, supply.supplier, first),
                max(0, days_left(first - _DAY, call.ready)),
            )
        )
    return lines


def _first_after(served: Iterable[Need], call: Call) -> date:
    """The first day lacking that a call is in time for; where it comes too late for all, the first there is."""
    firsts = sorted(stretch.first for need in served for stretch in need.stretches)
    return next((first for first in firsts if first >= call.ready), firsts[0])


def _deficiencies(
    audit: Audit, found: Sequence[Need], calls: Schedule, parts: Sequence[tuple[int, Stretch]], placed: Placement
) -> Iterator[Deficiency]:
    by_need: dict[int, list[Stretch]] = {}
    for requirement in sorted(placed.uncovered):
        number, part = parts[requirement]
        by_need.setdefault(number, []).append(part)
    for number, stretches in by_need.items():
        need = found[number]
        for stretch in runs(stretches):
            why = why_uncovered(calls, need.supplier, stretch)
            yield Deficiency(need, stretch, why, tuple(interim_options(audit, need, stretch, calls)))


def _lives_taken(lines: Iterable[OrderLine]) -> list[str]:
    """The lives of new lots that the plan counts on, in words."""
    by_status: dict[str, list[str]] = {}
    for item in sorted({line.item for line in lines} & lives().keys()):
        life = lives()[item]
        by_status.setdefault(life.status, []).append(f"{item} {counted(life.months, 'month')}")
    taken = [f"{', '.join(of_status)} ({STATUS_WORDS[status]})" for status, of_status in by_status.items()]
    return [f"a new lot lasts from the day it comes on board: {'; '.join(taken)}"] if taken else []
