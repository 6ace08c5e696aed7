"""Lines that correct themselves: struck out, crossed out, or corrected after a dash."""

from __future__ import annotations

import re

_STRUCK = re.compile(
    r"~~(?P<gone>[^~]{1,60})~~\s*|<(?:s|del)>(?P<tagged>[^<]{1,60})</(?:s|del)>\s*"
)
_LEFT_OUT = re.compile(r"\b(?:crossed out|leave (?:it |this )?out|left out now|omit|scrap that)\b",
                       re.IGNORECASE)  # fmt: skip
_BETTER = re.compile(
    r"\s*(?:[-,;(.]\s*)?\b(?:no[,.]? (?:make|wait)|make that|sorry|correction|i mean|or rather|"
    r"scratch that)\b(?:[,:]? ?(?:make )?(?:that|it))?[,:]?\s*(?P<now>[0-9].{0,60})$",
    re.IGNORECASE,
)
_AMOUNT = re.compile(r"(?P<amount>[0-9][0-9.,/]*\s?(?:kg|g|ml|l|tsp|tbsp|cups?|oz|lb)?)\b")


def is_left_out(line: str) -> bool:
    """Whether a line says itself that it no longer counts."""
    return bool(_LEFT_OUT.search(line))


def corrected(line: str) -> tuple[str, str]:
    """The line as corrected, and what no longer counts; empty if nothing is corrected."""
    if struck := _STRUCK.search(line):
        return _STRUCK.sub("", line), struck["gone"] or struck["tagged"]
    better = _BETTER.search(line)
    now = _AMOUNT.match(better["now"]) if better else None
    before = line[: better.start()] if better else ""
    old = _AMOUNT.search(before)
    if not better or not now or not old:
        return line, ""
    return f"{before[: old.start()]}{now['amount']}{before[old.end() :]}", old["amount"]
