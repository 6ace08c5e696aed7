"""Put a copy made by `backup` back: `manage.py restore FILE`, with the server stopped."""

from __future__ import annotations

import os
import shutil
import sqlite3
from argparse import ArgumentParser
from contextlib import closing
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.utils import timezone


class Command(BaseCommand):
    help = (
        "Put an SQLite copy back. Stop the server first. What was there is kept beside it. "
        "For PostgreSQL use pg_restore --clean --if-exists."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *, file: Path, **options: Any) -> None:
        if connection.vendor != "sqlite":
            raise CommandError(
                "This database is no SQLite file. Run: pg_restore --clean --if-exists "
                f"--dbname={connection.settings_dict['NAME']} {file}"
            )
        _check(file)
        target = Path(str(connection.settings_dict["NAME"]))
        connection.close()
        if target.exists():
            kept = target.with_name(f"{target.name}.before-{timezone.now():%Y%m%d-%H%M%S}")
            _set_aside(target, kept)
            self.stdout.write(f"What was there is now {kept}.")
        fresh = target.with_name(f"{target.name}.restoring")
        shutil.copyfile(file, fresh)
        fresh.chmod(0o600)
        os.replace(fresh, target)
        self.stdout.write(f"{file} is the database now. Start the server with `make serve`.")


def _check(file: Path) -> None:
    """Refuse what is no sound copy of our database."""
    if not file.is_file():
        raise CommandError(f"There is no file {file}.")
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as copy:
            (answer,) = copy.execute("PRAGMA integrity_check").fetchone()
            tables = {name for (name,) in copy.execute("SELECT name FROM sqlite_master")}
    except sqlite3.DatabaseError:
        raise CommandError(f"{file} is no database.") from None
    if answer != "ok" or "classes_classsession" not in tables:
        raise CommandError(f"{file} is no sound copy of a Bakebench database.")


def _set_aside(target: Path, kept: Path) -> None:
    """Move the database away whole: what still waits in its journal is written into it first."""
    with closing(sqlite3.connect(target)) as old:
        (busy, *_) = old.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    if busy:
        raise CommandError("Somebody is still writing. Stop the server, then try again.")
    os.replace(target, kept)
    for suffix in ("-wal", "-shm"):
        target.with_name(target.name + suffix).unlink(missing_ok=True)
