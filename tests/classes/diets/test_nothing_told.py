"""`None`, `n/a`, `keine`: written where one tells what one must not eat, it is no diet."""

from __future__ import annotations

import pytest
from django.urls import reverse

from classes.enrollment.models import Enrollment
from classes.selectors import class_plan
from tests.classes.diets.sesame_class import again
from tests.classes.enrollment.enrolled import answers, enrolled, form_of, held, open_class, page_of
from tests.conftest import signed_in
from tests.factories import EnrollmentFactory
from tests.seen import seen_at

WORDS = ["Nothing", "none.", "no", "N/A", "-", "keine"]

pytestmark = pytest.mark.usefixtures("today")


@pytest.fixture
def session(db):
    return open_class()


def told(session) -> tuple[str, str, list[str]]:
    person = session.enrollments.get()
    return person.diet, person.must_not_eat, person.allergens


def by_the_short_form(session, stranger, words, **fields):
    booking = held(session)
    said = answers("Ada Lomax") | {"person-0-must_not_eat": words}
    said |= {f"person-0-{name}": value for name, value in fields.items()}
    return stranger.post(form_of(booking), said)


def by_their_own_page(session, stranger, words, **fields):
    enrolled(session)
    page = page_of(session.enrollments.get())
    said = {"diet": "", "must_not_eat": words} | fields | seen_at(stranger, page)
    return stranger.post(page_of(session.enrollments.get(), "eat"), said)


def by_the_roster(session, stranger, words, **fields):
    row = {"people-0-name": "Ada Lomax", "people-0-must_not_eat": words}
    row |= {"people-TOTAL_FORMS": "1", "people-INITIAL_FORMS": "0"}
    return signed_in(session.instructor).post(reverse("classes:roster", args=[session.code]), row)


def at_the_door(session, stranger, words, **fields):
    said = {"walk_in": "1", "form_key": "walk-in-key-000000000001", "name": "Ada Lomax"}
    said |= {"must_not_eat": words} | fields
    return signed_in(session.instructor).post(reverse("classes:door", args=[session.code]), said)


WAYS = [by_the_short_form, by_their_own_page, by_the_roster, at_the_door]
OWN_WAYS = [by_the_short_form, by_their_own_page, at_the_door]


@pytest.mark.parametrize("words", WORDS)
@pytest.mark.parametrize("tell", WAYS)
def test_it_is_kept_as_nothing_told(tell, words, session, stranger):
    assert tell(session, stranger, words).status_code == 302
    assert told(session) == ("nothing", "", [])
    assert session.enrollments.get().told == ""
    assert class_plan(again(session)).findings == ()


@pytest.mark.parametrize("tell", OWN_WAYS)
def test_beside_no_it_is_no_contradiction(tell, session, stranger):
    tell(session, stranger, "none", diet="nothing")
    assert told(session) == ("nothing", "", [])


@pytest.mark.parametrize("tell", OWN_WAYS)
def test_beside_yes_it_is_asked_about(tell, session, stranger):
    response = tell(session, stranger, "none", diet="told")
    assert "and wrote that there is nothing" in response.content.decode()
    assert not session.enrollments.filter(diet="nothing").exists()


@pytest.mark.parametrize("tell", OWN_WAYS)
def test_a_marked_allergen_stays(tell, session, stranger):
    tell(session, stranger, "none", diet="told", allergens=["sesame"])
    assert told(session) == ("told", "", ["sesame"])


@pytest.mark.parametrize("tell", OWN_WAYS)
def test_who_wants_to_say_it_in_private_still_does(tell, session, stranger):
    tell(session, stranger, "n/a", diet="private")
    assert told(session) == ("private", "", [])


@pytest.mark.parametrize("tell", WAYS)
def test_what_names_a_food_is_told(tell, session, stranger):
    tell(session, stranger, "none but nuts", diet="told")
    assert session.enrollments.get().must_not_eat == "none but nuts"


def test_words_kept_from_before_are_read_the_same(session):
    EnrollmentFactory(session=session, name="Zoe", must_not_eat="None", diet="told")
    page = signed_in(session.instructor).get(reverse("classes:diets", args=[session.code]))
    assert "Nobody has named anything" in page.content.decode()
    assert Enrollment.objects.get().told == ""
