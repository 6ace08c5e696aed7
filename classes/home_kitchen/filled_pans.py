"""A recipe's pieces in the pan at home: how they lie, how full it is, and how much it takes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from classes.home_kitchen.values import HomePan
from classes.plan import TaughtRevision
from recipes.core.pans.balls import RING, RING_HOLE, BallModel, ball_sizes
from recipes.core.pans.fit import GoodLoad, LoadLevel, Suits, good_load, level_in
from recipes.core.pans.plan import Filling, Lying, MostThatFit, lyings, most_that_fit
from recipes.core.pans.sizes import DoughLoad, PanShape
from recipes.core.pans.tin_drawing import TinDrawing, draw_tin


@dataclass(frozen=True, slots=True)
class PanAtHome:
    """The fullest of the pans; `most_fit` is how many pieces fit if not all do, as far as known.

    A piece alone in a loaf tin is drawn from the side (`tin`), round pieces from above (`lying`),
    rings with a hole of `hole_radius`. `follows`: the amounts follow the pan; `unknown`: they
    should but cannot.
    """

    pan: HomePan
    filling: Filling
    good: GoodLoad | None
    load: DoughLoad | None
    lying: Lying | None
    hole_radius: Decimal | None
    level: LoadLevel | None
    tin: TinDrawing | None
    most_fit: MostThatFit | None
    follows: bool
    unknown: bool

    @property
    def is_loaf_tin(self) -> bool:
        return self.filling.pan.shape is PanShape.LOAF

    @property
    def fills_tin(self) -> bool:
        """Whether a single piece is in a loaf tin."""
        return self.is_loaf_tin and self.filling.pieces == 1

    @property
    def is_too_full(self) -> bool:
        """Whether the pieces do not even fit in it."""
        return self.lying is not None and not self.lying.baked.fits

    @property
    def is_too_much(self) -> bool:
        return self._suits is Suits.TOO_MUCH

    @property
    def is_too_little(self) -> bool:
        return self._suits is Suits.TOO_LITTLE

    @property
    def is_well_filled(self) -> bool:
        return self._suits is Suits.WELL and not self.is_too_full

    @property
    def warns(self) -> bool:
        return self.is_too_full or self.is_too_much or self.is_too_little

    @property
    def good_g(self) -> Decimal | None:
        """The dough in grams that one such pan takes well."""
        return self.good.dough_g(self.filling.pan) if self.good else None

    @property
    def _suits(self) -> Suits | None:
        return self.good.suits(self.load) if self.good and self.load else None


def _own_filling(taught: TaughtRevision) -> Filling | None:
    pan, formula = taught.pan, taught.usual.formula
    if pan is None:
        return None
    return Filling(pan, 1 if pan.shape is PanShape.LOAF else formula.pieces, formula.piece_g)


def good_load_at_home(taught: TaughtRevision, home: HomePan) -> GoodLoad | None:
    """The loads that suit a pan at home for a recipe, by its own pan or as published."""
    return good_load(home.pan, _own_filling(taught), taught.bread_kind or "")


def dough_for(taught: TaughtRevision, home: HomePan | None, usual_g: Decimal) -> Decimal:
    """The dough in grams for all pans at home if it should follow them, else the usual."""
    if home is None or not home.fills_the_pan:
        return usual_g
    good = good_load_at_home(taught, home)
    return home.count * good.dough_g(home.pan) if good else usual_g


def pan_at_home(
    taught: TaughtRevision, home: HomePan, pieces: int, dough_g: Decimal, model: BallModel | None
) -> PanAtHome:
    """A dough's pieces in the pans at home; `model` is None if no piece is round."""
    in_pan = -(-pieces // home.count)
    filling = Filling(home.pan, in_pan, dough_g / pieces)
    good = good_load_at_home(taught, home)
    alone = home.pan.shape is PanShape.LOAF and in_pan == 1
    lying = most_fit = hole_radius = None
    if model and not alone:
        lying = lyings(filling, model)[0]
        if not lying.baked.fits:
            most_fit = most_that_fit(home.pan, ball_sizes(filling.piece_g, model))
        if model is RING:
            hole_radius = lying.drawing.shaped_radius * RING_HOLE
    level = level_in(filling) if alone else None
    return PanAtHome(
        pan=home,
        filling=filling,
        good=good,
        load=filling.load(good.by) if good else None,
        lying=lying,
        hole_radius=hole_radius,
        level=level,
        tin=draw_tin(level, home.pan.length_cm) if level else None,
        most_fit=most_fit,
        follows=home.fills_the_pan and good is not None,
        unknown=home.fills_the_pan and good is None,
    )
