"""Any plan that breaks a rule is caught: plans of drawn classes, broken one rule at a time."""

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import Since
from tests.classes.core.hours.problems import CABINET, class_problems, job_shops
from tests.classes.core.hours.rules import faults


def start(found, key, at):
    return replace(found, slots={**found.slots, key: replace(found.slots[key], start=at)})


def relaid(found, index, *loads):
    """The plan with one load replaced by these."""
    return replace(found, loads=(*found.loads[:index], *loads, *found.loads[index + 1 :]))


def minutes_of(problem, found, key):
    (item,) = (one for one in problem.tasks if one.key == key)
    return item.ways[found.slots[key].way].minutes


def span_of(problem, found, key):
    """First start, last start and end of a task or baking."""
    if key in found.slots:
        at = found.slots[key].start
        return at, at, at + minutes_of(problem, found, key)
    loads = [load for load in found.loads if key in dict(load.pieces)]
    starts = [load.start for load in loads]
    return min(starts), max(starts), max(starts) + loads[0].minutes


def since(problem, found, lag):
    _, last, end = span_of(problem, found, lag.task)
    return end if lag.since is Since.END else last


def break_slots(draw, problem, found):
    key = draw(st.sampled_from(sorted(found.slots)))
    item = next(one for one in problem.tasks if one.key == key)
    slots = {one: slot for one, slot in found.slots.items() if one != key}
    return draw(
        st.sampled_from(
            [
                replace(found, slots=slots),
                replace(found, slots={**found.slots, f"{key}?": found.slots[key]}),
                replace(found, slots={**slots, key: replace(found.slots[key], way=len(item.ways))}),
                start(found, key, item.earliest - 1),
            ]
        )
    )


def break_lag(draw, problem, found):
    lags = [(one.key, lag) for one in problem.tasks for lag in one.after]
    assume(lags)
    key, lag = draw(st.sampled_from(lags))
    moments = [lag.least - 1] + ([] if lag.most is None else [lag.most + 1])
    return start(found, key, since(problem, found, lag) + draw(st.sampled_from(moments)))


def break_capacity(draw, problem, found):
    """Two tasks that take the same one thing, at once."""
    single = {one.key for one in problem.resources if one.capacity == 1}
    takers = [
        (use.resource, one.key)
        for one in problem.tasks
        for use in one.ways[found.slots[one.key].way].uses
        if use.resource in single and one.ways[found.slots[one.key].way].minutes
    ]
    pairs = [(a, b) for x, a in takers for y, b in takers if x == y and a < b]
    assume(pairs)
    first, second = draw(st.sampled_from(pairs))
    shift = draw(st.integers(0, minutes_of(problem, found, first) - 1))
    return start(found, second, found.slots[first].start + shift)


def break_pieces(draw, problem, found):
    """A piece less, a piece more, no load, or another temperature."""
    assume(found.loads)
    index = draw(st.integers(0, len(found.loads) - 1))
    load = found.loads[index]
    (key, count), *others = load.pieces
    return draw(
        st.sampled_from(
            [
                relaid(found, index),
                relaid(found, index, replace(load, pieces=((key, count - 1), *others))),
                relaid(found, index, replace(load, pieces=((key, count + 1), *others))),
                relaid(found, index, load, replace(load, start=load.start + 500)),
                relaid(found, index, replace(load, temperature_c=load.temperature_c + 1)),
                relaid(found, index, replace(load, minutes=load.minutes + 1)),
            ]
        )
    )


def break_turnaround(draw, problem, found):
    """A load begins before another one is out of the same oven."""
    assume(len(found.loads) > 1)
    order = draw(st.permutations(range(len(found.loads))))
    other, load = found.loads[order[0]], found.loads[order[1]]
    early = draw(st.integers(1, other.minutes))
    return relaid(
        found, order[1], replace(load, oven=other.oven, start=other.start + other.minutes - early)
    )


def break_loading(draw, problem, found):
    """A load too soon or too late after the shaping, or while its hands shape something."""
    assume(found.loads)
    index = draw(st.integers(0, len(found.loads) - 1))
    load = found.loads[index]
    key = load.pieces[0][0]
    baking = next(one for one in problem.bakings if one.key == key)
    lag = baking.after[0]
    moments = [
        since(problem, found, lag) + lag.least - 1,
        since(problem, found, lag) + lag.most + 1,
    ]
    if baking.hands and baking.hands_min:
        moments += [
            found.slots[one.key].start
            for one in problem.tasks
            for use in one.ways[found.slots[one.key].way].uses
            if use.resource == baking.hands and one.ways[found.slots[one.key].way].minutes
        ]
    return relaid(found, index, replace(load, start=draw(st.sampled_from(moments))))


def break_oven(draw, problem, found):
    assume(found.loads)
    index = draw(st.integers(0, len(found.loads) - 1))
    load = found.loads[index]
    hot = next(one.hot_from for one in problem.ovens if one.key == load.oven)
    moved = [replace(load, oven=f"{load.oven}?")]
    moved += [] if hot is None else [replace(load, start=hot - 1)]
    return relaid(found, index, draw(st.sampled_from(moved)))


BREAKING = {
    1: break_slots,
    2: break_lag,
    3: break_capacity,
    4: break_pieces,
    5: break_turnaround,
    6: break_loading,
    8: break_oven,
}


@pytest.mark.parametrize(
    ("rule", "breaking"), BREAKING.items(), ids=lambda one: getattr(one, "__name__", one)
)
@settings(max_examples=20)
@given(problem=class_problems(most_stations=3) | job_shops(), data=st.data())
def test_whatever_breaks_a_rule_is_found(rule, breaking, problem, data):
    found = plan_greedily(problem).plan
    broken = breaking(data.draw, problem, found)
    assert rule in {fault.rule for fault in faults(problem, broken)}


@settings(max_examples=20)
@given(problem=class_problems(most_stations=3), data=st.data())
def test_a_cabinet_too_small_for_what_stands_there_is_found(problem, data):
    found = plan_greedily(problem).plan
    standing = [
        stay
        for stay in problem.stays
        if span_of(problem, found, stay.until)[1] > span_of(problem, found, stay.after)[2]
    ]
    assume(standing)
    amount = data.draw(st.sampled_from(standing)).amount
    cabinet = [
        replace(one, capacity=amount - 1) if one.key == CABINET else one
        for one in problem.resources
    ]
    assert 7 in {fault.rule for fault in faults(replace(problem, resources=tuple(cabinet)), found)}
