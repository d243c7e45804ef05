"""The placement is the best there is: compared with trying everything, on small problems."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbook_tools.planning.placing import Choice, Limit, Placement, Problem, Requirement, pieces_for, place

Aims = tuple[int, int, float]


def _aims(problem: Problem, pieces: tuple[int, ...]) -> Aims | None:
    """The three aims of a way of choosing, counted from the definition; None where it breaks a limit."""
    for limit in problem.limits:
        if sum(factor * pieces[choice] for choice, factor in limit.parts) > limit.at_most:
            return None
    got = [0.0] * len(problem.requirements)
    for number, count in enumerate(pieces):
        for requirement, amount in problem.choices[number].gives:
            got[requirement] += amount * count
    days = sum(
        requirement.days
        for requirement, amount in zip(problem.requirements, got, strict=True)
        if amount < requirement.amount
    )
    calls = {call for number, count in enumerate(pieces) if count for call in problem.choices[number].calls}
    cost = sum(problem.choices[number].cost * count for number, count in enumerate(pieces))
    return days, len(calls), cost


def _best(problem: Problem) -> Aims:
    every = product(*(range(choice.most + 1) for choice in problem.choices))
    return min(aims for pieces in every if (aims := _aims(problem, pieces)) is not None)


@st.composite
def _problems(draw: st.DrawFn, limits: bool) -> Problem:
    requirements = [
        Requirement(draw(st.integers(1, 3)), draw(st.integers(1, 40)), 0) for _ in range(draw(st.integers(1, 4)))
    ]
    choices = []
    for _ in range(draw(st.integers(0, 5))):
        gives = draw(st.dictionaries(st.integers(0, len(requirements) - 1), st.integers(1, 3), min_size=1, max_size=3))
        calls = tuple(sorted(draw(st.sets(st.integers(0, 3), min_size=1, max_size=2))))
        cost = draw(st.integers(0, 9))
        choices.append(Choice(calls, tuple((key, float(value)) for key, value in gives.items()), 2, float(cost)))
    bound = []
    if limits and choices:
        for _ in range(draw(st.integers(1, 2))):
            chosen = sorted(draw(st.sets(st.integers(0, len(choices) - 1), min_size=1, max_size=4)))
            bound.append(Limit(tuple((number, 1.0) for number in chosen), float(draw(st.integers(0, 2)))))
    return Problem(requirements, choices, bound)


def _found(problem: Problem, placed: Placement) -> Aims | None:
    return _aims(problem, tuple(placed.pieces.get(number, 0) for number in range(len(problem.choices))))


@given(_problems(limits=False))
@settings(max_examples=150, deadline=None)
def test_a_placement_without_limits_is_the_best_there_is(problem: Problem) -> None:
    placed = place(problem)
    assert _found(problem, placed) == pytest.approx(_best(problem))
    assert (placed.uncovered_days, len(placed.calls), placed.cost) == pytest.approx(_best(problem))


@given(_problems(limits=True))
@settings(max_examples=150, deadline=None)
def test_a_placement_with_limits_is_the_best_there_is(problem: Problem) -> None:
    placed = place(problem)
    assert _found(problem, placed) == pytest.approx(_best(problem))


def test_the_fewest_calls_go_before_the_least_cost() -> None:
    both = Choice((2,), ((0, 1.0), (1, 1.0)), 2, 90.0)
    problem = Problem([Requirement(1, 5), Requirement(1, 5)], [Choice((0,), ((0, 1),)), Choice((1,), ((1, 1),)), both])
    assert place(problem).pieces == {2: 1}


def test_an_uncovered_day_weighs_more_than_any_number_of_calls() -> None:
    requirements = [Requirement(1, 1) for _ in range(4)]
    choices = [Choice((number,), ((number, 1.0),), 1, 100.0) for number in range(4)]
    assert place(Problem(requirements, choices)).calls == {0, 1, 2, 3}


def test_nothing_to_do_needs_no_call() -> None:
    assert place(Problem()) == Placement({}, frozenset(), frozenset(), 0, 0.0)


@pytest.mark.parametrize(
    ("asked", "each", "pieces"),
    [(7, 5, 2), (60, 0.5, 120), (1, 12, 1), (10, 5, 2), (60, 0.49997, 120)],  # 0.132 US gal is not quite 500 mL
)
def test_packs_are_whole(asked: float, each: float, pieces: int) -> None:
    assert pieces_for(asked, each) == pieces


def test_the_solver_says_nothing_on_standard_output(capfd: pytest.CaptureFixture[str]) -> None:
    place(Problem([Requirement(1, 1)], [Choice((0,), ((0, 1.0),))]))
    assert capfd.readouterr().out == ""
