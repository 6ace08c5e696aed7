"""When a starter is fed for a class, with how much: worked by hand, planned backward.

Four people at one bench bake two loaves of 800 g each of the demo's country sourdough: 6400 g and
3 % of dough. The levain takes 136.13 g of starter and five times as much of flour and of water.
It takes 480 min at 25 °C, so at the 21 °C of the hall 480 x 2^(4 / 9.4) = 645 min. The mother, fed
1 : 1 : 1, becomes three times as much instead of eleven: 480 x ln 3 / ln 11 = 220 min at 25 °C,
295 at 21. 137 g of it are 46 g of each, and 46 g of it 16 g of each.
"""

from dataclasses import replace
from decimal import Decimal

import pytest
from django.utils.html import escape

from classes.core.hours.ahead.everything import ahead_of
from classes.core.hours.ahead.starters import feedings_unsaid
from classes.demo import COUNTRY_SOURDOUGH, HEARTH_LOAF
from classes.hours.morning import morning_of
from classes.models import Kitchen
from classes.selectors import class_plan, planned_class
from handouts.kinds.preparation import preparation_list
from handouts.press.render import to_html
from recipes.core.written import NamedIngredient
from recipes.ingredients.table import load_ingredients
from recipes.services import create_recipe
from tests.factories import ClassSessionFactory, TaughtRecipeFactory

pytestmark = pytest.mark.django_db


def sourdough(instructor, written=COUNTRY_SOURDOUGH, **kitchen):
    load_ingredients()
    revision = create_recipe(owner=instructor, written=written)
    session = ClassSessionFactory(
        instructor=instructor, handling_loss_percent=3, count_empty_seats=True, seats=4
    )
    there = {"room_c": 21, "bowls": 6, "refrigerator_places": 8, **kitchen}
    Kitchen.objects.filter(pk=session.kitchen_id).update(**there)
    session.kitchen.ovens.create(name="O1", slots=8)
    TaughtRecipeFactory(
        session=session, revision=revision, pieces_each=2, piece_g=800, demonstration_batches=0
    )
    return session


def planned(session):
    hours = class_plan(planned_class(session.pk)).hours
    return hours.scheduled, ahead_of(hours.scheduled, hours.solved.plan)


def fed(tasks):
    return [task for task in tasks if "refresh" in task.key or task.title.startswith("Feed")]


def with_line(key):
    """The recipe with another starter in the levain."""
    levain, final = COUNTRY_SOURDOUGH.parts
    last = replace(levain.lines[-1], ingredient=NamedIngredient(key, ""))
    return replace(
        COUNTRY_SOURDOUGH, parts=(replace(levain, lines=(*levain.lines[:-1], last)), final)
    )


def with_step(**changes):
    first, *others = COUNTRY_SOURDOUGH.steps
    return replace(COUNTRY_SOURDOUGH, steps=(replace(first, **changes), *others))


def straight_in():
    _, final = COUNTRY_SOURDOUGH.parts
    line = replace(final.lines[0], ingredient=NamedIngredient("rye-starter", ""))
    return replace(
        COUNTRY_SOURDOUGH,
        parts=(replace(final, lines=(line, *final.lines)),),
        steps=COUNTRY_SOURDOUGH.steps[1:],
    )


def test_the_feedings_by_hand(instructor):
    scheduled, tasks = planned(sourdough(instructor))
    first, second, levain = fed(tasks)
    assert [task.ready_by - task.starts for task in (first, second)] == [295, 295]
    assert levain.ready_by - levain.starts == 645
    assert (first.ready_by, second.ready_by) == (second.starts, levain.starts)
    assert (
        "46 g Sourdough starter, whole wheat, 46 g Whole wheat flour and 46 g water" in second.text
    )
    assert (
        "16 g Sourdough starter, whole wheat, 16 g Whole wheat flour and 16 g water" in first.text
    )
    assert (
        "340 g Bread flour, 340 g Whole wheat flour, 681 g Water and 136 g Sourdough" in levain.text
    )
    assert "is 1 : 5 : 5." in levain.text
    assert {task.temperature_c for task in (first, second, levain)} == {21}
    assert feedings_unsaid(scheduled.work) == ()


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (with_line("sourdough-starter"), "How much water it has to its flour is not known"),
        (with_step(temperature_c=None, temperature_of=None), "how warm Levain stands"),
        (with_step(waiting_min=0), "No step says how long Levain takes"),
        (with_step(temperature_c=Decimal(4)), "does not ripen"),
        (straight_in(), "no levain says in what ratio"),
    ],
    ids=["no water", "no temperature", "no time", "too cold", "no ratio"],
)
def test_what_is_missing_is_said(instructor, instructor_client, written, said):
    session = sourdough(instructor, written)
    scheduled, tasks = planned(session)
    (lack,) = feedings_unsaid(scheduled.work)
    assert lack.startswith("Country sourdough: cannot say when to feed Sourdough starter")
    assert said in lack
    assert not [task for task in tasks if "refresh" in task.key]
    page = instructor_client.get(f"/classes/{session.code}/hours/").content.decode()
    assert said in page


def test_pages_and_papers_say_it_by_the_clock(instructor, instructor_client):
    session = sourdough(instructor)
    plan = class_plan(planned_class(session.pk))
    first, second, levain = (row for row in morning_of(plan).rows if row.task.feeds)
    assert first.task.title == (
        "Proposal: refresh Sourdough starter, whole wheat for Country sourdough"
    )
    assert levain.task.title == "Feed the starter: Levain for Country sourdough"
    assert [tub.amounts.name for tub in levain.tubs] == ["Levain"]
    starts = plan.hours.moment(fed(planned(session)[1])[1].starts)
    assert second.clock == starts.clock
    paper = preparation_list(plan, session.starts_at)
    assert paper.morning == morning_of(plan)
    html = {"paper": to_html(paper)}
    for page in ("preparation", "hours"):
        address = f"/classes/{session.code}/{page}/"
        html[page] = instructor_client.get(address).content.decode()
    for where, text in html.items():
        assert escape(second.task.text) in text, where
        assert second.clock in text, where
        assert escape(first.task.title) in text, where


def test_a_class_without_a_starter_says_nothing_of_feeding(instructor):
    session = sourdough(instructor, HEARTH_LOAF)
    morning = morning_of(class_plan(planned_class(session.pk)))
    assert not [row for row in morning.rows if row.task.feeds]
    assert "starter" not in " ".join(morning.missing)


def test_a_warmer_hall_ripens_it_sooner(instructor):
    _, tasks = planned(sourdough(instructor, night_c=25))
    assert fed(tasks)[-1].ready_by - fed(tasks)[-1].starts == 480
