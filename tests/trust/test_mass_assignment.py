"""Fields that a form does not ask for change nothing, whoever adds them."""

from __future__ import annotations

import random
import re
import secrets
from datetime import UTC, datetime, timedelta
from itertools import count

import pytest
from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, transaction
from django.utils import timezone

from classes.models import ClassSession
from tests.site import make_site
from tests.trust.test_fuzz import AIMS, with_booked_student
from tests.worlds import anew, made_once

SENDING = sorted(
    name for name, aim in AIMS.items() if aim.method == "post" and aim.answer in (200, 302)
)
NOW = datetime(2030, 4, 20, 9, tzinfo=UTC)
SIGNED = re.compile(r"(/(?:mine|at-home|enroll|waiting|calendar|enter)/)[^/\s?\"'#<>]+")
BY_THE_CLOCK = ("last_login", "date_joined")


def made_in_april():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(timezone, "now", lambda: NOW)
        return with_booked_student(make_site())


site_made_once = made_once(made_in_april)


@pytest.fixture
def site(site_made_once, db, monkeypatch):
    """The site some days before its class, with seats that are held until later today."""
    monkeypatch.setattr(timezone, "now", lambda: NOW)
    return anew(site_made_once)


def extras(site) -> dict[str, object]:
    """What somebody might add: every field of the tables that forms write into, in odd values."""
    other = site.other
    return {
        "pk": other.pk,
        "session": other.pk,
        "session_id": other.pk,
        "code": other.code,
        "instructor": other.instructor_id,
        "instructor_id": other.instructor_id,
        "owner": other.instructor_id,
        "user": other.instructor_id,
        "noted_by": other.instructor_id,
        "state": "canceled",
        "taken": 0,
        "price_minor": 1,
        "deposit_minor": 1,
        "amount_minor": 1,
        "refund_due_minor": 99_999,
        "link_nonce": "0" * 32,
        "held_until": "2031-01-01T00:00:00Z",
        "confirmed_at": "2031-01-01T00:00:00Z",
        "made_at": "2020-01-01T00:00:00Z",
        "offered_at": "2020-01-01T00:00:00Z",
        "canceled_at": "2020-01-01T00:00:00Z",
        "erased_at": "2020-01-01T00:00:00Z",
        "blanked_at": "2020-01-01T00:00:00Z",
        "starts_at": "2020-01-01T00:00:00Z",
        "door": "absent",
        "walked_in": "on",
        "position": 77,
        "change_number": 77,
        "told_of": 77,
        "tries": 77,
        "username": "posted",
        "password": "posted",
        "first_name": "Posted",
        "is_active": "",
        "last_login": "2020-01-01T00:00:00Z",
        "password_mark": "0" * 32,
        "roles": "owner",
        "is_staff": "on",
        "is_superuser": "on",
        "groups": "1",
        "role": "instructor",
    }


# fields that a form of the staff does ask for, and no other form may take
OF_SOME = {
    "is_open": "on",
    "seats": 3,
    "notes": "posted",
    "station": 1,
    "kitchen": 1,
    "name": "Posted",
    "email": "posted@example.org",
    "must_not_eat": "posted",
    "diet": "private",
    "amount": "1",
    "title": "Posted",
    "about": "posted",
    "least_people": 2,
    "handling_loss_percent": "9",
    "rises_in": "cabinet",
}


def rows() -> dict[str, list[dict]]:
    """All that the site holds; what is signed or drawn at random is told by `undrawn`."""
    models = [*apps.get_app_config("classes").get_models()]
    models += apps.get_app_config("enrollment").get_models()
    models += apps.get_app_config("recipes").get_models()
    models += apps.get_app_config("auth").get_models()
    models += apps.get_app_config("house").get_models()
    return {
        one._meta.label: [
            {name: _plain(value) for name, value in row.items() if name not in BY_THE_CLOCK}
            for row in one.objects.order_by("pk").values()
        ]
        for one in models
    }


def _plain(value):
    return SIGNED.sub(r"\1", value) if isinstance(value, str) else value


def undrawn(monkeypatch) -> None:
    """What is drawn by chance is the same each time."""
    numbers, chance = count(1), random.Random(1)  # noqa: S311
    monkeypatch.setattr(secrets, "token_hex", lambda size=16: f"{next(numbers):0{2 * size}x}")
    monkeypatch.setattr(secrets, "choice", chance.choice)


def number_from_the_last() -> None:
    """PostgreSQL goes on counting the keys of rows that were taken back; SQLite does not."""
    with connection.cursor() as cursor:
        for sql in connection.ops.sequence_reset_sql(no_style(), apps.get_models()):
            cursor.execute(sql)


def after(send, monkeypatch):
    """The rows after a form was sent, which is then taken back, and the status."""
    with monkeypatch.context() as patch, transaction.atomic():
        undrawn(patch)
        number_from_the_last()
        status = send().status_code
        left = rows()
        transaction.set_rollback(True)
    return left, status


@pytest.mark.parametrize("name", SENDING)
def test_a_form_with_more_fields_writes_what_it_writes_without_them(name, site, monkeypatch):
    aim = AIMS[name]
    client, address, fields = site.clients[aim.who], site.address(aim.name), aim.fields(site)
    more = {key: value for key, value in extras(site).items() if key not in fields}
    asked = _asked_by(name)
    more |= {key: value for key, value in OF_SOME.items() if key not in {*fields, *asked}}
    headers = {"HX-Request": "true"} if aim.htmx else {}
    plain, status = after(lambda: client.post(address, fields, headers=headers), monkeypatch)
    spoiled, answer = after(
        lambda: client.post(address, fields | more, headers=headers), monkeypatch
    )
    assert status == answer == aim.answer
    changed = {label for label in plain if plain[label] != spoiled[label]}
    assert changed == set()


def _asked_by(name: str) -> tuple[str, ...]:
    """Fields of `OF_SOME` that the form of that name takes although it need not be sent them."""
    return {
        "class": ("notes",),
        "new class": ("notes",),
        "class in part": ("notes",),
        "verdict": ("notes",),
    }.get(name, ())


@pytest.mark.parametrize("name", ["hold", "wait", "enroll", "walk-in", "payment", "public side"])
def test_what_is_compared_does_see_what_a_form_writes(name, site, monkeypatch):
    aim = AIMS[name]
    before = rows()
    written, _ = after(
        lambda: site.clients[aim.who].post(site.address(aim.name), aim.fields(site)), monkeypatch
    )
    assert written != before
    now = rows()
    assert [label for label in before if before[label] != now[label]] == []


def test_a_person_cannot_be_moved_into_another_class_by_the_roster(site):
    """The rows of a formset name what they change: only rows of this class are taken."""
    stranger = site.other.enrollments.first()
    fields = AIMS["roster"].fields(site) | {"people-0-id": stranger.pk}
    site.clients["instructor"].post(site.address("classes:roster"), fields)
    stranger.refresh_from_db()
    assert stranger.session_id == site.other.pk
    assert stranger.name != "Ada Lomax"


def test_a_payment_for_a_booking_of_another_class_is_refused(site):
    foreign = site.other.bookings.create(
        seats=1, form_key="foreign", held_until=NOW + timedelta(hours=1), made_at=NOW
    )
    fields = AIMS["payment"].fields(site) | {"booking": foreign.pk}
    answer = site.clients["instructor"].post(site.address("classes:money"), fields)
    assert answer.status_code == 404
    assert not foreign.payments.exists()


def test_nobody_moves_to_a_class_that_is_not_open(site):
    ClassSession.objects.filter(pk=site.other.pk).update(is_open=False)
    client = site.clients["nobody"]
    client.post(site.address("classes:place_move"), {"to": site.other.pk})
    assert site.confirmed().session_id == site.session.pk
