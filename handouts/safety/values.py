"""What a caution is: its words, its source, and when it is printed."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass
from enum import StrEnum

from classes.core.regions import Region

EVERYWHERE = frozenset(Region)


class Hazard(StrEnum):
    """Something in a class that can hurt somebody."""

    FLOUR = "flour"
    RAW_EGG = "raw egg"
    CHILLED = "chilled ingredients"
    COOLED = "cooked food that is cooled"
    OVEN = "oven"
    STOVE = "stove"
    MIXER = "mixer"
    BLADE = "blade"


class Known(StrEnum):
    """How we know what a source says."""

    READ = "read in the source"
    SECOND_HAND = "read second-hand, in a page that quotes the source"
    FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution, the hazards that call for it, and the regions that it is worded for.

    One without hazards applies to every class.
    """

    key: str
    heading: str
    text: str
    source: str
    known: Known
    hazards: frozenset[Hazard] = frozenset()
    regions: frozenset[Region] = EVERYWHERE

    def fits(self, hazards: Set[Hazard], region: Region) -> bool:
        called = not self.hazards or not self.hazards.isdisjoint(hazards)
        return called and region in self.regions


@dataclass(frozen=True, slots=True)
class CardHeed:
    """A box on a card: what its recipe contains, and what was decided for how many people."""

    words: tuple[str, ...]
    notes: tuple[str, ...]
    is_open: bool

    @property
    def line_count(self) -> int:
        return len(self.words) + len(self.notes)
