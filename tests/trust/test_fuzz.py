"""Anything at all, posted to every form: a page or a kind refusal, never an error of the server.

A few hundred posts in the suite; FUZZ_POSTS=5000 makes as many, each time other ones.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from classes.core.preparation import preparation
from classes.enrollment.services.seats import recount_seats
from classes.models import ClassSession
from classes.selectors import class_plan
from handouts.labels.sheets import LabelLayout
from tests.classes.sessions.class_fields import fields_of
from tests.site import Site, make_site
from tests.worlds import anew, made_once, undone

POSTS = int(os.environ.get("FUZZ_POSTS", "0"))
POSTS_IN_THE_SUITE = 90
KEY = "a" * 32


@dataclass(frozen=True)
class Aim:
    """A form: where it is, who sends it, what a person who knows what they want would send."""

    name: str
    who: str
    fields: Callable[[Site], dict[str, Any]] = field(default=lambda site: {})
    method: str = "post"
    htmx: bool = False
    answer: int = 302


def _hold(site: Site) -> dict[str, Any]:
    """Seats are held for those who come first, so nobody waits any longer."""
    site.session.waiting.update(state="left")
    return {"seats": "1", "form_key": KEY}


def _answers(site: Site) -> dict[str, Any]:
    return _diner("person-0-") | {"contact-email": "ada@example.org", "contact-phone": "0123"}


def _diner(prefix: str = "") -> dict[str, Any]:
    words = {"diet": "told", "allergens": ["sesame"], "must_not_eat": "no seeds"}
    return {f"{prefix}{name}": value for name, value in ({"name": "Ada Lomax"} | words).items()}


def _public_side(site: Site) -> dict[str, Any]:
    return {
        "is_open": "on",
        "about": "A loaf",
        "level": "first",
        "bring": "",
        "price": "38.00",
        "deposit": "10",
        "refund_days": "7",
        "transfer_days": "2",
        "least_people": "1",
        "decide_on": "2030-05-01",
    }


def _payment(site: Site) -> dict[str, Any]:
    return {
        "booking": site.confirmed().pk,
        "direction": "in",
        "amount": "38.00",
        "means": "cash",
        "paid_on": "2030-05-04",
        "note": "in an envelope",
        "form_key": KEY,
    }


def _hours(site: Site) -> dict[str, Any]:
    row = site.session.taught.get()
    return {
        "rises_in": "bench",
        "welcome_min": "10",
        "weighing_min": "20",
        "show_min": "5",
        "cleanup_min": "10",
        "break_clock": "12:30",
        "break_min": "10",
        f"taught-{row.pk}-mixing": "hand",
        f"taught-{row.pk}-pieces_a_place": "2",
    }


def _what_if(site: Site) -> dict[str, Any]:
    return {
        "room_c": "24",
        "people": "4",
        "earlier_min": "30",
        "show_min": "5",
    }


def _class(site: Site, **others: Any) -> dict[str, Any]:
    return fields_of(site.session, seats="4", **others)


def _roster(site: Site) -> dict[str, Any]:
    first, second = site.session.enrollments.all()[:2]
    return {
        "people-TOTAL_FORMS": "3",
        "people-INITIAL_FORMS": "2",
        "people-0-id": first.pk,
        "people-0-name": "Ada Lomax",
        "people-0-station": site.session.stations.first().pk,
        "people-0-must_not_eat": "sesame",
        "people-1-id": second.pk,
        "people-1-name": "Bea Holm",
        "people-2-name": "Cai Rowe",
    }


def _desk(site: Site) -> dict[str, Any]:
    return {
        "kinds": ["handouts", "station-cards"],
        "page": "letter",
        "layout": LabelLayout.LETTER_LARGE,
        "only_changed": "1",
    }


def _home(site: Site) -> dict[str, Any]:
    key = site.session.taught.get().revision_id
    pan = {"shape": "loaf", "length": "8.5", "width": "4.5", "depth": "2.5 in", "count": "2"}
    return {
        "measured": "cups",
        "flour_cup": "dipped",
        "degrees": "F",
        "sizes_in": "in",
        "mixed_by": "mixer",
        "fan": "on",
        "room_c": "66 F",
        "tap_c": "12.5",
        "altitude_m": "1200",
        "yeast": "active dry",
        "salt": "fine-sea-salt",
        "page": "letter",
        "large": "on",
        f"pieces_{key}": "3",
        f"pan_{key}_dough": "pan",
        **{f"pan_{key}_{name}": value for name, value in pan.items()},
    }


def _member() -> dict[str, Any]:
    return {
        "name": "Rosa Kernel",
        "email": "rosa@example.org",
        "roles": ["assistant", "instructor"],
    }


def _line(site: Site) -> str:
    """The first line of the preparation list."""
    plan = class_plan(ClassSession.objects.with_plan().get(pk=site.session.pk))
    return str(next(preparation(plan.amounts, plan.shopping).tasks()).key)


AIMS = {
    "hold": Aim("classes:hold", "nobody", _hold),
    "wait": Aim(
        "classes:wait",
        "nobody",
        lambda site: {"name": "Wim", "email": "w@example.org", "seats": "1", "form_key": KEY},
    ),
    "enroll": Aim("classes:enroll", "nobody", _answers),
    "waiting": Aim("classes:waiting", "nobody"),
    "change": Aim("classes:place_change", "nobody", lambda site: _diner()),
    "cancel": Aim("classes:place_cancel", "nobody", lambda site: {"all": "1"}, answer=200),
    "move": Aim("classes:place_move", "nobody", lambda site: {"to": site.other.pk}),
    "erase": Aim("classes:place_erase", "nobody", answer=200),
    "own data": Aim(
        "classes:place_data", "nobody", lambda site: {"format": "json"}, "get", answer=200
    ),
    "refused": Aim(
        "classes:open_class", "nobody", lambda site: {"refused": "no-seats"}, "get", answer=200
    ),
    "sign-in": Aim(
        "sign-in",
        "nobody",
        lambda site: {"username": "ines", "password": "x", "next": "/"},
        answer=200,
    ),
    "walk-in": Aim(
        "classes:door", "assistant", lambda site: _diner() | {"walk_in": "1", "form_key": KEY}
    ),
    "came": Aim(
        "classes:door", "assistant", lambda site: {"came": site.session.enrollments.first().pk}
    ),
    "public side": Aim("classes:enrollment", "instructor", _public_side),
    "payment": Aim("classes:money", "instructor", _payment),
    "choose booking": Aim(
        "classes:money",
        "instructor",
        lambda site: {"booking": site.confirmed().pk},
        "get",
        answer=200,
    ),
    "year": Aim(
        "classes:all_money",
        "instructor",
        lambda site: {"year": "2030", "format": "csv"},
        "get",
        answer=200,
    ),
    "letters": Aim("classes:letters", "instructor", lambda site: {"again": "1"}),
    "changes": Aim("classes:changes", "instructor"),
    "tick": Aim("classes:prepare", "assistant", lambda site: {"tick": _line(site)}),
    "untick": Aim(
        "classes:prepare",
        "assistant",
        lambda site: {"untick": _line(site)},
        htmx=True,
        answer=200,
    ),
    "tick a line of no list": Aim(
        "classes:prepare", "assistant", lambda site: {"tick": "scale|x"}, answer=404
    ),
    "hours settings": Aim("classes:hours_settings", "instructor", _hours),
    "hours settings in part": Aim(
        "classes:hours_settings",
        "instructor",
        lambda site: _hours(site) | {"check": "1"},
        htmx=True,
        answer=200,
    ),
    "what if": Aim("classes:what_if", "assistant", _what_if, "get", answer=200),
    "class": Aim("classes:edit", "instructor", _class),
    "new class": Aim(
        "classes:new",
        "instructor",
        lambda site: _class(site, **{"day": "2030-06-01", "taught-INITIAL_FORMS": "0"}),
    ),
    "class in part": Aim(
        "classes:edit",
        "instructor",
        lambda site: _class(site, add="taught"),
        htmx=True,
        answer=200,
    ),
    "verdict": Aim(
        "classes:verdict",
        "instructor",
        lambda site: _class(site, code=site.session.code),
        answer=200,
    ),
    "roster": Aim("classes:roster", "instructor", _roster),
    "print desk": Aim("handouts:desk", "assistant", _desk),
    "kitchen at home": Aim("handouts:at_home", "nobody", _home),
    "somebody new": Aim(
        "house:new", "owner of the site", lambda site: _member() | {"username": "rosa"}
    ),
    "somebody of the house": Aim("house:person", "owner of the site", lambda site: _member()),
    "new entry link": Aim("house:new_link", "owner of the site"),
    "let go": Aim("house:let_go", "owner of the site"),
    "own account": Aim(
        "house:account",
        "assistant",
        lambda site: {"name": "Aske Rye", "email": "aske@example.org"},
    ),
    "first password": Aim(
        "house:enter",
        "nobody",
        lambda site: dict.fromkeys(("new_password1", "new_password2"), "a pass phrase of mine"),
    ),
}

NASTY = st.sampled_from(
    (
        "",
        " ",
        "\0",
        "a\0b",
        "-1",
        "0",
        "1e400",
        "1e-400",
        "NaN",
        "-Infinity",
        "1_000",
        "１２",
        "𝟙𝟚",
        "²",
        "2147483648",
        "9223372036854775807",
        "9223372036854775808",
        "-9223372036854775809",
        "9" * 5000,
        "0001-01-01",
        "9999-12-31",
        "2030-02-30",
        "2030-03-31",
        "00:00",
        "02:30",
        "24:00",
        "23:59:59.999999",
        "a\r\nBcc: b@example.org",
        "ada@example.org\nx",
        f"{'b' * 300}@example.org",
        "ada@[127.0.0.1]",
        "ä@ö.example",
        "=1+1",
        "<script>x</script>",
        "{{ x }}{% y %}",
        "%00%s%n",
        "../../etc/passwd",
        "' OR 1=1 --",
        "\u202e\u2028\ufeff\ufffe",
        "\U0010ffff",
        "x" * 10_000,
        "é" * 10_000,
        "1" * 10_000,
    )
)
VALUE = st.one_of(NASTY, st.text(max_size=40), st.integers().map(str), st.floats().map(str))
VALUES = st.one_of(VALUE, st.lists(VALUE, max_size=3))
EXAMPLES = max(1, -(-(POSTS or POSTS_IN_THE_SUITE) // len(AIMS)))


def with_booked_student(site: Site) -> Site:
    """The first student has booked, and may move to the other class."""
    booking, person = site.confirmed(), site.session.enrollments.first()
    booking.name, person.booking = person.name, booking
    booking.save()
    person.save()
    recount_seats(session=site.session)
    ClassSession.objects.filter(pk=site.other.pk).update(is_open=True)
    return site


site_made_once = made_once(lambda: with_booked_student(make_site()))


@pytest.fixture
def site(site_made_once, db, settings):
    settings.PUBLIC_POSTS_A_MINUTE = 10**9
    return anew(site_made_once)


def _sent(aim: Aim, site: Site, data: st.DataObject) -> dict[str, Any]:
    """The form as it should be, with some fields left out and some filled with anything."""
    fields = aim.fields(site)
    for name in data.draw(st.lists(st.sampled_from(sorted(fields)), max_size=3, unique=True)):
        if data.draw(st.integers(0, 3)):
            fields[name] = data.draw(VALUES, label=name)
        else:
            del fields[name]
    return fields | data.draw(st.dictionaries(st.text(max_size=12), VALUES, max_size=2))


def _headers(aim: Aim) -> dict[str, str]:
    return {"HX-Request": "true", "HX-Target": "answer"} if aim.htmx else {}


@pytest.mark.parametrize("name", AIMS)
def test_no_form_breaks_the_server_whatever_is_sent(name, site):
    aim = AIMS[name]
    address, client = site.address(aim.name), site.clients[aim.who]
    headers = _headers(aim)

    @settings(
        max_examples=EXAMPLES,
        deadline=None,
        database=None,
        derandomize=not POSTS,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.data())
    def send(data):
        fields = _sent(aim, site, data) if aim.fields(site) else data.draw(_ANY_FIELDS)
        with undone():
            response = getattr(client, aim.method)(address, fields, headers=headers, follow=True)
        assert response.status_code < 500

    send()


_ANY_FIELDS = st.dictionaries(st.text(max_size=12), VALUES, max_size=4)


@pytest.mark.parametrize("name", AIMS)
def test_the_form_as_it_should_be_is_taken(name, site):
    """So that what is spoiled above is spoiled from something that works."""
    aim = AIMS[name]
    send, headers = getattr(site.clients[aim.who], aim.method), _headers(aim)
    answer = send(site.address(aim.name), aim.fields(site), headers=headers)
    assert answer.status_code == aim.answer


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/New_York"])
def test_a_class_at_the_end_of_the_calendar_is_refused_in_words(day, zone, site):
    site.session.kitchen.time_zone = zone
    site.session.kitchen.save()
    fields = _class(site, day=day, starts="00:00", ends="23:59")
    page = site.clients["instructor"].post(site.address("classes:edit"), fields)
    assert "Enter a year from 2000 to 2100." in page.content.decode()


@pytest.mark.parametrize("name", ["stations", "assistants"])
@pytest.mark.parametrize("key", ["9223372036854775808", "-36893488147419103232", "9" * 5000])
def test_a_key_longer_than_any_is_refused_in_words(name, key, site):
    """Django asks the database for all chosen keys at once, and SQLite takes 64 bits."""
    fields = _class(site) | {name: [key]}
    page = site.clients["instructor"].post(site.address("classes:edit"), fields)
    assert page.context["form"].errors[name]
    assert site.session.stations.exists()


@pytest.mark.parametrize("announced", ["-1", "0"])
def test_a_recipe_that_another_window_added_is_not_added_twice(announced, site):
    fields = _class(site) | {"taught-INITIAL_FORMS": announced}
    page = site.clients["instructor"].post(site.address("classes:edit"), fields)
    assert "A recipe is listed twice." in page.content.decode()
    assert site.session.taught.count() == 1
