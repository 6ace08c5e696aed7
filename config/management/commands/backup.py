"""Copy the database while it is in use: `manage.py backup FILE`."""

from __future__ import annotations

import os
import sqlite3
import subprocess
from argparse import ArgumentParser
from contextlib import closing
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import connection


class Command(BaseCommand):
    help = (
        "Copy the database into FILE while the server runs. A plain copy of an SQLite file can "
        "lack the newest rows; this one does not. On PostgreSQL it calls pg_dump."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *, file: Path, **options: Any) -> None:
        if file.exists():
            raise CommandError(f"{file} is there already. Name another file.")
        if not file.parent.is_dir():
            raise CommandError(f"There is no folder {file.parent}.")
        partial = file.with_name(f"{file.name}.partial")
        partial.touch(mode=0o600)
        try:
            copy_into(partial)
            os.replace(partial, file)
        finally:
            partial.unlink(missing_ok=True)
        self.stdout.write(f"Kept in {file}. Photos lie in the media folder; copy it as well.")


def copy_into(file: Path) -> None:
    """Write a whole and consistent copy of the database. Raises CommandError."""
    if connection.vendor == "sqlite":
        _copy_sqlite(file)
    elif connection.vendor == "postgresql":
        _dump(file)
    else:
        raise CommandError(f"No way to copy a {connection.vendor} database is known here.")


def _copy_sqlite(file: Path) -> None:
    connection.ensure_connection()
    with closing(sqlite3.connect(file)) as copy:
        connection.connection.backup(copy)
        (answer,) = copy.execute("PRAGMA integrity_check").fetchone()
    if answer != "ok":
        raise CommandError(f"The copy is not sound: {answer}")


def _dump(file: Path) -> None:
    known = connection.settings_dict
    words = {"PGPASSWORD": known["PASSWORD"]} if known["PASSWORD"] else {}
    command = ["pg_dump", "--format=custom", f"--file={file}", f"--dbname={known['NAME']}"]
    for flag, value in (
        ("host", known["HOST"]),
        ("port", known["PORT"]),
        ("username", known["USER"]),
    ):
        if value:
            command.append(f"--{flag}={value}")
    try:
        subprocess.run(command, check=True, env={**os.environ, **words})  # noqa: S603
    except FileNotFoundError:
        raise CommandError(
            "pg_dump is not installed: sudo apt-get install postgresql-client"
        ) from None
    except subprocess.CalledProcessError as error:
        raise CommandError(f"pg_dump ended with {error.returncode}.") from error
