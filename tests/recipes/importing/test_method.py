"""Steps of the method: their kind, minutes of hands and of waiting, and degrees."""

from decimal import Decimal

import pytest

from recipes.core.choices import StepKind
from recipes.importing.method import unsure
from recipes.importing.method.sentences import LONGEST_STEP, pieces_of, sentences
from recipes.importing.method.steps import Method, read_paragraph
from recipes.importing.method.verbs import STEP_VERBS


def steps(*paragraphs):
    method = Method()
    for text in paragraphs:
        read_paragraph(method, text)
    return method.steps


def step(text):
    (only,) = steps(text)
    return only


def doubts_of(*paragraphs):
    method = Method()
    for text in paragraphs:
        read_paragraph(method, text)
    return method.doubts


def told(text):
    (only,) = doubts_of(text)
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
        ("Let rise 2 h 30 at room temperature.", 0, 150),
        ("Let rise 1 1/2 hours.", 0, 90),
        ("Let rise 1½ hours.", 0, 90),
        ("Let rise for 1:30 h.", 0, 90),
        ("Let rise for an hour and a half.", 0, 90),
        ("Let rise for an hour and a quarter.", 0, 75),
        ("Let rise for two and a half hours.", 0, 150),
        ("Let rise for 2 and a half hours.", 0, 150),
        ("Let rise half an hour.", 0, 30),
        ("Let rise three quarters of an hour.", 0, 45),
        ("Bake for thirty-five minutes.", 0, 35),
        ("Bake for forty minutes.", 0, 40),
        ("Bake 20'.", 0, 20),
        ("Bake 20/22 min.", 0, 22),
        ("Refrigerate the dough for at least 2 hours and up to 3 days.", 0, 120),
        ("Let rise for 75 minutes.", 0, 75),
        ("Let rise 45 min to 1 hour.", 0, 60),
        ("Let rise 1-1½ hours.", 0, 90),
        ("Bake for 15-18 mins.", 0, 18),
        ("Let rise 12–16 hours.", 0, 960),
        ("Ferment for 2 days.", 0, 2880),
        ("Mix for 90 seconds.", 2, 0),
        ("Bake 16 min, with steam for 10 sec.", 0, 16),
        ("Leave overnight to ferment.", 0, 720),
        ("Knead 3 minutes on low, then 5 minutes on high.", 8, 0),
        ("Bake 20 minutes, turn the loaf, and bake 10 more minutes.", 0, 30),
        ("Dissolve the yeast and let stand 5 minutes.", 0, 5),
        ("Proof 1 hour at room temperature or 8 hours in the refrigerator.", 0, 60),
        ("Let rise 1 hour (on a hot day 40 minutes).", 0, 60),
        ("Fold every 30 minutes.", 0, 0),
        ("Bulk: 3 h at 24 C with folds at 45, 90 and 135 min.", 0, 180),
        ("Ferment 2 hours, folding after 30, 60 and 90 minutes.", 0, 120),
        ("Fold every 30 min for 2 hours.", 0, 120),
        ("Take it out 1 hour before baking.", 0, 0),
        ("Rotate the pan after 15 minutes.", 0, 0),
        ("Bake 45 minutes at 240 °C, lid off after 20.", 0, 45),
        ("Soak the seeds for 2 hours.", 0, 120),
        ("Cool on a rack for 1 hour before slicing.", 0, 60),
        ("Preheat the oven for 45 minutes.", 0, 0),
        ("Retard overnight in the refrigerator (12-16 h at 4 °C).", 0, 960),
        ("Put it in the oven for 25 minutes.", 0, 25),
    ],
)
def test_minutes_go_to_hands_or_to_waiting(text, hands_on, waiting):
    read = step(text)
    assert (read.hands_on_min, read.waiting_min) == (hands_on, waiting)


def told_briefly(*paragraphs):
    """Kind, hands-on and waiting minutes, and °C where there are any, of every step."""
    return [
        " ".join(
            [one.kind, f"{one.hands_on_min}+{one.waiting_min}"]
            + ([] if one.temperature_c is None else [f"{one.temperature_c:f}".removesuffix(".0")])
        )
        for one in steps(*paragraphs)
    ]


@pytest.mark.parametrize(
    ("text", "briefly"),
    [
        ("Knead 8 minutes, then cover and let rise for 1 hour.", ["mix 8+0", "bulk 0+60"]),
        ("Ferment overnight, then bake for 40 minutes.", ["bulk 0+720", "bake 0+40"]),
        (
            "Mix 4 min, autolyse 30 min, add salt and levain, 3 min 2nd speed.",
            ["mix 4+0", "rest 0+30", "mix 3+0"],
        ),
        (
            "Add the milk and knead for 6 minutes, then add the butter and knead 5 minutes more.",
            ["mix 6+0", "mix 5+0"],
        ),
        ("Divide 900 g, preshape, bench rest 20 min.", ["divide 0+0", "rest 0+20"]),
        ("Mix. Shape. Retard 14 h at 4 C.", ["mix 0+0", "divide 0+0", "proof 0+840 4"]),
        ("Mix. Chill for 30 minutes. Shape.", ["mix 0+0", "rest 0+30 4", "divide 0+0"]),
        ("Mix. Shape. Refrigerate overnight.", ["mix 0+0", "divide 0+0", "proof 0+720 4"]),
        ("Mix. Shape. Leave it another 45 minutes.", ["mix 0+0", "divide 0+0", "proof 0+45"]),
        ("Mix. Cover and set aside for 1 hour 10 minutes.", ["mix 0+0", "bulk 0+70"]),
        ("Mix. Under a cloth 1½ hours. Knock back.", ["mix 0+0", "bulk 0+90"]),
        ("Score and bake for 18 minutes.", ["score 0+0", "bake 0+18"]),
        ("Slash the tops, then bake 35 min.", ["score 0+0", "bake 0+35"]),
        ("Mix. Rest it for 30 minutes. Divide.", ["mix 0+0", "bulk 0+30", "divide 0+0"]),
        ("Mix. Rest it for 5 minutes. Divide.", ["mix 0+0", "rest 0+5", "divide 0+0"]),
        ("Bake 40 min. Stand in the tin for 5 minutes.", ["bake 0+40", "cool 0+5"]),
        (
            "Stir flour and starter, leave for 14 hours at 27 °C. Add flour and knead 5 minutes.",
            ["prepare 0+0", "prepare 0+840 27", "mix 5+0"],
        ),
        ("Let it rise until you are ready to bake.", ["bulk 0+0"]),
        (
            "Mix. Roll it out and chill in the fridge for 20 minutes, then fold and chill 30 min.",
            ["mix 0+0", "divide 0+0", "rest 0+50 4"],
        ),
        (
            "Mix. Cover and pop it somewhere warm for an hour, then shape it.",
            ["mix 0+0", "bulk 0+60", "divide 0+0"],
        ),
        ("Mix. In the warm for an hour, then shape.", ["mix 0+0", "bulk 0+60", "divide 0+0"]),
        (
            "Mix. Shape. Cut a cross into the top with a sharp knife. Bake 40 min.",
            ["mix 0+0", "divide 0+0", "score 0+0", "bake 0+40"],
        ),
        ("Poolish: 12 h at 20 °C.", ["prepare 0+720 20"]),
        ("Mix. Shape; fridge 14h.", ["mix 0+0", "divide 0+0", "proof 0+840 4"]),
        (
            "Mix. Let rise for 1 hour, then in the fridge for 12 hours.",
            ["mix 0+0", "bulk 0+60", "bulk 0+720 4"],
        ),
        ("Mix. Let rise 1 hour. Refrigerate 12 hours.", ["mix 0+0", "bulk 0+60", "bulk 0+720 4"]),
        ("Mix. Knock back, cut into ten. Rise 9 min.", ["mix 0+0", "divide 0+0", "proof 0+9"]),
        ("Mix. Make two rounds.", ["mix 0+0", "divide 0+0"]),
        ("Mix. Weigh off at 70, ball them up.", ["mix 0+0", "divide 0+0"]),
        ("Mix. Knead 4 min, cover, 60 min rise.", ["mix 4+0", "bulk 0+60"]),
        ("Cook it, stirring, about 3 min.", ["prepare 3+0"]),
        ("Mix. Make it into a loaf.", ["mix 0+0", "divide 0+0"]),
        (
            "Mix. Shape. Take it from the fridge 1 hour before baking.",
            ["mix 0+0", "divide 0+0"],
        ),
        ("Flour and water, 5 min first speed.", ["mix 5+0"]),
        ("Heat the oven to 230 °C for at least 45 minutes.", ["prepare 0+0 230"]),
    ],
)
def test_a_sentence_is_cut_at_its_verbs(text, briefly):
    assert told_briefly(text) == briefly


@pytest.mark.parametrize(
    ("text", "briefly"),
    [
        ("Bake 250 C with steam 20 min, 230 C 22 min.", ["bake 0+20 250", "bake 0+22 230"]),
        (
            "Bake at 240 °C for 15 min, then 30 minutes at 210 °C.",
            ["bake 0+15 240", "bake 0+30 210"],
        ),
        (
            "Bake at 220°C (200 fan) for 15 minutes, turn down to 190 and give it another 20.",
            ["bake 0+15 220", "bake 0+20 190"],
        ),
        (
            "Bake at 230 °C for 15 minutes. Turn the oven down to 200 °C and bake another 20.",
            ["bake 0+15 230", "bake 0+20 200"],
        ),
        ("Bake 20 min at 240 and 25 min at 210.", ["bake 0+20 240", "bake 0+25 210"]),
        (
            "Bake at 230 °C for 35 minutes, turning down to 200 °C after 15.",
            ["bake 0+15 230", "bake 0+20 200"],
        ),
        (
            "Bake at 230 °C, reducing to 200 °C after 10 minutes, for 40 minutes in all.",
            ["bake 0+10 230", "bake 0+30 200"],
        ),
        (
            "Bake at 245 °C with steam for the first 12 min, then 235 °C for 18 min.",
            ["bake 0+12 245", "bake 0+18 235"],
        ),
        ("Hot oven, gas mark 7, 10 minutes. Then down to mark 5 for 30 minutes.",
         ["bake 0+10 220", "bake 0+30 190"]),
        ("Bake 20 minutes at 240 °C, turn the loaf, then another 10.", ["bake 0+30 240"]),
        ("Bake 20' lid on, 25' lid off, 245C.", ["bake 0+45 245"]),
        (
            "Heat the oven to 250 °C. Bake for 20 minutes, then 30 minutes at 210 °C.",
            ["bake 0+20 250", "bake 0+30 210"],
        ),
        ("Bake at 200 °C for 30 minutes until the centre reads 95 °C.", ["bake 0+30 200"]),
    ],
)  # fmt: skip
def test_a_bake_that_goes_on_at_another_temperature_is_a_stage(text, briefly):
    assert told_briefly(text) == briefly


def test_a_stage_without_minutes_is_doubted():
    *_, told_of_second = doubts_of("Bake at 230 °C for 20 minutes, then turn down to 200 °C.")
    assert "NoTime" in {doubt.kind for doubt in told_of_second}


def test_the_ovens_temperature_goes_to_the_bake():
    read = steps(
        "Let the dough rise for 1 hour while you preheat the oven to 230 °C.", "Bake 30 minutes."
    )
    found = [(one.kind, one.waiting_min, one.temperature_c) for one in read]
    assert found == [("bulk", 60, None), ("bake", 30, Decimal(230))]
    assert read[-1].temperature_of == "oven"
    assert read[0].text.endswith("While you preheat the oven to 230 °C.")


def test_an_oven_that_heats_while_dough_rises_is_no_rise_at_230():
    text = "Let the dough rise for 1 hour while the oven heats up to 230 °C. Bake 30 minutes."
    assert told_briefly(text) == ["bulk 0+60", "bake 0+30 230"]


@pytest.mark.parametrize(
    ("paragraphs", "briefly"),
    [
        (["Heat oven to 200C. Bake for 18 mins."], ["bake 0+18 200"]),
        (["Heat the oven to 220 °C and bake for 20 minutes."], ["bake 0+20 220"]),
        (["Heat oven to 200C.", "Bake for 18 mins."], ["prepare 0+0", "bake 0+18 200"]),
        (["Heat oven to 200C and melt the butter.", "Bake 18 mins."],
         ["prepare 0+0", "bake 0+18 200"]),
        (["Heat oven to 200C."], ["prepare 0+0 200"]),
    ],
)  # fmt: skip
def test_heating_the_oven_is_a_step_only_where_nothing_stands_beside_it(paragraphs, briefly):
    assert told_briefly(*paragraphs) == briefly


def test_an_oven_heated_hotter_than_the_bake_is_told():
    text = "Preheat the oven to 250 °C. Bake at 220 °C for 30 minutes."
    assert told_briefly(text) == ["bake 0+30 220"]
    assert unsure.MoreTemperatures((Decimal(250),)) in doubts_of(text)[-1]


def test_differences_of_the_clock_are_the_times():
    read = told_briefly(
        "08:10 - Mix", "08:30 Bulk, folds at 09:00 and 09:30", "10:00 Divide and shape",
        "10:15 to 10:40 Proof", "10:40 Bake",
    )  # fmt: skip
    assert read == ["mix 20+0", "bulk 0+90", "divide 0+0", "proof 0+25", "bake 0+0"]


def test_times_of_day_may_stand_in_one_line():
    read = told_briefly("14:00 - 14:10 Mix. 14:10 - 16:10 Bulk. 16:10 Shape. 17:10 Bake 35 min.")
    assert read == ["mix 10+0", "bulk 0+120", "divide 0+0", "bake 0+35"]
    assert told_briefly("9.00 mix, 9.20 knead, 9.30 rise", "10.30 bake") == [
        "mix 20+0", "mix 10+0", "bulk 0+60", "bake 0+0"
    ]  # fmt: skip
    assert told_briefly("1.50 kg of it rise for 1 hour") == ["bulk 0+60"]


def test_the_clock_goes_over_midnight():
    read = told_briefly("22:00 Leave the dough to ferment", "7:30 am Divide", "7:50 am Bake")
    assert read == ["bulk 0+570", "divide 0+0", "bake 0+0"]


def test_the_clock_and_the_words_are_compared():
    told = doubts_of("09:00 Let rise for 45 minutes", "10:00 Shape")
    assert unsure.TimesDisagree(60, 45) in told[0]


def test_a_last_time_of_day_has_no_minutes():
    told = doubts_of("10:15 Proof", "10:40 Bake")
    assert ["NoTime" in {doubt.kind for doubt in one} for one in told] == [False, True]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Let rise 45-60 min.", "TimeRange"),
        ("Leave overnight.", "TimeVague"),
        ("Mix for a few minutes.", "TimeVague"),
        ("Bake at 200 °C, another 20.", "TimeVague"),
        ("Fold every 30 minutes.", "TimeNotCounted"),
        ("Proof 1 hour or 8 hours in the refrigerator.", "TimeNotCounted"),
        ("Ferment 40 days.", "TimeTooLong"),
        ("Knead 3 minutes on low, then 5 minutes on high.", "TimesAdded"),
        ("Let rise 1 hour. Let rise another 30 minutes.", "TimesAdded"),
        ("Let rise until doubled.", "NoTime"),
        ("Knead for 45 minutes.", "LongWork"),
        ("Bake at 230 °C until golden.", "NoTime"),
        ("Bake for 30 minutes.", "NoOvenTemperature"),
        ("Bake at 350 degrees.", "ScaleAssumed"),
        ("Bake at gas mark 7.", "ScaleAssumed"),
        ("Bake at 180C fan for 30 minutes.", "FanConverted"),
        ("Retard for 12 hours.", "ColdAssumed"),
        ("Bake at 240 °C, later at 210 °C.", "MoreTemperatures"),
        ("Keep the water at 35-40 °C.", "TemperatureRange"),
        ("Bake at 900 °F.", "TemperatureOutOfRange"),
    ],
)
def test_what_is_unsure_about_a_step_is_marked(text, kind):
    assert kind in {doubt.kind for doubt in told(text)}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Mix. Cover and leave for 1 hour.", "KindGuessed"),
        ("Mix. Shape. Leave for 45 minutes.", "KindGuessed"),
        ("Mix. Rest 30 minutes. Divide.", "KindGuessed"),
        ("Poolish: 12 h at 20 °C.", "KindGuessed"),
        ("Stir the flour and leave for 10 hours. Knead 5 minutes.", "AheadAssumed"),
        ("Bake at 230 °C for 35 minutes, turning down to 200 °C after 15.", "StageWorkedOut"),
    ],
)
def test_what_was_worked_out_from_the_steps_around_is_marked(text, kind):
    assert kind in {doubt.kind for one in doubts_of(text) for doubt in one}


@pytest.mark.parametrize(
    "text",
    [
        "Bake at 230 °C (450 °F) for 30 minutes.",
        "Bake at 200C/180C fan/gas 6 for 30 minutes.",
        "Ferment for 3 hours with folds at 45, 90 and 135 min.",
        "Let the dough rise until doubled, 1 hour.",
        "Retard 14 h at 4 C.",
    ],
)
def test_a_plain_step_carries_no_doubt(text):
    assert told(text) == ()


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
        ("Bake at 200C/180C fan/gas 6.", "200"),
        ("Bake at 190°C (170°C fan, gas mark 5) for 35 minutes.", "190"),
        ("Bake at 200c.", "200"),
        ("Bake hot, 220, 25 mins.", "220"),
        ("Retard 14 h at 4 C.", "4"),
        ("Retard 14 h @ 38F.", "3.3"),
        ("Bake at 180 °C with fan.", "200"),
        ("Bake at 350 °F convection.", "190.6"),
        ("Bake at gas mark 6.", "200"),
        ("Let the dough go for 1 hour at 26.", "26"),
        ("Bulk 2 h, fold at 40 + 80.", None),
        ("Cut at 150 g each.", None),
        ("Mix 5 C of flour.", None),
    ],
)
def test_degrees_are_kept_in_celsius(text, celsius):
    expected = None if celsius is None else Decimal(celsius)
    assert step(text).temperature_c == expected


def test_core_and_dough_temperatures_go_to_the_recipe():
    method = Method()
    read_paragraph(method, "The dough temperature should be 25 °C. Mix with water at 30 °C.")
    read_paragraph(method, "Bake at 200 °C until the center reads 95 °C.")
    assert method.dough_temperature_c == 25
    assert method.core_temperature_c == 95
    assert [one.temperature_c for one in method.steps] == [None, None, Decimal(200)]


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
