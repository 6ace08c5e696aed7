"""The queue of background work in the database, and resuming after a crash."""

from __future__ import annotations

import logging
import os
import socket

from django.db import transaction
from django_tasks import TaskResultStatus
from django_tasks.signals import task_finished
from django_tasks_db.management.commands.db_worker import Worker
from django_tasks_db.models import DBTaskResult

MOST_TRIES = 3

logger = logging.getLogger(__name__)


class Queue:
    """This process as a worker of the queue."""

    def __init__(self) -> None:
        self._name = f"{socket.gethostname()}:{os.getpid()}"

    def work_off(self) -> None:
        """Run waiting tasks, one after the other, until none is left."""
        if not DBTaskResult.objects.ready().exists():
            return
        Worker(
            queue_names=["*"],
            interval=0,
            batch=True,
            backend_name="default",
            startup_delay=False,
            max_tasks=None,
            worker_id=self._name,
            excluded_queue_names=[],
        ).run()

    def take_up_again(self) -> int:
        """Requeue tasks during which a worker of this machine died; after three tries they fail.

        Returns how many tasks wait again.
        """
        again = 0
        with transaction.atomic():
            for found in DBTaskResult.objects.running().select_for_update():
                if self._still_works(found.worker_ids[-1]):
                    continue
                if len(found.worker_ids) >= MOST_TRIES:
                    logger.error("Task %s broke off %s times.", found.id, MOST_TRIES)
                    found.set_failed(RuntimeError(f"broke off {MOST_TRIES} times"))
                    backend = type(found.task.get_backend())
                    task_finished.send(backend, task_result=found.task_result)
                    continue
                found.status = TaskResultStatus.READY
                found.save(update_fields=["status"])
                again += 1
        return again

    def _still_works(self, worker: str) -> bool:
        """Whether another worker is alive; those of other machines always count as alive."""
        host, _, number = worker.rpartition(":")
        if host != socket.gethostname():
            return True
        if not number.isdigit() or int(number) == os.getpid():
            return False
        try:
            os.kill(int(number), 0)
        except ProcessLookupError:
            return False
        except PermissionError:
            return True
        return True
