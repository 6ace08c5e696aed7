"""Save everything that cannot be replaced in one file: `manage.py backup FILE`."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from config.backup import archive


class Command(BaseCommand):
    help = (
        "Put the database, photos, secret key and list of erasures into one archive while the "
        "server runs. Given a folder, the archive is named by date and time."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, help="the archive to make, or a folder for it")

    def handle(self, *, file: Path, **options: Any) -> None:
        now = timezone.now()
        if file.is_dir():
            file /= f"bakebench-{now:%Y%m%d-%H%M%S}.tar.gz"
        if file.exists():
            raise CommandError(f"{file} already exists. Name another file.")
        if not file.parent.is_dir():
            raise CommandError(f"There is no folder {file.parent}.")
        archive.write(file, at=now)
        self.stdout.write(
            f"Kept in {file}: database, photos, secret key. Whoever has it can open everything, "
            "so keep it where only you can read it."
        )
