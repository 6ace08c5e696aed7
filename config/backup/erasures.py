"""What was erased, in a list outside the database, so that a restored archive does not undo it.

A line has a random mark of the erased row, and the time, but nothing personal.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import datetime
from enum import StrEnum
from functools import partial
from hashlib import sha256
from pathlib import Path

from django.conf import settings
from django.db import OperationalError, connection, transaction
from django.utils import timezone

NAME = "erasures.jsonl"


class ErasedKind(StrEnum):
    """What kind of row a line is about."""

    PERSON = "person"
    BOOKING = "booking"
    WAITING = "waiting"
    LET_GO = "let go"
    TAKEN_BACK = "taken back"


@dataclass(frozen=True, slots=True)
class Erasure:
    """One line. `at` is an ISO time."""

    at: str
    kind: ErasedKind
    mark: str


def mark_of(word: str) -> str:
    """A mark that reveals nothing about the random word that it was made from."""
    return sha256(word.encode()).hexdigest()[:32]


def account_mark(pk: int, joined: datetime) -> str:
    """A mark of an account, which has no random word of its own."""
    return mark_of(f"{pk} {joined.isoformat()}")


def list_file() -> Path:
    return Path(settings.DATA_DIR) / NAME


def note(kind: ErasedKind, mark: str) -> None:
    """Record what the current transaction erases, once it is committed."""
    line = Erasure(timezone.now().isoformat(), kind, mark)
    transaction.on_commit(partial(_append, line), robust=True)


def _append(line: Erasure) -> None:
    list_file().parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    descriptor = os.open(list_file(), os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
    try:
        os.write(descriptor, _as_line(line))
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _as_line(line: Erasure) -> bytes:
    return (json.dumps(asdict(line)) + "\n").encode()


def read(text: str) -> list[Erasure]:
    """The lines of a list; an incomplete line is left out."""
    found = []
    for line in text.splitlines():
        try:
            words = json.loads(line)
            found.append(Erasure(words["at"], ErasedKind(words["kind"]), words["mark"]))
        except (ValueError, KeyError, TypeError):
            continue
    return found


def read_list() -> list[Erasure]:
    """Everything that was recorded here."""
    return read(list_file().read_text()) if list_file().exists() else []


def write_list(lines: Iterable[Erasure]) -> None:
    """Replace the existing list."""
    partial_file = list_file().with_suffix(".partial")
    partial_file.unlink(missing_ok=True)
    with os.fdopen(os.open(partial_file, os.O_WRONLY | os.O_CREAT, 0o600), "wb") as file:
        file.writelines(map(_as_line, lines))
    os.replace(partial_file, list_file())


def joined(*lists: Iterable[Erasure]) -> list[Erasure]:
    """All lines of several lists without duplicates, the earliest first."""
    return sorted({line for lines in lists for line in lines}, key=lambda line: line.at)


PATIENCE_MS = 500


# What an erasure leaves in SQLite's files. `secure_delete` overwrites in the database what is
# deleted; the log beside it (`-wal`) still holds pages as they were, until it is emptied.


def wipe_when_saved() -> None:
    """Empty the log once the running transaction is saved."""
    transaction.on_commit(wipe)


def wipe() -> bool:
    """Empty SQLite's log; False while others read from it. The chores try again every minute."""
    if connection.vendor != "sqlite":
        return True
    if connection.in_atomic_block:
        return False
    patience_ms = settings.SQLITE_PATIENCE_S * 1000
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA busy_timeout={PATIENCE_MS}")
        try:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            (is_busy, *_) = cursor.fetchone()
        except OperationalError:
            return False
        finally:
            cursor.execute(f"PRAGMA busy_timeout={patience_ms}")
    return not is_busy
