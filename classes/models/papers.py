"""Papers that were made, each kept for a while, and the packs that somebody asked for."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import ExpressionWrapper, Q

from classes.models.session import ClassSession

LATE = timedelta(seconds=30)
CHANGED = ["Somebody on these papers was erased in the meantime", "Ask for the papers again."]


class KeptPaper(models.Model):
    """A PDF by the hash of its contents, so that unchanged papers are not made again."""

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="kept_papers")
    digest = models.CharField(max_length=64)
    pdf = models.BinaryField()
    made_at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("session", "digest"), name="kept_paper_once"),
        )

    def __str__(self) -> str:
        return self.digest[:12]


class PackQuerySet(models.QuerySet["Pack"]):
    def done(self) -> Self:
        """Those that were made, the newest first."""
        return self.light().filter(state=Pack.State.DONE)

    def light(self) -> Self:
        """Without their bytes, but with a flag for whether there are any."""
        has_file = ExpressionWrapper(Q(pdf__isnull=False), models.BooleanField())
        return self.defer("pdf").select_related("by").annotate(has_file=has_file)


class Pack(models.Model):
    """Papers of a class in one file: the request, the progress, and the result.

    `only_changed` leaves out what was printed before and is still right. `list_by` is the order of
    the assistant's list.
    `printed` holds the hash of each paper's words by kind and key, so that a later look can tell
    what has changed since; `page_counts` has the pages of each, by the same keys. In a `two_sided`
    file each paper begins on a sheet of its own. `problems` holds kinds that could not be made:
    [title, advice].
    """

    class State(models.TextChoices):
        WAITING = "waiting", "waiting"
        RUNNING = "running", "being made"
        DONE = "done", "done"
        FAILED = "failed", "could not be made"

    OVER = (State.DONE, State.FAILED)

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="packs")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    kinds = models.JSONField()
    page_size = models.CharField(max_length=8)
    only_changed = models.BooleanField(default=False)
    layout = models.CharField(max_length=40, blank=True)
    list_by = models.CharField(max_length=10, default="station")
    two_sided = models.BooleanField(default=False)
    state = models.CharField(max_length=8, choices=State, default=State.WAITING)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    pages = models.PositiveIntegerField(default=0)
    printed = models.JSONField(default=dict)
    page_counts = models.JSONField(default=dict)
    problems = models.JSONField(default=list)
    pdf = models.BinaryField(null=True)
    made_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True)

    objects = PackQuerySet.as_manager()

    class Meta:
        ordering = ("-made_at", "-pk")

    def __str__(self) -> str:
        return f"{self.session_id}, {self.made_at:%Y-%m-%d %H:%M}"

    @property
    def is_over(self) -> bool:
        return self.state in Pack.OVER

    def is_late(self, at: datetime) -> bool:
        """Whether it takes longer than it should: perhaps no worker is running."""
        return at - self.made_at > LATE

    @property
    def percent(self) -> int:
        return 100 * self.done // self.total if self.total else 0


def forget_papers(session: ClassSession) -> None:
    """Remove what was made for a class: somebody on those papers is to be erased."""
    packs = Pack.objects.filter(session=session)
    packs.exclude(state__in=Pack.OVER).update(state=Pack.State.FAILED, problems=[CHANGED])
    packs.update(pdf=None)
    KeptPaper.objects.filter(session=session).delete()


def forget_old_papers(*, before: datetime) -> int:
    """Remove what was made before a moment; returns how many papers and packs."""
    papers, _ = KeptPaper.objects.filter(made_at__lt=before).delete()
    packs = Pack.objects.filter(made_at__lt=before).exclude(pdf=None).update(pdf=None)
    return papers + packs
