"""What is in no step, or makes an unlikely step, is doubted."""

from __future__ import annotations

import pytest

from recipes.core.choices import StepKind
from recipes.importing.method import unsure
from recipes.importing.method.steps import Method, read_paragraph

PLAIN = ["Mix for 8 minutes.", "Let rise for 90 minutes.", "Divide into 4 pieces and shape.",
         "Prove for 60 minutes.", "Slash.", "Bake at 230 °C for 30 minutes."]  # fmt: skip


def read(*paragraphs: str) -> Method:
    method = Method()
    for text in paragraphs:
        read_paragraph(method, text)
    return method


def doubts(method: Method, kind: type) -> list:
    return [one for told in method.doubts for one in told if isinstance(one, kind)]


def test_a_usual_method_carries_no_doubt():
    assert not any(read(*PLAIN).doubts)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Everything is twisted together.", StepKind.DIVIDE),
        ("With a razor, nick it deeply.", StepKind.SCORE),
        ("She kneaded until smooth.", StepKind.MIX),
    ],
)
def test_work_in_no_step_is_doubted(text, kind):
    method = read(text)
    assert kind in [step.kind for step in method.steps] or (
        kind.value in [one.of_kind for one in doubts(method, unsure.WorkNotRead)]
    )


def test_work_named_for_another_step_is_not_doubted():
    method = read("Heat the oven to 230 °C before baking.", "Grease the baking tins.")
    assert not doubts(method, unsure.WorkNotRead)


@pytest.mark.parametrize(
    ("paragraphs", "place"),
    [
        (["Mix for 8 minutes.", "Shape.", "Bake at 230 °C for 30 minutes."], 2),
        ([*PLAIN[:2], "Let it rise for 70 minutes.", *PLAIN[2:]], 2),
        ([*PLAIN[:4], "Divide into 8 pieces.", *PLAIN[4:]], 4),
        ([*PLAIN, "Slash."], 6),
        ([*PLAIN, "Let rise for 90 minutes in the second bowl."], 6),
    ],
)
def test_a_step_out_of_its_usual_order_is_doubted(paragraphs, place):
    told = read(*paragraphs).doubts[place]
    odd = (unsure.UnusualOrder, unsure.KindGuessed)
    assert any(isinstance(one, odd) for one in told)


def test_a_second_rise_after_a_fold_or_in_the_cold_is_usual():
    folded = [*PLAIN[:2], "Fold, then let it rise for 70 minutes.", *PLAIN[2:]]
    cold = [*PLAIN[:2], "Retard the dough for 14 hours at 4 °C.", *PLAIN[2:]]
    for method in (read(*folded), read(*cold)):
        assert not doubts(method, unsure.UnusualOrder)


@pytest.mark.parametrize(
    ("place", "text"),
    [
        (1, "Let rise for 4 minutes."),
        (1, "Let rise for 30 hours."),
        (3, "Prove for 5 minutes."),
        (5, "Bake at 230 °C for 1 minute."),
        (5, "Bake at 230 °C for 6 hours."),
    ],
)
def test_an_unusual_time_is_doubted(place, text):
    method = read(*PLAIN[:place], text, *PLAIN[place + 1 :])
    assert doubts(method, unsure.UnusualTime)


def test_a_method_without_a_mix_or_a_bake_says_so():
    assert doubts(read(*PLAIN[1:]), unsure.NoStepOf) == [unsure.NoStepOf("mix")]
    assert doubts(read(*PLAIN[:-1]), unsure.NoStepOf) == [unsure.NoStepOf("bake")]


def test_minutes_until_the_next_time_of_day_are_doubted():
    method = read("08:10 - Mix.", "08:30 - First rise.", "09:30 - Shape the loaves.")
    told = [one.minutes for one in doubts(method, unsure.TimeByClock)]
    assert told == [20, 60]


@pytest.mark.parametrize("text", ["Put it in at 230 °C.", "LOAD 10 MIN."])
def test_a_bake_that_no_verb_says_is_doubted_for_what_it_lacks(text):
    method = read(*PLAIN[:-1], text)
    kinds = {type(one) for told in method.doubts[-1:] for one in told}
    assert kinds & {unsure.NoTime, unsure.NoOvenTemperature, unsure.NoStepOf}


def test_dough_rolled_out_before_it_is_cut_is_one_division():
    method = read(*PLAIN[:2], "Roll the dough to 30 by 50 cm.", "Cut into 12 rolls.", *PLAIN[3:])
    assert [step.kind for step in method.steps].count(StepKind.DIVIDE) == 1


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("Pour boiling water over the oats and leave to cool for 30 minutes.", ["prepare"]),
        ("Mixed flour and water and let it stand for 25 minutes.", ["mix", "rest"]),
        ("Make the top smooth with a wet spoon.", ["prepare"]),
        ("Fill two greased tins with the dough.", ["divide"]),
    ],
)
def test_the_work_of_a_sentence(text, kinds):
    assert [step.kind for step in read(text).steps] == kinds


def test_next_time_less_is_no_time_of_the_step():
    method = read(*PLAIN, "Cooled for 90 minutes, next time 5 minutes less.")
    assert method.steps[-1].waiting_min == 90


def test_a_gap_between_times_of_day_that_nothing_fills_is_doubted():
    method = read("9:45 am scale at 1100 g.", "11:15 am bake at 230 °C for 55 minutes.")
    assert doubts(method, unsure.TimesDisagree) == [unsure.TimesDisagree(90, 0)]


def test_a_second_rise_before_shaping_is_a_bulk_rise():
    method = read(PLAIN[0], "First prove, 60 minutes.", "Second prove in the bowl, 45 minutes.",
                  *PLAIN[2:])  # fmt: skip
    assert [step.kind for step in method.steps][1:4] == ["bulk", "bulk", "divide"]
    assert doubts(method, unsure.KindGuessed)


def test_a_bake_without_shaping_or_rise_is_doubted():
    method = read("Mix for 8 minutes.", "Into floured baskets.", "Bake at 230 °C for 30 minutes.")
    assert doubts(method, unsure.NoShaping)


def test_a_rest_of_risen_dough_that_nothing_divided_is_doubted():
    method = read(*PLAIN[:2], "Rest for 20 minutes.", "Shape the loaves.", *PLAIN[3:])
    assert doubts(method, unsure.NoStepOf) == [unsure.NoStepOf("divide")]


def test_the_first_minutes_of_a_bake_may_not_be_all():
    method = read(*PLAIN[:-1], "Bake at 220 °C, steam for the first 10.")
    assert method.steps[-1].waiting_min == 10
    assert doubts(method, unsure.TimeNotCounted)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("The dough is then cut in two.", "divide"),
        ("Cook on a dry griddle, 10 minutes a side.", "bake"),
        ("The pot is heated to 250 °C for 45 minutes.", "prepare"),
        ("Roll to 60 x 20 cm and give a letter fold.", "prepare"),
    ],
)
def test_the_work_of_a_sentence_once_dough_is_mixed(text, kind):
    assert read(*PLAIN[:2], text).steps[2].kind == kind


def test_hours_since_the_beginning_are_times_of_day():
    method = read("T+0:30 mix, 4 min", "T+1:00 bulk", "T+4:00 divide")
    assert [step.waiting_min for step in method.steps] == [0, 180, 0]


def test_a_time_of_day_inside_a_sentence_is_doubted():
    method = read("Mixed 06:10-06:22.")
    assert [one.text for one in doubts(method, unsure.NumberNotRead)] == ["Mixed 06:10", "-06:22"]


def test_work_taken_as_made_ahead_says_its_minutes():
    method = read("Knead 21 min. Let rise 22 hours. Knead the dough 8 min.")
    assert [one.minutes for one in doubts(method, unsure.AheadAssumed)] == [21, 1320]
