"""The waiting list: who is offered a seat that came free, and when an offer passes on."""

from __future__ import annotations

from datetime import timedelta

import pytest

from classes.enrollment.models import Booking, Letter, Waiting
from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.enrolling import enroll_people, leave_waiting
from classes.enrollment.services.holds import HOLD
from classes.enrollment.services.leaving import cancel_one
from classes.enrollment.services.seats import (
    LAST_ANSWER,
    OFFER,
    Diner,
    NoSeats,
    offer_seats,
    take_back_offer,
)
from tests.classes.enrollment.seating import MINUTE, NOW, booked, held, open_class_of, taken, waits

pytestmark = pytest.mark.django_db


@pytest.fixture
def session():
    """An open class of four seats in May, each for 30.00, refunded until a week before."""
    return open_class_of(4)


def test_offers_go_out_in_order_with_a_date_on_which_they_end(session):
    full = booked(session, 4)
    first, second = waits(session, "first"), waits(session, "second", at=NOW + MINUTE)
    later = NOW + timedelta(days=1)
    cancel_one(enrollment=full.people.last(), at=later)
    first.refresh_from_db()
    second.refresh_from_db()
    assert (first.state, second.state) == (Waiting.State.OFFERED, Waiting.State.WAITING)
    assert first.booking.held_until == later + OFFER
    assert taken(session) == 4
    assert Letter.objects.filter(kind=Letter.Kind.OFFER).count() == 1


def test_an_offer_nobody_takes_passes_on_to_the_next(session):
    full = booked(session, 4)
    first, second = waits(session, "first"), waits(session, "second", at=NOW + MINUTE)
    cancel_one(enrollment=full.people.last(), at=NOW)
    after = NOW + OFFER + MINUTE
    done = do_chores(at=after)
    first.refresh_from_db()
    second.refresh_from_db()
    assert (first.state, second.state) == (Waiting.State.PASSED, Waiting.State.OFFERED)
    assert second.booking.held_until == after + OFFER
    assert (done.freed + done.offered, taken(session)) == (2, 4)
    again = do_chores(at=after)
    assert (again.freed, again.offered, taken(session)) == (0, 0, 4)


def test_an_offer_that_is_taken_up_is_a_booking(session):
    full = booked(session, 4)
    first = waits(session, "first")
    cancel_one(enrollment=full.people.last(), at=NOW)
    first.refresh_from_db()
    enroll_people(
        booking=first.booking, people=[Diner("First")], email=first.email, phone="", at=NOW
    )
    first.refresh_from_db()
    assert first.state == Waiting.State.BOOKED
    assert taken(session) == 4


def test_an_offer_ends_an_hour_before_the_class_and_none_is_made_after_that(session):
    waiting = Waiting.objects.create(
        session=session, name="Ada", email="ada@example.org", form_key="wait", made_at=NOW
    )
    last = session.starts_at - LAST_ANSWER
    assert offer_seats(session=session, at=last) == ()
    assert offer_seats(session=session, at=last - MINUTE) == (waiting,)
    waiting.refresh_from_db()
    assert waiting.booking.held_until == last


def test_seats_whose_hold_has_run_out_are_offered_on(session):
    """Nobody comes by to end the hold: the offer itself sees that its time is over."""
    held(session, 2)
    booked(session, 2, key="b")
    waiting = waits(session, "wim", 2)
    later = NOW + HOLD + MINUTE
    assert offer_seats(session=session, at=later) == (waiting,)
    assert taken(session) == 4
    assert Booking.objects.filter(state=Booking.State.RUN_OUT).count() == 1


def test_one_who_fits_is_offered_a_seat_before_a_group_that_does_not(session):
    full = booked(session, 4)
    group, one = waits(session, "group", 3), waits(session, "one", at=NOW + MINUTE)
    cancel_one(enrollment=full.people.last(), at=NOW)
    group.refresh_from_db()
    one.refresh_from_db()
    assert (group.state, one.state) == (Waiting.State.WAITING, Waiting.State.OFFERED)


def test_seats_that_come_free_are_kept_for_those_who_wait(session):
    held(session, 4)
    waits(session, "first", at=NOW + MINUTE)
    with pytest.raises(NoSeats):
        held(session, 1, "newcomer", at=NOW + HOLD + MINUTE)
    do_chores(at=NOW + HOLD + MINUTE)
    assert Waiting.objects.get().state == Waiting.State.OFFERED
    assert held(session, 3, "newcomer", at=NOW + HOLD + MINUTE).seats == 3


def test_who_refuses_an_offer_passes_it_on_at_once(session):
    full = booked(session, 4)
    first, second = waits(session, "first"), waits(session, "second", at=NOW + MINUTE)
    cancel_one(enrollment=full.people.last(), at=NOW)
    first.refresh_from_db()
    leave_waiting(entry=first, at=NOW)
    leave_waiting(entry=first, at=NOW)
    first.refresh_from_db()
    second.refresh_from_db()
    assert (first.state, second.state) == (Waiting.State.LEFT, Waiting.State.OFFERED)
    assert taken(session) == 4


def test_an_offer_taken_back_frees_its_seats_once(session):
    booking = held(session, 2)
    assert take_back_offer(booking=booking, at=NOW) is True
    assert take_back_offer(booking=booking, at=NOW) is False
    assert taken(session) == 0


def test_a_confirmed_booking_is_no_offer_to_take_back(session):
    assert take_back_offer(booking=booked(session), at=NOW) is False
    assert taken(session) == 1


def test_the_same_waiting_form_sent_twice_is_one_place(session):
    booked(session, 4)
    assert waits(session, "first") == waits(session, "first")
    assert Waiting.objects.count() == 1
