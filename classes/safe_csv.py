"""Cells that no spreadsheet takes for a formula."""

from __future__ import annotations

import re
import unicodedata

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0")
_PLAIN_NUMBER = re.compile(r"-?[0-9]+([.,][0-9]+)?")


def harmless(text: object) -> object:
    """The text with an apostrophe in front where a spreadsheet could read it as a formula.

    What is no text stays as it is. Full-width signs and leading spaces count as well; a plain
    negative number stays one.
    """
    if not isinstance(text, str):
        return text
    start = unicodedata.normalize("NFKC", text).lstrip(" \u00a0")
    if _PLAIN_NUMBER.fullmatch(text):
        return text
    return f"'{text}" if start.startswith(_FORMULA_STARTS) or text[:1] in _FORMULA_STARTS else text
