"""Pages of a paper as pictures for the screen."""

from __future__ import annotations

from io import BytesIO
from threading import Lock

DPI = 96
POINTS_PER_INCH = 72
# PDFium works on one document at a time in a process.
_one_at_a_time = Lock()


class NoSuchPage(LookupError):
    """The paper has fewer pages."""


def page_count(pdf: bytes) -> int:
    """How many pages there are."""
    import pypdfium2

    with _one_at_a_time, pypdfium2.PdfDocument(pdf) as document:
        return len(document)


def picture_of(pdf: bytes, page: int) -> bytes:
    """A page, counted from 1, as a PNG in gray: papers are black only. Raises NoSuchPage."""
    import pypdfium2

    with _one_at_a_time, pypdfium2.PdfDocument(pdf) as document:
        if not 1 <= page <= len(document):
            raise NoSuchPage(page)
        drawn = document[page - 1].render(scale=DPI / POINTS_PER_INCH, grayscale=True)
        picture = drawn.to_pil()
    made = BytesIO()
    picture.save(made, "PNG", optimize=True)
    return made.getvalue()
