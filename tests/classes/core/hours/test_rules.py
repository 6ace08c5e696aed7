"""The checker finds nothing in a plan that keeps the rules, and names the rule that one breaks.

By hand: Ann and Bob each knead (in the one mixer or by hand), shape two buns and bake them. Ann
beats a cake meanwhile. There is an oven with three places and a small one with one place.
"""

import ast
from dataclasses import replace
from functools import cached_property
from inspect import isfunction
from pathlib import Path

import pytest

from classes.core.hours.problem import work
from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Load,
    Plan,
    PlannedOven,
    Problem,
    Resource,
    Since,
    Slot,
    Stay,
    Task,
)
from tests.classes.core.hours import rules as checking
from tests.classes.core.hours.problems import one_way
from tests.classes.core.hours.rules import faults

BUNS = {"pieces": 2, "minutes": 10, "temperature_c": 220, "hands_min": 2}
PROBLEM = Problem(
    tasks=(
        Task("knead a", "a", one_way(4, "mixer") + one_way(9, "ann"), earliest=1),
        Task("knead b", "b", one_way(4, "mixer") + one_way(9, "bob"), latest=8),
        Task("shape a", "a", one_way(3, "ann"), (Lag("knead a", 2, 6),)),
        Task("shape b", "b", one_way(3, "bob"), (Lag("knead b", 2, 6),)),
        Task("sweep", "a", one_way(5, "ann"), (Lag("bake a", 3, since=Since.START),)),
        Task("taste", "b", one_way(2, "bob"), (Lag("bake b", 3, 9), Lag("sweep"))),
        Task("beat", "cake", one_way(2, "ann")),
    ),
    resources=(
        Resource("ann", "Ann", 1),
        Resource("bob", "Bob", 1),
        Resource("mixer", "The mixer", 1),
        Resource("cabinet", "The cabinet", 2),
    ),
    bakings=(
        Baking("bake a", "a", after=(Lag("shape a", 3, 14),), hands="ann", **BUNS),
        Baking("bake b", "b", after=(Lag("shape b", 3, 14),), hands="bob", **BUNS),
        Baking("bake cake", "cake", 1, 20, 181, (Lag("beat"),)),
    ),
    ovens=(
        PlannedOven("oven", "The oven", 3, 1, hot_from=15),
        PlannedOven("small", "The small oven", 1, 1),
    ),
    stays=(Stay("cabinet", 1, "shape a", "bake a"), Stay("cabinet", 1, "shape b", "bake b")),
    degrees_a_minute=10,
)
SLOTS = {
    "knead a": Slot(1),
    "beat": Slot(4),
    "knead b": Slot(5),
    "shape a": Slot(9),
    "shape b": Slot(13),
    "sweep": Slot(20),
    "taste": Slot(41),
}
BUNS_A = Load("oven", 15, 10, 220, (("bake a", 2),))
BUNS_B = Load("oven", 26, 10, 220, (("bake b", 2),))
ONE_B = replace(BUNS_B, pieces=(("bake b", 1),))
CAKE = Load("oven", 40, 20, 181, (("bake cake", 1),))  # the oven cools from minute 36 on, by 39 °C
HALVES = (
    replace(BUNS_A, pieces=(("bake a", 1),)),
    replace(BUNS_B, pieces=(("bake a", 1), ("bake b", 2))),
    CAKE,
)


def plan(*loads, **slots):
    """The plan above, but for these loads and these starts (or slots)."""
    changed = {
        key.replace("_", " "): Slot(one) if isinstance(one, int) else one
        for key, one in slots.items()
    }
    return Plan({**SLOTS, **changed}, loads or (BUNS_A, BUNS_B, CAKE))


def holding(*pieces):
    """The second load with these pieces."""
    return plan(BUNS_A, replace(BUNS_B, pieces=pieces), CAKE)


def without(key):
    return Plan({one: slot for one, slot in SLOTS.items() if one != key}, plan().loads)


def room(**capacities):
    """The problem with other capacities."""
    return replace(
        PROBLEM,
        resources=tuple(
            replace(one, capacity=capacities.get(one.key, one.capacity))
            for one in PROBLEM.resources
        ),
    )


def task(key, **changes):
    """The problem with one task changed."""
    tasks = tuple(replace(one, **changes) if one.key == key else one for one in PROBLEM.tasks)
    return replace(PROBLEM, tasks=tasks)


def oven(**changes):
    return replace(PROBLEM, ovens=(replace(PROBLEM.ovens[0], **changes), PROBLEM.ovens[1]))


def standing(*stay):
    """The problem with a stay more."""
    return replace(PROBLEM, stays=(*PROBLEM.stays, Stay(*stay)))


GOOD = {
    "as written": (PROBLEM, plan()),
    "a task later within its windows": (PROBLEM, plan(knead_b=7)),
    "a task at its latest": (task("knead b", latest=5), plan()),
    "lags at their most": (PROBLEM, plan(shape_b=15, taste=45)),
    "lags at their least": (PROBLEM, plan(shape_b=11, sweep=18, taste=39)),
    "kneaded by hand": (PROBLEM, plan(knead_b=Slot(1, 1))),
    "hands right after loading": (PROBLEM, plan(beat=17)),
    "loads in another order": (PROBLEM, plan(CAKE, BUNS_B, BUNS_A)),
    "a baking in two ovens": (
        PROBLEM,
        plan(BUNS_A, ONE_B, replace(ONE_B, oven="small", start=19), CAKE),
    ),
    "a baking in two loads of one oven": (PROBLEM, plan(*HALVES, sweep=30)),
    "hands at two ovens at once, and a load of two doughs": (
        PROBLEM,
        plan(
            replace(BUNS_A, start=19, pieces=(("bake a", 2), ("bake b", 1))),
            replace(ONE_B, oven="small", start=19),
            CAKE,
            sweep=22,
            taste=32,
        ),
    ),
    "an oven just hot": (oven(hot_from=15), plan()),
    "an oven that is always hot": (oven(hot_from=None), plan()),
    "a stay of no minutes": (standing("cabinet", 3, "beat", "knead b"), plan(knead_b=6)),
    "one place after the other in a cabinet of one": (room(cabinet=1), plan()),
}


@pytest.mark.parametrize(("problem", "found"), GOOD.values(), ids=GOOD)
def test_a_plan_that_keeps_all_rules_has_no_faults(problem, found):
    assert faults(problem, found) == ()


# What is wrong, the rule that it breaks, the keys it is about, and the plan; or also the problem.
BROKEN = {
    "a task is missing": (1, "beat", without("beat")),
    "a task that others wait for is missing": (1, "shape a", without("shape a")),
    "a task is unknown": (1, "nap", plan(nap=4)),
    "a baking has a slot": (1, "bake a", plan(bake_a=15)),
    "a way is unknown": (1, "taste", plan(taste=Slot(41, 1))),
    "a way is negative": (1, "taste", plan(taste=Slot(41, -1))),
    "a task starts too early": (1, "knead a", plan(knead_a=0)),
    "a task starts too late": (1, "knead b", plan(knead_b=9, shape_b=15)),
    "a fixed task is moved": (1, "beat", plan(), task("beat", earliest=5, latest=5)),
    "a task follows too soon": (2, "shape b, knead b", plan(shape_b=10)),
    "a task follows too late": (2, "shape b, knead b", plan(shape_b=16)),
    "a task before what it follows": (2, "taste, bake b", plan(taste=20, sweep=18)),
    "a task too soon after a load": (2, "sweep, bake a", plan(sweep=17)),
    "a task too soon after its last load": (2, "sweep, bake a", plan(*HALVES, sweep=28)),
    "a task too soon after a baking": (2, "taste, bake b", plan(taste=38)),
    "a task too late after a baking": (2, "taste, bake b", plan(taste=46)),
    "a task too soon after another job": (2, "taste, sweep", plan(sweep=38)),
    "a task after nothing there is": (2, "beat, wash", plan(), task("beat", after=(Lag("wash"),))),
    "two in one mixer": (3, "mixer, knead a, knead b", plan(knead_b=4)),
    "two for one pair of hands": (3, "ann, beat, shape a", plan(beat=8)),
    "one within the other": (3, "ann, beat, shape a", plan(beat=10)),
    "two for the last minute": (3, "ann, beat, shape a", plan(beat=11)),
    "hands kneading by hand": (
        3,
        "bob, beat, knead b",
        plan(knead_b=Slot(1, 1)),
        task("beat", ways=one_way(2, "bob")),
    ),
    "more than there is": (3, "mixer, knead a", plan(), room(mixer=0)),
    "a resource that is not there": (
        3,
        "whisk, beat",
        plan(),
        task("beat", ways=one_way(2, "whisk")),
    ),
    "a baking in no oven": (4, "bake cake", plan(BUNS_A, BUNS_B)),
    "a baking that others wait for in no oven": (4, "bake a", plan(BUNS_B, CAKE)),
    "a piece missing": (4, "bake b", holding(("bake b", 1))),
    "a piece too many": (4, "bake b", holding(("bake b", 3))),
    "a piece in two loads": (4, "bake b", plan(*plan().loads, replace(ONE_B, oven="small"))),
    "an unknown baking": (4, "pie", holding(("bake b", 2), ("pie", 1))),
    "a task in the oven": (4, "beat", holding(("bake b", 2), ("beat", 1))),
    "an empty load": (4, "small", plan(*plan().loads, replace(BUNS_B, oven="small", pieces=()))),
    "no piece of a baking": (4, "oven, bake a", holding(("bake b", 2), ("bake a", 0))),
    "a baking named twice": (4, "oven, bake b", holding(("bake b", 1), ("bake b", 1))),
    "more pieces than places": (
        4,
        "small, bake b",
        plan(BUNS_A, replace(BUNS_B, oven="small"), CAKE),
    ),
    "baked too briefly": (4, "oven, bake b", plan(BUNS_A, replace(BUNS_B, minutes=9), CAKE)),
    "baked too cool": (4, "oven, bake b", plan(BUNS_A, replace(BUNS_B, temperature_c=219), CAKE)),
    "two kinds in a load": (
        4,
        "oven, bake cake",
        plan(BUNS_A, replace(BUNS_B, pieces=(("bake b", 2), ("bake cake", 1)))),
    ),
    "no time to turn around": (
        5,
        "oven, bake a, bake b",
        plan(BUNS_A, replace(BUNS_B, start=25), CAKE),
    ),
    "two loads at once": (5, "oven, bake a, bake b", plan(BUNS_A, replace(BUNS_B, start=24), CAKE)),
    "no time to cool down": (
        5,
        "oven, bake b, bake cake",
        plan(BUNS_A, BUNS_B, replace(CAKE, start=39)),
    ),
    "no time to heat up": (
        5,
        "small, bake b, bake cake",
        plan(
            BUNS_A,
            ONE_B,
            replace(CAKE, oven="small", start=6),
            replace(ONE_B, oven="small", start=29),
            taste=44,
        ),
    ),
    "a turn longer than the cooling": (
        5,
        "oven, bake b, bake cake",
        plan(BUNS_A, replace(BUNS_B, start=30), replace(CAKE, start=44), taste=45),
        oven(turnaround_min=5),
    ),
    "a load too soon": (6, "bake a, shape a", plan(shape_a=10)),
    "one of two loads too soon": (
        6,
        "bake b, shape b",
        plan(BUNS_A, ONE_B, replace(ONE_B, oven="small", start=18), CAKE),
    ),
    "a load too late": (
        6,
        "bake b, shape b",
        plan(BUNS_A, replace(BUNS_B, start=31), replace(CAKE, start=45), taste=45),
    ),
    "one of two loads too late": (
        6,
        "bake b, shape b",
        plan(BUNS_A, ONE_B, replace(ONE_B, oven="small", start=31), CAKE, taste=45),
    ),
    "hands that beat": (6, "bake a, beat", plan(beat=14)),
    "hands that beat from the last minute on": (6, "bake a, beat", plan(beat=16)),
    "hands that beat at the second load": (6, "bake a, beat", plan(*HALVES, sweep=30, beat=27)),
    "two in a cabinet for one": (7, "cabinet, bake a, bake b", plan(shape_b=11), room(cabinet=1)),
    "a place kept until the last load": (
        7,
        "cabinet, bake a, bake b",
        plan(*HALVES, sweep=30),
        room(cabinet=1),
    ),
    "a stay larger than the cabinet": (
        7,
        "cabinet, taste",
        plan(),
        standing("cabinet", 3, "bake a", "taste"),
    ),
    "a stay where a task is": (7, "ann, beat", plan(), standing("ann", 1, "knead a", "shape a")),
    "a stay that ends before it begins": (
        7,
        "cabinet, taste, sweep",
        plan(),
        standing("cabinet", 1, "taste", "sweep"),
    ),
    "an oven not hot": (8, "oven, bake a", plan(), oven(hot_from=16)),
    "an oven that is out": (8, "oven, bake a", plan(), replace(PROBLEM, ovens=PROBLEM.ovens[1:])),
}


def told(rule, keys, found, problem=PROBLEM):
    return rule, set(keys.split(", ")), faults(problem, found)


@pytest.mark.parametrize("broken", BROKEN.values(), ids=BROKEN)
def test_a_plan_that_breaks_one_rule_has_faults_of_that_rule_alone(broken):
    rule, keys, found = told(*broken)
    assert {fault.rule for fault in found} == {rule}
    assert keys <= {key for fault in found for key in fault.keys}
    assert all(fault.what for fault in found)


def test_every_rule_is_broken_by_hand():
    assert {rule for rule, *_ in BROKEN.values()} == set(range(1, 9))


def test_faults_come_in_the_order_of_the_rules():
    broken = plan(*HALVES[:2], knead_b=4, beat=14, sweep=28)
    assert [fault.rule for fault in faults(oven(hot_from=16), broken)] == [2, 3, 4, 6, 8]


@pytest.mark.parametrize(
    ("broken", "words"),
    [
        (plan(knead_a=0), "knead a starts at minute 0, before minute 1"),
        (plan(shape_b=16), "shape b starts 7 min after the end of knead b, which is over 6 min"),
        (plan(knead_b=4), "The mixer from minute 4: 2 are taken of 1"),
        (holding(("bake b", 1)), "bake b has 1 pieces in the ovens, not 2"),
        (
            plan(BUNS_A, BUNS_B, replace(CAKE, start=39)),
            "The oven has 3 min before minute 39 and needs 4",
        ),
    ],
)
def test_a_fault_is_told_in_words(broken, words):
    assert [fault.what for fault in faults(PROBLEM, broken)] == [words]


def computed():
    """Every method and property of the problem and the plan that computes something."""
    for kind in vars(work).values():
        if isinstance(kind, type) and kind.__module__ == work.__name__ and kind is not Since:
            for name, one in vars(kind).items():
                if not name.startswith("_") and (
                    isinstance(one, property | cached_property) or isfunction(one)
                ):
                    yield kind, name


def test_the_checker_computes_everything_by_itself(monkeypatch):
    def refuse(*_):
        raise AssertionError("the checker asked what the solvers ask")

    names = set()
    for kind, name in list(computed()):
        names.add(f"{kind.__name__}.{name}")
        monkeypatch.setattr(kind, name, property(refuse))
    assert {"Baking.kind", "Load.end", "Plan.loads_of", "Plan.end", "Problem.items"} <= names
    assert faults(PROBLEM, plan()) == ()
    for broken in BROKEN.values():
        rule, _, found = told(*broken)
        assert {fault.rule for fault in found} == {rule}


def test_the_checker_knows_the_values_and_no_solver():
    tree = ast.parse(Path(checking.__file__).read_text(encoding="utf-8"))
    own = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    assert {node.module for node in own if node.module.startswith("classes")} == {work.__name__}
