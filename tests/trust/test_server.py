"""The server as it is started: who may hold it up, and what its processes share."""

from __future__ import annotations

import shutil
import socket
from contextlib import ExitStack

import pytest

from tests.trust.servers import Server
from tests.trust.visitors import Visitor

MOST = 8
IDLE, SILENT = 40, 6
HALF_A_POST = (
    b"POST /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nContent-Length: 999\r\n"
    b"Content-Type: application/x-www-form-urlencoded\r\n\r\nusername="
)


class StrictServer(Server):
    """With limits that a test can reach."""

    @property
    def environment(self):
        return super().environment | {"PUBLIC_POSTS_A_MINUTE": str(MOST), "WEB_SILENCE_S": "1"}


@pytest.fixture(scope="module")
def house(tmp_path_factory, migrated):
    folder = tmp_path_factory.mktemp("house")
    server = StrictServer(folder, f"sqlite:///{shutil.copy(migrated, folder)}")
    [code] = server.make_classes(MOST * 2)
    try:
        server.start()
        yield server, code
    finally:
        server.kill()


@pytest.mark.skipif(
    not hasattr(socket, "TCP_DEFER_ACCEPT"), reason="this system's kernel keeps none back"
)
def test_connections_that_ask_nothing_hold_nobody_up(house):
    server, code = house
    with ExitStack() as opened:
        for _ in range(IDLE):
            opened.enter_context(socket.create_connection(("127.0.0.1", server.port)))
        pages = [Visitor(server.port, code, "Guest").ask("GET", "/health/") for _ in range(20)]
    assert {page.status for page in pages} == {200}
    assert max(page.took_ms for page in pages) < 2000


def test_who_falls_silent_in_the_middle_of_a_request_is_not_waited_for(house):
    server, code = house
    with ExitStack() as opened:
        for half in (b"GET /health/ HTTP/1.1\r\nHost: ", HALF_A_POST % server.port) * (SILENT // 2):
            one = opened.enter_context(socket.create_connection(("127.0.0.1", server.port)))
            one.sendall(half)
        page = Visitor(server.port, code, "Guest").ask("GET", "/health/")
    assert page.status == 200
    assert page.took_ms < 30_000


def test_all_processes_count_the_posts_of_an_address_together(house):
    server, code = house
    person = Visitor(server.port, code, "Guest")
    person.open_class()
    answers = [person.hold().status for _ in range(MOST * 3)]
    assert answers == [302] * MOST + [429] * MOST * 2
