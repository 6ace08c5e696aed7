"""What goes in at a step: told by the words of the step, or left to the table."""

from __future__ import annotations

from decimal import Decimal

import pytest

from handouts.recipe_card import RecipeLine, RecipePart, RecipeStep
from handouts.step_grams import with_grams
from recipes.core.choices import ComponentKind, StepKind
from recipes.core.scaling import ComponentAmounts
from recipes.core.scaling.amount_lines import amount_line
from tests.recipes.core.breads import (
    BENCH_AND_POCKET,
    BREAD_FLOUR,
    SALT,
    WATER,
    WHOLE_WHEAT,
)

POOLISH = ComponentKind.PREFERMENT


def part(name, kind, *lines, tub=None):
    amounts = ComponentAmounts(
        name=name,
        kind=kind,
        exact_g=sum(Decimal(grams) for _, grams in lines),
        lines=tuple(
            amount_line(ingredient, Decimal(grams), BENCH_AND_POCKET) for ingredient, grams in lines
        ),
        tub=tub,
    )
    shown = () if tub else tuple(RecipeLine(line, None) for line in amounts.lines)
    return RecipePart(amounts, shown, None)


def step(kind, text):
    return RecipeStep(kind.label, text, 0, 0, None)


def goes_in(parts, *steps):
    """By step, what goes in."""
    return [
        [f"{gram.weighed.grams} {gram.name}" for gram in made.grams]
        for made in with_grams([step(*each) for each in steps], parts)
    ]


DOUGH = part(
    "Dough", ComponentKind.DOUGH, (BREAD_FLOUR, 259), (WHOLE_WHEAT, 46), (WATER, 207), (SALT, "6.1")
)
ALL = ["259 Bread flour", "46 Whole wheat flour", "207 Water", "6.1 Table salt"]
MIX, PREPARE, BULK = StepKind.MIX, StepKind.PREPARE, StepKind.BULK


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Stir flours and salt together, add the water, mix until no dry flour is left.", ALL),
        ("Stir the bread flour into the water.", ["259 Bread flour", "207 Water"]),
        ("Put all the flours in a bowl.", ["259 Bread flour", "46 Whole wheat flour"]),
        ("Stir in the flour.", []),  # which of the two?
        ("Add most of the water.", []),
        ("Add half the water, then the salt.", ["6.1 Table salt"]),
        ("Mix without the salt.", []),
        ("Mix it all.", []),
        ("Rinse the waterproof saltbox.", []),
    ],
)
def test_a_step_has_the_grams_that_it_names_whole(text, expected):
    assert goes_in([DOUGH], (MIX, text)) == [expected]


def test_what_two_steps_name_stands_in_neither():
    told = [(MIX, "Stir the water into the bread flour."), (MIX, "Add the rest of the water.")]
    assert goes_in([DOUGH], *told) == [["259 Bread flour"], []]


def test_only_steps_that_add_something_are_read():
    assert goes_in([DOUGH], (BULK, "Fold with water on your hands.")) == [[]]


POOLISH = part("Poolish", ComponentKind.PREFERMENT, (BREAD_FLOUR, 100), (WATER, 100))
FINAL = part("Final dough", ComponentKind.DOUGH, (BREAD_FLOUR, 200), (WATER, 90), (SALT, 6))


def test_a_part_made_ahead_is_weighed_where_it_is_prepared():
    told = [(PREPARE, "Stir flours into the water."), (MIX, "Add the flours, the water and salt.")]
    assert goes_in([POOLISH, FINAL], *told) == [
        ["100 Bread flour", "100 Water"],
        ["200 Bread flour", "90 Water", "6.0 Table salt"],
    ]


def test_a_part_from_a_tub_goes_in_whole_and_is_not_weighed_again():
    tub = part("Poolish", ComponentKind.PREFERMENT, tub=BENCH_AND_POCKET.weigh(Decimal(200)))
    told = [(PREPARE, "Stir flour into the water."), (MIX, "Add the poolish and the salt.")]
    assert goes_in([tub, FINAL], *told) == [[], ["200 Poolish", "6.0 Table salt"]]


def test_nothing_is_told_where_no_step_says_which_part_it_makes():
    assert goes_in([POOLISH, FINAL], (MIX, "Stir the flours into the water.")) == [[]]
