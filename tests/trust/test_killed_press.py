"""The worker killed while it makes papers: another takes the work up and finishes it."""

from __future__ import annotations

import shutil
import subprocess
import sys
from time import monotonic, sleep

import pytest

from tests.trust.servers import ROOT, Server

WITHIN_S = 90
PAPERS = 12 + 3 + 1  # handouts and station cards of the demo, and the cautions for the wall
MADE = 5  # before the worker that is killed stands still


class Works:
    """A database with a pack asked for, and workers that come and go."""

    def __init__(self, folder, migrated):
        self.server = Server(folder, f"sqlite:///{shutil.copy(migrated, folder)}")
        self._run("-m", "tests.trust.to_print")

    def _run(self, *what):
        where = {"cwd": ROOT, "env": self.server.environment, "stdout": subprocess.PIPE}
        subprocess.run([sys.executable, *what], check=True, **where)

    def start(self, papers):
        """A worker that stands still after so many papers."""
        self.told = self.server.folder / f"told-{papers}"
        with self.server.log.open("ab") as log:
            return subprocess.Popen(
                [sys.executable, "-m", "tests.trust.to_stall", self.told, str(papers)],
                cwd=ROOT,
                env=self.server.environment,
                stdout=log,
                stderr=log,
            )

    def pack(self):
        query = "SELECT state, done, total, length(pdf) FROM classes_pack"
        return self.server.rows(query)[0]

    def wait_for(self, wanted):
        until = monotonic() + WITHIN_S
        while not wanted(self.pack()):
            assert monotonic() < until, (self.pack(), self.server.log.read_text())
            sleep(0.02)

    def kept(self):
        return dict(self.server.rows("SELECT digest, made_at FROM classes_keptpaper"))


@pytest.fixture(scope="module")
def works(tmp_path_factory, migrated):
    made = Works(tmp_path_factory.mktemp("press"), migrated)
    worker = made.start(MADE)
    try:
        made.wait_for(lambda pack: pack[1] == MADE)
    finally:
        worker.kill()
        worker.wait()
    made.left = made.pack()
    made.before = made.kept()
    another = made.start(PAPERS)
    try:
        made.wait_for(lambda pack: pack[0] == "done")
        yield made
    finally:
        another.kill()  # one that stands still heeds nothing else
        another.wait()


def test_the_killed_worker_left_a_pack_half_made(works):
    state, done, total, size = works.left
    assert (state, done, total, size) == ("running", MADE, PAPERS, None)


def test_the_next_worker_finishes_it(works):
    state, done, total, size = works.pack()
    assert (state, done, total) == ("done", PAPERS, PAPERS)
    assert size > 10_000


def test_what_was_made_before_the_kill_was_not_made_again(works):
    assert len(works.before) == MADE
    assert works.kept().items() >= works.before.items()
    assert len(works.kept()) == PAPERS
    told = [f"{made} of {PAPERS}" for made in range(MADE, PAPERS + 1)]
    assert works.told.read_text().splitlines() == told


def test_the_task_was_tried_twice_and_ended_well(works):
    query = "SELECT status, worker_ids FROM django_tasks_database_dbtaskresult"
    ((status, workers),) = works.server.rows(query)
    assert status == "SUCCESSFUL"
    assert workers.count(":") == 2
