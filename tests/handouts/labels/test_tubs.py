"""Which tubs a class weighs, and that no gram of the plan is lost or added among them."""

from collections import Counter
from decimal import Decimal

import pytest

from handouts.labels.tubs import FOR_ALL, tubs_of
from handouts.stations import one_a_dough, station_recipe
from recipes.models import Ingredient, Revision
from tests.factories import IngredientFactory
from tests.handouts.conftest import another_class, plan_of, two_day_class


def tubs(session):
    plan = plan_of(session)
    return list(tubs_of(plan.amounts.recipes, plan.ingredients))


def at(session, holder):
    return {tub.title: tub for tub in tubs(session) if tub.holder == holder}


def lines(tub):
    return [(line.name, line.shown) for line in tub.lines]


def test_a_plain_dough_has_a_dry_tub_and_its_water(demo):
    bench = at(demo, "Bench 1")
    assert list(bench) == ["Dry", "Water"]
    assert lines(bench["Dry"]) == [
        ("Bread flour", "1035"),
        ("Whole wheat flour", "183"),
        ("Table salt", "24.3"),
        ("Instant yeast", "11.0"),
    ]
    assert bench["Dry"].sum_g == Decimal("1253.3")
    assert lines(bench["Water"]) == [("Water", "828")]


def test_every_station_and_the_demonstration_have_their_tubs(demo):
    counted = Counter(tub.holder for tub in tubs(demo))
    assert counted == {"Bench 1": 2, "Bench 2": 2, "Bench 3": 2, "Demonstration": 2}


def test_what_is_cold_is_kept_apart_from_what_is_dry(demo):
    bench = at(another_class(demo, "Pillow rolls", students=4), "Bench 1")
    assert list(bench) == ["Roux, share", "Dry", "Cold liquid", "Butter, unsalted", "Egg wash"]
    assert [name for name, tub in bench.items() if tub.is_cold] == [
        "Roux, share",
        "Cold liquid",
        "Butter, unsalted",
        "Egg wash",
    ]
    assert [name for name, tub in bench.items() if tub.keeps] == ["Dry"]
    assert {line.name for line in bench["Cold liquid"].lines} == {"Whole milk", "Egg, whole"}


def test_oil_and_syrup_are_not_poured_on_the_flour(demo):
    session = another_class(demo, "Seeded ring", students=4)
    assert list(at(session, "Bench 1")) == ["Dry", "Water", "Olive oil", "Seed topping"]
    line = session.taught.get().revision.components.first().lines.get(ingredient__key="table-salt")
    line.ingredient = Ingredient.objects.get(key="honey")
    line.save()
    oil = at(session, "Bench 1")["Oil and syrup"]
    assert {one.name for one in oil.lines} == {"Olive oil", "Honey"}
    assert oil.keeps


def test_two_things_of_one_name_do_not_hide_each_other(demo):
    session = another_class(demo, "Pillow rolls", students=2)
    part = session.taught.get().revision.components.get(kind="dough")
    for storage in ("ambient", "chilled"):
        own = IngredientFactory(name=f"Same {storage}", kind="liquid", storage=storage)
        part.lines.create(position=90 + own.pk, ingredient=own, mass_g=100)
    Ingredient.objects.filter(name="Same chilled").update(name="Dry", kind="fat")
    titles = [tub.title for tub in tubs(session) if tub.holder == "Bench 1"]
    assert titles.count("Dry") == 2


def test_a_poolish_is_one_tub_for_everybody_and_a_share_for_each_station(demo):
    session = two_day_class(demo)
    (whole,) = (tub for tub in tubs(session) if tub.holder == FOR_ALL)
    assert (whole.title, lines(whole)) == (
        "Poolish",
        [("Bread flour", "929"), ("Water", "929"), ("Instant yeast", "0.9")],
    )
    shares = [tub for tub in tubs(session) if tub.title == "Poolish, share"]
    assert [tub.sum_g for tub in shares] == [620, 620, 619]
    assert {one.name for one in shares[0].ingredients} == {"Bread flour", "Water", "Instant yeast"}


def test_a_roux_says_what_it_weighs_when_it_is_cooked(demo):
    session = another_class(demo, "Pillow rolls", students=12)
    (whole,) = (tub for tub in tubs(session) if tub.holder == FOR_ALL)
    assert whole.cooked_g == whole.made_up_g * Decimal("0.92")


def test_dough_that_is_brought_has_its_tubs_and_its_share(demo):
    session = two_day_class(demo)
    session.taught.update(brings_mixed=True)
    brought = at(session, "9 batards brought mixed")
    assert brought["Poolish, share"].sum_g == 1859


@pytest.mark.parametrize(
    "titles", [["Hearth loaf"], ["Two-day rye batard"], ["Pillow rolls", "Seeded ring"]]
)
def test_the_tubs_of_a_station_hold_what_its_card_says(demo, titles):
    session = another_class(demo, *titles, students=7)
    plan = plan_of(session)
    made = tubs(session)
    for recipe in plan.amounts.recipes:
        for station in recipe.amounts.stations:
            (table,) = station_recipe(recipe, station.station, one_a_dough).tables
            parts = [row.together for part in table.other_parts for row in part.rows]
            card_g = table.together_lines_g + sum(row.weighed.grams for row in parts)
            held = [
                tub.sum_g
                for tub in made
                if (tub.holder, tub.recipe) == (station.station, recipe.taught.label)
            ]
            assert sum(held) == card_g


def test_a_variant_has_tubs_of_its_own(demo):
    revision = Revision.objects.get(title="Seeded ring")
    session = another_class(demo, "Seeded ring", students=4)
    variant = revision.variants.create(name="No sesame")
    swap = {"replaced": "sesame-seeds", "by": "rolled-oats"}
    rows = {role: Ingredient.objects.get(key=key) for role, key in swap.items()}
    variant.swaps.create(component_name="Seed topping", position=0, **rows)
    student = session.enrollments.first()
    student.variants.add(variant)
    toppings = [tub for tub in tubs(session) if tub.title == "Seed topping"]
    holding = {tub.recipe: {line.name for line in tub.lines} for tub in toppings}
    assert "Rolled oats" in holding["Seeded ring, revision 1, variant No sesame"]
    assert "Sesame seeds" not in holding["Seeded ring, revision 1, variant No sesame"]


def test_a_solution_is_with_its_water_and_nothing_is_weighed_as_nothing(demo):
    """2 x 50 g on 1 g scales: 0.6 g of salt and 0.3 g of yeast each."""
    demo.kitchen.scales.exclude(step_g=1).delete()
    session = another_class(demo, "Hearth loaf", students=1, demonstration_batches=0)
    session.taught.update(piece_g=50, dusting_g=0)
    held = {tub.title: lines(tub) for tub in tubs(session)}
    assert held["Liquid"] == [("Water", "14"), ("Table salt solution", "6")]
    dry = [("Bread flour", "25"), ("Whole wheat flour", "4"), ("Instant yeast", "0.26")]
    assert held["Dry"] == dry
    shown = [line for tub in tubs(session) for line in tub.lines]
    assert [line.how for line in shown if line.name == "Table salt solution"] == [
        "solution of 1 g in 10 g water"
    ]
    assert all(line.grams > 0 for line in shown)
