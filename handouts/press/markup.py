"""A paper's markup before layout, and the hash by which it is recognized."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.metadata import version

from handouts.paper import Paper
from handouts.press.render import PageSize, sheet_texts, to_html
from wording.moments import instant


@dataclass(frozen=True, slots=True)
class Markup:
    """What goes to the press.

    `content` is the hash of all that is printed, without the time of printing; `digest` that of
    the PDF made from it: sheet, style and the press's own version included.
    """

    text: str
    style: str
    page_size: PageSize
    content: str
    digest: str


def markup_of(paper: Paper, page_size: PageSize) -> Markup:
    """A paper for the press, on its own sheet where it is made for one."""
    text, page_size = to_html(paper), PageSize(paper.own_sheet or page_size)
    printed, at = paper.head.printed, instant(paper.head.printed_at)
    content = _hash(text.replace(printed, "").replace(at, ""))
    digest = _hash(content, paper.style, page_size, _press(paper.style, page_size))
    return Markup(text, paper.style, page_size, content, digest)


@cache
def _press(style: str, page_size: PageSize) -> str:
    """What determines a layout besides the markup: style sheets and the engine's version."""
    return _hash(*sheet_texts(style, page_size), version("weasyprint"))


def _hash(*parts: str) -> str:
    return sha256("\0".join(parts).encode()).hexdigest()
