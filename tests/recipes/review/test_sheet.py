"""The review sheet: what is open, what is counted, and how questions are answered."""

import re

import pytest

from recipes.models import Recipe
from recipes.review.asking import Asking
from recipes.review.groups import WholeRecipe
from recipes.review.row_forms import ReviewHeadForm
from recipes.review.rows import carried, live_doubts
from tests.recipes.test_bring import BRING, PAGE, PARTS, TEXT, bring, fields_of
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db

MARK = re.compile(r'<a\s+class="reading-mark[^"]*" href="#([^"]+)".*?</span>(.*?)</a>', re.DOTALL)


def press(client, answer, **buttons):
    """The sheet as it comes back when a button is pressed; `_` in a name is `-`."""
    named = {name.replace("_", "-"): value for name, value in buttons.items()}
    return client.post(BRING, fields_of(answer) | named)


def opened(answer) -> list[str]:
    """The ids of the rows that are open."""
    page = answer.content.decode()
    return re.findall(r'<details class="read-row" open>.*?<div id="([^"]+)"', page, re.DOTALL)


def focused(answer) -> list[str]:
    """The name of what has the cursor; of a button, its value."""
    page = answer.content.decode()
    tags = re.findall(r"<(?:input|select|textarea|button)[^>]*autofocus[^>]*>", page)
    return [
        (re.search(r'value="([a-z]+-[^"]+)"', tag) or re.search(r'name="(.+?)"', tag))[1]
        for tag in tags
    ]


def test_only_what_asks_is_open(instructor_client, shelf):
    answer = bring(instructor_client)
    assert opened(answer) == [
        "head-yield-row",
        "part-0-line-2-row",
        "part-0-line-3-row",
        "part-0-line-4-row",
        "step-0-row",
    ]


def test_the_banner_counts_lines_steps_and_fields(instructor_client, shelf):
    page = text_of(bring(instructor_client))
    assert "5 to answer: 3 lines, 1 step, 1 yield." in page


def test_calling_a_row_right_folds_it_and_goes_on_to_the_next(instructor_client, shelf):
    answer = press(instructor_client, bring(instructor_client), right_row="part-0-line-3")
    assert "part-0-line-3-row" not in opened(answer)
    assert "4 to answer: 2 lines, 1 step, 1 yield." in text_of(answer)
    assert focused(answer) == ["part-0-line-4-amount"]
    assert answer.context["form"].parts[0].lines[3].state.word == "Accepted"


def test_calling_the_yield_right_leaves_other_questions_alone(instructor_client, shelf):
    answer = press(instructor_client, bring(instructor_client), right_row="head-yield")
    assert "4 to answer: 3 lines, 1 step." in text_of(answer)
    assert "head-yield-row" not in opened(answer)


def test_what_is_wrong_stays_open_though_somebody_calls_it_right(instructor_client, shelf):
    answer = press(instructor_client, bring(instructor_client), right_row="part-0-line-4")
    assert "part-0-line-4-row" in opened(answer)


def test_enter_checks_and_goes_to_the_first_question(instructor_client, shelf):
    page = bring(instructor_client).content.decode()
    assert re.search(r"<button[^>]*>", page[page.index('id="recipe-form"') :])[0].count(
        'name="check"'
    )
    answer = press(instructor_client, bring(instructor_client), check="1")
    assert focused(answer) == ["piece_g"]


def test_all_that_is_sure_is_accepted_at_once(instructor_client, shelf):
    first = bring(instructor_client)
    assert "Accept all that is sure (4)" in text_of(first)
    answer = press(instructor_client, first, accept_sure="1")
    states = [line.state.word for line in answer.context["form"].parts[0].lines]
    assert states == ["Accepted", "Accepted", "Unknown ingredient", "Check", "Not understood"]
    assert "✓ Accepted 2 lines 500 g Bread flour, 1.5 cup Water" in text_of(answer)
    again = press(instructor_client, answer, add_row="step")
    assert "✓ Accepted 2 lines" in text_of(again)


def test_nothing_typed_is_lost_by_answering(instructor_client, shelf):
    fields = fields_of(bring(instructor_client)) | {"title": "<b>Half", "part-0-line-4-amount": "x"}
    for button in ({"right-row": "step-0"}, {"accept-sure": "1"}, {"check": "1"}):
        after = fields_of(instructor_client.post(BRING, fields | button))
        assert (after["title"], after["part-0-line-4-amount"]) == ("<b>Half", "x")


@pytest.mark.parametrize(
    "target", ["", "head-", "head-none", "part-9", "figure-x", "figure-salt=1", "?"]
)
def test_a_forged_answer_answers_nothing(instructor_client, shelf, target):
    answer = press(instructor_client, bring(instructor_client), right_row=target)
    assert "5 to answer: 3 lines, 1 step, 1 yield." in text_of(answer)


def test_the_source_stands_beside_it_with_every_reading_marked(instructor_client, shelf):
    page = bring(instructor_client).content.decode()
    marks = MARK.findall(page)
    assert marks[:3] == [
        ("part-0-line-0-row", "500 g bread flour"),
        ("part-0-line-1-row", "1 1/2 cups water"),
        ("part-0-line-2-row", "10 to 12 g moonflower dust"),
    ]
    assert all(f'id="{anchor}"' in page for anchor, _ in marks)


def test_the_marks_stay_while_rows_change(instructor_client, shelf):
    answer = press(instructor_client, bring(instructor_client), remove_row="part-0-line-0")
    page = answer.content.decode()
    assert re.search(r'href="#left-out"\s+title="Left out', page)
    fields = fields_of(answer) | {"step-0-text": "Quite another text", "check": "1"}
    assert 'href="#step-0-row"' in instructor_client.post(BRING, fields).content.decode()


def test_a_text_that_was_left_out_becomes_a_note(instructor_client, shelf):
    answer = press(instructor_client, bring(instructor_client, PARTS), keep_row="0")
    form = answer.context["form"]
    assert form.head["note"].value() == "all of the poolish"
    assert form.left == []


def test_saving_with_questions_says_how_many_stay_open(instructor_client, shelf):
    text = "Loaf\nMakes 2 loaves of 400 g\n500 g bread flour\n300 g water\n10 g rye flour or so\n"
    answer = bring(instructor_client, text)
    left = answer.context["form"].asking.count
    assert left
    assert f"Save with {left} left open" in text_of(answer)
    press(instructor_client, answer, save="1")
    assert Recipe.objects.count() == 1


def test_a_recipe_of_our_own_has_no_source_beside_it(instructor_client, shelf):
    text = (
        '{"format": "bakebench-recipe", "version": 1, "title": "Loaf", "piece_g": "100",'
        ' "components": [{"kind": "dough", "name": "Dough", "lines": ['
        '{"ingredient": {"name": "Bread flour", "key": "flour"}, "mass_g": "500"}]}]}'
    )
    assert "What you brought" not in text_of(bring(instructor_client, text))
    assert "What you brought" in text_of(bring(instructor_client, TEXT))


def test_a_pages_recipe_is_laid_out_as_a_text_with_its_marks(instructor_client, shelf):
    page = bring(instructor_client, PAGE).content.decode()
    marks = MARK.findall(page)
    assert marks == [
        ("part-0-line-0-row", "500 g bread flour"),
        ("part-0-line-1-row", "300 g water"),
        ("step-0-row", "Mix the flour and the water well."),
        ("step-1-row", "Bake at 220 °C for 35 minutes."),
    ]


@pytest.mark.parametrize(
    ("button", "queries"),
    [
        pytest.param({"check": "1"}, 4, id="check"),
        pytest.param({"right-row": "step-0"}, 4, id="this is right"),
        pytest.param({"accept-sure": "1"}, 4, id="all that is sure"),
        pytest.param({"add-row": "step"}, 4, id="a row more"),
    ],
)
def test_a_button_asks_the_database_little_however_long_the_recipe(
    instructor_client, shelf, django_assert_max_num_queries, button, queries
):
    for count in (2, 60):
        text = "Loaf\nMakes 1 loaf\n" + "10 g bread flour\n" * count + "\nMix for 5 to 9 minutes.\n"
        fields = fields_of(bring(instructor_client, text))
        with django_assert_max_num_queries(queries):
            instructor_client.post(BRING, fields | button)


def test_every_doubt_about_the_whole_is_counted_and_kept():
    pairs = [("", f"Question {n}?") for n in range(20)] + [("title", f"{n}?") for n in range(20)]
    values = {"title": "Loaf"}
    told = live_doubts(values | {"doubts": carried(values, pairs)})
    assert {name: len(sentences) for name, sentences in told.items()} == {"": 20, "title": 5}
    head = ReviewHeadForm(initial=values)
    head.carry(values | {"doubts": carried(values, pairs)})
    rows = [("whole", WholeRecipe(head)) for _ in head.general_doubts]
    assert Asking.of(rows).in_words == "20 about the whole"
