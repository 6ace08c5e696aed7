"""What goes into the importer and what it reads. Masses are grams, temperatures Celsius."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from recipes.core.choices import IngredientKind
from recipes.core.numbers import ZERO
from recipes.core.units import Unit
from recipes.core.written import WrittenLine, WrittenRecipe
from recipes.importing.doubts import Doubt

PIECE_PLACES = Decimal("0.1")
LEAST_PIECE_G, MOST_PIECE_G = Decimal(1), Decimal(20000)


@dataclass(frozen=True, slots=True)
class KnownIngredient:
    """An ingredient that lines may name, by its name or any of `words`.

    Without density or mass per piece, volumes or counts of it have no grams. `packet_g` is the mass
    of the packet it is sold in, such as 7 g of yeast.
    """

    key: str
    name: str
    kind: IngredientKind = IngredientKind.OTHER
    words: tuple[str, ...] = ()
    density_g_per_ml: Decimal | None = None
    each_g: Decimal | None = None
    each_name: str = ""
    packet_g: Decimal | None = None
    hydration_percent: Decimal | None = None


class Sureness(StrEnum):
    """How well a name fits an ingredient."""

    EXACT = "exact"
    LIKELY = "likely"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Match:
    """The ingredient proposed for a name: its key, empty when none fits.

    `candidates` are up to five keys to choose from, the proposed one first; `reason` may say
    why it is not sure.
    """

    key: str
    sureness: Sureness
    candidates: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a reading is in its source: from line `first` to line `last`, counted from 1."""

    first: int
    last: int


@dataclass(frozen=True, slots=True)
class ReadLine:
    """An ingredient line as it would be written, with its source text and doubts.

    `quantity` and `unit` are the amount as typed (of a range, the low end), `percent` a baker's
    percentage. `entered` is empty if grams say it better. Lines without a heading of their own,
    only set apart by an empty line, are in a `block` with a number above 0.
    """

    written: WrittenLine
    text: str
    match: Match
    quantity: Decimal | None = None
    unit: Unit | None = None
    percent: Decimal | None = None
    part: int = 0
    doubts: tuple[Doubt, ...] = ()
    place: Place | None = None
    block: int = 0

    @property
    def is_complete(self) -> bool:
        """Whether it has a name, and a mass that a recipe can keep."""
        written = self.written
        return bool(written.mass_g and round(written.mass_g, 4) and written.ingredient.name)


@dataclass(frozen=True, slots=True)
class LeftOver:
    """A text that went into no line or step, with the reason if known."""

    text: str
    doubt: Doubt | None = None
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """A recipe as it was read: what would be written, with its doubts.

    `lines` belong to the lines of its parts; `step_doubts` and `step_places` to its steps, in
    order. `source` is the text that all places are in, empty if there was none; `head_places` are
    where the head, and headings of parts or the method, come from.
    """

    written: WrittenRecipe
    lines: tuple[ReadLine, ...] = ()
    step_doubts: tuple[tuple[Doubt, ...], ...] = ()
    left_over: tuple[LeftOver, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    source: str = ""
    step_places: tuple[Place | None, ...] = ()
    head_places: tuple[Place, ...] = ()

    @property
    def dough_g(self) -> Decimal:
        """Grams of the lines that go into the dough, as far as they are known."""
        into_dough = (part for part in self.written.parts if part.kind.goes_into_dough)
        return sum((line.mass_g or ZERO for part in into_dough for line in part.lines), ZERO)

    @property
    def piece_g(self) -> Decimal | None:
        """Dough in one piece as stated, or the dough divided by the pieces."""
        if self.written.piece_g is not None:
            return self.written.piece_g
        return piece_share_g(self.dough_g, self.written.pieces or 1)


def piece_share_g(dough_g: Decimal, pieces: int) -> Decimal | None:
    """A piece's share of a dough, to the tenth of a gram; None beyond what is possible."""
    share = (dough_g / pieces).quantize(PIECE_PLACES, ROUND_HALF_UP)
    return share if LEAST_PIECE_G <= share <= MOST_PIECE_G else None
