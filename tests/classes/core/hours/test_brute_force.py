"""For small classes the best plan is the best: trying out everything finds none that is earlier."""

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from classes.core.hours.exact.solving import improve
from classes.core.hours.greedy.placing import plan_greedily
from classes.core.hours.problem.work import PlannedOven
from tests.classes.core.hours.problems import (
    Bread,
    Fold,
    Kitchen,
    Show,
    Span,
    class_problem,
    job_shops,
    later,
    minutes,
    nothing_is_fixed,
)
from tests.classes.core.hours.rules import faults
from tests.classes.core.hours.trying import GaveUp, Search, guided

MOST_TRIES = 5000


PLAIN = Bread(proof=Span(2, 3))
COOL = Bread(proof=Span(2, 4), bake=3, temperature_c=200)
FOLDED = Bread(bulk=Span(1, 1), fold=Fold(Span(1, 1), 1, 1), proof=Span(1, 2))
BY_HAND = Bread(by_hand=6, proof=Span(2, 3))
IN_CABINET = Bread(cabinet=1, proof=Span(3, 4))
NO_WAIT = Bread(cabinet=1, proof=Span(3, 0))
LARGE_STAY = Bread(cabinet=2, proof=Span(3, 2))
THREE_PIECES = Bread(pieces=3, proof=Span(2, 2))
TWO_PIECES = Bread(pieces=2, proof=Span(2, 3))


def ovens(*places):
    return tuple(
        PlannedOven(f"oven{n}", f"Oven {n}", slots, 1) for n, slots in enumerate(places, 1)
    )


def stations(count, *breads, lead=None, show=None, **kitchen):
    """A class of stations that all bake the same, and their first tasks."""
    problem = class_problem([breads] * count, Kitchen(**kitchen), lead, show)
    return problem, tuple(f"s{n} dough1 mix" for n in range(1, count + 1))


def two_temperatures(count):
    """Every other station bakes cooler; no two neighbors are twins."""
    breads = [[COOL if n % 2 else PLAIN] for n in range(count)]
    return class_problem(breads, Kitchen(mixers=2, degrees_a_minute=10)), ()


CLASSES = {
    **{
        f"{count} stations, mixers: {mixers}": stations(count, PLAIN, mixers=mixers)
        for count in (1, 2, 3, 4)
        for mixers in (1, 2)
    },
    "3 stations, a small oven for two each": stations(3, TWO_PIECES, ovens=ovens(3)),
    "3 stations, three pieces in two places": stations(3, THREE_PIECES, ovens=ovens(2)),
    "4 stations, three pieces in two ovens": stations(4, THREE_PIECES, ovens=ovens(2, 1)),
    "2 stations, a cabinet for one": stations(2, IN_CABINET, cabinet=1, mixers=2),
    "3 stations, a cabinet for one": stations(3, NO_WAIT, cabinet=1),
    "4 stations, a cabinet for two": stations(4, IN_CABINET, cabinet=2),
    "2 stations, a cabinet for one and a half": stations(2, LARGE_STAY, cabinet=3, mixers=2),
    "2 stations at two temperatures": two_temperatures(2),
    "4 stations at two temperatures": two_temperatures(4),
    "2 stations with two doughs each": stations(2, PLAIN, COOL, mixers=2, degrees_a_minute=10),
    "4 stations that fold": stations(4, FOLDED),
    "4 stations, by mixer or by hand": stations(4, BY_HAND),
    "4 stations, a break and tidying": stations(4, BY_HAND, pause=(5, 2), tidy=1),
    "3 stations and a show": stations(3, PLAIN, lead=PLAIN, show=Show(Span(0, 2), 1, Span(0, 1))),
}


def best_of(problem):
    """The proved best plan; the solver starts from a late plan where one can be had."""
    start = plan_greedily(problem)
    if nothing_is_fixed(problem):
        start = later(start, 5)
    best = improve(problem, start, limit_s=20, workers=1)
    assert best.proved
    assert faults(problem, best.plan) == ()
    return best


def is_among_all(problem, plan, ready):
    """Whether the search comes to this very plan when it tries everything."""
    found = Search(problem, ready, guide=plan).plan()
    return found is not None and all(
        guided(found, one) == guided(plan, one) for one in (*problem.tasks, *problem.bakings)
    )


@pytest.mark.parametrize(("problem", "twins"), CLASSES.values(), ids=CLASSES)
def test_no_plan_of_a_small_class_is_earlier_than_the_proved_one(problem, twins):
    best = best_of(problem)
    assert Search(problem, best.ready - 1, twins).plan() is None
    assert is_among_all(problem, best.plan, best.ready)


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_the_search_finds_a_plan_where_there_is_one(count):
    problem, twins = stations(count, PLAIN)
    found = Search(problem, best_of(problem).ready, twins).plan()
    assert faults(problem, found) == ()


def test_the_search_agrees_with_a_sum_by_hand():
    problem, _ = stations(1, PLAIN)
    chain = 3 + 1 + 1 + 2 + 4  # mix, divide, shape, proof, bake
    assert Search(problem, chain - 1).plan() is None
    assert Search(problem, chain).plan() is not None


def test_stations_need_not_begin_in_their_order_for_the_search_to_find_none():
    problem, _ = stations(3, PLAIN)
    assert Search(problem, best_of(problem).ready - 1).plan() is None


tiny_breads = st.builds(
    Bread,
    by_mixer=minutes(1, 3),
    by_hand=st.none() | minutes(3, 5),
    mixer_and_hands=st.booleans(),
    bulk=st.builds(Span, minutes(0, 2), st.none() | minutes(0, 2)),
    fold=st.none()
    | st.builds(Fold, st.builds(Span, minutes(1, 2), minutes(0, 1)), st.just(1), minutes(0, 1)),
    proof=st.builds(Span, minutes(1, 3), minutes(0, 3)),
    cabinet=minutes(0, 2),
    pieces=minutes(1, 3),
    bake=minutes(2, 4),
    temperature_c=st.sampled_from([200, 220]),
    loader=st.sampled_from(["own", "instructor", None]),
    load=minutes(0, 2),
    cool=minutes(0, 2),
    clean=minutes(0, 1),
)


@st.composite
def tiny_classes(draw):
    """Two or three stations, with one bread each of one or two."""
    breads = draw(st.lists(tiny_breads, min_size=1, max_size=2))
    chosen = draw(st.lists(st.sampled_from(breads), min_size=2, max_size=3))
    amounts = [bread.cabinet for bread in chosen]
    kitchen = Kitchen(
        mixers=draw(minutes(1, 2)),
        cabinet=draw(minutes(max(amounts), sum(amounts))),
        ovens=ovens(*draw(st.lists(minutes(1, 3), min_size=1, max_size=2))),
        degrees_a_minute=draw(st.sampled_from([5, 10, 15])),
        pause=draw(st.none() | st.tuples(minutes(2, 9), minutes(1, 2))),
    )
    return class_problem([[bread] for bread in chosen], kitchen)


@settings(max_examples=12)
@given(tiny_classes() | job_shops(most_jobs=3, most_machines=3, longest=4))
def test_no_plan_of_any_tiny_problem_is_earlier_than_the_proved_one(problem):
    best = best_of(problem)
    assert is_among_all(problem, best.plan, best.ready)
    try:
        assert Search(problem, best.ready - 1, most_tries=MOST_TRIES).plan() is None
    except GaveUp:
        event("too many plans to try all")
