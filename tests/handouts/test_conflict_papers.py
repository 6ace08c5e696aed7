"""What the papers say where a recipe holds what its baker told: to them, and on the bench."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from classes.access import home_token, student_token
from classes.core.keys import PersonKey
from classes.enrollment.models import Enrollment
from classes.enrollment.services.leaving import change_diet
from classes.enrollment.services.seats import Diner
from classes.selectors import class_plan
from handouts.kinds.allergen_sheet import allergen_sheet
from handouts.kinds.handout import handouts
from handouts.kinds.preparation import preparation_list
from handouts.kinds.station_cards import station_cards
from handouts.press.render import PageSize, to_pdf
from recipes.models import Ingredient, Variant
from tests.classes.diets.deciding import conflict_of, decide, sesame_told
from tests.classes.diets.sesame_class import again
from tests.classes.enrollment.enrolled import page_of
from tests.conftest import signed_in
from tests.handouts.pdfs import flowing_texts, nothing_said, plain
from tests.worlds import anew, made_once

HOLDS = "This recipe holds sesame: Sesame seeds (Seed topping, step 3)."
FIRST = "Ask the instructor first: Seeded ring, revision 1"
DECIDED = "Decided with you: Seeded ring, revision 1"
PROMISES = ("safe for", "free from", "-free")
SPEAK = "Speak with the instructor before you handle or eat any of it."
OPEN_CARD = "Not decided: they speak with the instructor before it is handled or eaten."

sesame_told_once = made_once(sesame_told)


@pytest.fixture
def session(sesame_told_once, db):
    return anew(sesame_told_once)


@pytest.fixture
def teacher(session):
    return signed_in(session.instructor)


@pytest.fixture
def nia(session):
    return session.enrollments.get(name="Nia Farrow")


@pytest.fixture
def ada(session):
    return session.enrollments.get(name="Ada Fennimore")


def printed(papers) -> list[str]:
    with nothing_said():
        return flowing_texts(to_pdf(papers, PageSize.A4))


def own_addresses(person) -> dict[str, str]:
    """Every page and paper that a person's own links open."""
    token = student_token(person)
    return {
        "page": page_of(person),
        "handout": reverse("handouts:student", args=[token]),
        "before": reverse("handouts:homework", args=[token]),
        "home": reverse("handouts:at_home", args=[home_token(person)]),
        "handout paper": reverse("handouts:student_pdf", args=[token]) + "?page=a4",
        "before paper": reverse("handouts:homework_pdf", args=[token]) + "?page=letter",
        "home paper": reverse("handouts:at_home_pdf", args=[home_token(person)]),
    }


def own_page(person, name) -> str:
    return _text(Client().get(own_addresses(person)[name]))


def own_pages(person) -> dict[str, str]:
    return {name: own_page(person, name) for name in own_addresses(person)}


def _text(answer) -> str:
    assert answer.status_code == 200
    if answer["Content-Type"] == "application/pdf":
        return plain(" ".join(flowing_texts(answer.content)))
    return plain(answer.content.decode())


def cards(session) -> dict[str, str]:
    """The text of each card, by station and recipe."""
    papers = card_papers(session)
    texts = printed(list(papers.values()))
    assert len(texts) == len(papers)
    return dict(zip(papers, texts, strict=True))


def card(session, name) -> str:
    (text,) = printed([card_papers(session)[name]])
    return text


def card_papers(session):
    papers = station_cards(class_plan(again(session)), timezone.now())
    return {f"{one.station}, {one.recipe.label}": one for one in papers}


def handout_of(session, person):
    session = again(session)
    plan = class_plan(session)
    student = plan.student[PersonKey.student(person.pk)]
    (paper,) = handouts(plan, [student], timezone.now())
    return paper


def rows_of(paper):
    """The rows of the assistant's tables of stations."""
    return [row for table in paper.tables for part in table.parts for row in part.rows]


class TestUntilItIsDecided:
    def test_everything_of_their_own_says_so_on_top(self, nia):
        for name, text in own_pages(nia).items():
            assert FIRST in text, name
            assert HOLDS in text, name
            assert SPEAK in text, name

    def test_it_stands_before_what_is_to_be_weighed(self, nia):
        text = own_page(nia, "handout paper")
        assert text.index(SPEAK) < text.index("Sesame seeds ✗ holds sesame: ask first")

    def test_lines_and_steps_are_marked(self, session, nia):
        ring = next(one for one in handout_of(session, nia).recipes if one.title == "Seeded ring")
        marks = {
            line.amount.ingredient.name: line.concern for part in ring.parts for line in part.lines
        }
        assert {name: words for name, words in marks.items() if words} == {
            "Sesame seeds": "✗ holds sesame: ask first",
            "Sunflower seeds, hulled": "✗ may hold sesame: ask first",
        }
        assert [number for number, step in enumerate(ring.steps, 1) if step.concern] == [3]
        text = own_page(nia, "handout paper")
        assert "✗ Sesame seeds, holds sesame: ask first" in text

    def test_the_other_recipe_is_unmarked(self, session, nia):
        loaf = next(one for one in handout_of(session, nia).recipes if one.title == "Hearth loaf")
        assert not [line for part in loaf.parts for line in part.lines if line.concern]

    def test_nobody_else_reads_it(self, ada):
        for name, text in own_pages(ada).items():
            assert "Ask the instructor first" not in text, name
            assert "Decided with" not in text, name
            assert "Nia" not in text, name
            assert "✗" not in text, name

    def test_the_card_of_that_station_and_recipe_is_boxed(self, session):
        found = cards(session)
        boxed = [name for name, text in found.items() if "This recipe holds sesame" in text]
        assert boxed == ["Bench 3, Seeded ring, revision 1"]
        text = found["Bench 3, Seeded ring, revision 1"]
        assert "1 person here must not eat it." in text
        assert OPEN_CARD in text
        assert "Sesame seeds ✗" in text
        assert "hulled ✗" in text
        assert "Nia" not in text

    def test_a_card_never_repeats_somebodys_words(self, session, nia):
        Enrollment.objects.filter(pk=nia.pk).update(allergens=[], must_not_eat="olive by my doctor")
        text = card(session, "Bench 3, Seeded ring, revision 1")
        assert "holds something that somebody here must not eat: ask the instructor" in text
        assert "doctor" not in text

    def test_the_assistants_list_says_who_and_marks_the_line(self, session):
        paper = preparation_list(class_plan(again(session)), timezone.now())
        text = " ".join(printed([paper]))
        assert "Nia Farrow, Seeded ring, revision 1: holds sesame: Sesame seeds" in text
        assert "NOT DECIDED: ask before it is handled or eaten." in text
        rows = {row.name: row.concerns for row in rows_of(paper) if row.concerns}
        assert rows == {
            "Sesame seeds": ("Bench 3 ✗ holds sesame: ask first: Nia Farrow",),
            "Sunflower seeds, hulled": ("Bench 3 ✗ may hold sesame: ask first: Nia Farrow",),
        }
        assert [is_open for bench in paper.benches for _, is_open in bench.conflicts] == [True]
        assert "✗ holds" in text

    def test_the_allergen_sheet_says_so_too(self, session):
        text = " ".join(printed([allergen_sheet(class_plan(again(session)), timezone.now())]))
        assert "✗ Seeded ring, revision 1: holds sesame: Sesame seeds" in text
        assert "NOT DECIDED" in text


class TestOnceDecided:
    @pytest.mark.parametrize(
        ("way", "words"),
        [
            ("variant", "The variant is baked: Seeded ring, revision 1, variant Oats alone."),
            ("other-task", "Another task, this recipe is not baked."),
            ("taken-out", "Taken out: Sesame seeds, Sunflower seeds, hulled."),
            ("talked-over", "Talked over."),
        ],
    )
    def test_everything_of_their_own_says_what_and_nothing_promises_anything(
        self, teacher, session, nia, way, words
    ):
        oats = Variant.objects.get(name="Oats alone")
        decide(teacher, session, way, variant=str(oats.pk), note="as we said")
        by = session.instructor.get_username()
        own = own_pages(nia)
        for name, text in own.items():
            assert DECIDED in text, name
            assert words in text, name
            assert by in text, name
            assert "as we said" in text, name
            assert "Ask the instructor first" not in text, name
        for name, text in {**own, **cards(session)}.items():
            found = [promise for promise in PROMISES if promise in text.lower()]
            assert not found, name

    @pytest.mark.parametrize("way", ["variant", "other-task", "taken-out"])
    def test_they_have_none_of_it_to_weigh(self, teacher, session, nia, way):
        oats = Variant.objects.get(name="Oats alone")
        decide(teacher, session, way, variant=str(oats.pk))
        paper = handout_of(session, nia)
        weighed = [
            line.amount.ingredient.key
            for recipe in paper.recipes
            for part in recipe.parts
            for line in part.lines
        ]
        assert weighed
        assert not {"sesame-seeds", "sunflower-seeds"} & set(weighed)

    def test_what_is_taken_out_is_marked_in_the_step(self, teacher, session, nia):
        decide(teacher, session, "taken-out")
        text = own_page(nia, "handout paper")
        assert "✗ Sesame seeds: taken out for you, leave it out here" in text

    def test_what_is_in_the_dough_is_marked_and_stays_in_the_sum(self, teacher, session, nia):
        Enrollment.objects.filter(pk=nia.pk).update(must_not_eat="olive oil")
        decide(teacher, session, "taken-out")
        ring = next(one for one in handout_of(session, nia).recipes if one.title == "Seeded ring")
        marks = {
            line.amount.ingredient.key: line.concern for part in ring.parts for line in part.lines
        }
        assert marks["olive-oil"] == "✗ holds olive oil: taken out, leave it out"
        assert "sesame-seeds" not in marks
        text = own_page(nia, "handout paper")
        assert "to be left out by hand, the grams still count it: Olive oil" in text

    def test_the_card_of_what_others_bake_warns_of_their_seeds(self, teacher, session):
        oats = Variant.objects.get(name="Oats alone")
        decide(teacher, session, "variant", variant=str(oats.pk))
        found = cards(session)
        usual = found["Bench 3, Seeded ring, revision 1"]
        assert "This recipe holds sesame: Sesame seeds" in usual
        assert "Theirs is another bread" in usual
        own = found["Bench 3, Seeded ring, revision 1, variant Oats alone"]
        assert "This recipe holds" not in own
        assert "1 person" in own

    def test_and_their_own_paper_says_what_stands_beside_them(self, teacher, session, nia):
        oats = Variant.objects.get(name="Oats alone")
        decide(teacher, session, "variant", variant=str(oats.pk))
        text = own_page(nia, "handout paper")
        beside = "weigh what you must not eat: Seeded ring, revision 1 holds sesame"
        assert beside in text

    def test_somebody_with_another_task_is_on_no_card_of_it(self, teacher, session, nia):
        before = card(session, "Bench 3, Seeded ring, revision 1")
        decide(teacher, session, "other-task")
        after = card(session, "Bench 3, Seeded ring, revision 1")
        assert "3 people" in before
        assert "2 people" in after

    def test_what_was_taken_out_stands_on_no_head_of_others(self, teacher, session, ada):
        decide(teacher, session, "taken-out")
        for name, text in own_pages(ada).items():
            assert "taken out" not in text, name

    def test_talked_over_stands_on_the_card(self, teacher, session):
        decide(teacher, session, "talked-over", note="canary")
        text = card(session, "Bench 3, Seeded ring, revision 1")
        assert "Decided: talked over with the instructor." in text
        assert "canary" not in text

    def test_the_staffs_papers_say_what_by_whom_and_when(self, teacher, session):
        decide(teacher, session, "taken-out", note="plain top")
        plan = class_plan(again(session))
        for paper in (
            preparation_list(plan, timezone.now()),
            allergen_sheet(plan, timezone.now()),
        ):
            text = " ".join(printed([paper]))
            assert "Decided: taken out: Sesame seeds, Sunflower seeds, hulled" in text
            assert session.instructor.get_username() in text
            assert "plain top" in text

    def test_an_allergen_told_later_puts_the_box_back(self, teacher, session, nia):
        decide(teacher, session, "talked-over")
        told = Diner("Nia Farrow", "told", ("sesame", "gluten-cereals"))
        change_diet(enrollment=nia, diner=told, at=timezone.now())
        for name, text in own_pages(nia).items():
            assert FIRST in text, name
            assert "Ask the instructor first: Hearth loaf, revision 1" in text, name


class TestTwoOfThem:
    def test_two_at_one_station_are_counted_in_one_box(self, session):
        session.enrollments.filter(name="Hal Pettifer").update(allergens=["sesame"], diet="told")
        assert conflict_of(session, name="Hal Pettifer").eater.station == "Bench 2"
        session.enrollments.filter(name="Iris Vane").update(allergens=["sesame"], diet="told")
        station = conflict_of(session, name="Iris Vane").eater.station
        text = card(session, f"{station}, Seeded ring, revision 1")
        assert "2 people here must not eat it." in text

    def test_one_decided_and_one_not_are_two_boxes_the_open_one_first(self, teacher, session):
        session.enrollments.filter(name="Iris Vane").update(allergens=["sesame"], diet="told")
        decide(teacher, session, "talked-over")
        text = card(session, "Bench 3, Seeded ring, revision 1")
        assert text.index(OPEN_CARD) < text.index("Decided: talked over with the instructor.")


def test_an_unlooked_at_ingredient_is_a_third_state_on_their_paper(session, nia):
    Ingredient.objects.filter(key="olive-oil").update(allergens_read=False)
    text = own_page(nia, "handout paper")
    assert "Cannot say: nothing is entered for Olive oil (Dough, step 1)." in text
    assert "✗ cannot say what it holds: ask first" in text
