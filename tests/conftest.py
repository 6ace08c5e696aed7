"""Who opens the pages: one client for each kind of visitor."""

from __future__ import annotations

import gc
import os
from pathlib import Path
from types import FunctionType

import pytest
from _pytest.runner import pytest_runtest_protocol as run_test
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.core.cache import cache
from django.db import connection
from django.template import Context, RequestContext, Template
from django.test import Client
from django.test.utils import instrumented_test_render
from django.utils import timezone
from hypothesis import settings as properties

from tests.factories import UserFactory
from tests.trust.postgres import binaries, kept_cluster
from tests.trust.servers import migrate

# What takes longest is begun first, so that none of it is alone at work in the end.
LONGEST = ("tests/trust", "tests/config/backup", "tests/browser", "tests/handouts", "tests/test_")

# For every property: no deadline on a shared machine, and a modest count.
properties.register_profile("shared", deadline=None, max_examples=30)
properties.load_profile("shared")


@pytest.hookimpl(wrapper=True)
def pytest_collection():
    """The tests all stay to the end, so nothing looks through them for garbage again and again.

    After that garbage is looked for once there is as much as a few papers leave: with Python's own
    700 objects it took a sixth of the time that papers are laid out in.
    """
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.enable()
        gc.set_threshold(300_000, 10, 10)


def _run(function, *words):
    return function(*words)


# Python takes its stack from the system in pieces of 16 KiB and gives the last one back when it is
# empty; work that goes up and down over an edge asks again at each call, which is a seventh of
# laying out a paper. The piece that holds one wide frame has as much room behind it.
_run_with_room = FunctionType(_run.__code__.replace(co_stacksize=1 << 16), globals())


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_protocol(item, nextitem):
    """Every test with its fixtures runs where the stack has room."""
    return _run_with_room(run_test, item, nextitem)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items):
    items.sort(key=lambda item: not item.nodeid.startswith(LONGEST))


def _render(template: Template, context: Context) -> str:
    if isinstance(context, RequestContext):
        return instrumented_test_render(template, context)
    return template.nodelist.render(context)


@pytest.fixture(scope="session", autouse=True)
def _pages_alone_are_noted(django_test_environment):
    """What a page was rendered with is kept for the test; what each field of a form was, is not."""
    Template._render = _render


@pytest.fixture(scope="session")
def _as_migrated(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("migrated") / "house.sqlite3"


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup, django_db_blocker, _as_migrated):
    """The database of the tests, of which a copy is kept before any test writes into it."""
    if connection.vendor != "sqlite":
        return
    with django_db_blocker.unblock(), connection.cursor() as cursor:
        if connection.introspection.table_names(cursor):  # None, where no test asks for a database.
            cursor.execute("VACUUM INTO %s", [str(_as_migrated)])


@pytest.fixture(scope="session")
def migrated(django_db_setup, _as_migrated) -> Path:
    """A database file with its tables, to be copied where a process of its own works on one."""
    if not _as_migrated.exists():
        migrate(f"sqlite:///{_as_migrated}")
    return _as_migrated


@pytest.fixture(scope="session")
def migrated_cluster(tmp_path_factory) -> Path:
    """The files of a PostgreSQL server with the tables, for `postgres_url`; made once a run."""
    if binaries() is None:
        pytest.skip("PostgreSQL's server programs (Debian: postgresql-15) are not installed")
    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent  # that of all workers
    return kept_cluster(folder / "cluster")


@pytest.fixture
def instructor(db):
    return UserFactory(username="ines")


@pytest.fixture
def other_instructor(db):
    return UserFactory(username="otto")


@pytest.fixture
def assistant(db):
    return UserFactory(username="asa", role="assistant")


def signed_in(user) -> Client:
    """A browser that has been signed in; what signing in does is tested where it is done."""
    session = SessionStore()
    session[SESSION_KEY] = str(user.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[-1]
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session.save()
    client = Client()
    client.cookies[settings.SESSION_COOKIE_NAME] = session.session_key
    return client


@pytest.fixture
def instructor_client(instructor) -> Client:
    return signed_in(instructor)


@pytest.fixture
def other_client(other_instructor) -> Client:
    """An instructor who owns none of the objects of the test."""
    return signed_in(other_instructor)


@pytest.fixture
def assistant_client(assistant) -> Client:
    return signed_in(assistant)


@pytest.fixture
def stranger() -> Client:
    """Nobody signed in."""
    return Client()


@pytest.fixture
def htmx() -> dict[str, str]:
    """The header by which a view knows that a fragment is wanted."""
    return {"HX-Request": "true"}


@pytest.fixture(autouse=True)
def _nothing_counted_yet():
    """Every test begins with fresh limits on how often an address may post."""
    cache.clear()


@pytest.fixture
def today(monkeypatch):
    """It is 1 April 2030, a month before a test's class; call it to set another moment."""
    from tests.classes.enrollment.enrolled import NOW

    def set_to(at):
        monkeypatch.setattr(timezone, "now", lambda: at)

    set_to(NOW)
    return set_to
