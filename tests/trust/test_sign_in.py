"""Guessing passwords: what `tests/config/test_site.py` does not try."""

from __future__ import annotations

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.contrib.auth import hashers
from django.db.models import F
from django.test import Client

from config.sign_in import MOST_OF_ADDRESS, MOST_OF_NAME
from tests.factories import PASSWORD, UserFactory
from tests.house.pages import NEW, added, link_on_page

WRONG = 10
DOORS = ["/sign-in/", "/admin/login/"]


@pytest.fixture
def keeper(db):
    return UserFactory(username="olaf", is_staff=True, is_superuser=True)


def try_at(path, password, *, name="olaf", address="203.0.113.5", number=0):
    return Client().post(
        path,
        {"username": name, "password": password},
        REMOTE_ADDR=address,
        headers={"X-Forwarded-For": f"198.51.100.{number}"},
    )


def enter(path, password, number=0, **where):
    return try_at(path, password, number=number, **where).status_code


@pytest.mark.parametrize("path", DOORS)
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


@pytest.fixture
def looked_at(monkeypatch):
    """The passwords that were hashed to be looked at: the work that a refused try must not cost."""
    hashed = []
    hasher = hashers.get_hasher()
    encode = type(hasher).encode
    monkeypatch.setattr(
        type(hasher),
        "encode",
        lambda self, word, salt: hashed.append(word) or encode(self, word, salt),
    )
    return hashed


def fail_with_many_names(path="/sign-in/", address="203.0.113.5"):
    return [
        enter(path, f"wrong-{number}", name=f"name{number}", address=address)
        for number in range(MOST_OF_ADDRESS)
    ]


def fail_from_many_addresses(path="/sign-in/"):
    return [
        enter(path, f"wrong-{number}", address=f"192.0.2.{number}")
        for number in range(MOST_OF_NAME)
    ]


class TestOneAddress:
    @pytest.mark.parametrize("path", DOORS)
    def test_after_thirty_wrong_tries_with_any_names_it_is_refused_unlooked_at(
        self, keeper, looked_at, path
    ):
        assert set(fail_with_many_names(path)) == {200}
        assert len(looked_at) >= MOST_OF_ADDRESS
        looked_at.clear()
        assert enter(path, "wrong", name="one more") == 429
        assert enter(path, PASSWORD) == 429
        assert looked_at == []

    def test_others_come_in_meanwhile(self, keeper):
        fail_with_many_names()
        assert enter("/sign-in/", PASSWORD, address="203.0.113.9") == 302

    def test_the_page_says_what_to_do(self, keeper):
        fail_with_many_names()
        page = try_at("/sign-in/", PASSWORD).content.decode()
        assert "from your connection. Wait 15 minutes, or sign in from another connection." in page

    def test_refused_tries_do_not_prolong_the_wait_nor_fill_the_database(self, keeper, settings):
        fail_with_many_names()
        rows = AccessAttempt.objects.count()
        for number in range(5):
            assert enter("/sign-in/", "wrong", name=f"more{number}") == 429
        assert AccessAttempt.objects.count() == rows
        _pass(settings.AXES_COOLOFF_TIME + timedelta(seconds=1))
        assert enter("/sign-in/", PASSWORD) == 302

    def test_all_addresses_of_a_network_are_one(self, keeper):
        for number in range(MOST_OF_ADDRESS):
            enter("/sign-in/", "wrong", name=f"name{number}", address=f"2001:db8:0:7::{number:x}")
        assert enter("/sign-in/", PASSWORD, address="2001:db8:0:7:ffff::1") == 429
        assert enter("/sign-in/", PASSWORD, address="2001:db8:0:8::1") == 302


class TestOneName:
    @pytest.mark.parametrize("path", DOORS)
    def test_after_thirty_wrong_tries_from_anywhere_each_address_has_one(
        self, keeper, looked_at, path
    ):
        assert set(fail_from_many_addresses(path)) == {200}
        assert enter(path, "wrong", address="198.51.100.1") == 429
        looked_at.clear()
        assert enter(path, "wrong again", address="198.51.100.1") == 429
        assert enter(path, "wrong again", address="192.0.2.1") == 429
        assert looked_at == []

    def test_its_owner_comes_in_from_an_address_that_did_not_fail(self, keeper):
        fail_from_many_addresses()
        assert enter("/sign-in/", PASSWORD, address="198.51.100.1") == 302
        assert enter("/sign-in/", PASSWORD, address="198.51.100.2") == 302

    def test_other_names_have_all_their_tries(self, keeper):
        UserFactory(username="ada")
        fail_from_many_addresses()
        for number in range(WRONG - 1):
            assert enter("/sign-in/", f"wrong-{number}", name="ada") == 200
        assert enter("/sign-in/", PASSWORD, name="ada") == 302

    def test_the_old_password_counts_as_a_try(self, keeper):
        fail_from_many_addresses()
        signed_in = Client(REMOTE_ADDR="198.51.100.1")
        signed_in.force_login(keeper)
        fields = {"old_password": "wrong", "new_password1": NEW, "new_password2": NEW}
        assert signed_in.post("/account/password/", fields).status_code == 429
        right = fields | {"old_password": PASSWORD}
        assert signed_in.post("/account/password/", right).status_code == 429

    def test_a_new_link_ends_the_wait_of_its_name(self, keeper):
        house = Client()
        house.force_login(keeper)
        rosa = added(house)
        for number in range(MOST_OF_NAME):
            enter("/sign-in/", "wrong", name="rosa", address=f"192.0.2.{number}")
        link = link_on_page(house, rosa).removeprefix("http://testserver")
        chosen = {"new_password1": NEW, "new_password2": NEW}
        assert Client().post(link, chosen).status_code == 302
        assert enter("/sign-in/", "a slip", name="rosa", address="192.0.2.1") == 200
        assert enter("/sign-in/", NEW, name="rosa", address="192.0.2.1") == 302
