"""How often and how much a stranger may send."""

from __future__ import annotations

import time

import pytest
from django.test import Client

from classes.enrollment.models import Waiting
from tests.classes.enrollment.enrolled import key, open_class

MOST = 5
BODY = 3_000_000  # bytes; Django takes 2.5 million


@pytest.fixture
def address(db, settings):
    settings.PUBLIC_POSTS_A_MINUTE = MOST
    return f"/open/{open_class().code}"


def send(path, **more):
    fields = {"name": "Wim", "email": "wim@example.org", "seats": "1", "form_key": key()}
    return Client().post(path, fields, **more).status_code


class TestPosts:
    def test_one_too_many_a_minute_has_to_wait(self, address):
        answers = [send(f"{address}/wait/") for _ in range(MOST + 2)]
        assert answers == [302] * MOST + [429] * 2

    def test_all_public_forms_are_counted_together(self, address):
        answers = [send(f"{address}/{('wait', 'hold')[n % 2]}/") for n in range(MOST + 1)]
        assert answers == [302] * MOST + [429]

    def test_a_made_up_forwarding_header_has_no_effect(self, address):
        answers = [
            send(f"{address}/wait/", headers={"X-Forwarded-For": f"198.51.100.{number}"})
            for number in range(MOST + 1)
        ]
        assert answers[-1] == 429

    def test_others_are_let_through_meanwhile(self, address):
        for _ in range(MOST + 1):
            send(f"{address}/wait/")
        assert send(f"{address}/wait/", REMOTE_ADDR="203.0.113.9") == 302

    def test_reading_is_not_limited(self, address):
        for _ in range(MOST + 1):
            send(f"{address}/wait/")
        assert Client().get(f"{address}/").status_code == 200

    def test_the_wait_ends(self, address, monkeypatch):
        for _ in range(MOST + 1):
            send(f"{address}/wait/")
        later = time.time() + 61
        monkeypatch.setattr(time, "time", lambda: later)
        assert send(f"{address}/wait/") == 302

    def test_the_page_says_so_in_words(self, address):
        for _ in range(MOST + 1):
            send(f"{address}/wait/")
        page = Client().post(f"{address}/wait/", {})
        assert page.status_code == 429
        assert "minute" in page.content.decode()


class TestBehindAProxy:
    """The proxy ends X-Forwarded-For with the address it saw; what stands before is made up."""

    @pytest.fixture(autouse=True)
    def _proxy(self, settings):
        settings.TRUST_PROXY = True

    def test_each_visitor_is_counted_for_themselves(self, address):
        answers = [
            send(f"{address}/wait/", headers={"X-Forwarded-For": f"198.51.100.{number}"})
            for number in range(MOST + 1)
        ]
        assert answers == [302] * (MOST + 1)

    @pytest.mark.parametrize("seen", ["203.0.113.9", "2001:db8::7"])
    def test_what_a_visitor_made_up_has_no_effect(self, address, seen):
        answers = [
            send(f"{address}/wait/", headers={"X-Forwarded-For": f"198.51.100.{number}, {seen}"})
            for number in range(MOST + 1)
        ]
        assert answers == [302] * MOST + [429]

    @pytest.mark.parametrize("words", ["", "unknown", "10.0.0.1,", "<script>, 1.2.3", "9" * 5000])
    def test_what_is_no_address_counts_for_the_connection(self, address, words):
        headers = {"X-Forwarded-For": words}
        answers = [send(f"{address}/wait/", headers=headers) for _ in range(MOST + 1)]
        assert answers == [302] * MOST + [429]
        assert send(f"{address}/wait/") == 429


class TestSizes:
    @pytest.mark.parametrize(
        ("kind", "body"),
        [
            ("application/x-www-form-urlencoded", b"name=" + b"x" * BODY),
            (
                "application/x-www-form-urlencoded",
                b"&".join(b"a%d=1" % number for number in range(5001)),
            ),
            ("multipart/form-data; boundary=b", b"--b\r\nnonsense"),
            ("multipart/form-data", b"x" * 100),
            ("application/json", b'{"name": ' * 50_000),
        ],
        ids=["too large", "too many fields", "cut off", "no boundary", "not a form"],
    )
    def test_a_body_that_is_no_form_is_refused_at_once(self, address, kind, body):
        began = time.process_time()
        answer = Client().post(f"{address}/wait/", body, content_type=kind)
        assert 400 <= answer.status_code < 500
        assert time.process_time() - began < 5

    def test_a_long_text_is_refused_by_its_field(self, address):
        fields = {"name": "x" * 1_000_000, "email": "w@example.org", "seats": "1"}
        answer = Client().post(f"{address}/wait/", fields | {"form_key": key()})
        assert answer.status_code == 400
        assert not Waiting.objects.exists()
