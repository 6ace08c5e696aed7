"""What has changed since the preparation list was printed."""

from __future__ import annotations

import pytest
from django.urls import reverse

from classes.amounts.changes import changes_since, last_printed
from classes.enrollment.models import Enrollment
from classes.models import Printed
from classes.selectors import class_plan
from tests.classes.diets.sesame_class import again
from tests.factories import EnrollmentFactory, IngredientFactory, flour, planned_class


@pytest.fixture
def session(instructor, assistant):
    return planned_class(
        instructor=instructor,
        assistants=[assistant],
        students=2,
        count_empty_seats=False,
        seats=8,
        kitchen__stations=2,
    )


@pytest.fixture
def address(session):
    return reverse("classes:changes", args=[session.code])


def shown(client, address) -> str:
    return client.get(address).content.decode()


def changes_of(session):
    session = again(session)
    return changes_since(last_printed(session), class_plan(session))


def test_before_any_list_is_printed_the_page_says_so(instructor_client, address):
    assert "No list is on record as printed" in shown(instructor_client, address)


def test_opening_the_page_or_the_paper_writes_nothing(instructor_client, session, address):
    shown(instructor_client, address)
    instructor_client.get(reverse("handouts:papers", args=[session.code, "preparation"]))
    assert not Printed.objects.exists()


def test_the_button_notes_the_list_and_leads_to_the_paper(assistant_client, session, address):
    response = assistant_client.post(address, {"print": "1"})
    assert response.headers["Location"] == reverse(
        "handouts:papers", args=[session.code, "preparation"]
    )
    assert last_printed(session).by.get_username() == "asa"


def test_right_after_printing_nothing_has_changed(instructor_client, address):
    page = instructor_client.post(address, follow=True).content.decode()
    assert "From now on, changes are compared with this list." in page
    assert "Nothing has changed" in page


def test_one_more_person_is_new_lines_and_more_to_buy(instructor_client, session, address):
    instructor_client.post(address)
    EnrollmentFactory(session=session, name="Zoe")
    page = shown(instructor_client, address)
    assert "Bench 1, Zoe · Bread" in page
    words = {change.where: change.word for change in changes_of(session)}
    assert words["Buy"] == "changed"
    assert {word for where, word in words.items() if "Zoe" in where} == {"new"}


def test_somebody_who_left_is_gone_without_a_name(instructor_client, session, address):
    instructor_client.post(address)
    student = session.enrollments.first()
    student.delete()
    gone = [change for change in changes_of(session) if change.word == "gone"]
    assert len(gone) == 2
    assert not any(student.name in change.where for change in gone)


def test_somebody_who_moved_to_another_station_is_moved(instructor_client, session, address):
    instructor_client.post(address)
    student = session.enrollments.first()
    student.station = session.stations.last()
    student.save()
    moved = [change for change in changes_of(session) if change.word == "moved"]
    assert {change.was_at for change in moved} == {"Bench 1"}
    assert "was at Bench 1" in shown(instructor_client, address)


def test_a_variant_for_all_changes_its_own_lines_alone(instructor_client, session, address):
    instructor_client.post(address)
    row = session.taught.get()
    variant = row.revision.variants.create(name="Other flour")
    other = IngredientFactory(name="Spelt flour", kind="flour")
    variant.swaps.create(position=0, replaced=flour(), by=other)
    row.variant = variant
    row.save()
    lines = {(change.what, change.word) for change in changes_of(session)}
    assert not any(what == "Water" for what, _ in lines)
    assert ("Spelt flour", "new") in lines


def test_what_is_kept_of_a_list_names_nobody(instructor_client, session, address):
    Enrollment.objects.filter(session=session).update(name="Zoe Canary")
    instructor_client.post(address)
    assert "Canary" not in repr(Printed.objects.get().lines)


def test_a_class_where_nobody_bakes_says_what_to_do(instructor_client, session, address):
    session.enrollments.all().delete()
    session.taught.update(demonstration_batches=0)
    response = instructor_client.get(address)
    assert response.status_code == 409
    assert "Fill the roster" in response.content.decode()


def test_strangers_find_nothing(other_client, stranger, address):
    assert other_client.get(address).status_code == 404
    assert other_client.post(address).status_code == 404
    assert stranger.post(address).status_code == 302
    assert not Printed.objects.exists()


def test_a_wrong_method_is_refused(instructor_client, address):
    assert instructor_client.put(address).status_code == 405


def test_the_page_takes_the_same_queries_for_6_and_60_people(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for students in (6, 60):
        session = planned_class(
            instructor=instructor, students=students, seats=60, kitchen__stations=15
        )
        address = reverse("classes:changes", args=[session.code])
        instructor_client.post(address)
        session.enrollments.last().delete()
        with django_assert_max_num_queries(40) as seen:
            instructor_client.get(address)
        counts.append(len(seen))
    assert counts[0] == counts[1]
