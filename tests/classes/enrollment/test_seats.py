"""Seats are claimed, given back and offered on, and what is taken always matches who has them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.db import IntegrityError

from classes.enrollment.models import (
    Booking,
    Enrollment,
    Letter,
    Waiting,
)
from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.door import mark_at_door, walk_in
from classes.enrollment.services.enrolling import (
    enroll_people,
    give_up_booking,
    join_waiting,
    leave_waiting,
    pass_on_seats,
)
from classes.enrollment.services.holds import (
    HOLD,
    hold_seats,
    surely_full,
)
from classes.enrollment.services.leaving import (
    cancel_all,
    cancel_one,
    move_booking,
    take_off_roster,
)
from classes.enrollment.services.seats import (
    LAST_ANSWER,
    OFFER,
    Diner,
    NoSeats,
    TooLate,
    confirm_booking,
    let_go,
    offer_seats,
    recount_seats,
    save_all_but_taken,
    take_back_offer,
)
from classes.models import ClassSession
from classes.money.accounts import booking_account
from tests.factories import EnrollmentFactory, UserFactory, planned_class

NOW = datetime(2030, 4, 1, 9, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
CAME, ABSENT = Enrollment.Door.CAME, Enrollment.Door.ABSENT

pytestmark = pytest.mark.django_db


@pytest.fixture
def session():
    """An open class of four seats in May, each for 30.00, refunded until a week before."""
    return open_class_of(4)


def open_class_of(seats, **fields):
    fields = {"price_minor": 3000, "kitchen__stations": 2, **fields}
    return planned_class(students=0, seats=seats, is_open=True, **fields)


def taken(session):
    return ClassSession.objects.get(pk=session.pk).taken


def held(session, seats=1, key="a", at=NOW):
    return hold_seats(session=session, seats=seats, form_key=f"form-{key}", at=at)


def booked(session, seats=1, key="a", at=NOW):
    booking = held(session, seats, key, at)
    people = [Diner(f"{key} {n}") for n in range(seats)]
    enroll_people(booking=booking, people=people, email=f"{key}@example.org", phone="", at=at)
    booking.refresh_from_db()
    return booking


def waits(session, name, seats=1, at=NOW):
    return join_waiting(
        session=session,
        name=name,
        email=f"{name}@example.org",
        seats=seats,
        form_key=f"wait-{name}",
        at=at,
    )


def paid(booking, amount_minor, key):
    booking.payments.create(
        amount_minor=amount_minor,
        means="cash",
        paid_on=NOW.date(),
        form_key=key,
        noted_by=booking.session.instructor,
    )


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


# The waiting list


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


# Leaving


def test_canceling_twice_gives_the_seats_back_once(session):
    booking = booked(session, 3)
    assert give_up_booking(booking=booking, refund_due_minor=0, at=NOW) is True
    assert give_up_booking(booking=booking, refund_due_minor=0, at=NOW) is False
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
    assert booking_account(booking, "EUR").balance.amount_minor == 0
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


# The door


def at_the_door(session, form_key="walk", name="Wanda"):
    return walk_in(
        session=session,
        diner=Diner(name),
        form_key=form_key,
        price_minor=3000,
        at=session.starts_at + MINUTE,
    )


def test_a_walk_in_takes_the_seat_of_an_absent_one(session):
    booking = booked(session, 4)
    with pytest.raises(NoSeats):
        at_the_door(session)
    mark_at_door(enrollment=booking.people.first(), door=ABSENT)
    person = at_the_door(session)
    assert (person.door, person.walked_in, taken(session)) == (CAME, True, 4)


def test_the_same_walk_in_form_sent_twice_is_one_person(session):
    assert at_the_door(session) == at_the_door(session)
    assert taken(session) == 1


def test_a_walk_in_gets_the_seat_of_a_form_that_was_never_sent(session):
    held(session, 4, at=session.starts_at - HOLD)
    assert at_the_door(session).walked_in
    assert taken(session) == 1


def test_marking_somebody_absent_twice_gives_one_seat_back(session):
    person = booked(session, 2).people.first()
    mark_at_door(enrollment=person, door=ABSENT)
    mark_at_door(enrollment=person, door=ABSENT)
    assert taken(session) == 1
    mark_at_door(enrollment=person, door=CAME)
    mark_at_door(enrollment=person, door=CAME)
    assert taken(session) == 2


def test_one_who_comes_after_all_is_refused_when_the_seat_is_gone(session):
    person = booked(session, 4).people.first()
    mark_at_door(enrollment=person, door=ABSENT)
    at_the_door(session)
    with pytest.raises(NoSeats):
        mark_at_door(enrollment=person, door=CAME)
    person.refresh_from_db()
    assert (person.door, taken(session)) == (ABSENT, 4)


@pytest.mark.parametrize("how", ["whole booking", "one person", "off the roster", "moved"])
def test_an_absent_one_who_leaves_gives_no_second_seat_back(session, how):
    booking = booked(session, 2)
    absent = booking.people.last()
    mark_at_door(enrollment=absent, door=ABSENT)
    absent.refresh_from_db()
    if how == "whole booking":
        cancel_all(booking=booking, at=NOW)
    elif how == "one person":
        cancel_one(enrollment=absent, at=NOW)
    elif how == "off the roster":
        take_off_roster(enrollment=absent, at=session.starts_at + MINUTE)
    else:
        other = open_class_of(4, instructor=session.instructor, kitchen=session.kitchen)
        move_booking(booking=booking, to=other, at=NOW)
        assert taken(other) == 2
    left = session.enrollments.exclude(door=ABSENT).count()
    assert taken(session) == left


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
