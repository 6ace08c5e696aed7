"""One measured figure against its goal."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from time import perf_counter


@dataclass(frozen=True, slots=True)
class Result:
    """`value` in `unit`; `against` names what it is compared with, `ratio` is value over goal.

    The value must be at most the goal, or `at_least` as much.
    """

    name: str
    value: float
    unit: str
    against: str
    goal: float
    at_least: bool = False

    @property
    def ratio(self) -> float:
        return self.value / self.goal

    @property
    def holds(self) -> bool:
        return self.value >= self.goal if self.at_least else self.value <= self.goal

    def line(self) -> str:
        """The result as one JSON object."""
        return json.dumps(
            {
                "name": self.name,
                "value": round(self.value, 3),
                "unit": self.unit,
                "against": self.against,
                "ratio": round(self.ratio, 3),
                "goal": self.goal,
                "holds": self.holds,
            }
        )


def median_ms(work: Callable[[], object], *, runs: int, warm: int = 3) -> float:
    """The median time of one call in milliseconds, after warming up."""
    for _ in range(warm):
        work()
    times = []
    for _ in range(runs):
        start = perf_counter()
        work()
        times.append((perf_counter() - start) * 1000)
    return median(times)
