"""A tidied plan: all as early as the order of things lets it."""

from hypothesis import given, settings
from hypothesis import strategies as st

from classes.core.hours.exact.tidy import tidy
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import Lag, Load, Plan, Problem, Slot, Stay
from tests.classes.core.hours.problems import class_problems, job_shops, later, nothing_is_fixed
from tests.classes.core.hours.rules import faults
from tests.classes.core.hours.seen_problems import ANN, CABINET, task, two_temperatures


@settings(max_examples=20)
@given(class_problems(most_stations=5) | job_shops(), st.integers(0, 30))
def test_a_tidy_plan_keeps_the_rules_and_has_nothing_later(problem, minutes):
    late = plan_greedily(problem)
    if nothing_is_fixed(problem):
        late = later(late, minutes)
    plan = tidy(problem, late.plan)
    assert faults(problem, plan) == ()
    for key in problem.items:
        assert plan.start(problem, key) <= late.plan.start(problem, key)
        assert plan.end(problem, key) <= late.plan.end(problem, key)
    assert tidy(problem, plan) == plan


def test_a_tidy_plan_starts_at_once_and_keeps_the_order():
    tasks = task("a", 2, "ann"), task("b", 3, "ann", after=(Lag("c", 1),)), task("c", 1)
    problem = Problem(tasks, (ANN,))
    late = Plan({"b": Slot(9), "a": Slot(14), "c": Slot(3)})
    assert tidy(problem, late).slots == {"b": Slot(2), "a": Slot(5), "c": Slot(0)}


def test_a_stay_of_no_time_does_not_become_longer_by_tidying():
    """The first dough leaves the cabinet at once; if it stood there, the second had no place."""
    tasks = (
        task("a", 1, job="1"),
        task("b", 1, "ann", job="1", after=(Lag("a"),)),
        task("c", 1, job="2"),
        task("d", 1, job="2", after=(Lag("c", 9, 9),)),
        task("show", 7, "ann"),
    )
    stays = Stay("cabinet", 1, "a", "b"), Stay("cabinet", 1, "c", "d")
    problem = Problem(tasks, (ANN, CABINET), stays=stays)
    slots = {"a": Slot(6), "b": Slot(7), "c": Slot(0), "d": Slot(10), "show": Slot(0)}
    assert faults(problem, Plan(slots)) == ()
    assert faults(problem, tidy(problem, Plan(slots))) == ()


def test_loads_become_earlier_with_their_pieces_and_gaps():
    problem = two_temperatures()
    late = Plan(
        {},
        (
            Load("oven", 10, 4, 230, (("hot0", 2),)),
            Load("oven", 20, 4, 230, (("hot1", 2),)),
            Load("oven", 40, 4, 185, (("mild", 2),)),
        ),
    )
    assert [load.start for load in tidy(problem, late).loads] == [0, 5, 18]
