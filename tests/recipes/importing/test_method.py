"""Steps of the method: their kind, minutes of hands and of waiting, and degrees."""

from decimal import Decimal

import pytest

from recipes.core.choices import StepKind
from recipes.importing.method.steps import (
    LONGEST_STEP,
    Method,
    pieces_of,
    read_paragraph,
    sentences,
)
from recipes.importing.method.verbs import STEP_VERBS


def steps(*paragraphs):
    method = Method()
    for text in paragraphs:
        read_paragraph(method, text)
    return method.steps


def step(text):
    (only,) = steps(text)
    return only


def told(text):
    method = Method()
    read_paragraph(method, text)
    (only,) = method.doubts
    return only


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Preheat the oven to 230 °C.", "prepare"),
        ("Grease the pan and line it with baking paper.", "prepare"),
        ("Proof the yeast in the warm water for 10 minutes.", "prepare"),
        ("Mix flour, water and salt in a large bowl.", "mix"),
        ("Add the rest of the butter.", "mix"),
        ("Knead in a stand mixer until smooth.", "mix"),
        ("Cover and let rise until doubled.", "bulk"),
        ("Stretch and fold.", "bulk"),
        ("Turn out onto a lightly floured surface and divide in two.", "divide"),
        ("Shape into balls and place in the pan.", "divide"),
        ("Let the dough relax under a towel.", "rest"),
        ("Give the loaves their final rise.", "proof"),
        ("Score the top with a sharp blade.", "score"),
        ("Bake until golden.", "bake"),
        ("Let cool completely on a rack.", "cool"),
        ("Put it in a cool place on a baking sheet.", "mix"),
        ("Enjoy!", "prepare"),
    ],
)
def test_a_sentence_is_known_by_its_verbs(text, kind):
    assert step(text).kind == kind


def test_a_rise_after_shaping_is_the_proof():
    kinds = [one.kind for one in steps("Let rise. Shape the loaf. Let rise again. Bake.")]
    assert kinds == ["bulk", "divide", "proof", "bake"]


def test_a_new_step_begins_where_another_kind_of_work_does():
    texts = [one.text for one in steps("Mix well. Add salt. Bake it. It should sound hollow.")]
    assert texts == ["Mix well. Add salt.", "Bake it. It should sound hollow."]


@pytest.mark.parametrize(
    ("text", "hands_on", "waiting"),
    [
        ("Knead for 10 minutes.", 10, 0),
        ("Bake 35 min.", 0, 35),
        ("Let rise for 1 hour 20 minutes.", 0, 80),
        ("Let rise for 1 hr. and 20 min.", 0, 80),
        ("Let rise 1h20.", 0, 80),
        ("Let rise 1 1/2 hours.", 0, 90),
        ("Let rise 1½ hours.", 0, 90),
        ("Let rise for an hour and a half.", 0, 90),
        ("Let rise half an hour.", 0, 30),
        ("Let rise 45 min to 1 hour.", 0, 53),
        ("Let rise 12–16 hours.", 0, 840),
        ("Ferment for 2 days.", 0, 2880),
        ("Mix for 90 seconds.", 2, 0),
        ("Leave overnight to ferment.", 0, 720),
        ("Knead 8 minutes, then cover and let rise for 1 hour.", 8, 60),
        ("Knead 3 minutes on low, then 5 minutes on high.", 8, 0),
        ("Bake 20 minutes, turn the loaf, and bake 10 more minutes.", 0, 30),
        ("Dissolve the yeast and let stand 5 minutes.", 0, 5),
        ("Proof 1 hour at room temperature or 8 hours in the refrigerator.", 0, 60),
        ("Fold every 30 minutes.", 0, 0),
        ("Take it out 1 hour before baking.", 0, 0),
        ("Rotate the pan after 15 minutes.", 0, 0),
        ("Soak the seeds for 2 hours.", 0, 120),
        ("Cool on a rack for 1 hour before slicing.", 0, 60),
        ("Retard overnight in the refrigerator (12-16 h at 4 °C).", 0, 840),
        ("Ferment overnight, then bake for 40 minutes.", 0, 760),
    ],
)
def test_minutes_go_to_hands_or_to_waiting(text, hands_on, waiting):
    read = step(text)
    assert (read.hands_on_min, read.waiting_min) == (hands_on, waiting)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Let rise 45-60 min.", "TimeRange"),
        ("Leave overnight.", "TimeVague"),
        ("Mix for a few minutes.", "TimeVague"),
        ("Fold every 30 minutes.", "TimeNotCounted"),
        ("Proof 1 hour or 8 hours in the refrigerator.", "TimeNotCounted"),
        ("Ferment 40 days.", "TimeTooLong"),
        ("Bake at 350 degrees.", "ScaleAssumed"),
        ("Bake at gas mark 7.", "ScaleAssumed"),
        ("Bake at 240 °C, later at 210 °C.", "MoreTemperatures"),
        ("Keep the water at 35-40 °C.", "TemperatureRange"),
        ("Bake at 900 °F.", "TemperatureOutOfRange"),
    ],
)
def test_what_is_unsure_about_a_step_is_marked(text, kind):
    assert kind in {doubt.kind for doubt in told(text)}


def test_a_plain_step_carries_no_doubt():
    assert told("Bake at 230 °C (450 °F) for 30 minutes.") == ()


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("Bake at 230 °C.", "230"),
        ("Bake at 230C.", "230"),
        ("Bake at 230ºC.", "230"),
        ("Bake at 230 degrees Celsius.", "230"),
        ("Bake at 450 °F.", "232.2"),
        ("Bake at 450F.", "232.2"),
        ("Bake at 450 degrees Fahrenheit.", "232.2"),
        ("Bake at 450°F (230 °C).", "230"),
        ("Bake at 450°F/230°C.", "230"),
        ("Bake at 350 degrees.", "176.7"),
        ("Bake at 220 degrees.", "220"),
        ("Keep the water at 35-40 °C.", "37.5"),
        ("Chill at -18 °C.", "-18"),
        ("Bake at 900 °F.", None),
        ("Bake at 400 for 12 minutes.", "204.4"),
        ("Bake at 200 miles.", None),
        ("Cut at 150 g each.", None),
        ("Mix 5 C of flour.", None),
    ],
)
def test_degrees_are_kept_in_celsius(text, celsius):
    expected = None if celsius is None else Decimal(celsius)
    assert step(text).temperature_c == expected


def test_core_and_dough_temperatures_go_to_the_recipe():
    method = Method()
    read_paragraph(method, "The dough temperature should be 25 °C.")
    read_paragraph(method, "Bake at 200 °C until the center reads 95 °C.")
    assert method.dough_temperature_c == 25
    assert method.core_temperature_c == 95
    assert [one.temperature_c for one in method.steps] == [None, Decimal(200)]


def test_sentences_do_not_end_at_abbreviations():
    text = "Mix approx. 5 min. on low. Add 1.5 l water, i.e. all of it. Rest 10 min. Bake."
    assert list(sentences(text)) == [
        "Mix approx. 5 min. on low.",
        "Add 1.5 l water, i.e. all of it.",
        "Rest 10 min.",
        "Bake.",
    ]


def test_a_step_longer_than_its_field_is_divided_and_nothing_is_lost():
    text = "mix " + "and stir " * 300
    read = steps(text)
    assert all(len(one.text) <= LONGEST_STEP for one in read)
    assert " ".join(one.text for one in read) == " ".join(text.split())


def test_a_word_longer_than_a_step_is_cut_where_it_must():
    pieces = list(pieces_of("x" * 1500))
    assert [len(piece) for piece in pieces] == [600, 600, 300]


def test_every_verb_stands_for_a_step_kind_of_the_recipe_book():
    assert {verb.kind for verb in STEP_VERBS.values()} == set(StepKind)
