from dataclasses import replace
from decimal import Decimal

import pytest

from recipes.core.choices import ComponentKind
from recipes.core.errors import (
    NobodyBakes,
    NotDecimal,
    NotWhole,
    OutOfRange,
    StationEmpty,
    StationUnknown,
)
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient
from recipes.core.scaling import Baker, Demand, batch, pool, scale
from tests.recipes.core.breads import (
    BENCH_AND_POCKET,
    BREAD_FLOUR,
    DEMO_FORMULAS,
    HEARTH_LOAF,
    ONE_GRAM_SCALE,
    PILLOW_ROLLS,
    RYE,
    RYE_BATARD,
    SEEDED_RING,
    SUGAR,
    WATER,
    bakers,
    demo_demand,
    dough,
    lines,
)


def baker(key="a", *, station="Bench 1", pieces=1, piece_g="520"):
    return Baker(key, f"Baker {key}", station, pieces, Decimal(piece_g))


def masses(sheet):
    return {line.ingredient.key: line.exact_g for part in sheet.components for line in part.lines}


def title(formula):
    return formula.title


def test_eleven_people_stand_four_four_and_three_and_the_three_get_their_own_grams():
    stations = scale(HEARTH_LOAF, Demand(bakers(HEARTH_LOAF, 11))).stations
    assert [(at.station, len(at.bakers), at.sheet.dough_g) for at in stations] == [
        ("Bench 1", 4, 2080),
        ("Bench 2", 4, 2080),
        ("Bench 3", 3, 1560),
    ]


def test_stations_come_in_the_order_asked_for():
    demand = Demand(
        (baker(station="Left"), baker("b", station="Right")), stations=("Right", "Left")
    )
    assert [at.station for at in scale(HEARTH_LOAF, demand).stations] == ["Right", "Left"]


def test_each_baker_gets_the_grams_of_the_dough_they_make():
    demand = Demand((baker(piece_g="520"), baker("b", pieces=2, piece_g="130")))
    whole, half = scale(HEARTH_LOAF, demand).persons
    assert {key: mass / 2 for key, mass in masses(whole.sheet).items()} == masses(half.sheet)


def test_persons_and_stations_carry_no_handling_loss_but_the_pool_does():
    amounts = scale(HEARTH_LOAF, demo_demand(HEARTH_LOAF))
    assert sum(person.sheet.dough_g for person in amounts.persons) == 12 * 520
    assert sum(at.sheet.dough_g for at in amounts.stations) == 12 * 520
    assert amounts.pooled.dough_g == 13 * 520 * Decimal("1.03")


def test_a_demonstration_is_pooled_but_stands_at_no_station():
    demand = Demand((baker(),), demonstrations=(baker("d", station=""),))
    amounts = scale(HEARTH_LOAF, demand)
    assert [at.station for at in amounts.stations] == ["Bench 1"]
    assert [one.baker.key for one in amounts.demonstrations] == ["d"]
    assert amounts.pooled.dough_g == 1040


def test_a_brought_dough_is_pooled_and_shared_out_but_told_apart_from_what_is_shown():
    shown = baker("d", station="")
    brought = replace(baker("b", station="", pieces=2), brought="risen")
    amounts = scale(RYE_BATARD, Demand((baker(), baker("a2")), demonstrations=(shown, brought)))
    assert [one.baker.key for one in amounts.shown] == ["d"]
    assert [one.baker.key for one in amounts.brought] == ["b"]
    assert amounts.pooled.dough_g == 5 * 520
    (poolish,) = amounts.divisions
    assert [name for name, _ in poolish.shares] == ["Bench 1", "Baker d", "Baker b"]
    for need in amounts.needs:
        assert abs(need.brought_g - 2 * need.demonstrations_g) < Decimal("1e-9")
    assert amounts.needs[0].brought_g > 0


@pytest.mark.parametrize("dustings", [0, 1, 12])
def test_a_dough_is_dusted_as_often_as_it_says(dustings):
    brought = replace(baker("b", station=""), brought="shaped", dustings=dustings)
    demand = Demand((baker(),), (brought,), dusting_g=Decimal(15), dusting_flour=RYE)
    needs = {need.ingredient.key: need.exact_g for need in scale(HEARTH_LOAF, demand).needs}
    assert needs["rye-flour"] == 15 * (1 + dustings)


def test_a_demonstration_alone_is_enough():
    amounts = scale(HEARTH_LOAF, Demand((), demonstrations=(baker("d", station=""),)))
    assert (amounts.persons, amounts.stations) == ((), ())
    assert amounts.pooled.dough_g == 520


def test_dusting_flour_is_needed_but_is_in_no_dough():
    without = scale(HEARTH_LOAF, Demand((baker(), baker("b"))))
    dusted = scale(
        HEARTH_LOAF,
        Demand((baker(), baker("b")), dusting_g=Decimal(15), dusting_flour=RYE),
    )
    assert dusted.pooled == without.pooled
    assert {need.ingredient.key: need.exact_g for need in dusted.needs}["rye-flour"] == 30
    assert len(dusted.needs) == len(without.needs) + 1


def test_dusting_with_a_flour_of_the_dough_is_one_need_with_two_origins():
    need = scale(HEARTH_LOAF, demo_demand(HEARTH_LOAF)).needs[0]
    assert need.ingredient is BREAD_FLOUR
    assert need.dusting_g == 13 * 15
    assert need.exact_g > need.bakers_g + need.demonstrations_g + need.loss_g


def test_nothing_is_dusted_where_no_flour_is_named():
    amounts = scale(HEARTH_LOAF, Demand((baker(),), dusting_g=Decimal(15)))
    assert {need.dusting_g for need in amounts.needs} == {0}


def test_a_filling_is_weighed_and_bought_by_the_piece_and_is_in_no_dough():
    filling = FormulaComponent(ComponentKind.FILLING, "Filling", lines((SUGAR, "240")), 12)
    plain = replace(SEEDED_RING, components=SEEDED_RING.components[:1])
    filled = replace(plain, components=(*plain.components, filling))
    before, after = (scale(formula, demo_demand(SEEDED_RING)) for formula in (plain, filled))
    assert after.pooled.dough_g == before.pooled.dough_g
    assert [line.exact_g for line in after.pooled.components[-1].lines] == [13 * 20]
    bought = {need.ingredient.key: need.exact_g for need in after.needs}
    assert bought.pop("sugar") == 13 * 20
    assert bought == {need.ingredient.key: need.exact_g for need in before.needs}


def test_wash_and_topping_follow_the_dough_and_lose_nothing():
    topping = scale(SEEDED_RING, demo_demand(SEEDED_RING)).pooled.components[-1]
    assert [line.exact_g for line in topping.lines] == [13 * 18, 13 * 12]
    wash = scale(PILLOW_ROLLS, demo_demand(PILLOW_ROLLS)).pooled.components[-1]
    assert [line.exact_g for line in wash.lines] == [Decimal("110.5"), Decimal("97.5")]


def test_eggs_say_how_many_to_take_and_what_to_weigh():
    rolls = batch(PILLOW_ROLLS, Decimal(420), BENCH_AND_POCKET)
    egg = next(line for line in rolls.components[1].lines if line.ingredient.key == "egg")
    assert (egg.count.take, egg.count.of, str(egg.weighed.grams)) == (1, "large egg", "21.3")


def test_a_roux_says_what_to_expect_after_cooking():
    roux = batch(PILLOW_ROLLS, Decimal(1974)).components[0]
    assert (roux.exact_g, roux.cooked_g) == (300, 276)


def test_a_tub_is_shared_by_dough_and_keeps_the_loss_back():
    amounts = scale(RYE_BATARD, demo_demand(RYE_BATARD))
    (poolish,) = amounts.divisions
    assert poolish.component == "Poolish"
    assert [name for name, _ in poolish.shares] == [
        "Bench 1",
        "Bench 2",
        "Bench 3",
        "Demonstration",
    ]
    assert [str(grams) for _, grams in poolish.shares] == ["826", "826", "826", "206"]
    assert (poolish.kept_back_g, poolish.weighed_g) == (81, 2765)


@pytest.mark.parametrize(
    ("pieces", "piece_g", "masses_g"),
    [
        pytest.param(1, "520", "520", id="one loaf"),
        pytest.param(6, "70", "70 70 70 70 70 70", id="six rolls"),
        pytest.param(3, "33.5", "34 34 33", id="half grams even out"),
        pytest.param(2, "0.25", "1 0", id="crumbs"),
    ],
)
def test_pieces_are_whole_grams_that_keep_the_sum(pieces, piece_g, masses_g):
    demand = Demand((baker(pieces=pieces, piece_g=piece_g),))
    (person,) = scale(HEARTH_LOAF, demand).persons
    assert [str(mass) for mass in person.piece_masses()] == masses_g.split()


def test_a_half_gram_stays_a_half_gram_however_it_is_reached():
    """28.5 x (100 / 300) in 28 digits is 9.4999..., which would print as 9."""
    formula = Formula("Thirds", (dough((BREAD_FLOUR, "271.5"), (WATER, "28.5")),), Decimal(100))
    sheet = batch(formula, Decimal(100), ONE_GRAM_SCALE)
    assert [str(line.exact_g) for line in sheet.components[0].lines] == ["90.5", "9.5"]
    assert [str(line.weighed.grams) for line in sheet.components[0].lines] == ["91", "10"]


def test_needs_of_the_same_key_are_pooled_over_recipes():
    needs = [
        need
        for formula in (HEARTH_LOAF, RYE_BATARD)
        for need in scale(formula, Demand((baker(),))).needs
    ]
    pooled = {need.ingredient.key: need.exact_g for need in pool(needs)}
    assert sorted(pooled) == [
        "bread-flour",
        "instant-yeast",
        "rye-flour",
        "table-salt",
        "water",
        "whole-wheat-flour",
    ]
    assert sum(pooled.values()) == 1040


@pytest.mark.parametrize("formula", DEMO_FORMULAS, ids=title)
def test_a_batch_is_what_one_baker_of_that_dough_weighs(formula):
    (person,) = scale(formula, Demand((baker(pieces=2),), scales=BENCH_AND_POCKET)).persons
    made = batch(formula, Decimal(1040), BENCH_AND_POCKET)
    for by_oneself, in_class in zip(made.components, person.sheet.components, strict=True):
        assert replace(in_class, tub=None) == by_oneself
        taken = BENCH_AND_POCKET.weigh(by_oneself.exact_g)
        assert in_class.tub == (taken if by_oneself.kind.made_in_bulk else None)


def test_a_batch_is_weighed_on_a_one_gram_scale_unless_told_otherwise():
    assert batch(HEARTH_LOAF, Decimal(520)) == batch(HEARTH_LOAF, Decimal(520), ONE_GRAM_SCALE)


@pytest.mark.parametrize(
    ("changes", "error", "field"),
    [
        pytest.param({"pieces": 0}, OutOfRange, "pieces", id="no pieces"),
        pytest.param({"pieces": -1}, OutOfRange, "pieces", id="minus pieces"),
        pytest.param({"pieces": Decimal("1.5")}, NotWhole, "pieces", id="half a piece"),
        pytest.param({"pieces": True}, NotWhole, "pieces", id="true pieces"),
        pytest.param({"piece_g": Decimal(0)}, OutOfRange, "piece_g", id="weightless"),
        pytest.param({"piece_g": 520.0}, NotDecimal, "piece_g", id="float grams"),
    ],
)
def test_an_impossible_baker_is_refused(changes, error, field):
    usual = {"key": "a", "name": "A", "station": "s", "pieces": 1, "piece_g": Decimal(520)}
    with pytest.raises(error) as caught:
        Baker(**usual | changes)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("changes", "error"),
    [
        pytest.param({"bakers": ()}, NobodyBakes, id="nobody"),
        pytest.param({"stations": ("Bench 1", "Bench 9")}, StationEmpty, id="empty station"),
        pytest.param({"stations": ("Bench 9",)}, StationEmpty, id="only an empty station"),
        pytest.param(
            {"bakers": (baker(), baker("b", station="Roof")), "stations": ("Bench 1",)},
            StationUnknown,
            id="baker on the roof",
        ),
        pytest.param({"handling_loss": Decimal("-0.01")}, OutOfRange, id="minus loss"),
        pytest.param({"handling_loss": Decimal("0.51")}, OutOfRange, id="most of it lost"),
        pytest.param({"handling_loss": 0.03}, NotDecimal, id="float loss"),
        pytest.param({"dusting_g": Decimal(-15)}, OutOfRange, id="minus dusting"),
        pytest.param({"dusting_g": 15.0}, NotDecimal, id="float dusting"),
    ],
)
def test_an_impossible_demand_is_refused(changes, error):
    with pytest.raises(error):
        Demand(**{"bakers": (baker(),)} | changes)


def test_half_of_the_dough_is_the_most_that_may_be_lost():
    demand = Demand((baker(),), handling_loss=Decimal("0.5"))
    assert scale(HEARTH_LOAF, demand).pooled.dough_g == 780


def test_a_station_error_names_the_station_and_the_baker():
    with pytest.raises(StationUnknown) as caught:
        Demand((baker(), baker("b", station="Roof")), stations=("Bench 1",))
    assert (caught.value.station, caught.value.baker) == ("Roof", "Baker b")


@pytest.mark.parametrize(
    ("dough_g", "error"),
    [
        pytest.param(Decimal(0), OutOfRange, id="no dough"),
        pytest.param(Decimal(-5), OutOfRange, id="minus dough"),
        pytest.param(520.0, NotDecimal, id="float dough"),
        pytest.param(Decimal("1e13"), OutOfRange, id="a mountain of dough"),
    ],
)
def test_an_impossible_batch_is_refused(dough_g, error):
    with pytest.raises(error):
        batch(HEARTH_LOAF, dough_g)


def test_a_class_that_outgrows_all_scales_is_refused_by_name():
    crowd = Demand(tuple(baker(str(n), pieces=10**6, piece_g="1e9") for n in range(2)))
    with pytest.raises(OutOfRange):
        scale(HEARTH_LOAF, crowd)


def test_a_mountain_of_seeds_on_a_small_bread_is_refused_by_name():
    seeds = FormulaIngredient("seeds", "Seeds")
    topping = FormulaComponent(ComponentKind.TOPPING, "Seeds", lines((seeds, "1e12")), 1)
    formula = Formula("Hill", (dough((BREAD_FLOUR, "1")), topping), Decimal("0.001"))
    with pytest.raises(OutOfRange):
        batch(formula, Decimal(10**9))
