"""What holds on every page: headers, sign-in and its limits, health."""

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse

from tests.factories import UserFactory

PASSWORD = "a-long-made-up-one"
FAILURES_ALLOWED = 10


@pytest.fixture
def owner(db):
    user = UserFactory(username="olive")
    user.set_password(PASSWORD)
    user.save()
    return user


def sign_in(password, *, username="olive", address="203.0.113.5", **headers):
    return Client().post(
        reverse("sign-in"),
        {"username": username, "password": password},
        REMOTE_ADDR=address,
        headers=headers,
    )


@pytest.mark.parametrize(
    ("header", "value"),
    [
        ("X-Frame-Options", "DENY"),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "same-origin"),
        ("Cross-Origin-Opener-Policy", "same-origin"),
        ("Cross-Origin-Resource-Policy", "same-origin"),
    ],
)
def test_every_page_says_what_a_browser_may_do(client, db, header, value):
    assert client.get(reverse("sign-in")).headers[header] == value


def test_the_content_policy_starts_from_nothing_and_allows_no_inline_code(client, db):
    policy = client.get(reverse("sign-in")).headers["Content-Security-Policy"]
    parts = dict(part.strip().split(" ", 1) for part in policy.split(";"))

    assert parts["default-src"] == "'none'"
    assert parts["script-src"] == parts["style-src"] == "'self'"
    assert parts["frame-ancestors"] == parts["base-uri"] == "'none'"
    assert "unsafe" not in policy


def test_pages_stay_out_of_caches(client, db):
    assert "no-store" in client.get(reverse("robots")).headers["Cache-Control"]
    assert "no-store" in client.get(reverse("sign-in")).headers["Cache-Control"]


def test_a_stranger_is_sent_to_sign_in(client, db):
    response = client.get(reverse("home"))

    assert response.status_code == 302
    assert response.url.startswith(reverse("sign-in"))


def test_the_right_password_signs_in(owner):
    assert sign_in(PASSWORD).url == reverse("home")


def test_signing_out_needs_a_post(client, owner):
    client.force_login(owner)

    assert client.get(reverse("sign-out")).status_code == 405
    assert client.post(reverse("sign-out")).status_code == 302
    assert client.get(reverse("home")).status_code == 302


def test_sign_in_is_refused_without_the_csrf_token(owner):
    strict = Client(enforce_csrf_checks=True)
    response = strict.post(reverse("sign-in"), {"username": "olive", "password": PASSWORD})

    assert response.status_code == 403


def lock(**headers):
    return [sign_in(f"wrong-{n}", **headers).status_code for n in range(FAILURES_ALLOWED)]


def test_ten_wrong_tries_lock_the_name_at_that_address(owner):
    statuses = lock()

    assert statuses[:-1] == [200] * (FAILURES_ALLOWED - 1)
    response = sign_in(PASSWORD)
    assert response.status_code == 429
    assert "Wait 15 minutes" in response.content.decode()


def test_a_made_up_forwarding_header_opens_no_way_round_the_lock(owner):
    for n in range(FAILURES_ALLOWED):
        sign_in(f"wrong-{n}", **{"X-Forwarded-For": f"198.51.100.{n}"})

    assert sign_in(PASSWORD, **{"X-Forwarded-For": "198.51.100.99"}).status_code == 429


def test_the_lock_leaves_other_people_and_other_addresses_alone(owner):
    lock()

    assert sign_in(PASSWORD, address="203.0.113.6").status_code == 302
    assert sign_in("x", username="somebody else").status_code == 200


def test_the_lock_opens_after_the_wait(owner, settings):
    lock()
    attempt = AccessAttempt.objects.get()
    attempt.attempt_time -= settings.AXES_COOLOFF_TIME
    attempt.save()

    assert sign_in(PASSWORD).status_code == 302


def test_health_answers_anybody_when_the_database_does(client, db):
    assert client.get(reverse("health")).content == b"ok\n"
    assert client.post(reverse("health")).status_code == 405


def test_search_engines_are_asked_to_stay_out(client, db):
    assert client.get(reverse("robots")).content.decode().splitlines()[1] == "Disallow: /"
