"""The servicing plan: which service at which call, and which rafts are ashore when.

The model: a service must be in force on every day from the end of the last one. Doing it at a call covers the days from
then until it would lapse again, as the audit counts it. A raft goes ashore for its services: exchanged for another at
once, back on board within the stay, or fetched when the ship comes back to the port; all that is due of it is done at
one visit. placing.py chooses: days without a service first, then calls, then days of validity thrown away. On no day
may rafts be ashore that the capacity rules do not let go: where a plan breaks this, the smallest set of rafts that does
is forbidden on every day, and it is solved anew until none does. Since a forbidden set stays forbidden in every plan,
the plan that is left is the best of those allowed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import combinations, product

from workbook_tools.checks.context import Audit
from workbook_tools.columns.suppliers import SUPPLIER_WORDS
from workbook_tools.core.expiry import days_left
from workbook_tools.core.stretches import Stretch, day_after, runs, split
from workbook_tools.findings import BookResult
from workbook_tools.planning.calls import Call, Schedule, same_port, schedule
from workbook_tools.planning.interim import why_uncovered
from workbook_tools.planning.placing import Choice, Limit, Placement, Problem, Requirement, place
from workbook_tools.planning.servicing_capacity import Capacity
from workbook_tools.planning.servicing_tasks import Task, Work, work

_DAY = timedelta(days=1)
_MOST_TURNS = 8  # of rafts that go ashore one after the other within one stay
_MOST_SETS = 500  # of unlike rafts that are forbidden at once; any that are left come up when they are used
# A day ashore weighs less than any day of validity: it decides only between plans that are otherwise alike.
_ASHORE_WEIGHT = 1e-4

EXCHANGED, IN_STAY, FETCHED = "exchanged", "back within the stay", "fetched at a later call"


@dataclass(frozen=True, slots=True)
class Visit:
    """A raft landed on a day of a call: exchanged, back within the stay, or fetched when the ship comes back.

    ashore: the first and last day off the ship. The day on which it is fetched is none of them: it is put on board
    before another goes ashore.
    """

    raft: str
    call: Call
    landed: date
    how: str
    fetched: Call | None = None
    ashore: tuple[date, date] | None = None

    def away_on(self, day: date) -> bool:
        """Whether the raft is off the ship on a day with none in its place."""
        return self.ashore is not None and self.ashore[0] <= day <= self.ashore[1]


@dataclass(frozen=True, slots=True)
class Job:
    """One service at one call: done on a day, holding until another; was_due: the day until which the last one held."""

    call: Call
    task: Task
    done: date
    holds: date
    was_due: date
    visit: Visit | None = None


@dataclass(frozen=True, slots=True)
class Gap:
    """Days on which a service is not in force, and which constraint keeps it from being done."""

    task: Task
    stretch: Stretch
    why: str


@dataclass(frozen=True, slots=True)
class ServicingPlan:
    """The servicing plan of one book."""

    ship: str
    imo_number: str
    book: str
    on: date
    until: date
    schedule: Schedule
    work: Work
    jobs: tuple[Job, ...]
    visits: tuple[Visit, ...]
    gaps: tuple[Gap, ...]
    uncovered_days: int
    not_evaluated: int  # rules of the audit of which nothing is known
    assumed: tuple[str, ...]

    @property
    def calls(self) -> list[Call]:
        """The calls at which something is done, in the order of arrival."""
        used = {job.call for job in self.jobs} | {visit.fetched for visit in self.visits if visit.fetched}
        return sorted(used, key=lambda call: call.number)


def plan_servicing(audit: Audit, result: BookResult, until: date) -> ServicingPlan:
    """Work out the servicing plan of an audited book until a day. Raises NotSolved where the solver gives up."""
    calls, todo = schedule(audit, until), work(audit, until)
    placing = _Servicing(audit.on, until, calls.calls, todo.tasks, Capacity(audit))
    placed = placing.solve()
    jobs, visits = placing.jobs(placed), placing.chosen_visits(placed)
    return ServicingPlan(
        result.ship,
        result.imo_number,
        result.book,
        audit.on,
        until,
        calls,
        todo,
        tuple(sorted(jobs, key=lambda job: (job.call.number, job.task.supplier, job.task.service, job.task.thing))),
        tuple(sorted(visits, key=lambda visit: (visit.call.number, visit.raft))),
        tuple(sorted(placing.gaps(placed, calls), key=lambda gap: (gap.stretch.first, gap.task.thing))),
        placed.uncovered_days,
        result.state_counts()["not_evaluated"],
        (*calls.assumed, *result.assumptions),
    )


@dataclass(slots=True)
class _Servicing:
    """The problem of one book, and how its choices are read back."""

    on: date
    until: date
    calls: Sequence[Call]
    tasks: Sequence[Task]
    capacity: Capacity
    problem: Problem = field(default_factory=Problem)
    parts: list[tuple[int, Stretch]] = field(default_factory=list)  # of each requirement: task and days
    options: list[tuple[int | None, Call, Visit | None]] = field(default_factory=list)  # of each choice
    refused: dict[str, dict[int, str]] = field(default_factory=dict)  # by raft and call: why no visit is possible

    def __post_init__(self) -> None:
        for number, task in enumerate(self.tasks):
            if not task.ashore:
                self._add_task(number, task)
        for raft in dict.fromkeys(task.craft for task in self.tasks if task.ashore):
            self._add_raft(raft)

    # ---- the problem ---------------------------------------------------------------------------------------------

    def _add_task(self, number: int, task: Task) -> None:
        offering = [call for call in self.calls if task.supplier in call.offers]
        own = self._requirements(number, task, [call.ready for call in offering])
        for call in offering:
            gives = _covered(own, call.ready, task.holds(call.ready))
            if gives:
                cost = days_left(min(task.holds(call.ready), self.until), call.ready) + 1
                self.problem.choices.append(Choice((call.number,), gives, 1, float(cost)))
                self.options.append((number, call, None))

    def _requirements(self, number: int, task: Task, days: Sequence[date]) -> list[tuple[int, Stretch]]:
        """One requirement for every part of the days without the service that doing it on one of some days covers."""
        first = max(task.due + _DAY, self.on)
        if first > self.until:
            return []
        cuts = [cut for day in days for cut in (day, day_after(task.holds(day)))]
        found = []
        for part in split(Stretch(first, self.until, 1.0), cuts):
            found.append((len(self.problem.requirements), part))
            self.problem.requirements.append(Requirement(1.0, part.days, number))
            self.parts.append((number, part))
        return found

    def _add_raft(self, raft: str) -> None:
        own = [(number, task) for number, task in enumerate(self.tasks) if task.ashore and task.craft == raft]
        stations = [call for call in self.calls if all(task.supplier in call.offers for _, task in own)]
        visits = [visit for call in stations for visit in self._visits(raft, call)]
        landed = [visit.landed for visit in visits]
        parts = [(task, self._requirements(number, task, landed)) for number, task in own]
        for visit in visits:
            day, call = visit.landed, visit.call
            gives = tuple(give for task, wanted in parts for give in _covered(wanted, day, task.holds(day)))
            if not gives:
                continue
            validity = days_left(min(self.until, *(task.holds(day) for task, _ in parts)), day) + 1
            away = 0 if visit.ashore is None else days_left(visit.ashore[1], visit.ashore[0]) + 1
            numbers = (call.number,) if visit.fetched is None else (call.number, visit.fetched.number)
            self.problem.choices.append(Choice(numbers, gives, 1, validity + away * _ASHORE_WEIGHT))
            self.options.append((None, call, visit))

    def _visits(self, raft: str, call: Call) -> Iterator[Visit]:
        """The ways in which a raft can be serviced at a call; what keeps it from all of them is noted."""
        if call.exchange_raft:
            yield Visit(raft, call, call.ready, EXCHANGED)
            return
        why = self.capacity.why_not([raft])
        if why:
            self._refuse(raft, call, f"no exchange raft there, and with {raft} ashore: {why}")
            return
        away = timedelta(days=call.raft_days)
        back = call.ready + away
        if back <= call.departure:  # one raft after the other where the stay is long enough
            day, rafts = call.ready, {task.craft for task in self.tasks if task.ashore}
            for _ in range(min(_MOST_TURNS, len(rafts))):
                if day + away > call.departure:
                    return
                yield Visit(raft, call, day, IN_STAY, None, (day, day + away))
                day += away + _DAY
            return
        later = next((other for other in self.calls if same_port(call, other) and other.arrival >= back), None)
        if later is not None:
            yield Visit(raft, call, call.ready, FETCHED, later, (call.ready, later.arrival - _DAY))
            return
        self._refuse(
            raft,
            call,
            f"no exchange raft there, the station keeps a raft {call.raft_days} days, the ship sails on "
            f"{call.departure} and does not come back within the plan",
        )

    def _refuse(self, raft: str, call: Call, why: str) -> None:
        self.refused.setdefault(raft, {})[call.number] = why

    # ---- capacity ------------------------------------------------------------------------------------------------

    def solve(self) -> Placement:
        """Solve, forbid what the capacity rules do not allow, and solve again until they allow it all."""
        self.problem.limits.extend(self._one_visit_at_a_time())
        while True:
            placed = place(self.problem)
            broken = self._broken(placed)
            if not broken:
                return placed
            for names in broken:
                self.problem.limits.extend(self._forbid(names))

    def _event_days(self) -> list[date]:
        return sorted({visit.ashore[0] for _, _, visit in self.options if visit is not None and visit.ashore})

    def _one_visit_at_a_time(self) -> Iterator[Limit]:
        """A raft that is ashore cannot be landed again before it is back."""
        by_raft: dict[str, list[tuple[int, Visit]]] = {}
        for number, (_, _, visit) in enumerate(self.options):
            if visit is not None:
                by_raft.setdefault(visit.raft, []).append((number, visit))
        for visits in by_raft.values():
            groups = {
                frozenset(number for number, visit in visits if visit.landed == day or visit.away_on(day))
                for day in {visit.landed for _, visit in visits}
            }
            groups |= {
                frozenset(number for number, visit in visits if visit.call.number == call)
                for call in {visit.call.number for _, visit in visits}
            }
            for group in sorted(groups, key=sorted):
                if len(group) > 1:
                    yield Limit(tuple((number, 1.0) for number in sorted(group)), 1.0)

    def _broken(self, placed: Placement) -> list[frozenset[str]]:
        """Smallest sets of rafts that the plan has ashore at once and the rules do not allow."""
        found: dict[frozenset[str], None] = {}
        chosen = self.chosen_visits(placed)
        for day in self._event_days():
            ashore = {visit.raft for visit in chosen if visit.away_on(day)}
            if len(ashore) > 1 and self.capacity.why_not(ashore):
                found[self.capacity.smallest(ashore)] = None
        return list(found)

    def _forbid(self, names: frozenset[str]) -> Iterator[Limit]:
        """That so many of like rafts, or just these, are ashore on one day."""
        for group in self._sets_like(names):
            for day in self._event_days():
                parts = tuple(
                    (number, 1.0)
                    for number, (_, _, visit) in enumerate(self.options)
                    if visit is not None and visit.raft in group and visit.away_on(day)
                )
                if len(parts) >= len(names):
                    yield Limit(parts, len(names) - 1.0)

    def _sets_like(self, names: frozenset[str]) -> Iterator[frozenset[str]]:
        alike = self.capacity.alike(names)
        if alike is not None:
            yield alike
            return
        groups: dict[object, list[str]] = {}
        for name in sorted(names):
            groups.setdefault(self.capacity.groups[name], []).append(name)
        pools = [
            combinations([name for name, group in self.capacity.groups.items() if group == key], len(members))
            for key, members in groups.items()
        ]
        yield names
        for count, chosen in enumerate(product(*pools)):
            if count >= _MOST_SETS:
                return
            if (entry := frozenset(name for part in chosen for name in part)) != names:
                yield entry

    # ---- what was chosen -----------------------------------------------------------------------------------------

    def chosen_visits(self, placed: Placement) -> list[Visit]:
        """The visits of a placement."""
        return [visit for number in sorted(placed.pieces) if (visit := self.options[number][2]) is not None]

    def jobs(self, placed: Placement) -> list[Job]:
        """The services of a placement, each with the day until which the one before holds."""
        at: dict[int, list[tuple[Call, Visit | None]]] = {}
        for number in placed.pieces:
            task, call, visit = self.options[number]
            if task is not None:
                at.setdefault(task, []).append((call, None))
        visits = self.chosen_visits(placed)
        for number, task_entry in enumerate(self.tasks):
            if task_entry.ashore:
                own = [(visit.call, visit) for visit in visits if visit.raft == task_entry.craft]
                at[number] = list(self._needed(task_entry, own))
        found = []
        for number, places in at.items():
            task_entry, due = self.tasks[number], self.tasks[number].due
            for call, visit in sorted(places, key=lambda entry: entry[0].number):
                done = call.ready if visit is None else visit.landed
                holds = task_entry.holds(done)
                found.append(Job(call, task_entry, done, holds, due, visit))
                due = holds
        return found

    def _needed(self, task: Task, visits: Sequence[tuple[Call, Visit]]) -> Iterator[tuple[Call, Visit]]:
        """Of a raft's visits those at which a service must be done, since it would lapse before the next visit."""
        ordered = sorted(visits, key=lambda entry: entry[0].number)
        held = task.due
        ends = [*(following.landed - _DAY for _, following in ordered[1:]), self.until]
        for (call, visit), end in zip(ordered, ends, strict=False):
            if held < end:
                held = task.holds(visit.landed)
                yield call, visit

    def gaps(self, placed: Placement, calls: Schedule) -> Iterator[Gap]:
        """The days that stay uncovered, with the constraint that keeps them so."""
        by_task: dict[int, list[Stretch]] = {}
        for requirement in sorted(placed.uncovered):
            number, part = self.parts[requirement]
            by_task.setdefault(number, []).append(part)
        for number, stretches in by_task.items():
            for stretch in runs(stretches):
                yield Gap(self.tasks[number], stretch, self._why(self.tasks[number], stretch, calls))

    def _why(self, task: Task, stretch: Stretch, calls: Schedule) -> str:
        in_time = [
            call for call in self.calls if call.ready <= stretch.first and task.holds(call.ready) >= stretch.first
        ]
        offering = [call for call in in_time if task.supplier in call.offers]
        if not offering:
            told = why_uncovered(calls, task.supplier, stretch)
            lapsed = any(task.supplier in call.offers and call.ready <= stretch.first for call in self.calls)
            words = SUPPLIER_WORDS[task.supplier]
            return f"no call with {words} in the days before that would hold so long" if lapsed else told
        refused = self.refused.get(task.craft, {})
        reasons: dict[str, list[str]] = {}
        for call in offering:
            if call.number in refused:
                reasons.setdefault(refused[call.number], []).append(call.words())
        if reasons:
            return "; ".join(f"{' and '.join(places)}: {reason}" for reason, places in reasons.items())
        ports = "; ".join(call.words() for call in offering)
        return f"capacity: {ports}: not all rafts that are due there may be ashore at once ({self._together(offering)})"

    def _together(self, offering: Sequence[Call]) -> str:
        rafts = {
            visit.raft for _, call, visit in self.options if visit is not None and call in offering and visit.ashore
        }
        return self.capacity.why_not(rafts) if rafts else "no raft can be landed there"


def _covered(own: Sequence[tuple[int, Stretch]], ready: date, holds: date) -> tuple[tuple[int, float], ...]:
    return tuple((number, 1.0) for number, part in own if ready <= part.first and part.last <= holds)
