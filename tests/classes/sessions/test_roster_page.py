"""The roster: people, where they stand, what they must not eat, and their links."""

from __future__ import annotations

import pytest
from django.urls import reverse

from classes.access import student_token
from tests.factories import ClassSessionFactory, EnrollmentFactory, planned_class


@pytest.fixture
def session(instructor, assistant):
    return ClassSessionFactory(instructor=instructor, assistants=[assistant])


@pytest.fixture
def address(session):
    return reverse("classes:roster", args=[session.code])


def rows(*people: dict, existing: int = 0) -> dict[str, str]:
    fields = {"people-TOTAL_FORMS": str(len(people)), "people-INITIAL_FORMS": str(existing)}
    for n, person in enumerate(people):
        fields |= {f"people-{n}-{name}": value for name, value in person.items()}
    return fields


def test_names_are_saved_in_the_order_typed(instructor_client, address, session):
    instructor_client.post(address, rows({"name": "Zoe"}, {"name": "Abe"}))
    assert [one.name for one in session.enrollments.all()] == ["Zoe", "Abe"]


def test_an_untouched_empty_row_is_nobody(instructor_client, address, session):
    instructor_client.post(address, rows({"name": "Zoe"}, {"name": ""}))
    assert session.enrollments.count() == 1


def test_somebody_can_be_taken_off(instructor_client, address, session):
    student = EnrollmentFactory(session=session)
    row = {"id": str(student.pk), "name": student.name, "DELETE": "on"}
    instructor_client.post(address, rows(row, existing=1))
    assert not session.enrollments.exists()


def test_what_somebody_must_not_eat_is_kept(instructor_client, address, session):
    instructor_client.post(address, rows({"name": "Zoe", "must_not_eat": "sesame"}))
    assert session.enrollments.get().must_not_eat == "sesame"


@pytest.mark.parametrize(
    ("people", "message"),
    [
        ([{"name": f"P{n}"} for n in range(5)], "5 people, but the class has 4 seats."),
        ([{"name": "W" * 81}], "at most 80 characters"),
        ([{"name": "", "must_not_eat": "sesame"}], "This field is required."),
        ([{"name": "Zoe", "must_not_eat": "x" * 301}], "at most 300 characters"),
    ],
    ids=["too many", "long name", "no name", "long note"],
)
def test_a_bad_roster_is_refused_and_stays_on_the_page(
    instructor_client, address, session, people, message
):
    page = instructor_client.post(address, rows(*people)).content.decode()
    assert message in page
    assert all(one["name"] in page for one in people)
    assert not session.enrollments.exists()


def test_a_station_takes_no_more_than_its_places(instructor_client, instructor):
    session = ClassSessionFactory(instructor=instructor, seats=8, kitchen__stations=2)
    bench = session.stations.first()
    people = [{"name": f"P{n}", "station": str(bench.pk)} for n in range(5)]
    address = reverse("classes:roster", args=[session.code])
    page = instructor_client.post(address, rows(*people)).content.decode()
    assert "Bench 1 has only 4 places." in page
    assert not session.enrollments.exists()


def test_a_station_with_nobody_is_pointed_out(instructor_client, instructor):
    session = ClassSessionFactory(
        instructor=instructor, seats=8, kitchen__stations=2, count_empty_seats=False
    )
    EnrollmentFactory(session=session, station=session.stations.first())
    page = instructor_client.get(reverse("classes:roster", args=[session.code])).content.decode()
    assert "No card is printed for Bench 2." in page


def test_an_assistant_reads_the_notes_and_changes_nothing(assistant_client, session, address):
    EnrollmentFactory(session=session, name="Zoe", must_not_eat="sesame")
    page = assistant_client.get(address).content.decode()
    assert "sesame" in page
    assert "Save the roster" not in page
    assert "New link" not in page
    assert assistant_client.post(address, rows({"name": "Abe"})).status_code == 404
    assert [one.name for one in session.enrollments.all()] == ["Zoe"]


def test_markup_in_a_name_stays_text(instructor_client, address, session):
    EnrollmentFactory(session=session, name="<img src=x onerror=alert(1)>")
    page = instructor_client.get(address).content.decode()
    assert "<img src=x" not in page


def test_a_new_link_replaces_the_old(instructor_client, session, address):
    student = EnrollmentFactory(session=session)
    old = student_token(student)
    assert old in instructor_client.get(address).content.decode()
    instructor_client.post(reverse("classes:new_link", args=[session.code, student.pk]))
    student.refresh_from_db()
    assert student_token(student) != old
    assert old not in instructor_client.get(address).content.decode()


def test_the_student_of_another_class_has_no_link_here(instructor_client, session):
    stranger = EnrollmentFactory()
    address = reverse("classes:new_link", args=[session.code, stranger.pk])
    assert instructor_client.post(address).status_code == 404


def test_another_row_is_shown_and_nothing_is_saved(instructor_client, address, session, htmx):
    page = instructor_client.post(
        address, rows({"name": "Zoe"}) | {"add": "people"}, headers=htmx
    ).content.decode()
    assert 'value="Zoe"' in page
    assert 'name="people-1-name"' in page
    assert not session.enrollments.exists()


def test_the_page_takes_the_same_queries_for_any_number_of_people(
    instructor_client, instructor, django_assert_max_num_queries
):
    small = planned_class(instructor=instructor, students=2, seats=60)
    large = planned_class(instructor=instructor, students=40, seats=60)
    counts = []
    for session in (small, large):
        with django_assert_max_num_queries(60) as seen:
            instructor_client.get(reverse("classes:roster", args=[session.code]))
        counts.append(len(seen))
    assert counts[0] == counts[1]
