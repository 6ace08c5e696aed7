"""CSV cells that no spreadsheet reads as a formula."""

from __future__ import annotations

import re
import unicodedata

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0")
_UNSEEN = " \u00a0\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\ufeff"
_PLAIN_NUMBER = re.compile(r"-?[0-9]+([.,][0-9]+)?")


def harmless(text: object) -> object:
    """The text with an apostrophe in front if a spreadsheet could read it as a formula.

    Values other than text stay as they are. Full-width signs count as well, also after spaces and
    invisible marks; a plain negative number stays one.
    """
    if not isinstance(text, str):
        return text
    start = unicodedata.normalize("NFKC", text).lstrip(_UNSEEN)
    if _PLAIN_NUMBER.fullmatch(text):
        return text
    return f"'{text}" if start.startswith(_FORMULA_STARTS) or text[:1] in _FORMULA_STARTS else text
