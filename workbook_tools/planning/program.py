"""A program of whole variables, solved exactly by HiGHS (highspy, MIT licence)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any


class NotSolved(RuntimeError):
    """The solver gave up; the text says how."""


def quiet_solver() -> Any:
    """HiGHS without its banner, which from 1.16 on is printed on standard output while the solver is being set up."""
    import highspy

    class Quiet(highspy.Highs):
        def enableCallbacks(self) -> None:
            self.silent()
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    return Quiet()  # type: ignore[no-untyped-call]


class Model:
    """A program for HiGHS, gathered row by row and handed over whole. Every variable is a whole number."""

    def __init__(self) -> None:
        self.upper: list[float] = []
        self.costs: list[float] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []

    def add(self, upper: float, cost: float = 0.0) -> int:
        """A whole variable from 0 up; its number comes back."""
        self.upper.append(upper)
        self.costs.append(cost)
        return len(self.upper) - 1

    def at_least(self, parts: Sequence[tuple[int, float]], least: float) -> None:
        self._row(parts, least, math.inf)

    def at_most(self, parts: Sequence[tuple[int, float]], most: float) -> None:
        self._row(parts, -math.inf, most)

    def _row(self, parts: Sequence[tuple[int, float]], least: float, most: float) -> None:
        together: dict[int, float] = {}
        for variable, factor in parts:
            together[variable] = together.get(variable, 0.0) + factor
        self.rows.append((together, least, most))

    def objective(self) -> float:
        """The least cost there is."""
        return sum(cost * value for cost, value in zip(self.costs, self.solve(), strict=True))

    def solve(self) -> list[float]:
        """The values of the variables at the least cost. Raises NotSolved."""
        import highspy

        solver = quiet_solver()
        for name, value in (("mip_rel_gap", 0.0), ("threads", 1), ("random_seed", 1)):
            solver.setOptionValue(name, value)
        solver.passModel(self._as_lp(highspy))
        solver.run()
        status = solver.getModelStatus()
        if status != highspy.HighsModelStatus.kOptimal:
            raise NotSolved(f"the solver ended with: {solver.modelStatusToString(status)}")
        return [float(value) for value in solver.getSolution().col_value]

    def _as_lp(self, highspy: Any) -> Any:
        import numpy as np

        starts = np.cumsum([0, *(len(parts) for parts, _, _ in self.rows)])
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.upper), len(self.rows)
        lp.col_cost_ = np.array(self.costs, dtype=float)
        lp.col_lower_ = np.zeros(len(self.upper))
        lp.col_upper_ = np.array(self.upper, dtype=float)
        lp.row_lower_ = np.array([least for _, least, _ in self.rows], dtype=float)
        lp.row_upper_ = np.array([most for _, _, most in self.rows], dtype=float)
        lp.integrality_ = [highspy.HighsVarType.kInteger] * len(self.upper)
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = starts.astype(np.int32)
        lp.a_matrix_.index_ = np.array([key for parts, _, _ in self.rows for key in parts], dtype=np.int32)
        lp.a_matrix_.value_ = np.array([value for parts, _, _ in self.rows for value in parts.values()], dtype=float)
        return lp
