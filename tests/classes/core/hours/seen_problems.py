"""Problems small enough to see their best plan, one for each rule and trap, and equal stations.

`BEST` says when each can be ready at best.
"""

from dataclasses import replace

from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Plan,
    PlannedOven,
    Problem,
    Resource,
    Since,
    Slot,
    Solved,
    Stay,
    Task,
    TaskOption,
    Use,
)
from tests.classes.core.hours.problems import Bread, Kitchen, Show, Span, class_problem
from tests.classes.core.hours.rules import faults

MIXER, CABINET = Resource("mixer", "the mixer", 1), Resource("cabinet", "the cabinet", 1)
ANN, BOB = Resource("ann", "Ann", 1), Resource("bob", "Bob", 1)
OVEN = PlannedOven("oven", "the oven", 2, turnaround_min=1)


def task(key, minutes, *uses, after=(), **fields):
    return Task(key, fields.pop("job", key), (TaskOption(minutes, _uses(uses)),), after, **fields)


def _uses(names):
    return tuple(Use(name) for name in names)


def baking(key, pieces, minutes, temperature_c=230, **fields):
    return Baking(key, fields.pop("job", key), pieces, minutes, temperature_c, **fields)


def solved(problem, plan, bound=0):
    assert faults(problem, plan) == ()
    return Solved(plan, plan.ready(problem), bound, "by hand")


def one_by_one(problem):
    """A sound but slow plan: every job alone, when the one before it is ready."""
    slots, loads, now = {}, [], max([0, *(oven.hot_from or 0 for oven in problem.ovens)])
    for job, members in problem.jobs.items():
        keys = {one.key for one in members}
        alone = Problem(
            tuple(
                replace(one, after=_within(one, keys)) for one in problem.tasks if one.job == job
            ),
            problem.resources,
            tuple(
                replace(one, after=_within(one, keys)) for one in problem.bakings if one.job == job
            ),
            tuple(replace(oven, hot_from=None) for oven in problem.ovens),
            tuple(stay for stay in problem.stays if stay.until in keys),
        )
        plan = plan_greedily(alone).plan
        slots |= {key: Slot(slot.start + now, slot.way) for key, slot in plan.slots.items()}
        loads += [replace(load, start=load.start + now) for load in plan.loads]
        now += plan.ready(alone) + 20
    return solved(problem, Plan(slots, tuple(loads)))


def _within(item, keys):
    return tuple(lag for lag in item.after if lag.task in keys)


def two_ways():
    """Alone, either task would take the fast mixer; together one is done by hand."""
    ways = (TaskOption(3, (Use("mixer"),)), TaskOption(4, (Use("ann"),)))
    tasks = (Task("a", "a", ways), task("b", 3, "mixer"))
    return Problem(tasks, (MIXER, ANN))


def ways_of_different_length_before_a_limit():
    """Done fast it ends at 6, and Ann is busy for longer than it may rest; Bob is slow enough."""
    ways = (TaskOption(2, (Use("mixer"),)), TaskOption(6, (Use("bob"),)))
    tasks = (
        task("wash", 4, "mixer", latest=0),
        task("wash-again", 6, "mixer", earliest=6, latest=6),
        task("greet", 5, "bob", latest=0),
        task("show", 5, "ann", earliest=4, latest=4),
        Task("mix", "dough", ways),
        task("shape", 2, "ann", after=(Lag("mix", 0, 1),), job="dough"),
    )
    return Problem(tasks, (MIXER, ANN, BOB))


def a_limit_on_rising():
    """The second dough is mixed late, since it may rise for 2 minutes while the first is shaped."""
    tasks = [
        made
        for who in "12"
        for made in (
            task(f"mix{who}", 1, "mixer", job=who),
            task(f"shape{who}", 5, "ann", after=(Lag(f"mix{who}", 1, 2),), job=who),
        )
    ]
    return Problem(tuple(tasks), (MIXER, ANN))


def a_lag_from_a_start():
    """It may begin 2 minutes after the other has begun, though that goes on for 6 minutes."""
    lag = Lag("soak", 2, 3, Since.START)
    return Problem((task("soak", 6, job="a"), task("weigh", 5, after=(lag,), job="a")))


def two_take_more_than_there_is():
    """Of three bowls one task takes two: two of these are one after the other."""
    bowls = Resource("bowls", "bowls", 3)
    tasks = [Task(key, key, (TaskOption(3, (Use("bowls", 2),)),)) for key in "ab"]
    return Problem((*tasks, task("c", 6, "bowls")), (bowls,))


def hands_that_are_scarcer_than_bowls():
    """There are bowls for one and a half of them, but Ann does both."""
    bowls = Resource("bowls", "bowls", 3)
    uses = (Use("bowls", 2), Use("ann"))
    tasks = [Task(key, key, (TaskOption(minutes, uses),)) for key, minutes in (("a", 3), ("b", 4))]
    return Problem(tuple(tasks), (bowls, ANN))


def a_stay_in_a_full_cabinet():
    """The cabinet holds one dough: the second is divided when the first has gone."""
    tasks = [
        made
        for who in "12"
        for made in (
            task(f"divide{who}", 1, job=who),
            task(f"shape{who}", 1, after=(Lag(f"divide{who}", 4, 4),), job=who),
        )
    ]
    stays = tuple(Stay("cabinet", 1, f"divide{who}", f"shape{who}") for who in "12")
    return Problem(tuple(tasks), (CABINET,), stays=stays)


def a_stay_until_the_last_load():
    """Three pieces go in two loads; the other dough has a place before, or after both of them."""
    first = task("a", 1, job="1"), baking("bake1", 3, 4, after=(Lag("a"),), job="1")
    other = task("b", 1, job="2"), task("c", 1, after=(Lag("b", 2),), job="2", then_min=7)
    stays = Stay("cabinet", 1, "a", "bake1"), Stay("cabinet", 1, "b", "c")
    return Problem((first[0], *other), (CABINET,), (first[1],), (OVEN,), stays)


def a_baking_in_loads():
    """Five pieces, two at a time: three loads of 4 minutes with a minute between them."""
    return Problem((), bakings=(baking("a", 5, 4),), ovens=(OVEN,))


def two_bakings_that_share_a_load():
    """Three pieces and one make two loads."""
    bakings = baking("a", 3, 4), baking("b", 1, 4, then_min=2)
    return Problem((), bakings=bakings, ovens=(OVEN,))


def bakings_for_different_times():
    """They cannot share a load; the longer one is first, for the shorter one cools longer."""
    bakings = baking("a", 1, 4), baking("b", 1, 6, then_min=9)
    return Problem((), bakings=bakings, ovens=(OVEN,))


def two_temperatures():
    """Changing by 45 degrees takes 9 minutes, so the oven changes once: 4, 1, 4, 9 and 4."""
    bakings = [baking(f"hot{n}", 2, 4) for n in range(2)]
    return Problem((), bakings=(*bakings, baking("mild", 2, 4, 185)), ovens=(OVEN,))


def a_slow_change_of_temperature():
    """As before at a degree a minute, with an oven more: it is better to wait for the cool one."""
    bakings = baking("hot", 2, 4), baking("mild", 2, 4, 215)
    other = PlannedOven("late", "the late oven", 2, 1, hot_from=8)
    return Problem((), bakings=bakings, ovens=(OVEN, other), degrees_a_minute=1)


def an_oven_that_is_hot_late():
    """Two loads in the small oven end at 9, one in the large oven that is hot from 6 at 10."""
    small, large = replace(OVEN, hot_from=0), PlannedOven("large", "the large oven", 4, hot_from=6)
    return Problem((), bakings=(baking("a", 4, 4),), ovens=(small, large))


def an_oven_that_is_hot_before_it_matters():
    small, large = replace(OVEN, hot_from=3), PlannedOven("large", "the large oven", 4, hot_from=4)
    return Problem((), bakings=(baking("a", 4, 4),), ovens=(small, large))


def hands_that_load():
    """Ann cannot load while she shapes for 3 minutes, nor shape while she loads for 2."""
    tasks = (task("shape", 3, "ann", then_min=4),)
    return Problem(tasks, (ANN,), (baking("a", 1, 6, hands="ann", hands_min=2),), (OVEN,))


def hands_that_load_two_ovens():
    """The same hands serve both ovens at once, and both before they shape."""
    ovens = PlannedOven("one", "one", 1), PlannedOven("two", "two", 1)
    tasks = (task("shape", 3, "ann"),)
    return Problem(tasks, (ANN,), (baking("a", 2, 6, hands="ann", hands_min=2),), ovens)


def hands_of_two_people():
    """Both shape at once: those who load are at no other task, though there are two of them."""
    team = Resource("team", "the team", 2)
    tasks = [task(key, 3, "team", then_min=4) for key in "ab"]
    bakings = baking("bake", 1, 6, hands="team", hands_min=2), baking("other", 1, 6)
    return Problem(tuple(tasks), (team,), bakings, (OVEN,))


def a_load_by_somebody_else():
    """What Bob loads goes into the oven while Ann shapes, what she loads does not."""
    ovens = PlannedOven("one", "one", 1), PlannedOven("two", "two", 1)
    bakings = (
        baking("a", 1, 6, hands="ann", hands_min=2),
        baking("b", 1, 6, hands="bob", hands_min=2, then_min=3),
    )
    return Problem((task("shape", 3, "ann", then_min=6),), (ANN, BOB), bakings, ovens)


def hands_that_load_for_longer_than_it_bakes():
    """The second loading begins before the first one is over; Ann shapes before or after both."""
    oven = PlannedOven("oven", "the oven", 1, turnaround_min=0)
    bakings = baking("a", 2, 2, hands="ann", hands_min=5), baking("b", 1, 2)
    return Problem((task("shape", 1, "ann"),), (ANN,), bakings, (oven,))


def a_limit_after_the_last_load():
    """What bakes last must be packed within a minute, but Ann is busy from 5 to 15.

    At that time another dough is in the oven, from 10 to 20, and cannot wait.
    """
    tasks = (
        task("show", 10, "ann", earliest=5, latest=5),
        task("rise", 1, earliest=9, latest=9, job="2"),
        task("pack", 1, "ann", after=(Lag("a", 0, 1),), job="1"),
    )
    bakings = (
        baking("b", 1, 10, after=(Lag("rise", 0, 0),), job="2"),
        baking("a", 3, 4, job="1"),
    )
    return Problem(tasks, (ANN,), bakings, (OVEN,))


def a_task_that_must_start_soon():
    """It would be better last, for nothing follows it; but it must start by minute 1."""
    tasks = (task("a", 2, "ann", latest=1), task("b", 2, "ann", then_min=10))
    return Problem(tasks, (ANN,))


def a_task_that_cannot_start_yet():
    return Problem((task("a", 2, "ann", earliest=5), task("b", 4, "ann")), (ANN,))


def a_show_that_all_watch():
    """Two twins each weigh, watch and shape; the show waits for both and keeps them both."""
    tasks = [
        made
        for who in ("ann", "bob")
        for made in (
            task(f"weigh-{who}", 3, who, "scale", job=who),
            task(f"shape-{who}", 2, who, after=(Lag(f"weigh-{who}"), Lag("show")), job=who),
        )
    ]
    scale = Resource("scale", "the scale", 1)
    return Problem((task("show", 4, "ann", "bob"), *tasks), (ANN, BOB, scale))


def two_shows_that_all_watch():
    """They keep everybody one after the other, though nobody shows both."""
    shows = task("show", 4, "ann", "bob"), task("tell", 3, "ann", "bob")
    return Problem((*shows, task("a", 3, "ann"), task("b", 3, "bob")), (ANN, BOB))


BEST = {
    two_ways: 4,
    ways_of_different_length_before_a_limit: 13,
    a_limit_on_rising: 12,
    a_lag_from_a_start: 7,
    two_take_more_than_there_is: 6,
    hands_that_are_scarcer_than_bowls: 7,
    a_stay_in_a_full_cabinet: 10,
    a_stay_until_the_last_load: 12,
    a_baking_in_loads: 14,
    two_bakings_that_share_a_load: 9,
    bakings_for_different_times: 15,
    two_temperatures: 22,
    a_slow_change_of_temperature: 12,
    an_oven_that_is_hot_late: 9,
    an_oven_that_is_hot_before_it_matters: 8,
    hands_that_load: 9,
    hands_that_load_two_ovens: 6,
    hands_of_two_people: 9,
    a_load_by_somebody_else: 9,
    hands_that_load_for_longer_than_it_bakes: 6,
    a_limit_after_the_last_load: 26,
    a_task_that_must_start_soon: 14,
    a_task_that_cannot_start_yet: 7,
    a_show_that_all_watch: 12,
    two_shows_that_all_watch: 10,
}


def start_of(make):
    """The slow plan, or the quick one where a fixed minute forbids to be slow."""
    problem = make()
    fixed = any(one.latest is not None for one in problem.tasks)
    plan = plan_greedily(problem).plan if fixed else one_by_one(problem).plan
    return problem, solved(problem, plan)


OVENS = tuple(PlannedOven(f"oven{n}", f"Oven {n}", 4, 2) for n in range(2))
LOAF = Bread(
    by_mixer=5,
    mixer_and_hands=True,
    weigh=4,
    bulk=Span(20, 8),
    divide=3,
    rest=Span(0),
    shape=4,
    proof=Span(9, 6),
    cabinet=2,
    pieces=2,
    bake=12,
    load=2,
    cool=5,
)
ROLLS = replace(LOAF, by_mixer=4, bake=8, temperature_c=200, bulk=Span(12, 9))
SHOW = Show(Span(1), 3, Span(0, 4))


def stations(count, *breads, **kitchen):
    """Equal stations with two mixers, and a show by the instructor that all of them watch."""
    room = Kitchen(2, 2 * count, OVENS, tidy=3, **kitchen)
    return class_problem([breads] * count, room, replace(LOAF, pieces=1), SHOW)
