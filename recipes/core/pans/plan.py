"""Everything about pieces in a pan: how they lie, the load, other pans, the bowl.

Brings together `packing`, `balls` and `pans` for a page or a paper; nothing is computed twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.numbers import ONE, positive, whole
from recipes.core.pans.balls import (
    USUAL_BALL,
    BallModel,
    BallSizes,
    Meeting,
    ball_sizes,
    piece_for_diameter,
    will_touch,
)
from recipes.core.pans.drawing import PanDrawing, draw_pan
from recipes.core.pans.packing import (
    Arrangement,
    TooManyPieces,
    arrangements,
    how_many,
    is_best_known,
)
from recipes.core.pans.sizes import (
    PUBLISHED_LOADS,
    DoughLoad,
    LoadBy,
    NoDepth,
    Pan,
    PanFill,
    PanShape,
    PublishedLoad,
    fill_with_mass,
    fill_with_pieces,
    load_of,
    pan_for,
)


@dataclass(frozen=True, slots=True)
class Filling:
    """A number of pieces of `piece_g` grams of dough in one pan."""

    pan: Pan
    pieces: int
    piece_g: Decimal

    def __post_init__(self) -> None:
        whole("pieces", self.pieces, least=1)
        positive("piece_g", self.piece_g)

    @property
    def dough_g(self) -> Decimal:
        """The dough in the pan, in grams."""
        return self.pieces * self.piece_g

    def load(self, by: LoadBy) -> DoughLoad:
        """Its dough load. Raises NoDepth."""
        return load_of(self.pan, self.dough_g, by)


@dataclass(frozen=True, slots=True)
class Lying:
    """One way for the pieces to lie, and whether they touch when proofed and when baked.

    From `meet_from_g` grams on, baked pieces touch each other or the wall.
    """

    arrangement: Arrangement
    proofed: Meeting
    baked: Meeting
    meet_from_g: Decimal
    drawing: PanDrawing


def lyings(filling: Filling, model: BallModel = USUAL_BALL) -> tuple[Lying, ...]:
    """The best known arrangement first, then other usual ones. Raises what `arrange` does."""
    only_proofed = replace(model, baked_volume=model.proofed_volume)
    sizes = ball_sizes(filling.piece_g, model)
    return tuple(
        Lying(
            found,
            will_touch(found, filling.piece_g, only_proofed),
            will_touch(found, filling.piece_g, model),
            piece_for_diameter(found.room_cm, model),
            draw_pan(found, sizes),
        )
        for found in arrangements(filling.pan, filling.pieces)
    )


@dataclass(frozen=True, slots=True)
class MostThatFit:
    """How many pieces fit; `at_least` if a better arrangement might hold more."""

    pieces: int
    at_least: bool


def most_that_fit(pan: Pan, sizes: BallSizes) -> MostThatFit | None:
    """How many shaped pieces fit at all; None if there are too many to count."""
    try:
        pieces = how_many(pan, sizes.shaped_cm)
    except TooManyPieces:
        return None
    return MostThatFit(pieces, at_least=not is_best_known(pan, pieces + 1))


def usual_load_by(*pans: Pan) -> LoadBy:
    """Volume if every pan is a loaf pan with a known volume, otherwise area."""
    if pans and all(pan.shape is PanShape.LOAF and has_volume(pan) for pan in pans):
        return LoadBy.VOLUME
    return LoadBy.AREA


def has_volume(pan: Pan) -> bool:
    """Whether a depth or a measured capacity is known."""
    return pan.depth_cm is not None or pan.water_ml is not None


@dataclass(frozen=True, slots=True)
class SameLoad:
    """A pan filled at a load, with the wanted number of pieces or the wanted piece mass.

    `factor` is this pan's dough divided by that of the filling it is compared with.
    """

    load: DoughLoad
    factor: Decimal
    by_pieces: PanFill
    by_mass: PanFill

    @property
    def leaves_some(self) -> bool:
        """Whether whole pieces leave over a gram of dough or more."""
        return self.by_mass.left_over_g >= ONE


def at_load(filling: Filling, load: DoughLoad, compared_g: Decimal) -> SameLoad:
    """The filling's pan at another load, against `compared_g` grams of dough. Raises NoDepth."""
    by_pieces = fill_with_pieces(filling.pan, load, filling.pieces)
    by_mass = fill_with_mass(filling.pan, load, filling.piece_g)
    return SameLoad(
        load, by_pieces.dough_g / positive("compared_g", compared_g), by_pieces, by_mass
    )


def pans_for(filling: Filling, load: DoughLoad) -> tuple[Pan, ...]:
    """Pans that hold the filling's pieces at a load: of its own outline, round, and square.

    They are as deep as the filling's pan. By volume, the round and the square one are left out if
    its depth is unknown, and walls are taken as upright.
    """
    found = [pan_for(filling.pieces, filling.piece_g, load, like=filling.pan)]
    for like in _plain_pans(filling.pan):
        try:
            found.append(pan_for(filling.pieces, filling.piece_g, load, like=like))
        except NoDepth:
            continue
    return tuple(found)


def _plain_pans(pan: Pan) -> Iterator[Pan]:
    for shape in (PanShape.ROUND, PanShape.SQUARE):
        if shape is not pan.shape:
            yield Pan.in_cm(shape, pan.length_cm, depth=pan.depth_cm)


@dataclass(frozen=True, slots=True)
class PublishedFill:
    """The dough in grams for a pan by a published figure, from least to most."""

    published: PublishedLoad
    least_g: Decimal
    most_g: Decimal


def published_fills(pan: Pan) -> tuple[PublishedFill, ...]:
    """The dough for a pan by every published figure. Raises NoDepth."""
    volume_cm3 = pan.volume_cm3
    return tuple(
        PublishedFill(published, published.least * volume_cm3, published.most * volume_cm3)
        for published in PUBLISHED_LOADS
    )


def published_spread() -> Decimal:
    """The greatest published figure divided by the least."""
    return max(published.most for published in PUBLISHED_LOADS) / min(
        published.least for published in PUBLISHED_LOADS
    )
