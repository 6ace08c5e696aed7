"""What a student's kitchen at home and its pans are like, as values and as stored JSON."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from decimal import Decimal, InvalidOperation
from typing import Any, Self

from django.db import models

from classes.plan import KitchenFacts
from recipes.core.batch.spoons import TEASPOON, spoon_set
from recipes.core.errors import BakingError
from recipes.core.exchange.kinds import SALT_KINDS, TABLE_SALT, SaltKind, YeastForm
from recipes.core.pans.sizes import Pan, PanShape
from recipes.core.regions import HomeRegion
from wording.writing import Writing

LEAST_CM, MOST_CM = 1, 100
MOST_PANS = 12
SIZES = ("length", "width", "depth")


class Tin(models.TextChoices):
    NONE = "", "As in class, in no pan of mine"
    LOAF = PanShape.LOAF.value, "Loaf pan"
    ROUND = PanShape.ROUND.value, "Round pan"
    RECTANGULAR = PanShape.RECTANGULAR.value, "Rectangular pan or tray"


class PanDough(models.TextChoices):
    AS_IN_CLASS = "class", "Pieces as heavy as in class"
    TO_FILL = "pan", "As much as suits the pan"


@dataclass(frozen=True, slots=True)
class HomePan:
    """A number of equal pans by their inside measures, and how much dough goes into them."""

    pan: Pan
    count: int = 1
    dough: str = PanDough.AS_IN_CLASS

    @classmethod
    def of(cls, kept: object) -> Self | None:
        """The pan from stored JSON; None if that makes no sense."""
        if not isinstance(kept, Mapping) or kept.get("shape") not in Tin.values[1:]:
            return None
        length, width, depth = (_size(kept.get(f"{name}_cm")) for name in SIZES)
        count, dough = kept.get("count"), kept.get("dough")
        if length is None:
            return None
        if type(count) is not int or not 1 <= count <= MOST_PANS or dough not in PanDough.values:
            return None
        try:
            return cls(Pan.in_cm(PanShape(kept["shape"]), length, width, depth), count, dough)
        except BakingError:
            return None

    def kept(self) -> dict[str, Any]:
        """The JSON to store: sizes as text, so that they stay exact."""
        pan = self.pan
        sizes = (pan.length_cm, pan.width_cm, pan.depth_cm)
        return {
            "shape": pan.shape.value,
            "count": self.count,
            "dough": str(self.dough),
            **{
                f"{name}_cm": None if size is None else str(size)
                for name, size in zip(SIZES, sizes, strict=True)
            },
        }

    @property
    def fills_the_pan(self) -> bool:
        return self.dough == PanDough.TO_FILL


def _size(kept: object) -> Decimal | None:
    try:
        size = Decimal(kept) if isinstance(kept, str) else None
    except InvalidOperation:
        return None
    is_size = size is not None and size.is_finite() and LEAST_CM <= size <= MOST_CM
    return size if is_size else None


class Measured(models.TextChoices):
    GRAMS = "grams", "Grams"
    CUPS = "cups", "Cups and spoons, with the grams to weigh"
    BOTH = "both", "Both, with the exact grams too"


class FlourCup(models.TextChoices):
    SPOONED = "spooned", "Spooned in and leveled"
    DIPPED = "dipped", "Dipped into the bag"


class Degrees(models.TextChoices):
    CELSIUS = "C", "°C first"
    FAHRENHEIT = "F", "°F first"


class SizesIn(models.TextChoices):
    CM = "cm", "cm"
    INCHES = "in", "inches"


class MixedBy(models.TextChoices):
    HAND = "hand", "By hand"
    MIXER = "mixer", "With a mixer"


class PaperSize(models.TextChoices):
    A4 = "a4", "A4"
    LETTER = "letter", "US Letter"


SALTS = {kind.key: kind for kind in SALT_KINDS}

# Common practice: a heated room. The tap is assumed.
USUAL_ROOM_C = Decimal(21)
USUAL_TAP_C = Decimal(15)
COLDEST_TAP_C, WARMEST_TAP_C = 1, 40
COLDEST_ROOM_C, WARMEST_ROOM_C = 5, 45
HIGHEST_M = 5000
MOST_PIECES = 48


@dataclass(frozen=True, slots=True)
class HomeKitchen:
    """A kitchen at home: `pieces` and `pans` by the key of a recipe's revision, °C, meters.

    `oven_takes` is how many loaves, pans or trays its oven takes at once; None if it takes all.
    """

    pieces: Mapping[str, int] = field(default_factory=dict)
    pans: Mapping[str, HomePan] = field(default_factory=dict)
    measured: str = Measured.GRAMS
    flour_cup: str = FlourCup.SPOONED
    degrees: str = Degrees.CELSIUS
    sizes_in: str = SizesIn.CM
    fan: bool = False
    mixed_by: str = MixedBy.HAND
    yeast: str = YeastForm.INSTANT
    salt: str = TABLE_SALT.key
    room_c: Decimal = USUAL_ROOM_C
    tap_c: Decimal = USUAL_TAP_C
    altitude_m: int = 0
    oven_takes: int | None = None
    page: str = PaperSize.A4
    large: bool = False
    home_region: HomeRegion | None = None

    @classmethod
    def near(cls, kitchen: KitchenFacts) -> Self:
        """The assumed kitchen of somebody who said nothing, from where the class is held.

        People live at about the altitude of their class, and print on the paper of its country.
        """
        writing = kitchen.writing
        return cls(
            altitude_m=kitchen.altitude_m,
            degrees=Degrees.FAHRENHEIT if writing.fahrenheit_first else Degrees.CELSIUS,
            sizes_in=SizesIn.INCHES if writing.fahrenheit_first else SizesIn.CM,
            page=writing.sheet,
            home_region=kitchen.home_region,
        )

    @classmethod
    def of(cls, kept: Mapping[str, Any], usual: Self | None = None) -> Self:
        """The kitchen from stored JSON; what is missing or makes no sense has its default."""
        usual, said = usual or cls(), kept if isinstance(kept, Mapping) else {}

        def one_of(name: str, known: list[str]) -> str:
            word: str = said[name] if said.get(name) in known else getattr(usual, name)
            return word

        return cls(
            pieces=_pieces(said.get("pieces")),
            pans=_pans(said.get("pans")),
            measured=one_of("measured", Measured.values),
            flour_cup=one_of("flour_cup", FlourCup.values),
            degrees=one_of("degrees", Degrees.values),
            sizes_in=one_of("sizes_in", SizesIn.values),
            fan=said.get("fan") is True,
            mixed_by=one_of("mixed_by", MixedBy.values),
            yeast=one_of("yeast", [str(form) for form in YeastForm]),
            salt=one_of("salt", list(SALTS)),
            room_c=_within(said.get("room_c"), COLDEST_ROOM_C, WARMEST_ROOM_C, usual.room_c),
            tap_c=_within(said.get("tap_c"), COLDEST_TAP_C, WARMEST_TAP_C, usual.tap_c),
            altitude_m=int(
                _within(said.get("altitude_m"), 0, HIGHEST_M, Decimal(usual.altitude_m))
            ),
            oven_takes=_count(said.get("oven_takes")),
            page=one_of("page", PaperSize.values),
            large=said.get("large") is True,
            home_region=usual.home_region,
        )

    def kept(self) -> dict[str, Any]:
        """The JSON to store, with temperatures as text, so that they stay exact."""
        values = {field.name: getattr(self, field.name) for field in fields(self)}
        del values["home_region"]
        words = {
            name: str(value) for name, value in values.items() if isinstance(value, str | Decimal)
        }
        return (
            values
            | words
            | {
                "pieces": dict(self.pieces),
                "pans": {key: pan.kept() for key, pan in self.pans.items()},
            }
        )

    @property
    def has_cups(self) -> bool:
        return self.measured != Measured.GRAMS

    @property
    def cup_ml(self) -> Decimal:
        """What the cup that is meant here holds."""
        spoons = spoon_set(self.home_region)
        return spoons.teaspoon_ml * spoons.cup / TEASPOON

    @property
    def tablespoon_ml(self) -> Decimal:
        spoons = spoon_set(self.home_region)
        return spoons.teaspoon_ml * spoons.tablespoon / TEASPOON

    @property
    def has_exact(self) -> bool:
        return self.measured != Measured.CUPS

    @property
    def columns(self) -> int:
        """How many columns the table of amounts has."""
        return 2 + self.has_cups + self.has_exact

    @property
    def in_inches(self) -> bool:
        return self.sizes_in == SizesIn.INCHES

    @property
    def fahrenheit_first(self) -> bool:
        return self.degrees == Degrees.FAHRENHEIT

    @property
    def writing(self) -> Writing:
        """How its recipes are written."""
        return Writing(fahrenheit_first=self.fahrenheit_first, sheet=self.page)

    @property
    def by_mixer(self) -> bool:
        return self.mixed_by == MixedBy.MIXER

    @property
    def spoons_flour(self) -> bool:
        return self.flour_cup == FlourCup.SPOONED

    @property
    def paper_size(self) -> str:
        """The paper in words."""
        return str(PaperSize(self.page).label)

    @property
    def yeast_form(self) -> YeastForm:
        return YeastForm(self.yeast)

    @property
    def salt_kind(self) -> SaltKind:
        return SALTS[self.salt]


def _count(kept: object) -> int | None:
    return kept if type(kept) is int and 1 <= kept <= MOST_PIECES else None


def _pieces(kept: object) -> dict[str, int]:
    found = kept.items() if isinstance(kept, Mapping) else ()
    return {key: n for key, n in found if type(n) is int and 1 <= n <= MOST_PIECES}


def _pans(kept: object) -> dict[str, HomePan]:
    found = kept.items() if isinstance(kept, Mapping) else ()
    pans = {key: HomePan.of(pan) for key, pan in found}
    return {key: pan for key, pan in pans.items() if pan is not None}


def _within(kept: object, least: int, most: int, usual: Decimal) -> Decimal:
    try:
        number = Decimal(str(kept))
    except InvalidOperation:
        return usual
    return number if number.is_finite() and least <= number <= most else usual
