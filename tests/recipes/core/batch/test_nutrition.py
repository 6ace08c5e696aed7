"""What a piece holds, as an estimate that says what it leaves out, and how labels round it."""

from dataclasses import fields
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from recipes.core.batch.nutrition import (
    ESTIMATE,
    LabelAmount,
    Nutrient,
    label_amounts,
    label_energy,
    label_fat,
    label_grams,
    label_sodium,
    nutrition,
)
from recipes.core.composition import Composition
from recipes.core.errors import NotDecimal, OutOfRange
from tests.recipes.core.breads import HEARTH_LOAF, PILLOW_ROLLS, SEEDED_RING
from tests.recipes.core.strategies import INGREDIENTS, decimals, formulas


def composed(*values):
    """Water, protein, fat, carbohydrate, fiber, ash, sodium, energy."""
    return Composition(*(Decimal(value) for value in values))


# SR28 rows, but for the yeast, which is the active dry one.
COMPOSITIONS = {
    "bread-flour": composed("13.36", "11.98", "1.66", "72.53", "2.4", "0.47", "2", "361"),
    "whole-wheat-flour": composed("10.74", "13.21", "2.50", "71.97", "10.7", "1.58", "2", "340"),
    "water": composed("99.90", "0", "0", "0", "0", "0.10", "4", "0"),
    "table-salt": composed("0.20", "0", "0", "0", "0", "99.80", "38758", "0"),
    "instant-yeast": composed("5.08", "40.44", "7.61", "41.22", "26.9", "5.65", "51", "325"),
    "whole-milk": composed("88.13", "3.15", "3.25", "4.80", "0", "0.67", "43", "61"),
    "sugar": composed("0.02", "0", "0", "99.98", "0", "0", "1", "387"),
    "butter": composed("17.94", "0.85", "81.11", "0.06", "0", "0.04", "11", "717"),
    "egg": composed("76.15", "12.56", "9.51", "0.72", "0", "1.06", "142", "143"),
    "egg-yolk": composed("52.31", "15.86", "26.54", "3.59", "0", "1.71", "48", "322"),
}


def test_every_field_of_a_composition_is_a_nutrient():
    assert {field.name for field in fields(Composition)} == {one.value for one in Nutrient}


def test_the_hearth_loaf_by_hand():
    loaf = nutrition(HEARTH_LOAF, COMPOSITIONS, Decimal("0.12"))
    share = Decimal(520) / Decimal(1709)
    assert loaf.baked_g == Decimal("457.6")
    assert loaf.energy_kcal == pytest.approx(share * Decimal("3607.75"), abs=Decimal("1e-9"))
    assert loaf.sodium_mg == pytest.approx(share * Decimal("7803.39"), abs=Decimal("1e-9"))
    assert loaf.protein_g == pytest.approx(share * Decimal("125.2846"), abs=Decimal("1e-9"))
    assert loaf.unknown == ()
    assert loaf.note == ESTIMATE


def test_baking_takes_away_water_and_nothing_else():
    raw = nutrition(HEARTH_LOAF, COMPOSITIONS)
    baked = nutrition(HEARTH_LOAF, COMPOSITIONS, Decimal("0.12"))
    lost_g = Decimal("0.12") * 520
    assert raw.water_g - baked.water_g == lost_g
    assert raw.baked_g - baked.baked_g == lost_g
    for nutrient in set(Nutrient) - {Nutrient.WATER}:
        assert getattr(raw, nutrient) == getattr(baked, nutrient)


def test_a_loss_above_the_water_is_told_how_much_there_is():
    dry = dict.fromkeys(COMPOSITIONS, composed("30", "10", "10", "49", "5", "1", "100", "200"))
    with pytest.raises(OutOfRange) as caught:
        nutrition(HEARTH_LOAF, dry, Decimal("0.4"))
    assert (caught.value.field, round(caught.value.most, 9)) == ("bake_loss", Decimal("0.3"))


def test_half_of_a_wet_dough_may_bake_away():
    wet = dict.fromkeys(COMPOSITIONS, composed("60", "10", "10", "19", "5", "1", "100", "200"))
    assert nutrition(HEARTH_LOAF, wet, Decimal("0.5")).baked_g == 260


def test_wash_and_topping_count_by_the_piece():
    rolls = nutrition(PILLOW_ROLLS, COMPOSITIONS)
    assert rolls.baked_g == pytest.approx(70 + Decimal(17 + 15) / 12, abs=Decimal("1e-20"))
    ring = nutrition(SEEDED_RING, COMPOSITIONS)
    assert ring.baked_g == 430


def test_what_is_not_known_is_named_with_its_mass():
    ring = nutrition(SEEDED_RING, COMPOSITIONS)
    assert {one.name for one in ring.unknown} == {"Olive oil", "Sesame seeds", "Sunflower seeds"}
    sesame = next(one for one in ring.unknown if one.name == "Sesame seeds")
    assert (sesame.mass_g, set(sesame.nutrients)) == (18, set(Nutrient))
    assert ring.is_partial(Nutrient.FAT)
    assert ring.water_g is None


def test_a_salt_without_sodium_is_named_for_that_alone():
    salt = Composition(
        *(Decimal(0) if field.name != "sodium_mg" else None for field in fields(Composition))
    )
    loaf = nutrition(HEARTH_LOAF, {**COMPOSITIONS, "table-salt": salt})
    assert [(one.name, one.nutrients) for one in loaf.unknown] == [
        ("Table salt", (Nutrient.SODIUM,))
    ]
    assert loaf.is_partial(Nutrient.SODIUM)
    assert not loaf.is_partial(Nutrient.ENERGY)
    assert loaf.water_g is not None


PLAIN = composed("40", "10", "10", "39", "5", "1", "100", "200")


@given(formulas(), decimals("0", "0.3", 2))
def test_parts_and_water_add_up_to_the_piece(formula, loss):
    everything = dict.fromkeys((one.key for one in INGREDIENTS), PLAIN)
    piece = nutrition(formula, everything, loss)
    total = piece.water_g + piece.protein_g + piece.fat_g + piece.carbohydrate_g + piece.ash_g
    assert abs(total - piece.baked_g) < Decimal("1e-12")


@given(formulas(), st.sampled_from(INGREDIENTS))
def test_an_unknown_ingredient_never_adds_to_a_sum(formula, left_out):
    everything = dict.fromkeys((one.key for one in INGREDIENTS), PLAIN)
    known = nutrition(formula, everything)
    partly = nutrition(
        formula, {key: value for key, value in everything.items() if key != left_out.key}
    )
    assume(partly.unknown)
    assert [one.name for one in partly.unknown] == [left_out.name]
    assert partly.energy_kcal < known.energy_kcal
    missing_kcal = partly.unknown[0].mass_g * 2
    assert abs(known.energy_kcal - partly.energy_kcal - missing_kcal) < Decimal("1e-12")


@pytest.mark.parametrize(
    ("loss", "error"),
    [
        pytest.param(Decimal("-0.1"), OutOfRange, id="a gain"),
        pytest.param(Decimal("0.51"), OutOfRange, id="more than half"),
        pytest.param(Decimal("0.49"), OutOfRange, id="more than the water there is"),
        pytest.param(0.12, NotDecimal, id="float"),
    ],
)
def test_losses_that_cannot_be_are_refused(loss, error):
    with pytest.raises(error):
        nutrition(HEARTH_LOAF, COMPOSITIONS, loss)


def test_a_composition_below_zero_is_refused():
    wrong = {**COMPOSITIONS, "water": composed("-1", "0", "0", "0", "0", "0", "0", "0")}
    with pytest.raises(OutOfRange):
        nutrition(HEARTH_LOAF, wrong)


@pytest.mark.parametrize(
    ("rounded", "amounts"),
    [
        pytest.param(
            label_energy,
            "4.9:0 5:5 7.4:5 7.5:10 47.5:50 50:50 50.1:50 55:60 54.9:50 1238:1240",
            id="energy",
        ),
        pytest.param(
            label_fat, "0.49:0 0.5:0.5 0.74:0.5 0.75:1 4.74:4.5 4.9:5 5:5 5.4:5 5.5:6", id="fat"
        ),
        pytest.param(
            label_sodium, "4:0 5:5 138:140 140:140 141:140 145:150 1934:1930", id="sodium"
        ),
        pytest.param(label_grams, "0.4:0 1:1 1.4:1 1.5:2 76.6:77", id="grams"),
    ],
)
def test_amounts_round_as_labels_do(rounded, amounts):
    for pair in amounts.split():
        exact, shown = pair.split(":")
        label = rounded(Decimal(exact))
        assert (label.amount, label.less_than) == (Decimal(shown), False), pair


@pytest.mark.parametrize(
    ("rounded", "exact", "words"),
    [
        (label_grams, "0.5", "less than 1 g"),
        (label_grams, "0.99", "less than 1 g"),
        (label_fat, "2.6", "2.5 g"),
        (label_energy, "1238", "1240 kcal"),
        (label_energy, "1", "0 kcal"),
    ],
)
def test_a_label_reads_as_people_do(rounded, exact, words):
    assert str(rounded(Decimal(exact))) == words


ROUNDINGS = (label_energy, label_fat, label_sodium, label_grams)


@given(st.sampled_from(ROUNDINGS), decimals("0", "3000"), decimals("0", "100"))
def test_more_is_never_shown_as_less(rounded, amount, more):
    assert rounded(amount).amount <= rounded(amount + more).amount


@pytest.mark.parametrize("rounded", ROUNDINGS, ids=lambda rounded: rounded.__name__)
@pytest.mark.parametrize(("amount", "error"), [(Decimal(-1), OutOfRange), (2.5, NotDecimal)])
def test_impossible_amounts_are_refused(rounded, amount, error):
    with pytest.raises(error):
        rounded(amount)


def test_a_whole_label_has_the_six_lines_in_order():
    shown = label_amounts(nutrition(HEARTH_LOAF, COMPOSITIONS, Decimal("0.12")))
    assert [(nutrient.name, str(amount)) for nutrient, amount in shown] == [
        ("ENERGY", "1100 kcal"),
        ("FAT", "6 g"),
        ("CARBOHYDRATE", "222 g"),
        ("FIBER", "12 g"),
        ("PROTEIN", "38 g"),
        ("SODIUM", "2370 mg"),
    ]
    assert all(isinstance(amount, LabelAmount) for _, amount in shown)
