"""What must happen by itself: holds that end, offers that pass on, letters, and erasing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.db.models import Q

from classes.enrollment.models import Booking, DietDecision, Enrollment, Waiting
from classes.enrollment.services.enrolling import pass_on_seats
from classes.enrollment.services.letters import (
    deliver_letters,
    sweep_letter_files,
    write_due_letters,
)
from classes.enrollment.services.seats import let_go
from classes.models import ClassSession
from classes.models.papers import forget_old_papers, forget_papers
from config import counts
from config.backup import erasures
from config.forms.saving import forget_sent


@dataclass(frozen=True, slots=True)
class Done:
    """How much of each was done."""

    freed: int = 0
    offered: int = 0
    written: int = 0
    sent: int = 0
    blanked: int = 0


def do_chores(*, at: datetime) -> Done:
    """Everything due at a moment; to be run every minute, and harmless if run twice."""
    freed = offered = 0
    for session in _with_seats_to_pass_on(at):
        freed += let_go(session=session, at=at)
        offered += len(pass_on_seats(session=session, at=at))
    written = write_due_letters(at=at)
    sweep_letter_files()
    forget_old_papers(before=at - timedelta(days=settings.PAPERS_DAYS))
    forget_sent(at=at)
    counts.drop_old()
    done = Done(freed, offered, written, deliver_letters(at=at), blank_words(at=at))
    erasures.wipe()
    return done


def _with_seats_to_pass_on(at: datetime) -> list[ClassSession]:
    held = Booking.objects.all().run_out(at).values("session")
    waiting = Waiting.objects.filter(state=Waiting.State.WAITING).values("session")
    coming = ClassSession.objects.filter(starts_at__gt=at)
    return list(coming.filter(Q(pk__in=held) | Q(pk__in=waiting)))


def blank_words(*, at: datetime) -> int:
    """Blank what people must not eat, and decisions about it, some days after their class.

    Returns for how many people.
    """
    over = at - timedelta(days=settings.ALLERGY_WORDS_DAYS)
    told = Enrollment.objects.filter(session__ends_at__lt=over, blanked_at=None).exclude(
        must_not_eat="", diet="", allergens=[]
    )
    for session in ClassSession.objects.filter(pk__in=told.values("session")):
        forget_papers(session)
    DietDecision.objects.filter(enrollment__session__ends_at__lt=over).delete()
    return told.update(must_not_eat="", allergens=[], told_since={}, diet="", blanked_at=at)
