"""Where a pan and its pieces are in a box, seen from above, for any template to draw.

Coordinates are in the box's own units, from its top left corner, to a tenth. The box is as wide as
the drawing needs: baked pieces may reach over the wall, though in reality they press against it.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from recipes.core.numbers import ZERO, positive
from recipes.core.pans.balls import BallSizes
from recipes.core.pans.packing import Arrangement
from recipes.core.pans.sizes import PanShape
from recipes.core.rise.chart import At

TENTH = Decimal("0.1")
LONGEST = Decimal(360)
MARGIN = Decimal(4)


@dataclass(frozen=True, slots=True)
class PanDrawing:
    """A box of `width` by `height` with the pan in it and a center for each piece.

    The pan's bounding rectangle starts at `corner` and measures `pan_width` by `pan_height`; the
    center of a round one is `middle`, its radius half its width.
    """

    width: Decimal
    height: Decimal
    is_round: bool
    corner: At
    pan_width: Decimal
    pan_height: Decimal
    centers: tuple[At, ...]
    shaped_radius: Decimal
    baked_radius: Decimal

    @property
    def middle(self) -> At:
        """The center of the pan."""
        return At(
            _tenth(self.corner.x + self.pan_width / 2), _tenth(self.corner.y + self.pan_height / 2)
        )

    @property
    def pan_radius(self) -> Decimal:
        """The radius of a round pan."""
        return _tenth(self.pan_width / 2)


def draw_pan(arrangement: Arrangement, sizes: BallSizes, longest: Decimal = LONGEST) -> PanDrawing:
    """The drawing of pieces in a pan whose longer side is `longest` units."""
    pan = arrangement.pan
    scale = positive("longest", longest) / max(pan.length_cm, pan.width_cm)
    baked = sizes.baked_cm / 2
    over = max(ZERO, *(baked - arrangement.wall_cm(spot) for spot in arrangement.spots))
    margin = MARGIN + over * scale
    width, height = pan.length_cm * scale, pan.width_cm * scale
    return PanDrawing(
        width=_tenth(width + 2 * margin),
        height=_tenth(height + 2 * margin),
        is_round=pan.shape is PanShape.ROUND,
        corner=At(_tenth(margin), _tenth(margin)),
        pan_width=_tenth(width),
        pan_height=_tenth(height),
        centers=tuple(
            At(_tenth(margin + spot.x_cm * scale), _tenth(margin + spot.y_cm * scale))
            for spot in arrangement.spots
        ),
        shaped_radius=_tenth(sizes.shaped_cm / 2 * scale),
        baked_radius=_tenth(baked * scale),
    )


def _tenth(value: Decimal) -> Decimal:
    return value.quantize(TENTH, ROUND_HALF_UP)
