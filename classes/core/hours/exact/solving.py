"""The best plan, or how far a plan can be from it, by constraint programming.

The solver is asked for plans that are ready by a given minute: first by the bound and then by later
and later minutes, as long as it quickly says that there is none. Then, with more effort every time,
by the minute before the best plan so far, halfway between that and the bound, and no later than the
best plan, from which it can go on.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from enum import Enum, auto
from typing import TYPE_CHECKING

from classes.core.hours.exact.draft import ModelDraft
from classes.core.hours.exact.model import Vars, add_problem
from classes.core.hours.exact.plans import hints, plan_of, put_in_order
from classes.core.hours.exact.tidy import tidy
from classes.core.hours.exact.twins import all_twins, steps_between
from classes.core.hours.exact.windows import Order, Windows, earliest_ready, steps, windows
from classes.core.hours.problem.work import Plan, Problem, Solved

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel

SOLVER = "exact"
FIRST_EFFORT = Decimal("0.01")
GO_ON = 8
LEAST_S = Decimal("0.01")
RULES_A_SECOND = 30_000
HOW = (
    "use_strong_propagation_in_disjunctive: true use_dynamic_precedence_in_disjunctive: true"
    " cp_model_probing_level: 1"
)


class _Answer(Enum):
    """Whether there is a plan that is ready by a minute."""

    THERE_IS = auto()
    THERE_IS_NONE = auto()
    OPEN = auto()


def improve(
    problem: Problem, start: Solved, *, limit_s: int | Decimal, workers: int = 2, seed: int = 1
) -> Solved:
    """A plan that is ready no later than `start`, and the bound to compare it with.

    It is the plan of `start`, perhaps with a better bound, if nothing better is found within
    `limit_s` seconds; a proved `start` is returned as it is. With one worker, and time enough for a
    proof, the answer is the same every time. `start` has to keep the hard rules.
    """
    if start.proved:
        return start
    settings = f"{HOW} num_workers: {workers} random_seed: {seed}"
    search = _Search(problem, start, Decimal(limit_s), settings)
    search.run()
    return search.best


class _Search:
    """The best plan so far, and the remaining seconds.

    A pure module has no clock: the solver says how long it took, and a model counts as the time
    that building its rules usually takes.
    """

    def __init__(self, problem: Problem, start: Solved, left_s: Decimal, settings: str) -> None:
        self.best = start
        self._problem = problem
        self._left_s = left_s
        self._effort = left_s * FIRST_EFFORT
        self._settings = settings
        self._known = list(steps(problem))
        self._twins = all_twins(problem, Order(self._known))
        for group in self._twins:
            self._known += steps_between(problem, group)
        self._raise_bound(earliest_ready(problem, self._known, start.ready))

    def run(self) -> None:
        """Ask until the best plan is proved, or until time runs out."""
        effort = self._effort
        if self._climb(effort) is _Answer.OPEN:
            self._ask(self.best.ready, GO_ON * effort)
        while self._goes_on:
            self._ask(self.best.ready - 1, effort)
            self._ask((self.best.bound + self.best.ready - 1) // 2, effort)
            self._ask(self.best.ready, GO_ON * effort)
            effort *= 2

    @property
    def _goes_on(self) -> bool:
        return not self.best.proved and self._left_s > 0

    def _climb(self, effort: Decimal) -> _Answer:
        """Raise the bound in longer and longer steps as long as there is clearly no plan below."""
        further, answer = 0, _Answer.THERE_IS_NONE
        while self._goes_on and answer is _Answer.THERE_IS_NONE:
            answer = self._ask(min(self.best.bound + further, self.best.ready - 1), effort)
            further = 2 * further + 1
        return answer

    def _ask(self, horizon: int, effort: Decimal) -> _Answer:
        """Look for a plan that is ready by `horizon`, as early as possible.

        `effort` is in the solver's own unit, which does not depend on how busy the machine is.
        """
        if not self._goes_on:
            return _Answer.OPEN
        span = windows(self._problem, self._known, horizon)
        if span.empty:
            self._raise_bound(horizon + 1)
            return _Answer.THERE_IS_NONE
        from ortools.sat.python import cp_model

        model, solver = cp_model.CpModel(), cp_model.CpSolver()
        found = self._write(model, span, horizon)
        solver.parameters.merge_text_format(
            f"{self._settings} max_deterministic_time: {effort:f}"
            f" max_time_in_seconds: {max(LEAST_S, self._left_s):f}"
        )
        status = solver.solve(model)
        self._left_s -= Decimal(solver.wall_time)
        if status == cp_model.INFEASIBLE:
            self._raise_bound(horizon + 1)
            return _Answer.THERE_IS_NONE
        self._raise_bound(round(solver.best_objective_bound))
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return _Answer.OPEN
        self._keep(plan_of(self._problem, found, solver.value))
        return _Answer.THERE_IS

    def _write(self, model: CpModel, span: Windows, horizon: int) -> Vars:
        draft = ModelDraft(model, self._problem, self._known, self._twins, span)
        found = add_problem(draft, self.best.bound, horizon)
        model.minimize(found.ready)
        plan = put_in_order(self._problem, self.best.plan, self._twins)
        for variable, value in hints(self._problem, plan, found):
            model.add_hint(variable, value)
        self._left_s -= Decimal(len(model.proto.constraints)) / RULES_A_SECOND
        return found

    def _raise_bound(self, bound: int) -> None:
        bound = min(self.best.ready, max(self.best.bound, bound))
        self.best = replace(self.best, bound=bound)

    def _keep(self, plan: Plan) -> None:
        ready = plan.ready(self._problem)
        if ready < self.best.ready:
            plan = tidy(self._problem, plan)
            ready = plan.ready(self._problem)
            self.best = Solved(plan, ready, min(ready, self.best.bound), SOLVER)
