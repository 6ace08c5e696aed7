"""What the words of a method say of how a step is worked, and of what its temperature is."""

from decimal import Decimal

import pytest

from recipes.importing.method import unsure
from recipes.importing.method.steps import Method, read_paragraph, read_step


def read_one(text, reads=read_paragraph):
    """The one step of a text, and its doubts."""
    method = Method()
    reads(method, text)
    ((only, told),) = zip(method.steps, method.doubts, strict=True)
    return only, told


def step(text, reads=read_paragraph):
    return read_one(text, reads)[0]


@pytest.mark.parametrize(
    ("text", "worked"),
    [
        ("Whisk flour, salt and yeast.", "hand"),
        ("Stir the poolish until smooth.", "hand"),
        ("Knead by hand for 10 minutes.", "hand"),
        ("Mix with a wooden spoon.", "hand"),
        ("Knead by machine for 8 minutes.", "machine"),
        ("Knead in a stand mixer until smooth.", "machine"),
        ("Beat with the whisk attachment.", "machine"),
        ("Mix with the dough hook.", "machine"),
        ("Cook the roux in a pan.", "pan"),
        ("Whisk flour and milk over low heat until it thickens.", "pan"),
        ("Stir milk and flour in a saucepan.", "pan"),
        ("Mix flour, water and salt in a large bowl.", None),
        ("Stir in the water and knead until smooth.", None),
        ("Grease the pan and line it with baking paper.", None),
        ("Divide by hand.", None),
        ("Enjoy!", None),
    ],
)
def test_how_a_step_is_worked(text, worked):
    assert step(text).worked == worked


def test_a_pan_of_one_sentence_is_not_heated_by_the_next():
    assert step("Grease the pan. Melt the butter.").worked is None


def test_a_step_that_names_two_ways_leaves_the_choice():
    read, told = read_one("Knead 8 minutes by machine or 12 minutes by hand.")
    assert read.worked is None
    assert unsure.WorkedTwoWays() in told


def test_what_one_sentence_says_holds_for_the_step_it_joins():
    read = step("Mix everything. Use the stand mixer.", read_step)
    assert (read.kind, read.worked) == ("mix", "machine")


@pytest.mark.parametrize(
    ("text", "of"),
    [
        ("Keep the dough at 25 °C and let it rise for 1 hour.", "dough"),
        ("Let rise for 80 minutes with a dough of 25 °C.", "dough"),
        ("Let rise 2 hours at room temperature (21 °C).", "room"),
        ("Let the dough rise in a warm place, 27 °C, for 1 hour.", "room"),
        ("Proof in the cabinet at 26 °C for 40 minutes.", "room"),
        ("Let rise overnight in the refrigerator at 4 °C.", "refrigerator"),
        ("Bake at 230 °C for 30 minutes.", "oven"),
        ("Preheat the oven to 230 °C.", "oven"),
        ("Warm the milk to 38 °C.", None),
    ],
)
def test_what_a_temperature_is_of(text, of):
    read, told = read_one(text)
    assert read.temperature_c is not None
    assert read.temperature_of == of
    assert unsure.TemperatureOfWhat() not in told


@pytest.mark.parametrize("text", ["Let the dough rise at 25 °C for 1 hour.", "Let rise at 80 F."])
def test_a_rise_that_does_not_say_what_is_so_warm_is_doubted(text):
    read, told = read_one(text)
    assert (read.temperature_of, read.kind) == (None, "bulk")
    assert unsure.TemperatureOfWhat() in told


def test_the_first_temperature_keeps_its_meaning():
    text = "Let rise at room temperature, 21 °C. Let rise in the refrigerator at 4 °C."
    read, told = read_one(text)
    assert (read.temperature_c, read.temperature_of) == (Decimal(21), "room")
    assert unsure.MoreTemperatures((Decimal(4),)) in told
    assert unsure.TemperatureOfWhat() not in told
