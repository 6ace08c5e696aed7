"""The queue of background work: what a dead worker had begun is done by the next."""

import os
import socket

import pytest
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from config.queue import MOST_TRIES, Queue
from handouts.tasks import make_pack_later

HERE = socket.gethostname()
NOBODY = 2**22 + 1  # above the greatest number of a process


@pytest.fixture
def task(db):
    """A task for a pack that is not there: doing it does nothing."""
    return DBTaskResult.objects.get(pk=make_pack_later.enqueue(0).id)


def begun_by(task, *workers):
    for worker in workers:
        task.claim(worker)


def status(task):
    task.refresh_from_db()
    return task.status


def test_what_waits_is_worked_off(transactional_db, task):
    Queue().work_off()
    assert status(task) == TaskResultStatus.SUCCESSFUL
    assert task.worker_ids == [f"{HERE}:{os.getpid()}"]


def test_an_empty_queue_is_only_looked_at(db, django_assert_num_queries):
    with django_assert_num_queries(1):
        Queue().work_off()


def test_what_a_dead_worker_had_begun_waits_again(task):
    begun_by(task, f"{HERE}:{NOBODY}")
    assert Queue().take_up_again() == 1
    assert status(task) == TaskResultStatus.READY


def test_a_number_that_is_now_our_own_was_a_dead_worker_s(task):
    begun_by(task, f"{HERE}:{os.getpid()}")
    assert Queue().take_up_again() == 1


def test_what_a_living_worker_has_begun_is_left_to_it(task):
    begun_by(task, f"{HERE}:{os.getppid()}")
    assert Queue().take_up_again() == 0
    assert status(task) == TaskResultStatus.RUNNING


def test_what_another_machine_has_begun_is_left_to_it(task):
    begun_by(task, f"elsewhere-{HERE}:{NOBODY}")
    assert Queue().take_up_again() == 0


def test_a_task_that_kills_its_workers_fails_in_the_end(task):
    begun_by(task, *[f"{HERE}:{NOBODY}"] * MOST_TRIES)
    assert Queue().take_up_again() == 0
    assert status(task) == TaskResultStatus.FAILED
