"""The judge of readings is strict: what is wrong and says nothing is called so."""

from __future__ import annotations

from copy import deepcopy

import pytest

from tests.recipes.importing.right_readings import figure, right_reading
from tests.recipes.importing.scoring import DOUBTFUL, LINES, QUIET, REST, RIGHT, STEPS, score

FACTS = """title: Rolls  # a comment
yield: 12 x 70
core_temperature_c: 94
part: dough | For the dough
line: bread-flour,kind:flour | 600
line: water | 380-400 !
line: egg | ?
part: wash | Glaze
line: whole-milk | 20
step: mix | 10-12 | 0 | -
step: bulk | 0 | 90 | -
step: bake | 0 | 15+20 | 220+190
left_out: Love,
whole_doubt: 12 x 70 g is more than the lines
"""


def line(key, grams, *doubts, kind="other"):
    return {"ingredient": key, "ingredient_name": key, "ingredient_kind": kind, "grams": grams,
            "text": f"{grams} {key}", "doubts": list(doubts)}  # fmt: skip


def step(kind, hands_on=0, waiting=0, celsius=None, *doubts, stages=()):
    staged = [{"minutes": minutes, "temperature_c": c} for minutes, c in stages]
    return {"kind": kind, "text": kind, "hands_on_min": hands_on, "waiting_min": waiting,
            "temperature_c": celsius, "stages": staged, "doubts": list(doubts)}  # fmt: skip


def read():
    return {
        "title": "ROLLS",
        "yield": {"pieces": 12, "piece_g": "70"},
        "parts": [
            {"kind": "dough", "name": "Dough", "lines": [
                line("bread-flour", "600.4"), line("water", "390", "unsure"), line("egg", None)]},
            {"kind": "wash", "name": "Glaze", "lines": [line("whole-milk", "20")]},
        ],
        "steps": [
            step("mix", 11), step("bulk", 0, 90), step("divide"), step("prepare"),
            step("bake", 0, 35, "220", stages=[(15, "220"), (20, "190")]),
        ],
        "left_out": ["Love, M."],
        "doubts": ["unsure"],
    }  # fmt: skip


FIGURES = {"dough_temperature_c": None, "core_temperature_c": "94", "bake_loss_percent": None}


def judged(found, facts=FACTS, **figures):
    return score(found, right_reading(facts), FIGURES | figures)


def test_what_is_right_is_called_right():
    found = read()
    found["steps"][2:3] = [step("prepare", 0, 0, "220")]
    scored = judged(found)
    assert scored.told == []
    assert dict(scored.counts) == {(LINES, RIGHT): 4, (STEPS, RIGHT): 3, (REST, RIGHT): 6}


def dough(found):
    return found["parts"][0]["lines"]


def into_glaze(found):
    found["parts"][1]["lines"].append(dough(found).pop(0))


PLANTED_LINES = {
    "grams": lambda found: dough(found)[0].update(grams="741.7"),
    "grams not said": lambda found: dough(found)[0].update(grams=None),
    "grams made up": lambda found: dough(found)[2].update(grams="50"),
    "ingredient": lambda found: dough(found)[0].update(ingredient="water"),
    "no doubt": lambda found: dough(found)[1].update(doubts=[]),
    "missing": lambda found: dough(found).pop(0),
    "one too many": lambda found: dough(found).append(line("sugar", "5")),
    "twice": lambda found: dough(found).append(line("bread-flour", "600")),
    "in the glaze": into_glaze,
}


@pytest.mark.parametrize("name", sorted(PLANTED_LINES))
def test_a_line_that_is_wrong_is_called_so(name):
    found = read()
    PLANTED_LINES[name](found)
    assert judged(found).counts[LINES, QUIET] == 1


PLANTED_STEPS = {
    "kind": lambda steps: steps[1].update(kind="proof"),
    "hands": lambda steps: steps[0].update(hands_on_min=13),
    "waiting": lambda steps: steps[1].update(waiting_min=91),
    "a rise in the oven": lambda steps: steps[1].update(temperature_c="230"),
    "one stage": lambda steps: steps[3].update(stages=[{"minutes": 35, "temperature_c": "220"}]),
    "stages": lambda steps: steps[3]["stages"][1].update(temperature_c="200"),
    "missing": lambda steps: steps.pop(1),
    "a preheat to what no bake has": lambda steps: steps.insert(0, step("prepare", 0, 0, "240")),
    "a preheat that takes time": lambda steps: steps.insert(0, step("prepare", 0, 9, "220")),
    "one too many": lambda steps: steps.append(step("cool", 0, 20)),
    "a division too many": lambda steps: steps.append(step("divide")),
    "order": lambda steps: steps.insert(0, steps.pop(3)),
}


@pytest.mark.parametrize("name", sorted(PLANTED_STEPS))
def test_a_step_that_is_wrong_is_called_so(name):
    found = read()
    del found["steps"][2]
    PLANTED_STEPS[name](found["steps"])
    assert judged(found).counts[STEPS, QUIET] == (2 if name == "order" else 1)


@pytest.mark.parametrize("name", ["grams", "ingredient", "one too many", "in the glaze"])
def test_a_doubt_makes_a_wrong_line_a_doubtful_one(name):
    found = read()
    PLANTED_LINES[name](found)
    for part in found["parts"]:
        for one in part["lines"]:
            one["doubts"] = ["unsure"]
    counts = judged(found).counts
    assert (counts[LINES, DOUBTFUL], counts[LINES, QUIET]) == (1, 0)


def test_a_doubt_makes_a_wrong_step_a_doubtful_one():
    found = read()
    del found["steps"][2]
    found["steps"][1].update(waiting_min=91, doubts=["unsure"])
    counts = judged(found).counts
    assert (counts[STEPS, DOUBTFUL], counts[STEPS, QUIET]) == (1, 0)


@pytest.mark.parametrize(("at", "doubt", "quiet"), [
    (0, "TimeOfWhat then 90 min", 0), (0, "TimeOfWhat then 80 min", 1),
    (0, "TimeRange 80 90 90", 1), (-1, "TimeOfWhat then 90 min", 1),
])  # fmt: skip
def test_a_missing_step_is_doubtful_only_where_a_doubt_beside_it_asks(at, doubt, quiet):
    found = read()
    del found["steps"][1:3]
    found["steps"].append(step("cool", 0, 60))
    found["steps"][at]["doubts"] = [doubt]
    facts = f"{FACTS}step: cool | 0 | 60 | -\n"
    assert judged(found, facts).counts[STEPS, QUIET] == quiet


def test_an_unknown_ingredient_with_a_doubt_is_one_doubtful_line():
    found = read()
    dough(found)[0] = line(None, None, "unknown") | {"text": "the good flour"}
    counts = judged(found).counts
    assert (counts[LINES, RIGHT], counts[LINES, DOUBTFUL], counts[LINES, QUIET]) == (3, 1, 0)


def test_a_missing_line_that_is_listed_as_left_out_is_doubtful():
    found = read()
    del dough(found)[0]
    found["left_out"].append("some flour")
    counts = judged(found).counts
    assert (counts[LINES, DOUBTFUL], counts[LINES, QUIET]) == (1, 0)


@pytest.mark.parametrize(("grams", "doubts", "quiet"), [
    ("300", [], 1), ("300", ["unsure"], 0), ("7", [], 1), (None, [], 0),
])  # fmt: skip
def test_a_line_that_names_a_part_is_none_of_its_own(grams, doubts, quiet):
    found = read()
    if grams:
        dough(found).append(line(None, grams, *doubts))
    scored = judged(found, f"{FACTS}part: dough | -\nline: part | 300\n")
    assert scored.counts[LINES, QUIET] == quiet


@pytest.mark.parametrize(
    "planted",
    [
        lambda found: found.update(title="Buns"),
        lambda found: found.update(left_out=[]),
        lambda found: found["yield"].update(pieces=16),
        lambda found: found["yield"].update(piece_g=None),
    ],
)
def test_what_is_wrong_with_the_whole_is_not_right(planted):
    found = read()
    planted(found)
    assert judged(found).counts[REST, RIGHT] == 5


def test_the_whole_must_be_doubted_and_its_figures_kept():
    assert judged(read() | {"doubts": []}).counts[REST, QUIET] == 1
    assert judged(read() | {"doubts": []}, core_temperature_c=None).counts[REST, QUIET] == 2
    assert judged(read() | {"doubts": []}, bake_loss_percent="14").counts[REST, QUIET] == 2


@pytest.mark.parametrize(("text", "inside", "outside"), [
    ("600", "600.4", "601"), ("453.6", "453.592", "453.5"), ("240-290", "290", "291"),
    ("-18", "-18.3", "-19"),
])  # fmt: skip
def test_a_figure_takes_in_what_is_rounded_to_its_digits(text, inside, outside):
    assert figure(text).holds(inside)
    assert not figure(text).holds(outside)
    assert not figure(text).holds(None)


@pytest.mark.parametrize("facts", ["lines: a | 1", "nothing", "line: a | many", "step: mix | 1"])
def test_what_is_no_fact_is_refused(facts):
    with pytest.raises(ValueError, match=facts.partition("|")[0].strip()):
        right_reading(facts)


def test_reading_a_report_does_not_change_it():
    found = read()
    before = deepcopy(found)
    judged(found)
    assert found == before
