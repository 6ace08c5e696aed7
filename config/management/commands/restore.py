"""Put an archive made by `backup` back: `manage.py restore FILE`, with the server stopped."""

from __future__ import annotations

import os
import shutil
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from config.backup import archive, databases, erasures
from config.environment import SECRET_KEY_FILE
from house.replaying import erase_again, hold_letters


class Command(BaseCommand):
    help = (
        "Restore an archive: database, photos and secret key. Stop the server first. What was "
        "there before is kept beside it. Whoever was erased since the archive was made is "
        "erased again."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *, file: Path, **options: Any) -> None:
        if not file.is_file():
            raise CommandError(f"There is no file {file}.")
        settings.DATA_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)
        try:
            with archive.unpacked(file) as found:
                self._put_back(found)
        except archive.NotAnArchive:
            raise CommandError(f"{file} is not an archive made by `manage.py backup`.") from None

    def _put_back(self, found: archive.Unpacked) -> None:
        if found.database_kind != databases.kind():
            raise CommandError(
                f"The archive was made from another kind of database ({found.database_kind}); "
                f"DATABASE_URL names {databases.kind()}."
            )
        databases.check(found.database)
        aside = settings.DATA_DIR / f"before-{timezone.now():%Y%m%d-%H%M%S}"
        aside.mkdir(mode=0o700)
        databases.put_back(found.database, aside / "database")
        self._media(found, aside)
        self._key(found, aside)
        call_command("migrate", verbosity=0, interactive=False)
        self._say_what_came_back(found, aside)
        self._erase_again(found)

    def _media(self, found: archive.Unpacked, aside: Path) -> None:
        media = Path(settings.MEDIA_ROOT)
        if media.exists():
            shutil.move(media, aside / "media")
        if found.media.is_dir():
            shutil.move(found.media, media)

    def _key(self, found: archive.Unpacked, aside: Path) -> None:
        if SECRET_KEY_FILE.exists():
            shutil.move(SECRET_KEY_FILE, aside / "secret_key")
        opened = os.open(SECRET_KEY_FILE, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(opened, "w") as file:
            file.write(found.key + "\n")
        if os.environ.get("SECRET_KEY") not in (None, "", found.key):
            self.stderr.write(
                "SECRET_KEY is set in the environment to another key, which wins: links and "
                "printed squares do not open until it is removed or set to the archive's, "
                f"which is in {SECRET_KEY_FILE}."
            )

    def _say_what_came_back(self, found: archive.Unpacked, aside: Path) -> None:
        self.stdout.write(
            f"Database, photos and secret key are as of {found.made_at:%Y-%m-%d %H:%M %Z}."
        )
        self.stdout.write(
            f"What was there is in {aside}. Delete it once all is well: it holds people's names."
        )

    def _erase_again(self, found: archive.Unpacked) -> None:
        lines = erasures.joined(found.erasures, erasures.read_list())
        erasures.write_list(lines)
        held = hold_letters()
        erased = erase_again(lines, at=timezone.now())
        self.stdout.write(f"Erased again, because they were erased since: {erased}.")
        if held:
            self.stdout.write(
                f"Letters that were waiting in the archive: {held}. They are not sent "
                "automatically; the Letters page of each class offers to send them."
            )
