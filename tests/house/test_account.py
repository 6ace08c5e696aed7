"""One's own account: name, e-mail, and a new password for who knows the old one."""

from __future__ import annotations

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from classes.access import calendar_token
from house.access import entry_token
from house.services import new_entry_link
from tests.conftest import signed_in
from tests.factories import PASSWORD, UserFactory
from tests.house.pages import NEW, is_in, sign_in

ACCOUNT, CHANGE = reverse("house:account"), reverse("house:password")
ALLOWED = 10


def change(client, old=PASSWORD, new=NEW, again=None, **options):
    fields = {"old_password": old, "new_password1": new, "new_password2": again or new}
    return client.post(CHANGE, fields, **options)


class TestNameAndEMail:
    def test_everybody_changes_their_own(self, assistant_client, assistant):
        fields = {"name": "Asa Stone", "email": "asa@example.org"}
        assert assistant_client.post(ACCOUNT, fields).url == ACCOUNT
        assistant.refresh_from_db()
        assert (assistant.get_full_name(), assistant.email) == ("Asa Stone", "asa@example.org")
        page = assistant_client.get(ACCOUNT)
        assert page.context["facts"]["name"].value() == "Asa Stone"
        assert "Your role: assistant." in page.content.decode()

    def test_roles_and_user_name_are_not_theirs_to_change(self, assistant_client, assistant):
        more = {"username": "olaf", "roles": ["owner"], "is_superuser": "on", "is_staff": "on"}
        assistant_client.post(ACCOUNT, {"name": "Asa"} | more)
        assistant.refresh_from_db()
        assert (assistant.username, assistant.is_superuser) == ("asa", False)
        assert assistant.groups.get().name == "assistant"

    def test_what_is_wrong_stands_by_its_field(self, assistant_client, assistant):
        answer = assistant_client.post(ACCOUNT, {"name": "Asa", "email": "at home"})
        assert answer.context["facts"].errors["email"] == ["Enter a valid email address."]
        assert answer.context["facts"]["name"].value() == "Asa"
        assistant.refresh_from_db()
        assert assistant.first_name == ""


class TestThePassword:
    def test_the_new_one_signs_in_and_the_old_one_does_not(self, assistant_client, assistant):
        assert change(assistant_client).url == ACCOUNT
        assert sign_in("asa", NEW)[1]
        assert not sign_in("asa", PASSWORD)[1]

    def test_other_sessions_end_and_this_one_goes_on(self, assistant_client, assistant):
        elsewhere = signed_in(assistant)
        assert is_in(elsewhere)
        change(assistant_client)
        assert is_in(assistant_client)
        assert not is_in(elsewhere)

    def test_the_calendar_has_a_new_address(self, assistant_client, assistant, client):
        before = reverse("classes:own_calendar", args=[calendar_token(assistant)])
        answer = change(assistant_client, follow=True)
        assert "your calendar has a new address" in answer.content.decode()
        assert client.get(before).status_code == 404

    def test_an_open_link_ends(self, assistant_client, assistant, client):
        token = entry_token(new_entry_link(user=assistant, at=timezone.now()))
        address = reverse("house:enter", args=[token])
        assert client.get(address).status_code == 200
        change(assistant_client)
        assert client.get(address).status_code == 404

    @pytest.mark.parametrize(
        ("old", "new", "again", "field", "words"),
        [
            ("wrong", NEW, None, "old_password", "That is not your password."),
            ("", NEW, None, "old_password", "This field is required."),
            (PASSWORD, "short", None, "new_password2", "at least 10 characters"),
            (PASSWORD, NEW, "another one", "new_password2", "The two passwords are not the same."),
        ],
        ids=["wrong", "none", "short", "typed wrong"],
    )
    def test_what_is_wrong_stands_by_its_field(
        self, assistant_client, assistant, old, new, again, field, words
    ):
        answer = change(assistant_client, old, new, again)
        assert words in " ".join(answer.context["password"].errors[field])
        assert "Not changed." in answer.content.decode()
        assert sign_in("asa", PASSWORD)[1]

    def test_it_changes_nobody_elses(self, assistant_client, assistant):
        other = UserFactory(username="ines")
        fields = {"user": other.pk, "username": "ines", "pk": other.pk}
        assistant_client.post(
            CHANGE,
            fields | {"old_password": PASSWORD, "new_password1": NEW, "new_password2": NEW},
        )
        assert sign_in("ines", PASSWORD)[1]


class TestGuessingTheOldOne:
    def test_the_tenth_wrong_try_is_the_last(self, assistant_client, assistant):
        answers = [change(assistant_client, f"wrong-{n}").status_code for n in range(ALLOWED)]
        assert answers == [200] * (ALLOWED - 1) + [429]
        refused = change(assistant_client)
        assert refused.status_code == 429
        assert "Wait 15 minutes" in refused.context["password"].errors["old_password"][0]
        assert "Change the password" in refused.content.decode()
        assistant.refresh_from_db()
        assert assistant.check_password(PASSWORD)

    def test_tries_here_count_at_sign_in(self, assistant_client, assistant):
        for n in range(ALLOWED):
            change(assistant_client, f"wrong-{n}")
        answer = Client().post(reverse("sign-in"), {"username": "asa", "password": PASSWORD})
        assert answer.status_code == 429

    def test_tries_at_sign_in_count_here(self, assistant_client, assistant):
        for n in range(ALLOWED):
            sign_in("asa", f"wrong-{n}")
        assert change(assistant_client).status_code == 429

    def test_no_password_is_kept_with_a_failed_try(self, assistant_client, assistant):
        change(assistant_client, "the-old-word", "the-new-word")
        (kept,) = AccessAttempt.objects.values()
        assert "old_password=" in kept["post_data"]
        assert [value for value in kept.values() if "-word" in str(value)] == []
