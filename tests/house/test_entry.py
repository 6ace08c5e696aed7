"""The link at which somebody chooses their own password: once, in time, and only the newest."""

from __future__ import annotations

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from house.access import entry_by_token, entry_token
from house.models import EntryLink
from house.services import LinkIsUsed, choose_password, new_entry_link
from tests.factories import PASSWORD
from tests.house.pages import NEW, added, choose, do, is_in, link_on_page, person, sign_in


@pytest.fixture
def rosa(owner_client):
    return added(owner_client)


@pytest.fixture
def link(owner_client, rosa):
    return link_on_page(owner_client, rosa)


def opens(link: str) -> bool:
    return Client().get(link).status_code == 200


class TestChoosing:
    def test_the_password_signs_in_and_the_link_is_used_up(self, link, rosa):
        answer = choose(link)
        assert answer.url == reverse("sign-in")
        assert sign_in("rosa", NEW)[1]
        assert not opens(link)
        assert choose(link, "another pass phrase").status_code == 404
        assert not sign_in("rosa", "another pass phrase")[1]

    def test_the_page_says_whose_it_is_and_looking_uses_nothing_up(self, link):
        for _ in range(3):
            page = Client().get(link)
            assert "You will sign in as" in page.content.decode()
        assert "rosa" in page.content.decode()

    @pytest.mark.parametrize(
        ("password", "again", "field", "words"),
        [
            ("short", "short", "new_password2", "at least 10 characters"),
            ("8273645190283", None, "new_password2", "entirely numeric"),
            ("password1234", None, "new_password2", "too common"),
            ("Rosa Kernel", None, "new_password2", "too similar"),
            (
                NEW,
                "a pass phrase of theirs",
                "new_password2",
                "The two passwords are not the same.",
            ),
            ("", "", "new_password1", "This field is required."),
        ],
        ids=["short", "figures", "common", "the name", "typed wrong", "empty"],
    )
    def test_a_weak_or_mistyped_one_is_refused_by_its_field(
        self, link, rosa, password, again, field, words
    ):
        answer = choose(link, password, again)
        assert answer.status_code == 200
        assert words in " ".join(answer.context["form"].errors[field])
        rosa.refresh_from_db()
        assert not rosa.has_usable_password()
        assert opens(link)

    def test_what_was_typed_is_not_shown_again(self, link):
        assert "typed-and-wrong" not in choose(link, "typed-and-wrong", "x").content.decode()

    def test_the_help_names_the_length_that_is_asked(self, link, settings):
        asked = next(
            one["OPTIONS"]["min_length"]
            for one in settings.AUTH_PASSWORD_VALIDATORS
            if one["NAME"].endswith("MinimumLengthValidator")
        )
        assert f"At least {asked} characters" in Client().get(link).content.decode()

    def test_somebody_who_is_signed_in_stays_who_they_are(self, link, owner_client):
        choose(link, client=owner_client)
        assert owner_client.get(reverse("house:people")).status_code == 200

    def test_two_who_hold_it_at_once_choose_one_password(self, rosa):
        held = entry_by_token(entry_token(rosa.entry_link), at=timezone.now())
        choose_password(link=held, password=NEW, at=timezone.now())
        with pytest.raises(LinkIsUsed):
            choose_password(link=held, password="the second one's", at=timezone.now())
        assert sign_in("rosa", NEW)[1]

    def test_who_had_to_wait_after_wrong_tries_gets_in_with_the_new_one(self, link, rosa):
        for n in range(10):
            sign_in("rosa", f"wrong-{n}")
        assert AccessAttempt.objects.exists()
        choose(link)
        assert sign_in("rosa", NEW)[1]


class TestHowItEnds:
    @pytest.mark.parametrize(("hours", "open_then"), [(71.9, True), (72.1, False)])
    def test_it_opens_for_three_days(self, link, monkeypatch, hours, open_then):
        later = timezone.now() + timedelta(hours=hours)
        monkeypatch.setattr(timezone, "now", lambda: later)
        assert opens(link) == open_then
        assert (choose(link).status_code == 302) == open_then

    def test_a_newer_one_replaces_it(self, link, rosa, owner_client):
        do(owner_client, "new_link", rosa)
        newer = link_on_page(owner_client, rosa)
        assert newer != link
        assert (opens(link), opens(newer)) == (False, True)
        assert EntryLink.objects.count() == 1

    def test_it_dies_when_the_password_changes_in_any_way(self, link, rosa, owner_client):
        rosa.set_password("set at the command line")
        rosa.save()
        assert not opens(link)
        assert "/enter/" not in owner_client.get(person(rosa)).content.decode()

    def test_it_dies_when_the_person_is_let_go(self, link, rosa, owner_client):
        do(owner_client, "let_go", rosa)
        assert not opens(link)
        do(owner_client, "take_back", rosa)
        assert not opens(link)
        assert opens(link_on_page(owner_client, rosa))

    def test_it_does_not_open_an_account_closed_in_the_back_office(self, link, rosa):
        User.objects.filter(pk=rosa.pk).update(is_active=False)
        assert not opens(link)

    def test_one_that_ended_is_no_longer_shown(self, link, rosa, owner_client):
        EntryLink.objects.update(made_at=timezone.now() - timedelta(hours=73))
        page = owner_client.get(person(rosa)).content.decode()
        assert "/enter/" not in page
        assert "▲ Cannot sign in." in page


class TestAForgottenPassword:
    def test_the_old_one_works_until_another_is_chosen(self, owner_client, assistant):
        do(owner_client, "new_link", assistant)
        before, signed_in = sign_in("asa", PASSWORD)
        assert signed_in
        choose(link_on_page(owner_client, assistant))
        assert not is_in(before)
        assert not sign_in("asa", PASSWORD)[1]
        assert sign_in("asa", NEW)[1]

    def test_an_owner_makes_none_for_themselves(self, owner_client, owner):
        assert do(owner_client, "new_link", owner).status_code == 404
        assert "Make a link" not in owner_client.get(person(owner)).content.decode()
        assert not EntryLink.objects.exists()

    def test_there_is_none_for_somebody_let_go(self, owner_client, assistant):
        do(owner_client, "let_go", assistant)
        assert do(owner_client, "new_link", assistant).status_code == 404
        assert not EntryLink.objects.exists()

    def test_a_link_says_nothing_about_the_stored_password(self, rosa):
        rosa = User.objects.get(pk=rosa.pk)
        link = new_entry_link(user=rosa, at=timezone.now())
        for part in rosa.password.split("$"):
            assert part not in entry_token(link)
        assert link.password_mark not in entry_token(link)
