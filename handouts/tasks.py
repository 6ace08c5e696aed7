"""Background work of the papers, in the database's queue."""

from __future__ import annotations

from contextlib import suppress
from functools import cache

from django.conf import settings
from django_tasks import task

from classes.models import Pack
from handouts.packs import Dropped, break_off, make_pack
from handouts.pool import Pool


@cache
def press() -> Pool:
    """The processes of whoever works the queue off; started once."""
    return Pool(settings.PRESS_PROCESSES)


@task()
def make_pack_later(pack: int) -> None:
    """Make a pack that somebody asked for, unless it was removed meanwhile."""
    found = Pack.objects.select_related("session", "by").filter(pk=pack).first()
    if found is None:
        return
    try:
        make_pack(found, press())
    except Dropped:
        return
    except Exception:
        with suppress(Dropped):
            break_off(found)
        raise
