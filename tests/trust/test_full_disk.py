"""A disk that fills up while people enroll: nothing promised is lost, nothing is half kept.

The limit of the system on the size of a file (`prlimit --fsize`) is what fills up here: to SQLite
it is a disk that takes no more.
"""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.trust.servers import Server
from tests.trust.visitors import Visitor

ROOM = 40_000  # bytes that the database's log may still grow
SEATS = 200

pytestmark = pytest.mark.skipif(shutil.which("prlimit") is None, reason="prlimit is not installed")


class LimitedServer(Server):
    """A server whose files may only grow to a size."""

    def limit_files(self, size: int | str) -> None:
        master = str(self.process.pid)
        found = subprocess.run(["pgrep", "-P", master], check=True, capture_output=True, text=True)
        for number in (master, *found.stdout.split()):
            subprocess.run(["prlimit", f"--pid={number}", f"--fsize={size}:"], check=True)


@pytest.fixture(scope="module")
def filled(tmp_path_factory, migrated):
    """A server that has room again, who was booked before and after, and what the others met."""
    folder = tmp_path_factory.mktemp("full")
    file = Path(shutil.copy(migrated, folder))
    server = LimitedServer(folder, f"sqlite:///{file}")
    [code] = server.make_classes(SEATS)
    booked, met = [], []
    try:
        server.start()
        server.limit_files(file.stat().st_size + ROOM)
        for number in range(SEATS // 2):
            person = Visitor(server.port, code, f"Guest {number}")
            page = enroll(person)
            met.append(page)
            if not page.leads_to_own_page:
                break
            booked.append(person.name)
        reading = Visitor(server.port, code, "Reader").open_class()
        server.limit_files("unlimited")
        late = Visitor(server.port, code, "Guest who came late")
        after = enroll(late)
        booked.append(late.name)
        yield server, booked, met, reading, after
    finally:
        server.kill()


def enroll(person):
    """The answer to the form, or the first that is not as it should be."""
    person.open_class()
    held = person.hold()
    return person.enroll(held.location) if held.leads_to_form else held


def test_some_are_booked_until_the_disk_is_full(filled):
    _, booked, met, _, _ = filled
    assert len(booked) > 1
    assert not met[-1].leads_to_own_page


def test_who_comes_then_is_told_in_words(filled):
    *_, met, _, _ = filled
    assert met[-1].status == 503
    assert "Nothing can be saved right now" in met[-1].text


def test_pages_can_still_be_read(filled):
    *_, reading, _ = filled
    assert reading.status == 200


def test_once_there_is_room_people_are_booked_again(filled):
    *_, after = filled
    assert after.leads_to_own_page


def test_everybody_who_was_promised_a_seat_has_it_once_and_nobody_else(filled):
    server, booked, *_ = filled
    rows = server.rows("SELECT name FROM enrollment_enrollment ORDER BY id")
    assert [name for (name,) in rows] == booked


def test_no_booking_is_half_kept_and_the_file_is_sound(filled):
    server, booked, *_ = filled
    confirmed = "SELECT count(*), sum(seats) FROM enrollment_booking WHERE state = 'confirmed'"
    assert server.rows(confirmed) == [(len(booked), len(booked))]
    assert server.rows("SELECT count(*) FROM enrollment_letter") == [(len(booked),)]
    held = (
        "SELECT coalesce(sum(seats), 0) FROM enrollment_booking "
        "WHERE state IN ('held', 'confirmed')"
    )
    assert server.rows("SELECT taken FROM classes_classsession") == server.rows(held)
    assert server.rows("PRAGMA integrity_check") == [("ok",)]
    assert server.rows("PRAGMA foreign_key_check") == []
