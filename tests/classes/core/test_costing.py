"""Whether a class pays: costs, income, and the smallest number of paid seats that covers it."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from classes.core.costing import Cost, PayTerms, Reckoning, break_even
from classes.core.demand import ClassNeeds, Person, Taught, class_amounts
from classes.core.money import Estimate, Money, TwoCurrencies
from classes.core.shopping import Supply, shopping_list
from recipes.core.choices import ComponentKind
from recipes.core.errors import OutOfRange
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line


def eur(minor):
    return Money(minor, "EUR")


def cost(name, minor, **fields):
    return Cost(name, eur(minor), **fields)


HALL = cost("Hall", 12000)
BAGS = cost("Bags", 150, for_each=True)


def terms(price_minor=4000, seats=8, booked=0, income_minor=None, **fields):
    income = booked * price_minor if income_minor is None else income_minor
    return PayTerms(eur(price_minor), seats, booked, eur(income), **fields)


def each(minor, at_once=0, missing=()):
    """Ingredients for so much a person, and some whoever comes."""
    return lambda people: Estimate(eur(at_once + minor * people), missing)


# price, seats, costs, ingredients -> the smallest number of paid seats
@pytest.mark.parametrize(
    ("price", "seats", "costs", "ingredients", "paid"),
    [
        (4000, 8, (), each(0), 1),
        (4000, 8, (HALL,), each(0), 3),
        (4000, 8, (HALL,), each(1), 4),
        (4000, 8, (HALL, BAGS), each(250), 4),
        (4000, 3, (HALL,), each(0), 3),
        (4000, 2, (HALL,), each(0), None),
        (4000, 8, (HALL,), each(0, at_once=1), 4),
        (150, 8, (BAGS,), each(0), 1),
        (149, 200, (BAGS,), each(0), None),
        (0, 8, (), each(0), 1),
        (0, 8, (), each(1), None),
        (0, 8, (HALL,), each(0), None),
        (4000, 200, (cost("Hall", 799_999),), each(0), 200),
        (4000, 200, (cost("Hall", 800_001),), each(0), None),
    ],
    ids=[
        "nothing to cover",
        "to the cent",
        "a cent short",
        "for each as well",
        "just when full",
        "not even full",
        "a demonstration alone",
        "each covers its own",
        "each costs more than it brings",
        "nothing costs nothing",
        "free with ingredients",
        "free with a hall",
        "the very last seat",
        "two cents too much",
    ],
)
def test_the_smallest_number_of_seats_covers_the_costs(price, seats, costs, ingredients, paid):
    assert break_even(terms(price, seats, costs=costs), ingredients).paid == paid


def test_a_worked_example_by_hand():
    """Hall 120.00, bags 1.50 each, ingredients 2.00 shown and 0.50 each; 40.00 a seat.

    Three booked, one at 30.00, and a friend: 120.00 + 4 × 1.50 + 2.00 + 4 × 0.50 = 130.00 against
    110.00. Full with eight: 120.00 + 12.00 + 6.00 = 138.00 against 110.00 + 5 × 40.00 = 310.00.
    A seat brings 38.00 beyond its own bags and flour, and 122.00 stay the same: four seats.
    For the three, 130.00 / 3 = 43.33 and a third: 43.34.
    """
    one = terms(booked=3, income_minor=11000, guests=1, costs=(HALL, BAGS))
    found = break_even(one, each(50, at_once=200))
    now, full = found.now, found.full
    assert (now.people, str(now.ingredients), now.others) == (4, "4.00 EUR", (eur(12000), eur(600)))
    assert [str(one) for one in (now.costs, now.income, now.left)] == [
        "130.00 EUR",
        "110.00 EUR",
        "−20.00 EUR",
    ]
    assert (full.people, full.costs.known, full.income) == (8, eur(13800), eur(31000))
    assert full.left.known == eur(17200)
    assert (found.paid, found.price) == (4, eur(4334))


def test_without_a_seat_booked_no_price_is_named():
    found = break_even(terms(costs=(HALL,)), each(10))
    assert (found.price, found.now.people, found.now.ingredients.known) == (None, 0, eur(0))


def test_more_booked_than_there_are_seats_are_all_counted():
    found = break_even(terms(seats=2, booked=3), each(0))
    assert (found.full.paid, found.full.income) == (3, eur(12000))


def test_a_cost_is_never_below_nothing():
    with pytest.raises(OutOfRange):
        cost("Hall", -1)


def test_costs_in_another_currency_are_refused():
    with pytest.raises(TwoCurrencies):
        break_even(terms(costs=(Cost("Hall", Money(12000, "JPY")),)), each(10))


def test_with_a_price_missing_all_that_follows_is_said_as_least_or_most():
    found = break_even(terms(booked=2, costs=(HALL,)), each(100, missing=("Yeast",)))
    assert [str(one) for one in (found.now.costs, found.now.each, found.now.left)] == [
        "at least 122.00 EUR",
        "at least 61.00 EUR",
        "at most −42.00 EUR",
    ]
    assert (found.missing, found.paid) == (("Yeast",), 4)


# Properties

amounts = st.integers(0, 20_000)
costs = st.lists(
    st.builds(Cost, st.just("x"), st.builds(eur, amounts), st.booleans()), max_size=4
).map(tuple)
priced = st.integers(0, 6000)


@given(priced, st.integers(1, 60), costs, st.lists(st.integers(0, 900), min_size=61, max_size=61))
def test_the_search_finds_what_trying_every_number_finds(price, seats, costs, steps):
    def ingredients(people):
        return Estimate(eur(sum(steps[:people])))

    def covered(paid):
        others = sum(cost.of(paid).amount_minor for cost in costs)
        return paid * price >= others + sum(steps[:paid])

    found = break_even(terms(price, seats, costs=costs), ingredients)
    assert found.paid == next((n for n in range(1, seats + 1) if covered(n)), None)


@given(priced, st.integers(1, 30), costs, amounts)
def test_at_the_price_named_the_seats_booked_cover_the_costs_and_below_they_do_not(
    price, booked, costs, each_minor
):
    one = terms(price, 30, booked, costs=costs)
    found = break_even(one, each(each_minor % 500))
    at, below = found.price * booked, (found.price - eur(1)) * booked
    assert below < found.now.costs.known <= at


# What is used


FLOUR = FormulaIngredient("flour", "Flour", is_flour=True)
SALT, WATER = (
    FormulaIngredient("salt", "Salt"),
    FormulaIngredient("water", "Water", is_added_liquid=True),
)
LINES = (Line(FLOUR, Decimal(500)), Line(SALT, Decimal(10)), Line(WATER, Decimal(350)))
BREAD = Formula("Bread", (FormulaComponent(ComponentKind.DOUGH, "Dough", LINES),), Decimal(860))


def shopping(people, **supplies):
    taught = Taught("bread", "Bread", BREAD, 1, Decimal(860), demonstration_batches=0)
    bakers = tuple(Person(f"p{n}", f"P {n}", "") for n in range(people))
    needs = ClassNeeds((taught,), bakers)
    return shopping_list(class_amounts(needs).needs, supplies, needs.scales, "EUR")


def test_what_is_used_costs_its_part_of_a_pack_wherever_it_comes_from():
    flour = Supply(on_hand_g=Decimal(1500), pack_g=Decimal(1000), pack_price=eur(199))
    found = shopping(4, flour=flour, salt=Supply(), water=Supply(tap=True))
    assert found.cost_used == Estimate(eur(398), ("Salt",))
    assert found.cash_out == Estimate(eur(199), ("Salt",))


def test_a_price_without_a_pack_is_no_price():
    assert "Flour" in shopping(1, flour=Supply(pack_price=eur(199))).cost_used.missing


@given(st.integers(1, 12))
def test_more_people_never_use_less(people):
    flour = Supply(pack_g=Decimal(700), pack_price=eur(137))
    assert (
        shopping(people, flour=flour).cost_used.known
        < shopping(people + 1, flour=flour).cost_used.known
    )


@pytest.mark.parametrize(
    ("costs", "people", "each"), [(28794, 12, 2400), (5, 2, 3), (4, 3, 1), (99, 0, 0)]
)
def test_costs_for_each_person_are_rounded_once(costs, people, each):
    assert Reckoning(people, people, Estimate(eur(costs)), (), eur(0)).each.known == eur(each)
