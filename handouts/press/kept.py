"""Papers of a class as PDF: stored ones, or newly made.

They are stored by the hash of their content, so they can never be outdated.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from classes.models import ClassSession, KeptPaper
from handouts.paper import Paper
from handouts.press.markup import Markup, markup_of
from handouts.press.render import PageSize, print_html


def kept_pdfs(session: ClassSession, markups: Iterable[Markup]) -> dict[str, bytes]:
    """The stored PDFs of these papers, by digest."""
    digests = [markup.digest for markup in markups]
    kept = KeptPaper.objects.filter(session=session, digest__in=digests)
    return {digest: bytes(pdf) for digest, pdf in kept.values_list("digest", "pdf")}


def kept_pdf(session: ClassSession, paper: Paper, page_size: PageSize, at: datetime) -> bytes:
    """A paper alone as PDF, stored if it was not."""
    markup = markup_of(paper, page_size)
    for pdf in kept_pdfs(session, [markup]).values():
        return pdf
    made = print_html([markup.text], markup.style, markup.page_size)
    fields = {"pdf": made, "made_at": at}
    session.kept_papers.get_or_create(digest=markup.digest, defaults=fields)
    return made


def pdf_of(
    session: ClassSession, papers: Sequence[Paper], page_size: PageSize, title: str = ""
) -> bytes:
    """One tagged PDF of papers of one kind; `title` names several. Raises AddressRefused."""
    markups = [markup_of(paper, page_size) for paper in papers]
    if len(markups) == 1:
        title = ""
        for pdf in kept_pdfs(session, markups).values():
            return pdf
    first = markups[0]
    return print_html([markup.text for markup in markups], first.style, first.page_size, title)
