"""People of the house: the list, adding somebody, their facts and roles."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.contrib.auth.models import Group, User
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from config.backup import archive
from tests.conftest import signed_in
from tests.factories import UserFactory, planned_class
from tests.house.pages import FACTS, add, added, do, person

PEOPLE = reverse("house:people")


class TestTheList:
    def test_it_tells_who_is_here_in_which_roles_and_since_when(self, owner_client, instructor):
        instructor.first_name, instructor.last_login = "Ines Rowe", timezone.now()
        instructor.groups.add(Group.objects.get_or_create(name="assistant")[0])
        instructor.save()
        page = owner_client.get(PEOPLE)
        one = next(one for one in page.context["here"] if one.username == "ines")
        assert (one.called, one.role_words) == ("Ines Rowe", "assistant, instructor")
        text = page.content.decode()
        assert f"last signed in {instructor.last_login:%-d %B %Y, %H:%M} UTC" in text
        assert "Nobody has been let go." in text

    def test_who_was_let_go_stands_apart(self, owner_client, assistant):
        do(owner_client, "let_go", assistant)
        page = owner_client.get(PEOPLE)
        assert [one.username for one in page.context["gone"]] == ["asa"]
        assert "asa" not in [one.username for one in page.context["here"]]

    def test_somebody_without_password_and_link_is_marked(self, owner_client, owner):
        User.objects.create_user("nora")
        assert "▲ no password and no open link" in owner_client.get(PEOPLE).content.decode()

    def test_it_asks_the_database_as_often_for_many_as_for_few(
        self, owner_client, django_assert_num_queries, db
    ):
        owner_client.get(PEOPLE)
        for n in range(5):
            added(owner_client, username=f"rosa{n}")
        with django_assert_num_queries(4):
            owner_client.get(PEOPLE)


class TestAdding:
    def test_somebody_new_has_roles_a_link_and_no_password(self, owner_client):
        rosa = added(owner_client, roles=["assistant", "instructor"])
        assert rosa.get_full_name() == "Rosa Kernel"
        assert rosa.email == "rosa@example.org"
        assert sorted(rosa.groups.values_list("name", flat=True)) == ["assistant", "instructor"]
        assert (rosa.is_superuser, rosa.is_staff) == (False, False)
        assert not rosa.has_usable_password()
        page = owner_client.get(person(rosa)).content.decode()
        assert f"/enter/{rosa.entry_link.pk}-" in page

    def test_name_and_e_mail_may_be_left_out(self, owner_client):
        rosa = added(owner_client, name="", email="")
        assert "<bdi>rosa</bdi>" in owner_client.get(person(rosa)).content.decode()

    def test_an_owner_may_enter_the_back_office(self, owner_client):
        rosa = added(owner_client, roles=["owner"])
        assert (rosa.is_superuser, rosa.is_staff) == (True, True)

    def test_a_password_that_is_sent_along_is_nobodys(self, owner_client):
        rosa = added(owner_client, password="typed for her", new_password1="typed for her")
        assert not rosa.has_usable_password()

    @pytest.mark.parametrize(
        ("field", "value", "words"),
        [
            ("username", "", "Give them a user name"),
            ("username", "rosa kernel", "Enter a valid username"),
            ("username", "r" * 151, "at most 150 characters"),
            ("username", "OLAF", "This user name is taken"),
            ("name", "n" * 151, "at most 150 characters"),
            ("email", "rosa at home", "Enter a valid email address"),
            ("roles", [], "Choose at least one role."),
            ("roles", ["king"], "king is not one of the available choices"),
        ],
        ids=["none", "blank", "long", "taken", "long name", "no e-mail", "no role", "odd role"],
    )
    def test_what_is_wrong_stands_by_its_field(self, owner_client, field, value, words):
        answer = add(owner_client, **{field: value})
        assert answer.status_code == 200
        assert words in " ".join(answer.context["form"].errors[field])
        assert User.objects.count() == 1
        assert "Not saved yet." in answer.content.decode()

    def test_the_name_of_somebody_let_go_stays_theirs(self, owner_client):
        do(owner_client, "let_go", added(owner_client))
        answer = add(owner_client)
        assert "perhaps by somebody who was let go" in answer.context["form"].errors["username"][0]


class TestChanging:
    def test_facts_and_roles_change_together(self, owner_client, assistant):
        fields = {"name": "Asa Stone", "email": "asa@example.org", "roles": ["instructor"]}
        answer = owner_client.post(person(assistant), fields)
        assert answer.url == PEOPLE
        assistant.refresh_from_db()
        assert (assistant.get_full_name(), assistant.email) == ("Asa Stone", "asa@example.org")
        assert [group.name for group in assistant.groups.all()] == ["instructor"]

    def test_the_form_shows_what_is_so_now(self, owner_client, instructor):
        form = owner_client.get(person(instructor)).context["form"]
        assert [str(role) for role in form["roles"].value()] == ["instructor"]

    def test_groups_that_are_not_ours_stay(self, owner_client, assistant):
        assistant.groups.add(Group.objects.create(name="choir"))
        owner_client.post(person(assistant), FACTS | {"roles": ["instructor"]})
        assert sorted(group.name for group in assistant.groups.all()) == ["choir", "instructor"]

    def test_a_role_is_gained_and_lost_at_once(self, owner_client, assistant, assistant_client):
        recipes = reverse("recipes:list")
        assert assistant_client.get(recipes).status_code == 404
        owner_client.post(person(assistant), FACTS | {"roles": ["instructor"]})
        assert assistant_client.get(recipes).status_code == 200
        owner_client.post(person(assistant), FACTS | {"roles": ["assistant"]})
        assert assistant_client.get(recipes).status_code == 404

    def test_nothing_changes_while_a_field_is_wrong(self, owner_client, assistant):
        answer = owner_client.post(person(assistant), {"name": "New", "roles": []})
        assert answer.context["form"].errors["roles"] == ["Choose at least one role."]
        assistant.refresh_from_db()
        assert assistant.first_name == ""
        assert assistant.groups.get().name == "assistant"

    def test_an_owner_who_gives_it_up_is_led_home(self, owner_client, owner):
        UserFactory(username="odd", is_superuser=True)
        answer = owner_client.post(person(owner), FACTS | {"roles": ["instructor"]})
        assert answer.url == reverse("home")
        assert owner_client.get(PEOPLE).status_code == 404
        owner.refresh_from_db()
        assert (owner.is_superuser, owner.is_staff) == (False, False)

    def test_somebody_who_is_not_there_is_not_found(self, owner_client):
        assert owner_client.get(reverse("house:person", args=[999_999])).status_code == 404


class TestTheirClasses:
    def test_the_coming_ones_that_name_them_stand_on_their_page(self, owner_client, assistant):
        now = timezone.now()
        teacher = UserFactory(username="ines")
        planned_class(
            instructor=teacher,
            assistants=[assistant],
            title="Rye day",
            starts_at=now + timedelta(days=3),
        )
        planned_class(
            instructor=teacher,
            assistants=[assistant],
            title="Long gone",
            starts_at=now - timedelta(days=9),
        )
        planned_class(instructor=teacher, title="Without them", starts_at=now + timedelta(days=5))
        coming = owner_client.get(person(assistant)).context["coming"]
        assert [(one.session.title, one.does) for one in coming] == [("Rye day", "assists")]
        taught = owner_client.get(person(teacher)).context["coming"]
        assert [(one.session.title, one.does) for one in taught] == [
            ("Rye day", "teaches"),
            ("Without them", "teaches"),
        ]

    def test_without_any_the_page_says_so(self, owner_client, assistant):
        page = owner_client.get(person(assistant)).content.decode()
        assert "asa is not named in any upcoming class." in page

    def test_a_role_opens_no_class_that_does_not_name_them(self, owner_client):
        session = planned_class()
        rosa = added(owner_client, roles=["assistant", "instructor"])
        hers = signed_in(rosa)
        for name in ("roster", "amounts", "diets", "money", "edit", "letters"):
            assert hers.get(reverse(f"classes:{name}", args=[session.code])).status_code == 404
        do(owner_client, "let_go", rosa)
        do(owner_client, "take_back", rosa)
        rosa.refresh_from_db()
        hers = signed_in(rosa)
        assert hers.get(reverse("classes:roster", args=[session.code])).status_code == 404


class TestBackup:
    @pytest.fixture
    def data(self, settings, tmp_path):
        settings.DATA_DIR = tmp_path
        return tmp_path

    def test_without_one_it_says_so_and_how_to_make_one(self, owner_client, data):
        page = owner_client.get(PEOPLE).content.decode()
        assert "▲ No archive has been made here yet." in page
        assert "manage.py backup FOLDER" in page

    def test_it_tells_when_the_last_one_was_made(self, owner_client, data, tmp_path_factory):
        call_command("backup", str(tmp_path_factory.mktemp("copies")))
        page = owner_client.get(PEOPLE).content.decode()
        now = timezone.now()
        assert f"The last archive was made on {now:%-d %B %Y, %H:}" in page
        assert f"<code>bakebench-{now:%Y%m%d}-" in page
        assert "more than a week ago" not in page

    def test_an_old_one_is_marked(self, owner_client, data, tmp_path_factory):
        file = tmp_path_factory.mktemp("copies") / "old.tar.gz"
        archive.write(file, at=timezone.now() - timedelta(days=7, minutes=1))
        assert "▲ more than a week ago" in owner_client.get(PEOPLE).content.decode()

    def test_a_note_that_cannot_be_read_counts_as_none(self, owner_client, data):
        (data / archive.LAST).write_text('{"at": "some day"')
        assert "No archive has been made" in owner_client.get(PEOPLE).content.decode()
