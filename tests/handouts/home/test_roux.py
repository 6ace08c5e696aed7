"""The liquid at home of a bread with a roux, a soaker or a cold poolish, on page and paper.

The heat balance is checked by another sum: constant specific heats in kJ/kgK, milk 3.85, flour
1.84, egg 3.18 and butter 2.30 as measured (a process-engineering textbook, App. A.4-1; see
`tests/outside/data/specific_heat_by_composition.csv`), sugar 1.24, salt 0.864 and yeast about 1.9
from memory.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from classes.enrollment.models import Enrollment
from classes.selectors import class_plan
from recipes.models import Ingredient, Revision, Step
from tests.classes.demo_class import demo_class
from tests.classes.enrollment.enrolled import home_page_of
from tests.handouts.conftest import another_class, at_home_for, planned
from tests.handouts.pdfs import page_texts, plain

# In 100 g of flour: 5 and 25 of milk in the roux, 95 and 37 of milk in the dough.
ROOM, COLD, HOT = 21.0, 4.0, 70.0


@pytest.fixture
def demo(db):
    return demo_class()


@pytest.fixture
def rolls(demo):
    return planned(another_class(demo, "Pillow rolls", students=1))


def water_of(session, **kept):
    session = planned(session)
    kitchen = {"tap_c": "14", "room_c": "21"} | kept
    (recipe,) = at_home_for(class_plan(session), kitchen).recipes
    return recipe.water


def page(client, session, **kept):
    student = session.enrollments.first()
    Enrollment.objects.filter(pk=student.pk).update(home={"tap_c": "14", "room_c": "21"} | kept)
    return plain(client.get(home_page_of(student)).content.decode())


def steps(title, kind="prepare"):
    return Step.objects.filter(revision__title=title, kind=kind)


def milk_by_hand(roux_c=HOT, steam=2.4, tap=14.0, wanted=26.0):
    """The milk for 100 g of flour by constant specific heats: heat lost is heat won."""
    parts = [
        (5 * 1.84, roux_c),
        ((25 - steam) * 3.85, roux_c),
        (steam * 4.18, tap),
        (95 * 1.84, ROOM),
        (10 * 1.24, ROOM),
        (12 * 2.30, ROOM),
        (10 * 3.18, COLD),
        (1.8 * 0.864 + 1.6 * 1.9, ROOM),
    ]
    short = sum(capacity * (wanted - stands) for capacity, stands in parts)
    return wanted + short / (37 * 3.85)


def test_the_hot_roux_warms_the_milk_so_that_it_goes_in_cool(stranger, rolls):
    """By the bakers' formula, which knows no roux, it would be 78 - 42 - 3 = 33 °C."""
    water = water_of(rolls)
    assert (water.name, water.roux_c, water.by_balance) == ("remaining whole milk", 70, True)
    assert float(water.use_c) == pytest.approx(milk_by_hand(), abs=2)
    assert water.use_c < 15
    told = page(stranger, rolls)
    shown = f"{water.use_c:.1f} °C"
    assert f"Make the remaining whole milk {shown}" in told
    assert "Worked out with the roux going in at 70 °C (158 °F)." in told
    assert f"Remaining whole milk at {shown}" in told
    assert "By heat balance of all that goes in" in told
    assert "bakers’ formula" not in told


def test_the_paper_says_what_the_page_says(stranger, rolls):
    student = rolls.enrollments.first()
    Enrollment.objects.filter(pk=student.pk).update(home={"tap_c": "14", "room_c": "21"})
    pdf = stranger.get(home_page_of(student).rstrip("/") + ".pdf").content
    assert "Make the remaining whole milk" in plain(" ".join(page_texts(pdf)))


def test_a_roux_that_has_cooled_asks_for_warm_milk(stranger, rolls):
    steps("Pillow rolls").update(waiting_min=180, temperature_c=21, temperature_of="room")
    water = water_of(rolls)
    assert water.roux_c == 21
    assert float(water.asked_c) == pytest.approx(milk_by_hand(roux_c=21.0), abs=2.5)
    assert (water.use_c, water.harms_yeast) == (40, False)
    assert "the roux going in at 21 °C" in page(stranger, rolls)


def test_a_roux_that_stood_for_a_while_cannot_be_told(stranger, rolls):
    steps("Pillow rolls").update(waiting_min=30)
    told = page(stranger, rolls)
    assert "We cannot say how warm to make the remaining whole milk" in told
    assert "the recipe does not say how warm the roux goes in" in told
    assert "Make the remaining" not in told


def test_what_an_ingredient_consists_of_must_be_known(stranger, rolls):
    Ingredient.objects.filter(key="whole-milk").update(water_percent=None)
    told = page(stranger, rolls)
    assert "We cannot say how warm to make the remaining whole milk" in told
    assert "the composition of these is not known: Whole milk" in told


def test_in_a_hot_room_the_roux_has_to_cool_first(stranger, rolls):
    water = water_of(rolls, room_c="31")
    assert (water.dough_c, water.out_of_reach) == (26, False)
    assert water.uncooled_c > 28
    assert 40 < water.cool_roux_c < 65
    told = page(stranger, rolls, room_c="31")
    assert f"Let the roux cool to about {water.cool_roux_c:.1f} °C" in told
    assert "take the remaining whole milk at 4 °C (39 °F), from the refrigerator." in told


def test_a_roux_cooled_as_told_makes_the_dough_as_wanted(rolls):
    cool_c = water_of(rolls, room_c="31").cool_roux_c
    steps("Pillow rolls").update(
        waiting_min=20, temperature_c=round(cool_c, 1), temperature_of="dough"
    )
    water = water_of(rolls, room_c="31")
    assert water.use_c == pytest.approx(4, abs=Decimal("0.6"))
    assert not water.out_of_reach


def test_what_a_mixer_adds_to_a_balance_is_not_made_up(stranger, rolls):
    told = page(stranger, rolls, mixed_by="mixer")
    assert "A mixer warms the dough further, and we cannot say how much: measure." in told
    assert "A mixer warms the dough further" not in page(stranger, rolls)


def test_two_things_prepared_without_a_pan_leave_the_roux_untold(rolls):
    revision = Revision.objects.get(title="Pillow rolls")
    steps("Pillow rolls").update(worked="")
    assert water_of(rolls).roux_c == 70
    for step in revision.steps.order_by("-position"):
        Step.objects.filter(pk=step.pk).update(position=step.position + 1)
    Step.objects.create(revision=revision, position=0, kind="prepare", text="Oil the pan.")
    assert "the roux" in water_of(rolls).why


def test_a_poolish_out_of_the_refrigerator_is_a_cold_term_of_the_sum(demo):
    """4 × 25 - 21 flour - 21 room - 3 by hand, less 21 or 4 of the poolish."""
    session = planned(another_class(demo, "Two-day rye batard", students=1))
    wanted_c = session.taught.get().revision.dough_temperature_c
    assert water_of(session).use_c == 4 * wanted_c - 63 - 3
    steps("Two-day rye batard").update(temperature_c=4, temperature_of="refrigerator")
    cold = water_of(session)
    asked = cold.asked_c if cold.is_too_hot else cold.use_c
    assert asked == 4 * wanted_c - 42 - 4 - 3


def test_a_soaker_as_warm_as_the_room_changes_nothing_and_a_cold_one_counts(demo):
    session = planned(another_class(demo, "Two-day rye batard", students=1))
    session.taught.get().revision.components.filter(kind="preferment").update(kind="soaker")
    plain_water = water_of(session)
    assert not plain_water.by_balance
    steps("Two-day rye batard").update(temperature_c=4, temperature_of="refrigerator")
    cold = water_of(session)
    assert cold.by_balance
    assert cold.asked_c or cold.use_c > 30
