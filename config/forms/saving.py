"""One save at a time, and each form only once: every page that saves a form uses this."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction
from django.db.models import Model, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, resolve_url
from django.utils import timezone

from config.models import SentForm

FORM_KEY = "form_key"
KEPT = timedelta(days=2)
_KEY = re.compile(r"[A-Za-z0-9_-]{20,64}", re.ASCII)


@dataclass
class Save:
    """A form being saved; `first` is the response that it already got, if any."""

    first: str = ""
    answer: str = ""

    def done(self, to: Model | str, *args: object) -> HttpResponse:
        """Redirect to a page; the same form sent again will go there too."""
        self.answer = resolve_url(to, *args)
        return redirect(self.answer)


def form_key(request: HttpRequest) -> str:
    """The key of the form that is shown: a new one, or that of the form that was sent."""
    sent = request.POST.get(FORM_KEY, "")
    return sent if _KEY.fullmatch(sent) else secrets.token_urlsafe(24)


@contextmanager
def one_save(request: HttpRequest, *rows: QuerySet[Any]) -> Iterator[Save]:
    """Lock `rows` until what is saved inside is committed, and accept a form only once.

    Read the rows again inside: until the end nobody else can save them (on PostgreSQL; SQLite
    allows one writing transaction). Lock several kinds of rows in this order: bookings, people, a
    class, a kitchen.
    """
    key = request.POST.get(FORM_KEY, "")
    with transaction.atomic():
        sent, first = None, ""
        if request.user.is_authenticated and _KEY.fullmatch(key):
            sent, first = _sent(request.user, key)
        for query in rows if not first else ():
            held = query.select_for_update(of=("self",), no_key=True).order_by("pk")
            list(held.values_list("pk"))
        save = Save(first)
        yield save
        if sent is not None and save.answer:
            sent.answer = save.answer
            sent.save(update_fields=["answer"])
        elif sent is not None:
            sent.delete()


def _sent(user: User, key: str) -> tuple[SentForm | None, str]:
    """A row for a form that comes for the first time, or the response it got then."""
    try:
        with transaction.atomic():
            return SentForm.objects.create(user=user, key=key, at=timezone.now()), ""
    except IntegrityError:
        return None, SentForm.objects.get(user=user, key=key).answer


def forget_sent(*, at: datetime) -> int:
    """Delete forms that nobody will send again; returns how many."""
    return SentForm.objects.filter(at__lt=at - KEPT).delete()[0]
