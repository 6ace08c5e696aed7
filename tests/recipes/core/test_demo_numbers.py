"""The worked figures of the demo scenario, to the last digit that was given for them."""

from decimal import Decimal

import pytest

from recipes.core.formula import proportions
from recipes.core.scaling import Demand, scale
from tests.recipes.core.breads import (
    BENCH_AND_POCKET,
    HEARTH_LOAF,
    ONE_GRAM_SCALE,
    PILLOW_ROLLS,
    RYE_BATARD,
    bakers,
    demo_demand,
    rounded,
)


@pytest.fixture(scope="module")
def hearth():
    return scale(HEARTH_LOAF, demo_demand(HEARTH_LOAF))


@pytest.fixture(scope="module")
def rye():
    return scale(RYE_BATARD, Demand(bakers(RYE_BATARD, 9), scales=ONE_GRAM_SCALE))


@pytest.fixture(scope="module")
def rolls():
    return scale(PILLOW_ROLLS, demo_demand(PILLOW_ROLLS))


def exact(component, places):
    return rounded((line.exact_g for line in component.lines), places)


def weighed(component):
    return [str(line.weighed.grams) for line in component.lines]


def test_the_hearth_loaf_totals_170_9_percent():
    assert proportions(HEARTH_LOAF).total == Decimal("170.9")


def test_one_loaf_of_520_grams(hearth):
    (loaf,) = hearth.persons[0].sheet.components
    flour = sum(line.exact_g for line in loaf.lines if line.ingredient.is_flour)
    assert f"{flour:.2f}" == "304.27"
    assert exact(loaf, 2) == ["258.63", "45.64", "206.90", "6.09", "2.74"]
    assert weighed(loaf) == ["259", "46", "207", "6.1", "2.7"]
    assert (loaf.weighed_g, f"{loaf.exact_g:.2f}") == (Decimal("520.8"), "520.00")


def test_a_station_of_four(hearth):
    (dough,) = hearth.stations[0].sheet.components
    assert len(hearth.stations[0].bakers) == 4
    assert exact(dough, 1) == ["1034.5", "182.6", "827.6", "24.3", "11.0"]


def test_thirteen_bakers_and_3_percent(hearth):
    (dough,) = hearth.pooled.components
    assert exact(dough, 1) == ["3463.1", "611.1", "2770.5", "81.5", "36.7"]
    assert f"{hearth.pooled.dough_g:.1f}" == "6962.8"


def test_pooled_salt_comes_from_the_exact_grams_not_from_thirteen_rounded_ones(hearth):
    salt = hearth.persons[0].sheet.components[0].lines[3]
    assert 13 * salt.weighed.grams == Decimal("79.3")
    need = next(need for need in hearth.needs if need.ingredient.key == "table-salt")
    assert f"{need.exact_g - need.loss_g:.1f}" == "79.1"


def test_nine_rye_batards(rye):
    poolish, final = rye.pooled.components
    flour = sum(
        line.exact_g for part in (poolish, final) for line in part.lines if line.ingredient.is_flour
    )
    assert f"{flour:.1f}" == "3096.3"
    assert exact(poolish, 1)[:2] == ["928.9", "928.9"]
    assert exact(poolish, 2)[2] == "0.93"
    assert exact(final, 1)[:4] == ["1857.8", "309.6", "1300.5", "61.9"]
    assert exact(final, 2)[4] == "11.46"


def test_nine_rye_batards_add_up_to_5400_grams(rye):
    total = sum(line.exact_g for part in rye.pooled.components for line in part.lines)
    assert f"{total:.20f}" == f"{5400:.20f}"
    assert rye.pooled.dough_g == 5400


def test_under_a_gram_of_yeast_on_a_one_gram_scale_earns_a_warning(rye):
    yeast = rye.pooled.components[0].lines[2].weighed
    assert (yeast.grams, yeast.step_g, yeast.coarse) == (1, 1, True)


def test_the_poolish_holds_30_percent_of_the_flour():
    assert proportions(RYE_BATARD).prefermented_flour == 30
    assert proportions(RYE_BATARD).hydration == 72


def test_rolls_for_thirteen_and_3_percent(rolls):
    roux, final, _ = rolls.pooled.components
    by_key = {line.ingredient.key: f"{line.exact_g:.1f}" for line in final.lines}
    assert exact(roux, 1) == ["142.4", "712.2"]
    assert by_key["butter"] == "341.9"
    assert by_key["whole-milk"] == "1054.1"
    assert by_key["egg"] == "284.9"


def test_eggs_are_taken_whole_beaten_and_weighed(rolls):
    egg = next(line for line in rolls.pooled.components[1].lines if line.ingredient.key == "egg")
    assert (egg.count.take, egg.count.of, f"{egg.count.exact:.1f}") == (6, "large egg", "5.7")
    assert egg.weighed == BENCH_AND_POCKET.weigh(egg.exact_g)
