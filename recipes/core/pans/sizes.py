"""Pans: their size, how much dough they hold, and the pan or the pieces that follow from it.

Lengths are centimeters, areas cm2, volumes cm3 (one is a milliliter of water), masses grams. How
much dough a pan should hold differs from bread to bread, so a dough load belongs to the recipe;
`PUBLISHED_LOADS` shows how much published figures differ.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from enum import StrEnum

from recipes.core.choices import Choice
from recipes.core.errors import BakingError, OutOfRange
from recipes.core.numbers import ONE, ZERO, not_negative, positive, settled, whole
from recipes.core.pans.geometry import PI

MM_PER_CM = Decimal(10)
MOST_CM = Decimal(1000)

# Grams in a milliliter of dough after mixing, before it has risen. From memory; wheat doughs are
# between about 1.0 and 1.25, depending on the air mixed in. It is only a default.
DOUGH_DENSITY = Decimal("1.1")

DOUBLED = Decimal(2)
HEAD_ROOM = Decimal("0.1")


@dataclass(eq=False)
class NoDepth(BakingError):
    """A volume was asked for, but the pan's depth and water capacity are unknown."""

    shape: PanShape


@dataclass(eq=False)
class UnequalSides(BakingError):
    """A round or square pan given two different sizes."""

    shape: PanShape
    length_cm: Decimal
    width_cm: Decimal


class PanShape(Choice):
    """The outlines a pan can have; loaf pan and tray are rectangles with other names."""

    ROUND = "round"
    SQUARE = "square"
    RECTANGULAR = "rectangular"
    LOAF = "loaf"
    TRAY = "tray"

    @property
    def has_one_size(self) -> bool:
        """Whether a diameter or a side alone describes the outline."""
        return self in (PanShape.ROUND, PanShape.SQUARE)


@dataclass(frozen=True, slots=True)
class Pan:
    """A pan by its inside measures; a round one has its diameter both ways.

    `water_ml` is what it holds filled to the rim with water. If known, it is the volume, since
    walls taper: length times width times depth overstates a real loaf pan by a tenth. Raises
    UnequalSides, NotDecimal or OutOfRange (over ten meters).
    """

    shape: PanShape
    length_cm: Decimal
    width_cm: Decimal
    depth_cm: Decimal | None = None
    water_ml: Decimal | None = None

    def __post_init__(self) -> None:
        for field in ("length_cm", "width_cm", "depth_cm"):
            size = getattr(self, field)
            if (size is not None or field != "depth_cm") and positive(field, size) > MOST_CM:
                raise OutOfRange(field, size, least=ZERO, most=MOST_CM)
        if self.water_ml is not None:
            positive("water_ml", self.water_ml)
        if self.shape.has_one_size and self.length_cm != self.width_cm:
            raise UnequalSides(self.shape, self.length_cm, self.width_cm)

    @classmethod
    def in_cm(
        cls,
        shape: PanShape,
        length: Decimal,
        width: Decimal | None = None,
        depth: Decimal | None = None,
        water_ml: Decimal | None = None,
    ) -> Pan:
        """A pan from centimeters; round and square ones need no width."""
        if width is None and shape.has_one_size:
            width = length
        return cls(shape, length, positive("width_cm", width), depth, water_ml)

    @classmethod
    def in_mm(
        cls,
        shape: PanShape,
        length: Decimal,
        width: Decimal | None = None,
        depth: Decimal | None = None,
        water_ml: Decimal | None = None,
    ) -> Pan:
        """A pan from millimeters; round and square ones need no width."""
        return cls.in_cm(
            shape,
            positive("length_cm", length) / MM_PER_CM,
            None if width is None else positive("width_cm", width) / MM_PER_CM,
            None if depth is None else positive("depth_cm", depth) / MM_PER_CM,
            water_ml,
        )

    @property
    def area_cm2(self) -> Decimal:
        """The floor's area."""
        rectangle = self.length_cm * self.width_cm
        return rectangle * PI / 4 if self.shape is PanShape.ROUND else rectangle

    @property
    def volume_is_measured(self) -> bool:
        """Whether the volume is a measured capacity rather than floor times depth."""
        return self.water_ml is not None

    @property
    def volume_cm3(self) -> Decimal:
        """Water capacity if measured, else floor times depth. Raises NoDepth."""
        if self.water_ml is not None:
            return self.water_ml
        if self.depth_cm is None:
            raise NoDepth(self.shape)
        return self.area_cm2 * self.depth_cm


class LoadBy(StrEnum):
    """What a dough load is relative to: the floor for flat breads, the volume for loaves."""

    AREA = "g/cm²"
    VOLUME = "g/cm³"

    def of(self, pan: Pan) -> Decimal:
        """The pan's area in cm2 or volume in cm3. Raises NoDepth."""
        return pan.area_cm2 if self is LoadBy.AREA else pan.volume_cm3


@dataclass(frozen=True, slots=True)
class DoughLoad:
    """Grams of dough to a cm2 or a cm3 of pan."""

    grams: Decimal
    by: LoadBy

    def __post_init__(self) -> None:
        positive("grams", self.grams)

    def dough_g(self, pan: Pan) -> Decimal:
        """The dough, in grams, for a pan at this load. Raises NoDepth."""
        return self.grams * self.by.of(pan)


@dataclass(frozen=True, slots=True)
class PublishedLoad:
    """A published figure, from `least` to `most` g/cm3, and the kind of source it is from."""

    bread: str
    least: Decimal
    most: Decimal
    source: str


def _published(bread: str, least: str, most: str, source: str) -> PublishedLoad:
    return PublishedLoad(bread, Decimal(least), Decimal(most), source)


PUBLISHED_LOADS = (
    _published("plant pan bread, open top", "0.228", "0.228", "plant handbook, 7.6 in³/oz"),
    _published("pan bread", "0.326", "0.326", "baking article, 5.35 g/in³"),
    _published("pan bread, retail", "0.397", "0.397", "baking article, 6.5 g/in³"),
    _published("whole grain", "0.55", "0.65", "baking article, grams a milliliter of water"),
)


def load_of(pan: Pan, dough_g: Decimal, by: LoadBy) -> DoughLoad:
    """The load of a mass of dough in a pan. Raises NoDepth or OutOfRange."""
    return DoughLoad(positive("dough_g", dough_g) / by.of(pan), by)


@dataclass(frozen=True, slots=True)
class PanFill:
    """A pan's dough in grams as `pieces` of `piece_g`, and what is left over."""

    pieces: int
    piece_g: Decimal
    dough_g: Decimal
    left_over_g: Decimal


def fill_with_pieces(pan: Pan, load: DoughLoad, pieces: int) -> PanFill:
    """The pan's dough in a number of equal pieces; their mass follows."""
    dough_g = load.dough_g(pan)
    number = whole("pieces", pieces, least=1)
    return PanFill(number, dough_g / number, dough_g, ZERO)


def fill_with_mass(pan: Pan, load: DoughLoad, piece_g: Decimal) -> PanFill:
    """The pan's dough in whole pieces of a mass in grams; their number follows, maybe none."""
    dough_g = load.dough_g(pan)
    number = settled(dough_g / positive("piece_g", piece_g)).to_integral_value(ROUND_FLOOR)
    return PanFill(int(number), piece_g, dough_g, settled(dough_g - number * piece_g))


def pan_for(pieces: int, piece_g: Decimal, load: DoughLoad, like: Pan) -> Pan:
    """The pan that holds the pieces at a load: `like`, longer and wider but as deep.

    A measured capacity is assumed to grow with the floor. Raises NoDepth, NotWhole, OutOfRange.
    """
    dough_g = whole("pieces", pieces, least=1) * positive("piece_g", piece_g)
    times = dough_g / load.dough_g(like)
    stretch = times.sqrt()
    return Pan(
        like.shape,
        like.length_cm * stretch,
        like.width_cm * stretch,
        like.depth_cm,
        None if like.water_ml is None else like.water_ml * times,
    )


@dataclass(frozen=True, slots=True)
class Bowl:
    """Milliliters of the dough as mixed, of the risen dough, and of a bowl with headroom."""

    dough_ml: Decimal
    risen_ml: Decimal
    bowl_ml: Decimal


def bowl_for(
    dough_g: Decimal,
    *,
    density: Decimal = DOUGH_DENSITY,
    rise: Decimal = DOUBLED,
    head_room: Decimal = HEAD_ROOM,
) -> Bowl:
    """The bowl in which a dough can rise to `rise` times its volume without touching the cover.

    `density` is g/ml before the rise; `head_room` is a share of the risen dough, by default a
    tenth (an assumption). Raises OutOfRange, also when `rise` is under one.
    """
    if positive("rise", rise) < ONE:
        raise OutOfRange("rise", rise, least=ONE)
    dough_ml = positive("dough_g", dough_g) / positive("density", density)
    risen_ml = dough_ml * rise
    return Bowl(dough_ml, risen_ml, risen_ml * (ONE + not_negative("head_room", head_room)))
