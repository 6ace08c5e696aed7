"""What a PDF says, as other programs read it."""

from __future__ import annotations

import io
import logging
import re
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from tempfile import NamedTemporaryFile

from pypdf import PdfReader

MM = 72 / 25.4
WORD_BOX = re.compile(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)"')
WORD = re.compile(WORD_BOX.pattern + ">(.*?)</word>")


@contextmanager
def nothing_said() -> Iterator[None]:
    """WeasyPrint must have nothing to say about what is printed inside."""
    said: list[str] = []
    listener = logging.Handler(logging.WARNING)
    listener.emit = lambda record: said.append(record.getMessage())
    logger = logging.getLogger("weasyprint")
    logger.addHandler(listener)
    try:
        yield
    finally:
        logger.removeHandler(listener)
    assert said == []


def reader(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def plain(text: str) -> str:
    """One line, ordinary spaces."""
    return " ".join(text.split())


def page_texts(pdf: bytes) -> list[str]:
    """The text of each page, by poppler."""
    done = subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True
    )
    return [plain(page) for page in done.stdout.decode().split("\f")[:-1]]


def flowing_texts(pdf: bytes) -> list[str]:
    """The text of each page in the order of its content, cell by cell, by pypdf."""
    return [plain(page.extract_text()) for page in reader(pdf).pages]


def texts_twice(pdf: bytes) -> tuple[str, str]:
    """The text of all pages, by poppler and by pypdf."""
    return " ".join(page_texts(pdf)), " ".join(flowing_texts(pdf))


def sizes_mm(pdf: bytes) -> set[tuple[float, float]]:
    """Width and height of the pages, in millimeters."""
    return {
        (round(float(page.mediabox.width) / MM, 1), round(float(page.mediabox.height) / MM, 1))
        for page in reader(pdf).pages
    }


def words_mm(pdf: bytes) -> Iterator[tuple[float, ...]]:
    """Left, top, right and bottom of every word, in millimeters from the sheet's corner."""
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    for box in WORD_BOX.findall(done.stdout.decode()):
        yield tuple(float(number) / MM for number in box)


def sized_words(pdf: bytes) -> Iterator[tuple[str, float]]:
    """Every word with its size of type in points, as high as poppler's box for it."""
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    for _, top, _, bottom, word in WORD.findall(done.stdout.decode()):
        yield word, round(float(bottom) - float(top), 1)


def checked(pdf: bytes) -> str:
    """What qpdf says of a file; it fails on errors and on warnings."""
    with NamedTemporaryFile(suffix=".pdf") as file:
        file.write(pdf)
        file.flush()
        done = subprocess.run(
            ["qpdf", "--check", file.name], capture_output=True, text=True, check=True
        )
    return done.stdout
