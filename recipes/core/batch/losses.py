"""What becomes of a batch: what is lost on the way to the scale, and what the oven takes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.core.heat.doneness import (
    HANDLING_LOSSES,
    MOST_LOSS,
    PublishedLoss,
    after_loss,
    before_loss,
)
from recipes.core.numbers import ZERO, positive


@dataclass(frozen=True, slots=True)
class HandlingExample:
    """A published handling loss, and what to mix so that the dough is left after it, in grams."""

    loss: PublishedLoss
    least_g: Decimal
    most_g: Decimal


@dataclass(frozen=True, slots=True)
class BatchYield:
    """A batch of dough in grams, what it weighs baked, and what to mix for it.

    `dough_for_same_g` is the dough that bakes to as many grams as `dough_g`. It and `baked_g`
    are None where no baking loss is known, or one of more than half.
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
