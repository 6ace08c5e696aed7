"""Methods in a few words: times without units or verbs, times of day, stages of the oven."""

from __future__ import annotations

import pytest

from tests.recipes.importing.test_method import doubts_of, told_briefly

BARE = [
    ("Mix 4 min. Rest 20.", ["mix 4+0", "rest 0+20"]),
    ("Knead 8 min. Bulk 90, fold at 45.", ["mix 8+0", "bulk 0+90"]),
    ("Mixing: 5+4 min.", ["mix 9+0"]),
    ("Mixed 3+7.", ["mix 10+0"]),
    ("4 minutes on first speed, then 5 on second.", ["mix 9+0"]),
    ("Mix 5 slow, 6 fast.", ["mix 11+0"]),
    ("Knead 8 min. Shape. Proof 45. Bake 220, 22 min, steam first 8.",
     ["mix 8+0", "divide 0+0", "proof 0+45", "bake 0+22 220"]),
    ("Bake 250/230, 20' lid + 25' no lid.", ["bake 0+20 250", "bake 0+25 230"]),
    ("Bake 240 C falling to 200 C: 10 min + 28 min.", ["bake 0+10 240", "bake 0+28 200"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "briefly"), BARE)
def test_a_number_where_a_time_is_due_is_minutes(text, briefly):
    assert told_briefly(text) == briefly
    assert any(doubts_of(text))


@pytest.mark.parametrize(("text", "briefly"), [
    ("Mix well. Leave from 7:30 to 8:10.", ["mix 0+0", "rest 0+40"]),
    ("12:30 Mix flour and water, leave until 13:00.", ["mix 0+0", "rest 0+30"]),
    ("Shape. Bake from 7:30 to 7:50 with the lid on at 250°C, then at 230°C until 8:15.",
     ["divide 0+0", "bake 0+20 250", "bake 0+25 230"]),
    ("Shape. Bake at 240 °C from 11:50 pm until 12:20 am.", ["divide 0+0", "bake 0+30 240"]),
])  # fmt: skip
def test_times_of_day_are_lengths(text, briefly):
    assert told_briefly(text) == briefly


WITHOUT_A_VERB = [
    ("Knead 8 min. Scale 415, round, 15 min. Mould. Proof 50 min.",
     ["mix 8+0", "divide 0+0", "rest 0+15", "divide 0+0", "proof 0+50"]),
    ("Knead, eight minutes does it, then forget about it for an hour.", ["mix 8+0", "bulk 0+60"]),
    ("Knead 8 min. Shape. One long cut, and in at 235°C for 10 minutes, then 30 min at 205°C.",
     ["mix 8+0", "divide 0+0", "score 0+0", "bake 0+10 235", "bake 0+30 205"]),
    ("Knead 8 min. Shape. Heat the oven to 250 °C. Sauce, cheese, 7 min.",
     ["mix 8+0", "divide 0+0", "bake 0+7 250"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "briefly"), WITHOUT_A_VERB)
def test_a_time_that_no_verb_takes_is_a_wait_or_a_bake(text, briefly):
    assert told_briefly(text) == briefly


@pytest.mark.parametrize(("text", "kinds"), [
    ("Press in the walnuts.", ["mix"]),
    ("Cut in the butter.", ["mix"]),
    ("Cut the dough in four.", ["divide"]),
    ("Break off lumps.", ["divide"]),
    ("Cut a cross in the top.", ["score"]),
    ("Slashed once.", ["score"]),
    ("Shape. Put into the fridge.", ["divide", "proof"]),
    ("Bake 20 min at 220 °C. Don't cut it under an hour.", ["bake", "cool"]),
])  # fmt: skip
def test_words_of_the_bench_tell_the_kind(text, kinds):
    told = told_briefly("Stir. Rest 20 min.", text)[2:]
    assert [one.split()[0] for one in told] == kinds


@pytest.mark.parametrize(("paragraphs", "briefly"), [
    (["MIXING", "8 min slow, 3 min fast"], ["mix 11+0"]),
    (["Knead 8 min.", "BULK FERMENTATION", "90 min at 25 C, a fold"], ["mix 8+0", "bulk 0+90 25"]),
    (["Knead 8 min.", "Shaping", "2 batards", "FINAL PROOF", "50 min", "BAKING", "10 min at 240 C"],
     ["mix 8+0", "divide 0+0", "proof 0+50", "bake 0+10 240"]),
])  # fmt: skip
def test_work_named_on_a_line_of_its_own_is_one_with_what_follows(paragraphs, briefly):
    assert told_briefly(*paragraphs) == briefly


@pytest.mark.parametrize(("text", "briefly"), [
    ("Knead 8 min. Preshape; 20 min; shape. Leave 45 min. Bake at 230 °C, 30 min.",
     ["mix 8+0", "divide 0+0", "rest 0+20", "divide 0+0", "proof 0+45", "bake 0+30 230"]),
    ("Mix. Rest 30 min, fold, rest 30 min, fold. Shape.", ["mix 0+0", "bulk 0+60", "divide 0+0"]),
    ("Knead 8 min. Rise 1 hour. Tip into the tray and leave 40 min. Bake 20 min at 230 °C.",
     ["mix 8+0", "bulk 0+60", "proof 0+40", "bake 0+20 230"]),
    ("Bake 30 min at 230 °C. Leave on a rack for an hour.", ["bake 0+30 230", "cool 0+60"]),
])  # fmt: skip
def test_a_wait_is_what_its_place_makes_of_it(text, briefly):
    assert told_briefly(text) == briefly
