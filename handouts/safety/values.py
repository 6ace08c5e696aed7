"""What a caution is: its words, its source, and when it is printed."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass
from enum import StrEnum

from classes.core.regions import Region

EVERYWHERE = frozenset(Region)


class Hazard(StrEnum):
    """Something in a class that can hurt somebody."""

    HANDS = "hands that touch food"
    ALLERGENS = "allergens"
    FLOOR = "a slippery floor"
    FLOUR = "flour"
    RAW_EGG = "raw egg"
    CHILLED = "chilled ingredients"
    COOLED = "cooked food that is cooled"
    OVEN = "oven"
    STOVE = "stove"
    MIXER = "mixer"
    BLADE = "blade"


# Every class has these.
ALWAYS = frozenset({Hazard.HANDS, Hazard.ALLERGENS, Hazard.FLOOR})
FOOD = frozenset(
    {
        Hazard.HANDS,
        Hazard.ALLERGENS,
        Hazard.FLOUR,
        Hazard.RAW_EGG,
        Hazard.CHILLED,
        Hazard.COOLED,
    }
)
HEAT = frozenset({Hazard.OVEN, Hazard.STOVE})


class Known(StrEnum):
    """How we know what a source says."""

    READ = "read in the source"
    SECOND_HAND = "read second-hand, in a page that quotes the source"
    FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution, the hazards that call for it, and the regions that it is worded for.

    `text` is what is read aloud; `brief` is the same in a few words, below a paper's content.
    """

    key: str
    heading: str
    text: str
    brief: str
    source: str
    known: Known
    hazards: frozenset[Hazard]
    regions: frozenset[Region] = EVERYWHERE

    @property
    def only_in(self) -> str:
        """Where it has this wording, if others have another."""
        if self.regions == EVERYWHERE:
            return ""
        (region,) = self.regions
        return "No region chosen" if region is Region.ALL else region.words

    def fits(self, hazards: Set[Hazard], region: Region) -> bool:
        return region in self.regions and not self.hazards.isdisjoint(hazards)


@dataclass(frozen=True, slots=True)
class CardHeed:
    """A box on a card: what its recipe contains, and what was decided for how many people."""

    words: tuple[str, ...]
    notes: tuple[str, ...]
    is_open: bool

    @property
    def line_count(self) -> int:
        return len(self.words) + len(self.notes)
