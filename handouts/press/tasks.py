"""Background work on papers, in the database's queue."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime
from functools import cache
from typing import Any

from django.conf import settings
from django.contrib.auth.models import User
from django.db import transaction
from django.dispatch import receiver
from django_tasks import TaskResult, TaskResultStatus, task
from django_tasks.signals import task_finished

from classes.models import ClassSession, Pack
from handouts.preparing.arranged import ListBy
from handouts.press.packs import Dropped, break_off, make_pack, note_private
from handouts.press.pool import Pool
from handouts.press.render import PageSize


@cache
def press() -> Pool:
    """The layout processes of the queue's worker; started once."""
    return Pool(settings.PRESS_PROCESSES)


def ask_for_pack(
    *,
    session: ClassSession,
    by: User,
    kinds: Sequence[str],
    page_size: PageSize,
    layout: str,
    only_changed: bool,
    at: datetime,
    list_by: str = ListBy.STATION,
    two_sided: bool = False,
) -> Pack:
    """Ask for papers in one file; the background work makes it."""
    with transaction.atomic():
        pack = Pack.objects.create(
            session=session,
            by=by,
            kinds=list(kinds),
            page_size=page_size,
            layout=layout,
            only_changed=only_changed,
            list_by=list_by,
            two_sided=two_sided,
            made_at=at,
        )
        note_private(session=session, kinds=kinds, user=by, at=at)
        make_pack_later.enqueue(pack.pk)
    return pack


@task()
def make_pack_later(pack: int) -> None:
    """Make a pack that somebody asked for, unless it has since been removed."""
    found = Pack.objects.select_related("session", "by").filter(pk=pack).first()
    if found is not None:
        with suppress(Dropped):
            make_pack(found, press())


@receiver(task_finished)
def end_pack(sender: object, task_result: TaskResult[Any], **more: object) -> None:
    """End a pack whose work has failed, or was interrupted too often."""
    if task_result.task == make_pack_later and task_result.status == TaskResultStatus.FAILED:
        break_off(task_result.args[0])
