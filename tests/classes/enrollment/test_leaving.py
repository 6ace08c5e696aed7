"""People leave or move: their seats come back once, with the share that is due."""

from __future__ import annotations

from datetime import timedelta

import pytest

from classes.core.money import nothing
from classes.enrollment.models import Booking, Enrollment, Waiting
from classes.enrollment.services.enrolling import give_up_booking
from classes.enrollment.services.leaving import cancel_all, cancel_one, move_booking
from classes.enrollment.services.seats import NoSeats, TooLate
from classes.models import ClassSession
from classes.money.accounts import booking_account
from tests.classes.enrollment.seating import NOW, booked, open_class_of, paid, taken, waits
from tests.factories import EnrollmentFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def session():
    """An open class of four seats in May, each for 30.00, refunded until a week before."""
    return open_class_of(4)


def test_canceling_twice_gives_the_seats_back_once(session):
    booking = booked(session, 3)
    assert give_up_booking(booking=booking, refund_due=nothing("EUR"), at=NOW) is True
    assert give_up_booking(booking=booking, refund_due=nothing("EUR"), at=NOW) is False
    assert taken(session) == 0
    assert session.enrollments.count() == 0


def test_one_of_a_group_leaves_with_their_share(session):
    booking = booked(session, 3)
    paid(booking, 9000, "paid")
    cancel_one(enrollment=booking.people.last(), at=NOW)
    booking.refresh_from_db()
    assert (booking.seats, booking.price_minor, booking.refund_due_minor) == (2, 6000, 3000)
    assert taken(session) == 2


def test_one_of_a_group_who_leaves_too_late_for_a_refund_leaves_the_price_as_it_is(session):
    booking = booked(session, 3)
    paid(booking, 9000, "paid")
    cancel_one(enrollment=booking.people.last(), at=session.starts_at - timedelta(days=1))
    booking.refresh_from_db()
    assert (booking.seats, booking.price_minor, booking.refund_due_minor) == (2, 9000, 0)
    assert booking_account(booking).balance.amount_minor == 0
    assert taken(session) == 2


def test_a_price_raised_later_is_not_taken_off_for_one_who_leaves(session):
    booking = booked(session, 2)
    ClassSession.objects.update(price_minor=9000)
    cancel_one(enrollment=Enrollment.objects.filter(booking=booking).last(), at=NOW)
    booking.refresh_from_db()
    assert booking.price_minor == 3000


@pytest.mark.parametrize("given_back_meanwhile", [False, True])
def test_a_group_that_leaves_one_by_one_is_due_what_it_paid(session, given_back_meanwhile):
    booking = booked(session, 3)
    paid(booking, 9000, "paid")
    due = []
    for person in booking.people.order_by("-position"):
        cancel_one(enrollment=Enrollment.objects.get(pk=person.pk), at=NOW)
        booking.refresh_from_db()
        due.append(booking.refund_due_minor)
        if given_back_meanwhile and len(due) == 1:
            paid(booking, -3000, "back")
    assert due == [3000, 6000, 9000]
    assert booking.state == Booking.State.CANCELED
    assert taken(session) == 0


def test_who_left_in_time_stays_due_when_the_rest_leave_too_late(session):
    booking = booked(session, 2)
    paid(booking, 6000, "paid")
    cancel_one(enrollment=booking.people.last(), at=NOW)
    booking.refresh_from_db()
    cancel_all(booking=booking, at=session.starts_at - timedelta(days=1))
    booking.refresh_from_db()
    assert booking.refund_due_minor == 3000


def test_the_same_person_canceled_twice_leaves_once(session):
    booking = booked(session, 3)
    copies = [Enrollment.objects.get(pk=booking.people.last().pk) for _ in range(2)]
    for copy in copies:
        cancel_one(enrollment=copy, at=NOW)
    booking.refresh_from_db()
    assert (booking.seats, booking.people.count(), taken(session)) == (2, 2, 2)


def test_two_of_two_who_leave_from_old_pages_both_leave(session):
    booking = booked(session, 2)
    copies = list(Enrollment.objects.select_related("booking", "session"))
    for copy in copies:
        cancel_one(enrollment=copy, at=NOW)
    booking.refresh_from_db()
    assert (booking.state, taken(session)) == (Booking.State.CANCELED, 0)


def test_a_person_typed_in_twice_canceled_gives_one_seat_back(session):
    EnrollmentFactory.create_batch(2, session=session)
    person = session.enrollments.first()
    for copy in [Enrollment.objects.get(pk=person.pk) for _ in range(2)]:
        cancel_one(enrollment=copy, at=NOW)
    assert taken(session) == 1


def test_nobody_cancels_after_the_class_has_begun(session):
    booking = booked(session, 2)
    with pytest.raises(TooLate):
        cancel_one(enrollment=booking.people.first(), at=session.starts_at)
    with pytest.raises(TooLate):
        cancel_all(booking=booking, at=session.starts_at)
    assert taken(session) == 2


def test_a_booking_moves_with_its_people_to_another_class(session):
    other = open_class_of(3, instructor=session.instructor, kitchen=session.kitchen)
    booking = booked(session, 2)
    waiting = waits(session, "group", 4)
    move_booking(booking=booking, to=other, at=NOW)
    waiting.refresh_from_db()
    assert taken(other) == 2
    assert {one.session for one in booking.people.all()} == {other}
    assert (waiting.state, taken(session)) == (Waiting.State.OFFERED, 4)


def test_a_full_class_takes_no_move_and_nothing_changes(session):
    other = open_class_of(1, instructor=session.instructor, kitchen=session.kitchen)
    booking = booked(session, 2)
    with pytest.raises(NoSeats):
        move_booking(booking=booking, to=other, at=NOW)
    booking.refresh_from_db()
    assert (booking.session, taken(session), taken(other)) == (session, 2, 0)


def test_a_move_after_its_last_day_is_too_late(session):
    other = open_class_of(4, instructor=session.instructor, kitchen=session.kitchen)
    booking = booked(session)
    with pytest.raises(TooLate):
        move_booking(booking=booking, to=other, at=session.starts_at - timedelta(days=1))
    assert (taken(session), taken(other)) == (1, 0)


def test_a_canceled_booking_does_not_move(session):
    other = open_class_of(4, instructor=session.instructor, kitchen=session.kitchen)
    booking = booked(session)
    stale = Booking.objects.get(pk=booking.pk)
    cancel_all(booking=booking, at=NOW)
    with pytest.raises(TooLate):
        move_booking(booking=stale, to=other, at=NOW)
    assert (taken(session), taken(other)) == (0, 0)
