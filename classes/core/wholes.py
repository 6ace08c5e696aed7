"""Parts of what is sold whole, such as the yolk of an egg: how many to open, and what is left.

A piece that is opened gives all its parts, so nine eggs opened for their yolks leave nine whites.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from recipes.core.formula import FormulaIngredient
from recipes.core.numbers import ONE, ZERO, positive
from recipes.core.weighing import count

TENTH, TEN = Decimal("0.1"), Decimal(10)


@dataclass(frozen=True, slots=True)
class PartOfWhole:
    """A part of a whole: its mass in grams in one piece, and what it is called."""

    key: str
    name: str
    each_g: Decimal
    each_name: str

    def __post_init__(self) -> None:
        positive("each_g", self.each_g)


@dataclass(frozen=True, slots=True)
class Whole:
    """What is bought whole, and its parts."""

    ingredient: FormulaIngredient
    each_g: Decimal
    parts: tuple[PartOfWhole, ...]

    def __post_init__(self) -> None:
        positive("each_g", self.each_g)


@dataclass(frozen=True, slots=True)
class TakenPart:
    """For one part: what is needed from the opened pieces, and what is left in them."""

    part: PartOfWhole
    needed_g: Decimal
    left_g: Decimal

    @property
    def left_pieces(self) -> int:
        """How many whole parts are left."""
        return int(self.left_g / self.part.each_g)


@dataclass(frozen=True, slots=True)
class Opened:
    """The pieces of a whole that are opened for their parts."""

    whole: Whole
    pieces: int
    taken: tuple[TakenPart, ...]

    @property
    def mass_g(self) -> Decimal:
        return self.pieces * self.whole.each_g

    def left_of(self, key: str) -> Decimal:
        """What is left of a part, in grams."""
        return next(part.left_g for part in self.taken if part.part.key == key)

    @property
    def words(self) -> tuple[str, ...]:
        """What they are opened for, and what is left of them."""
        wanted = [part for part in self.taken if part.needed_g]
        left = [part for part in self.taken if part.left_g]
        return (
            f"{self.pieces} of them to open for "
            + " and ".join(f"{_grams(part.needed_g)} g {_named(part)}" for part in wanted),
            *(f"{_left(part)} left over" for part in left),
        )


def _grams(mass_g: Decimal) -> str:
    """Rounded to the gram, below ten grams to the tenth; halves go up."""
    step = TENTH if mass_g < TEN else ONE
    return f"{mass_g.quantize(step, ROUND_HALF_UP):f}"


def _named(taken: TakenPart) -> str:
    return taken.part.name[0].lower() + taken.part.name[1:]


def _left(taken: TakenPart) -> str:
    pieces = taken.left_pieces
    if not pieces:
        return f"about {_grams(taken.left_g)} g {_named(taken)}"
    ending = "" if pieces == 1 else "s"
    return (
        f"about {_grams(taken.left_g)} g {_named(taken)} ({pieces} {taken.part.each_name}{ending})"
    )


def opened_for(short_g: Mapping[str, Decimal], wholes: Iterable[Whole]) -> dict[str, Opened]:
    """How many of each whole to open for its short parts, by the whole's key.

    The part that needs most pieces decides; the others come from the same pieces.
    """
    found = {}
    for whole in wholes:
        wanted = {part.key: short_g.get(part.key, ZERO) for part in whole.parts}
        pieces = max(
            (count(wanted[part.key], part.each_g, "").take for part in whole.parts), default=0
        )
        if pieces:
            taken = (
                TakenPart(part, wanted[part.key], pieces * part.each_g - wanted[part.key])
                for part in whole.parts
            )
            found[whole.ingredient.key] = Opened(whole, pieces, tuple(taken))
    return found
