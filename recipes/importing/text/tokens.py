"""A pasted line, cleaned of markup, as tokens: numbers, words and marks."""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache


class TokenKind(StrEnum):
    NUMBER = "number"
    WORD = "word"
    MARK = "mark"


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the cleaned line from `start` to `end`; `low` is its text in small letters.

    It is `glued` if no space stands before it.
    """

    kind: TokenKind
    text: str
    low: str
    start: int
    end: int
    glued: bool

    @property
    def is_word(self) -> bool:
        return self.kind is TokenKind.WORD

    @property
    def is_number(self) -> bool:
        return self.kind is TokenKind.NUMBER


LONGEST_START = 300
_KINDS = {kind.value: kind for kind in TokenKind}

# A flour's letter with its number (T65, W300) is a word; x is the sign of multiplying.
_TOKEN = re.compile(
    r"""(?P<number>[0-9]+(?:[.,][0-9]+)*(?:\s?/\s?[0-9]+)?|(?<![^\s(])\.[0-9]+)
      | (?P<word>(?![xX])[A-Za-z]{1,2}[0-9]{2,4}(?![0-9A-Za-z])
               | [^\W\d_]+(?:['’][^\W\d_]+)*)
      | (?P<mark>\S)""",
    re.VERBOSE,
)

_CELL_END = re.compile(r"</t[dh]>", re.IGNORECASE)
_TAG = re.compile(r"</?[A-Za-z][^<>]{0,200}>|<!--")
_LINK = re.compile(r"!?\[([^\[\]]{0,200})\]\([^()\s]{0,200}\)")
_NUMBERING = re.compile(r"(?:[0-9]{1,3}[.)]|\[[ xX]?\]|step\s+[0-9]{1,3}\s*[:.)-]?)\s+", re.I)
_DASHES = dict.fromkeys(map(ord, "‐‑‒–—―−"), "-")
_DEGREES = dict.fromkeys(map(ord, "º˚"), "°")
_ONE_SPELLING = {
    **_DASHES,
    **_DEGREES,
    ord("⁄"): "/",
    ord("×"): "x",
    ord("\t"): " | ",
    ord("’"): "'",
}
_DROPPED = dict.fromkeys(map(ord, "*_`\\\ufeff\u200b\u200c\u200d\u2060\ufe0f"))
_KEYCAP = re.compile("([0-9])\ufe0f?\u20e3")
_PICTURES = re.compile("[\U0001f000-\U0001faff\u2700-\u27bf\u2600-\u2604]+(?<![✓✔➤])")
# `1.250 g` has a point for its thousands; nobody weighs a thousandth of a gram.
_THOUSANDS = re.compile(r"(?<![0-9.,])([1-9][0-9]{0,2})\.([0-9]{2}0)(?= ?g\b)")
_FORMULA_OF_WATER = re.compile(r"\bH2O\b")
_BULLETS = "-•▢☐☑□■●○◦▪▫‣⁃·∙➤►✓✔>+~# |"
_MOST_PREFIXES = 4


def _fractions_apart(text: str) -> str:
    """`1½` as `1 1/2`, so that the sign does not merge with the number before it."""
    if text.isascii():
        return text
    return "".join(
        f" {unicodedata.normalize('NFKC', sign)} "
        if unicodedata.decomposition(sign).startswith("<fraction>")
        else sign
        for sign in text
    )


def clean(text: str) -> str:
    """One spelling of spaces, dashes, fractions and widths, without tags, emphasis and
    pictures.

    Tabs and table cells become ` | `.
    """
    text = html.unescape(text) if "&" in text else text
    if "<" in text:
        text = _TAG.sub(" ", _CELL_END.sub(" | ", text))
    text = _LINK.sub(r"\1", text) if "](" in text else text
    if not text.isascii():
        text = _PICTURES.sub(" ", _KEYCAP.sub(r"\1. ", text))
    text = unicodedata.normalize("NFKC", _fractions_apart(text).translate(_ONE_SPELLING))
    text = _THOUSANDS.sub(r"\1\2", _FORMULA_OF_WATER.sub("water", text))
    return " ".join(text.translate(_ONE_SPELLING).translate(_DROPPED).split())


def without_bullet(cleaned: str) -> str:
    """A cleaned line without bullets, boxes and numbering at its start."""
    text = cleaned
    for _ in range(_MOST_PREFIXES):
        text = text.lstrip(_BULLETS)
        found = _NUMBERING.match(text)
        text = text[found.end() :] if found else text
    return text


def text_of(tokens: Sequence[Token]) -> str:
    """Tokens as text again, with a space wherever there was one."""
    return "".join(f"{'' if t.glued else ' '}{t.text}" for t in tokens).strip()


def tokenize(cleaned: str) -> list[Token]:
    """The tokens of a cleaned line, in order."""
    tokens: list[Token] = []
    end = 0
    for found in _TOKEN.finditer(cleaned):
        text, start = found[0], found.start()
        kind = _KINDS[found.lastgroup or "mark"]
        tokens.append(
            Token(kind, text, text.lower(), start, found.end(), start == end and bool(tokens))
        )
        end = found.end()
    return tokens


def line_text(line: str) -> str:
    """A pasted line cleaned, without its bullet or number."""
    return without_bullet(clean(line))


@lru_cache(maxsize=64)
def line_start(line: str) -> tuple[str, tuple[Token, ...]]:
    """The text and tokens of a line's first characters, which tell what it is.

    Cached briefly, since several checks use each line.
    """
    text = line_text(line[:LONGEST_START])
    return text, tuple(tokenize(text))
