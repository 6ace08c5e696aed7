"""Letting somebody go and taking them back, and the last owner who stays."""

from __future__ import annotations

from contextlib import suppress
from datetime import timedelta
from threading import Barrier, BrokenBarrierError

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from classes.access import calendar_token
from house.forms import LAST_OWNER
from house.models import Role
from house.selectors import others_keep
from house.services import LastOwner, change_member, let_go
from tests.classes.sessions.class_fields import fields_of
from tests.conftest import signed_in
from tests.factories import PASSWORD, UserFactory, planned_class
from tests.house.pages import FACTS, NEW, choose, do, is_in, link_on_page, person, sign_in
from tests.trust.visitors import all_at_once


class TestLettingGo:
    def test_they_are_signed_out_and_cannot_sign_in(self, owner_client, assistant):
        hers, _ = sign_in("asa", PASSWORD)
        assert is_in(hers)
        assert do(owner_client, "let_go", assistant).url == person(assistant)
        assert not is_in(hers)
        assert not sign_in("asa", PASSWORD)[1]

    def test_their_calendar_closes(self, owner_client, assistant, client):
        address = reverse("classes:own_calendar", args=[calendar_token(assistant)])
        assert client.get(address).status_code == 200
        do(owner_client, "let_go", assistant)
        assert client.get(address).status_code == 404
        do(owner_client, "take_back", assistant)
        assert client.get(address).status_code == 404

    def test_their_name_stays_on_classes_and_the_page_tells_which(self, owner_client, instructor):
        starts_at = timezone.now() + timedelta(days=3)
        session = planned_class(instructor=instructor, title="Rye day", starts_at=starts_at)
        do(owner_client, "let_go", instructor)
        session.refresh_from_db()
        assert session.instructor == instructor
        page = owner_client.get(person(instructor)).content.decode()
        assert "Rye day" in page
        seen = owner_client.get(reverse("classes:detail", args=[session.code])).content.decode()
        assert "ines" in seen

    def test_the_page_warns_before_a_teacher_leaves(self, owner_client, instructor, assistant):
        starts_at = timezone.now() + timedelta(days=3)
        planned_class(instructor=instructor, assistants=[assistant], starts_at=starts_at)
        warning = "Nobody else can change the upcoming classes"
        page = owner_client.get(person(instructor)).content.decode()
        assert f"{warning} that ines teaches." in page
        assert warning not in owner_client.get(person(assistant)).content.decode()

    def test_a_second_time_changes_nothing(self, owner_client, assistant):
        for _ in range(2):
            assert do(owner_client, "let_go", assistant).status_code == 302
        assistant.refresh_from_db()
        assert not assistant.is_active

    def test_an_owner_may_leave_when_another_stays(self, owner_client, owner):
        UserFactory(username="odd", is_superuser=True)
        do(owner_client, "let_go", owner)
        assert not is_in(owner_client)


class TestInTheClassForm:
    @pytest.fixture
    def session(self, instructor, assistant):
        return planned_class(instructor=instructor, assistants=[assistant])

    def offered(self, client, address):
        page = client.get(address)
        return {user.username for user in page.context["form"].fields["assistants"].queryset}

    def test_who_was_let_go_is_offered_for_no_other_class(
        self, owner_client, instructor_client, assistant, session
    ):
        new, edit = reverse("classes:new"), reverse("classes:edit", args=[session.code])
        assert "asa" in self.offered(instructor_client, new)
        do(owner_client, "let_go", assistant)
        assert "asa" not in self.offered(instructor_client, new)
        assert "asa" in self.offered(instructor_client, edit)

    def test_saving_a_class_keeps_who_was_let_go_unless_taken_out(
        self, owner_client, instructor_client, assistant, session
    ):
        do(owner_client, "let_go", assistant)
        edit = reverse("classes:edit", args=[session.code])
        fields = fields_of(session, seats="4", assistants=[assistant.pk])
        assert instructor_client.post(edit, fields).status_code == 302
        assert session.assistants.get() == assistant
        assert instructor_client.post(edit, fields | {"assistants": []}).status_code == 302
        assert not session.assistants.exists()


class TestTakingBack:
    def test_they_come_back_with_their_roles_and_choose_a_password(self, owner_client, assistant):
        hers, _ = sign_in("asa", PASSWORD)
        do(owner_client, "let_go", assistant)
        do(owner_client, "take_back", assistant)
        assert not is_in(hers)
        assert not sign_in("asa", PASSWORD)[1]
        choose(link_on_page(owner_client, assistant))
        assert sign_in("asa", NEW)[1]
        assert assistant.groups.get().name == "assistant"

    def test_somebody_who_is_here_keeps_their_password(self, owner_client, assistant):
        do(owner_client, "take_back", assistant)
        assert sign_in("asa", PASSWORD)[1]
        assert "/enter/" not in owner_client.get(person(assistant)).content.decode()


class TestTheLastOwner:
    def test_they_cannot_be_let_go(self, owner_client, owner):
        answer = do(owner_client, "let_go", owner, follow=True)
        assert LAST_OWNER in answer.content.decode()
        assert "The last owner cannot be let go." in answer.content.decode()
        assert is_in(owner_client)
        owner.refresh_from_db()
        assert owner.has_usable_password()

    def test_they_cannot_give_up_ownership(self, owner_client, owner):
        answer = owner_client.post(person(owner), FACTS | {"roles": ["instructor"]})
        assert answer.context["form"].errors["roles"] == [LAST_OWNER]
        owner.refresh_from_db()
        assert (owner.is_superuser, owner.first_name) == (True, "")

    def test_they_change_everything_else(self, owner_client, owner):
        owner_client.post(person(owner), FACTS | {"roles": ["owner", "instructor"]})
        owner.refresh_from_db()
        assert owner.get_full_name() == "Rosa Kernel"
        assert owner.groups.get().name == "instructor"

    @pytest.mark.parametrize(
        "other",
        [{"is_active": False}, {"password": "!never chosen"}],
        ids=["let go", "no password"],
    )
    def test_an_owner_who_cannot_sign_in_does_not_count(self, owner, other):
        User.objects.create(username="odd", is_superuser=True, **{"password": "x"} | other)
        with pytest.raises(LastOwner):
            let_go(user=owner)
        with pytest.raises(LastOwner):
            change_member(user=owner, name="", email="", roles=[Role.INSTRUCTOR])

    @pytest.mark.django_db(transaction=True)
    def test_two_who_let_each_other_go_at_once_leave_one(self, monkeypatch):
        both = [UserFactory(username=name, is_superuser=True) for name in ("odd", "even")]
        looking = Barrier(2, timeout=1)

        def wait_for_the_other(user, found):
            answer = others_keep(user, found)
            with suppress(BrokenBarrierError):
                looking.wait()
            return answer

        def send_away(user):
            try:
                let_go(user=user)
            except LastOwner:
                return "stays"
            finally:
                connection.close()
            return "gone"

        monkeypatch.setattr("house.services.others_keep", wait_for_the_other)
        assert sorted(all_at_once(send_away, both)) == ["gone", "stays"]
        assert User.objects.filter(is_superuser=True, is_active=True).count() == 1


def test_the_word_in_the_masthead_is_for_owners_alone(owner_client, instructor_client, client):
    people = f'href="{reverse("house:people")}"'
    assert people in owner_client.get("/").content.decode()
    assert people not in instructor_client.get("/").content.decode()
    assert "Your account" in instructor_client.get("/").content.decode()
    assert "Your account" not in client.get(reverse("sign-in")).content.decode()


def test_a_superuser_who_was_let_go_opens_nothing(owner_client):
    odd = UserFactory(username="odd", is_superuser=True)
    theirs = signed_in(odd)
    do(owner_client, "let_go", odd)
    assert theirs.get(reverse("house:people")).url.startswith(reverse("sign-in"))
