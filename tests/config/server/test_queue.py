"""The queue of background work: what a dead worker had begun is done by the next."""

import os
import socket

import pytest
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from classes.models import Pack
from config.server.queue import MOST_TRIES, Queue
from handouts.press.packs import BROKE_OFF
from handouts.press.tasks import ask_for_pack, make_pack_later
from tests.factories import planned_class

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


def asked_pack(state):
    """A pack as far as it came, and its task."""
    session = planned_class()
    pack = ask_for_pack(
        session=session,
        by=session.instructor,
        kinds=["sign-in"],
        page_size="a4",
        layout="",
        only_changed=False,
        at=timezone.now(),
    )
    Pack.objects.filter(pk=pack.pk).update(state=state)
    return pack, DBTaskResult.objects.get()


@pytest.mark.parametrize("state", [Pack.State.WAITING, Pack.State.RUNNING])
def test_a_pack_whose_task_kills_its_workers_is_over_and_says_so(db, state):
    pack, task = asked_pack(state)
    begun_by(task, *[f"{HERE}:{NOBODY}"] * MOST_TRIES)
    Queue().take_up_again()
    pack.refresh_from_db()
    assert (pack.state, pack.problems) == (Pack.State.FAILED, [BROKE_OFF])
    assert pack.finished_at is not None


def test_an_error_nobody_foresaw_fails_the_pack_and_the_task(transactional_db, monkeypatch):
    monkeypatch.setattr("handouts.press.tasks.make_pack", lambda pack, press: 1 / 0)
    pack, task = asked_pack(Pack.State.WAITING)
    Queue().work_off()
    pack.refresh_from_db()
    assert status(task) == TaskResultStatus.FAILED
    assert (pack.state, pack.problems) == (Pack.State.FAILED, [BROKE_OFF])


def test_a_pack_that_was_made_stays_made_whatever_comes_of_its_task(db):
    pack, task = asked_pack(Pack.State.DONE)
    begun_by(task, *[f"{HERE}:{NOBODY}"] * MOST_TRIES)
    Queue().take_up_again()
    pack.refresh_from_db()
    assert pack.state == Pack.State.DONE
