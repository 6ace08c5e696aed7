"""`manage.py prepare`: once or many times, nothing of the user's changes."""

from io import StringIO

import pytest
from django.contrib.auth import get_user_model
from django.core.management import call_command

from classes.demo import DEMO_ACCOUNTS
from config.setup import demo, static_files
from tests.factories import UserFactory
from tools import webfonts


@pytest.fixture(autouse=True)
def own_folders(settings, tmp_path, monkeypatch):
    settings.DATA_DIR = tmp_path / "data"
    settings.STATIC_ROOT = tmp_path / "data" / "static"
    monkeypatch.setattr(webfonts, "build", lambda folder: [])


def prepare(**options) -> str:
    out = StringIO()
    call_command("prepare", stdout=out, **options)
    return out.getvalue()


@pytest.mark.django_db
def test_the_first_run_loads_the_demo_and_prints_its_sign_ins():
    said = prepare(port=8123)

    assert "http://127.0.0.1:8123/" in said
    for username, password, _role in DEMO_ACCOUNTS:
        assert f"{username} / {password}" in said
        assert get_user_model().objects.get(username=username).check_password(password)


@pytest.mark.django_db
def test_a_second_run_loads_nothing_and_keeps_what_was_changed():
    prepare()
    name = DEMO_ACCOUNTS[0][0]
    get_user_model().objects.filter(username=name).update(first_name="Renamed")
    count = get_user_model().objects.count()

    said = prepare()

    assert get_user_model().objects.get(username=name).first_name == "Renamed"
    assert get_user_model().objects.count() == count
    assert "collected" not in said


@pytest.mark.django_db
def test_a_house_with_people_gets_no_demo():
    UserFactory(username="first")

    assert "sign-ins" not in prepare()
    assert get_user_model().objects.count() == 1


@pytest.mark.django_db
def test_the_demo_can_be_left_out():
    prepare(no_demo=True)

    assert not get_user_model().objects.exists()


@pytest.mark.django_db
def test_a_changed_demo_password_is_printed_no_more():
    prepare()
    username = DEMO_ACCOUNTS[0][0]
    user = get_user_model().objects.get(username=username)
    user.set_password("their own now")
    user.save()

    assert username not in [account.username for account in demo.open_accounts()]
    assert len(demo.open_accounts()) == len(DEMO_ACCOUNTS) - 1


@pytest.mark.django_db
def test_an_unchanged_password_is_checked_once(monkeypatch):
    prepare()
    monkeypatch.setattr(demo, "check_password", lambda *_: pytest.fail("checked again"))

    assert len(demo.open_accounts()) == len(DEMO_ACCOUNTS)


def test_static_files_are_collected_again_when_one_changes(settings, tmp_path):
    source = tmp_path / "source"
    source.mkdir()
    (source / "a.css").write_text("a {}")
    settings.STATICFILES_DIRS = [source]
    settings.DATA_DIR.mkdir()

    assert static_files.collect_when_changed()
    assert not static_files.collect_when_changed()
    (source / "a.css").write_text("a { color: red }")
    assert static_files.collect_when_changed()
    assert "red" in (settings.STATIC_ROOT / "a.css").read_text()
