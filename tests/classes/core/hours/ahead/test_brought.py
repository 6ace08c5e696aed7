"""Doughs that are brought are ready at their stage, each with a preferment of its own.

The times are by hand, from the class at the end of each line.
"""

import pytest

from classes.core.hours.ahead.everything import ASSISTANT, INSTRUCTOR
from classes.core.keys import Stage
from tests.classes.core.hours.ahead.ahead_times import ahead, first_start, times
from tests.classes.core.hours.demo_classes import HEARTH, TWO_DAYS, clock, recipe, step, work


def brings(*stages, steps=HEARTH, **changes):
    return work(recipe(steps, brings=frozenset(stages)), **changes)


def test_a_mixed_dough_is_ready_before_the_class_takes_it_up():
    """Taken up at 10:10, after the welcome: mixed until 10:00, then ten minutes in the cold."""
    task = ahead(brings(Stage.MIXED))["mixed|mix0|loaf"]
    assert (times(task), clock(task.ready_by)) == (("09:40", "10:00"), "10:10")
    assert task.text.endswith("Then keep it cold for 10 min.")
    assert task.who == INSTRUCTOR


def test_a_risen_dough_is_through_its_first_rise_when_the_class_divides():
    """Divided at 11:00 after 80 min, with the fold after 37: mixed until 9:40."""
    made = ahead(brings(Stage.RISEN))
    mix, fold = made["risen|mix0|loaf"], made["risen|bulk1|loaf"]
    assert first_start(brings(Stage.RISEN), "divide") == 60
    assert (times(mix), times(fold)) == (("09:20", "09:40"), ("10:17", "10:22"))
    assert (mix.who, fold.who) == (INSTRUCTOR, ASSISTANT)


def test_shaped_pieces_wait_in_the_cold_until_their_proof():
    """Baked at 12:30 after 40 min: out of the cold at 11:50, shaped until the class begins."""
    made = ahead(brings(Stage.SHAPED))
    shape, out = made["shaped|divide2|loaf"], made["shaped|out2|loaf"]
    assert times(shape) == ("09:45", "10:00")
    assert shape.text.endswith("Then keep it cold for 1 h 50 min.")
    assert (clock(out.ready_by), out.who) == ("11:50", ASSISTANT)
    assert out.why == "It has 40 min to go by the recipe."
    assert times(made["shaped|mix0|loaf"]) == ("08:05", "08:25")


def test_a_few_minutes_are_not_worth_a_way_to_the_refrigerator_and_back():
    """Divided at 11:00 after 55 min: mixed until 10:05, but the class begins at 10:00."""
    steps = (HEARTH[0], step("bulk", 0, 55, 25), *HEARTH[2:])
    made = ahead(brings(Stage.RISEN, steps=steps))
    assert made["risen|mix0|loaf"].text.endswith("Then keep it cold for 5 min.")
    assert not [key for key in made if key.startswith("risen|out")]


def test_a_brought_dough_says_how_much_of_it_is_for_whom():
    text = ahead(brings(Stage.RISEN))["risen|mix0|loaf"].text
    assert "13 pieces, 6760 g of dough without handling loss" in text
    assert "1 for Demonstration, 4 for Bench 1, 4 for Bench 2 and 4 for Bench 3." in text


def test_a_single_piece_is_named_as_one():
    class_work = work(recipe(benches=0, brings=frozenset({Stage.RISEN})))
    assert "1 piece, 520 g of dough" in ahead(class_work)["risen|mix0|loaf"].text


def test_a_brought_dough_has_a_preferment_of_its_own():
    made = ahead(brings(Stage.RISEN, steps=TWO_DAYS))
    own, in_class = made["risen|prepare0|loaf"], made["prepare0|loaf"]
    assert own.ready_by == made["risen|mix0|loaf"].starts
    assert own.ready_by - own.starts == 720
    assert in_class.ready_by == first_start(brings(Stage.RISEN, steps=TWO_DAYS), "mix")
    assert own.why == "Ripe for the Loaf that you bring risen: 12 h at 20 °C."


def test_butter_for_a_brought_dough_comes_out_at_home():
    soft = recipe(brings=frozenset({Stage.RISEN}), softens_butter=True, chills=True)
    made = ahead(work(soft))
    assert made["risen|butter|loaf"].ready_by == made["risen|mix0|loaf"].starts
    assert made["risen|butter|loaf"].who == INSTRUCTOR
    assert "risen|chilled|loaf" not in made


def test_rests_and_second_mixings_at_home_take_their_written_times():
    """By hand: 10 min, 30 min of rest and 20 min are an hour until the class begins."""
    steps = (step("mix", 10), step("rest", 0, 30), *HEARTH)
    made = ahead(brings(Stage.RISEN, steps=steps))
    assert times(made["risen|mix0|loaf"]) == ("09:00", "09:10")
    assert times(made["risen|mix2|loaf"]) == ("09:40", "10:00")


@pytest.mark.parametrize(
    ("stage", "without"), [(Stage.MIXED, "mix"), (Stage.RISEN, "bulk"), (Stage.SHAPED, "proof")]
)
def test_a_stage_that_the_recipe_never_reaches_is_not_prepared(stage, without):
    steps = tuple(one for one in HEARTH if one.kind != without)
    assert not [key for key in ahead(brings(stage, steps=steps)) if key.startswith(stage)]
