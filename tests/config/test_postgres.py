"""A connection to PostgreSQL that has broken is found out and made anew."""

from __future__ import annotations

import psycopg
import pytest
from django.db import IntegrityError, OperationalError
from django.db.utils import ConnectionHandler
from environs import Env

from config.logs import without_private_words
from tests.trust.postgres import binaries, postgres_url

pytestmark = pytest.mark.skipif(
    binaries() is None, reason="PostgreSQL's server programs (Debian: postgresql-15) are missing"
)


@pytest.fixture(scope="module")
def url():
    with postgres_url() as url:
        yield url


@pytest.fixture
def connection(url, monkeypatch, django_db_blocker):
    monkeypatch.setenv("ONE_DATABASE", url)
    described = Env().dj_db_url("ONE_DATABASE") | {"CONN_MAX_AGE": 60, "CONN_HEALTH_CHECKS": True}
    connection = ConnectionHandler({"default": described})["default"]
    with django_db_blocker.unblock():
        yield connection
        connection.close()


def ask(connection):
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_backend_pid()")
        [number] = cursor.fetchone()
    return number


def break_off(url, number):
    with psycopg.connect(url.replace("postgres://", "postgresql://"), autocommit=True) as other:
        other.execute("SELECT pg_terminate_backend(%s, 5000)", [number])


def next_request(connection):
    """What Django does before and after a request."""
    connection.close_if_unusable_or_obsolete()


def test_a_connection_that_broke_is_made_anew(connection, url):
    first = ask(connection)
    break_off(url, first)
    next_request(connection)
    assert ask(connection) != first


def test_one_that_breaks_during_a_request_is_made_anew_for_the_next(connection, url):
    first = ask(connection)
    break_off(url, first)
    with pytest.raises(OperationalError):
        ask(connection)
    next_request(connection)
    assert ask(connection) != first


def test_the_row_that_it_refuses_is_told_by_the_error_and_not_by_a_log(connection):
    with connection.cursor() as cursor:
        cursor.execute("CREATE TEMPORARY TABLE told (words text CHECK (length(words) < 3))")
        with pytest.raises(IntegrityError) as refused:
            cursor.execute("INSERT INTO told VALUES ('no\nsesame')")
    assert "sesame" in str(refused.value)
    assert "sesame" not in without_private_words(str(refused.value))
