"""How much bread: two of pieces, piece mass and flour are known, and the third follows."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from recipes.core.formula import Formula
from recipes.core.numbers import ONE, positive, settled, whole


@dataclass(frozen=True, slots=True)
class Yield:
    """A batch: whole pieces of `piece_g` grams of dough, and what is left over in grams."""

    pieces: int
    piece_g: Decimal
    flour_g: Decimal
    dough_g: Decimal
    left_over_g: Decimal

    @property
    def leaves_some(self) -> bool:
        """Whether a gram or more is left over."""
        return self.left_over_g >= ONE


def of_pieces(formula: Formula, pieces: int, piece_g: Decimal) -> Yield:
    """So many pieces of a mass in grams; the flour follows. Raises NotWhole or OutOfRange."""
    count = whole("pieces", pieces, least=1)
    return _yield(formula, count * positive("piece_g", piece_g), count, piece_g)


def of_flour_in_mass(formula: Formula, flour_g: Decimal, piece_g: Decimal) -> Yield:
    """A flour mass in pieces of a mass, both in grams; their number follows, maybe none."""
    dough_g = formula.dough_g_for_flour(flour_g)
    fit = settled(dough_g / positive("piece_g", piece_g)).to_integral_value(ROUND_FLOOR)
    return _yield(formula, dough_g, int(fit), piece_g)


def of_flour_in_pieces(formula: Formula, flour_g: Decimal, pieces: int) -> Yield:
    """A flour mass in grams in so many equal pieces; their mass follows."""
    dough_g = formula.dough_g_for_flour(flour_g)
    count = whole("pieces", pieces, least=1)
    return _yield(formula, dough_g, count, dough_g / count)


def _yield(formula: Formula, dough_g: Decimal, pieces: int, piece_g: Decimal) -> Yield:
    return Yield(
        pieces=pieces,
        piece_g=piece_g,
        flour_g=dough_g * formula.flour_g / formula.dough_g,
        dough_g=dough_g,
        left_over_g=settled(dough_g - pieces * piece_g),
    )
