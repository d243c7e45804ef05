"""Places work at calls: what is chosen at which call so that no day is uncovered, then fewest calls, then least wasted.

The model, for orders and for services alike
  A requirement is a stretch of days on which something is lacking: so many pieces, for so many days.
  A choice is something that can be done at a call (or needs two: landed at one, fetched at the other): each piece of it
  gives so much to the requirements whose days it covers. Choices may be bound by limits (not all of these rafts ashore
  at once).
  1. The days that stay uncovered are as few as possible, counted for each requirement.
  2. Among such plans the calls at which anything is done are as few as possible.
  3. Among those the cost, the days of life thrown away, is least.
The order is lexicographic: no number of calls outweighs an uncovered day, no life thrown away outweighs a call.

Choosing the fewest calls is set covering, for which no greedy choice is provably right (each call offers other things),
so each step is solved as a mixed-integer program by HiGHS, exactly (no gap is left open). HiGHS rather than CP-SAT: the
costs are fractions, the relaxation is tight (a lot's life covers days in one piece), and the library is small.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from workbook_tools.planning.program import Model


@dataclass(frozen=True, slots=True)
class Requirement:
    """So much that is lacking for so many days; owner says of what, so that stretches of one thing hang together."""

    amount: float
    days: int
    owner: int = 0


@dataclass(frozen=True, slots=True)
class Choice:
    """What can be done at one or more calls: gives (requirement, amount of one piece), at most so many pieces.

    cost: days of life thrown away by one piece, whatever the unit, as long as it is one for all.
    """

    calls: tuple[int, ...]
    gives: tuple[tuple[int, float], ...]
    most: int = 1
    cost: float = 0.0


@dataclass(frozen=True, slots=True)
class Limit:
    """The sum of factor x pieces over some choices is at most a number."""

    parts: tuple[tuple[int, float], ...]
    at_most: float


@dataclass(slots=True)
class Problem:
    """Requirements, choices and limits; everywhere the place in a list is the number by which others name it."""

    requirements: list[Requirement] = field(default_factory=list)
    choices: list[Choice] = field(default_factory=list)
    limits: list[Limit] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Placement:
    """Pieces of each choice (those of none left out), requirements left uncovered, calls used, and the three aims."""

    pieces: Mapping[int, int]
    uncovered: frozenset[int]
    calls: frozenset[int]
    uncovered_days: int
    cost: float


def place(problem: Problem) -> Placement:
    """The best placement, by the three aims in their order. Raises NotSolved where the solver gives up.

    >>> hand_flares = Problem([Requirement(6, 30)], [Choice((0,), ((0, 1),), 6, 9), Choice((1,), ((0, 1),), 6, 2)])
    >>> place(hand_flares).pieces
    {1: 6}
    """
    return _Placing(problem).solve()


_Parts = tuple[tuple[int, float], ...]  # choice and factor
_Row = tuple[_Parts, float]  # their sum is at least so much

# Amounts are compared as stock is counted: marked contents are rounded, so much of a quantity may be missing.
_ROUNDING = 1e-4
_WHOLE = 1e-6


class _Placing:
    """One problem on its way through the three aims."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.givers: list[list[tuple[int, float]]] = [[] for _ in problem.requirements]
        for number, choice in enumerate(problem.choices):
            for requirement, amount in choice.gives:
                if amount > 0:
                    self.givers[requirement].append((number, amount))
        self.limited = {number for limit in problem.limits for number, _ in limit.parts}
        self.open: list[int] = []  # requirements that some choice meets for certain or perhaps
        self.doubtful: set[int] = set()  # those of them that a limit may keep from being met

    def solve(self) -> Placement:
        self._sort_requirements()
        uncovered = set(range(len(self.problem.requirements))) - set(self.open)
        uncovered |= self._fewest_days()
        needed = [number for number in self.open if number not in uncovered]
        if not needed:
            return self._placement({}, uncovered)
        calls = self._fewest_calls(needed)
        return self._placement(self._least_cost(needed, calls), uncovered)

    def _sort_requirements(self) -> None:
        for number, requirement in enumerate(self.problem.requirements):
            free = sum(
                amount * self.problem.choices[choice].most
                for choice, amount in self.givers[number]
                if choice not in self.limited
            )
            bound = sum(amount * self.problem.choices[choice].most for choice, amount in self.givers[number])
            if _enough(free, requirement.amount):
                self.open.append(number)
            elif _enough(bound, requirement.amount):
                self.open.append(number)
                self.doubtful.add(number)

    def _fewest_days(self) -> set[int]:
        """The requirements that stay uncovered. Where no limit binds, each one that can be met is met."""
        if not self.doubtful:
            return set()
        model = Model()
        used = sorted({choice for number in self.doubtful for choice, _ in self.givers[number]} | self.limited)
        pieces = {choice: model.add(self.problem.choices[choice].most) for choice in used}
        lacking = {number: model.add(1, self.problem.requirements[number].days) for number in sorted(self.doubtful)}
        for number, flag in lacking.items():
            asked = self.problem.requirements[number].amount
            parts = [(pieces[choice], amount) for choice, amount in self.givers[number]]
            model.at_least([*parts, (flag, asked)], asked * (1 - _ROUNDING))
        self._add_limits(model, pieces)
        values = model.solve()
        return {number for number, flag in lacking.items() if values[flag] > 0.5}

    def _fewest_calls(self, needed: Sequence[int]) -> int:
        """The least number of calls at which the requirements can be met."""
        model = Model()
        calls = self._add_calls(model, cost=1)
        ways = [self._ways(number) for number in needed]
        if self.limited or None in ways:
            pieces = self._add_pieces(model, calls, needed, with_cost=False)
            self._add_limits(model, pieces)
        else:  # each can be met at one call alone: which calls are used is all that matters
            for covering in _narrowest(way for way in ways if way is not None):
                model.at_least([(calls[call], 1) for call in covering], 1)
        return round(model.objective())

    def _ways(self, number: int) -> frozenset[int] | None:
        """The calls any one of which meets a requirement alone; None where it takes several together."""
        asked = self.problem.requirements[number].amount
        found = set()
        for choice, amount in self.givers[number]:
            entry = self.problem.choices[choice]
            if len(entry.calls) != 1 or not _enough(amount * entry.most, asked):
                return None
            found.add(entry.calls[0])
        return frozenset(found)

    def _least_cost(self, needed: Sequence[int], most_calls: int) -> dict[int, int]:
        model = Model()
        calls = self._add_calls(model, cost=0)
        pieces = self._add_pieces(model, calls, needed, with_cost=True)
        self._add_limits(model, pieces)
        model.at_most([(variable, 1) for variable in calls.values()], most_calls)
        values = model.solve()
        return {choice: count for choice, variable in pieces.items() if (count := round(values[variable]))}

    def _add_calls(self, model: Model, cost: float) -> dict[int, int]:
        numbers = sorted({call for choice in self.problem.choices for call in choice.calls})
        return {call: model.add(1, cost) for call in numbers}

    def _add_pieces(
        self, model: Model, calls: Mapping[int, int], needed: Sequence[int], with_cost: bool
    ) -> dict[int, int]:
        """Variables of the choices that the needed requirements have a use for, bound to their calls."""
        rows = self._rows(needed)
        used = {choice for parts, _ in rows for choice, _ in parts} | self.limited
        pieces: dict[int, int] = {}
        for choice in sorted(used):
            entry = self.problem.choices[choice]
            pieces[choice] = model.add(entry.most, entry.cost if with_cost else 0)
            for call in entry.calls:
                model.at_least([(calls[call], entry.most), (pieces[choice], -1)], 0)
        for parts, asked in rows:
            model.at_least([(pieces[choice], amount) for choice, amount in parts], asked)
        return pieces

    def _rows(self, needed: Sequence[int]) -> list[_Row]:
        """What the requirements ask of the choices; in whole pieces where all give alike. Those that another row of the
        same owner implies are left out: who covers the first days of a lack mostly covers the rest."""
        by_owner: dict[int, dict[_Parts, float]] = {}
        for number in needed:
            asked = self.problem.requirements[number].amount
            amounts = {amount for _, amount in self.givers[number]}
            if len(amounts) == 1:
                each = amounts.pop()
                parts = tuple((choice, 1.0) for choice, _ in self.givers[number])
                asked = float(pieces_for(asked, each))
            else:
                parts, asked = tuple(self.givers[number]), asked * (1 - _ROUNDING)
            own = by_owner.setdefault(self.problem.requirements[number].owner, {})
            own[parts] = max(asked, own.get(parts, 0.0))
        return [row for own in by_owner.values() for row in _without_implied(own)]

    def _add_limits(self, model: Model, pieces: Mapping[int, int]) -> None:
        for limit in self.problem.limits:
            model.at_most([(pieces[choice], factor) for choice, factor in limit.parts], limit.at_most)

    def _placement(self, pieces: dict[int, int], uncovered: set[int]) -> Placement:
        choices, requirements = self.problem.choices, self.problem.requirements
        return Placement(
            pieces,
            frozenset(uncovered),
            frozenset(call for choice in pieces for call in choices[choice].calls),
            sum(requirements[number].days for number in uncovered),
            sum(choices[choice].cost * count for choice, count in pieces.items()),
        )


def pieces_for(asked: float, each: float) -> int:
    """The fewest pieces that make up an amount, but for the rounding of marked figures.

    >>> pieces_for(7, 5)
    2
    """
    return max(1, math.ceil(asked * (1 - _ROUNDING) / each - _WHOLE))


def _enough(amount: float, asked: float) -> bool:
    return amount >= asked * (1 - _ROUNDING) - _WHOLE


def _without_implied(rows: Mapping[_Parts, float]) -> list[_Row]:
    """The rows that no other one implies: one with some of the same parts and no less asked."""
    kept: list[tuple[frozenset[tuple[int, float]], _Row]] = []
    for parts, asked in sorted(rows.items(), key=lambda row: len(row[0])):
        own = frozenset(parts)
        if not any(other <= own and row[1] >= asked for other, row in kept):
            kept.append((own, (parts, asked)))
    return [row for _, row in kept]


def _narrowest(sets: Iterable[frozenset[int]]) -> list[frozenset[int]]:
    """The sets that hold no other one: whoever meets these meets all."""
    different = sorted(set(sets), key=lambda entry: (len(entry), sorted(entry)))
    kept: list[frozenset[int]] = []
    for entry in different:
        if not any(other <= entry for other in kept):
            kept.append(entry)
    return kept
