"""One class with everything in it, a visitor of each kind, and the address of every page."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.contrib.auth.models import User
from django.test import Client
from django.urls import URLPattern, URLResolver, reverse
from django.utils import timezone

from classes.access import (
    booking_token,
    calendar_token,
    home_code,
    home_token,
    student_token,
    waiting_token,
)
from classes.enrollment.models import Booking
from classes.enrollment.services.seats import recount_seats
from classes.models import ClassSession
from house.access import entry_token
from house.models import EntryLink
from house.services import new_entry_link
from recipes.models import Ingredient
from recipes.photos.services import add_photo
from tests.factories import IngredientFactory, StepFactory, UserFactory, planned_class

VISITORS = (
    "nobody",
    "assistant",
    "other assistant",
    "instructor",
    "other instructor",
    "owner of the site",
)
NOTES = "canary-notes-5530"
NEWCOMER = "nora"
WITHOUT_CODE = (
    "classes:list",
    "classes:new",
    "classes:verdict",
    "classes:kitchens",
    "classes:kitchen_new",
    "classes:open_list",
    "classes:calendar",
    "classes:all_money",
    "handouts:safety_words",
)


@dataclass(frozen=True)
class Site:
    """A class, somebody else's class, an ingredient of the instructor, and the visitors."""

    session: ClassSession
    other: ClassSession
    own: Ingredient
    clients: dict[str, Client]

    def confirmed(self) -> Booking | None:
        return self.session.bookings.filter(form_key="confirmed").first()

    def address(self, name: str) -> str:
        """Where the page of that name is, for this class and its first student."""
        arguments = self._arguments()
        with_code = name.startswith(("classes:", "handouts:")) and name not in WITHOUT_CODE
        return reverse(name, args=arguments.get(name, [self.session.code] if with_code else []))

    def _arguments(self) -> dict[str, list[Any]]:
        recipe = self.session.taught.get().revision.recipe
        student = self.session.enrollments.first()
        variant = recipe.revisions.get().variants.get()
        newcomer = User.objects.get(username=NEWCOMER)
        return {
            "recipes:detail": [recipe.slug],
            "recipes:revision": [recipe.slug, 1],
            "recipes:edit": [recipe.slug],
            "recipes:pans": [recipe.slug],
            "recipes:exchange": [recipe.slug],
            "recipes:export_json": [recipe.slug],
            "recipes:export_jsonld": [recipe.slug],
            "recipes:export_text": [recipe.slug],
            "recipes:photos": [recipe.slug],
            "recipes:photo": [recipe.slug, getattr(recipe.photos.first(), "pk", 0)],
            "recipes:adjust": [recipe.slug],
            "recipes:variants": [recipe.slug],
            "recipes:variant_remove": [recipe.slug, variant.pk],
            "recipes:ingredient_edit": [self.own.key],
            "classes:water": [recipe.slug],
            "classes:rise": [recipe.slug],
            "classes:kitchen": [self.session.kitchen_id],
            "classes:pantry": [self.session.kitchen_id],
            "classes:new_link": [self.session.code, student.pk],
            "classes:booking_cancel": [self.session.code, getattr(self.confirmed(), "pk", 0)],
            "classes:enroll": [booking_token(self.session.bookings.get(form_key="held"))],
            "classes:waiting": [waiting_token(self.session.waiting.get())],
            "classes:own_calendar": [calendar_token(self.session.instructor)],
            "classes:place": [student_token(student)],
            "classes:place_change": [student_token(student)],
            "classes:place_cancel": [student_token(student)],
            "classes:place_move": [student_token(student)],
            "classes:place_erase": [student_token(student)],
            "classes:place_data": [student_token(student)],
            "classes:event": [student_token(student)],
            "handouts:pack": [self.session.code, getattr(self.session.packs.first(), "pk", 0)],
            "handouts:pack_pdf": [self.session.code, getattr(self.session.packs.first(), "pk", 0)],
            "handouts:papers": [self.session.code, "handouts"],
            "handouts:paper": [self.session.code, "handouts", student.pk],
            "handouts:look": [self.session.code, "handouts", student.pk],
            "handouts:picture": [self.session.code, "handouts", student.pk, 1],
            "handouts:rise": [recipe.slug],
            "handouts:homework": [student_token(student)],
            "handouts:homework_pdf": [student_token(student)],
            "handouts:student": [student_token(student)],
            "handouts:student_pdf": [student_token(student)],
            "handouts:short_address": [home_code(student)],
            "handouts:at_home": [home_token(student)],
            "handouts:at_home_pdf": [home_token(student)],
            "house:person": [newcomer.pk],
            "house:new_link": [newcomer.pk],
            "house:let_go": [newcomer.pk],
            "house:take_back": [newcomer.pk],
            "house:enter": [entry_token(_link_of(newcomer))],
        }


def make_site() -> Site:
    """A class of eight seats, open, with two students, held and confirmed seats and a queue."""
    instructor = UserFactory(username="ines")
    assistant = UserFactory(username="aske", role="assistant")
    other = UserFactory(username="olga")
    other_assistant = UserFactory(username="otto", role="assistant")
    session = planned_class(
        instructor=instructor, assistants=[assistant], is_open=True, seats=8, notes=NOTES
    )
    now = timezone.now()
    session.bookings.create(
        seats=1, form_key="held", held_until=now + timedelta(minutes=15), made_at=now
    )
    session.bookings.create(seats=1, form_key="confirmed", state="confirmed", made_at=now)
    session.waiting.create(name="Wim", email="wim@example.org", form_key="wait", made_at=now)
    recount_seats(session=session)
    session.packs.create(
        by=instructor, kinds=["handouts"], page_size="a4", state="done", pdf=b"%PDF-", made_at=now
    )
    elsewhere = planned_class(instructor=other, assistants=[other_assistant])
    revision = session.taught.get().revision
    revision.variants.create(name="Swapped")
    StepFactory(revision=revision, kind="bulk", waiting_min=60, temperature_c=25)
    add_photo(recipe=revision.recipe, picture=b"a picture", alt="A loaf")
    own = IngredientFactory(owner=instructor, key="own-flour", name="Own flour")
    keeper = UserFactory(username="olaf", role="", is_staff=True, is_superuser=True)
    newcomer = UserFactory(username=NEWCOMER, role="assistant")
    new_entry_link(user=newcomer, at=now)
    users = (None, assistant, other_assistant, instructor, other, keeper)
    clients = {name: _client(user) for name, user in zip(VISITORS, users, strict=True)}
    return Site(session, elsewhere, own, clients)


def _link_of(user: User) -> EntryLink:
    """Their open link, or the one they had before they were let go."""
    return EntryLink.objects.filter(user=user).first() or EntryLink(user=user, pk=0)


class SiteClient(Client):
    """A client that reads a file that it is sent to its end, which closes it."""

    def request(self, **request: Any) -> Any:
        answer = super().request(**request)
        if answer.streaming:
            answer.getvalue()
        return answer


def _client(user: Any) -> Client:
    client = SiteClient()
    if user:
        client.force_login(user)
    return client


def names_of(resolver: URLResolver, namespace: str = "") -> list[str]:
    """Every named address below a resolver, without those of the back office."""
    names = []
    for pattern in resolver.url_patterns:
        if isinstance(pattern, URLPattern):
            names.append(namespace + (pattern.name or str(pattern.pattern)))
        elif pattern.namespace != "admin":
            inner = f"{pattern.namespace}:" if pattern.namespace else ""
            names += names_of(pattern, namespace + inner)
    return names
