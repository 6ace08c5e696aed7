"""Whether the papers of a class agree: figures that are printed twice, compared with each other."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import unescape

_TAGS = re.compile(r"<(style|script|head|svg)\b.*?</\1>|<[^>]*>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class PlacedFigure:
    """A figure on a paper: its meaning, in words that all papers share, its value, and where.

    `printed` is how the paper must print it; empty if it is not printed as text.
    """

    of: str
    value: str
    where: str
    printed: str = ""


@dataclass(frozen=True, slots=True)
class Disagreement:
    """A figure that differs: each value with the papers that have it."""

    of: str
    values: tuple[tuple[str, tuple[str, ...]], ...]

    def __str__(self) -> str:
        said = (f"{value} ({', '.join(wheres)})" for value, wheres in self.values)
        return f"{self.of}: {' / '.join(said)}"


@dataclass(frozen=True, slots=True)
class Agreement:
    """How many figures are in two places, how many were found in print, and what differs."""

    compared: int
    read: int
    differences: tuple[Disagreement, ...]


def compare(figures: Iterable[PlacedFigure], texts: dict[str, str]) -> Agreement:
    """Compare figures with each other, and with the texts of the papers that they are from."""
    figures = list(figures)
    by_what: dict[str, dict[str, list[str]]] = {}
    for figure in figures:
        by_what.setdefault(figure.of, {}).setdefault(figure.value, []).append(figure.where)
    said_twice = [
        of
        for of, said in by_what.items()
        if len({where for wheres in said.values() for where in wheres}) > 1
    ]
    printed = [figure for figure in figures if figure.printed and figure.where in texts]
    return Agreement(
        compared=len(said_twice),
        read=len(printed),
        differences=(*_differing(by_what), *_unprinted(printed, texts)),
    )


def _differing(said: dict[str, dict[str, list[str]]]) -> Iterator[Disagreement]:
    for of, values in said.items():
        if len(values) > 1:
            found = ((value, tuple(dict.fromkeys(wheres))) for value, wheres in values.items())
            yield Disagreement(of, tuple(found))


def _unprinted(figures: Iterable[PlacedFigure], texts: dict[str, str]) -> Iterator[Disagreement]:
    for figure in figures:
        words = re.escape(plain(figure.printed))
        if not re.search(rf"(?<![\w.]){words}(?![\w]|\.\d)", texts[figure.where]):
            yield Disagreement(figure.of, ((f"{figure.printed} is not in print", (figure.where,)),))


def text_of(markup: str) -> str:
    """What a person reads of a paper, in one line."""
    return plain(unescape(_TAGS.sub(" ", markup)))


def plain(text: str) -> str:
    """The text with single plain spaces."""
    return " ".join(text.split())
