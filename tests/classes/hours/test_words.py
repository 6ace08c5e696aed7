"""The sentences about the hours of a class, from its values and a clock."""

from dataclasses import replace

import pytest

from classes.core.demand import DEMONSTRATION
from classes.core.hours.advice.bottleneck import Bottleneck, Scarce, Thing
from classes.core.hours.advice.changes import ClassChange
from classes.core.hours.advice.differences import LoadChange, Moved, Stretch, compare
from classes.core.hours.advice.remedies import RemedyKind, remedies_for
from classes.core.hours.checking.obstacles import Hindrance, Obstacle
from classes.core.hours.checking.shortages import Lacking, Shortage
from classes.core.hours.checking.verdict import verdict_of
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.values import Mixing
from classes.core.hours.problem.work import Load
from classes.core.keys import Stage
from classes.demo import HEARTH_LOAF
from classes.hours import words as words
from tests.classes.core.hours.drawn_classes import (
    benches,
    demo,
    label,
    planned,
    recipe_of,
    roomy,
    work_of,
)
from wording.figures import NBSP
from wording.writing import PLAIN

LOAF = "Hearth loaf"


def plain(text):
    return text.replace(NBSP, " ")


def lasting(minutes, work=None):
    work = work or demo()
    return replace(work, hours=replace(work.hours, minutes=minutes))


def verdict(work):
    return verdict_of(*planned(work))


def test_a_class_without_a_plan_is_not_said_to_be_sure():
    found = verdict_of(schedule_of(replace(demo(), ovens=())), None)
    assert words.certainty_words(found) == ""


def test_a_plan_says_how_sure_it_is():
    scheduled, solved = planned(demo())
    assert words.certainty_words(verdict_of(scheduled, solved)) == "No plan is ready earlier."
    open_ = verdict_of(scheduled, replace(solved, bound=200))
    assert plain(words.certainty_words(open_)) == (
        "Another plan could be ready earlier, by 35 min at most."
    )


@pytest.mark.parametrize(
    ("bottleneck", "said"),
    [
        (
            Bottleneck(),
            "Nothing in the kitchen holds the class up most: it is the dough’s own time.",
        ),
        (
            Bottleneck((Thing(Scarce.OVENS),), 35),
            "What holds the class up most: the ovens. With twice as many, by the plan it would be "
            "ready 35 min earlier.",
        ),
        (
            Bottleneck((Thing(Scarce.MIXERS, 2000),), 90),
            "What holds the class up most: the mixers for 2000 g. With plenty of them, by the plan "
            "it would be ready 1 h 30 min earlier.",
        ),
        (
            Bottleneck((Thing(Scarce.OVENS), Thing(Scarce.CABINET)), 20),
            "What holds the class up most: the ovens and the places in the cabinet. With twice the "
            "ovens and plenty of the other, by the plan it would be ready 20 min earlier.",
        ),
        (Bottleneck((Thing(Scarce.OVENS),), None), "In the way of a plan: the ovens."),
        (Bottleneck((), None), "No one thing in the kitchen stands in the way."),
    ],
)
def test_a_bottleneck_says_what_it_costs(bottleneck, said):
    assert plain(words.bottleneck_words(bottleneck)) == said


@pytest.mark.parametrize(
    ("obstacle", "said"),
    [
        (
            Obstacle(
                Hindrance.LOADS,
                "Bench 1",
                LOAF,
                "Bake",
                pieces=8,
                needed=3,
                ovens=("O3",),
                wait_min=70,
                bears_min=10,
            ),
            "Bench 1’s 8 × Hearth loaf need 3 loads of O3. The last would wait 1 h 10 min; the "
            "dough tolerates 10 min.",
        ),
        (
            Obstacle(Hindrance.NO_OVEN, DEMONSTRATION, LOAF, "Bake", pieces=1),
            "There is no oven for the demonstration’s Hearth loaf.",
        ),
        (
            Obstacle(Hindrance.CABINET, "Bench 1", LOAF, "Proof", pieces=6, needed=6, there=1),
            "Bench 1’s 6 × Hearth loaf need 6 places in the cabinet; there is 1.",
        ),
        (
            Obstacle(Hindrance.REFRIGERATOR, DEMONSTRATION, LOAF, "Proof", pieces=2, needed=2),
            "The demonstration’s 2 × Hearth loaf need 2 places in the refrigerator; there are "
            "none.",
        ),
        (
            Obstacle(Hindrance.TIME, "Bench 1", LOAF, "Divide and shape", pieces=2),
            "No time was found for Bench 1’s Hearth loaf, at this step: divide and shape.",
        ),
    ],
)
def test_an_obstacle_says_whose_bread_and_why(obstacle, said):
    assert plain(words.obstacle_words(obstacle)) == said


@pytest.mark.parametrize(
    ("shortage", "said"),
    [
        (Shortage(Lacking.BOWLS, 25, 14), "The doughs take 25 bowls at once; there are 14."),
        (Shortage(Lacking.OVEN, 1, 0), "There is no oven to bake in."),
        (Shortage(Lacking.MIXER, 1, 0), "Dough is to be mixed by a mixer, and there is none."),
        (
            Shortage(Lacking.CABINET, 1, 0),
            "Dough is to rise in the cabinet, and it has no places.",
        ),
        (
            Shortage(Lacking.REFRIGERATOR, 1, 0),
            "Dough is to rise cold, and the refrigerator has no places.",
        ),
        (
            Shortage(Lacking.CABINET_PLACES, 8, 7, "Bench 1"),
            "Bench 1 needs 8 places in the cabinet; there are 7.",
        ),
        (
            Shortage(Lacking.CABINET_PLACES, 2, 1, DEMONSTRATION),
            "The demonstration needs 2 places in the cabinet; there is 1.",
        ),
        (
            Shortage(Lacking.TEACHERS, 3, 1, people_each=8),
            "Teachers: 3 would do, as one for 8 people is common practice; there is 1.",
        ),
    ],
)
def test_a_shortage_says_what_is_needed_and_there(shortage, said):
    assert words.shortage_words(shortage) == said


def test_every_kind_of_shortage_has_words():
    said = {words.shortage_words(Shortage(one, 2, 0, "Bench 1")) for one in Lacking}
    assert len(said) == len(Lacking)


def test_the_remedies_of_the_demo_in_three_hours_read_well():
    found = [plain(words.remedy_words(one, label, PLAIN)) for one in remedies_for(lasting(180))[:3]]
    assert found == [
        "Mix dough for Hearth loaf the evening before and let it rise cold, 4 tubs in the "
        "refrigerator: by the plan ready at 12:40, 20 min to spare.",
        "Start 55 min earlier: by the plan ready at 13:00, no time to spare.",
        "End 55 min later: by the plan ready at 13:55, no time to spare.",
    ]


def test_changes_that_go_together_are_said_together():
    work = lasting(180, replace(demo(), room=replace(demo().room, bowls=5)))
    found = next(one for one in remedies_for(work) if one.kind is RemedyKind.START_EARLIER)
    assert plain(words.remedy_words(found, label, PLAIN)).startswith(
        "Bring 8 bowls more and start 55 min earlier: "
    )


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (ClassChange(RemedyKind.LESS_WATCHING, 3), "Show 3 min less each time"),
        (ClassChange(RemedyKind.MORE_BOWLS, 1), "Bring 1 bowl more"),
        (ClassChange(RemedyKind.RISE_WARM, 28), "Let dough rise in the cabinet at 28 °C (82 °F)"),
        (ClassChange(RemedyKind.RISE_ON_BENCH), "Let dough rise on the bench"),
        (ClassChange(RemedyKind.MIX_BY_HAND, 0, (LOAF,)), "Mix Hearth loaf by hand"),
        (
            ClassChange(RemedyKind.PREPARED, 0, (LOAF, "Seeded ring"), Stage.MIXED),
            "Bring dough for Hearth loaf and Seeded ring mixed",
        ),
        (
            ClassChange(RemedyKind.PREPARED, 0, (LOAF,), Stage.SHAPED),
            "Bring Hearth loaf shaped, a piece for each that is baked",
        ),
        (
            ClassChange(RemedyKind.ROLLS, 12, (LOAF,)),
            "Make 6 rolls of each Hearth loaf, about 12 min in the oven",
        ),
        (
            ClassChange(RemedyKind.EVENING_BEFORE, 1, (LOAF,), Stage.RISEN),
            "Mix dough for Hearth loaf the evening before and let it rise cold, 1 tub in the "
            "refrigerator",
        ),
        (ClassChange(RemedyKind.ANOTHER_MIXER, 2000), "Use another mixer for 2000 g"),
        (ClassChange(RemedyKind.ANOTHER_OVEN, 1, thing="O1"), "Use another oven like O1"),
        (ClassChange(RemedyKind.ANOTHER_OVEN, 2, thing="O1"), "Use 2 more ovens like O1"),
        (ClassChange(RemedyKind.FEWER_PEOPLE, 1), "Take 1 person"),
        (ClassChange(RemedyKind.FEWER_PEOPLE, 13), "Take 13 people"),
    ],
)
def test_a_change_says_what_to_do(change, said):
    assert plain(words.change_words(change, PLAIN)) == said


@pytest.mark.parametrize("kind", RemedyKind)
def test_every_kind_of_change_has_words(kind):
    said = words.change_words(ClassChange(kind, 2, (LOAF,), Stage.RISEN, "O1"), PLAIN)
    assert said
    assert "{" not in said


def test_differences_say_the_outcome_first_and_then_what_moved():
    longer = lasting(240)
    before = planned(longer)
    after = planned(replace(longer, hours=replace(longer.hours, show_min=12)))
    found = [plain(one) for one in words.difference_words(compare(before, after), label, PLAIN)]
    assert found[:5] == [
        "Tight now; does not fit then.",
        "Ready at 14:02, 7 min later.",
        "2 min after the end.",
        "Watch: mix (Hearth loaf, everybody): 10:30 to 10:35 → 10:30 to 10:42.",
        "Mix (Hearth loaf, demonstration, Bench 1, 2 and 3): 10:35 → 10:42.",
    ]
    assert "O1, load 1: 13:10 to 13:40, 6 places, 230 °C" in " ".join(found)


def test_a_plan_that_is_the_same_changes_nothing():
    found = compare(planned(demo()), planned(demo()))
    assert words.difference_words(found, label, PLAIN) == ("Nothing changes.",)


def test_a_class_that_loses_its_plan_says_so():
    found = compare(planned(demo()), (schedule_of(replace(demo(), ovens=())), None))
    assert words.difference_words(found, label, PLAIN) == ("Tight now; does not fit then.",)


def test_a_second_load_and_new_benches_are_told():
    large = work_of(recipe_of(HEARTH_LOAF, benches(6), mixing=Mixing.SHOWN), room=roomy(40))
    found = compare(planned(demo()), planned(large))
    said = [plain(one) for one in words.difference_words(found, label, PLAIN)]
    assert "O1, load 2: none → 13:45 to 14:15, 6 places, 230 °C (450 °F)." in said
    assert "New: Mix (Hearth loaf, Bench 4, 5 and 6), 10:36 to 10:56." in said


def test_what_went_is_told_with_its_old_time():
    moved = Moved("Proof", LOAF, ("Bench 1",), Stretch(150, 190), None)
    assert words.moved_words(moved, label) == (
        "Gone: Proof (Hearth loaf, Bench 1), 12:30 to 13:10."
    )


def test_a_load_of_one_place_is_said_in_the_singular():
    load = Load("oven-3", 190, 30, 230, (("bake", 1),))
    said = words.load_words(LoadChange("O3", 1, load, None), label, PLAIN)
    assert plain(said) == "O3, load 1: 13:10 to 13:40, 1 place, 230 °C (450 °F) → none."
