"""Copy a database while it is in use, and put a copy back, for SQLite and PostgreSQL."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path

from django.core.management.base import CommandError
from django.db import connection

ONE_TABLE = "classes_classsession"


def kind() -> str:
    return connection.vendor


def copy_into(file: Path) -> None:
    """Write a consistent copy of the database. Raises CommandError."""
    if connection.vendor == "postgresql":
        _run("pg_dump", "--format=custom", "--no-owner", f"--file={file}")
    else:
        _copy_sqlite(file)


def check(file: Path) -> None:
    """Check that this is an intact copy of our database. Raises CommandError."""
    if connection.vendor == "postgresql":
        _check_dump(file)
    else:
        _check_sqlite(file)


def put_back(file: Path, kept: Path) -> None:
    """Put a copy in place of the database, which is kept in a file. Raises CommandError."""
    if connection.vendor == "postgresql":
        _run("pg_dump", "--format=custom", "--no-owner", f"--file={kept}")
        kept.chmod(0o600)
        connection.close()
        script = file.with_suffix(".sql")
        _run("pg_restore", "--no-owner", f"--file={script}", str(file), to_database=False)
        _run("psql", *_ANEW, f"--file={script}")
    else:
        _put_back_sqlite(file, kept)


# SQLite


def _copy_sqlite(file: Path) -> None:
    """With a separate connection: one in a transaction would make the copy wait forever."""
    name = str(connection.settings_dict["NAME"])
    with closing(sqlite3.connect(name)) as source, closing(sqlite3.connect(file)) as copy:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")
        (answer,) = copy.execute("PRAGMA integrity_check").fetchone()
    file.chmod(0o600)
    if answer != "ok":
        raise CommandError(f"The copy is not sound: {answer}")


def _check_sqlite(file: Path) -> None:
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as copy:
            (answer,) = copy.execute("PRAGMA integrity_check").fetchone()
            tables = {name for (name,) in copy.execute("SELECT name FROM sqlite_master")}
    except sqlite3.DatabaseError:
        raise CommandError("The archive holds no database.") from None
    if answer != "ok" or ONE_TABLE not in tables:
        raise CommandError("The archive holds no sound copy of a Bakebench database.")


def _put_back_sqlite(file: Path, kept: Path) -> None:
    target = Path(str(connection.settings_dict["NAME"]))
    connection.close()
    if target.exists():
        _set_aside(target, kept)
    fresh = target.with_name(f"{target.name}.restoring")
    shutil.copyfile(file, fresh)
    fresh.chmod(0o600)
    os.replace(fresh, target)


def _set_aside(target: Path, kept: Path) -> None:
    """Move the database away complete: what is still in its log is written into it first."""
    with closing(sqlite3.connect(target)) as old:
        (busy, *_) = old.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    if busy:
        raise CommandError("Somebody is still writing. Stop the server, then try again.")
    shutil.move(target, kept)
    kept.chmod(0o600)
    for suffix in ("-wal", "-shm"):
        target.with_name(target.name + suffix).unlink(missing_ok=True)


# PostgreSQL

# All or nothing, without tables newer than the archive, and without waiting for readers.
_ANEW = (
    "--no-psqlrc",
    "--quiet",
    "--single-transaction",
    "--set=ON_ERROR_STOP=1",
    "--command=SET LOCAL lock_timeout = '10s'",
    "--command=DROP SCHEMA public CASCADE",
    "--command=CREATE SCHEMA public",
)


def _check_dump(file: Path) -> None:
    done = _run("pg_restore", "--list", str(file), to_database=False)
    if ONE_TABLE not in done:
        raise CommandError("The archive holds no copy of a Bakebench database.")


def _run(program: str, *words: str, to_database: bool = True) -> str:
    """Run one of PostgreSQL's programs and return its output. Raises CommandError."""
    if shutil.which(program) is None:
        raise CommandError(f"{program} is not installed: sudo apt-get install postgresql-client")
    known = connection.settings_dict
    password = {"PGPASSWORD": known["PASSWORD"]} if known["PASSWORD"] else {}
    command = [program, *(_where(known) if to_database else ()), *words]
    done = subprocess.run(  # noqa: S603
        command, check=False, env={**os.environ, **password}, capture_output=True, text=True
    )
    if done.returncode:
        raise CommandError(f"{program} ended with {done.returncode}: {done.stderr.strip()}")
    return done.stdout


def _where(known: dict[str, str]) -> list[str]:
    flags = (("host", "HOST"), ("port", "PORT"), ("username", "USER"))
    return [
        f"--dbname={known['NAME']}",
        *(f"--{flag}={known[name]}" for flag, name in flags if known[name]),
    ]
