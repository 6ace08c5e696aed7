"""One file with everything that cannot be replaced: database, photos, secret key, erasures."""

from __future__ import annotations

import io
import json
import os
import shutil
import tarfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory

from django.conf import settings

from config.backup import databases, erasures

FORMAT = 1
ABOUT, DATABASE, KEY, ERASURES, MEDIA = "about.json", "database", "secret_key", "erasures", "media"
LAST = "last_backup.json"


class NotAnArchive(Exception):
    """A file that was not made by `write`, or is damaged."""


@dataclass(frozen=True, slots=True)
class LastBackup:
    """When the last archive was made here, and its file name."""

    at: datetime
    name: str
    size_bytes: int


def write(file: Path, *, at: datetime) -> None:
    """Make an archive while the server runs: complete or not at all, readable only by its owner."""
    partial = file.with_name(f"{file.name}.partial")
    with os.fdopen(os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as opened:
        try:
            _fill(opened, at)
            opened.flush()
            os.fsync(opened.fileno())
            os.replace(partial, file)
        finally:
            partial.unlink(missing_ok=True)
    told = {"at": at.isoformat(), "name": file.name, "size_bytes": file.stat().st_size}
    (Path(settings.DATA_DIR) / LAST).write_text(json.dumps(told))


def _fill(opened: io.BufferedWriter, at: datetime) -> None:
    about = {"format": FORMAT, "made_at": at.isoformat(), "database": databases.kind()}
    listed = erasures.list_file()
    with (
        TemporaryDirectory(dir=settings.DATA_DIR) as folder,
        tarfile.open(fileobj=opened, mode="w:gz", compresslevel=5) as archive,
    ):
        copy = Path(folder) / DATABASE
        databases.copy_into(copy)
        _add(archive, ABOUT, json.dumps(about).encode())
        archive.add(copy, DATABASE)
        _add(archive, KEY, settings.SECRET_KEY.encode())
        _add(archive, ERASURES, listed.read_bytes() if listed.exists() else b"")
        media = Path(settings.MEDIA_ROOT)
        for photo in sorted(file for file in media.rglob("*") if file.is_file()):
            with suppress(FileNotFoundError):  # removed in the meantime
                archive.add(photo, f"{MEDIA}/{photo.relative_to(media)}")


def _add(archive: tarfile.TarFile, name: str, data: bytes) -> None:
    member = tarfile.TarInfo(name)
    member.size, member.mode = len(data), 0o600
    archive.addfile(member, io.BytesIO(data))


def last_backup() -> LastBackup | None:
    """The last archive that was made here; None if none is known."""
    try:
        told = json.loads((Path(settings.DATA_DIR) / LAST).read_text())
        return LastBackup(datetime.fromisoformat(told["at"]), told["name"], told["size_bytes"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


@dataclass(frozen=True, slots=True)
class Unpacked:
    """An archive unpacked in a folder, which is removed once it has been restored."""

    folder: Path
    made_at: datetime
    database_kind: str

    @property
    def database(self) -> Path:
        return self.folder / DATABASE

    @property
    def media(self) -> Path:
        return self.folder / MEDIA

    @property
    def key(self) -> str:
        return (self.folder / KEY).read_text().strip()

    @property
    def erasures(self) -> list[erasures.Erasure]:
        return erasures.read((self.folder / ERASURES).read_text())


def _lay_out(archive: tarfile.TarFile, member: tarfile.TarInfo, folder: Path) -> None:
    """Write one file of an archive, but refuse anything that `write` would not have put there."""
    place = PurePosixPath(member.name)
    is_photo = place.parts[:1] == (MEDIA,) and ".." not in place.parts
    content = archive.extractfile(member)
    if content is None or not (is_photo or member.name in (ABOUT, DATABASE, KEY, ERASURES)):
        raise NotAnArchive
    target = folder / place
    target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with content, target.open("xb") as file:
        shutil.copyfileobj(content, file)


@contextmanager
def unpacked(file: Path) -> Iterator[Unpacked]:
    """An archive unpacked beside the data, ready to be moved there. Raises NotAnArchive."""
    with TemporaryDirectory(dir=settings.DATA_DIR, prefix="restoring-") as name:
        folder = Path(name)
        try:
            with tarfile.open(file, "r:gz") as archive:
                for member in archive:
                    _lay_out(archive, member, folder)
            about = json.loads((folder / ABOUT).read_text())
            made_at = datetime.fromisoformat(about["made_at"])
            whole = about["format"] == FORMAT and all(
                (folder / part).is_file() for part in (DATABASE, KEY, ERASURES)
            )
        except (OSError, EOFError, ValueError, KeyError, TypeError, tarfile.TarError) as error:
            raise NotAnArchive from error
        if not whole:
            raise NotAnArchive
        yield Unpacked(folder, made_at, about["database"])
