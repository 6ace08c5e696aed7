"""Who may open what: every address of the site stands here once, and nothing else is open.

Columns: nobody signed in, the class's assistant, another class's assistant, the instructor who
owns it, another instructor, the owner of the site (a superuser). `in` is a page, `login` a way to
the sign-in page, `404` says nothing at all, `405` a wrong method, `go` a redirect elsewhere.

A second table holds the pages under a signed link: what opens by which state of the link.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.contrib import admin
from django.core.signing import Signer
from django.test import Client
from django.urls import get_resolver, reverse
from django.utils import timezone

from tests.classes.diets.deciding import decision_said
from tests.links import KINDS, POSTED, make_links, words_of
from tests.site import NOTES, VISITORS, make_site, names_of
from tests.worlds import anew, made_once

EVERYBODY_SIGNED_IN = ("login", "in", "in", "in", "in", "in")
INSTRUCTORS = ("login", "404", "404", "in", "in", "in")
OWNER = ("login", "404", "404", "in", "404", "404")
CLASS_STAFF = ("login", "in", "404", "in", "404", "404")
WRONG_METHOD = ("login", "405", "405", "405", "405", "405")
WRONG_METHOD_FOR_INSTRUCTORS = ("login", "404", "404", "405", "405", "405")
# Another instructor, as the owner of the site, reads when, where and what; nobody's name.
KNOWN = ("login", "in", "404", "in", "in", "in")
KEEPER = ("login", "404", "404", "404", "404", "in")
OPEN = ("in", "in", "in", "in", "in", "in")
LEADS_ON = ("go", "go", "go", "go", "go", "go")
NEVER = ("405", "405", "405", "405", "405", "405")
REFUSED = ("400", "400", "400", "400", "400", "400")
ONCE = ("in", "404", "404", "404", "404", "404")  # done by the first, the link is gone for the rest

# name -> who may GET it
TABLE = {
    "home": EVERYBODY_SIGNED_IN,
    "sign-in": ("in", "go", "go", "go", "go", "go"),
    "sign-out": WRONG_METHOD,
    "health": OPEN,
    "robots": OPEN,
    "recipes:list": INSTRUCTORS,
    "recipes:new": INSTRUCTORS,
    "recipes:bring": INSTRUCTORS,
    "recipes:detail": OWNER,
    "recipes:revision": OWNER,
    "recipes:edit": OWNER,
    "recipes:pans": OWNER,
    "recipes:exchange": OWNER,
    "recipes:adjust": OWNER,
    "recipes:variants": OWNER,
    "recipes:variant_remove": WRONG_METHOD_FOR_INSTRUCTORS,
    "recipes:export_json": OWNER,
    "recipes:export_jsonld": OWNER,
    "recipes:export_text": OWNER,
    "recipes:photos": OWNER,
    "recipes:photo": OWNER,
    "recipes:ingredients": INSTRUCTORS,
    "recipes:ingredient_new": INSTRUCTORS,
    "recipes:ingredient_edit": OWNER,
    "classes:list": EVERYBODY_SIGNED_IN,
    "classes:new": INSTRUCTORS,
    "classes:detail": KNOWN,
    "classes:edit": OWNER,
    "classes:hours": CLASS_STAFF,
    "classes:hours_settings": OWNER,
    "classes:what_if": CLASS_STAFF,
    "classes:verdict": WRONG_METHOD,
    "classes:roster": CLASS_STAFF,
    "classes:new_link": WRONG_METHOD,
    "classes:amounts": CLASS_STAFF,
    "classes:amounts_json": CLASS_STAFF,
    "classes:amounts_csv": CLASS_STAFF,
    "classes:prepare": CLASS_STAFF,
    "classes:water": OWNER,
    "classes:rise": OWNER,
    "classes:kitchens": INSTRUCTORS,
    "classes:kitchen_new": INSTRUCTORS,
    "classes:kitchen": OWNER,
    "classes:pantry": OWNER,
    "classes:enrollment": OWNER,
    "classes:booking_cancel": WRONG_METHOD,
    "classes:money": OWNER,
    "classes:money_csv": OWNER,
    "classes:costs": OWNER,
    "classes:letters": CLASS_STAFF,
    "classes:door": CLASS_STAFF,
    "classes:diets": CLASS_STAFF,
    "classes:diet_decide": WRONG_METHOD,
    "classes:changes": CLASS_STAFF,
    "classes:all_money": INSTRUCTORS,
    "classes:open_list": OPEN,
    "classes:open_class": OPEN,
    "classes:hold": NEVER,
    "classes:wait": NEVER,
    "classes:enroll": OPEN,
    "classes:waiting": OPEN,
    "classes:calendar": OPEN,
    "classes:own_calendar": OPEN,
    "classes:place": OPEN,
    "classes:place_change": OPEN,
    "classes:place_cancel": NEVER,
    "classes:place_move": NEVER,
    "classes:place_erase": OPEN,
    "classes:place_data": OPEN,
    "classes:event": OPEN,
    "handouts:desk": CLASS_STAFF,
    "handouts:pack": CLASS_STAFF,
    "handouts:pack_pdf": CLASS_STAFF,
    "handouts:papers": CLASS_STAFF,
    "handouts:paper": CLASS_STAFF,
    "handouts:look": CLASS_STAFF,
    "handouts:picture": CLASS_STAFF,
    "handouts:rise": OWNER,
    "handouts:safety_words": INSTRUCTORS,
    "handouts:homework": OPEN,
    "handouts:homework_pdf": OPEN,
    "handouts:student": OPEN,
    "handouts:student_pdf": OPEN,
    "handouts:short_address": LEADS_ON,
    "handouts:at_home": OPEN,
    "handouts:at_home_pdf": OPEN,
    "house:people": KEEPER,
    "house:new": KEEPER,
    "house:person": KEEPER,
    "house:measures": KEEPER,
    "house:new_link": WRONG_METHOD,
    "house:let_go": WRONG_METHOD,
    "house:take_back": WRONG_METHOD,
    "house:account": EVERYBODY_SIGNED_IN,
    "house:password": EVERYBODY_SIGNED_IN,
    "house:enter": OPEN,
}

# POSTs that change something -> who may do them; the rest of the table answers 404 or 405
CHANGES = {
    "recipes:new": INSTRUCTORS,
    "recipes:bring": INSTRUCTORS,
    "recipes:photos": OWNER,
    "recipes:edit": OWNER,
    "recipes:adjust": OWNER,
    "recipes:variants": OWNER,
    "recipes:variant_remove": OWNER,
    "recipes:ingredient_new": INSTRUCTORS,
    "recipes:ingredient_edit": OWNER,
    "classes:new": INSTRUCTORS,
    "classes:edit": OWNER,
    "classes:hours": OWNER,
    "classes:hours_settings": OWNER,
    "classes:verdict": INSTRUCTORS,
    "classes:roster": OWNER,
    "classes:new_link": OWNER,
    "classes:prepare": (
        "login",
        "404",
        "404",
        "404",
        "404",
        "404",
    ),  # the line posted does not exist
    "classes:water": OWNER,
    "classes:kitchen_new": INSTRUCTORS,
    "classes:kitchen": OWNER,
    "classes:pantry": OWNER,
    "classes:enrollment": OWNER,
    "classes:booking_cancel": OWNER,
    "classes:letters": OWNER,
    "classes:door": CLASS_STAFF,
    "classes:diet_decide": CLASS_STAFF,
    "classes:money": OWNER,
    "classes:costs": OWNER,
    "classes:changes": CLASS_STAFF,
    "classes:hold": REFUSED,
    "classes:wait": REFUSED,
    "classes:enroll": OPEN,
    "classes:waiting": OPEN,
    "classes:place_change": OPEN,
    "classes:place_cancel": ONCE,
    "classes:place_erase": ONCE,
    "handouts:at_home": OPEN,
    "handouts:desk": CLASS_STAFF,
    "house:new": KEEPER,
    "house:measures": KEEPER,
    "house:person": KEEPER,
    "house:new_link": KEEPER,
    "house:let_go": KEEPER,
    "house:take_back": KEEPER,
    "house:account": EVERYBODY_SIGNED_IN,
    "house:password": EVERYBODY_SIGNED_IN,
    "house:enter": OPEN,
}


# what a POST has to say before it is asked who sent it
SAID = {
    "handouts:desk": lambda site: {"kinds": "handouts", "page": "a4"},
    "classes:door": lambda site: {"regroup": "1"},
    "classes:diet_decide": lambda site: decision_said(site.session),
    "classes:money": lambda site: {
        "booking": site.confirmed().pk,
        "direction": "in",
        "amount": "10",
        "means": "cash",
        "paid_on": "2030-05-04",
        "form_key": "k" * 32,
    },
}


site_made_once = made_once(make_site)


@pytest.fixture
def site(site_made_once, db):
    return anew(site_made_once)


def _outcome(response) -> str:
    if response.status_code == 302:
        return "login" if response.headers["Location"].startswith("/sign-in/") else "go"
    if 200 <= response.status_code < 300:
        return "in"
    return str(response.status_code)


def test_every_address_of_the_site_stands_in_the_table():
    assert sorted(names_of(get_resolver())) == sorted(TABLE)


@pytest.mark.parametrize("name", TABLE)
def test_only_those_in_the_table_may_open(name, site):
    address, clients = site.address(name), site.clients
    seen = {who: _outcome(client.get(address)) for who, client in clients.items()}
    assert seen == dict(zip(VISITORS, TABLE[name], strict=True))


@pytest.mark.parametrize("name", sorted(TABLE.keys() - {"sign-in", "sign-out"}))
def test_only_those_in_the_table_may_change(name, site):
    address, clients = site.address(name), site.clients
    expected = dict(zip(VISITORS, CHANGES.get(name, ()), strict=False))
    said = SAID.get(name, lambda site: {})(site)
    for who, client in clients.items():
        outcome = _outcome(client.post(address, said))
        wanted = expected.get(who)
        if wanted is None:
            assert outcome in ("login", "405", "404"), who
        elif wanted == "in":
            assert outcome in ("in", "go"), who
        else:
            assert outcome == wanted, who


BACK_OFFICE = {
    "admin:index": ("go", "go", "go", "go", "go", "in"),
    "admin:recipes_recipe_changelist": ("login", "go", "go", "go", "go", "in"),
    "admin:auth_user_changelist": ("login", "go", "go", "go", "go", "in"),
}


@pytest.mark.parametrize("name", BACK_OFFICE)
def test_the_back_office_is_for_the_owner_of_the_site(name, site):
    seen = {who: _outcome(one.get(reverse(name))) for who, one in site.clients.items()}
    assert seen == dict(zip(VISITORS, BACK_OFFICE[name], strict=True))


def test_the_back_office_holds_no_class_no_person_in_one_and_no_money():
    assert not [
        one for one in admin.site._registry if one._meta.app_label in ("classes", "enrollment")
    ]


class TestAnotherInstructor:
    """They read when, where and what of a class, and nothing about anybody in it."""

    PRIVATE = ("Ada Lomax", "ada@example.org", "canary-saffron", "Aske", "aske", NOTES)

    @pytest.fixture(params=["other instructor", "owner of the site"])
    def text(self, site, request):
        session = site.session
        person = session.enrollments.first()
        person.name, person.must_not_eat, person.diet = "Ada Lomax", "canary-saffron", "told"
        person.save()
        session.bookings.update(name="Ada Lomax", email="ada@example.org")
        session.price_minor = 7741
        session.save()
        page = site.clients[request.param].get(site.address("classes:detail"))
        return page.content.decode()

    def test_the_plain_facts_are_there(self, text, site):
        session = site.session
        for fact in (
            session.title,
            "Saturday 4 May 2030, 10:00",
            session.kitchen.name,
            session.taught.get().revision.title,
            "ines",
        ):
            assert fact in text, fact

    def test_notes_names_diets_and_money_are_not(self, text):
        assert [word for word in (*self.PRIVATE, "77.41") if word in text] == []

    def test_nothing_leads_further_in(self, text, site):
        assert f"/classes/{site.session.code}/" not in text

    def test_the_instructor_does_read_what_is_private(self, text, site):
        page = site.clients["instructor"].get(site.address("classes:detail")).content.decode()
        assert "Ada Lomax" in page
        assert NOTES in page


# state of the link -> what answers, for the pages under a student's own link
STUDENT = {"own": "in", "expired": "404", "revoked": "404", "forged": "404", "other salt": "404"}
LINKED = {
    "classes:place": STUDENT,
    "classes:place_change": STUDENT,
    "classes:place_cancel": STUDENT,
    "classes:place_move": STUDENT,
    "classes:place_erase": STUDENT,
    "classes:place_data": STUDENT,
    "classes:event": STUDENT,
    "handouts:homework": STUDENT,
    "handouts:homework_pdf": STUDENT,
    "handouts:student": STUDENT,
    "handouts:student_pdf": STUDENT,
    "handouts:at_home": STUDENT,
    "handouts:at_home_pdf": STUDENT,
    # seats that are held no longer: a page says so, and how to take them anew
    "classes:enroll": STUDENT | {"expired": "410"},
    "classes:waiting": STUDENT,
    # a calendar is read for years; a new password or a closed account ends its address
    "classes:own_calendar": STUDENT | {"expired": "in"},
    "house:enter": STUDENT,
}


links_made_once = made_once(make_links)


@pytest.fixture
def links(links_made_once, db):
    return anew(links_made_once)


def _open(name: str, token: str):
    send = Client().post if name in POSTED else Client().get
    return send(reverse(name, args=[token]), {"all": "1"} if name in POSTED else {})


def _flipped(token: str) -> str:
    return ("A" if token[0] != "A" else "B") + token[1:]


def test_every_page_that_takes_a_token_stands_in_the_second_table():
    taking = {name for name in TABLE if "token" in str(_route(name))}
    assert taking == LINKED.keys() == KINDS.keys()


def _route(name: str):
    namespace, _, last = name.rpartition(":")
    found = get_resolver()
    if namespace:
        found = found.namespace_dict[namespace][1]
    return found.reverse_dict.getlist(last)


@pytest.mark.parametrize("state", STUDENT)
@pytest.mark.parametrize("name", LINKED)
def test_a_link_opens_what_the_second_table_says(name, state, links, monkeypatch):
    kind = links[KINDS[name]]
    token = kind.token()
    if state == "revoked":
        kind.revoke()
    elif state == "forged":
        token = _flipped(token)
    elif state == "other salt":
        token = Signer(salt="something else").sign(token.rpartition(":")[0])
    elif state == "expired":
        later = links.session.ends_at + timedelta(days=61)
        monkeypatch.setattr(timezone, "now", lambda: later)
    assert _outcome(_open(name, token)) == LINKED[name][state]


@pytest.mark.parametrize("name", sorted(LINKED.keys() - {"classes:event"}))
def test_another_ones_link_opens_only_what_is_theirs(name, links):
    """Two people in one class: the page of each holds nothing of the other."""
    kind = links[KINDS[name]]
    if name in POSTED:
        _open(name, kind.token(other=True))
        assert kind.untouched()
        return
    page = _open(name, kind.token(other=True))
    assert page.status_code == 200
    if page.headers["Content-Type"] == "application/pdf":
        text = words_of(page.content)
    else:
        text = page.content.decode()
    assert [word for word in kind.words if word in text] == []


@pytest.mark.parametrize("made_for", ["student", "booking", "waiting", "staff", "entry"])
@pytest.mark.parametrize("name", LINKED)
def test_a_word_signed_for_one_purpose_opens_no_other(name, made_for, links):
    answer = _open(name, links[made_for].token()).status_code
    assert (answer == 404) == (made_for != KINDS[name])
