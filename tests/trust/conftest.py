"""Servers for the tests here: one on each kind of database, with classes to claim."""

from __future__ import annotations

import shutil

import pytest

from tests.trust.postgres import postgres_url
from tests.trust.servers import Server

PURPOSES = ("rush", "double", "several", "crowd")
SEATS = 12
SMALL = tuple(f"small {number}" for number in range(20))
SMALL_SEATS = 3


@pytest.fixture(scope="module", params=["sqlite", "postgres"])
def house(request, tmp_path_factory):
    """A running server, the codes of a class of twelve for each purpose, and of twenty of three."""
    folder = tmp_path_factory.mktemp("house")
    if request.param == "sqlite":
        file = shutil.copy(request.getfixturevalue("migrated"), folder)
        yield from _house(Server(folder, f"sqlite:///{file}"))
        return
    with postgres_url(request.getfixturevalue("migrated_cluster")) as url:
        yield from _house(Server(folder, url))


def _house(server: Server):
    codes = server.make_classes(*[SEATS] * len(PURPOSES), *[SMALL_SEATS] * len(SMALL))
    try:
        server.start()
        yield server, dict(zip(PURPOSES + SMALL, codes, strict=True))
    finally:
        server.kill()
