"""Texts within JSON-LD: any shape of value as plain text without markup."""

from __future__ import annotations

import html
import re

_BREAK = re.compile(r"<\s*(?:br|/p|/li|/div|/h[1-6])\b[^<>]{0,200}>", re.IGNORECASE)
_TAG = re.compile(r"</?[A-Za-z][^<>]{0,500}>")
_DEEPEST = 8
_MOST = 1000
_LONGEST = 60_000


def plain_text(text: str) -> str:
    """Text without tags and entities, one paragraph a line; what cannot be stored is dropped."""
    text = text[:_LONGEST].replace("\0", "")
    text = "".join(sign for sign in text if not "\ud800" <= sign <= "\udfff")
    if "<" in text:
        text = _TAG.sub(" ", _BREAK.sub("\n", text))
    text = html.unescape(text) if "&" in text else text
    if "<" in text:
        text = _TAG.sub(" ", _BREAK.sub("\n", text))
    lines = (" ".join(line.split()) for line in text.replace("\0", "").splitlines())
    return "\n".join(filter(None, lines))


def one_line(value: object) -> str:
    """The text of a value in one line; empty for what holds none."""
    return " ".join("\n".join(texts_of(value)).split())


def texts_of(value: object, depth: int = 0) -> list[str]:
    """The texts of a value: itself, of a list each, of an object its text, name or value."""
    if isinstance(value, str):
        text = plain_text(value)
        return [text] if text else []
    if depth >= _DEEPEST:
        return []
    if isinstance(value, list):
        found: list[str] = []
        for item in value[:_MOST]:
            found += texts_of(item, depth + 1)
        return found[:_MOST]
    if isinstance(value, dict):
        for name in ("text", "@value", "name", "value"):
            if value.get(name):
                return texts_of(value[name], depth + 1)
    return []
