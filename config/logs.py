"""Logs without secrets: the signed words in addresses never get into them."""

from __future__ import annotations

import logging
import re
from typing import Any

HIDDEN = "…"
_SIGNED = re.compile(
    r"(/(?:mine|at-home|enroll|waiting|calendar|enter)/)[^/\s?\"'#<>]+", re.IGNORECASE
)


def without_signed_words(text: str) -> str:
    """A text in which every signed address has lost what opens it."""
    return _SIGNED.sub(rf"\1{HIDDEN}", text)


class SignedWordsFilter(logging.Filter):
    """Hide the signed words in a record's message, arguments and traceback; lets all through."""

    def filter(self, record: logging.LogRecord) -> bool:
        record.msg = without_signed_words(str(record.msg))
        if isinstance(record.args, dict):
            record.args = {key: _hidden(value) for key, value in record.args.items()}
        elif record.args:
            record.args = tuple(_hidden(value) for value in record.args)
        if record.exc_info and not record.exc_text:
            record.exc_text = logging.Formatter().formatException(record.exc_info)
        if record.exc_text:
            record.exc_text = without_signed_words(record.exc_text)
        return True


def _hidden(value: Any) -> Any:
    """Numbers stay numbers, for `%d`; everything else is written out."""
    if value is None or isinstance(value, int | float):
        return value
    return without_signed_words(str(value))
