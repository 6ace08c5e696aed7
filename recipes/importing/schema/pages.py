"""JSON-LD in the source of a page, in its script elements. Nothing is ever fetched."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser

from recipes.importing.errors import TooMuchText
from recipes.importing.jsontext import MOST_CHARACTERS

_LONGEST_TAG = 2000
_MOST_SCRIPTS = 50
_START = re.compile(r"<script(?=[\s>/])", re.IGNORECASE)
_END = re.compile(r"</script(?=[\s>/])", re.IGNORECASE)
_WRAPPING = re.compile(r"^\s*(?:<!--|(?://|/\*)?\s*<!\[CDATA\[(?:\s*\*/)?)|"
                       r"(?:-->|(?://|/\*)?\s*\]\]>(?:\s*\*/)?)\s*$")  # fmt: skip


class _Tag(HTMLParser):
    """Reads the attributes of a single start tag."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.type = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.type = (dict(attrs).get("type") or "").partition(";")[0].strip().lower()


def has_jsonld(text: str) -> bool:
    """Whether a pasted text is the source of a page with JSON-LD in it."""
    return "ld+json" in text and _START.search(text) is not None


def scripts(source: str) -> Iterator[str]:
    """The texts of a page's JSON-LD script elements, in order. Raises TooMuchText.

    Only the start tags go through the HTML parser, which can take very long over broken pages.
    """
    if len(source) > MOST_CHARACTERS:
        raise TooMuchText("characters", len(source), MOST_CHARACTERS)
    at = found = 0
    while found < _MOST_SCRIPTS and (start := _START.search(source, at)):
        close = source.find(">", start.end(), start.end() + _LONGEST_TAG)
        if close < 0:
            at = start.end()
            continue
        end = _END.search(source, close)
        stop = end.start() if end else len(source)
        if _type(source[start.start() : close + 1]) == "application/ld+json":
            found += 1
            yield _unwrapped(source[close + 1 : stop])
        at = max(stop, start.end())


def _type(tag: str) -> str:
    parser = _Tag()
    parser.feed(tag)
    return parser.type


def _unwrapped(text: str) -> str:
    """The text without the comment or CDATA marks that some pages put around it."""
    end = max(200, len(text) - 200)
    head, middle, tail = text[:200], text[200:end], text[end:]
    return f"{_WRAPPING.sub('', head)}{middle}{_WRAPPING.sub('', tail)}"
