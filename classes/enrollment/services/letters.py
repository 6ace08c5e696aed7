"""Letters: written in the same transaction as what they tell, and sent once from the database.

A letter that was interrupted while being sent is not sent again: it may have gone out. It is shown
as failed, and a person decides.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import F, QuerySet
from django.template.loader import render_to_string
from django.urls import reverse

from classes.access import booking_token, student_token, waiting_token
from classes.calendars.feeds import class_ics
from classes.enrollment.models import Booking, Enrollment, Letter, Waiting
from classes.enrollment.public import open_class, public_class
from classes.enrollment.services.thanks import THANK_AFTER, THANK_UNTIL, came
from classes.models import ClassSession
from config import letter_files
from config.logs import without_private_words

MOST_TRIES = 6
FIRST_PAUSE = timedelta(minutes=2)
BROKEN_OFF_AFTER = timedelta(minutes=10)
REMIND_BEFORE = timedelta(days=2)
ERASED = "Erased"
BROKEN_OFF = "It broke off while being sent, so it may or may not have arrived."


@dataclass(frozen=True, slots=True)
class PersonLinks:
    """A person of a booking, with the addresses of their own page and of what to read before."""

    name: str
    address: str
    before: str


def address(name: str, *args: str) -> str:
    """The full address of a page, for letters and calendars."""
    return settings.SITE_URL.rstrip("/") + reverse(name, args=args)


def links_of(booking: Booking) -> tuple[PersonLinks, ...]:
    """Everybody's own link, the contact's first."""
    return _links(booking.people.order_by("position", "pk"))


def _links(people: QuerySet[Enrollment]) -> tuple[PersonLinks, ...]:
    return tuple(
        PersonLinks(one.name, address("classes:place", token), address("handouts:homework", token))
        for one, token in ((person, student_token(person)) for person in people)
    )


def write_confirmation(*, booking: Booking, at: datetime) -> Letter:
    """The letter that says what was booked, with the links and an entry for the calendar.

    Its caller has just confirmed or moved the booking, which happens only once at a moment.
    """
    session = _with_plan(booking.session_id)
    return _to_booking(
        booking,
        session,
        Letter.Kind.CONFIRMATION,
        f"{session.code} {at:%Y%m%d%H%M%S}",
        at,
        calendar=class_ics(session, at=at),
    )


def write_changes(*, session: ClassSession, at: datetime) -> tuple[Letter, ...]:
    """A letter to every booking that has not been told of the last change of time or place."""
    session = _with_plan(session.pk)
    ics = class_ics(session, at=at)
    number = str(session.change_number)
    return tuple(
        _to_booking(booking, session, Letter.Kind.CHANGE, number, at, calendar=ics)
        for booking in untold(session)
    )


def untold(session: ClassSession) -> tuple[Booking, ...]:
    """Confirmed bookings made before the last change for which no letter about it is written."""
    if not session.change_number:
        return ()
    told = _keys(Letter.Kind.CHANGE, str(session.change_number))
    written = set(session.letters.values_list("key", flat=True))
    return tuple(
        booking
        for booking in session.bookings.confirmed().exclude(email="")
        if booking.told_of < session.change_number and told.format(booking.pk) not in written
    )


def write_offer(*, entry: Waiting, at: datetime) -> Letter:
    """The letter to somebody on the waiting list for whom seats are held now."""
    assert entry.booking is not None  # noqa: S101
    session = _with_plan(entry.session_id)
    context = _context(session, at) | {
        "entry": entry,
        "held_until": _held_until(entry.booking, session),
        "take": address("classes:enroll", booking_token(entry.booking)),
        "list": address("classes:waiting", waiting_token(entry)),
    }
    key = f"{Letter.Kind.OFFER}|waiting {entry.pk}|{entry.booking.pk}"
    return _write(session, Letter.Kind.OFFER, key, entry.email, context, at, waiting=entry)


def _held_until(booking: Booking, session: ClassSession) -> str:
    """Until when the seats of an offer are held, on the clock of the kitchen."""
    assert booking.held_until is not None  # noqa: S101
    return session.kitchen.moment(booking.held_until).limit_beside(session.when.starts)


def write_canceled(*, booking: Booking, email: str, at: datetime) -> Letter:
    """The letter that says that a booking is canceled and what is given back."""
    session = _with_plan(booking.session_id)
    return _to_booking(booking, session, Letter.Kind.CANCELED, "", at, to=email)


def write_due_letters(*, at: datetime) -> int:
    """Reminders two days before a class, thanks after it: each once. How many were written.

    Thanks wait until somebody in a booking is marked as having come, for a week at most.
    """
    soon = ClassSession.objects.filter(starts_at__gt=at, starts_at__lte=at + REMIND_BEFORE)
    over = ClassSession.objects.filter(ends_at__lte=at - THANK_AFTER, ends_at__gt=at - THANK_UNTIL)
    return sum(
        _write_all(session, kind, at)
        for kind, sessions in ((Letter.Kind.REMINDER, soon), (Letter.Kind.THANKS, over))
        for session in sessions.filter(bookings__state=Booking.State.CONFIRMED).distinct()
    )


def _write_all(session: ClassSession, kind: Letter.Kind, at: datetime) -> int:
    written = set(session.letters.filter(kind=kind).values_list("key", flat=True))
    missing = [
        booking
        for booking in session.bookings.confirmed().exclude(email="")
        if _keys(kind, "").format(booking.pk) not in written and _is_for(booking, kind)
    ]
    if missing:
        session = _with_plan(session.pk)
    for booking in missing:
        _to_booking(booking, session, kind, "", at)
    return len(missing)


def _is_for(booking: Booking, kind: Letter.Kind) -> bool:
    """Only those who are marked as having come are thanked for coming."""
    return kind != Letter.Kind.THANKS or came(booking).exists()


def _with_plan(pk: int) -> ClassSession:
    return public_class(pk)


def _keys(kind: Letter.Kind, number: str) -> str:
    return f"{kind}|booking {{}}|{number}"


def _context(session: ClassSession, at: datetime) -> dict[str, Any]:
    return {
        "session": session,
        "title": " ".join(session.title.split()),
        "shown": open_class(session, at),
        "kitchen": session.kitchen,
    }


def _to_booking(
    booking: Booking,
    session: ClassSession,
    kind: Letter.Kind,
    number: str,
    at: datetime,
    *,
    calendar: str = "",
    to: str = "",
) -> Letter:
    context = _context(session, at) | {"booking": booking, "links": _links_for(kind, booking)}
    key = _keys(kind, number).format(booking.pk)
    email = to or booking.email
    return _write(session, kind, key, email, context, at, booking=booking, calendar=calendar)


def _links_for(kind: Letter.Kind, booking: Booking) -> tuple[PersonLinks, ...]:
    """Thanks go to those who came, all other letters to everybody."""
    return _links(came(booking)) if kind == Letter.Kind.THANKS else links_of(booking)


def _write(
    session: ClassSession,
    kind: Letter.Kind,
    key: str,
    to: str,
    context: dict[str, Any],
    at: datetime,
    **more: Any,
) -> Letter:
    """Write a letter by its key; one that already exists stays as it is."""
    subject, text = _words(f"letters/{kind.replace(' ', '_')}.txt", context)
    fields = {
        "session": session,
        "kind": kind,
        "to": to,
        "subject": subject,
        "text": text,
        "html": _html(subject, text),
        "not_before": at,
        "made_at": at,
        **more,
    }
    return Letter.objects.get_or_create(key=key, defaults=fields)[0]


def _html(subject: str, text: str) -> str:
    return render_to_string("letters/letter.html", {"text": text, "subject": subject})


def _words(template: str, context: dict[str, Any]) -> tuple[str, str]:
    """Subject and text: the first line of a letter's template is its subject."""
    subject, _, text = render_to_string(template, context).strip().partition("\n")
    return " ".join(subject.split())[:200], text.strip() + "\n"


def deliver_letters(*, at: datetime, most: int = 50) -> int:
    """Send what is due, each letter by only one process; returns how many went out."""
    broken = Letter.objects.filter(state=Letter.State.SENDING, not_before__lt=at - BROKEN_OFF_AFTER)
    broken.update(state=Letter.State.FAILED, problem=BROKEN_OFF)
    due = Letter.objects.due(at).exclude(to="").values_list("pk", flat=True)[:most]
    return sum(_deliver(pk, at) for pk in list(due))


def _deliver(pk: int, at: datetime) -> bool:
    mine = Letter.objects.filter(pk=pk, state=Letter.State.QUEUED)
    if not mine.update(state=Letter.State.SENDING, tries=F("tries") + 1, not_before=at):
        return False
    letter = Letter.objects.get(pk=pk)
    try:
        _message(letter).send()
    except Exception as error:
        problem = without_private_words(f"{type(error).__name__}: {error}")
        _try_later(letter, problem[:200], at)
        return False
    state = Letter.State.WRITTEN if letter_files.in_use() else Letter.State.SENT
    Letter.objects.filter(pk=pk).update(state=state, sent_at=at, problem="")
    return True


def _try_later(letter: Letter, problem: str, at: datetime) -> None:
    over = letter.tries >= MOST_TRIES
    pause = FIRST_PAUSE * 2 ** (letter.tries - 1)
    Letter.objects.filter(pk=letter.pk).update(
        state=Letter.State.FAILED if over else Letter.State.QUEUED,
        not_before=at + pause,
        problem=problem,
    )


def _message(letter: Letter) -> letter_files.RowMessage:
    message = letter_files.RowMessage(letter.pk, letter.subject, letter.text, letter.to)
    message.attach_alternative(letter.html, "text/html")
    if letter.calendar:
        message.attach("class.ics", letter.calendar, "text/calendar")
    return message


def send_again(*, letters: Iterable[Letter], at: datetime) -> int:
    """Queue failed letters again, when a person has decided to."""
    keys = [letter.pk for letter in letters]
    failed = Letter.objects.filter(pk__in=keys, state=Letter.State.FAILED)
    return failed.update(state=Letter.State.QUEUED, tries=0, not_before=at, problem="")


def erase_letters(letters: QuerySet[Letter]) -> None:
    """Remove everything personal from letters; those not sent yet never will be."""
    open_ones = letters.filter(state=Letter.State.QUEUED)
    open_ones.update(state=Letter.State.FAILED, problem="Erased before it was sent.")
    rows = list(letters.values_list("pk", flat=True))
    letters.update(to="", subject="", text="", html="", calendar="")
    transaction.on_commit(lambda: letter_files.remove(rows))


def forget_in_letters(*, booking: Booking, name: str) -> None:
    """Remove one person's name from the letters of a booking that others still belong to."""
    for letter in booking.letters.filter(text__contains=f"{name}: "):
        lines = letter.text.split("\n")
        letter.text = "\n".join(
            ERASED + line.removeprefix(name) if line.startswith(f"{name}: ") else line
            for line in lines
        )
        letter.html = _html(letter.subject, letter.text)
        letter.save(update_fields=["text", "html"])
        transaction.on_commit(partial(letter_files.write_anew, _message(letter)))


def sweep_letter_files() -> int:
    """Remove the files of letters that are erased or gone; returns how many."""
    kept = Letter.objects.exclude(to="")
    return letter_files.sweep(
        lambda rows: set(kept.filter(pk__in=rows).values_list("pk", flat=True))
    )
