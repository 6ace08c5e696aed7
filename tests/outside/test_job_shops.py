"""Three published job shops through the plan of the hours, their shortest makespans proved.

Instances ft06 and ft10 by Fisher and Thompson (1963), la01 by Lawrence (1984); the optima are those
of the literature. They hold no ovens, ways or stays, but they show that tasks, lags and resources
mean to the solver what they should: a wrong rule would give another number.
"""

from pathlib import Path

import pytest

from classes.core.hours.exact.solving import improve
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import Lag, Problem, Resource, Task, TaskOption, Use
from tests.classes.core.hours.rules import faults

DATA = Path(__file__).parent / "data" / "job_shops"
SHORTEST = {"ft06": 55, "ft10": 930, "la01": 666}
SIZES = {"ft06": (6, 6), "ft10": (10, 10), "la01": (10, 5)}


def operations(name):
    """Machine and minutes of each operation, job by job."""
    lines = (DATA / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    rows = [[int(word) for word in line.split()] for line in lines if not line.startswith("#")]
    return [list(zip(row[::2], row[1::2], strict=True)) for row in rows]


def job_shop(name):
    jobs = operations(name)
    machines = sorted({machine for job in jobs for machine, _ in job})
    tasks = []
    for number, job in enumerate(jobs):
        keys = [f"{number}.{step}" for step in range(len(job))]
        before = dict(zip(keys[1:], keys[:-1], strict=True))
        for key, (machine, minutes) in zip(keys, job, strict=True):
            way = TaskOption(minutes, (Use(f"machine {machine}"),))
            lags = (Lag(before[key]),) if key in before else ()
            tasks.append(Task(key, f"job {number}", (way,), lags))
    resources = tuple(Resource(f"machine {one}", f"machine {one}", 1) for one in machines)
    return Problem(tuple(tasks), resources)


@pytest.mark.parametrize("name", SHORTEST)
def test_an_instance_is_as_large_as_published_and_visits_every_machine_once(name):
    jobs = operations(name)
    assert (len(jobs), len(jobs[0])) == SIZES[name]
    for job in jobs:
        assert sorted(machine for machine, _ in job) == list(range(SIZES[name][1]))


@pytest.mark.parametrize("name", SHORTEST)
def test_the_shortest_makespan_of_the_literature_is_found_and_proved(name):
    problem = job_shop(name)
    start = plan_greedily(problem)
    best = improve(problem, start, limit_s=120)
    assert (best.ready, best.bound, best.proved) == (SHORTEST[name], SHORTEST[name], True)
    assert start.bound <= SHORTEST[name] < start.ready
    assert faults(problem, best.plan) == ()
