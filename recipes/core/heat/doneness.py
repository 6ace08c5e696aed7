"""When bread is done, and what is lost between the mixer and the cooled loaf.

Core temperatures and losses are published ranges with their source, kept as data. A loss is a share
of what went in, so what must go in is what comes out divided by one minus the loss: 500 g baked at
12 % loss are 568.2 g of dough, not 560.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from recipes.core.choices import Choice
from recipes.core.errors import OutOfRange
from recipes.core.numbers import ONE, ZERO, not_negative

MOST_LOSS = Decimal("0.5")


class BreadKind(Choice):
    """The kinds of bread that differ in how hot the middle must get."""

    LEAN = "lean"
    SOFT = "soft or rich"
    PAN = "pan loaf"
    DENSE = "dense whole grain"


def celsius(fahrenheit: Decimal) -> Decimal:
    """Degrees Celsius from degrees Fahrenheit."""
    return (fahrenheit - 32) * 5 / 9


@dataclass(frozen=True, slots=True)
class CoreRange:
    """The core temperatures, in °F as published, at which a kind of bread is done.

    `most_f` is None if the source names only the lower end.
    """

    kind: BreadKind
    least_f: Decimal
    most_f: Decimal | None
    source: str

    @property
    def least_c(self) -> Decimal:
        """The lower end to the nearest degree Celsius."""
        return celsius(self.least_f).quantize(ONE, ROUND_HALF_UP)

    @property
    def most_c(self) -> Decimal | None:
        """The upper end to the nearest degree Celsius."""
        return None if self.most_f is None else celsius(self.most_f).quantize(ONE, ROUND_HALF_UP)


CORE_RANGES: dict[BreadKind, CoreRange] = {
    core.kind: core
    for core in (
        CoreRange(
            BreadKind.LEAN, Decimal(200), Decimal(210), "home-baking educators' sheet and others"
        ),
        CoreRange(BreadKind.SOFT, Decimal(185), Decimal(195), "home-baking educators' sheet"),
        CoreRange(BreadKind.PAN, Decimal(190), None, "one miller's tests"),
        CoreRange(BreadKind.DENSE, Decimal(205), Decimal(210), "one miller's tests"),
    )
}


@dataclass(frozen=True, slots=True)
class PublishedLoss:
    """A published loss: what is lost, from least to most, as shares."""

    of: str
    least: Decimal
    most: Decimal
    source: str


def _loss(of: str, least: str, most: str, source: str) -> PublishedLoss:
    return PublishedLoss(of, Decimal(least), Decimal(most), source)


BAKE_LOSSES: tuple[PublishedLoss, ...] = (
    _loss("bread", "0.10", "0.13", "a college bread textbook"),
    _loss("bread", "0.098", "0.115", "a trade dictionary"),
    _loss("bread", "0.10", "0.20", "another textbook, second-hand"),
    _loss("pan loaf, 65 % hydration", "0.12", "0.12", "a hobby handbook"),
    _loss("hearth loaf, 80 % hydration", "0.16", "0.18", "a hobby handbook"),
    _loss("75 g bun", "0.10", "0.10", "a hobby handbook"),
    _loss("300 g small loaf", "0.15", "0.15", "a hobby handbook"),
)
HANDLING_LOSSES: tuple[PublishedLoss, ...] = (
    _loss("fermentation", "0.012", "0.012", "an ingredient maker's compendium"),
    _loss("dividing in a bakery", "0", "0.05", "an ingredient maker's compendium: 5 % and more"),
    _loss("home batch", "0.01", "0.02", "from memory"),
    _loss("small home batch, mixer to scale", "0.08", "0.08", "common practice, no source"),
)


def _share(field: str, value: Decimal) -> Decimal:
    """A loss from 0 to 0.5. Raises NotDecimal or OutOfRange."""
    loss = not_negative(field, value)
    if loss > MOST_LOSS:
        raise OutOfRange(field, loss, least=ZERO, most=MOST_LOSS)
    return loss


def before_loss(left_g: Decimal, loss: Decimal) -> Decimal:
    """Grams that must go in so that `left_g` are left after a loss (0.12 is 12 %)."""
    return not_negative("left_g", left_g) / (ONE - _share("loss", loss))


def after_loss(given_g: Decimal, loss: Decimal) -> Decimal:
    """Grams that are left of `given_g` after a loss."""
    return not_negative("given_g", given_g) * (ONE - _share("loss", loss))
