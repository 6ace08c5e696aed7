"""Letters where no mail server is named: files that nobody else reads, and a line in the log."""

from __future__ import annotations

import logging
import logging.config
import os
import re
import subprocess
import sys
from datetime import timedelta
from email import message_from_bytes, policy

import pytest
from django.core.mail import send_mail

from classes.access import student_token
from classes.enrollment.models import Letter
from classes.enrollment.services.chores import do_chores
from classes.enrollment.services.leaving import erase_person
from classes.enrollment.services.letters import deliver_letters
from classes.enrollment.services.seats import Diner
from config import letter_files
from config.environment import BASE_DIR
from tests.classes.enrollment.enrolled import NOW, enrolled, open_class


@pytest.fixture
def data(settings, tmp_path):
    settings.DATA_DIR = tmp_path / "data"
    settings.EMAIL_BACKEND = letter_files.BACKEND
    return settings.DATA_DIR


@pytest.fixture
def booking(db, data):
    both = (Diner("Quillon Vane"), Diner("Mirabel Ost"))
    return enrolled(open_class(), *both, email="quillon@example.org")


def files(data):
    return sorted((data / "letters").glob("*"))


def text_in(path) -> str:
    message = message_from_bytes(path.read_bytes(), policy=policy.default)
    return message.get_body(("plain",)).get_content()


@pytest.mark.parametrize(
    ("address", "sent"),
    [(None, False), ("", False), ("console:", False), ("smtp://mail.example.org:25", True)],
)
def test_without_a_mail_server_the_settings_never_choose_the_console(tmp_path, address, sent):
    asked = "import config.settings as s; print(s.EMAIL_BACKEND)"
    environment = {"PATH": os.environ["PATH"], "DATA_DIR": str(tmp_path), "SECRET_KEY": "k"}
    if address is not None:
        environment["EMAIL_URL"] = address
    run = subprocess.run(
        [sys.executable, "-c", asked],
        cwd=BASE_DIR,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    smtp = "django.core.mail.backends.smtp.EmailBackend"
    assert run.stdout.strip() == (smtp if sent else letter_files.BACKEND)


def test_a_letter_is_a_whole_file_that_only_its_owner_reads(booking, data):
    before = os.umask(0)
    try:
        assert deliver_letters(at=NOW) == 1
    finally:
        os.umask(before)
    [path] = files(data)
    message = message_from_bytes(path.read_bytes(), policy=policy.default)
    assert message["To"] == "quillon@example.org"
    assert "/mine/" in text_in(path)
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700


def test_what_is_written_out_tells_where_and_neither_address_nor_link(
    booking, data, capfd, settings
):
    logging.config.dictConfig(settings.LOGGING)
    deliver_letters(at=NOW)
    out, said = capfd.readouterr()
    assert out == ""
    assert re.fullmatch(r".* A letter is in \S+/letters/letter-\d+\.eml\. Set EMAIL_URL.*\n", said)
    for private in ("quillon", "Mirabel", "/mine/", student_token(booking.people.first())):
        assert private not in said


def test_the_letters_page_says_that_they_are_not_sent_and_where_they_are(
    booking, data, instructor_client, instructor
):
    booking.session.instructor = instructor
    booking.session.save()
    deliver_letters(at=NOW)
    page = instructor_client.get(f"/classes/{booking.session.code}/letters/").content.decode()
    assert "Letters are not sent from here." in page
    assert f"<code>{data / 'letters'}</code>" in page
    assert "Written to a file, not sent" in page


def test_with_a_mail_server_the_letters_page_says_nothing_of_files(
    booking, instructor_client, instructor, settings
):
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    booking.session.instructor = instructor
    booking.session.save()
    deliver_letters(at=NOW)
    page = instructor_client.get(f"/classes/{booking.session.code}/letters/").content.decode()
    assert "Letters are not sent" not in page
    assert Letter.objects.get().state == "sent"


def test_the_files_of_somebody_erased_are_gone(booking, data, django_capture_on_commit_callbacks):
    deliver_letters(at=NOW)
    with django_capture_on_commit_callbacks(execute=True):
        erase_person(enrollment=booking.people.first(), at=NOW)
    assert files(data) == []


def test_a_companion_s_name_goes_out_of_the_file_of_those_who_stay(
    booking, data, django_capture_on_commit_callbacks
):
    deliver_letters(at=NOW)
    [path] = files(data)
    assert "Mirabel Ost" in text_in(path)
    with django_capture_on_commit_callbacks(execute=True):
        erase_person(enrollment=booking.people.last(), at=booking.session.ends_at)
    assert b"Mirabel" not in path.read_bytes()
    assert "Quillon Vane" in text_in(path)
    assert path.stat().st_mode & 0o777 == 0o600


def test_a_file_whose_letter_was_erased_is_swept_away(booking, data):
    deliver_letters(at=NOW)
    do_chores(at=NOW + timedelta(minutes=1))
    assert len(files(data)) == 1
    Letter.objects.update(to="")
    do_chores(at=NOW + timedelta(minutes=2))
    assert files(data) == []


def test_a_message_that_is_no_letter_of_a_class_gets_a_name_of_its_own(data):
    for _ in range(2):
        send_mail("One", "Words", None, ["somebody@example.org"])
    assert len(files(data)) == 2


def test_a_refused_address_is_not_kept_in_what_went_wrong(booking, data, monkeypatch):
    def refused(*args):
        raise OSError("550 no such person: quillon@example.org")

    monkeypatch.setattr(letter_files, "write", refused)
    deliver_letters(at=NOW)
    assert Letter.objects.get().problem == "OSError: 550 no such person: …"
