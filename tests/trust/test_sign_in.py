"""Guessing passwords: what `tests/config/test_site.py` does not try."""

from __future__ import annotations

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.db.models import F
from django.test import Client

from tests.factories import PASSWORD, UserFactory

WRONG = 10


@pytest.fixture
def keeper(db):
    return UserFactory(username="olaf", is_staff=True, is_superuser=True)


def enter(path, password, number=0):
    return (
        Client()
        .post(
            path,
            {"username": "olaf", "password": password},
            REMOTE_ADDR="203.0.113.5",
            headers={"X-Forwarded-For": f"198.51.100.{number}"},
        )
        .status_code
    )


@pytest.mark.parametrize("path", ["/sign-in/", "/admin/login/"])
def test_the_eleventh_try_is_refused_at_either_door(path, keeper):
    answers = [enter(path, f"wrong-{number}", number) for number in range(WRONG)]
    assert 302 not in answers
    assert enter(path, PASSWORD) == 429


def test_tries_at_one_door_count_at_the_other(keeper):
    for number in range(WRONG):
        enter(("/sign-in/", "/admin/login/")[number % 2], f"wrong-{number}")
    assert enter("/admin/login/", PASSWORD) == 429
    assert enter("/sign-in/", PASSWORD) == 429


def test_guesses_during_the_wait_do_not_prolong_it(keeper, settings):
    for number in range(WRONG):
        enter("/sign-in/", f"wrong-{number}")
    half = settings.AXES_COOLOFF_TIME / 2 + timedelta(seconds=1)
    _pass(half)
    assert enter("/sign-in/", "wrong again") == 429
    _pass(half)
    assert enter("/sign-in/", PASSWORD) == 302


def _pass(time: timedelta) -> None:
    AccessAttempt.objects.update(attempt_time=F("attempt_time") - time)
