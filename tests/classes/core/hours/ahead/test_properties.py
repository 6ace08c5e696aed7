"""Whatever the class: all is ready when it is needed, and nobody has hands in two places."""

from decimal import Decimal

from hypothesis import assume, given
from hypothesis import strategies as st

from classes.core.hours.ahead.everything import ASSISTANT, INSTRUCTOR, ahead_of
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.values import Hours, Mixing, RisesIn
from classes.core.keys import Stage
from tests.classes.core.hours.demo_classes import HEARTH, ROLLS, TWO_DAYS, ovens, recipe, work


@st.composite
def classes(draw):
    """One or two breads of the demo with all that can be set about them and their class."""
    kinds = draw(st.lists(st.sampled_from([HEARTH, TWO_DAYS, ROLLS]), min_size=1, max_size=2))
    recipes = [
        recipe(
            steps,
            key=f"bread{n}",
            benches=draw(st.integers(0, 3)),
            shown=draw(st.integers(0, 1)),
            mixing=draw(st.sampled_from(Mixing)),
            brings=draw(st.frozensets(st.sampled_from(Stage), max_size=2)),
            softens_butter=draw(st.booleans()),
            chills=draw(st.booleans()),
        )
        for n, steps in enumerate(kinds)
    ]
    return work(
        *recipes,
        hours=Hours(240, welcome_min=draw(st.sampled_from([0, 10])), show_min=5),
        room={
            "room_c": Decimal(draw(st.integers(16, 30))),
            "night_c": Decimal(draw(st.integers(0, 30))),
            "rises_in": draw(st.sampled_from(RisesIn)),
            "cabinet_places": 60,
        },
        ovens=ovens(*draw(st.lists(st.integers(2, 8), min_size=1, max_size=3))),
        assistants=draw(st.integers(0, 2)),
    )


def attempt(class_work):
    """The class planned, unless its loaves do not all fit while they last."""
    scheduled = schedule_of(class_work)
    try:
        return scheduled, plan_greedily(scheduled.problem).plan
    except CannotPlace:
        assume(False)
        raise


def most_at_once(spans):
    """How many of the spans overlap at the busiest minute."""
    return max(
        (sum(start <= minute < end for start, end in spans) for minute, _ in spans), default=0
    )


def hands(tasks, who):
    return [(one.starts, one.starts + one.hands_min) for one in tasks if one.who == who]


@given(classes())
def test_everything_is_done_when_it_is_needed(class_work):
    tasks = ahead_of(*attempt(class_work))
    assert all(task.starts + task.hands_min <= task.ready_by for task in tasks)
    assert all(task.title and task.why and task.text for task in tasks)
    assert len({task.key for task in tasks}) == len(tasks)
    assert [task.starts for task in tasks] == sorted(task.starts for task in tasks)


@given(classes())
def test_nobody_has_hands_in_two_places(class_work):
    tasks = ahead_of(*attempt(class_work))
    assert most_at_once(hands(tasks, INSTRUCTOR)) <= 1
    assert most_at_once(hands(tasks, ASSISTANT)) <= class_work.assistants
    assert {task.who for task in tasks} <= {INSTRUCTOR, ASSISTANT}


@given(classes())
def test_the_instructor_misses_no_part_of_the_class(class_work):
    scheduled, plan = attempt(class_work)
    in_class = [
        (plan.slots[task.key].start, plan.end(scheduled.problem, task.key))
        for task in scheduled.problem.tasks
        if any(use.resource == "instructor" for use in task.ways[0].uses)
    ]
    for start, end in hands(ahead_of(scheduled, plan), INSTRUCTOR):
        assert not [one for one in in_class if max(start, one[0]) < min(end, one[1])]


@given(classes())
def test_all_but_folds_of_brought_doughs_is_done_before_the_class(class_work):
    for task in ahead_of(*attempt(class_work)):
        stage, _, what = task.key.partition("|")
        if stage in set(Stage) and what.startswith(("mix", "divide", "prepare")):
            assert task.starts + task.hands_min <= 0
            assert task.who == INSTRUCTOR
