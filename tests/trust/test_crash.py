"""A server killed again and again while people enroll: what was promised to them stays.

CRASHES says how often it is killed (5 without it). A person whose answer was cut off sends the
same form again, as a browser would, until they are led to their own page.
"""

from __future__ import annotations

import os
import random
import shutil
from dataclasses import dataclass, field
from http.client import HTTPException
from itertools import count
from threading import Event, Lock, Thread
from time import sleep

import pytest

from tests.trust.servers import Server
from tests.trust.visitors import Page, Visitor

CRASHES = int(os.environ.get("CRASHES", "2"))
PEOPLE_AT_ONCE = 4
SEATS = 200
AGAIN_AFTER_S = 0.1


@dataclass
class Crowd:
    """People who come one after another to classes that have room, until told to stop."""

    port: int
    codes: list[str]
    stop: Event = field(default_factory=Event)
    booked: list[tuple[str, str]] = field(default_factory=list)
    cut_off: int = 0
    failures: list[str] = field(default_factory=list)
    numbers: count = field(default_factory=count)
    lock: Lock = field(default_factory=Lock)

    def come(self) -> None:
        while not self.stop.is_set():
            with self.lock:
                number = next(self.numbers)
            person = Visitor(self.port, self.codes[number // SEATS], f"Guest {number}")
            try:
                self._enroll(person)
            except AssertionError as error:
                self.failures.append(f"{person.name}: {error}")
                return

    def _enroll(self, person: Visitor) -> None:
        self._until_answered(person.open_class)
        held = self._until_answered(person.hold)
        assert held.leads_to_form, held
        page = self._until_answered(lambda: person.enroll(held.location))
        assert page.leads_to_own_page, page
        self.booked.append((person.name, page.location))

    def _until_answered(self, ask) -> Page:
        while True:
            try:
                return ask()
            except (OSError, HTTPException):
                with self.lock:
                    self.cut_off += 1
                sleep(AGAIN_AFTER_S)


@pytest.fixture(scope="module")
def after_crashes(tmp_path_factory, migrated):
    """The server after its last crash, and the crowd that it served."""
    folder = tmp_path_factory.mktemp("crash")
    server = Server(folder, f"sqlite:///{shutil.copy(migrated, folder)}")
    crowd = Crowd(server.port, server.make_classes(*[SEATS] * (3 + CRASHES)))
    people = [Thread(target=crowd.come) for _ in range(PEOPLE_AT_ONCE)]
    chance = random.Random(CRASHES)  # noqa: S311
    try:
        server.start()
        for one in people:
            one.start()
        for _ in range(CRASHES):
            so_far = len(crowd.booked)
            while len(crowd.booked) < so_far + 2 and not crowd.failures:
                sleep(0.01)
            sleep(chance.uniform(0, 0.3))
            server.kill()
            server.start()
        crowd.stop.set()
        for one in people:
            one.join()
        yield server, crowd
    finally:
        crowd.stop.set()
        server.kill()


def test_everybody_who_was_cut_off_gets_their_seat_in_the_end(after_crashes):
    _, crowd = after_crashes
    assert crowd.failures == []
    assert crowd.cut_off >= CRASHES
    assert len(crowd.booked) >= 2 * CRASHES


def test_every_confirmed_seat_is_there_once(after_crashes):
    server, crowd = after_crashes
    names = [name for [name] in server.rows("SELECT name FROM enrollment_enrollment")]
    assert sorted(names) == sorted(name for name, _ in crowd.booked)
    assert len(set(names)) == len(names)


def test_own_pages_open_after_the_last_crash(after_crashes):
    server, crowd = after_crashes
    for name, address in crowd.booked[-3:]:
        page = Visitor(server.port, "", name).ask("GET", address)
        assert page.status == 200
        assert name in page.text


def test_no_booking_is_half_written(after_crashes):
    server, _ = after_crashes
    halves = server.rows(
        "SELECT b.id FROM enrollment_booking b WHERE b.state = 'confirmed' AND ("
        "b.seats <> (SELECT count(*) FROM enrollment_enrollment e WHERE e.booking_id = b.id) OR "
        "1 <> (SELECT count(*) FROM enrollment_letter l WHERE l.booking_id = b.id))"
    )
    assert halves == []


def test_what_is_taken_matches_the_bookings(after_crashes):
    server, crowd = after_crashes
    classes = server.rows(
        "SELECT c.taken, coalesce((SELECT sum(b.seats) FROM enrollment_booking b "
        "WHERE b.session_id = c.id AND b.state IN ('held', 'confirmed')), 0) "
        "FROM classes_classsession c"
    )
    assert [taken for taken, _ in classes] == [seats for _, seats in classes]
    assert sum(taken for taken, _ in classes) >= len(crowd.booked)


def test_the_database_file_is_sound(after_crashes):
    server, _ = after_crashes
    assert server.rows("PRAGMA integrity_check") == [("ok",)]
    assert server.rows("PRAGMA foreign_key_check") == []
