"""Logs without private data: what opens somebody's page, addresses, and rows of the database."""

from __future__ import annotations

import logging
import re

HIDDEN = "…"
_SIGNED = re.compile(
    r"(/(?:mine|at-home|enroll|waiting|calendar|enter)/)[^/\s?\"'#<>]+", re.IGNORECASE
)
_ADDRESS = re.compile(r"[^\s<>\"'(),:;=@/]+@[^\s<>\"'(),:;=@/]+\.\w+")
# PostgreSQL quotes the whole row that it refuses: names, letters, what people must not eat.
_ROW = re.compile(
    r"^(DETAIL:).*?(?=^(?:HINT|CONTEXT|The above exception|During handling)|\Z)",
    re.DOTALL | re.MULTILINE,
)


def without_private_words(text: str) -> str:
    """A text without signed tokens in addresses, e-mail addresses or the row of an error."""
    if "DETAIL:" in text:
        text = _ROW.sub(rf"\1 {HIDDEN}\n\n", text)
    if "@" in text:
        text = _ADDRESS.sub(HIDDEN, text)
    return _SIGNED.sub(rf"\1{HIDDEN}", text)


class PrivateWordsFilter(logging.Filter):
    """Hides private words in a record's message, arguments and traceback; drops no record."""

    def filter(self, record: logging.LogRecord) -> bool:
        record.msg = without_private_words(str(record.msg))
        if isinstance(record.args, dict):
            record.args = {key: _hidden(value) for key, value in record.args.items()}
        elif record.args:
            record.args = tuple(_hidden(value) for value in record.args)
        if record.exc_info and not record.exc_text:
            record.exc_text = logging.Formatter().formatException(record.exc_info)
        if record.exc_text:
            record.exc_text = without_private_words(record.exc_text)
        return True


def _hidden(value: object) -> object:
    """Numbers stay numbers, for `%d`; everything else is written out."""
    if value is None or isinstance(value, int | float):
        return value
    return without_private_words(str(value))
