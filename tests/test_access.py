"""Who may open what: every address of the site stands here once, and nothing else is open.

Columns: nobody signed in, a student with the right link, the class's assistant, another class's
assistant, the instructor who owns it, another instructor. `in` is a page, `login` a way to the
sign-in page, `404` says nothing at all, `405` a wrong method, `go` a redirect elsewhere.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from classes.access import booking_token, calendar_token, student_token, waiting_token
from classes.services.seats import recount_seats
from recipes.photo_services import add_photo
from tests.factories import (
    EnrollmentFactory,
    IngredientFactory,
    StepFactory,
    UserFactory,
    planned_class,
)

VISITORS = ("nobody", "assistant", "other assistant", "instructor", "other instructor")
EVERYBODY_SIGNED_IN = ("login", "in", "in", "in", "in")
INSTRUCTORS = ("login", "404", "404", "in", "in")
OWNER = ("login", "404", "404", "in", "404")
CLASS_STAFF = ("login", "in", "404", "in", "404")
WRONG_METHOD = ("login", "405", "405", "405", "405")
WRONG_METHOD_FOR_INSTRUCTORS = ("login", "404", "404", "405", "405")
OPEN = ("in", "in", "in", "in", "in")
NEVER = ("405", "405", "405", "405", "405")
REFUSED = ("400", "400", "400", "400", "400")
ONCE = ("in", "404", "404", "404", "404")  # done by the first, the link is gone for the rest

# name -> who may GET it
TABLE = {
    "home": EVERYBODY_SIGNED_IN,
    "sign-in": ("in", "go", "go", "go", "go"),
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
    "recipes:photos": OWNER,
    "recipes:photo": OWNER,
    "recipes:ingredients": INSTRUCTORS,
    "recipes:ingredient_new": INSTRUCTORS,
    "recipes:ingredient_edit": OWNER,
    "classes:list": EVERYBODY_SIGNED_IN,
    "classes:new": INSTRUCTORS,
    "classes:detail": CLASS_STAFF,
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
    "classes:letters": CLASS_STAFF,
    "classes:door": CLASS_STAFF,
    "classes:diets": CLASS_STAFF,
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
    "handouts:all": CLASS_STAFF,
    "handouts:one": CLASS_STAFF,
    "handouts:preparation": CLASS_STAFF,
    "handouts:station_cards": CLASS_STAFF,
    "handouts:run_sheet": CLASS_STAFF,
    "handouts:rise": OWNER,
    "handouts:homework": OPEN,
    "handouts:homework_pdf": OPEN,
    "handouts:student": OPEN,
    "handouts:student_pdf": OPEN,
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
    "classes:prepare": ("login", "404", "404", "404", "404"),  # the line posted does not exist
    "classes:water": OWNER,
    "classes:kitchen_new": INSTRUCTORS,
    "classes:kitchen": OWNER,
    "classes:pantry": OWNER,
    "classes:enrollment": OWNER,
    "classes:booking_cancel": OWNER,
    "classes:letters": OWNER,
    "classes:changes": CLASS_STAFF,
    "classes:hold": REFUSED,
    "classes:wait": REFUSED,
    "classes:enroll": OPEN,
    "classes:waiting": OPEN,
    "classes:place_change": OPEN,
    "classes:place_cancel": ONCE,
    "classes:place_erase": ONCE,
}


def _names(resolver: URLResolver, namespace: str = "") -> list[str]:
    names = []
    for pattern in resolver.url_patterns:
        if isinstance(pattern, URLPattern):
            names.append(namespace + (pattern.name or str(pattern.pattern)))
        elif pattern.namespace != "admin":
            inner = f"{pattern.namespace}:" if pattern.namespace else ""
            names += _names(pattern, namespace + inner)
    return names


@pytest.fixture
def world(db):
    """One class with everything in it, and a visitor of each kind."""
    instructor = UserFactory(username="ines")
    assistant = UserFactory(username="aske", role="assistant")
    other = UserFactory(username="olga")
    other_assistant = UserFactory(username="otto", role="assistant")
    session = planned_class(instructor=instructor, assistants=[assistant], is_open=True, seats=8)
    now = timezone.now()
    session.bookings.create(
        seats=1, form_key="held", held_until=now + timedelta(minutes=15), made_at=now
    )
    session.bookings.create(seats=1, form_key="confirmed", state="confirmed", made_at=now)
    session.waiting.create(name="Wim", email="wim@example.org", form_key="wait", made_at=now)
    recount_seats(session=session)
    planned_class(instructor=other, assistants=[other_assistant])
    revision = session.taught.get().revision
    revision.variants.create(name="Swapped")
    StepFactory(revision=revision, kind="bulk", waiting_min=60, temperature_c=25)
    recipe = session.taught.get().revision.recipe
    add_photo(recipe=recipe, picture=b"a picture", alt="A loaf")
    own = IngredientFactory(owner=instructor, key="own-flour", name="Own flour")
    users = (None, assistant, other_assistant, instructor, other)
    clients = {}
    for name, user in zip(VISITORS, users, strict=True):
        clients[name] = Client()
        if user:
            clients[name].force_login(user)
    return session, own, clients


def _confirmed(session):
    return session.bookings.filter(form_key="confirmed").first()


def _address(name, session, own) -> str:
    recipe = session.taught.get().revision.recipe
    student = session.enrollments.first()
    variant = recipe.revisions.get().variants.get()
    arguments = {
        "recipes:detail": [recipe.slug],
        "recipes:revision": [recipe.slug, 1],
        "recipes:edit": [recipe.slug],
        "recipes:pans": [recipe.slug],
        "recipes:exchange": [recipe.slug],
        "recipes:export_json": [recipe.slug],
        "recipes:export_jsonld": [recipe.slug],
        "recipes:photos": [recipe.slug],
        "recipes:photo": [recipe.slug, getattr(recipe.photos.first(), "pk", 0)],
        "recipes:adjust": [recipe.slug],
        "recipes:variants": [recipe.slug],
        "recipes:variant_remove": [recipe.slug, variant.pk],
        "recipes:ingredient_edit": [own.key],
        "classes:water": [recipe.slug],
        "classes:rise": [recipe.slug],
        "classes:kitchen": [session.kitchen_id],
        "classes:pantry": [session.kitchen_id],
        "classes:new_link": [session.code, student.pk],
        "classes:booking_cancel": [session.code, getattr(_confirmed(session), "pk", 0)],
        "classes:enroll": [booking_token(session.bookings.get(form_key="held"))],
        "classes:waiting": [waiting_token(session.waiting.get())],
        "classes:own_calendar": [calendar_token(session.instructor)],
        "classes:place": [student_token(student)],
        "classes:place_change": [student_token(student)],
        "classes:place_cancel": [student_token(student)],
        "classes:place_move": [student_token(student)],
        "classes:place_erase": [student_token(student)],
        "classes:place_data": [student_token(student)],
        "classes:event": [student_token(student)],
        "handouts:one": [session.code, student.pk],
        "handouts:rise": [recipe.slug],
        "handouts:homework": [student_token(student)],
        "handouts:homework_pdf": [student_token(student)],
        "handouts:student": [student_token(student)],
        "handouts:student_pdf": [student_token(student)],
    }
    needs_code = name.startswith(("classes:", "handouts:")) and name not in (
        "classes:list",
        "classes:new",
        "classes:verdict",
        "classes:kitchens",
        "classes:kitchen_new",
        "classes:open_list",
        "classes:calendar",
        "classes:all_money",
    )
    return reverse(name, args=arguments.get(name, [session.code] if needs_code else []))


def _outcome(response) -> str:
    if response.status_code == 302:
        return "login" if response.headers["Location"].startswith("/sign-in/") else "go"
    if 200 <= response.status_code < 300:
        return "in"
    return str(response.status_code)


def test_every_address_of_the_site_stands_in_the_table():
    assert sorted(_names(get_resolver())) == sorted(TABLE)


@pytest.mark.parametrize("name", TABLE)
def test_only_those_in_the_table_may_open(name, world):
    session, own, clients = world
    address = _address(name, session, own)
    seen = {who: _outcome(client.get(address)) for who, client in clients.items()}
    assert seen == dict(zip(VISITORS, TABLE[name], strict=True))


@pytest.mark.parametrize("name", sorted(TABLE.keys() - {"sign-in", "sign-out"}))
def test_only_those_in_the_table_may_change(name, world):
    session, own, clients = world
    address = _address(name, session, own)
    expected = dict(zip(VISITORS, CHANGES.get(name, ()), strict=False))
    for who, client in clients.items():
        outcome = _outcome(client.post(address, {}))
        wanted = expected.get(who)
        if wanted is None:
            assert outcome in ("login", "405", "404"), who
        elif wanted == "in":
            assert outcome in ("in", "go"), who
        else:
            assert outcome == wanted, who


@pytest.mark.parametrize("name", ["admin:index", "admin:login"])
def test_the_back_office_is_for_staff(name, world):
    _, _, clients = world
    response = clients["instructor"].get(reverse("admin:index"))
    assert response.status_code == 302


def test_a_link_of_another_student_opens_only_that_student(world):
    session, _, clients = world
    first, second = session.enrollments.all()[:2]
    page = clients["nobody"].get(reverse("handouts:student", args=[student_token(first)]))
    assert first.name in page.content.decode()
    assert second.name not in page.content.decode()


class TestStudentLinks:
    @pytest.fixture
    def student(self, db):
        return EnrollmentFactory(session=planned_class(), name="Ada Fennimore")

    def _open(self, token: str) -> int:
        return Client().get(reverse("handouts:student", args=[token])).status_code

    def test_the_true_one_opens(self, student):
        assert self._open(student_token(student)) == 200

    def test_no_changed_character_opens(self, student):
        token = student_token(student)
        opened = []
        for place, letter in enumerate(token):
            other = "A" if letter != "A" else "B"
            forged = token[:place] + other + token[place + 1 :]
            if self._open(forged) != 404:
                opened.append(forged)
        assert opened == []

    def test_a_renewed_one_closes_the_old(self, student):
        from classes.services.sessions import renew_link

        old = student_token(student)
        renew_link(enrollment=student)
        assert self._open(old) == 404
        assert self._open(student_token(student)) == 200

    def test_it_ends_some_weeks_after_the_class(self, student, settings):
        from datetime import timedelta

        from django.http import Http404

        from classes.access import enrollment_by_token

        ends = student.session.ends_at + timedelta(days=settings.LINK_DAYS)
        token = student_token(student)
        assert enrollment_by_token(token, at=ends - timedelta(minutes=1)) == student
        with pytest.raises(Http404):
            enrollment_by_token(token, at=ends + timedelta(minutes=1))

    def test_a_signature_made_for_something_else_does_not_open(self, student):
        from django.core.signing import Signer

        word = f"{student.pk}-{student.link_nonce}"
        assert self._open(Signer(salt="something else").sign(word)) == 404

    def test_it_says_nothing_private(self, student):
        student.must_not_eat = "sesame"
        student.save()
        assert "sesame" not in student_token(student)
