"""The factories are the ground every other test stands on."""

from decimal import Decimal

import pytest
from django.contrib.auth import authenticate

from recipes.models import Revision
from recipes.selectors import formula_value
from tests.factories import (
    PASSWORD,
    ClassSessionFactory,
    EnrollmentFactory,
    KitchenFactory,
    RevisionFactory,
    TaughtRecipeFactory,
    UserFactory,
    flour,
    planned_class,
    water,
)

pytestmark = pytest.mark.django_db


def test_a_user_is_an_instructor_unless_the_test_says_otherwise():
    assert [group.name for group in UserFactory().groups.all()] == ["instructor"]
    assert [group.name for group in UserFactory(role="assistant").groups.all()] == ["assistant"]
    assert not UserFactory(role="").groups.exists()


def test_a_user_opens_with_the_shared_password(rf):
    user = UserFactory()
    assert authenticate(rf.post("/"), username=user.username, password=PASSWORD) == user


def test_a_revision_is_a_formula_of_one_dough():
    made = Revision.objects.with_formula().get(pk=RevisionFactory().pk)
    formula = formula_value(made)
    assert (formula.dough_g, formula.flour_g) == (Decimal(160), Decimal(100))


def test_a_revision_takes_parts_and_steps():
    made = RevisionFactory(
        parts=[{"kind": "roux", "lines": {flour(): 5, water(): 25}}, {}],
        steps=[{"kind": "bake", "waiting_min": 30}],
    )
    assert [part.kind for part in made.components.all()] == ["roux", "dough"]
    assert made.steps.get().waiting_min == 30


def test_a_class_belongs_to_the_owner_of_its_kitchen_and_recipe():
    session = ClassSessionFactory()
    taught = TaughtRecipeFactory(session=session)
    assert session.kitchen.owner == taught.revision.recipe.owner == session.instructor


def test_a_class_uses_every_bench_of_its_kitchen():
    session = ClassSessionFactory(kitchen=KitchenFactory(stations=3))
    assert session.stations.count() == 3
    assert EnrollmentFactory(session=session).station.name == "Bench 1"


def test_a_planned_class_deals_its_students_over_the_benches():
    session = planned_class(students=4, kitchen__stations=2)
    names = [student.station.name for student in session.enrollments.all()]
    assert names == ["Bench 1", "Bench 2", "Bench 1", "Bench 2"]
