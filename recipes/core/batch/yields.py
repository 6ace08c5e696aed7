"""How much bread a batch gives, from two of pieces, piece mass and flour, less the losses."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from recipes.core.formula import Formula
from recipes.core.heat.doneness import (
    HANDLING_LOSSES,
    MOST_LOSS,
    PublishedLoss,
    after_loss,
    before_loss,
)
from recipes.core.numbers import ONE, ZERO, positive, settled, whole


@dataclass(frozen=True, slots=True)
class Yield:
    """A batch: whole pieces of `piece_g` grams of dough, and what is left over in grams.

    `flour_g` is None if the flour in a starter is not known.
    """

    pieces: int
    piece_g: Decimal
    flour_g: Decimal | None
    dough_g: Decimal
    left_over_g: Decimal

    @property
    def leaves_some(self) -> bool:
        """Whether a gram or more is left over."""
        return self.left_over_g >= ONE


def of_pieces(formula: Formula, pieces: int, piece_g: Decimal) -> Yield:
    """The yield for pieces of a mass in grams; the flour follows. Raises NotWhole or OutOfRange."""
    count = whole("pieces", pieces, least=1)
    return _yield(formula, count * positive("piece_g", piece_g), count, piece_g)


def of_flour_in_mass(formula: Formula, flour_g: Decimal, piece_g: Decimal) -> Yield:
    """The yield for a flour mass and a piece mass, in grams; the number follows, maybe 0.

    Raises StarterUnknown, as does `of_flour_in_pieces`.
    """
    dough_g = formula.dough_g_for_flour(flour_g)
    fit = settled(dough_g / positive("piece_g", piece_g)).to_integral_value(ROUND_FLOOR)
    return _yield(formula, dough_g, int(fit), piece_g)


def of_flour_in_pieces(formula: Formula, flour_g: Decimal, pieces: int) -> Yield:
    """The yield for a flour mass in grams and a number of equal pieces; their mass follows."""
    dough_g = formula.dough_g_for_flour(flour_g)
    count = whole("pieces", pieces, least=1)
    return _yield(formula, dough_g, count, dough_g / count)


def _yield(formula: Formula, dough_g: Decimal, pieces: int, piece_g: Decimal) -> Yield:
    flour_g = formula.flour_g
    return Yield(
        pieces=pieces,
        piece_g=piece_g,
        flour_g=None if flour_g is None else dough_g * flour_g / formula.dough_g,
        dough_g=dough_g,
        left_over_g=settled(dough_g - pieces * piece_g),
    )


@dataclass(frozen=True, slots=True)
class HandlingExample:
    """A published handling loss, and the grams to mix so that the dough is left after it."""

    loss: PublishedLoss
    least_g: Decimal
    most_g: Decimal


@dataclass(frozen=True, slots=True)
class BatchYield:
    """A batch of dough in grams, its baked mass, and how much to mix for it.

    `dough_for_same_g` is the dough that bakes to as many grams as `dough_g`. Both it and `baked_g`
    are None if the baking loss is unknown or more than half.
    """

    dough_g: Decimal
    baked_g: Decimal | None
    dough_for_same_g: Decimal | None
    handling: tuple[HandlingExample, ...]


def batch_yield(dough_g: Decimal, bake_loss: Decimal) -> BatchYield:
    """The yield of `dough_g` grams; the baking loss is a share (0.12 is 12 %)."""
    positive("dough_g", dough_g)
    known = ZERO < bake_loss <= MOST_LOSS
    return BatchYield(
        dough_g=dough_g,
        baked_g=after_loss(dough_g, bake_loss) if known else None,
        dough_for_same_g=before_loss(dough_g, bake_loss) if known else None,
        handling=tuple(
            HandlingExample(loss, before_loss(dough_g, loss.least), before_loss(dough_g, loss.most))
            for loss in HANDLING_LOSSES
        ),
    )
