"""Wrong passwords that several processes of the server look at in the same moment."""

from __future__ import annotations

import shutil
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from tests.trust.browser import Browser
from tests.trust.postgres import postgres_url
from tests.trust.servers import Server

AT_ONCE = 24
NAMES = 3


@pytest.fixture
def sqlite(tmp_path, migrated):
    return f"sqlite:///{shutil.copy(migrated, tmp_path)}"


@pytest.fixture
def postgresql(migrated_cluster):
    with postgres_url(migrated_cluster) as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def server(request, tmp_path):
    server = Server(tmp_path, request.getfixturevalue(request.param))
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
