"""The only way to fetch a class, a kitchen or an enrollment for somebody; strangers get 404."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.conf import settings
from django.contrib.auth.models import AbstractUser
from django.core.signing import BadSignature, Signer
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils.crypto import constant_time_compare

from classes.models import ClassSession, Enrollment, Kitchen

_signer = Signer(salt="bakebench student link")


def class_seen_by(user: AbstractUser, code: str) -> ClassSession:
    """A class for its instructor or one of its assistants."""
    return get_object_or_404(ClassSession.objects.seen_by(user).with_plan(), code=code)


def class_taught_by(user: AbstractUser, code: str) -> ClassSession:
    """A class for its instructor alone."""
    return get_object_or_404(ClassSession.objects.taught_by(user).with_plan(), code=code)


def teaches(user: AbstractUser, session: ClassSession) -> bool:
    """Whether the user may change the class."""
    return session.instructor_id == user.pk


def kitchen_owned_by(user: AbstractUser, pk: int) -> Kitchen:
    """A kitchen for its owner."""
    return get_object_or_404(Kitchen.objects.owned_by(user).with_contents(), pk=pk)


def student_token(enrollment: Enrollment) -> str:
    """The signed word in a student's link; it carries 128 random bits and no private fact."""
    return _signer.sign(f"{enrollment.pk}-{enrollment.link_nonce}")


def link_ends_at(session: ClassSession) -> datetime:
    """When a student's link stops working."""
    return session.ends_at + timedelta(days=settings.LINK_DAYS)


def enrollment_by_token(token: str, *, at: datetime) -> Enrollment:
    """The enrollment a student's link opens; forged, revoked and expired ones get 404."""
    try:
        pk, _, nonce = _signer.unsign(token).partition("-")
    except BadSignature:
        raise Http404 from None
    enrollment = get_object_or_404(Enrollment.objects.select_related("session"), pk=int(pk))
    expired = at > link_ends_at(enrollment.session)
    if expired or not constant_time_compare(nonce, enrollment.link_nonce):
        raise Http404
    return enrollment
