"""Pages for what goes wrong, and a database that may only be read."""

from __future__ import annotations

from contextlib import contextmanager

import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse

from classes.enrollment.models import Booking, Enrollment
from tests.classes.enrollment.enrolled import (
    answers,
    enrolled,
    form_of,
    held,
    key,
    open_class,
    page_of,
)

pytestmark = pytest.mark.django_db
TROUBLE = "Nothing can be saved right now"

ONLY_READ = {
    "sqlite": ("PRAGMA query_only = ON", "PRAGMA query_only = OFF"),
    "postgresql": (
        "SET SESSION CHARACTERISTICS AS TRANSACTION READ ONLY",
        "SET SESSION CHARACTERISTICS AS TRANSACTION READ WRITE",
    ),
}


@contextmanager
def only_read():
    """The database takes no writes, as where its file or its server is set to be read alone."""
    begin, end = ONLY_READ[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(begin)
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute(end)


@pytest.fixture
def visitor():
    client = Client()
    client.raise_request_exception = False
    return client


def text(answer) -> str:
    return answer.content.decode()


@pytest.mark.django_db(transaction=True)
class TestOnlyRead:
    def test_no_seat_is_held_and_the_page_says_so(self, visitor, today):
        session = open_class()
        address = reverse("classes:hold", args=[session.code])
        fields = {"seats": "1", "form_key": key()}
        with only_read():
            answer = visitor.post(address, fields)
        assert answer.status_code == 503
        assert answer.headers["Retry-After"] == "60"
        assert TROUBLE in text(answer)
        assert not Booking.objects.exists()
        assert visitor.post(address, fields).status_code == 302

    def test_a_form_half_done_books_nothing_and_can_be_sent_again(self, visitor, today):
        booking = held(open_class())
        with only_read():
            assert visitor.post(form_of(booking), answers("Ada Lomax")).status_code == 503
        assert not Enrollment.objects.exists()
        booking.refresh_from_db()
        assert booking.state == Booking.State.HELD
        assert visitor.post(form_of(booking), answers("Ada Lomax")).status_code == 302
        assert Enrollment.objects.count() == 1

    def test_what_was_told_before_can_still_be_read_and_printed(self, visitor, today):
        session = open_class()
        [person] = enrolled(session).people.all()
        with only_read():
            pages = [
                visitor.get(reverse("classes:open_list")),
                visitor.get(reverse("classes:open_class", args=[session.code])),
                visitor.get(page_of(person)),
                visitor.get(page_of(person, "before")),
                visitor.get(page_of(person, "handout")),
                visitor.get(f"{page_of(person).rstrip('/')}/handout.pdf"),
            ]
        assert [page.status_code for page in pages] == [200] * len(pages)

    def test_a_database_that_is_away_is_no_fault_of_the_visitor(self, visitor, monkeypatch):
        from django.db import OperationalError

        def away(at):
            raise OperationalError("connection refused")

        monkeypatch.setattr("classes.enrollment.views.public.listed_classes", away)
        answer = visitor.get(reverse("classes:open_list"))
        assert answer.status_code == 503
        assert TROUBLE in text(answer)
        assert "refused" not in text(answer)


class TestWords:
    def test_a_link_that_leads_nowhere_says_what_to_do(self, visitor):
        answer = visitor.get("/mine/no-such-word/")
        assert answer.status_code == 404
        assert "Ask your instructor, or whoever gave it to you, for a new one" in text(answer)
        assert reverse("classes:open_list") in text(answer)

    def test_somebody_signed_in_is_led_back_to_their_classes(self, instructor_client):
        answer = instructor_client.get("/classes/NOBODY/")
        assert answer.status_code == 404
        assert f'href="{reverse("classes:list")}">Your classes' in text(answer)

    def test_a_form_from_elsewhere_is_refused_in_words(self, today):
        strict = Client(enforce_csrf_checks=True)
        answer = strict.post(reverse("classes:hold", args=[open_class().code]), {"seats": "1"})
        assert answer.status_code == 403
        assert "The form was not accepted" in text(answer)
        assert not Booking.objects.exists()

    def test_a_body_too_large_is_refused_in_words(self, visitor):
        body, kind = b"a=" + b"x" * 3_000_000, "application/x-www-form-urlencoded"
        answer = visitor.post(reverse("sign-in"), body, content_type=kind)
        assert answer.status_code == 400
        assert "could not be read" in text(answer)

    def test_a_fault_of_ours_is_owned_and_tells_nothing_of_it(self, visitor, monkeypatch):
        monkeypatch.setattr("classes.enrollment.views.public.listed_classes", lambda at: 1 / 0)
        answer = visitor.get(reverse("classes:open_list"))
        assert answer.status_code == 500
        assert "Something went wrong here" in text(answer)
        assert "division" not in text(answer)

    def test_who_may_not_is_told_so(self, rf):
        from django.views.defaults import permission_denied

        request = rf.get("/")
        answer = permission_denied(request, PermissionError())
        assert answer.status_code == 403
        assert "Not allowed for this account" in text(answer)
