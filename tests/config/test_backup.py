"""A copy of the database in use, and putting it back: the newest rows are there."""

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

ROOT = Path(__file__).resolve().parents[2]

pytestmark = pytest.mark.skipif(
    os.environ.get("TEST_DATABASE_URL", "").startswith("postgres"),
    reason="the SQLite way; PostgreSQL has pg_dump and pg_restore",
)


def manage(database: Path, *arguments: str) -> subprocess.CompletedProcess:
    environment = {
        **os.environ,
        "DATABASE_URL": f"sqlite:///{database}",
        "SECRET_KEY": "only-for-this-test",
        "DJANGO_SETTINGS_MODULE": "config.settings",
    }
    command = [sys.executable, "manage.py", *arguments]
    return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True)


def names(database: Path) -> list[str]:
    with closing(sqlite3.connect(database)) as file:
        return [name for (name,) in file.execute("SELECT username FROM auth_user ORDER BY id")]


@pytest.fixture(scope="module")
def database(tmp_path_factory, migrated) -> Path:
    return Path(shutil.copy(migrated, tmp_path_factory.mktemp("backup") / "live.sqlite3"))


def test_a_copy_taken_in_use_holds_the_newest_row_and_can_be_put_back(database, tmp_path):
    live = sqlite3.connect(database, isolation_level=None)
    live.execute("PRAGMA journal_mode=WAL")
    add = (
        "INSERT INTO auth_user (username, password, is_superuser, first_name, last_name, email, "
        "is_staff, is_active, date_joined) VALUES (?, '', 0, '', '', '', 0, 1, '2030-01-01')"
    )
    live.execute(add, ["before"])
    copy = tmp_path / "copy.sqlite3"
    done = manage(database, "backup", str(copy))
    assert done.returncode == 0, done.stderr
    assert names(copy) == ["before"]
    assert copy.stat().st_mode & 0o077 == 0

    live.execute(add, ["after"])
    live.close()
    done = manage(database, "restore", str(copy))
    assert done.returncode == 0, done.stderr
    assert names(database) == ["before"]
    (kept,) = database.parent.glob("live.sqlite3.before-*")
    assert names(kept) == ["before", "after"]


def test_a_file_that_is_there_is_not_written_over(tmp_path, db):
    there = tmp_path / "there.sqlite3"
    there.write_text("something")
    with pytest.raises(CommandError, match="there already"):
        call_command("backup", str(there))
    assert there.read_text() == "something"


def test_nothing_half_written_stays_behind(tmp_path, db, monkeypatch):
    def broken(file):
        file.write_bytes(b"half")
        raise CommandError("no room")

    monkeypatch.setattr("config.management.commands.backup.copy_into", broken)
    with pytest.raises(CommandError, match="no room"):
        call_command("backup", str(tmp_path / "copy.sqlite3"))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("content", [b"no database at all", b""])
def test_what_is_no_copy_is_refused_and_the_database_stays(tmp_path, db, content):
    file = tmp_path / "wrong.sqlite3"
    file.write_bytes(content)
    with pytest.raises(CommandError):
        call_command("restore", str(file))
    connection.ensure_connection()
    assert Path(connection.settings_dict["NAME"]).exists()
