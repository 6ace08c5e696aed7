"""Whoever writes down what somebody must not eat writes down when it was told."""

from __future__ import annotations

from datetime import timedelta

import pytest

from classes.core.money import nothing
from classes.enrollment.models import Enrollment
from classes.enrollment.services.chores import blank_words
from classes.enrollment.services.door import walk_in
from classes.enrollment.services.leaving import change_diet, erase_person, move_booking
from classes.enrollment.services.seats import Diner
from classes.sessions.forms import RosterRows
from classes.sessions.services import save_roster
from tests.classes.demo_class import demo_class
from tests.classes.enrollment.enrolled import NOW, enrolled, key, open_class

LATER = NOW + timedelta(days=1)
ADA = Diner("Ada Lomax", "told", ("milk",), "kiwi")
SINCE_NOW = {"milk": NOW.isoformat(), "kiwi": NOW.isoformat()}


@pytest.fixture
def session(db):
    return open_class()


def since_of(name="Ada Lomax") -> dict[str, str]:
    return Enrollment.objects.get(name=name).told_since


def test_the_form_dates_it(session):
    enrolled(session, ADA)
    assert since_of() == SINCE_NOW


def test_the_door_dates_it(session):
    walk_in(session=session, diner=ADA, form_key=key(), price=nothing("EUR"), at=NOW)
    assert since_of() == SINCE_NOW


def test_ones_own_page_dates_what_is_new_and_keeps_the_rest(session):
    person = enrolled(session, ADA).people.get()
    more = Diner("Ada Lomax", "told", ("milk", "egg"), "kiwi")
    change_diet(enrollment=person, diner=more, at=LATER)
    assert since_of() == SINCE_NOW | {"eggs": LATER.isoformat()}


def test_the_roster_dates_what_is_typed_into_it(session):
    person = enrolled(session, ADA).people.get()
    person.must_not_eat = "kiwi and figs"
    save_roster(session=session, people=[(person, ())], at=LATER)
    assert since_of() == {"milk": NOW.isoformat(), "kiwi and figs": LATER.isoformat()}


def test_the_roster_saved_as_it_was_dates_nothing_anew(session):
    person = enrolled(session, ADA).people.get()
    save_roster(session=session, people=[(person, ())], at=LATER)
    assert since_of() == SINCE_NOW


def test_in_another_class_it_is_news(session):
    booking = enrolled(session, ADA)
    other = open_class(instructor=session.instructor, kitchen=session.kitchen)
    move_booking(booking=booking, to=other, at=LATER)
    assert set(since_of().values()) == {LATER.isoformat()}


def test_the_demo_dates_what_its_students_told(db):
    told = demo_class().enrollments.exclude(must_not_eat="")
    assert told
    assert all(person.told_since for person in told)


def test_who_tells_nothing_has_no_dates(session):
    enrolled(session, Diner("Ada Lomax", "private"))
    assert since_of() == {}


def test_it_is_no_field_of_the_roster(session):
    assert "told_since" not in RosterRows.form.base_fields


def test_it_goes_with_the_words(session):
    enrolled(session, ADA)
    blank_words(at=session.ends_at + timedelta(days=90))
    assert since_of() == {}


def test_it_goes_with_the_person(session):
    person = enrolled(session, ADA).people.get()
    erase_person(enrollment=person, at=session.ends_at + timedelta(days=1))
    person.refresh_from_db()
    assert person.told_since == {}
