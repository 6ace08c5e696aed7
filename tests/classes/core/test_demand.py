from decimal import Decimal

import pytest

from classes.core.demand import DEMONSTRATION, ClassNeeds, Person, Taught, class_amounts, demand_for
from classes.core.keys import Stage
from recipes.core.errors import NobodyBakes, NotDecimal, NotWhole, OutOfRange
from tests.recipes.core.breads import BENCH_AND_POCKET, BREAD_FLOUR, HEARTH_LOAF, SEEDED_RING

PEOPLE = tuple(Person(str(n), f"Person {n}", f"Bench {n // 4 + 1}") for n in range(12))


def taught(formula=HEARTH_LOAF, **changes):
    usual = {
        "key": formula.title,
        "label": f"{formula.title}, revision 1",
        "formula": formula,
        "pieces_each": formula.pieces,
        "piece_g": formula.piece_g,
    }
    return Taught(**usual | changes)


def needs(*recipes, people=PEOPLE, **changes):
    return ClassNeeds(recipes or (taught(),), people, **changes)


def grams(amounts):
    return {need.ingredient.key: need.exact_g for need in amounts.needs}


def test_everybody_on_the_roster_bakes_every_recipe_where_they_stand():
    amounts = class_amounts(needs(taught(), taught(SEEDED_RING)))
    for recipe in amounts.recipes:
        persons = recipe.amounts.persons
        assert [one.baker.key for one in persons] == [person.key for person in PEOPLE]
        assert [one.baker.station for one in persons] == [person.station for person in PEOPLE]
        assert {one.baker.dough_g for one in persons} == {recipe.taught.formula.piece_g}


def test_a_class_can_bake_other_pieces_than_the_recipe_says():
    amounts = class_amounts(needs(taught(pieces_each=2, piece_g=Decimal(300))))
    assert {one.baker.dough_g for one in amounts.recipes[0].amounts.persons} == {600}


@pytest.mark.parametrize(
    ("batches", "names"),
    [
        pytest.param(0, [], id="none"),
        pytest.param(1, [DEMONSTRATION], id="one needs no number"),
        pytest.param(2, [f"{DEMONSTRATION} 1", f"{DEMONSTRATION} 2"], id="two are numbered"),
    ],
)
def test_demonstration_batches_are_bakers_without_a_station(batches, names):
    demand = demand_for(taught(demonstration_batches=batches), needs())
    assert [one.name for one in demand.demonstrations] == names
    assert {one.station for one in demand.demonstrations} <= {""}


@pytest.mark.parametrize("stage", Stage)
def test_a_stage_adds_one_dough_for_all_pieces_those_that_are_shown_too(stage):
    recipe = taught(brings=(stage,), pieces_each=2, piece_g=Decimal(300), demonstration_batches=2)
    *_, brought = demand_for(recipe, needs()).demonstrations
    assert (brought.key, brought.name) == (f"brought-{stage}", f"Brought, {stage}")
    assert (brought.station, brought.brought) == ("", stage)
    assert (brought.pieces, brought.piece_g) == ((12 + 2) * 2, 300)


def test_each_stage_has_a_dough_of_its_own_beside_the_demonstration():
    amounts = class_amounts(needs(taught(brings=tuple(Stage)))).recipes[0].amounts
    assert [one.baker.name for one in amounts.shown] == [DEMONSTRATION]
    assert [one.baker.brought for one in amounts.brought] == list(Stage)
    assert amounts.pooled.dough_g == (13 + 3 * 13) * 520


def test_a_brought_dough_is_for_those_who_bake_that_recipe_alone():
    amounts = class_amounts(needs(taught(brings=(Stage.RISEN,), only_for=frozenset({"3", "4"}))))
    assert [one.baker.pieces for one in amounts.recipes[0].amounts.brought] == [2 + 1]


def test_where_only_a_demonstration_is_baked_its_own_piece_is_brought():
    amounts = class_amounts(needs(taught(brings=(Stage.RISEN,)), people=())).recipes[0].amounts
    assert [one.baker.pieces for one in amounts.brought] == [1]


def test_nobody_and_no_demonstration_is_refused_whatever_is_brought():
    with pytest.raises(NobodyBakes):
        class_amounts(needs(taught(demonstration_batches=0, brings=tuple(Stage)), people=()))


@pytest.mark.parametrize(
    ("stage", "heads"),
    [(stage, 13 + 13 if stage is Stage.SHAPED else 13) for stage in Stage],
)
def test_only_what_is_brought_shaped_is_dusted_on_top_for_every_baker(stage, heads):
    recipe = taught(brings=(stage,), dusting_g=Decimal(15), dusting_flour=BREAD_FLOUR)
    flour = class_amounts(needs(recipe)).needs[0]
    assert (flour.ingredient, flour.dusting_g) == (BREAD_FLOUR, heads * 15)


def test_handling_loss_is_of_the_brought_dough_too():
    recipe = class_amounts(needs(taught(brings=(Stage.MIXED,)), handling_loss=Decimal("0.03")))
    assert recipe.recipes[0].amounts.pooled.dough_g == 26 * 520 * Decimal("1.03")


def test_loss_dusting_and_scales_of_the_class_reach_every_recipe():
    recipe = taught(dusting_g=Decimal(15), dusting_flour=BREAD_FLOUR)
    demand = demand_for(recipe, needs(handling_loss=Decimal("0.03"), scales=BENCH_AND_POCKET))
    assert (demand.handling_loss, demand.dusting_g) == (Decimal("0.03"), 15)
    assert (demand.dusting_flour, demand.scales) == (BREAD_FLOUR, BENCH_AND_POCKET)


def test_ingredients_of_two_recipes_are_pooled_by_key():
    both = grams(class_amounts(needs(taught(), taught(SEEDED_RING))))
    loaf, ring = (grams(class_amounts(needs(taught(one)))) for one in (HEARTH_LOAF, SEEDED_RING))
    assert both.keys() == loaf.keys() | ring.keys()
    for key, mass in both.items():
        assert abs(mass - loaf.get(key, 0) - ring.get(key, 0)) <= Decimal("1e-8")


def test_the_order_of_recipes_and_of_people_changes_no_need():
    one = class_amounts(needs(taught(), taught(SEEDED_RING)))
    other = class_amounts(needs(taught(SEEDED_RING), taught(), people=PEOPLE[::-1]))
    assert grams(one) == grams(other)


def test_a_class_without_recipes_needs_nothing():
    amounts = class_amounts(ClassNeeds((), PEOPLE))
    assert (amounts.recipes, amounts.needs) == ((), ())


def test_an_empty_roster_still_feeds_the_demonstration():
    amounts = class_amounts(needs(people=()))
    assert sum(grams(amounts).values()) == 520


def test_nobody_and_no_demonstration_is_refused():
    with pytest.raises(NobodyBakes):
        class_amounts(needs(taught(demonstration_batches=0), people=()))


@pytest.mark.parametrize(
    ("changes", "error"),
    [
        pytest.param({"pieces_each": 0}, OutOfRange, id="no pieces"),
        pytest.param({"pieces_each": Decimal(2)}, NotWhole, id="decimal pieces"),
        pytest.param({"piece_g": Decimal(0)}, OutOfRange, id="weightless"),
        pytest.param({"piece_g": 520.0}, NotDecimal, id="float grams"),
        pytest.param({"demonstration_batches": -1}, OutOfRange, id="minus one batch"),
        pytest.param({"demonstration_batches": 1.5}, NotWhole, id="a batch and a half"),
        pytest.param({"dusting_g": Decimal(-1)}, OutOfRange, id="minus dusting"),
    ],
)
def test_impossible_teaching_is_refused(changes, error):
    with pytest.raises(error):
        class_amounts(needs(taught(**changes)))


@pytest.mark.parametrize(
    ("loss", "error"),
    [
        pytest.param(Decimal("-0.1"), OutOfRange, id="minus"),
        pytest.param(Decimal(1), OutOfRange, id="everything"),
        pytest.param(0.03, NotDecimal, id="float"),
    ],
)
def test_an_impossible_loss_is_refused(loss, error):
    with pytest.raises(error):
        class_amounts(needs(handling_loss=loss))
