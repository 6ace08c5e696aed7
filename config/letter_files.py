"""Letters kept as files, if the environment names no way to send them.

They contain addresses and links that open somebody's page, so no other user of the machine may read
them, and the log line for each contains neither.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from django.conf import settings
from django.core.mail import EmailMessage, EmailMultiAlternatives
from django.core.mail.backends.base import BaseEmailBackend
from django.utils import timezone
from django.utils.crypto import get_random_string

BACKEND = "config.letter_files.EmailBackend"
_OF_ROW = "letter-{}.eml"

logger = logging.getLogger(__name__)


def in_use() -> bool:
    """Whether letters are stored as files instead of being sent."""
    return settings.EMAIL_BACKEND == BACKEND


def folder() -> Path:
    return Path(settings.DATA_DIR) / "letters"


class RowMessage(EmailMultiAlternatives):
    """A message that is stored as a row, whose key names its file."""

    def __init__(self, row: int, subject: str, text: str, to: str) -> None:
        super().__init__(subject, text, to=[to])
        self.row = row


class EmailBackend(BaseEmailBackend):
    """Writes each letter into a file."""

    def send_messages(self, email_messages: Sequence[EmailMessage]) -> int:
        for message in email_messages:
            path = write(message)
            logger.info("A letter is in %s. Set EMAIL_URL to send letters.", path)
        return len(email_messages)


def write(message: EmailMessage) -> Path:
    """Write a letter to its file, complete or not at all."""
    place = folder()
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    place.chmod(0o700)
    path = place / _name(message)
    partial = path.with_suffix(".partial")
    partial.unlink(missing_ok=True)
    with os.fdopen(os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(message.message().as_bytes())
    os.replace(partial, path)
    return path


def _name(message: EmailMessage) -> str:
    if isinstance(message, RowMessage):
        return _OF_ROW.format(message.row)
    return f"{timezone.now():%Y%m%d-%H%M%S}-{get_random_string(8)}.eml"


def remove(rows: Iterable[int]) -> None:
    """Remove the files of letters that were erased."""
    for row in rows:
        (folder() / _OF_ROW.format(row)).unlink(missing_ok=True)


def write_anew(message: RowMessage) -> None:
    """Write a letter's changed text to its file, if it has one."""
    if (folder() / _OF_ROW.format(message.row)).exists():
        write(message)


def sweep(is_kept: Callable[[set[int]], set[int]]) -> int:
    """Remove files whose letters no longer exist, as after a crash; returns how many."""
    names = (path.stem.removeprefix("letter-") for path in folder().glob("letter-*.eml"))
    rows = {int(name) for name in names if name.isdigit()}
    gone = rows - is_kept(rows) if rows else set()
    remove(gone)
    return len(gone)
