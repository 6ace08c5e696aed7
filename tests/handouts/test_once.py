"""All papers of a class are made from one plan, in which each thing is worked out once."""

from __future__ import annotations

import pickle
import sys
from collections import Counter
from functools import wraps

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from classes.core import demand
from classes.core.diets import conflicts, findings
from classes.core.hours.checking import verdict
from classes.hours import plan as hours_plan
from classes.selectors import class_plan
from handouts.catalog import KINDS
from handouts.kind import Material
from handouts.press.markup import markup_of
from handouts.press.render import PageSize
from recipes import selectors as recipe_selectors
from tests.handouts.conftest import NOW, another_class, plan_of, planned

# Home papers may ask for the yeasts that can take a yeast's place.
QUERIES = 1


@pytest.fixture
def counted(monkeypatch):
    """How often each function was called, by its name, whoever calls it."""
    calls = Counter()

    def watch(module, name):
        original = getattr(module, name)

        @wraps(original)
        def called(*args, **kwargs):
            calls[name] += 1
            return original(*args, **kwargs)

        for known in list(sys.modules.values()):
            if getattr(known, "__name__", "").startswith(("classes", "handouts", "recipes")):
                for own, value in list(vars(known).items()):
                    if value is original:
                        monkeypatch.setattr(known, own, called)

    from classes import selectors

    for name in ("people_of", "class_plan", "decisions_of"):
        watch(selectors, name)
    watch(recipe_selectors, "formula_value")
    watch(demand, "class_amounts")
    watch(findings, "findings")
    watch(conflicts, "concerns")
    watch(hours_plan, "hours_of")
    watch(verdict, "verdict_of")
    return calls


@pytest.fixture
def session(demo):
    """A class of two recipes, in which people told what they must not eat."""
    made = another_class(demo, "Pillow rolls", "Hearth loaf", students=4)
    for one, allergen in zip(made.enrollments.all(), ("eggs", "milk"), strict=False):
        one.allergens, one.diet = [allergen], "told"
        one.save()
    return planned(made)


def markups(material):
    """Every paper that a class has, as markup."""
    return [markup_of(leaf.paper, PageSize.A4) for kind in KINDS for leaf in kind.leaves(material)]


def test_each_thing_is_worked_out_once_for_all_papers(session, counted):
    from classes import selectors

    made = markups(Material(selectors.class_plan(session), NOW))
    assert len(made) > len(KINDS)
    assert counted == {
        "class_plan": 1,
        "people_of": 1,
        "decisions_of": 1,
        "formula_value": 2,
        "class_amounts": 1,
        "findings": 1,
        "concerns": 1,
        "hours_of": 1,
        "verdict_of": 1,
    }


def test_papers_ask_the_database_for_nothing_but_yeasts(session):
    material = Material(class_plan(session), NOW)
    with CaptureQueriesContext(connection) as queries:
        assert markups(material)
    assert len(queries) == QUERIES


def sent(value):
    """What arrives of a value in another process."""
    return pickle.loads(pickle.dumps(value))  # noqa: S301, our own bytes


def test_a_plan_can_go_to_another_process(demo):
    plan = plan_of(demo)
    again = sent(plan)
    assert again == plan
    assert again.amounts == plan.amounts
    assert again.shopping == plan.shopping
    assert again.hours.solved == plan.hours.solved
    assert again.concerns == plan.concerns
    assert sent(again).verdict == plan.verdict
