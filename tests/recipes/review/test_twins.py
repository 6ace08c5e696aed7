"""An import of what is in the book already: a revision is offered, and nothing is made twice."""

import pytest

from recipes.models import Recipe, Revision
from recipes.services import keep_revisions
from tests.recipes.review.test_figures import loaf
from tests.recipes.review.test_sheet import press
from tests.recipes.test_bring import BRING, bring, fields_of
from tests.recipes.test_detail import text_of
from tests.trust.forms_on import forms_on

pytestmark = pytest.mark.django_db


def saved(client, text, **typed):
    """The answer to saving a text; `typed` are fields changed on the sheet."""
    sheet = fields_of(bring(client, text)) | typed
    sheet.pop("form_key", None)
    return client.post(BRING, sheet | {"save": "1"})


def choose(client, answer, **button):
    (form,) = [one for one in forms_on(answer.content.decode(), BRING) if "mark" in one.fields]
    return client.post(BRING, form.fields | button)


@pytest.fixture
def once(instructor_client, shelf):
    """The recipe of a text that was imported once."""
    saved(instructor_client, loaf())
    return Revision.objects.get()


@pytest.mark.parametrize(
    ("text", "title", "why"),
    [
        pytest.param(loaf(), "Another name", "It was read from this same text.", id="same text"),
        pytest.param(f"\n{loaf()}  \n", "Loaf", "It was read from this same text.", id="spaces"),
        pytest.param(loaf(water=310), "LOAF", "It has the same title.", id="same title"),
    ],
)
def test_what_is_in_the_book_is_offered_as_a_revision(instructor_client, once, text, title, why):
    answer = saved(instructor_client, text, title=title)
    assert answer.status_code == 409
    assert why in text_of(answer)
    assert Recipe.objects.count() == 1
    again = choose(instructor_client, answer, twin=answer.context["twin"].mark)
    assert again.headers["Location"] == "/recipes/loaf/"
    assert (Recipe.objects.count(), Revision.objects.get().title) == (1, title)


def test_the_differences_stand_beside_each_other(instructor_client, once):
    answer = saved(instructor_client, loaf(water=310), piece_g="411")
    assert "In the book" in text_of(answer)
    told = [(one.theirs, one.mine) for one in answer.context["differing"]]
    assert (("300 · g · Water",), ("310 · g · Water",)) in told
    assert "Bread flour" not in str(told)


def test_a_revision_that_a_class_uses_stays(instructor_client, once):
    keep_revisions(revisions=[once])
    answer = saved(instructor_client, loaf(water=310))
    choose(instructor_client, answer, twin=answer.context["twin"].mark)
    assert [one.number for one in Revision.objects.order_by("number")] == [1, 2]


def test_it_can_be_a_recipe_of_its_own(instructor_client, once):
    answer = saved(instructor_client, loaf())
    assert choose(instructor_client, answer, twin="new").status_code == 302
    assert Recipe.objects.count() == 2


def test_going_back_keeps_all_that_was_typed(instructor_client, once):
    answer = saved(instructor_client, loaf(), summary="Typed by hand")
    back = choose(instructor_client, answer, back="1")
    assert back.context["form"].head["summary"].value() == "Typed by hand"
    assert Recipe.objects.count() == 1


def test_what_changed_since_it_was_offered_is_shown_again(instructor_client, once):
    answer = saved(instructor_client, loaf())
    Revision.objects.update(note="By somebody else")
    again = choose(instructor_client, answer, twin=answer.context["twin"].mark)
    assert again.status_code == 409
    assert "By somebody else" in text_of(again)


def test_somebody_elses_recipe_is_no_twin(other_client, once):
    assert saved(other_client, loaf()).status_code == 302
    assert Recipe.objects.count() == 2


def test_questions_left_open_are_named_after_saving(instructor_client, shelf):
    text = loaf(piece=500)
    answer = press(instructor_client, bring(instructor_client, text), save="1")
    page = text_of(instructor_client.get(answer.headers["Location"]))
    assert "Questions of the import left open: 1 line, 1 figure." in page


def test_the_offer_asks_the_database_little_however_long_the_recipe(
    instructor_client, shelf, django_assert_max_num_queries
):
    for count in (2, 25):
        text = f"Loaf {count}\nMakes 1 loaf of 500 g\n" + "10 g bread flour\n" * count
        saved(instructor_client, text)
        sheet = fields_of(bring(instructor_client, text)) | {"save": "1"}
        with django_assert_max_num_queries(18):
            assert instructor_client.post(BRING, sheet).status_code == 409
