"""Variants: made on their page, kept while a class uses them, carried to the next revision."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from classes.core.keys import PersonKey
from classes.enrollment.models import Enrollment
from classes.models import ClassSession
from classes.selectors import class_plan
from handouts.kinds.handout import handouts
from handouts.kinds.station_cards import station_cards
from recipes.core.written import WrittenSwap
from recipes.models import Variant
from recipes.selectors import name_of
from recipes.variants.services import add_variant
from tests.factories import (
    EnrollmentFactory,
    IngredientFactory,
    RevisionFactory,
    TaughtRecipeFactory,
    flour,
    planned_class,
    water,
)


@pytest.fixture
def sesame(db):
    return IngredientFactory(key="sesame-seeds", name="Sesame seeds", allergens_us=["sesame"])


@pytest.fixture
def sunflower(db):
    return IngredientFactory(key="sunflower-seeds", name="Sunflower seeds")


@pytest.fixture
def oats(db):
    return IngredientFactory(key="rolled-oats", name="Rolled oats")


@pytest.fixture
def ring(instructor, sesame, sunflower):
    """A ring of 400 g dough with 30 g of seeds, of which sesame is 60 %."""
    return RevisionFactory(
        recipe__owner=instructor,
        title="Seeded ring",
        piece_g=Decimal(400),
        parts=[
            {"kind": "dough", "lines": {flour(): 1000, water(): 660}},
            {"kind": "topping", "lines": {sesame: 18, sunflower: 12}},
        ],
    )


@pytest.fixture
def address(ring):
    return reverse("recipes:variants", args=[ring.recipe.slug])


@pytest.fixture
def fields(sesame, sunflower, oats):
    return {
        "name": "sunflower and oats",
        "swaps-TOTAL_FORMS": "2",
        "swaps-INITIAL_FORMS": "0",
        "swaps-0-replaced": sesame.pk,
        "swaps-0-by": sunflower.pk,
        "swaps-0-parts": "1",
        "swaps-1-replaced": sesame.pk,
        "swaps-1-by": oats.pk,
        "swaps-1-parts": "2",
    }


@pytest.fixture
def variant(ring, sesame, sunflower, oats):
    return add_variant(
        revision=ring,
        name="sunflower and oats",
        swaps=[
            WrittenSwap(name_of(sesame), name_of(sunflower)),
            WrittenSwap(name_of(sesame), name_of(oats), Decimal(2)),
        ],
    )


def needs(session) -> dict[str, Decimal]:
    plan = class_plan(ClassSession.objects.with_plan().get(pk=session.pk))
    return {need.ingredient.key: round(need.exact_g, 6) for need in plan.amounts.needs}


def test_a_variant_is_kept_with_its_amounts(instructor_client, address, fields):
    page = instructor_client.post(address, fields, follow=True).content.decode()
    assert "sunflower and oats" in page
    assert "Rolled oats" in page
    assert "Sesame (US list)" in page or "sesame (US list)" in page


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        ("name", "", "This field is required."),
        ("swaps-0-parts", "0", "0.01"),
        ("swaps-0-parts", "lots", "cannot read"),
        ("swaps-0-component_name", "Dough", "That part does not contain it."),
        ("swaps-0-replaced", "", "This field is required."),
    ],
)
def test_a_bad_value_is_named_and_nothing_is_kept(
    instructor_client, address, fields, field, value, message
):
    page = instructor_client.post(address, fields | {field: value}).content.decode()
    assert message in page
    assert not Variant.objects.exists()


def test_a_bread_without_flour_is_refused(instructor_client, address, fields, oats):
    fields |= {"swaps-TOTAL_FORMS": "1", "swaps-0-replaced": flour().pk, "swaps-0-by": oats.pk}
    page = instructor_client.post(address, fields).content.decode()
    assert "No flour would be left." in page


def test_a_second_of_the_same_name_is_refused(instructor_client, address, fields, variant):
    assert "already" in instructor_client.post(address, fields).content.decode()


def test_another_row_is_shown_without_keeping_anything(instructor_client, address, fields, htmx):
    page = instructor_client.post(address, fields | {"add": "swaps"}, headers=htmx).content.decode()
    assert 'name="swaps-2-replaced"' in page
    assert not Variant.objects.exists()


class TestInAClass:
    @pytest.fixture
    def session(self, instructor, ring):
        session = planned_class(instructor=instructor, students=0, seats=12, kitchen__stations=3)
        session.taught.all().delete()
        TaughtRecipeFactory(
            session=session, revision=ring, demonstration_batches=0, dusting_g=0, dusting_flour=None
        )
        return session

    def test_for_everybody_it_gives_the_worked_amounts(self, session, variant):
        session.taught.update(variant=variant)
        found = needs(session)
        assert "sesame-seeds" not in found
        assert (found["sunflower-seeds"], found["rolled-oats"]) == (216, 144)

    def test_for_one_student_only_that_share_changes(self, session, variant):
        student = EnrollmentFactory(session=session)
        student.variants.add(variant)
        found = needs(session)
        assert found["sesame-seeds"] == 11 * 18
        assert found["sunflower-seeds"] == 11 * 12 + 18
        assert found["rolled-oats"] == 12

    def test_the_dough_is_the_same_with_and_without(self, session, variant):
        before = needs(session)
        EnrollmentFactory(session=session).variants.add(variant)
        after = needs(session)
        assert before["bread-flour"] == after["bread-flour"]

    def test_the_amounts_page_shows_it_apart(self, instructor_client, session, variant):
        EnrollmentFactory(session=session, name="Ada").variants.add(variant)
        address = reverse("classes:amounts", args=[session.code])
        page = instructor_client.get(address).content.decode()
        assert "Seeded ring, revision 1, variant sunflower and oats" in page

    def test_it_is_chosen_on_the_roster(self, instructor_client, session, variant):
        address = reverse("classes:roster", args=[session.code])
        instructor_client.post(
            address,
            {
                "people-TOTAL_FORMS": "1",
                "people-INITIAL_FORMS": "0",
                "people-0-name": "Ada",
                "people-0-variants": [variant.pk],
            },
        )
        assert list(Enrollment.objects.get(name="Ada").variants.all()) == [variant]

    def test_a_station_card_names_those_who_bake_it(self, session, variant):
        EnrollmentFactory(session=session, name="Ada").variants.add(variant)
        EnrollmentFactory(session=session, name="Bram")
        plan = class_plan(ClassSession.objects.with_plan().get(pk=session.pk))
        cards = station_cards(plan, session.starts_at)
        people = {card.recipe.label: card.people for card in cards if "Ada" in card.people}
        assert people == {"Seeded ring, revision 1, variant sunflower and oats": ("Ada",)}
        assert any("Bram" in card.people for card in cards)

    def test_the_handout_holds_the_students_own_recipe(self, session, variant):
        ada = EnrollmentFactory(session=session, name="Ada")
        ada.variants.add(variant)
        plan = class_plan(ClassSession.objects.with_plan().get(pk=session.pk))
        student = plan.student[PersonKey.student(ada.pk)]
        (handout,) = handouts(plan, [student], session.starts_at)
        assert [card.label for card in handout.recipes] == [
            "Seeded ring, revision 1, variant sunflower and oats"
        ]

    def test_while_somebody_bakes_it_it_stays(self, instructor_client, session, variant, ring):
        EnrollmentFactory(session=session).variants.add(variant)
        address = reverse("recipes:variant_remove", args=[ring.recipe.slug, variant.pk])
        page = instructor_client.post(address, follow=True).content.decode()
        assert "A class uses sunflower and oats" in page
        assert Variant.objects.filter(pk=variant.pk).exists()

    def test_nobody_has_it_removed(self, instructor_client, variant, ring):
        address = reverse("recipes:variant_remove", args=[ring.recipe.slug, variant.pk])
        instructor_client.post(address)
        assert not Variant.objects.exists()
