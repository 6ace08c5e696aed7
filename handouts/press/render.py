"""A paper in three steps: values to HTML, HTML to laid-out pages, pages to PDF bytes.

The only place that imports WeasyPrint, and only when a PDF is wanted: the import is slow. Fonts and
style sheets are read once per process. One document is laid out at a time in a process: the font
machinery is shared, and layout is CPU work that threads would not speed up.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from enum import StrEnum
from functools import cache
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, NamedTuple

from django.contrib.staticfiles import finders
from django.template.loader import render_to_string

from handouts.paper import Paper

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.document import Document
    from weasyprint.text.fonts import FontConfiguration

    from handouts.press.fetcher import StaticFetcher

VARIANT = "pdf/ua-1"

# Control characters; marks that change the direction of text, with which a name could make the
# figures after it read backward; and emoji, which the papers' fonts do not have.
_UNPRINTABLE = re.compile(
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f"
    r"\u202a-\u202e\u2066-\u2069\ufe00-\ufe0f\U0001f000-\U0001fbff]"
)
_TOKEN = re.compile(r"(--[\w-]+): ([^;]+);")
_USE = re.compile(r"var\((--[\w-]+)\)")
_press = Lock()


class PageSize(StrEnum):
    """The sheets that papers are made for."""

    A4 = "a4"
    LETTER = "letter"


def to_html(paper: Paper) -> str:
    """The paper's markup; all text in it is escaped, and unprintable characters are left out."""
    return printable(render_to_string(paper.template, {"paper": paper, "writing": paper.writing}))


def printable(text: str) -> str:
    """The text without characters that a paper must not contain."""
    return _UNPRINTABLE.sub("", text)


def to_pdf(papers: Sequence[Paper], page_size: PageSize, title: str = "") -> bytes:
    """One tagged PDF of papers of one kind, each counting its own pages.

    `title` names a pack of several papers. Raises AddressRefused if markup asks for anything but
    our static files, ValueError without papers.
    """
    if not papers:
        raise ValueError("no papers")
    return print_html([to_html(paper) for paper in papers], papers[0].style, page_size, title)


def print_html(pages: Sequence[str], style: str, page_size: PageSize, title: str = "") -> bytes:
    """Documents of markup to one PDF, in the style sheet named `style`."""
    from handouts.press.fetcher import StaticFetcher

    fetcher = StaticFetcher()
    first, *others = [_lay_out(page, style, page_size, fetcher) for page in pages]
    for document in others:
        first.pages.extend(document.pages)
    if title:
        first.metadata.title = title
    with _press:
        pdf: bytes = first.write_pdf(pdf_variant=VARIANT)
    fetcher.check()
    return pdf


def _lay_out(page: str, style: str, page_size: PageSize, fetcher: StaticFetcher) -> Document:
    from weasyprint import HTML

    from handouts.press.fetcher import BASE_URL

    with _press:
        fonts, sheets = _type_case(style, page_size)
        document: Document = HTML(string=page, base_url=BASE_URL, url_fetcher=fetcher).render(
            font_config=fonts, stylesheets=sheets, pdf_variant=VARIANT
        )
        return document


def sheet_texts(style: str, page_size: PageSize) -> list[str]:
    """The style sheets of a kind of paper, tokens filled in. Raises FileNotFoundError.

    The engine looks up a token again for every element, which takes a twentieth of the time.
    """
    tokens, *texts = map(_sheet_text, ("tokens", "components", page_size, style))
    values = dict(_TOKEN.findall(tokens))

    def filled_in(text: str) -> str:
        return _USE.sub(lambda use: filled_in(values[use[1]]), text)

    return [filled_in(text) for text in texts]


def _sheet_text(name: str) -> str:
    if (file := finders.find(f"css/paper/{name}.css")) is None:
        raise FileNotFoundError(name)
    return Path(file).read_text()


class _TypeCase(NamedTuple):
    fonts: FontConfiguration
    sheets: list[CSS]


@cache
def _type_case(style: str, page_size: PageSize) -> _TypeCase:
    """The fonts and parsed style sheets that all papers of a kind and size share."""
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    texts = sheet_texts(style, page_size)
    return _TypeCase(fonts, [CSS(string=text, font_config=fonts) for text in texts])
