"""A rush for a class: real server processes, over HTTP, on both kinds of database."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.trust.conftest import SEATS, SMALL, SMALL_SEATS
from tests.trust.visitors import Visitor, a_few_at_a_time, all_at_once

RUSH = 200
LATE = 20


def count(server, query, code):
    [(number,)] = server.rows(
        f"SELECT {query} JOIN classes_classsession c ON c.id = x.session_id WHERE c.code = '{code}'"
    )
    return number


def taken(server, code):
    [(number,)] = server.rows(
        f"SELECT taken FROM classes_classsession WHERE code = '{code}'"  # noqa: S608
    )
    return number


def assert_no_trouble(server):
    log = server.log.read_text()
    for word in ("locked", "Traceback", "Internal Server Error"):
        assert word not in log, log[-2000:]


@pytest.fixture(scope="module")
def rushed(house):
    """What 200 people met who wanted one of twelve seats in the same moment."""
    server, codes = house
    people = [Visitor(server.port, codes["rush"], f"Guest {n}") for n in range(RUSH)]
    a_few_at_a_time(Visitor.open_class, people)
    answers = all_at_once(Visitor.hold, people)
    return server, codes["rush"], list(zip(people, answers, strict=True))


def test_two_hundred_claims_book_exactly_the_twelve_seats(rushed):
    server, code, met = rushed
    holding = [(person, page.location) for person, page in met if page.leads_to_form]
    assert len(holding) == SEATS
    assert len({address for _, address in holding}) == SEATS
    booked = all_at_once(lambda pair: pair[0].enroll(pair[1]), holding)
    assert all(page.leads_to_own_page for page in booked)
    assert taken(server, code) == SEATS
    assert count(server, "count(*) FROM enrollment_enrollment x", code) == SEATS
    assert count(server, "sum(x.seats) FROM enrollment_booking x", code) == SEATS
    letters = "count(*) FROM enrollment_letter x"
    assert count(server, letters, code) == SEATS
    assert_no_trouble(server)


def test_everybody_else_is_told_that_nothing_was_booked(rushed):
    _, code, met = rushed
    told = [(person, page) for person, page in met if not page.leads_to_form]
    assert len(told) == RUSH - SEATS
    assert {(page.status, page.location) for _, page in told} == {
        (302, f"/open/{code}/?refused=no-seats")
    }
    person, page = told[0]
    shown = person.ask("GET", page.location)
    assert shown.status == 200
    assert "Nothing was booked" in shown.text
    assert f'action="/open/{code}/wait/"' in shown.text


def test_those_who_come_too_late_stand_on_the_list_in_the_order_they_came(rushed):
    server, code, met = rushed
    late = [person for person, page in met if not page.leads_to_form][:LATE]
    answers = all_at_once(Visitor.wait, late)
    assert {(page.status, page.location[:9]) for page in answers} == {(302, "/waiting/")}
    query = "SELECT x.name, x.state, x.made_at, x.id FROM enrollment_waiting x"
    listed = server.rows(f"{query} ORDER BY x.made_at, x.id")
    assert sorted(name for name, *_ in listed) == sorted(person.name for person in late)
    assert {state for _, state, *_ in listed} == {"waiting"}
    assert taken(server, code) == SEATS
    next_one = Visitor(server.port, code, "Guest who is last")
    next_one.open_class()
    page = next_one.ask("GET", next_one.wait().location)
    assert page.status == 200
    assert f"<dt>Ahead of you</dt><dd>{LATE}</dd>" in page.text
    assert_no_trouble(server)


def test_the_same_form_sent_many_times_at_once_is_one_booking(house):
    server, codes = house
    person = Visitor(server.port, codes["double"], "Guest with a quick finger")
    person.open_class()
    holds = all_at_once(lambda _: person.hold(), range(12))
    assert len({page.location for page in holds}) == 1
    assert taken(server, person.code) == 1
    address = holds[0].location
    booked = all_at_once(lambda _: person.enroll(address), range(12))
    assert all(page.leads_to_own_page for page in booked), booked
    assert len({page.location for page in booked}) == 1
    assert taken(server, person.code) == 1
    assert count(server, "count(*) FROM enrollment_booking x", person.code) == 1
    assert count(server, "count(*) FROM enrollment_enrollment x", person.code) == 1
    assert count(server, "count(*) FROM enrollment_letter x", person.code) == 1
    assert_no_trouble(server)


def test_groups_of_different_size_never_take_more_than_there_is(house):
    server, codes = house
    code = codes["several"]
    people = [Visitor(server.port, code, f"Group {n}") for n in range(24)]
    a_few_at_a_time(Visitor.open_class, people)
    sizes = {person.name: 1 + n % 6 for n, person in enumerate(people)}
    answers = all_at_once(lambda person: person.hold(sizes[person.name]), people)
    pairs = zip(people, answers, strict=True)
    held = sum(sizes[person.name] for person, page in pairs if page.leads_to_form)
    assert held == taken(server, code) <= SEATS
    assert held > SEATS - 6
    assert_no_trouble(server)


def test_many_forms_of_one_connection_hold_with_two_of_them(house):
    server, codes = house
    first = Visitor(server.port, codes["crowd"], "Guest 0", address="198.51.100.7")
    first.open_class()
    others = (replace(first, form_key=f"{number:024}crowd") for number in range(1, 12))
    answers = all_at_once(lambda person: person.hold(), [first, *others])
    assert sum(page.leads_to_form for page in answers) == 2 == taken(server, first.code)
    refused = {page.location for page in answers if not page.leads_to_form}
    assert refused == {f"/open/{first.code}/?refused=too-many-forms"}
    assert_no_trouble(server)


TRIES = (2, 3, 4, 9, 16)


@pytest.mark.parametrize(("turn", "tries"), list(enumerate(TRIES)))
def test_every_time_as_many_are_sold_as_there_are_or_were_wanted(house, turn, tries):
    server, codes = house
    for code in (codes[name] for name in SMALL[turn :: len(TRIES)]):
        first = Visitor(server.port, code, "Guest 0")
        first.open_class()
        others = (replace(first, form_key=f"{number:024}{code}") for number in range(1, tries))
        answers = all_at_once(lambda person: person.hold(), [first, *others])
        holding = {page.location for page in answers if page.leads_to_form}
        assert len(holding) == min(SMALL_SEATS, tries) == taken(server, code)
    assert_no_trouble(server)
