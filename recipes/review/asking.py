"""What is still to be answered on a review sheet: counted, and one after the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

# Singular and plural of each kind of row, in the order in which the banner counts them.
_KINDS = {
    "line": ("line", "lines"),
    "step": ("step", "steps"),
    "part": ("part", "parts"),
    "title": ("title", "titles"),
    "yield": ("yield", "yields"),
    "heat": ("temperature or loss", "temperatures"),
    "pan": ("pan", "pans"),
    "notes": ("note", "notes"),
    "figure": ("figure", "figures"),
    "whole": ("about the whole", "about the whole"),
}


class SheetRow(Protocol):
    """A row of the sheet; its id on the page is its prefix and `-row`."""

    @property
    def prefix(self) -> str | None: ...

    @property
    def asks(self) -> bool: ...

    def focus(self) -> None: ...


@dataclass(frozen=True)
class Asking:
    """The rows that ask, each with the word for its kind, in the order of the page."""

    rows: tuple[tuple[str, SheetRow], ...]

    @classmethod
    def of(cls, rows: Iterable[tuple[str, SheetRow]]) -> Asking:
        return cls(tuple((kind, row) for kind, row in rows if row.asks))

    @property
    def count(self) -> int:
        return len(self.rows)

    @property
    def in_words(self) -> str:
        """`4 lines, 2 steps, 1 yield`."""
        counts = Counter(kind for kind, _ in self.rows)
        return ", ".join(
            f"{counts[kind]} {words[counts[kind] > 1]}"
            for kind, words in _KINDS.items()
            if counts[kind]
        )

    @property
    def first(self) -> str:
        """The id of the first row that asks; empty if none does."""
        return f"{self.rows[0][1].prefix}-row" if self.rows else ""

    def after(self, prefix: str, order: Sequence[str | None]) -> SheetRow | None:
        """The next row that asks after another, else the first one."""
        start = order.index(prefix) if prefix in order else -1
        behind = [row for _, row in self.rows if order.index(row.prefix) > start]
        return next(iter([*behind, *(row for _, row in self.rows)]), None)
