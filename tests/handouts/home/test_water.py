"""How warm the water has to be at home, by the bakers' formula; the checks do that sum by hand."""

from decimal import Decimal

import pytest

from classes.home_kitchen.values import HomeKitchen
from classes.home_kitchen.water import WARMEST_USED_C, home_water
from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line
from recipes.core.scaling import batch

FLOUR = FormulaIngredient("bread-flour", "Bread flour", is_flour=True, water_share=Decimal("0.13"))
WATER = FormulaIngredient("water", "Water", water_share=Decimal(1), is_added_liquid=True)
MILK = FormulaIngredient(
    "whole-milk", "Whole milk", water_share=Decimal("0.88"), is_added_liquid=True
)
DOUGH_C = Decimal(25)


def sheet(liquid=WATER, *, in_dough=True, ripened=False):
    lines = [Line(FLOUR, Decimal(1000))]
    poured = Line(liquid, Decimal(680))
    parts = [
        FormulaComponent(ComponentKind.DOUGH, "Dough", (*lines, poured) if in_dough else (*lines,))
    ]
    if ripened or not in_dough:
        own = (Line(FLOUR, Decimal(300)), Line(liquid, Decimal(300)))
        parts.insert(0, FormulaComponent(ComponentKind.PREFERMENT, "Poolish", own))
    formula = Formula("Plain", tuple(parts), piece_g=Decimal(500), pieces=1)
    return batch(formula, Decimal(500))


def water(made=None, **kitchen):
    known = {name: Decimal(value) if name.endswith("_c") else value
             for name, value in kitchen.items()}  # fmt: skip
    return home_water(made or sheet(), DOUGH_C, HomeKitchen(**known))


@pytest.mark.parametrize(
    ("room_c", "mixed_by", "use_c"),
    [(18, "hand", 75 - 36 - 3), (21, "hand", 75 - 42 - 3), (21, "mixer", 75 - 42 - 11)],
)
def test_it_is_three_times_the_dough_less_flour_room_and_friction(room_c, mixed_by, use_c):
    found = water(room_c=room_c, mixed_by=mixed_by)
    assert (found.use_c, found.dough_c, found.out_of_reach) == (use_c, DOUGH_C, False)


def test_a_preferment_as_warm_as_the_room_is_a_fourth_term():
    assert water(sheet(ripened=True), room_c=21).use_c == 100 - 63 - 3


def test_a_recipe_that_says_nothing_wants_a_usual_dough():
    assert home_water(sheet(), None, HomeKitchen()).wanted_c == DOUGH_C


def test_where_the_tap_is_warmer_there_is_ice_in_it():
    """Melting 80 °C of water's own warmth a gram: ice = water (tap - wanted) / (80 + tap)."""
    found = water(room_c=31, mixed_by="mixer", tap_c=20)
    poured_g = Decimal(500) * 680 / 1680
    assert found.use_c == 75 - 62 - 11
    assert found.with_ice
    assert not found.melts_in_dough
    assert found.ice_g == pytest.approx(poured_g * (20 - 2) / (80 + 20), abs=Decimal(1))
    assert found.ice_g + found.water_g == round(poured_g)


def test_ice_that_cannot_melt_first_melts_in_the_dough():
    found = water(room_c=35, mixed_by="mixer", tap_c=24)
    assert found.use_c == 75 - 70 - 11
    assert found.melts_in_dough


def test_what_the_tap_gives_is_taken_as_it_comes():
    assert water(room_c=28, tap_c=16).is_from_tap
    assert not water(room_c=28, tap_c=15).is_from_tap


def test_a_cold_room_would_need_water_too_hot_for_yeast():
    found = water(room_c=8)
    assert (found.is_too_hot, found.out_of_reach) == (True, True)
    assert found.asked_c == 75 - 16 - 3
    assert found.use_c == WARMEST_USED_C
    assert found.dough_c == pytest.approx(Decimal(16 + 3 + 40) / 3)


@pytest.mark.parametrize(("room_c", "asked_c"), [(16, 40), (15, 42), (11, 50), (10, 52)])
def test_water_is_made_no_warmer_on_either_side_of_what_yeast_stands(room_c, asked_c):
    found = water(room_c=room_c)
    assert found.use_c == min(asked_c, WARMEST_USED_C)
    assert (found.asked_c or found.use_c) == asked_c
    assert (found.is_too_hot, found.harms_yeast) == (asked_c > 40, asked_c > 50)


def test_milk_cannot_be_iced_and_is_taken_cold():
    found = water(sheet(MILK), room_c=38)
    assert (found.name, found.out_of_reach, found.is_too_hot) == ("whole milk", True, False)
    assert found.is_chilled
    assert found.dough_c == pytest.approx(Decimal(76 + 3 + 4) / 3)


def test_milk_is_chilled_where_that_is_enough():
    found = water(sheet(MILK), room_c=35)
    assert (found.use_c, found.out_of_reach) == (75 - 70 - 3, False)
    assert found.is_chilled


def test_a_dough_that_gets_all_its_liquid_from_a_preferment_has_no_water_to_warm():
    assert water(sheet(in_dough=False)) is None
