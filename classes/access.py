"""The only way to fetch a class, a kitchen or an enrollment for a user; others get 404."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TypeVar

from django.conf import settings
from django.contrib.auth.models import User
from django.core.signing import BadSignature, Signer
from django.db.models import QuerySet
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils.crypto import constant_time_compare, salted_hmac

from classes.enrollment.models import Booking, Enrollment, Waiting
from classes.enrollment.models.booking import Linked
from classes.models import ClassSession, Kitchen
from recipes.access import is_instructor

Row = TypeVar("Row", bound=Linked)

_signer = Signer(salt="bakebench student link")
_home_signer = Signer(salt="bakebench kitchen at home")
_booking_signer = Signer(salt="bakebench held seats")
_calendar_signer = Signer(salt="bakebench staff calendar")
_waiting_signer = Signer(salt="bakebench waiting list")

# Without letters that are read as others; those are taken as what they look like.
CODE_LETTERS, CODE_LENGTH = "0123456789abcdefghjkmnpqrstvwxyz", 12
MISREAD = str.maketrans("oil", "011")
LONGEST_KEY = 19


def class_seen_by(user: User, code: str) -> ClassSession:
    """A class for its instructor or one of its assistants."""
    return get_object_or_404(ClassSession.objects.seen_by(user).with_plan(), code=code)


def class_taught_by(user: User, code: str) -> ClassSession:
    """A class, only for its instructor."""
    return get_object_or_404(ClassSession.objects.taught_by(user).with_plan(), code=code)


def class_known_to(user: User, code: str) -> ClassSession:
    """A class for any instructor, to read when, where and what, but nothing about who comes."""
    if not is_instructor(user):
        raise Http404
    sessions = ClassSession.objects.select_related("kitchen", "instructor")
    return get_object_or_404(sessions.prefetch_related("taught__revision"), code=code)


def teaches(user: User, session: ClassSession) -> bool:
    """Whether the user may change the class."""
    return session.instructor_id == user.pk


def kitchen_owned_by(user: User, pk: int) -> Kitchen:
    """A kitchen for its owner."""
    return get_object_or_404(Kitchen.objects.owned_by(user).with_contents(), pk=pk)


def student_token(enrollment: Enrollment) -> str:
    """The signed token in a student's link; it contains 128 random bits and nothing private."""
    return _signer.sign(f"{enrollment.pk}-{enrollment.link_nonce}")


def link_ends_at(session: ClassSession) -> datetime:
    """When a student's link stops working."""
    return session.ends_at + timedelta(days=settings.LINK_DAYS)


def enrollment_by_token(token: str, *, at: datetime) -> Enrollment:
    """The enrollment that a student's link opens; forged, revoked or expired links get 404."""
    return _linked(_signer, token, at)


def home_token(enrollment: Enrollment) -> str:
    """The signed token that opens only the page for a kitchen at home: it is printed on papers."""
    return _home_signer.sign(f"{enrollment.pk}-{enrollment.link_nonce}")


def home_code(enrollment: Enrollment) -> str:
    """A short word for the same page, for papers: `12-7kxq-2m9p-t4vd`.

    It has 60 bits, so that it can be typed; wrong ones are counted like wrong links.
    """
    said = f"{enrollment.pk}-{enrollment.link_nonce}"
    bits = int(salted_hmac("bakebench short address", said, algorithm="sha256").hexdigest(), 16)
    letters = [CODE_LETTERS[bits >> 5 * place & 31] for place in range(CODE_LENGTH)]
    groups = ("".join(letters[start : start + 4]) for start in range(0, CODE_LENGTH, 4))
    return "-".join((str(enrollment.pk), *groups))


def enrollment_by_home_code(code: str, *, at: datetime) -> Enrollment:
    """The enrollment whose home kitchen a short address opens, however it was typed; else 404."""
    typed = code.lower().translate(MISREAD)
    pk = typed.partition("-")[0]
    if not (pk.isascii() and pk.isdecimal() and len(pk) < LONGEST_KEY):
        raise Http404
    enrollment = get_object_or_404(_enrollments(), pk=int(pk))
    if not constant_time_compare(typed, home_code(enrollment)):
        raise Http404
    return _unless_ended(enrollment, at)


def enrollment_by_home_token(token: str, *, at: datetime) -> Enrollment:
    """The enrollment whose home kitchen a link opens; it expires with the student's own link."""
    return _linked(_home_signer, token, at)


def _linked(signer: Signer, token: str, at: datetime) -> Enrollment:
    return _unless_ended(row_of_signed(signer, token, _enrollments()), at)


def _enrollments() -> QuerySet[Enrollment]:
    return Enrollment.objects.select_related("session__kitchen", "booking")


def _unless_ended(enrollment: Enrollment, at: datetime) -> Enrollment:
    if at > link_ends_at(enrollment.session):
        raise Http404
    return enrollment


def booking_token(booking: Booking) -> str:
    """The signed token in the address of the form for held seats."""
    return _booking_signer.sign(f"{booking.pk}-{booking.link_nonce}")


def booking_by_token(token: str) -> Booking:
    """The booking whose form a link opens; forged and revoked links get 404."""
    return row_of_signed(_booking_signer, token, Booking.objects.select_related("session__kitchen"))


def waiting_token(entry: Waiting) -> str:
    """The signed token in the link of somebody on the waiting list."""
    return _waiting_signer.sign(f"{entry.pk}-{entry.link_nonce}")


def waiting_by_token(token: str, *, at: datetime) -> Waiting:
    """A place on the waiting list; forged, revoked and expired links get 404."""
    entries = Waiting.objects.select_related("session__kitchen", "booking")
    entry = row_of_signed(_waiting_signer, token, entries)
    if at > link_ends_at(entry.session):
        raise Http404
    return entry


def calendar_token(user: User) -> str:
    """The signed token in the address of a staff member's own calendar.

    A new password ends the old address; the token reveals neither of them.
    """
    return _calendar_signer.sign(f"{user.pk}-{_password_mark(user)}")


def _password_mark(user: User) -> str:
    """128 bits that change when the password does."""
    return salted_hmac("bakebench staff calendar", user.password).hexdigest()[:32]


def calendar_owner(token: str) -> User:
    """The user whose calendar an address opens; forged and outdated addresses get 404."""
    try:
        pk, _, mark = _calendar_signer.unsign(token).partition("-")
    except BadSignature:
        raise Http404 from None
    user = get_object_or_404(User.objects.filter(is_active=True), pk=int(pk))
    if not constant_time_compare(mark, _password_mark(user)):
        raise Http404
    return user


def row_of_signed(signer: Signer, token: str, rows: QuerySet[Row]) -> Row:
    """The row a signed token names, if its secret is still the one in the token; else 404."""
    try:
        pk, _, nonce = signer.unsign(token).partition("-")
    except BadSignature:
        raise Http404 from None
    row = get_object_or_404(rows, pk=int(pk))
    if not constant_time_compare(nonce, row.link_nonce):
        raise Http404
    return row
