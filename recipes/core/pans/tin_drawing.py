"""A loaf pan cut along its length with the dough in it, for any template to draw.

Coordinates are in the box's own units, from its top left corner, to a tenth.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from recipes.core.numbers import positive
from recipes.core.pans.fit import LoadLevel

TENTH = Decimal("0.1")
LONGEST = Decimal(360)
MARGIN = Decimal(6)
WALL_LEANS = Decimal(8)
INSET = Decimal(14)


@dataclass(frozen=True, slots=True)
class TinDrawing:
    """A box of `width` by `height`; the pan's wall goes from `rim_y` down to `floor_y`.

    The dough is between `left` and `right`; its top is at `shaped_y`, when doubled at `doubled_y`.
    """

    width: Decimal
    height: Decimal
    rim_y: Decimal
    floor_y: Decimal
    shaped_y: Decimal
    doubled_y: Decimal
    left: Decimal
    right: Decimal

    @property
    def wall(self) -> str:
        """The points of the pan's wall for SVG."""
        far = self.width - MARGIN
        lean = MARGIN + WALL_LEANS
        corners = (
            (MARGIN, self.rim_y),
            (lean, self.floor_y),
            (self.width - lean, self.floor_y),
            (far, self.rim_y),
        )
        return " ".join(f"{x},{y}" for x, y in corners)

    @property
    def shaped(self) -> str:
        """The outline of the shaped dough, a path."""
        return self._dome(self.shaped_y)

    @property
    def doubled(self) -> str:
        """The outline of the doubled dough, a path."""
        return self._dome(self.doubled_y)

    def _dome(self, top_y: Decimal) -> str:
        """A path with a flat bottom, a level top, and rounded ends."""
        bend = _tenth(min(self.floor_y - top_y, (self.right - self.left) / 4))
        start, end = self.left + bend, self.right - bend
        return (
            f"M{self.left} {self.floor_y}Q{self.left} {top_y} {start} {top_y}"
            f"H{end}Q{self.right} {top_y} {self.right} {self.floor_y}Z"
        )


def draw_tin(level: LoadLevel, length_cm: Decimal, longest: Decimal = LONGEST) -> TinDrawing:
    """The drawing of a dough in a pan whose length is `longest` units."""
    scale = positive("longest", longest) / positive("length_cm", length_cm)
    highest_cm = max(level.depth_cm, level.doubled_cm)
    floor_y = _tenth(MARGIN + highest_cm * scale)

    def above(height_cm: Decimal) -> Decimal:
        return _tenth(floor_y - height_cm * scale)

    width = longest + 2 * MARGIN
    return TinDrawing(
        width=_tenth(width),
        height=_tenth(floor_y + MARGIN),
        rim_y=above(level.depth_cm),
        floor_y=floor_y,
        shaped_y=above(level.shaped_cm),
        doubled_y=above(level.doubled_cm),
        left=_tenth(MARGIN + INSET),
        right=_tenth(width - MARGIN - INSET),
    )


def _tenth(value: Decimal) -> Decimal:
    return value.quantize(TENTH, ROUND_HALF_UP)
