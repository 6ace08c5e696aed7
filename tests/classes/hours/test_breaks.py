"""The break of a class whose times change stays inside the class, or is left out."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse

from tests.classes.sessions.class_fields import fields_of
from tests.factories import KitchenFactory, planned_class

NINE = datetime(2030, 5, 4, 9, tzinfo=UTC)  # 10:00 in Dublin
MOVED = "The break moves with the class, to {}."
LEFT_OUT = "The break no longer fits into the class and is left out."


@pytest.fixture
def session(instructor):
    """From 10:00 to 14:00 in Dublin with a welcome of 10 minutes and a break at 12:00 for 20."""
    return planned_class(
        instructor=instructor,
        kitchen=KitchenFactory(owner=instructor, time_zone="Europe/Dublin"),
        starts_at=NINE,
        ends_at=NINE + timedelta(hours=4),
        break_at=NINE + timedelta(hours=2),
        break_min=20,
    )


def change(client, session, **fields):
    """Post the form with some fields changed; what it says, and when the break is now."""
    address = reverse("classes:edit", args=[session.code])
    response = client.post(address, fields_of(session, **fields), follow=True)
    assert response.redirect_chain
    session.refresh_from_db()
    said = " ".join(str(message) for message in response.context["messages"])
    zone = session.kitchen.zone
    return said, session.break_at and f"{session.break_at.astimezone(zone):%d %H:%M}"


@pytest.mark.parametrize(
    ("starts", "ends"),
    [
        pytest.param("10:00", "14:00", id="the same hours"),
        pytest.param("10:30", "14:30", id="a little later"),
        pytest.param("11:50", "15:00", id="right after the welcome"),
        pytest.param("09:00", "12:20", id="right before the end"),
    ],
)
def test_a_break_that_still_lies_inside_stays_when_it_is(instructor_client, session, starts, ends):
    said, at = change(instructor_client, session, starts=starts, ends=ends)
    assert at == "04 12:00"
    assert "break" not in said


@pytest.mark.parametrize(
    ("fields", "moved"),
    [
        pytest.param({"starts": "14:00", "ends": "18:00"}, "04 16:00", id="into the afternoon"),
        pytest.param({"starts": "11:51", "ends": "16:00"}, "04 13:51", id="into the welcome"),
        pytest.param({"starts": "07:00", "ends": "11:00"}, "04 09:00", id="before it"),
        pytest.param({"day": "2030-05-11"}, "11 12:00", id="to another day"),
        pytest.param({"day": "2030-11-02"}, "02 12:00", id="to winter time"),
    ],
)
def test_a_break_that_is_left_outside_moves_as_far_as_the_start(
    instructor_client, session, fields, moved
):
    said, at = change(instructor_client, session, **fields)
    assert at == moved
    assert MOVED.format(moved.partition(" ")[2]) in said
    assert session.break_at - session.starts_at == timedelta(hours=2)


@pytest.mark.parametrize(
    ("starts", "ends"),
    [
        pytest.param("10:00", "12:19", id="it would end after the class"),
        pytest.param("10:00", "11:00", id="the class is over before"),
        pytest.param("14:00", "16:00", id="the moved class is too short"),
    ],
)
def test_a_break_that_fits_nowhere_is_left_out_and_said_so(
    instructor_client, session, starts, ends
):
    said, at = change(instructor_client, session, starts=starts, ends=ends)
    assert at is None
    assert LEFT_OUT in said


def test_a_class_without_a_break_moves_in_silence(instructor_client, session):
    session.break_at = None
    session.save()
    said, at = change(instructor_client, session, starts="14:00", ends="18:00")
    assert at is None
    assert "break" not in said


def test_a_refused_form_leaves_the_break_alone(instructor_client, session):
    address = reverse("classes:edit", args=[session.code])
    fields = fields_of(session, starts="14:00", ends="18:00", title="")
    assert instructor_client.post(address, fields).status_code == 200
    session.refresh_from_db()
    assert session.break_at == NINE + timedelta(hours=2)
