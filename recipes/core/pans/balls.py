"""How wide a piece of dough is when shaped, proofed and baked, and whether it touches its neighbor.

The model: seen from the side a piece is a dome, a whole ellipsoid or its upper half, as wide as it
is long and `height_to_diameter` times as high. Either way its volume is pi/6 x height x diameter^2,
so that 1 is a ball and 0.5 half a ball. It is assumed to keep that shape while it grows freely.
Where pieces press on each other they rise higher instead, so the diameter says only whether they
touch, not how the bread looks.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from itertools import combinations

from recipes.core.errors import OutOfRange
from recipes.core.numbers import ONE, positive
from recipes.core.pans.geometry import PI, cube_root
from recipes.core.pans.packing import Arrangement
from recipes.core.pans.sizes import DOUBLED, DOUGH_DENSITY

MM_PER_CM = Decimal(10)
NEAR_MM = Decimal(5)


@dataclass(frozen=True, slots=True)
class BallModel:
    """What is assumed about a piece; every figure is a default that can be edited.

    `density` is g/cm3 when shaped (1.1 from memory). `proofed_volume` and `baked_volume` are
    times the shaped volume: doubled by the proof is common practice, and a quarter more in the
    oven an assumption. So is a height of three quarters of the diameter. Raises OutOfRange, also
    when a volume shrinks or the height exceeds the diameter.
    """

    density: Decimal = DOUGH_DENSITY
    height_to_diameter: Decimal = Decimal("0.75")
    proofed_volume: Decimal = DOUBLED
    baked_volume: Decimal = Decimal("2.5")

    def __post_init__(self) -> None:
        positive("density", self.density)
        if positive("height_to_diameter", self.height_to_diameter) > ONE:
            raise OutOfRange("height_to_diameter", self.height_to_diameter, most=ONE)
        for field in ("proofed_volume", "baked_volume"):
            times = getattr(self, field)
            if positive(field, times) < ONE:
                raise OutOfRange(field, times, least=ONE)

    def diameter_cm(self, volume_cm3: Decimal) -> Decimal:
        """The diameter of a piece of a volume."""
        return cube_root(6 * positive("volume_cm3", volume_cm3) / (PI * self.height_to_diameter))

    def volume_cm3(self, diameter_cm: Decimal) -> Decimal:
        """The volume of a piece of a diameter."""
        return PI * self.height_to_diameter * positive("diameter_cm", diameter_cm) ** 3 / 6


USUAL_BALL = BallModel()

# A ring whose hole is twice as wide as its rope (assumed) is four ropes across. Its volume, by
# Pappus pi^2/4 x 3 ropes x rope^2, is that of a dome this many times as high as the ring is wide.
RING_HOLE = Decimal("0.5")
RING = BallModel(height_to_diameter=9 * PI / 128)


@dataclass(frozen=True, slots=True)
class BallSizes:
    """Diameters in cm of a piece that grows freely."""

    shaped_cm: Decimal
    proofed_cm: Decimal
    baked_cm: Decimal


def ball_sizes(piece_g: Decimal, model: BallModel = USUAL_BALL) -> BallSizes:
    """How wide a piece of `piece_g` grams of dough is, from shaping to baking."""
    shaped_cm3 = positive("piece_g", piece_g) / model.density
    times = (ONE, model.proofed_volume, model.baked_volume)
    return BallSizes(*(model.diameter_cm(shaped_cm3 * growth) for growth in times))


def piece_for_diameter(baked_cm: Decimal, model: BallModel = USUAL_BALL) -> Decimal:
    """The dough in grams of a piece that bakes to a diameter in cm."""
    return model.volume_cm3(baked_cm) * model.density / model.baked_volume


class Touch(StrEnum):
    """Whether neighbors touch."""

    TOUCH = "touch"
    NEARLY = "nearly touch"
    APART = "stay apart"


@dataclass(frozen=True, slots=True)
class Meeting:
    """How baked pieces lie together.

    `gap_mm` is the widest gap between a piece and its nearest neighbor, `closest_gap_mm` the
    narrowest; below zero they would overlap, so they press. `wall_gap_mm` is the narrowest to the
    wall, the only gap of a single piece. `fits` says whether the shaped pieces fit in these places
    at all.
    """

    touch: Touch
    gap_mm: Decimal | None
    closest_gap_mm: Decimal | None
    wall_gap_mm: Decimal
    sizes: BallSizes
    fits: bool


def will_touch(
    arrangement: Arrangement,
    piece_g: Decimal,
    model: BallModel = USUAL_BALL,
    near_mm: Decimal = NEAR_MM,
) -> Meeting:
    """Whether pieces of `piece_g` grams placed on an arrangement's spots touch when baked.

    They touch if each touches a neighbor, stay apart if no two come within `near_mm`, and otherwise
    nearly touch.
    """
    sizes = ball_sizes(piece_g, model)
    near_mm = positive("near_mm", near_mm)
    fits = arrangement.holds(sizes.shaped_cm)
    wall_cm = min(arrangement.wall_cm(spot) for spot in arrangement.spots)
    wall_gap_mm = (wall_cm - sizes.baked_cm / 2) * MM_PER_CM
    gaps = [(apart - sizes.baked_cm) * MM_PER_CM for apart in _to_nearest(arrangement)]
    if not gaps:
        return Meeting(Touch.APART, None, None, wall_gap_mm, sizes, fits)
    touch = _verdict(min(gaps), max(gaps), near_mm)
    return Meeting(touch, max(gaps), min(gaps), wall_gap_mm, sizes, fits)


def _verdict(closest_mm: Decimal, widest_mm: Decimal, near_mm: Decimal) -> Touch:
    if widest_mm <= 0:
        return Touch.TOUCH
    return Touch.APART if closest_mm > near_mm else Touch.NEARLY


def _to_nearest(arrangement: Arrangement) -> list[Decimal]:
    """Each piece's distance in cm to its nearest neighbor; nothing for a single piece."""
    nearest: dict[int, Decimal] = {}
    for (i, one), (j, other) in combinations(enumerate(arrangement.spots), 2):
        apart = one.to(other)
        for n in (i, j):
            nearest[n] = min(apart, nearest.get(n, apart))
    return list(nearest.values())
