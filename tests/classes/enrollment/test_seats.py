"""Seats are claimed, given back and offered on, and what is taken always matches who has them."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import IntegrityError

from classes.enrollment.models import Booking, Letter
from classes.enrollment.services.door import mark_at_door
from classes.enrollment.services.enrolling import enroll_people, pass_on_seats
from classes.enrollment.services.holds import HOLD, surely_full
from classes.enrollment.services.leaving import cancel_all
from classes.enrollment.services.seats import (
    Diner,
    NoSeats,
    TooLate,
    claim_seats,
    confirm_booking,
    let_go,
    recount_seats,
    save_all_but_taken,
    take_back_offer,
)
from classes.models import ClassSession
from tests.classes.enrollment.seating import (
    ABSENT,
    MINUTE,
    NOW,
    at_the_door,
    booked,
    held,
    open_class_of,
    taken,
    waits,
)
from tests.factories import EnrollmentFactory, UserFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def session():
    """An open class of four seats in May, each for 30.00, refunded until a week before."""
    return open_class_of(4)


# Holding and confirming


def test_held_seats_count_as_taken_for_three_minutes(session):
    booking = held(session, 3)
    assert (booking.state, booking.held_until) == (Booking.State.HELD, NOW + 3 * MINUTE)
    assert booking.price_minor == 3 * 3000
    assert taken(session) == 3


def test_the_same_form_sent_twice_holds_once(session):
    assert held(session, 2) == held(session, 2)
    assert taken(session) == 2
    assert Booking.objects.count() == 1


def test_the_same_form_finds_its_seats_when_the_class_is_full_by_now(session):
    mine = held(session, 1, "mine")
    held(session, 3, "others")
    assert held(session, 1, "mine") == mine


def test_a_claim_of_too_many_says_what_is_left_and_takes_nothing(session):
    claim_seats(session=session, seats=3)
    with pytest.raises(NoSeats) as refused:
        claim_seats(session=session, seats=2)
    assert refused.value.left == 1
    assert taken(session) == 3


def test_more_seats_than_there_are_are_refused_with_what_is_left(session):
    held(session, 3)
    with pytest.raises(NoSeats) as refused:
        held(session, 2, "b")
    assert refused.value.left == 1
    assert taken(session) == 3


def test_an_old_copy_of_the_class_claims_no_seat_twice(session):
    old = ClassSession.objects.get(pk=session.pk)
    held(session, 4)
    assert old.taken == 0
    with pytest.raises(NoSeats):
        held(old, 1, "b")


def test_the_database_itself_refuses_an_oversold_class(session):
    with pytest.raises(IntegrityError):
        ClassSession.objects.filter(pk=session.pk).update(taken=5)


def test_a_closed_class_and_one_that_has_begun_take_nobody(session):
    with pytest.raises(TooLate):
        held(session, at=session.starts_at)
    session.is_open = False
    with pytest.raises(TooLate):
        held(session)
    assert taken(session) == 0


def test_confirming_makes_people_and_one_letter(session):
    booking = booked(session, 2)
    assert booking.state == Booking.State.CONFIRMED
    assert [one.name for one in booking.people.all()] == ["a 0", "a 1"]
    assert taken(session) == 2
    assert Letter.objects.filter(booking=booking).count() == 1


def test_confirming_twice_changes_nothing(session):
    booking = booked(session)
    again = enroll_people(
        booking=booking, people=[Diner("Another")], email="b@example.org", phone="", at=NOW
    )
    assert again is False
    booking.refresh_from_db()
    assert booking.email == "a@example.org"
    assert [one.name for one in session.enrollments.all()] == ["a 0"]
    assert Letter.objects.count() == 1


def test_a_hold_can_be_confirmed_in_its_last_minute_and_not_after(session):
    first, second = held(session), held(session, 1, "b")
    rest = {"name": "Ada", "email": "ada@example.org", "phone": ""}
    assert confirm_booking(booking=first, people=[Diner("Ada")], at=NOW + HOLD, **rest)
    with pytest.raises(TooLate):
        confirm_booking(booking=second, people=[Diner("Ada")], at=NOW + HOLD + MINUTE, **rest)
    assert session.enrollments.count() == 1


# Holds that run out


def test_a_hold_that_ran_out_frees_its_seats_once(session):
    held(session, 3)
    later = NOW + HOLD + MINUTE
    assert (let_go(session=session, at=NOW + HOLD), taken(session)) == (0, 3)
    assert (let_go(session=session, at=later), taken(session)) == (3, 0)
    assert (let_go(session=session, at=later), taken(session)) == (0, 0)


def test_the_next_who_asks_gets_the_seats_of_a_hold_that_ran_out(session):
    first = held(session, 4)
    held(session, 4, "b", at=NOW + HOLD + MINUTE)
    first.refresh_from_db()
    assert first.state == Booking.State.RUN_OUT
    assert taken(session) == 4


def test_a_confirmed_booking_never_runs_out(session):
    booked(session, 2)
    assert let_go(session=session, at=NOW + timedelta(days=3)) == 0
    assert taken(session) == 2


@pytest.mark.parametrize(
    ("seats", "key", "after", "full"),
    [
        pytest.param(1, "new", MINUTE, True, id="full"),
        pytest.param(1, "a", MINUTE, False, id="own form again"),
        pytest.param(1, "new", HOLD + MINUTE, False, id="hold over"),
    ],
)
def test_a_quick_no_is_only_said_where_nothing_can_be_had(session, seats, key, after, full):
    held(session, 4)
    asked = {"code": session.code, "seats": seats, "form_key": f"form-{key}"}
    assert surely_full(at=NOW + after, **asked) is full


def test_no_quick_no_is_said_where_seats_are_left_or_the_class_is_not_open(session):
    held(session, 3)
    asked = {"code": session.code, "form_key": "form-new", "at": NOW}
    assert surely_full(seats=1, **asked) is False
    assert surely_full(seats=2, **asked) is True
    ClassSession.objects.update(is_open=False)
    assert surely_full(seats=2, **asked) is False


# Counting and saving


def test_counting_anew_finds_what_the_claims_counted(session):
    booked(session, 2)
    EnrollmentFactory(session=session)
    held(ClassSession.objects.get(pk=session.pk), 1, "b")
    ClassSession.objects.filter(pk=session.pk).update(taken=0)
    assert recount_seats(session=session) == 4
    assert taken(session) == 4


def test_counting_anew_leaves_absent_seats_free(session):
    booking = booked(session, 4)
    mark_at_door(enrollment=booking.people.first(), door=ABSENT)
    at_the_door(session)
    assert recount_seats(session=session) == 4


def test_bookings_that_ran_out_or_were_canceled_count_for_nothing(session):
    cancel_all(booking=booked(session, 2), at=NOW)
    take_back_offer(booking=held(session, 1, "b"), at=NOW)
    assert recount_seats(session=session) == 0


def test_saving_a_class_keeps_seats_that_were_taken_meanwhile(session):
    opened = ClassSession.objects.get(pk=session.pk)
    held(session, 3)
    opened.title = "Rolls"
    save_all_but_taken(session=opened)
    saved = ClassSession.objects.get(pk=session.pk)
    assert (saved.title, saved.taken) == ("Rolls", 3)


def test_a_new_class_is_saved_whole(session):
    new = ClassSession(
        title="Rolls",
        instructor=UserFactory(),
        kitchen=session.kitchen,
        starts_at=session.starts_at,
        ends_at=session.ends_at,
        seats=4,
        currency="EUR",
    )
    save_all_but_taken(session=new)
    assert taken(new) == 0


def test_nobody_is_offered_a_seat_that_does_not_exist(session):
    booked(session, 4)
    waits(session, "first")
    assert pass_on_seats(session=session, at=NOW) == ()
    assert taken(session) == 4
