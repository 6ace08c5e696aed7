"""Two classes cannot have the same kitchen or the same person at the same time."""

from __future__ import annotations

import threading
from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse

from classes.models import ClassSession
from classes.sessions import views as views
from classes.sessions.clashes import ClassesClash
from classes.sessions.services import save_class
from tests.classes.sessions.class_fields import class_fields, fields_of
from tests.factories import (
    ClassSessionFactory,
    KitchenFactory,
    RevisionFactory,
    UserFactory,
    planned_class,
)

NEW = "/classes/new/"
DUBLIN = {"time_zone": "Europe/Dublin"}


def at(clock: str, day: int = 4) -> datetime:
    """A time in May 2030 on the clocks of Dublin, which are an hour ahead of UTC."""
    hours, minutes = map(int, clock.split(":"))
    return datetime(2030, 5, day, tzinfo=UTC) + timedelta(hours=hours - 1, minutes=minutes)


@pytest.fixture
def hall(instructor):
    return KitchenFactory(owner=instructor, name="Thistlewick Hall", **DUBLIN)


@pytest.fixture
def barn(instructor):
    return KitchenFactory(owner=instructor, name="The barn", **DUBLIN)


@pytest.fixture
def revision(instructor):
    return RevisionFactory(recipe__owner=instructor)


def rye_evening(kitchen, starts="10:00", ends="14:00", **fields):
    """The class that is there already."""
    fields = {"instructor": kitchen.owner, "title": "Rye evening", **fields}
    times = {"starts_at": at(starts), "ends_at": at(ends)}
    return ClassSessionFactory(kitchen=kitchen, **(times | fields))


def errors(response) -> dict[str, list[str]]:
    return dict(response.context["form"].errors)


class TestOverlapping:
    @pytest.mark.parametrize(
        ("starts", "ends", "overlaps"),
        [
            pytest.param("08:00", "10:00", False, id="ends when the other starts"),
            pytest.param("14:00", "16:00", False, id="starts when the other ends"),
            pytest.param("15:00", "16:00", False, id="later"),
            pytest.param("08:00", "10:01", True, id="a minute at its start"),
            pytest.param("13:59", "16:00", True, id="a minute at its end"),
            pytest.param("11:00", "12:00", True, id="inside"),
            pytest.param("08:00", "16:00", True, id="all around"),
            pytest.param("10:00", "14:00", True, id="the same hours"),
        ],
    )
    def test_classes_overlap_when_they_share_a_minute(self, hall, starts, ends, overlaps):
        session = rye_evening(hall)
        found = ClassSession.objects.overlapping(at(starts), at(ends))
        assert list(found) == ([session] if overlaps else [])


class TestTheForm:
    def test_a_kitchen_that_is_taken_is_refused_with_the_name_of_the_other_class(
        self, instructor_client, hall, revision
    ):
        rye_evening(hall)
        response = instructor_client.post(NEW, class_fields(hall, revision))
        assert errors(response)["kitchen"] == [
            "Thistlewick Hall is taken by “Rye evening” from 10:00 to 14:00 that day."
        ]
        page = response.content.decode()
        assert "“Rye evening” from 10:00 to 14:00 that day." in page
        assert 'value="Saturday loaf"' in page
        assert ClassSession.objects.count() == 1

    def test_a_kitchen_is_free_again_in_the_minute_in_which_a_class_ends(
        self, instructor_client, hall, revision
    ):
        rye_evening(hall, "08:00", "10:00")
        rye_evening(hall, "14:00", "16:00")
        instructor_client.post(NEW, class_fields(hall, revision))
        assert ClassSession.objects.count() == 3

    def test_an_instructor_is_in_one_kitchen_at_a_time(
        self, instructor_client, hall, barn, revision
    ):
        rye_evening(barn, "12:30", "15:00")
        response = instructor_client.post(NEW, class_fields(hall, revision))
        assert errors(response) == {
            "starts": ["You teach “Rye evening” from 12:30 to 15:00 that day."]
        }

    def test_an_instructor_who_assists_elsewhere_cannot_teach_meanwhile(
        self, instructor_client, instructor, hall, revision
    ):
        rye_evening(KitchenFactory(), assistants=[instructor])
        response = instructor_client.post(NEW, class_fields(hall, revision))
        assert errors(response) == {
            "starts": ["You assist in “Rye evening” from 10:00 to 14:00 that day."]
        }

    def test_an_assistant_of_another_class_is_named_with_it(
        self, instructor_client, assistant, hall, revision
    ):
        rye_evening(KitchenFactory(), assistants=[assistant, UserFactory(role="assistant")])
        fields = class_fields(hall, revision, assistants=[assistant.pk])
        assert errors(instructor_client.post(NEW, fields)) == {
            "assistants": ["asa assists in “Rye evening” from 10:00 to 14:00 that day."]
        }

    def test_an_assistant_who_teaches_meanwhile_is_named(
        self, instructor_client, assistant, hall, revision
    ):
        rye_evening(KitchenFactory(owner=assistant))
        fields = class_fields(hall, revision, assistants=[assistant.pk])
        assert errors(instructor_client.post(NEW, fields)) == {
            "assistants": ["asa teaches “Rye evening” from 10:00 to 14:00 that day."]
        }

    def test_another_kitchen_with_other_people_is_no_matter(
        self, instructor_client, assistant, hall, revision
    ):
        rye_evening(KitchenFactory(), assistants=[UserFactory(role="assistant")])
        instructor_client.post(NEW, class_fields(hall, revision, assistants=[assistant.pk]))
        assert ClassSession.objects.count() == 2

    def test_each_class_in_the_way_is_named(self, instructor_client, hall, revision):
        rye_evening(hall, "09:00", "11:00")
        rye_evening(hall, "13:00", "15:00", title="Rolls")
        said = errors(instructor_client.post(NEW, class_fields(hall, revision)))["kitchen"]
        assert said == [
            "Thistlewick Hall is taken by “Rye evening” from 09:00 to 11:00 that day.",
            "Thistlewick Hall is taken by “Rolls” from 13:00 to 15:00 that day.",
        ]

    def test_a_title_with_markup_stays_text(self, instructor_client, hall, revision):
        rye_evening(hall, title="<b>Rye</b>")
        page = instructor_client.post(NEW, class_fields(hall, revision)).content.decode()
        assert "“&lt;b&gt;Rye&lt;/b&gt;”" in page


class TestAroundMidnight:
    @pytest.fixture(autouse=True)
    def night(self, hall):
        rye_evening(hall, starts_at=at("22:00", 3), ends_at=at("02:00", 4))

    def said(self, client, hall, revision, **times) -> list[str]:
        fields = class_fields(hall, revision, **times)
        return errors(client.post(NEW, fields))["kitchen"]

    def test_a_class_that_began_the_day_before_is_told_with_its_day(
        self, instructor_client, hall, revision
    ):
        assert self.said(instructor_client, hall, revision, starts="00:30", ends="04:00") == [
            "Thistlewick Hall is taken by “Rye evening” from 22:00 on Friday 3 May to 02:00."
        ]

    def test_a_class_that_ends_on_the_next_day_is_told_with_its_day(
        self, instructor_client, hall, revision
    ):
        times = {"day": "2030-05-03", "starts": "20:00", "ends": "23:00"}
        assert self.said(instructor_client, hall, revision, **times) == [
            "Thistlewick Hall is taken by “Rye evening” from 22:00 to 02:00 on Saturday 4 May."
        ]

    def test_the_hours_after_it_are_free(self, instructor_client, hall, revision):
        instructor_client.post(NEW, class_fields(hall, revision, starts="02:00", ends="06:00"))
        assert ClassSession.objects.count() == 2


def test_hours_are_told_on_the_clock_of_the_kitchen_that_is_wanted(
    instructor_client, instructor, hall, revision
):
    far = KitchenFactory(owner=instructor, time_zone="America/New_York")
    rye_evening(far, "12:00", "16:00")  # 07:00 to 11:00 in New York
    response = instructor_client.post(NEW, class_fields(hall, revision))
    assert errors(response) == {"starts": ["You teach “Rye evening” from 12:00 to 16:00 that day."]}


class TestChanging:
    @pytest.fixture
    def session(self, instructor, assistant, hall):
        return planned_class(
            instructor=instructor,
            kitchen=hall,
            assistants=[assistant],
            starts_at=at("10:00"),
            ends_at=at("14:00"),
        )

    @pytest.fixture
    def address(self, session):
        return reverse("classes:edit", args=[session.code])

    def test_a_class_does_not_clash_with_itself(self, instructor_client, session, address):
        fields = fields_of(session, starts="11:00", ends="15:00")
        assert instructor_client.post(address, fields).status_code == 302
        session.refresh_from_db()
        assert session.starts_at == at("11:00")

    def test_a_class_is_not_moved_into_another(self, instructor_client, hall, session, address):
        rye_evening(hall, "15:00", "19:00")
        fields = fields_of(session, starts="13:00", ends="17:00")
        response = instructor_client.post(address, fields)
        assert list(errors(response)) == ["kitchen", "starts"]
        session.refresh_from_db()
        assert session.starts_at == at("10:00")

    def test_a_class_is_not_moved_into_a_kitchen_that_is_taken(
        self, instructor_client, hall, barn, session, address
    ):
        rye_evening(barn, instructor=UserFactory())
        fields = fields_of(session, kitchen=barn.pk, stations=[barn.stations.get().pk])
        assert list(errors(instructor_client.post(address, fields))) == ["kitchen"]
        session.refresh_from_db()
        assert session.kitchen == hall

    def test_an_assistant_is_not_added_who_is_elsewhere(self, instructor_client, session, address):
        other = UserFactory(username="bo", role="assistant")
        rye_evening(KitchenFactory(), assistants=[other])
        fields = fields_of(session)
        fields["assistants"] = [*fields["assistants"], other.pk]
        assert list(errors(instructor_client.post(address, fields))) == ["assistants"]
        assert [one.username for one in session.assistants.all()] == ["asa"]


class TestSaving:
    """What the form cannot see: a class that somebody saves in the meantime."""

    def test_a_clash_is_found_once_more_where_the_class_is_written(self, instructor, hall):
        rye_evening(hall)
        session = ClassSession(
            instructor=instructor,
            kitchen=hall,
            title="Late",
            starts_at=at("13:00"),
            ends_at=at("17:00"),
            seats=4,
        )
        with pytest.raises(ClassesClash) as found:
            save_class(session=session, stations=hall.stations.all(), assistants=[], taught=[])
        assert [clash.field for clash in found.value.clashes] == ["kitchen", "starts"]
        assert session.pk is None

    def test_what_was_saved_in_the_meantime_is_told_by_the_field(
        self, instructor_client, hall, revision, monkeypatch
    ):
        def in_the_meantime(**kwargs):
            rye_evening(hall)
            return save_class(**kwargs)

        monkeypatch.setattr(views, "save_class", in_the_meantime)
        response = instructor_client.post(NEW, class_fields(hall, revision))
        assert errors(response)["kitchen"] == [
            "Thistlewick Hall is taken by “Rye evening” from 10:00 to 14:00 that day."
        ]
        assert 'value="Saturday loaf"' in response.content.decode()
        assert [one.title for one in ClassSession.objects.all()] == ["Rye evening"]


def post_together(monkeypatch, clients, addresses, fields) -> list[int]:
    """Post from several threads that wait for each other after their forms are found right.

    SQLite lets one save go on at a time, so there they wait before it.
    """
    together = threading.Barrier(len(clients), timeout=20)
    answers: list[int] = []

    name = "save_class" if connection.features.has_select_for_update else "edited"
    go_on = getattr(views, name)

    def when_all_are_here(*args, **kwargs):
        together.wait()
        return go_on(*args, **kwargs)

    def post(client, address, values):
        try:
            answers.append(client.post(address, values).status_code)
        finally:
            connection.close()

    monkeypatch.setattr(views, name, when_all_are_here)
    threads = [
        threading.Thread(target=post, args=one)
        for one in zip(clients, addresses, fields, strict=True)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=40)
    return sorted(answers)


def signed_in(user) -> Client:
    client = Client()
    client.force_login(user)
    return client


class TestAtTheSameTime:
    @pytest.mark.parametrize("run", range(3))
    def test_of_two_classes_saved_at_once_in_a_kitchen_one_is_refused(
        self, transactional_db, monkeypatch, run
    ):
        hall = KitchenFactory(**DUBLIN)
        revisions = [RevisionFactory(recipe__owner=hall.owner) for _ in range(2)]
        answers = post_together(
            monkeypatch,
            [signed_in(hall.owner) for _ in revisions],
            [NEW, NEW],
            [class_fields(hall, one, title=f"Of {one.pk}") for one in revisions],
        )
        assert answers == [200, 302]
        assert ClassSession.objects.count() == 1

    @pytest.mark.parametrize("run", range(3))
    def test_of_two_classes_saved_at_once_with_an_assistant_one_is_refused(
        self, transactional_db, monkeypatch, run
    ):
        assistant = UserFactory(role="assistant")
        kitchens = [KitchenFactory(**DUBLIN) for _ in range(2)]
        answers = post_together(
            monkeypatch,
            [signed_in(kitchen.owner) for kitchen in kitchens],
            [NEW, NEW],
            [
                class_fields(
                    kitchen,
                    RevisionFactory(recipe__owner=kitchen.owner),
                    assistants=[assistant.pk],
                )
                for kitchen in kitchens
            ],
        )
        assert answers == [200, 302]
        assert ClassSession.objects.count() == 1
