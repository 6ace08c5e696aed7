"""How many pages papers take: those counted when they were last laid out, else an estimate."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple, Self

from classes.models import Pack

Counts = Mapping[str, Mapping[str, "Counted"]]


class Counted(NamedTuple):
    """The pages of a paper, and the size of sheets on which it took them."""

    pages: int
    page_size: str


@dataclass(frozen=True, slots=True)
class Holding:
    """Pages, and the sheets they take if each paper begins on one of its own.

    `is_known` is False as soon as one of the papers is only estimated.
    """

    pages: int = 0
    sheets: int = 0
    is_known: bool = True

    @classmethod
    def of_paper(cls, pages: int, *, is_known: bool) -> Self:
        return cls(pages, (pages + 1) // 2, is_known)

    def __add__(self, other: Holding) -> Holding:
        return Holding(
            self.pages + other.pages,
            self.sheets + other.sheets,
            self.is_known and other.is_known,
        )

    @property
    def pages_words(self) -> str:
        """`24 pages`, or `about 24 pages`."""
        return f"{self._about}{_counted(self.pages, 'page')}"

    @property
    def words(self) -> str:
        """`43 pages, 22 sheets two-sided`, or `about 43 pages, …`."""
        return f"{self.pages_words}, {_counted(self.sheets, 'sheet')} two-sided"

    @property
    def _about(self) -> str:
        return "" if self.is_known else "about "


NO_PAGES = Holding()


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def together(holdings: Iterable[Holding]) -> Holding:
    """What several take."""
    return sum(holdings, NO_PAGES)


def counted_before(packs: Iterable[Pack]) -> Counts:
    """The pages of each paper when it was last laid out, by kind and key; newest packs first."""
    found: dict[str, dict[str, Counted]] = {}
    for pack in packs:
        for name, counts in pack.page_counts.items():
            own = found.setdefault(name, {})
            for key, pages in counts.items():
                own.setdefault(key, Counted(pages, pack.page_size))
    return found


def holding_of(
    keys: Iterable[str],
    unchanged: frozenset[str],
    counted: Mapping[str, Counted],
    page_size: str,
    usual_pages: int,
) -> Holding:
    """What the papers with these keys take on sheets of a size.

    An `unchanged` one that was counted on such sheets takes as many; another is estimated from
    when it was last laid out, or as others of its kind.
    """
    likely = [count.pages for count in counted.values()]
    usual = round(sum(likely) / len(likely)) if likely else usual_pages
    return together(
        Holding.of_paper(before.pages, is_known=key in unchanged and before.page_size == page_size)
        if (before := counted.get(key))
        else Holding.of_paper(usual, is_known=False)
        for key in keys
    )
