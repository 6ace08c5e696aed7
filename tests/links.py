"""Two of everything that a signed link opens, each pair in one class, with words to look for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from django.db.models import Model
from django.utils import timezone
from pypdf import PdfReader

from classes.access import booking_token, calendar_token, home_token, student_token, waiting_token
from classes.enrollment.models.booking import new_link_nonce
from classes.enrollment.services.seats import Diner
from classes.models import ClassSession
from house.access import entry_token
from house.services import new_entry_link
from tests.classes.enrollment.enrolled import CANARY, enrolled, held, key, open_class
from tests.factories import UserFactory

# page -> whose link it takes
KINDS = {
    "classes:place": "student",
    "classes:place_change": "student",
    "classes:place_cancel": "student",
    "classes:place_move": "student",
    "classes:place_erase": "student",
    "classes:place_data": "student",
    "classes:event": "student",
    "handouts:homework": "student",
    "handouts:homework_pdf": "student",
    "handouts:student": "student",
    "handouts:student_pdf": "student",
    "handouts:at_home": "home",
    "handouts:at_home_pdf": "home",
    "classes:enroll": "booking",
    "classes:waiting": "waiting",
    "classes:own_calendar": "staff",
    "house:enter": "entry",
}
POSTED = ("classes:place_cancel", "classes:place_move")


@dataclass(frozen=True)
class Pair:
    """The one a test is about, another one, and the words that are the first one's alone."""

    one: Model
    another: Model
    sign: Callable[[Any], str]
    words: tuple[str, ...]

    def token(self, *, other: bool = False) -> str:
        return self.sign(self.another if other else self.one)

    def revoke(self) -> None:
        if hasattr(self.one, "link_nonce"):
            self.one.link_nonce = new_link_nonce()
        else:
            self.one.set_password("another made-up pass phrase")
        self.one.save()

    def untouched(self) -> bool:
        """Whether the first one's row still says what it said."""
        rows = type(self.one)._default_manager
        now = rows.filter(pk=self.one.pk).values().first()
        return now == {name: getattr(self.one, name) for name in now or {"pk": 0}}


class Links(dict[str, Pair]):
    """A pair for each kind of link; `session` is the class of the first ones."""

    session: ClassSession


def make_links() -> Links:
    """Two bookings, held seats and places in the queue of one class, and two teachers.

    Two people are new in the house.
    """
    session = open_class(seats=8)
    elsewhere = open_class(title="Quick loaves")
    told = Diner("Ada Lomax", "told", ("sesame",), CANARY)
    people = [
        enrolled(session, told).people.get(),
        enrolled(session, Diner("Bea Holm"), email="bea@example.org").people.get(),
    ]
    seats = [held(session), held(session)]
    for booking, name in zip(seats, ("Cai Rowe", "Dov Marsh"), strict=True):
        booking.name, booking.email = name, f"{name[:3].lower()}@example.org"
        booking.save()
    queue = [_waits(session, name) for name in ("Eli Stone", "Fay Brook")]
    entries = [
        new_entry_link(user=UserFactory(username=name), at=timezone.now())
        for name in ("gil-newcomer", "hana-newcomer")
    ]
    links = Links(
        student=Pair(*people, student_token, ("Ada Lomax", "ada@example.org", CANARY)),
        home=Pair(*people, home_token, ("Ada Lomax",)),
        booking=Pair(*seats, booking_token, ("Cai Rowe", "cai@example.org")),
        waiting=Pair(*queue, waiting_token, ("Eli Stone", "eli@example.org")),
        staff=Pair(session.instructor, elsewhere.instructor, calendar_token, (session.title,)),
        entry=Pair(*entries, entry_token, ("gil-newcomer",)),
    )
    links.session = session
    return links


def _waits(session: ClassSession, name: str) -> Model:
    email, now = f"{name[:3].lower()}@example.org", session.bookings.first().made_at
    return session.waiting.create(name=name, email=email, form_key=key(), made_at=now)


def words_of(pdf: bytes) -> str:
    """The text of a PDF."""
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
