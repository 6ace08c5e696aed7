"""Wrong passwords that several processes of the server look at in the same moment."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from threading import Barrier

import pytest

from tests.trust.browser import Browser
from tests.trust.postgres import binaries, postgres_url
from tests.trust.servers import Server

AT_ONCE = 24
NAMES = 3


@contextmanager
def sqlite_url(folder):
    yield f"sqlite:///{folder / 'house.sqlite3'}"


@pytest.fixture(params=["sqlite", "postgresql"])
def server(request, tmp_path):
    if request.param == "postgresql" and binaries() is None:
        pytest.skip("PostgreSQL's server programs (Debian: postgresql-15) are not installed")
    database = sqlite_url(tmp_path) if request.param == "sqlite" else postgres_url()
    with database as url:
        server = Server(tmp_path, url)
        server.make_classes()
        try:
            server.start()
            yield server
        finally:
            server.kill()


def test_none_is_lost(server):
    begin = Barrier(AT_ONCE)

    def guess(number):
        stranger = Browser(server.port)
        stranger.get("/sign-in/")
        begin.wait(60)
        given = {"username": f"name{number % NAMES}", "password": "wrong"}
        return stranger.post("/sign-in/", given)

    with ThreadPoolExecutor(AT_ONCE) as strangers:
        assert list(strangers.map(guess, range(AT_ONCE))) == [200] * AT_ONCE
    counted = server.rows("SELECT username, failures_since_start FROM axes_accessattempt")
    assert dict(counted) == {f"name{number}": AT_ONCE // NAMES for number in range(NAMES)}
