"""Yeast forms by named factors, salt by mass, eggs by what is inside, flours with a word."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.errors import NoDensity, NoFactor, NotDecimal, OutOfRange
from recipes.core.exchange.kinds import (
    EGG_SIZES,
    LIGHT_FLAKE_SALT,
    SALT_KINDS,
    TABLE_SALT,
    TEXTBOOK,
    YEAST_FACTORS,
    FlourProtein,
    YeastFactors,
    YeastForm,
    exchange_salt,
    exchange_yeast,
    exchange_yeast_by_all,
    protein_note,
    salt_teaspoons,
)
from tests.recipes.core.strategies import decimals

FRESH, ACTIVE_DRY, INSTANT = YeastForm.FRESH, YeastForm.ACTIVE_DRY, YeastForm.INSTANT
masses = decimals("0", "5000")
forms = st.sampled_from(YeastForm)


@pytest.mark.parametrize(
    ("grams", "given_form", "wanted", "expected_g", "water_g"),
    [
        pytest.param("30", FRESH, INSTANT, "9.9", "20.1", id="fresh to instant, water added"),
        pytest.param("30", FRESH, ACTIVE_DRY, "12", "18", id="fresh to active dry"),
        pytest.param("3.3", INSTANT, FRESH, "10", "-6.7", id="instant to fresh, water left out"),
        pytest.param("3.3", INSTANT, ACTIVE_DRY, "4", "0", id="between the dry forms"),
        pytest.param("5", INSTANT, INSTANT, "5", "0", id="the same form"),
        pytest.param("5", FRESH, FRESH, "5", "0", id="fresh for fresh"),
        pytest.param("0", FRESH, INSTANT, "0", "0", id="none"),
    ],
)
def test_yeast_by_the_textbook(grams, given_form, wanted, expected_g, water_g):
    exchange = exchange_yeast(Decimal(grams), given_form, wanted)
    assert round(exchange.mass_g, 12) == Decimal(expected_g)
    assert round(exchange.water_g, 12) == Decimal(water_g)
    assert exchange.factors is TEXTBOOK


@given(masses, forms, forms)
def test_yeast_there_and_back_is_the_same_mass(mass_g, one, other):
    there = exchange_yeast(mass_g, one, other)
    back = exchange_yeast(there.mass_g, other, one)
    assert abs(back.mass_g - mass_g) < Decimal("1e-18")
    assert abs(back.water_g + there.water_g) < Decimal("1e-18")


@given(masses, st.sampled_from([ACTIVE_DRY, INSTANT]))
def test_with_its_water_dry_yeast_weighs_what_the_fresh_did(mass_g, form):
    exchange = exchange_yeast(mass_g, FRESH, form)
    assert exchange.mass_g + exchange.water_g == mass_g


def test_published_factors_disagree_and_all_are_shown():
    answers = exchange_yeast_by_all(Decimal(100), FRESH, ACTIVE_DRY)
    assert [f"{answer.mass_g:.1f}" for answer in answers] == [
        "37.5",
        "40.0",
        "41.7",
        "50.0",
        "50.0",
    ]
    assert len({answer.factors.source for answer in answers}) == len(YEAST_FACTORS)


def test_a_set_that_is_silent_about_a_form_is_left_out():
    answers = exchange_yeast_by_all(Decimal(100), FRESH, INSTANT)
    assert [answer.factors.key for answer in answers] == ["textbook", "kitchen"]


def test_a_set_that_is_silent_about_a_form_refuses_it():
    packet = next(factors for factors in YEAST_FACTORS if factors.key == "packet-and-cake")
    with pytest.raises(NoFactor) as caught:
        exchange_yeast(Decimal(7), INSTANT, FRESH, packet)
    assert (caught.value.factors, caught.value.form) == ("packet-and-cake", "instant")


def test_factors_are_editable():
    own = replace(TEXTBOOK, key="own", source="our own bakes", instant=Decimal("0.5"))
    assert exchange_yeast(Decimal(10), FRESH, INSTANT, own).mass_g == 5


@pytest.mark.parametrize("factor", [Decimal(0), Decimal(-1)])
def test_a_factor_is_above_zero(factor):
    with pytest.raises(OutOfRange):
        YeastFactors("own", "own", "own", active_dry=factor, instant=None)


@pytest.mark.parametrize(("grams", "error"), [(Decimal(-1), OutOfRange), (2.5, NotDecimal)])
def test_impossible_masses_are_refused(grams, error):
    with pytest.raises(error):
        exchange_yeast(grams, FRESH, INSTANT)
    with pytest.raises(error):
        exchange_salt(grams, TABLE_SALT)
    with pytest.raises(error):
        salt_teaspoons(grams, TABLE_SALT)


@given(masses, st.sampled_from(SALT_KINDS))
def test_a_gram_of_salt_is_a_gram_of_any_salt(mass_g, kind):
    spoons = exchange_salt(mass_g, kind)
    assert spoons.mass_g == mass_g
    assert spoons.least <= spoons.most


known_salts = st.sampled_from([kind for kind in SALT_KINDS if not kind.weigh_it])


@given(masses, known_salts)
def test_spoons_of_salt_weigh_what_they_replace(mass_g, kind):
    assert abs(salt_teaspoons(mass_g, kind) * kind.tsp_g - mass_g) < Decimal("1e-18")


def test_coarse_salt_is_weighed():
    coarse = [kind for kind in SALT_KINDS if kind.weigh_it]
    assert {kind.key for kind in coarse} == {"coarse-flake-salt-light", "coarse-flake-salt-dense"}
    for kind in coarse:
        with pytest.raises(NoDensity):
            salt_teaspoons(Decimal(6), kind)


def test_coarse_salts_span_2_8_to_6_8_grams_a_teaspoon():
    coarse = [kind for kind in SALT_KINDS if kind.weigh_it]
    assert min(kind.least_tsp_g for kind in coarse) == Decimal("2.8")
    assert max(kind.most_tsp_g for kind in coarse) == Decimal("6.8")


def test_the_salt_of_one_hearth_loaf_in_spoons():
    loaf_g = Decimal("6.1")
    assert f"{salt_teaspoons(loaf_g, TABLE_SALT):.1f}" == "1.0"
    light = exchange_salt(loaf_g, LIGHT_FLAKE_SALT)
    assert (f"{light.least:.1f}", f"{light.most:.1f}") == ("1.5", "2.2")


@pytest.mark.parametrize(
    ("key", "least_g", "most_g", "tsp_g"),
    [
        ("table-salt", "6.0", "6.1", "6.0"),
        ("fine-sea-salt", "4", "6", "5.6"),
        ("coarse-flake-salt-light", "2.8", "4.0", "None"),
        ("coarse-flake-salt-dense", "4.4", "6.8", "None"),
    ],
)
def test_a_teaspoon_of_each_salt(key, least_g, most_g, tsp_g):
    kind = next(kind for kind in SALT_KINDS if kind.key == key)
    assert (str(kind.least_tsp_g), str(kind.most_tsp_g), str(kind.tsp_g)) == (
        least_g,
        most_g,
        tsp_g,
    )


@pytest.mark.parametrize("kind", SALT_KINDS, ids=lambda kind: kind.key)
def test_a_known_spoon_lies_within_the_range_of_its_salt(kind):
    assert kind.least_tsp_g <= (kind.tsp_g or kind.least_tsp_g) <= kind.most_tsp_g


def size(key):
    return next(size for size in EGG_SIZES if size.key == key)


BREAD = FlourProtein("Bread flour", Decimal("11.98"), is_wheat=True)
ALL_PURPOSE = FlourProtein("All-purpose flour", Decimal("10.33"), is_wheat=True)
RYE = FlourProtein("Rye flour", Decimal("10.88"), is_wheat=False)


@pytest.mark.parametrize(
    ("given_flour", "wanted", "says"),
    [
        pytest.param(BREAD, ALL_PURPOSE, "Less protein", id="weaker"),
        pytest.param(ALL_PURPOSE, BREAD, "More protein", id="stronger"),
        pytest.param(BREAD, replace(BREAD, name="Other"), "About the same", id="as strong"),
        pytest.param(
            BREAD, replace(BREAD, protein_g=Decimal("12.48")), "More protein", id="half a gram more"
        ),
        pytest.param(BREAD, RYE, "little or no gluten", id="not wheat"),
        pytest.param(BREAD, replace(BREAD, protein_g=None), "not entered", id="not known"),
    ],
)
def test_a_flour_comes_with_a_word_about_its_protein(given_flour, wanted, says):
    assert says in protein_note(given_flour, wanted)


def test_the_word_about_protein_shows_both_figures():
    note = protein_note(BREAD, ALL_PURPOSE)
    assert "12.0 g" in note
    assert "10.3 g" in note


@pytest.mark.parametrize(
    ("protein_g", "error"),
    [(Decimal(-1), OutOfRange), (Decimal(101), OutOfRange), (12.5, NotDecimal)],
)
def test_impossible_protein_is_refused(protein_g, error):
    with pytest.raises(error):
        FlourProtein("Flour", protein_g, is_wheat=True)
