"""The door on a phone: came, absent, walked in, and stations made even in one step."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from classes.enrollment.models import Booking
from classes.hours.answers import class_answer
from classes.models import ClassSession
from classes.selectors import class_plan
from tests.classes.demo_class import demo_class
from tests.classes.diets.sesame_class import again
from tests.conftest import signed_in
from tests.factories import EnrollmentFactory, planned_class
from tests.worlds import anew, made_once

KEY = "walk-in-key-000000000001"


@pytest.fixture
def session(instructor, assistant):
    return planned_class(
        instructor=instructor,
        assistants=[assistant],
        students=2,
        seats=4,
        kitchen__stations=2,
        price_minor=3800,
    )


@pytest.fixture
def address(session):
    return reverse("classes:door", args=[session.code])


def shown(client, address, fields=None) -> str:
    response = client.post(address, fields, follow=True) if fields else client.get(address)
    return response.content.decode()


def somebody(**fields):
    return {"walk_in": "1", "form_key": KEY, "diet": "nothing", "name": "Zoe Walker", **fields}


def taken(session) -> int:
    return ClassSession.objects.get(pk=session.pk).taken


def test_the_allergen_question_stands_before_the_name(instructor_client, address):
    page = shown(instructor_client, address)
    assert (
        0 < page.index('name="diet"') < page.index('name="allergens"') < page.index('name="name"')
    )


def test_a_tap_marks_who_came_and_another_takes_it_back(assistant_client, session, address):
    person = session.enrollments.first()
    page = shown(assistant_client, address, {"came": person.pk})
    assert "✓ came" in page
    assert "<strong>1</strong> came" in page
    shown(assistant_client, address, {"undo": person.pk})
    person.refresh_from_db()
    assert person.door == ""


def test_an_absent_persons_seat_is_free_once(instructor_client, session, address):
    person = session.enrollments.first()
    for _ in range(2):
        page = shown(instructor_client, address, {"absent": person.pk})
    assert "✗ absent" in page
    assert taken(session) == 1
    shown(instructor_client, address, {"undo": person.pk})
    assert taken(session) == 2


def test_an_absent_persons_dough_is_not_weighed(instructor_client, session, address):
    session.count_empty_seats = False
    session.save()
    before = class_plan(again(session)).amounts.needs[0].exact_g
    shown(instructor_client, address, {"absent": session.enrollments.first().pk})
    after = class_plan(again(session)).amounts.needs[0].exact_g
    assert after < before
    assert len(class_plan(again(session)).people) == 1


def test_somebody_whose_seat_was_given_away_is_told_so(instructor_client, session, address):
    late = session.enrollments.first()
    shown(instructor_client, address, {"absent": late.pk})
    for n in range(3):
        shown(instructor_client, address, somebody(form_key=f"{KEY}-{n}"))
    page = shown(instructor_client, address, {"undo": late.pk})
    assert "seat was given away" in page
    late.refresh_from_db()
    assert (late.door, taken(session)) == ("absent", 4)


def test_a_walk_in_is_seated_with_what_they_said(assistant_client, session, address):
    fields = somebody(diet="told", allergens=["sesame"], must_not_eat="kiwi")
    page = shown(assistant_client, address, fields)
    assert "Zoe Walker is in." in page
    assert "must not eat: sesame; kiwi" in page
    person = session.enrollments.get(name="Zoe Walker")
    assert (person.door, person.walked_in, person.allergens) == ("came", True, ["sesame"])
    assert (person.booking.price_minor, taken(session)) == (3800, 3)


def test_a_walk_in_posted_twice_is_one_person(instructor_client, session, address):
    for _ in range(2):
        shown(instructor_client, address, somebody())
    assert session.enrollments.filter(name="Zoe Walker").count() == 1
    assert (Booking.objects.count(), taken(session)) == (1, 3)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"diet": ""}, "Ask before they touch anything."),
        ({"diet": "told"}, "Mark an allergen or write what it is."),
        ({"name": ""}, "This field is required."),
        ({"name": "W" * 81}, "at most 80 characters"),
        ({"must_not_eat": "x" * 301}, "at most 300 characters"),
        ({"allergens": ["moon dust"]}, "Select a valid choice."),
    ],
    ids=["not asked", "told nothing", "no name", "long name", "long words", "unknown allergen"],
)
def test_a_bad_walk_in_is_refused_by_the_field_and_nothing_is_lost(
    instructor_client, session, address, fields, message
):
    page = shown(instructor_client, address, somebody(**fields))
    assert message in page
    assert fields.get("must_not_eat", "") in page
    assert fields.get("name", "Zoe Walker") in page
    assert KEY in page
    assert session.enrollments.count() == 2


def test_a_full_class_takes_nobody_more_and_says_why(instructor_client, session, address):
    ClassSession.objects.filter(pk=session.pk).update(taken=4)
    page = shown(instructor_client, address, somebody())
    assert "Every seat is taken. Mark who is absent first" in page
    assert 'value="Zoe Walker"' in page
    assert session.enrollments.count() == 2


@pytest.mark.parametrize(
    "fields",
    [{"came": "x"}, {"came": "9" * 30}, {"absent": "²"}, {"came": "0"}, {"nothing": "1"}],
)
def test_a_mark_for_nobody_is_not_found(instructor_client, address, fields):
    assert instructor_client.post(address, fields).status_code == 404


def test_somebody_of_another_class_cannot_be_marked(instructor_client, address):
    other = EnrollmentFactory()
    assert instructor_client.post(address, {"came": other.pk}).status_code == 404


def test_strangers_find_nothing(other_client, stranger, address):
    assert other_client.get(address).status_code == 404
    assert other_client.post(address, somebody()).status_code == 404
    assert stranger.post(address, somebody()).status_code == 302


def test_a_wrong_method_is_refused(instructor_client, address):
    assert instructor_client.delete(address).status_code == 405


def test_the_roster_can_be_saved_after_somebody_took_an_absent_persons_seat(
    instructor_client, session, address
):
    for n in range(2):
        EnrollmentFactory(session=session, name=f"More {n}")
    shown(instructor_client, address, {"absent": session.enrollments.first().pk})
    shown(instructor_client, address, somebody())
    people = list(session.enrollments.all())
    fields = {"people-TOTAL_FORMS": len(people), "people-INITIAL_FORMS": len(people)}
    for n, one in enumerate(people):
        fields |= {f"people-{n}-id": one.pk, f"people-{n}-name": one.name}
    roster = reverse("classes:roster", args=[session.code])
    assert instructor_client.post(roster, fields).status_code == 302
    assert taken(session) == 4


def test_the_page_takes_the_same_queries_for_6_and_60_people(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for students in (6, 60):
        session = planned_class(
            instructor=instructor, students=students, seats=60, kitchen__stations=15
        )
        with django_assert_max_num_queries(40) as seen:
            instructor_client.get(reverse("classes:door", args=[session.code]))
        counts.append(len(seen))
    assert counts[0] == counts[1]


def after_the_door():
    """The demo's class with all that was done at its door, and the page that was shown last."""
    session = demo_class()
    client = signed_in(session.assistants.get())
    address = reverse("classes:door", args=[session.code])
    people = {one.name: one for one in session.enrollments.all()}
    for name in ("Bram Okell", "Hal Pettifer"):
        client.post(address, {"absent": people[name].pk})
    client.post(address, somebody(diet="told", allergens=["sesame"]))
    for name in people.keys() - {"Bram Okell", "Hal Pettifer"}:
        client.post(address, {"came": people[name].pk})
    page = client.post(address, {"regroup": "1"}, follow=True).content.decode()
    return again(session), page


door_made_once = made_once(after_the_door)


class TestAtTheDoor:
    """Two absent, one walk-in: 11 bake at stations of 4, 4 and 3, and all numbers follow."""

    @pytest.fixture
    def session(self, door_made_once, db):
        return anew(door_made_once[0])

    @pytest.fixture
    def plan(self, session):
        return class_plan(session)

    def test_eleven_bake(self, session, plan):
        assert len(plan.people) == 11
        assert session.taken == 11

    def test_stations_are_4_4_and_3(self, door_made_once, plan):
        stations = [person.station for person in plan.people]
        assert [stations.count(f"Bench {n}") for n in (1, 2, 3)] == [4, 4, 3]
        assert "Bench 1: 4, Bench 2: 4, Bench 3: 3" in door_made_once[1]

    def test_the_station_of_three_gets_its_own_grams(self, plan):
        (recipe,) = plan.amounts.recipes
        water = {
            at.station: next(
                line.weighed.grams
                for part in at.sheet.components
                for line in part.lines
                if line.ingredient.key == "water"
            )
            for at in recipe.amounts.stations
        }
        assert water == {"Bench 1": Decimal(828), "Bench 2": Decimal(828), "Bench 3": Decimal(621)}

    def test_the_pooled_amounts_are_for_twelve_doughs(self, plan):
        water = next(one for one in plan.amounts.needs if one.ingredient.key == "water")
        exact = 12 * Decimal(520) * Decimal(680) / Decimal(1709) * Decimal("1.03")
        assert abs(water.exact_g - exact) < Decimal("0.01")

    def test_the_hours_are_planned_for_twelve_loaves(self, session):
        hours = class_answer(class_plan(session)).hours
        work = hours.scheduled.work
        assert hours.solved is not None
        assert work.doughs == 12
        assert [group.people for recipe in work.recipes for group in recipe.groups] == [4, 4, 3]

    def test_the_walk_in_is_on_the_diet_sheet_of_their_station(self, session):
        page = signed_in(session.instructor).get(reverse("classes:diets", args=[session.code]))
        assert "Zoe Walker" in page.content.decode()
        assert session.enrollments.get(name="Zoe Walker").station.name == "Bench 3"
