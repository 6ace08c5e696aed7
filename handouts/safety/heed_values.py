"""Notes of what a recipe holds that somebody told, as papers carry them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CardHeed:
    """A box on a card: what its recipe holds, and for how many people what was decided."""

    words: tuple[str, ...]
    notes: tuple[str, ...]
    is_open: bool

    @property
    def line_count(self) -> int:
        return len(self.words) + len(self.notes)
