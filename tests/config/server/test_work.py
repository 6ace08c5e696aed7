"""The work beside the server: once, and until it is told to stop."""

import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from django.core import mail
from django.core.management import call_command
from django.utils import timezone

from classes.enrollment.models import Letter
from classes.enrollment.services.chores import do_chores
from tests.factories import planned_class

ROOT = Path(__file__).resolve().parents[3]
LIMIT_S = 60


@pytest.fixture
def letter(db):
    now = timezone.now()
    return Letter.objects.create(
        session=planned_class(),
        kind=Letter.Kind.REMINDER,
        key="reminder|one",
        to="ada@example.org",
        subject="Soon",
        text="The class is soon.",
        html="<p>The class is soon.</p>",
        not_before=now,
        made_at=now,
    )


def test_once_does_what_is_due_and_says_how_much(letter, capsys):
    call_command("work", "--once")
    assert "sent=1" in capsys.readouterr().out
    assert [one.to for one in mail.outbox] == [["ada@example.org"]]


def test_chores_done_twice_send_nothing_twice(letter):
    now = timezone.now()
    assert [do_chores(at=now).sent, do_chores(at=now).sent] == [1, 0]
    assert len(mail.outbox) == 1


def test_it_ends_when_it_is_told_to(tmp_path, migrated):
    environment = {
        **os.environ,
        "DATABASE_URL": f"sqlite:///{shutil.copy(migrated, tmp_path)}",
        "SECRET_KEY": "only-for-this-test",
        "DJANGO_SETTINGS_MODULE": "config.settings",
    }
    run = {"cwd": ROOT, "env": environment}
    command = [sys.executable, "manage.py", "work"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, **run) as process:
        try:
            assert "Working on papers" in process.stdout.readline()
            process.send_signal(signal.SIGTERM)
            assert process.wait(LIMIT_S) == 0
        finally:
            process.kill()
