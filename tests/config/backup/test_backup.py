"""One archive of a house in use, and putting it back: all of it comes, and nobody erased does."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tarfile
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from config.backup import archive, databases
from config.setup.secret_key import ensure_secret_key
from tests.config.backup.house_to_copy import BOOKS, COMES_ALONG, STAYS, WAITS
from tests.trust.postgres import postgres_url

ROOT = Path(__file__).resolve().parents[3]
PARTS = ("about.json", "database", "secret_key", "erasures")
OTHER_KEY = "another-key-of-another-machine-0123456789-0123456789-0123456789"


@dataclass
class House:
    """A database and a folder of data, worked on by processes of their own."""

    url: str
    data: Path

    def run(self, *command: str, **more: str) -> subprocess.CompletedProcess:
        environment = {
            **os.environ,
            "DATABASE_URL": self.url,
            "DATA_DIR": str(self.data),
            "SECRET_KEY": "",
            "EMAIL_URL": "",
            "DJANGO_SETTINGS_MODULE": "config.settings",
        }
        environment |= more
        command = [sys.executable, *command]
        return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True)

    def manage(self, *words: str, **more: str) -> subprocess.CompletedProcess:
        return self.run("manage.py", *words, **more)

    def do(self, *words: str):
        done = self.run("-m", "tests.config.backup.house_to_copy", *words)
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    def backup(self, file: Path) -> Path:
        done = self.manage("backup", str(file))
        assert done.returncode == 0, done.stderr
        return file

    def restore(self, file: Path) -> str:
        done = self.manage("restore", str(file))
        assert done.returncode == 0, done.stderr
        return done.stdout

    def all_bytes(self) -> bytes:
        """All that is in the database, as it lies there or as PostgreSQL tells it."""
        if self.url.startswith("sqlite"):
            name = self.url.removeprefix("sqlite:///")
            files = [Path(f"{name}{suffix}") for suffix in ("", "-wal")]
            return b"".join(file.read_bytes() for file in files if file.exists())
        command = ["pg_dump", self.url.replace("postgres://", "postgresql://")]
        return subprocess.run(command, check=True, capture_output=True).stdout


@pytest.fixture(scope="module", params=["sqlite", "postgres"])
def house(request, tmp_path_factory):
    data = tmp_path_factory.mktemp("house")
    ensure_secret_key(data / "secret_key")
    if request.param == "sqlite":
        yield House(f"sqlite:///{shutil.copy(request.getfixturevalue('migrated'), data)}", data)
        return
    if shutil.which("psql") is None:
        pytest.skip("PostgreSQL's programs (Debian: postgresql-client-15) are not installed")
    with postgres_url(request.getfixturevalue("migrated_cluster")) as url:
        yield House(url, data)


@pytest.fixture(scope="module")
def copied(house, tmp_path_factory):
    """A full house as it is seen, the link of one who stays, and its archive."""
    token = house.do("fill")["token"]
    file = house.backup(tmp_path_factory.mktemp("copies") / "first.tar.gz")
    return token, file, house.do("look", token)


@pytest.fixture(scope="module")
def restored(house, copied):
    """What is said, seen and stored when an older archive is put back.

    Meanwhile people were erased, a photo was lost, and the key is another.
    """
    token, file, _ = copied
    assert house.do("erase") == [STAYS, "Nora New"]
    shutil.rmtree(house.data / "media")
    (house.data / "secret_key").write_text(OTHER_KEY)
    said = house.restore(file)
    return said, house.do("look", token), house.all_bytes()


def test_an_archive_has_everything_and_is_for_its_owner_alone(house, copied):
    _, file, _ = copied
    assert file.stat().st_mode & 0o777 == 0o600
    with tarfile.open(file) as opened:
        names = opened.getnames()
        key = opened.extractfile("secret_key").read().decode()
    assert {"about.json", "database", "secret_key", "erasures"} < set(names)
    assert sum(name.startswith("media/photos/") for name in names) == 1
    assert key == (house.data / "secret_key").read_text().strip()
    assert not [one.name for one in house.data.glob("tmp*")]


def test_it_was_whole_before(house, copied):
    *_, found = copied
    assert {STAYS, BOOKS, COMES_ALONG} < set(found["people"])
    assert (found["waiting"], found["let go"], found["photo"]) == ([WAITS], False, True)
    assert found["canary in letters"]


def test_links_and_photos_come_back_and_what_is_newer_goes(house, copied, restored):
    _, found, _ = restored
    assert found["opens for"] == STAYS
    assert found["photo"]
    assert "Nora New" not in found["people"]


def test_nobody_who_was_erased_since_comes_back(house, copied, restored):
    said, found, left = restored
    assert found["people"] == [STAYS]
    assert found["taken"] == 1
    assert found["emails"] == ["ada.canary@example.org"]
    assert found["waiting"] == ["Erased"]
    assert found["let go"]
    assert "erased since: 4." in said
    for word in ("Quillon", "Mirabel", "Wim Canary", "wim.canary", "Newt"):
        assert word.encode() not in left, word
    assert b"Ada Staying" in left


def test_letters_that_waited_in_the_archive_are_not_sent_by_themselves(house, copied, restored):
    said, found, _ = restored
    assert "They are not sent automatically" in " ".join(said.split())
    assert "queued" not in found["letters"]


def test_what_was_there_is_kept_for_its_owner_alone(house, restored):
    [kept] = house.data.glob("before-*")
    assert kept.stat().st_mode & 0o777 == 0o700
    assert (kept / "secret_key").read_text() == OTHER_KEY
    assert (kept / "database").stat().st_mode & 0o777 == 0o600
    assert (house.data / "secret_key").stat().st_mode & 0o777 == 0o600


def test_the_list_of_erasures_holds_no_personal_word(house, restored):
    listed = house.data / "erasures.jsonl"
    assert listed.stat().st_mode & 0o777 == 0o600
    words = listed.read_text()
    assert len(words.splitlines()) >= 5
    for private in ("Quillon", "Mirabel", "Wim", "rosa", "canary", "example"):
        assert private not in words


def test_somebody_new_under_a_number_that_was_erased_stays(house, copied, restored, tmp_path):
    """Numbers of rows begin again after an older archive; marks do not."""
    token, *_ = copied
    house.do("add", "Pia Fresh")
    house.restore(house.backup(tmp_path / "second.tar.gz"))
    assert house.do("look", token)["people"] == [STAYS, "Pia Fresh"]


def test_a_copy_taken_while_others_write_holds_the_newest_row(tmp_path, migrated):
    file = Path(shutil.copy(migrated, tmp_path / "live.sqlite3"))
    ensure_secret_key(tmp_path / "secret_key")
    with closing(sqlite3.connect(file, isolation_level=None)) as live:
        live.execute("PRAGMA journal_mode=WAL")
        live.execute("INSERT INTO auth_group (name) VALUES ('the newest')")
        copy = House(f"sqlite:///{file}", tmp_path).backup(tmp_path / "copy.tar.gz")
    with tarfile.open(copy) as opened:
        (tmp_path / "out").write_bytes(opened.extractfile("database").read())
    with closing(sqlite3.connect(tmp_path / "out")) as found:
        assert ("the newest",) in found.execute("SELECT name FROM auth_group").fetchall()


# What is refused


def test_a_file_that_is_there_is_not_written_over(tmp_path, db):
    there = tmp_path / "there.tar.gz"
    there.write_text("something")
    with pytest.raises(CommandError, match="already exists"):
        call_command("backup", str(there))
    assert there.read_text() == "something"


def test_nothing_half_written_stays_behind(tmp_path, db, monkeypatch):
    def broken(file):
        file.write_bytes(b"half")
        raise CommandError("no room")

    monkeypatch.setattr(databases, "copy_into", broken)
    with pytest.raises(CommandError, match="no room"):
        call_command("backup", str(tmp_path / "copy.tar.gz"))
    assert list(tmp_path.iterdir()) == []


def packed(path: Path, **members: bytes) -> Path:
    with tarfile.open(path, "w:gz") as opened:
        for name, data in members.items():
            archive._add(opened, name, data)
    return path


NO_ARCHIVES = {
    "text": lambda path: path.write_bytes(b"no archive at all"),
    "empty": lambda path: path.write_bytes(b""),
    "nothing in it": lambda path: packed(path, **{"about.json": b"{}"}),
    "outside": lambda path: packed(path, **{"../outside": b"x"}),
    "outside by media": lambda path: packed(path, **{"media/../../outside": b"x"}),
    "no JSON": lambda path: packed(
        path, **{"about.json": b"no JSON", "database": b"", "secret_key": b""}
    ),
}


@pytest.fixture(scope="module")
def refused(house, restored, tmp_path_factory):
    """What a restore of each wrong archive says and leaves, all tried by one process."""
    folder = tmp_path_factory.mktemp("wrong")
    files = {name: folder / f"{name}.tar.gz" for name in NO_ARCHIVES}
    for name, make in NO_ARCHIVES.items():
        make(files[name])
    before = sorted(path.name for path in house.data.iterdir())
    tried = house.do("try", *map(str, files.values()))
    return before, dict(zip(files, tried, strict=True)), folder


@pytest.mark.parametrize("name", NO_ARCHIVES)
def test_what_is_no_archive_is_refused_and_the_house_stays(refused, name):
    before, tried, folder = refused
    assert tried[name]["status"] == 1
    assert "is not an archive made by" in tried[name]["errors"]
    assert tried[name]["left"] == before
    assert not (folder / "outside").exists()


def test_an_archive_of_the_other_kind_of_database_is_refused(house, copied, restored, tmp_path):
    _, file, _ = copied
    with tarfile.open(file) as opened:
        parts = {name: opened.extractfile(name).read() for name in PARTS}
    about = json.loads(parts["about.json"]) | {"database": "other"}
    parts |= {"about.json": json.dumps(about).encode()}
    wrong = packed(tmp_path / "other.tar.gz", **parts)
    done = house.manage("restore", str(wrong))
    assert done.returncode == 1
    assert "other kind of database" in done.stderr


def test_a_damaged_database_in_it_is_refused(house, copied, restored, tmp_path):
    token, file, _ = copied
    with tarfile.open(file) as opened:
        parts = {name: opened.extractfile(name).read() for name in PARTS}
    wrong = packed(tmp_path / "damaged.tar.gz", **parts | {"database": b"damaged"})
    done = house.manage("restore", str(wrong))
    assert done.returncode == 1
    assert house.do("look", token)["opens for"] == STAYS


def test_without_the_programs_of_postgresql_it_says_what_to_install(house, copied, tmp_path):
    if house.url.startswith("sqlite"):
        pytest.skip("SQLite needs none")
    done = house.manage("backup", str(tmp_path / "one.tar.gz"), PATH="")
    assert done.returncode == 1
    assert "pg_dump is not installed: sudo apt-get install postgresql-client" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_another_key_in_the_environment_is_told(house, copied, restored):
    _, file, _ = copied
    done = house.manage("restore", str(file), SECRET_KEY=OTHER_KEY)
    assert done.returncode == 0, done.stderr
    assert "SECRET_KEY is set in the environment to another key" in done.stderr
